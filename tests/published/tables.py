"""The published tables of this folder, and the plants of the base that their rows speak of.

A row names a species, a cultivar, a genus ("Taxus", "Taxus sp.") or a part of a genus ("Prunus (cherries)"). A genus row
speaks of every species of ours in it; a part is told by words that stand in a species' common names, kind, form or
persistence. A row that speaks of several plants counts by the share of them that agrees, so that large genera do not
outweigh the rest.
"""

from __future__ import annotations

import csv
import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Set
from pathlib import Path

from askplant.base import botanical
from askplant.base.opened import Base, Plant, Value

FOLDER = Path(__file__).parent
Row = dict[str, str]
Judge = Callable[[Plant], bool | None]

# How many of those that disagree a failing check tells.
SHOWN = 60
_GENUS = re.compile(r"(?P<genus>[A-Z][a-z]+)(?: spp?\.)?(?: \((?P<part>[^)]+)\))?")
_WORD = re.compile(r"[a-z]+")
# What a cultivar is to a genus row is told by its species, unless it has none.
_TELLING = ("kind", "form", "persistence")


def table(name: str) -> list[Row]:
    """The rows of one table."""
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert rows, f"{name}.csv holds no rows"
    return rows


def number(text: str) -> float | None:
    """A figure of a table, None where the cell is empty."""
    return float(text) if text else None


class Taxa:
    """The plants of a base by the names that tables use."""

    def __init__(self, base: Base) -> None:
        self.base = base
        self._values: dict[int, dict[str, Value]] = {}
        self._one: dict[str, Plant] = {}
        self._genus: dict[str, list[Plant]] = defaultdict(list)
        for plant in base.plants():
            self._enter(plant)

    def values(self, plant: Plant) -> dict[str, Value]:
        """A plant's resolved traits."""
        if plant.n not in self._values:
            self._values[plant.n] = self.base.resolved(plant.n)
        return self._values[plant.n]

    def words(self, plant: Plant, trait: str) -> frozenset[str]:
        """The words of a plant's resolved trait, none where it is not known."""
        value = self.values(plant).get(trait)
        return frozenset(value.words) if value else frozenset()

    def has(self, trait: str, wanted: Set[str]) -> Judge:
        """Whether a plant's trait is one of some words; None where it is not known."""

        def judge(plant: Plant) -> bool | None:
            held = self.words(plant, trait)
            return bool(held & wanted) if held else None

        return judge

    def one(self, name: str) -> Plant | None:
        """The plant of a species' or cultivar's name, accepted, former or of trade."""
        try:
            return self._one.get(botanical.identify(name))
        except ValueError:
            return None

    def bearers(self, name: str) -> tuple[Plant, ...]:
        """Every plant a row speaks of; none where the base has no such plant."""
        found = _GENUS.fullmatch(name)
        if not found:
            plant = self.one(name)
            return (plant,) if plant else ()
        species = [plant for plant in self._genus[found["genus"]] if plant.epithet is None]
        part = {_single(word) for word in _WORD.findall((found["part"] or "").lower())}
        return tuple(plant for plant in species if part <= self._said_of(plant))

    def _said_of(self, plant: Plant) -> set[str]:
        told = [*plant.common, *(word for trait in _TELLING for word in self.words(plant, trait))]
        return {_single(word) for word in _WORD.findall(" ".join(told).lower())}

    def _enter(self, plant: Plant) -> None:
        names = [plant.botanical, *plant.synonyms]
        if plant.epithet:
            taxon = plant.botanical.partition(" '")[0]
            names += [f"{wider} '{heard}'" for heard in plant.heard for wider in (taxon, plant.genus)]
        for name in names:
            try:
                parsed = botanical.parse(name)
            except ValueError:
                continue
            self._one.setdefault(botanical.plain_id(parsed.text), plant)
            if plant not in self._genus[parsed.genus]:
                self._genus[parsed.genus].append(plant)
        self._one[plant.id] = plant


def _single(word: str) -> str:
    """A word of a common name in the singular: cherries, azaleas."""
    if word.endswith("ies"):
        return word[:-3] + "y"
    return word[:-1] if word.endswith("s") and not word.endswith("ss") else word


class Agreement:
    """How far the base agrees with one table: rows with their share, and what disagrees, for the reader of the test."""

    told: list[str] = []  # one line a finished check, printed at the end of the run

    def __init__(self, what: str) -> None:
        self.what = what
        self.shares: list[float] = []
        self.against: list[str] = []
        self.absent = 0

    def add(self, agrees: bool, told: str) -> None:
        """One check: whether it agrees, and what to say where it does not."""
        self.shares.append(float(agrees))
        if not agrees:
            self.against.append(told)

    def add_row(self, taxa: Taxa, row: Row, name: str, agrees: Judge) -> None:
        """A row by the share of its plants that agree; `agrees` gives None for a plant whose trait is not known."""
        judged = {plant.botanical: agrees(plant) for plant in taxa.bearers(row[name])}
        known = {plant: held for plant, held in judged.items() if held is not None}
        if not known:
            self.absent += 1
            return
        self.shares.append(sum(map(bool, known.values())) / len(known))
        self.against += [f"{plant}: {_short(row)}" for plant, held in known.items() if not held]

    @property
    def share(self) -> float:
        """Rows that agree among those that could be compared."""
        return sum(self.shares) / len(self.shares)

    def holds(self, least: float, rows: int) -> None:
        """At least so large a share of at least so many rows agrees."""
        self._tell(f"{self.share:.1%} of {len(self.shares)} (asked: {least:.0%})")
        compared = len(self.shares)
        assert compared >= rows, f"{self.what}: only {compared} rows could be compared, of {rows} at least"
        against = "\n  ".join(self.against[:SHOWN])
        assert self.share >= least, f"{self.what}: {self.share:.1%} agree, not {least:.0%}:\n  {against}"

    def report(self) -> None:
        """Say the share where no bound is set."""
        self._tell(f"{self.share:.1%} of {len(self.shares)}")

    def _tell(self, told: str) -> None:
        absent = f"; {self.absent} rows of plants that have no card" if self.absent else ""
        Agreement.told.append(f"{self.what}: {told}{absent}")


def _short(row: Row) -> str:
    return ", ".join(cell for cell in row.values() if cell)[:160]


def by_taxon(rows: Iterable[Row], name: str) -> Iterator[tuple[str, list[Row]]]:
    """The rows of each name, in order of first mention."""
    found: dict[str, list[Row]] = defaultdict(list)
    for row in rows:
        found[row[name]].append(row)
    yield from found.items()
