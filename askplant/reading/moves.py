"""More or less of something ("narrower", "a bit shorter", "more shade"): one condition moved by a stated step.

    a size            a quarter of the bound, an eighth for "a bit", half for "much"; to the half foot or decimetre
    zone              one zone colder, half a zone for "a bit", two zones for "much"
    light, moisture,  one class of the scale
    speed of growth
    nothing asked     a size word with its written definition, a narrow form, a spreading one, or the end of the scale

The shares are our own definition, no source; they stand here so that "narrower" means the same every time.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from askplant.quantities import zones
from askplant.quantities.lengths import FOOT, Units
from askplant.reading.reading import Condition

SHARES = {"little": 1 / 8, "plain": 1 / 4, "much": 1 / 2}
HALF_ZONES = {"little": 1, "plain": 2, "much": 4}
STEP_US, STEP_METRIC = FOOT / 2, 0.1
# Scales that are moved along by one class; the first class is the lowest.
SCALES = {
    "light": ("full shade", "part shade", "part sun", "full sun"),
    "moisture": ("dry", "average", "moist", "wet"),
    "growth": ("slow", "moderate", "fast"),
}
# What is asked where the request says nothing on the axis: (trait, value) for less and for more.
UNASKED = {
    "width": (("form", "narrow"), ("form", "spreading")),
    "light": (("light", "part shade"), ("light", "full sun")),
    "moisture": (("moisture", "dry"), ("moisture", "moist")),
    "growth": (("growth", "slow"), ("growth", "fast")),
}
# A size word without a number, for a plant of any kind: the bounds of `small` and `large` in traits/vocabulary/size.txt.
SMALL_UP_TO, LARGE_FROM = 1.8288, 4.572


def moved(conditions: Sequence[Condition], axis: str, sign: int, amount: str, units: Units) -> list[Condition]:
    """The conditions with one axis moved; what nothing is asked on is added at the end. `axis` both: height and width."""
    if axis in ("height", "both"):
        out = _sized(conditions, "height", sign, SHARES[amount], units)
        has_width = any(found.trait == "width" for found in conditions)
        return _sized(out, "width", sign, SHARES[amount], units) if axis == "both" and has_width else out
    if axis == "width":
        return _sized(conditions, "width", sign, SHARES[amount], units)
    if axis == "zone":
        return _colder(conditions, sign, HALF_ZONES[amount])
    return _along(conditions, axis, sign)


def _sized(conditions: Sequence[Condition], axis: str, sign: int, share: float, units: Units) -> list[Condition]:
    """Each bound of the axis moved by a share; without one, what the bare word means."""
    if any(_is_of(found, axis) for found in conditions):
        return [_bounded(found, 1 + sign * share, units) if _is_of(found, axis) else found for found in conditions]
    if axis == "width":
        return _unasked(conditions, axis, sign)
    word = Condition(
        "size",
        "any_of",
        ("small" if sign < 0 else "large",),
        None if sign < 0 else LARGE_FROM,
        SMALL_UP_TO if sign < 0 else None,
        "m",
        "grown",
    )
    return [*(found for found in conditions if found.trait != "size"), word]


def _is_of(condition: Condition, axis: str) -> bool:
    """Whether a condition bounds the axis; a size word bounds the height, and is then a height in figures."""
    return condition.trait == axis or (axis == "height" and condition.trait == "size")


def _bounded(condition: Condition, factor: float, units: Units) -> Condition:
    step = STEP_METRIC if units == "metric" else STEP_US
    low, high = (
        None if bound is None else max(step, round(bound * factor / step) * step)
        for bound in (condition.minimum, condition.maximum)
    )
    moved = condition._replace(minimum=low, maximum=high, note=None)
    if condition.trait != "size":
        return moved
    test = "within" if low is not None and high is not None else "at_most" if high is not None else "at_least"
    return moved._replace(trait="height", test=test, values=())  # type: ignore[arg-type]


def _colder(conditions: Sequence[Condition], sign: int, steps: int) -> list[Condition]:
    """Plants that stand a colder zone than was asked; without a zone there is nothing to count from."""
    return [
        found._replace(values=tuple(_zone(str(value), sign * steps) for value in found.values), note=None)
        if found.trait == "zone"
        else found
        for found in conditions
    ]


def _zone(name: str, steps: int) -> str:
    return zones.name(min(max(zones.index(name) + steps, 0), zones.index("13b")))


def _along(conditions: Sequence[Condition], axis: str, sign: int) -> list[Condition]:
    scale = SCALES[axis]
    out = []
    for found in conditions:
        if found.trait == axis and found.test == "any_of":
            places = [scale.index(str(value)) for value in found.values if value in scale]
            values = dict.fromkeys(scale[min(max(place + sign, 0), len(scale) - 1)] for place in places)
            found = found._replace(values=tuple(values), note=None) if values else found
        out.append(found)
    return out if any(found.trait == axis for found in conditions) else _unasked(conditions, axis, sign)


def _unasked(conditions: Sequence[Condition], axis: str, sign: int) -> list[Condition]:
    trait, value = UNASKED[axis][sign > 0]
    kept = [found for found in conditions if found.trait != trait or found.test != "any_of"]
    return [*kept, Condition(trait, "any_of", (value,))]


def corrected(last: Condition, numbers: Sequence[float], units: str) -> Condition | None:
    """A size or zone with another number; None where the number can be none."""
    if last.trait == "zone":
        if any(number not in range(1, 14) for number in numbers):
            return None
        low, high = zones.halves(int(min(numbers)))[0], zones.halves(int(max(numbers)))[1]
        return last._replace(values=tuple(zones.name(half) for half in range(low, high + 1)))
    factor = 1.0 if units == "metric" else FOOT
    low_m, high_m = min(numbers) * factor, max(numbers) * factor
    if last.trait == "size" or last.test in ("within", "about"):
        test: Any = "about" if low_m == high_m else "within"
        return last._replace(trait="height" if last.trait == "size" else last.trait, test=test, values=(),
                       minimum=low_m, maximum=high_m)  # fmt: skip
    return last._replace(minimum=low_m if last.minimum is not None else None,
        maximum=high_m if last.maximum is not None else None,
    )
