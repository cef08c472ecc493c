"""What excludes: each must by itself, and each group of alternatives as a whole.

Conditions that share an `either` number need only one of them to hold, so the group misses where all of them do. A
group with a must among its members is a must. Wishes exclude nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce
from operator import and_
from typing import NamedTuple

from askplant.reading.reading import Condition
from askplant.verdicts.judge import Outcome


class Unit(NamedTuple):
    """Conditions, by index, of which one has to hold, and the set of plants that miss them all."""

    conditions: tuple[int, ...]
    misses: int
    must: bool


def units_of(outcomes: Sequence[Outcome]) -> tuple[Unit, ...]:
    """The units of a request in order of their first condition: the musts that exclude and the wishes that do not."""
    groups: dict[object, list[int]] = {}
    for index, outcome in enumerate(outcomes):
        either = outcome.condition.either
        groups.setdefault(("alone", index) if either is None else either, []).append(index)
    return tuple(_unit(tuple(indexes), outcomes) for indexes in groups.values())


def _unit(indexes: tuple[int, ...], outcomes: Sequence[Outcome]) -> Unit:
    misses = reduce(and_, (outcomes[index].misses for index in indexes))
    return Unit(indexes, misses, any(is_must(outcomes[index].condition) for index in indexes))


def is_must(condition: Condition) -> bool:
    """Whether a condition was said plainly rather than wished."""
    return condition.strength == "must"


def musts(units: Sequence[Unit]) -> tuple[Unit, ...]:
    """The units that exclude."""
    return tuple(unit for unit in units if unit.must)


def excluded_by(units: Sequence[Unit]) -> int:
    """The set of plants that some must excludes."""
    bits = 0
    for unit in musts(units):
        bits |= unit.misses
    return bits


def combinations(units: Sequence[Unit], excluded: int) -> list[tuple[tuple[Unit, ...], int]]:
    """The combinations of misses that occur, each with its plants: the sets tile `excluded`."""
    found: list[tuple[tuple[Unit, ...], int]] = [((), excluded)] if excluded else []
    for unit in musts(units):
        split: list[tuple[tuple[Unit, ...], int]] = []
        for missed, bits in found:
            hit = bits & unit.misses
            if hit:
                split.append(((*missed, unit), hit))
            if bits != hit:
                split.append((missed, bits & ~unit.misses))
        found = split
    return found
