"""A plant's growth told in data: its size at certain ages, when it passes the size that tags say, what that rests on."""

from __future__ import annotations

from typing import Literal, NamedTuple

from askplant.growth.course import Band, Course, Span, course
from askplant.growth.fit import age_when_grown, effort_of, lag_of, observed
from askplant.growth.known import AXES, Grown, Known

# The ages of the table, years; as many as are asked for, and the last year asked for.
AGES = (1, 2, 3, 5, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100)
# What is grown for one season is told for its first year.
ONE_SEASON = 1
# A range whose end is so many times its beginning says little.
WIDE = 1.8
# So many measured plants are few.
FEW = 3.0

Doubtful = Literal[
    "no rate", "class only", "parent's rate", "soft", "wide range", "sources disagree", "no measurement", "few measurements",
    "variegated", "bamboo",
]  # fmt: skip


class Basis(NamedTuple):
    """What a course rests on: yearly growth in metres as reckoned with (None: unknown), years to the grown size, years of
    rooting, what the measurements count, and what makes it doubtful.
    """

    rate: float | None
    grown_at: float
    lag: float
    measured: float
    doubtful: tuple[Doubtful, ...]


class Side(NamedTuple):
    """One axis: its course, its size at each age of the table and at the one asked for, when it passes the largest size that tags
    say, and what it rests on.
    """

    course: Course
    table: tuple[tuple[float, Band], ...]
    at: Band | None
    passes: Span | None
    basis: Basis


class Prospect(NamedTuple):
    """A plant's growth for so many years, and at one age; a side is None where no grown size is known. `season` is whether
    it is grown for one season: then one year is told.
    """

    plant: int
    years: int
    at: float | None
    height: Side | None
    width: Side | None
    season: bool = False


def prospect(base: Grown, n: int, years: int = 20, at: float | None = None) -> Prospect:
    """What to say of a plant's growth over so many years."""
    courses = [course(base, n, axis) for axis in AXES]
    season = any(found is not None and found.known.season for found in courses)
    years = ONE_SEASON if season else years
    height, width = (_side(found, years, at) for found in courses)
    return Prospect(n, years, at, height, width, season)


def _side(found: Course | None, years: int, at: float | None) -> Side | None:
    if found is None:
        return None
    ages = (*(age for age in AGES if age < years), years)
    label = found.known.label
    return Side(
        found,
        tuple((float(age), found.at(age)) for age in ages),
        found.at(at) if at is not None else None,
        found.years_to(label[1]) if label else None,
        basis_of(found.known),
    )


def basis_of(known: Known) -> Basis:
    """What the course of what is known rests on."""
    return Basis(effort_of(known).rate, age_when_grown(known), lag_of(known), observed(known.seen), _doubtful(known))


def _doubtful(known: Known) -> tuple[Doubtful, ...]:
    effort, worth = effort_of(known), observed(known.seen)
    low, high = known.grown or (1.0, 1.0)
    found: dict[Doubtful, bool] = {
        "soft": known.soft is not None and known.habit is None,
        "bamboo": known.habit == "bamboo",
        "no rate": known.soft is None and effort.rate is None,
        "class only": known.soft is None and effort.rate is not None and not effort.stated,
        "parent's rate": known.soft is None and effort.inherited,
        "variegated": known.variegated and not known.states,
        "wide range": high > WIDE * low,
        "sources disagree": bool(known.stated),
        "no measurement": not known.seen,
        "few measurements": 0 < worth < FEW,
    }
    return tuple(code for code, holds in found.items() if holds)
