"""What a request asks of a screen: its run, the height to come to and by when, how deep it may be, and where it matters."""

from __future__ import annotations

from collections.abc import Iterable

from askplant.plan.plan import Goal
from askplant.quantities.lengths import FOOT, Units
from askplant.reading.reading import Condition, Reading
from askplant.verdicts.sizes import bounds_of

# What hides a person who stands behind it, where no height is asked; common practice.
USUAL_REACH = 6 * FOOT
DRY = frozenset({"dry"})


def goal_of(reading: Reading, units: Units) -> Goal | None:
    """What is asked of the screen, to be laid out in these units; None where no run is said.

    Of several heights the tallest counts, of several depths the least; alternatives and wishes count like musts, for a
    plan keeps to one number.
    """
    task = reading.task
    if not task.run or task.run <= 0:
        return None
    heights = [condition for condition in reading.conditions if condition.trait in ("height", "size")]
    reach = max((low for one in heights if (low := _least(one)) is not None), default=None)
    top = _smallest(bounds_of(one).high for one in heights if one.test != "none_of")
    depth = _smallest(
        bounds_of(one).high for one in reading.conditions if one.trait == "width" and one.test != "none_of"
    )
    if reach is None:
        reach = min(USUAL_REACH, top) if top is not None else USUAL_REACH
    spot = task.spot if task.spot is not None else task.run / 2
    return Goal(
        run=task.run,
        reach=reach,
        reach_said=any(_least(one) is not None for one in heights),
        by_year=task.by_year,
        top=max(top, reach) if top is not None else None,
        depth=depth,
        spot=min(spot, task.run),
        spot_said=task.spot is not None,
        use="hedge" if _uses(reading) & {"hedge", "screen"} == {"hedge"} else "screen",
        light=_classes(reading, "light"),
        moisture=_classes(reading, "moisture"),
        dry=_classes(reading, "moisture") == DRY,
        one_kind=task.mixed is False,
        units=units,
    )


def _least(condition: Condition) -> float | None:
    """The height that a condition wants come to: of `about 10 ft`, 10 ft."""
    if condition.test in ("at_most", "none_of"):
        return None
    if condition.test == "about":
        return condition.minimum if condition.minimum is not None else condition.maximum
    return bounds_of(condition).low


def _smallest(lengths: Iterable[float | None]) -> float | None:
    return min((length for length in lengths if length is not None), default=None)


def _uses(reading: Reading) -> set[str]:
    return {str(value) for condition in reading.conditions if condition.trait == "use" for value in condition.values}


def _classes(reading: Reading, trait: str) -> frozenset[str]:
    """The classes of a trait that are asked for as a must."""
    return frozenset(
        str(value)
        for condition in reading.conditions
        if condition.trait == trait and condition.test == "any_of" and condition.strength == "must"
        for value in condition.values
    )
