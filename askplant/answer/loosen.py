"""The smallest sets of changes that would bring plants in, each with the value that its bounds must take.

Whatever excludes a plant has to give way for it to come in. So the sets to look at are the combinations of misses
that occur, and of those the ones that contain no other: changing less than such a set brings nothing in (a minimal
correction set). For each the mildest changes are taken that bring in at least one plant, and then all plants that
they let in are counted.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from askplant.answer.answer import Change, Loosening
from askplant.answer.relax import given_up, relaxed
from askplant.answer.units import Unit, combinations, excluded_by, musts
from askplant.quantities.lengths import Units
from askplant.reading.reading import Condition
from askplant.verdicts.columns import numbers
from askplant.verdicts.judge import JUDGES, Judged, Outcome, apart, missing
from askplant.verdicts.verdict import Site

MOST = 8
# Costs are compared to a millionth.
HAIR = 1e-5


class Way(NamedTuple):
    """Changes that let some plants through one unit or several: cost, changes, the plants known to come in."""

    cost: float
    changes: tuple[Change, ...]
    plants: int


class Loosener:
    """Finds loosenings for one request over one base."""

    def __init__(
        self, base: Judged, outcomes: Sequence[Outcome], units: Sequence[Unit], site: Site, measure: Units
    ) -> None:
        self._base, self._outcomes, self._units, self._site, self._measure = base, outcomes, units, site, measure
        self._lose: dict[Condition, bool] = {}

    def found(self, most: int = MOST) -> tuple[Loosening, ...]:
        """The loosenings, fewest changes first, then the mildest."""
        excluded = excluded_by(self._units)
        smallest = _minimal(combinations(self._units, excluded))
        best = [way for missed, bits in smallest if (way := self._mildest(missed, bits))]
        best.sort(key=lambda way: (len(way.changes), way.cost, way.changes[0].condition, numbers(way.plants)))
        return tuple(self._loosening(way.changes, excluded) for way in best[:most])

    def _mildest(self, missed: Sequence[Unit], bits: int) -> Way | None:
        """The cheapest changes, one way through each unit, that at least one of the plants has in common."""
        ways = [Way(0.0, (), bits)]
        for unit in missed:
            ways = [
                Way(round(one.cost + other.cost, 6), one.changes + other.changes, both)
                for one in ways
                for other in self._ways_through(unit, bits, len(missed) == 1)
                if (both := one.plants & other.plants)
            ]
        mildest = min(map(_mildness, ways), default=None)
        return min((way for way in ways if _mildness(way) == mildest), key=lambda way: numbers(way.plants), default=None)

    def _ways_through(self, unit: Unit, bits: int, only: bool) -> list[Way]:
        """The mildest change for each distinct value among the plants of a set; equal changes are one way. Of the `only` unit
        that is in the way, changes that cost more than another are left out.
        """
        merged: dict[tuple[Change, ...], Way] = {}
        for way in self._each_way(unit, bits, only):
            known = merged.get(way.changes)
            merged[way.changes] = way if known is None else known._replace(plants=known.plants | way.plants)
        return list(merged.values())

    def _each_way(self, unit: Unit, within: int, only: bool) -> Iterator[Way]:
        conditions = [(index, self._outcomes[index].condition) for index in unit.conditions]
        nothing_asked = tuple(Change(index, None) for index, _ in conditions)
        best = sum(given_up(condition) for _, condition in conditions)
        yield Way(best, nothing_asked, within)
        for index, condition in conditions:
            if condition.trait not in JUDGES:
                continue
            for value, bits in apart(condition, self._base, within):
                if hit := bits & within:
                    most = best + HAIR if only else math.inf
                    change = relaxed(condition, value, self._site, self._measure, most)
                    if change.to is not None and not self._loses(change.to):
                        best = min(best, change.cost)
                        yield Way(change.cost, (Change(index, change.to),), hit)

    def _loses(self, to: Condition) -> bool:
        """Whether a change would cost a match: leaving out cold zones may, where the rest is too warm for a plant."""
        if to.trait != "zone":
            return False
        if to not in self._lose:
            matching = self._base.everyone & ~excluded_by(self._units)
            self._lose[to] = bool(missing(to, self._base, self._site, matching))
        return self._lose[to]

    def _loosening(self, changes: tuple[Change, ...], excluded: int) -> Loosening:
        """All plants that the changes bring in, judged anew."""
        changed = {change.condition: change.to for change in changes}
        still = excluded  # narrowed down to those that come in
        for unit in musts(self._units):
            if not changed.keys() & set(unit.conditions):
                still &= ~unit.misses
        for unit in musts(self._units):
            if changed.keys() & set(unit.conditions):
                still &= ~self._still_missing(unit, changed, still)
        return Loosening(tuple(sorted(changes, key=lambda change: change.condition)), tuple(numbers(still)))

    def _still_missing(self, unit: Unit, changed: dict[int, Condition | None], within: int) -> int:
        bits = unit.misses & within
        for index in unit.conditions:
            if index in changed:
                to = changed[index]
                bits &= missing(to, self._base, self._site, bits) if to is not None else 0
        return bits


def _mildness(way: Way) -> tuple[float, int]:
    """What orders ways: the cost, and of equal ones the plants they bring in."""
    return way.cost, -way.plants.bit_count()


def _minimal(found: Sequence[tuple[tuple[Unit, ...], int]]) -> list[tuple[tuple[Unit, ...], int]]:
    """The combinations that contain no other one."""
    kept: list[tuple[frozenset[Unit], tuple[Unit, ...], int]] = []
    for missed, bits in sorted(found, key=lambda one: len(one[0])):
        members = frozenset(missed)
        if not any(smaller < members for smaller, _, _ in kept):
            kept.append((members, missed, bits))
    return [(missed, bits) for _, missed, bits in kept]
