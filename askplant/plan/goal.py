"""What a request asks of a screen: its run, the height to come to and by when, how deep it may be, and where it matters."""

from __future__ import annotations

from collections.abc import Iterable

from askplant.plan.plan import Goal
from askplant.quantities.lengths import FOOT, Units
from askplant.reading.reading import Condition, Reading
from askplant.verdicts.sizes import NEARLY, bounds_of
from askplant.verdicts.uses import ROOMY, UNDER_WIRES, WIRES_MOST

# What hides a person who stands behind it, where no height is asked; common practice.
USUAL_REACH = 6 * FOOT
DRY = frozenset({"dry"})


AT_LEAST = "for a screen: so tall at least, and at most twice that unless it is held"


def as_screen(reading: Reading) -> Reading:
    """The reading as a screen means it: a bare height is what it has to come to, not what its plants end at. A hedge, which
    is kept at its height, and heights with bounds of their own stay as they are. A bare amount is what all of it may cost.
    """
    buy = reading.task.buy
    if buy.price is not None and not buy.each:
        total = min(buy.price, buy.total or buy.price)
        reading = reading._replace(task=reading.task._replace(buy=buy._replace(price=None, total=total)))
    if _uses(reading) & {"hedge", "screen", "windbreak"} == {"hedge"}:
        return reading
    return reading._replace(conditions=tuple(map(_at_least, reading.conditions)))


def _at_least(condition: Condition) -> Condition:
    low = _least(condition)
    if condition.trait != "height" or condition.test != "about" or condition.basis == "held" or low is None:
        return condition
    return condition._replace(test="within", minimum=low, maximum=ROOMY * low, note=AT_LEAST)


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
    widths = [one for one in reading.conditions if one.trait == "width" and one.test != "none_of"]
    depth = _smallest(bounds_of(one).high for one in widths)
    if reach is None:
        reach = min(USUAL_REACH, top) if top is not None else USUAL_REACH
    wires = UNDER_WIRES in _uses(reading)
    if wires:  # whatever height is wished: what grows to no more than the lines allow usually ends a little below
        reach = min(reach, NEARLY * WIRES_MOST)
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
        about_height=_about(heights, top),
        about_width=_about(widths, depth),
        budget=task.buy.total,
        wires=wires,
    )


def _about(conditions: Iterable[Condition], bound: float | None) -> float | None:
    """The size asked, where a bound is what `about` allows and was not asked itself."""
    for one in conditions:
        if (one.test == "about" or one.note == AT_LEAST) and bounds_of(one).high == bound:
            return _least(one)
    return None


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
