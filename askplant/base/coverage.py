"""How much of the plants is known: trait by trait, for each kind of plant, and what the values rest on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import groupby
from typing import NamedTuple

from askplant.base.opened import JOIN, RESOLVED, Base
from askplant.base.records import Stated
from askplant.base.trust import TRUST

KIND = "kind"
HEIGHTS = frozenset(("height_label", "height_grown", "height_old"))
# A height that one statement or one source alone speaks of is not known well enough to be judged by.
ENOUGH = 2


@dataclass(slots=True)
class Known:
    """One trait: of how many plants it is known, of each kind, and on how many of them its value rests on each basis."""

    trait: str
    plants: int = 0
    kinds: Counter[str] = field(default_factory=Counter)
    bases: Counter[str] = field(default_factory=Counter)


class Coverage(NamedTuple):
    """All plants, those of each kind (one plant may be of two), and the traits in the dictionary's order.

    `few_heights` are the plants, by number, whose cards make fewer than two statements about height; `few_sources` those
    that cite fewer than two sources for it.
    """

    plants: int
    kinds: Mapping[str, int]
    traits: tuple[Known, ...]
    few_heights: tuple[int, ...]
    few_sources: tuple[int, ...]

    @property
    def bases(self) -> Counter[str]:
        """How many values rest on each basis, over all traits."""
        return sum((known.bases for known in self.traits), Counter())


def coverage(base: Base) -> Coverage:
    """What is known of the plants of a base; inherited values count as those of a card itself."""
    traits = {name: Known(name) for name in base.traits()}
    kinds: Counter[str] = Counter()
    few_heights, few_sources = [], []
    by_plant = {n: list(rows) for n, rows in groupby(base.stated(), lambda row: row.plant)}
    for n in range(base.count):
        rows = by_plant.get(n, [])
        own_kinds = _kinds(rows)
        kinds.update(own_kinds)
        for trait, basis in _bases(rows).items():
            traits[trait].plants += 1
            traits[trait].kinds.update(own_kinds)
            traits[trait].bases[basis] += 1
        heights = [row.source for row in rows if row.trait in HEIGHTS and row.source != RESOLVED]
        if len(heights) < ENOUGH:
            few_heights.append(n)
        if len(set(heights) - {""}) < ENOUGH:
            few_sources.append(n)
    ordered = {kind: kinds[kind] for kind in base.traits()[KIND].values if kinds[kind]}
    return Coverage(base.count, ordered, tuple(traits.values()), tuple(few_heights), tuple(few_sources))


def _kinds(rows: Iterable[Stated]) -> tuple[str, ...]:
    """The kinds of one plant: as resolved where sources disagree, which is the last row of a trait."""
    said = [row.value for row in rows if row.trait == KIND]
    return tuple(said[-1].split(JOIN)) if said else ()


def _bases(rows: Iterable[Stated]) -> dict[str, str]:
    """Each known trait of one plant with the basis of its value: the resolved one's, else the most trusted of those
    that agree."""
    found: dict[str, str] = {}
    for row in rows:
        before = found.get(row.trait)
        if before is None or row.source == RESOLVED or TRUST[row.basis] < TRUST[before]:
            found[row.trait] = row.basis
    return found
