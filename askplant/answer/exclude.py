"""Who is excluded and by what: the price of each must, and the plants that came nearest."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from itertools import groupby
from math import fsum
from operator import attrgetter
from typing import NamedTuple

from askplant.answer.answer import Excluded, Miss, Price
from askplant.answer.units import Unit, combinations, excluded_by, musts
from askplant.verdicts.columns import numbers
from askplant.verdicts.judge import Outcome, judgement_of
from askplant.verdicts.verdict import Judgement

NEAREST = 20


def prices(units: Sequence[Unit]) -> tuple[Price, ...]:
    """What each must costs, in order of the conditions. A member of a group of alternatives excludes nothing by
    itself.
    """
    found = []
    for unit in musts(units):
        others = excluded_by([other for other in units if other is not unit])
        single = len(unit.conditions) == 1
        alone = (unit.misses & ~others).bit_count() if single else 0
        found += [Price(index, unit.misses.bit_count(), alone) for index in unit.conditions]
    return tuple(sorted(price for price in found if price.misses))


def nearest(outcomes: Sequence[Outcome], units: Sequence[Unit], most: int | None) -> tuple[Excluded, ...]:
    """The excluded plants that came nearest: fewest musts missed, then the smallest shortfall, then by id; all for
    None.
    """
    by_count: dict[int, list[tuple[tuple[Unit, ...], int]]] = {}
    for missed, bits in combinations(units, excluded_by(units)):
        by_count.setdefault(len(missed), []).append((missed, bits))
    found: list[Excluded] = []
    for count in sorted(by_count):
        for plant, misses in _ordered(outcomes, by_count[count]):
            if len(found) == most:
                return tuple(found)
            found.append(Excluded(plant, misses))
    return tuple(found)


class _Alike(NamedTuple):
    """Excluded plants that are as far off by the same misses, and what lists them."""

    gap: float
    misses: tuple[Miss, ...]
    plants: Callable[[], list[int]]


def _ordered(
    outcomes: Sequence[Outcome], combined: Sequence[tuple[Sequence[Unit], int]]
) -> Iterator[tuple[int, tuple[Miss, ...]]]:
    """The plants that miss one of several combinations, the smallest shortfall first, then by number."""
    alike = sorted((one for missed, bits in combined for one in _alike(outcomes, missed, bits)), key=_far)
    for _, some in groupby(alike, key=_far):
        yield from sorted((plant, one.misses) for one in some for plant in one.plants())


_far = attrgetter("gap")


def _alike(outcomes: Sequence[Outcome], missed: Sequence[Unit], bits: int) -> Iterator[_Alike]:
    """The plants of one combination: by value where one condition is missed, which spares looking at each plant."""
    indexes = sorted(index for unit in missed for index in unit.conditions)
    if len(indexes) == 1:
        for judgement, some in outcomes[indexes[0]].verdicts.among(bits):
            yield _Alike(gap([judgement]), (Miss(indexes[0], judgement),), partial(numbers, some))
        return
    said = {index: by_plant(outcomes[index], bits) for index in indexes}
    for plant in numbers(bits):
        # fsum is exact, so that no order of conditions moves a plant.
        far = fsum(gap([said[index][plant] for index in unit.conditions]) for unit in missed)
        yield _Alike(far, tuple(Miss(index, said[index][plant]) for index in indexes), partial(list, (plant,)))


def by_plant(outcome: Outcome, bits: int) -> dict[int, Judgement]:
    """The judgement on each plant of a set."""
    return {plant: judgement for judgement, having in outcome.verdicts.among(bits) for plant in numbers(having)}


def misses_of(plant: int, outcomes: Sequence[Outcome], units: Sequence[Unit]) -> tuple[Miss, ...]:
    """The conditions that exclude one plant, and how."""
    indexes = sorted(index for unit in musts(units) if unit.misses >> plant & 1 for index in unit.conditions)
    return tuple(Miss(index, judgement_of(outcomes[index], plant)) for index in indexes)


def gap(misses: Sequence[Judgement]) -> float:
    """How far off a unit is: the least of its alternatives' shortfalls, relative to what was asked."""
    return min(-judgement.margin for judgement in misses)
