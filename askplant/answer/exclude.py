"""Who is excluded and by what: the price of each must, and the plants that came nearest."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum

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
        said = _said(outcomes, by_count[count])
        ranked = [
            (_gap(missed, said, plant), plant, missed) for missed, bits in by_count[count] for plant in numbers(bits)
        ]
        ranked.sort(key=lambda one: one[:2])
        wanted = ranked if most is None else ranked[: most - len(found)]
        found += [Excluded(plant, _misses(missed, said, plant)) for _, plant, missed in wanted]
        if most is not None and len(found) >= most:
            break
    return tuple(found[:most])


def _said(
    outcomes: Sequence[Outcome], combined: Sequence[tuple[Sequence[Unit], int]]
) -> dict[int, dict[int, Judgement]]:
    """The judgements of each condition that some of the combinations miss, on their plants."""
    sets: dict[int, int] = {}
    for missed, bits in combined:
        for unit in missed:
            for index in unit.conditions:
                sets[index] = sets.get(index, 0) | bits
    return {index: by_plant(outcomes[index], bits) for index, bits in sets.items()}


def _misses(missed: Sequence[Unit], said: dict[int, dict[int, Judgement]], plant: int) -> tuple[Miss, ...]:
    return tuple(
        Miss(index, said[index][plant]) for index in sorted(index for unit in missed for index in unit.conditions)
    )


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


def _gap(missed: Sequence[Unit], said: dict[int, dict[int, Judgement]], plant: int) -> float:
    # fsum is exact, so that no order of conditions moves a plant.
    return fsum(gap([said[index][plant] for index in unit.conditions]) for unit in missed)
