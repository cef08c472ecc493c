"""The base by plant rather than by value: what a judge would read of one plant."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any, Protocol

from askplant.base.opened import by_plant
from askplant.base.opened import members as numbers

__all__ = ["Columned", "Columns", "columns_of", "numbers"]


class Columned(Protocol):
    """What is needed of a base."""

    count: int

    def judged(self, condition: str) -> Sequence[tuple[list[Any], int]]: ...
    def __hash__(self) -> int: ...


class Columns:
    """The columns of one base, looked up as they are asked for and kept."""

    def __init__(self, base: Columned) -> None:
        self._base = base
        self._known: dict[str, dict[int, list[Any]]] = {}
        self._everyone = (1 << base.count) - 1
        self._wanted = self._asked = 0

    def want(self, plants: int) -> None:
        """Say that the plants of a set will be asked for: one pass through a column then finds them all.

        Who asks a second time will go on asking, so that then every plant is found.
        """
        self._wanted = plants if not self._asked else self._everyone
        self._asked += 1

    def value(self, column: str, plant: int, otherwise: list[Any] | None = None) -> list[Any]:
        """The tuple of values that the judge of a condition reads of a plant; `otherwise` where a base has no such column."""
        known = self._known.setdefault(column, {})
        if plant not in known:
            # In a column that was gone through once, one more plant is seldom the last.
            wanted = self._everyone if known else self._wanted | 1 << plant
            known.update(by_plant(self._base.judged(column), wanted))
        return known[plant] if otherwise is None else known.get(plant, otherwise)

    def values(self, columns: Sequence[str], plant: int) -> dict[str, list[Any]]:
        """Several columns of a plant, by name."""
        return {column: self.value(column, plant) for column in columns}


@lru_cache(maxsize=2)
def columns_of(base: Columned) -> Columns:
    """The columns of a base, begun once."""
    return Columns(base)
