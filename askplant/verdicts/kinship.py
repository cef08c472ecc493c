"""Kin and likeness: plants by name, genus or group, and plants like another one.

These two are not judged value by value: a name gives a set of plants, and likeness compares with the plant that was
named.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import reduce
from operator import or_
from typing import Any, NamedTuple, Protocol

from askplant.base.names import words_of
from askplant.base.records import species_of
from askplant.errors import UnknownPlant
from askplant.reading.reading import Condition
from askplant.verdicts.logic import worst
from askplant.verdicts.scales import GROWTH
from askplant.verdicts.verdict import UNKNOWN, Advice, Fact, Judgement, care, meets, misses, words

Column = Sequence[tuple[list[Any], int]]
# Conditions that are judged here rather than value by value.
KIN_TRAITS = frozenset({"taxon", "like"})
# Two plants are of a size when neither is more than so many times the other in the middle of its range; publishers
# themselves differ by 1.56 (nine in ten pairs of the published heights).
OF_A_SIZE = 1.6


class Names(Protocol):
    """What a base must tell of names."""

    everyone: int

    def index(self, plant_id: str) -> int: ...
    def plant(self, n: int) -> Any: ...
    def names_starting(self, first: str) -> Sequence[Any]: ...
    def judged(self, condition: str) -> Column: ...


def called(base: Names, name: str) -> tuple[int, ...]:
    """The numbers of the plants a name means, the plant named itself first: an id, a botanical or common name, a
    genus or group.

    A species' name means its cultivars too, as the names of the base have it.
    """
    try:
        first: tuple[int, ...] = (base.index(name),)
        spoken = words_of(base.plant(first[0]).botanical)
    except UnknownPlant:
        first, spoken = (), words_of(name)
    if not spoken:
        return first
    found = [one.plants for one in base.names_starting(spoken[0]) if tuple(one.words) == spoken]
    return tuple(dict.fromkeys((*first, *(plant for plants in found for plant in plants))))


def bits_of(plants: Iterable[int]) -> int:
    """The set of so many plants."""
    return reduce(or_, (1 << plant for plant in plants), 0)


def judge_taxon(condition: Condition, base: Names) -> list[tuple[Judgement, int]]:
    """Every plant of the names asked for, and every other one; a name the base does not know is nobody's."""
    kin = reduce(or_, (bits_of(called(base, str(name))) for name in condition.values), 0)
    inside = meets(Fact("kin", tuple(condition.values)))
    outside = misses(Fact("no kin", tuple(condition.values)))
    return [(judgement, bits) for judgement, bits in ((inside, kin), (outside, base.everyone & ~kin)) if bits]


class Pattern(NamedTuple):
    """The plant that others are to be like: middles of its grown ranges in metres, its kinds, leaves, cold limit and
    growth.
    """

    height: float | None
    width: float | None
    kinds: frozenset[str]
    persistence: frozenset[str]
    cold: int | None
    growth: str | None


READ = ("kind", "persistence", "growth", "zone", "width", "height")
# Likeness goes beyond size, leaf and kind: what is no kin of the plant has less of it. Common practice.
NO_KIN = 0.5


def judge_like(condition: Condition, base: Names) -> list[tuple[Judgement, int]]:
    """Plants like the one named, in what is compared; unknown for all when the base does not know that plant.

    Of a name that many plants bear, "like a hydrangea", each of them is like it, and others are compared with what is usual
    among them.
    """
    name = str(condition.values[0])
    plants = called(base, name)
    if not plants:
        return [(UNKNOWN, base.everyone)]
    columns = [base.judged(one) for one in READ]
    of_a_group = not _is_one(base, plants)
    pattern = _usual([_pattern(_values_at(columns, plant)) for plant in (plants if of_a_group else plants[:1])])
    needed = [one in _reads(condition.than) for one in READ]
    used = [column if need else [([None] * 10, base.everyone)] for column, need in zip(columns, needed, strict=True)]
    named = bits_of(plants) if of_a_group and condition.than is None else 0
    kin = reduce(or_, (bits_of(called(base, genus)) for genus in {base.plant(plant).genus for plant in plants}), 0)
    found = [(meets(Fact("like", (name,))), named)] if named else []
    for values, bits in crossed(used, base.everyone & ~named):
        judgement = _like(pattern, _pattern(values), condition.than, name)
        strange = _no_kin(judgement, condition.than)
        found += [(one, some) for one, some in ((judgement, bits & kin), (strange, bits & ~kin)) if some]
    return found


def _no_kin(judgement: Judgement, than: str | None) -> Judgement:
    """What a plant's size and leaf come to where it is no kin: it is like the other in these alone, unless it is to differ."""
    if judgement.verdict != "meets":
        return judgement
    if than is None:
        return care(judgement.has, Advice("like.kin"), judgement.margin)
    return judgement._replace(margin=judgement.margin * NO_KIN)


def _is_one(base: Names, plants: Sequence[int]) -> bool:
    """Whether the plants of a name are one, with its cultivars at most, rather than a group."""
    return len({species_of(base.plant(plant).botanical) for plant in plants}) == 1


def _usual(patterns: Sequence[Pattern]) -> Pattern:
    """What is usual among several: middles of what can be measured, any of their kinds and leaves."""
    return Pattern(
        _median(one.height for one in patterns),
        _median(one.width for one in patterns),
        frozenset().union(*(one.kinds for one in patterns)),
        frozenset().union(*(one.persistence for one in patterns)),
        _median(one.cold for one in patterns),
        _median((one.growth for one in patterns), GROWTH.index),
    )


def _median(values: Iterable[Any], key: Any = None) -> Any:
    known = sorted((value for value in values if value is not None), key=key)
    return known[(len(known) - 1) // 2] if known else None


def _reads(than: str | None) -> set[str]:
    common = {"kind", "persistence"}
    extra = {"narrower": {"width"}, "wider": {"width"}, "hardier": {"zone"}, "faster": {"growth"}}
    return common | extra.get(than or "", {"height"})


def crossed(columns: Sequence[Column], within: int) -> list[tuple[list[list[Any]], int]]:
    """Each combination of values that occurs in several columns, with the plants that have it."""
    found: list[tuple[list[list[Any]], int]] = [([], within)]
    for column in columns:
        found = [([*values, value], both) for values, bits in found for value, more in column if (both := bits & more)]
    return found


def _values_at(columns: Sequence[Column], plant: int) -> list[list[Any]]:
    return [next(value for value, bits in column if bits >> plant & 1) for column in columns]


def _pattern(values: list[list[Any]]) -> Pattern:
    kind, persistence, growth, zone, width, height = values
    return Pattern(
        _middle(height[0]),
        _middle(width[0]),
        frozenset(kind[0] or ()),
        frozenset(persistence[0]) if isinstance(persistence[0], list) else frozenset(filter(None, (persistence[0],))),
        zone[0],
        growth[0],
    )


def _middle(range_: Sequence[float] | None) -> float | None:
    return (range_[0] + range_[1]) / 2 if range_ else None


def _like(pattern: Pattern, plant: Pattern, than: str | None, name: str) -> Judgement:
    if plant.kinds and pattern.kinds and not plant.kinds & pattern.kinds:
        return misses(words(tuple(sorted(plant.kinds))))
    if plant.persistence and pattern.persistence and not plant.persistence & pattern.persistence:
        return misses(words(tuple(sorted(plant.persistence))))
    return worst((_compared(pattern, plant, than, name), meets(Fact("like", (name,)))))


def _compared(pattern: Pattern, plant: Pattern, than: str | None, name: str) -> Judgement:
    if than in ("smaller", "larger"):
        return _by_length("height", pattern.height, plant.height, than == "larger", name)
    if than in ("narrower", "wider"):
        return _by_length("width", pattern.width, plant.width, than == "wider", name)
    if than == "hardier":
        return _hardier(pattern.cold, plant.cold, name)
    if than == "faster":
        return _faster(pattern.growth, plant.growth, name)
    return _of_a_size(pattern.height, plant.height, name)


def _by_length(axis: str, pattern: float | None, plant: float | None, more: bool, name: str) -> Judgement:
    if pattern is None or plant is None:
        return UNKNOWN
    has = Fact("middle", (axis, plant, name, pattern))
    holds = plant > pattern if more else plant < pattern
    off = abs(plant - pattern)
    return meets(has, min(1.0, off / pattern)) if holds else misses(has, off / pattern, round(off, 2), "m")


def _hardier(pattern: int | None, plant: int | None, name: str) -> Judgement:
    if pattern is None or plant is None:
        return UNKNOWN
    has = Fact("zones", (plant, None, None))
    return (
        meets(has)
        if plant < pattern
        else misses(has, (plant - pattern + 1) / 4, float(plant - pattern + 1), "half-zones")
    )


def _faster(pattern: str | None, plant: str | None, name: str) -> Judgement:
    if pattern is None or plant is None:
        return UNKNOWN
    faster = GROWTH.index(plant) > GROWTH.index(pattern)
    return meets(words(plant)) if faster else misses(words(plant))


def _of_a_size(pattern: float | None, plant: float | None, name: str) -> Judgement:
    if pattern is None or plant is None:
        return UNKNOWN
    has = Fact("middle", ("height", plant, name, pattern))
    ratio = max(plant, pattern) / max(min(plant, pattern), 0.01)
    if ratio <= OF_A_SIZE:
        return meets(has, 1 / ratio)
    return care(has, Advice("like.size", (plant, pattern))) if ratio <= OF_A_SIZE**2 else misses(has, ratio - OF_A_SIZE)
