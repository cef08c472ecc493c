"""Height, width and size words, held against a plant's grown size.

    within a-b   meets when at least half of the grown range lies inside
    about v      within 20 % of v, by the same half
    at most b    meets only when the whole grown range does
    at least a   meets when at least half of the grown range lies above
    size         its written bounds, taken as a window

Otherwise a plant that would outgrow the bound is `with care` where it can reasonably be held there, and one that
stays below is `with care` where it comes there in time. Loosening a bound never turns a match into a miss. Lengths
are metres.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from askplant.growth.course import course_of
from askplant.growth.known import Known, known_of
from askplant.reading.reading import Condition
from askplant.verdicts.holding import Hold, Size, hold, least
from askplant.verdicts.verdict import UNKNOWN, Advice, Fact, Judgement, Site, care, meets, misses

# What "about 10 ft" allows on either side; common practice.
ABOUT = 0.2
# Bounds are typed in feet and rounded to a tenth or so: a centimetre decides nothing.
TOLERANCE = 0.01
# A plant whose range ends below the least height asked, by no more than this share, may still come there with age.
NEARLY = 0.8
# Comfort inside a limit: from here on, as a share of the limit, nothing is gained.
EASE = 0.15


class Bounds(NamedTuple):
    """What is asked: from `low` to `high` metres, either open; `limit` when the whole range must keep to it."""

    low: float | None
    high: float | None
    limit: bool


def judge_size(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """A height, width or size condition against a Size, or the values one is made of."""
    size = value if isinstance(value, Size) else size_of(axis_of(condition.trait), value)
    if condition.basis == "label" and size.label is not None:
        return _on_label(condition, size)
    if size.grown is None:
        return UNKNOWN
    bounds = bounds_of(condition)
    if bounds.low is None and bounds.high is None:
        return UNKNOWN._replace(has=_has(size, "grown", size.grown))
    found = _grown(size, bounds, condition.basis == "held")
    return _in_time(found, size, bounds, site)


def axis_of(trait: str) -> str:
    """The axis that a condition of size is about."""
    return "width" if trait == "width" else "height"


def size_of(axis: str, value: Sequence[Any], known: Known | None = None) -> Size:
    """The Size of [grown, label, old, rate, growth, shearing, old_wood, prune_when, kind, form, lag, blooms_on, flower,
    fruit], as the base has them; `known` where more is known of its growth than those tell.
    """
    shearing, old_wood, prune_when, kinds, forms = value[5:10]
    blooms_on, flower, fruit = value[11:14] if len(value) > 11 else (None, None, None)
    return Size(
        known or known_of(axis, value),
        shearing,
        one(old_wood),
        one(prune_when),
        tuple(kinds or ()),
        tuple(forms or ()),
        tuple(blooms_on or ()),
        several(flower),
        several(fruit),
    )


def several(value: Any) -> tuple[str, ...]:
    """The words of a trait that holds one or several."""
    return (value,) if isinstance(value, str) else tuple(value or ())


def one(value: Any) -> str | None:
    """The single word of a trait that holds one."""
    if isinstance(value, str) or value is None:
        return value
    return value[0] if value else None


def bounds_of(condition: Condition) -> Bounds:
    """What a condition asks of a length."""
    low, high = condition.minimum, condition.maximum
    if condition.test == "about":
        value = low if low is not None else high
        assert value is not None
        top = high if high is not None else value
        return Bounds(value * (1 - ABOUT), top * (1 + ABOUT), False)
    if condition.test == "at_most":
        return Bounds(None, high if high is not None else low, True)
    if condition.test == "at_least":
        return Bounds(low if low is not None else high, None, True)
    return Bounds(low, high, False)


def _on_label(condition: Condition, size: Size) -> Judgement:
    """Judged on what tags say, by the same rules, and nothing is cut."""
    found = _grown(size.as_sold(), bounds_of(condition), False)
    return found._replace(has=_has(size, "label", size.label))


def _has(size: Size, basis: str, range_: tuple[float, float] | None) -> Fact | None:
    return Fact("size", (size.axis, basis, *range_)) if range_ else None


def _grown(size: Size, bounds: Bounds, held: bool) -> Judgement:
    assert size.grown is not None
    has = _has(size, "grown", size.grown)
    if fits(size.grown, bounds):
        return meets(has, _ease(size.grown, bounds))
    if bounds.high is not None and too_big(size.grown, bounds):
        kept = hold(size, bounds.high + TOLERANCE)
        if kept and (bounds.low is None or kept.at >= bounds.low - TOLERANCE):
            return _held(has, kept, bounds, asked=held)
    elif bounds.low is not None and comes_by(size.grown, size.old, bounds.low):
        return care(has, Advice("in_time", (bounds.low, size.old or size.grown[1])), 0.3)
    return _missed(size.grown, bounds, has)


def fits(grown: tuple[float, float], bounds: Bounds) -> bool:
    """Whether a grown range meets the bounds as they are meant."""
    low, high = grown
    if bounds.limit and bounds.high is not None:
        return high <= bounds.high + TOLERANCE
    inside_low = max(low, bounds.low - TOLERANCE) if bounds.low is not None else low
    inside_high = min(high, bounds.high + TOLERANCE) if bounds.high is not None else high
    return inside_high - inside_low >= (high - low) / 2 - 1e-9 and inside_low <= inside_high


def too_big(grown: tuple[float, float], bounds: Bounds) -> bool:
    """Whether a grown range goes beyond the upper bound."""
    return bounds.high is not None and grown[1] > bounds.high + TOLERANCE


def comes_by(grown: tuple[float, float], old: float | None, low: float) -> bool:
    """Whether a range that ends at or below the least size asked comes there with good ground or with age."""
    high = grown[1]
    aged = high >= NEARLY * low - TOLERANCE and (old or 0.0) >= low - TOLERANCE
    return aged or high >= low - TOLERANCE


def _held(has: Fact | None, kept: Hold, bounds: Bounds, asked: bool) -> Judgement:
    """What has to be cut; a plant asked for as kept at that size meets by being kept."""
    code = "hold" if has and has.values[0] == "height" else "hold_width"
    low = max(bounds.low or 0.0, 0.0)
    often = "once" if kept.cuts == 1 else "twice"
    words = (often, kept.when, "green" if kept.green_only else "", kept.reach, *kept.costs)
    how = Advice(code, (low, kept.at, kept.cut), words)
    ease = max(0.0, 1 - kept.cut / (kept.at / 3))
    return meets(has, 0.5 + ease / 2, how) if asked else care(has, how, ease)


def _missed(grown: tuple[float, float], bounds: Bounds, has: Fact | None) -> Judgement:
    off_by = shortfall(grown, bounds)
    asked = bounds.high if bounds.high is not None and too_big(grown, bounds) else bounds.low or bounds.high or 1.0
    return misses(has, off_by / max(asked, 0.1), round(off_by, 2), "m")


def shortfall(grown: tuple[float, float], bounds: Bounds) -> float:
    """How far, in metres, a bound would have to move for the grown range to be let in."""
    low, high = grown
    half = (high - low) / 2
    if bounds.high is None or not too_big(grown, bounds):
        return (bounds.low or 0.0) - high
    if bounds.limit:
        return high - bounds.high
    return max(low, bounds.low or low) + half - bounds.high


def _ease(grown: tuple[float, float], bounds: Bounds) -> float:
    """How comfortably it fits, 0 to 1: for a limit the room left, for a window the share of the range inside."""
    low, high = grown
    if bounds.limit and bounds.high is not None:
        return min(1.0, 0.5 + max(0.0, bounds.high - high) / max(EASE * bounds.high, TOLERANCE) / 2)
    if bounds.limit and bounds.low is not None:
        return min(1.0, 0.5 + max(0.0, low - bounds.low) / max(EASE * bounds.low, TOLERANCE) / 2)
    if high - low < TOLERANCE:
        return 1.0
    inside = min(high, bounds.high if bounds.high is not None else high) - max(low, bounds.low or low)
    return max(0.0, min(1.0, inside / (high - low)))


def _in_time(found: Judgement, size: Size, bounds: Bounds, site: Site) -> Judgement:
    """A height wanted by a year: where the usual plant comes to it later, it is a matter of good growth, or of what is bought."""
    if found.verdict == "misses" or site.by_year is None or bounds.low is None or size.axis != "height":
        return found
    course = course_of(size.known)
    assert course is not None
    then, low = course.at(site.by_year), bounds.low - TOLERANCE
    if then.middle >= low:
        return found
    share, by = then.middle / bounds.low, f"{site.by_year:g}"
    if then.high >= low:
        return care(found.has, Advice("late.best", (then.middle, then.high), (by,)), (1 + share) / 2)
    years = course.curve.years_to(low)
    if years is None:
        return care(found.has, Advice("late", (then.middle,), (by,)), share / 2)
    buy = course.planted(years, site.by_year)
    return care(found.has, Advice("late.bigger", (then.middle, buy), (by, f"{years:.0f}")), share / 2)


def needed(size: Size, bounds: Bounds) -> tuple[float | None, float | None]:
    """The bounds (low, high) that would just let the plant in, held where it can be; the one that need not move is
    left.
    """
    assert size.grown is not None
    low, high = size.grown
    half = (high - low) / 2
    if bounds.high is not None and too_big(size.grown, bounds) and (bounds.limit or low + half > bounds.high):
        top = high if bounds.limit else max(low, bounds.low or low) + half
        smallest = least(size)
        if smallest is not None and smallest >= (bounds.low or 0.0):
            top = min(top, max(smallest, bounds.high))
        return bounds.low, top
    if bounds.low is not None:
        aged = min(high / NEARLY, size.old or 0.0)
        return min(bounds.low, max(high, aged)), bounds.high
    return bounds.low, max(bounds.high or 0.0, high)
