"""How far the growth curves lie from what was measured: `python -m tests.residuals [--each]`.

Every measured height and width of the base is held against three curves of its plant: the one that is used (it has seen the
measurement), one that has seen all measurements but this, and one of the card alone. Then the sizes at a known age of
tests/published/growth_observations.csv are held against the cards alone, a cultivar without a card against its species.
An error is |curve / measured - 1|.
"""

from __future__ import annotations

import math
import statistics
import sys
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from askplant.base import cache
from askplant.base.opened import Base
from askplant.growth.course import course_of
from askplant.growth.known import AXES, Known, known
from askplant.quantities.lengths import FOOT
from tests.published.tables import Taxa, number, table


class Residual(NamedTuple):
    """One measured size in metres, what the curves give at its age, and whether the band of the card alone holds it."""

    plant: str
    axis: str
    age: float
    size: float
    used: float
    without: float
    alone: float
    inside: bool


def measured(base: Base) -> Iterator[Residual]:
    """Every measurement of the base."""
    for plant in base.plants():
        for axis in AXES:
            knows = known(base, plant.n, axis)
            for place, seen in enumerate(knows.seen):
                others = (*knows.seen[:place], *knows.seen[place + 1 :])
                yield _residual(plant.botanical, knows, knows._replace(seen=others), seen.age, seen.size)


def published(taxa: Taxa) -> Iterator[Residual]:
    """Every published size at an age of a plant that has a card, or whose species has one; the curve has seen none of them."""
    for row in table("growth_observations"):
        plant = taxa.one(row["taxon"]) or taxa.one(row["taxon"].partition(" (")[0].partition(" '")[0])
        if plant is None:
            continue
        for axis in AXES:
            feet = number(row[f"{axis}_ft"])
            if feet is not None:
                knows = known(taxa.base, plant.n, axis)._replace(seen=())
                yield _residual(row["taxon"], knows, knows, float(row["age_years"]), feet * FOOT)


def _residual(name: str, used: Known, without: Known, age: float, size: float) -> Residual:
    courses = [course_of(knows) for knows in (used, without, used._replace(seen=()))]
    bands = [course.at(age) for course in courses if course is not None]
    alone = bands[-1]
    return Residual(name, used.axis, age, size, *(band.middle for band in bands), alone.low <= size <= alone.high)


def errors(found: Iterable[Residual], curve: str) -> list[float]:
    """The relative errors of one of the curves, smallest first."""
    return sorted(abs(getattr(one, curve) / one.size - 1) for one in found)


def median_and_ninth(found: Sequence[float]) -> tuple[float, float]:
    """The median, and what nine in ten do not exceed."""
    return statistics.median(found), found[math.ceil(0.9 * len(found)) - 1]


def share_inside(found: Sequence[Residual]) -> float:
    """The share of sizes that lie within the band of the card alone."""
    return sum(one.inside for one in found) / len(found)


def _told(what: str, found: Sequence[Residual], curve: str) -> str:
    half, ninth = median_and_ninth(errors(found, curve))
    return f"{what:<58} {len(found):>3}  median {half:.0%}  nine in ten within {ninth:.0%}"


def main(each: bool) -> None:
    """Print the figures, and each measurement if wanted."""
    taxa = Taxa(Base.open(cache.ready()))
    seen, printed = list(measured(taxa.base)), list(published(taxa))
    if each:
        for one in (*seen, *printed):
            curves = " ".join(f"{size / FOOT:6.1f}" for size in (one.used, one.without, one.alone))
            print(f"{one.plant:<36} {one.axis:<6} {one.age:>3g} y {one.size / FOOT:5.1f} ft  curves {curves}")
    print(_told("measured, the curve that is used", seen, "used"))
    print(_told("measured, this one left out", seen, "without"))
    print(_told("measured, the card alone", seen, "alone"))
    print(_told("published sizes at an age, the card alone", printed, "alone"))
    print(
        f"within the band of the card alone: {share_inside(seen):.0%} of the measured, {share_inside(printed):.0%} published"
    )


if __name__ == "__main__":
    main("--each" in sys.argv[1:])
