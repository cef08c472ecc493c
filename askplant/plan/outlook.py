"""What becomes of a row: when it closes, when it is tall enough, what it will be in twenty years if nobody prunes.

Years are those of the growth curves: soonest by the plants that grow best, latest by those that grow least.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise
from math import hypot

from askplant.plan.candidates import Screening
from askplant.plan.growing import Band, Course, Span
from askplant.plan.plan import YEARS, Goal, Held, Outgrown, Overgrown, Position
from askplant.plan.spacing import Grown, grows_over
from askplant.verdicts.holding import Size, hold
from askplant.verdicts.sizes import TOLERANCE

# Beyond this a row that has not closed is said not to.
LONGEST = 40.0
# What it passes by less than this, m (half a foot), nobody prunes for; common practice.
NO_MATTER = 0.15
# What is told is told in whole years: a tenth decides nothing.
_STEP = 0.1
UNPRUNED = 20


def closing(positions: Sequence[Position], widths: Sequence[Course]) -> Span:
    """When the widths of all neighbours meet, seen from the front; `widths` are by kind."""
    joints = [_joint(other.at - one.at, widths[one.kind], widths[other.kind]) for one, other in pairwise(positions)]
    return latest_of(joints) if joints else Span(0.0, 0.0, 0.0)


def _joint(apart: float, one: Course, other: Course) -> Span:
    """When half of one width and half of the other make up the distance."""

    def met(years: float, pick: Callable[[Band], float]) -> bool:
        return (pick(one.at(years)) + pick(other.at(years))) / 2 >= apart - TOLERANCE

    return Span(
        _first(lambda years: met(years, lambda band: band.high)),
        _first(lambda years: met(years, lambda band: band.middle)),
        _first(lambda years: met(years, lambda band: band.low)),
    )


def _first(reached: Callable[[float], bool]) -> float | None:
    """The first year, to a tenth, in which something that stays reached is reached."""
    if not reached(LONGEST):
        return None
    low, high = 0, round(LONGEST / _STEP)
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if reached(middle * _STEP) else (middle + 1, high)
    return round(low * _STEP, 1)


def latest_of(spans: Sequence[Span]) -> Span:
    """When the last of several comes; never where one never does."""

    def last(years: Sequence[float | None]) -> float | None:
        return None if any(one is None for one in years) else max(one for one in years if one is not None)

    return Span(*(last(years) for years in zip(*spans, strict=True)))


def overgrown(
    positions: Sequence[Position], screens: Sequence[Screening], grown: Sequence[Grown], apart: float
) -> tuple[Overgrown, ...]:
    """Which kinds are grown over by a neighbour of another, and the first year of each; `grown` and `screens` are by kind."""
    first: dict[tuple[int, int], float] = {}
    for here, there in pairwise(positions):
        for one, other in ((here.kind, there.kind), (there.kind, here.kind)):
            if not grows_over(grown[one], grown[other], apart):
                continue
            between, width = hypot(there.at - here.at, apart), screens[one].width
            year = _first(lambda years, width=width, between=between: width.at(years).middle / 2 >= between)  # type: ignore[misc]
            if year is not None:
                first[other, one] = min(year, first.get((other, one), year))
    return tuple(Overgrown(kind, by, year) for (kind, by), year in sorted(first.items()))


def bands(course: Course) -> tuple[Band, ...]:
    """The size in each of the years that are told."""
    return tuple(course.at(years) for years in YEARS)


def outgrown(screen: Screening, goal: Goal) -> tuple[Outgrown, ...]:
    """The bounds asked that a plant's usual size passes in twenty years, height first."""
    found = []
    for axis, bound, course, size in (
        ("height", goal.top, screen.height, screen.sizes[0]),
        ("width", goal.depth, screen.width, screen.sizes[1]),
    ):
        then = course.at(UNPRUNED).middle
        if bound is not None and then > bound + NO_MATTER:
            found.append(Outgrown(axis, bound, then - bound, _held(size, bound)))  # type: ignore[arg-type]
    return tuple(found)


def _held(size: Size, bound: float) -> Held | None:
    kept = hold(size, bound + TOLERANCE)
    if kept is None:
        return None
    return Held(size.axis, min(kept.at, bound), kept.cut, kept.cuts, kept.when, kept.green_only)  # type: ignore[arg-type]
