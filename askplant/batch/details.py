"""What the answers come to besides: every match, every exclusion, and totals over all rows."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Protocol

from askplant.batch.rows import Json
from askplant.sheets.sheet import Cell

MATCHES = ("row", "rank", "plant", "botanical", "fit", "why there", "needs")
EXCLUDED = ("row", "plant", "botanical", "wish", "has", "off by")
TOTALS = ("what", "name", "rows", "plants out", "plants out by it alone", "among the best", "fits")
WISH, PLANT = "wish", "plant"


class Plants(Protocol):
    """Names by number."""

    @property
    def count(self) -> int: ...
    def plant(self, n: int) -> object: ...


class Names:
    """A plant's id and botanical name by its number."""

    def __init__(self, base: object) -> None:
        self._named = [(plant.id, plant.botanical) for plant in base.plants()]  # type: ignore[attr-defined]

    def of(self, n: int) -> tuple[str, str]:
        """Id and botanical name."""
        return self._named[n]


def matches_of(answer: Json, row: int, names: Names) -> Iterator[Sequence[Cell]]:
    """Every match of a row."""
    for rank, (plant, fit, why, needs) in enumerate(answer.get("matches", ()), 1):
        yield (float(row), float(rank), *names.of(plant), fit, why, needs)


def excluded_of(answer: Json, row: int, names: Names) -> Iterator[Sequence[Cell]]:
    """Every excluded plant of a row with each of its reasons, plant by plant."""
    by_plant: dict[int, list[tuple[str, str, str]]] = {}
    for wish, has, off, plants in answer.get("excluded", ()):
        for plant in plants:
            by_plant.setdefault(plant, []).append((wish, has, off))
    for plant in sorted(by_plant):
        for reason in by_plant[plant]:
            yield (float(row), *names.of(plant), *reason)


class Totals:
    """Counts over all rows: which wishes shut out most, and which plants are wanted most."""

    def __init__(self) -> None:
        self._rows: Counter[str] = Counter()
        self._out: Counter[str] = Counter()
        self._alone: Counter[str] = Counter()
        self._best: Counter[str] = Counter()
        self._fits: Counter[int] = Counter()

    def add(self, answer: Json) -> None:
        """Count one more row."""
        for wish, out, alone in answer["prices"]:
            self._rows[wish] += 1
            self._out[wish] += out
            self._alone[wish] += alone
        self._best.update(plant["botanical"] for plant in answer["plants"])
        self._fits.update(match[0] for match in answer.get("matches", ()))

    def rows(self, names: Names) -> Iterator[Sequence[Cell]]:
        """Wishes, those that shut out most by themselves first; then plants, those most often among the best first."""
        for wish in sorted(self._rows, key=lambda wish: (-self._alone[wish], -self._out[wish], wish)):
            yield (WISH, wish, float(self._rows[wish]), float(self._out[wish]), float(self._alone[wish]), None, None)
        fits = {names.of(n)[1]: count for n, count in self._fits.items()}
        for plant in sorted({*self._best, *fits}, key=lambda plant: (-self._best[plant], -fits.get(plant, 0), plant)):
            yield (PLANT, plant, None, None, None, float(self._best[plant]), float(fits.get(plant, 0)))
