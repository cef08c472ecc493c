"""A base of many plants, made of the real one: each card many times over, its sizes a little off, its name marked invented."""

from __future__ import annotations

import random
from collections import defaultdict
from typing import Any

from askplant.base.opened import Base
from askplant.base.records import Plant
from askplant.verdicts.columns import numbers

SIZED = ("height", "width", "size")
OFF = (0.7, 0.8, 0.9, 1.1, 1.25, 1.4)  # one of these times the real sizes is each copy's


class Many:
    """So many plants: number n is the card n modulo the real ones, and each time it comes again its sizes are others."""

    def __init__(self, base: Base, count: int, seed: int = 1) -> None:
        self._base, self._random = base, random.Random(seed)
        self.built, self.path = base.built, base.path
        self.count, self.everyone = count, (1 << count) - 1
        self._plants: dict[int, Plant] = {}
        self._columns: dict[str, tuple[tuple[list[Any], int], ...]] = {}

    def judged(self, condition: str) -> tuple[tuple[list[Any], int], ...]:
        """The real column spread over all the plants; sizes perturbed for each copy."""
        if condition not in self._columns:
            spread: dict[str, int] = defaultdict(int)
            values: dict[str, list[Any]] = {}
            for value, bits in self._base.judged(condition):
                for start in range(0, self.count, self._base.count):
                    own = self._perturbed(value) if start and condition in SIZED else value
                    values[repr(own)] = own
                    spread[repr(own)] |= (bits << start) & self.everyone
            self._columns[condition] = tuple((values[key], bits) for key, bits in spread.items() if bits)
        return self._columns[condition]

    def _perturbed(self, value: list[Any]) -> list[Any]:
        factor = self._random.choice(OFF)
        return [_scaled(one, factor) for one in value]

    def plant(self, n: int) -> Plant:
        """The card's plant, named as one that is invented."""
        if n not in self._plants:
            real, copy = self._base.plant(n % self._base.count), n // self._base.count
            name = f"{real.botanical} (invented {copy})" if copy else real.botanical
            self._plants[n] = real._replace(n=n, id=f"{real.id}-invented-{copy}" if copy else real.id, botanical=name)
        return self._plants[n]

    def resolved(self, n: int) -> dict[str, Any]:
        """The card's values."""
        return self._base.resolved(n % self._base.count)

    def observations(self, n: int) -> list[Any]:
        """None: nobody measured an invented plant."""
        return self._base.observations(n) if n < self._base.count else []

    def __getattr__(self, name: str) -> Any:
        return getattr(self._base, name)  # vocabulary and names are the real ones


def _scaled(value: Any, factor: float) -> Any:
    if isinstance(value, list) and value and all(isinstance(one, float | int) for one in value):
        return [round(one * factor, 1) for one in value]
    return value


def tiles(many: Many, condition: str) -> bool:
    """Whether a column gives each plant one value."""
    seen = 0
    for _, bits in many.judged(condition):
        if seen & bits:
            return False
        seen |= bits
    return seen == many.everyone and len(numbers(seen)) == many.count
