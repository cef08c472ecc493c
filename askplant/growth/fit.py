"""A curve fitted to what is known of a plant, and how far it is to be trusted.

The card is one measurement: its grown size, at about twenty years or as soon as its growth brings it there. Sizes measured at a
known age are further ones, and the speed is the one with the least squares of the logarithms, weighted: measurements of one
source at one place are one plant's, and all of them together never silence the card.
"""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import groupby
from typing import NamedTuple

from askplant.growth.curve import CREEP_SHAPE, Curve, growing, share
from askplant.growth.known import Known, Seen, middle

# Grown sizes are those of about twenty years (the trait height_grown; the USDA's height at base age is that of twenty years too).
GROWN_AT = 20.0
# A plant that is grown this many years sooner is grown out: what is left to its old size comes by creeping.
GROWN_OUT = 7.0
# No size is nearer to what a curve runs towards than this, as a share of it: it would never be reached.
NEAREST = 0.95
# "Sleep, creep, leap": little growth, some, then full growth from the third year. Plants without a woody top start at once.
LAG_WOODY, LAG_SOFT = 2.0, 0.0
# A plant as it is usually set: 2 ft, or a quarter of its grown size if that is less; common practice. Setting tall plants taller
# (a tenth of the grown size, to 4 ft) was tried and did not bring the curves nearer to what was measured.
SET_AT, SET_SHARE = 0.6, 0.25
# A plant that was measured smaller than that was set smaller still.
SET_BELOW = 0.9
# Mean of a class in metres a year: slow to 12 in, moderate 13 to 24, fast 25 and more.
CLASS_RATE = {"slow": 0.2, "moderate": 0.45, "fast": 0.8}
# Mean growth on the way to full size, as a share of the stated growth in the best years; common practice.
MEAN_OF_BEST = 0.75
# A variegated form whose card is silent on growth grows at this share of its green parent's speed; common practice, no source.
VARIEGATED = 0.8
# Years in which half of the creep from the grown to the old size is done; common practice: old sizes are those of many decades.
CREEP_HALF = 60.0
# At twenty years, the age of grown sizes, it has brought no more than this share of the grown size.
CREPT = 0.05
# All measurements together weigh at most so many cards.
MOST_OBSERVED = 3.0

# How many times faster or slower a plant may grow than its curve, by what is known of its growth.
# Site, soil and water alone: with a tenth, four in five measured sizes lie within the band of their card (tests/residuals.py).
SITE = 1.1
# Only a class: "moderate" runs from 13 to 24 inches, each half of that range by its square root.
CLASS_ONLY = 1.4
# Not even that, or only the usual years of soft plants.
NO_RATE, SOFT_ONLY = 1.6, 1.4
# The growth of another axis or of the parent is taken for its own.
BORROWED = 1.1
# Two publishers' middles of one plant's size differ by 1.17 in height and 1.25 in width in the middle of all pairs (published
# sizes of about 180 taxa); a range that says less than half of that, either way, is too good.
LEAST_SPREAD = {"height": math.sqrt(1.17), "width": math.sqrt(1.25)}

_GOLDEN = (math.sqrt(5) - 1) / 2
_NARROWINGS = 40
# Measurements move the speed by no more than this, either way.
_FURTHEST = 8.0


class Doubt(NamedTuple):
    """How far off a curve may lie: sizes between `low` and `high` times its own, growth `speed` times faster or slower.

    Young plants differ by both, old ones only by size.
    """

    low: float
    high: float
    speed: float


class Effort(NamedTuple):
    """What the speed rests on besides the sizes: the yearly growth reckoned with in metres (None: none known), whether it was
    stated in figures, and whether it is its parent's.
    """

    rate: float | None
    stated: bool
    inherited: bool


@lru_cache(maxsize=16384)
def fitted(known: Known) -> Curve | None:
    """The curve of what is known; None where no grown size is."""
    if known.grown is None:
        return None
    high = known.grown[1]
    size = middle(known.grown)
    set_at = min((set_size(size), *(SET_BELOW * seen.size for seen in known.seen)))
    lag = lag_of(known)
    age = age_when_grown(known)
    measured = max((seen.size for seen in known.seen), default=0.0)
    top = max(known.old or high, high, measured)
    out = min(1.0, (GROWN_AT - age) / GROWN_OUT)
    grown = top + (max(high, measured) - top) * out
    creep = _creep(top - grown, high)
    slow = VARIEGATED if known.variegated and not known.states else 1.0
    unfitted = Curve(top, grown, 0.0, creep * slow, 0.0, lag, set_at)
    crept = unfitted.at(age)
    speed = _with_speed(unfitted, size - crept, age, slow)
    return _pulled(speed, known.seen, age) if known.seen else speed


def set_size(grown: float) -> float:
    """The size in metres at which a plant of a grown size is usually set."""
    return min(SET_AT, SET_SHARE * grown)


def lag_of(known: Known) -> float:
    """Years in which the roots establish."""
    if known.lag is not None:
        return middle(known.lag)
    return LAG_SOFT if known.soft is not None else LAG_WOODY


def age_when_grown(known: Known) -> float:
    """Years until the grown size is reached: about twenty, or sooner where the growth says so. A plant keeps its shape, so both
    axes are grown at once.
    """
    if known.soft is not None:
        return known.soft + lag_of(known)
    rate = effort_of(known).rate
    if rate is None:
        return GROWN_AT
    reach = _reach(known)
    lag = lag_of(known)
    return min(GROWN_AT, max(lag + 1.0, lag + (reach - set_size(reach)) / (MEAN_OF_BEST * rate)))


def effort_of(known: Known) -> Effort:
    """The yearly growth to reckon with: the stated one, else that of its class. What only its parent's card says is taken in
    proportion to its size, so that a dwarf is no sooner grown than its parent.
    """
    stated = known.rate is not None
    rate = middle(known.rate) if known.rate is not None else CLASS_RATE.get(known.growth or "")
    if rate is None or rate <= 0:
        return Effort(None, False, False)
    if known.states or known.parent is None:
        return Effort(rate, stated, False)
    return Effort(rate * min(1.0, _reach(known) / known.parent), stated, True)


def doubt_of(known: Known) -> Doubt:
    """How far off the curve of what is known may lie: less with every measurement, more with all that is not known."""
    assert known.grown is not None
    size, least = middle(known.grown), LEAST_SPREAD[known.axis]
    ranges = (known.grown, *known.stated)
    low = min(min(range_[0] for range_ in ranges) / size, 1 / least)
    high = max(max(range_[1] for range_ in ranges) / size, least)
    effort = effort_of(known)
    if known.soft is not None:
        speed = SOFT_ONLY
    elif effort.rate is None:
        speed = NO_RATE
    elif effort.stated and known.rate is not None and known.rate[0] > 0:
        speed = min(CLASS_ONLY, math.sqrt(known.rate[1] / known.rate[0]))
    else:
        speed = CLASS_ONLY
    borrowed = effort.inherited + (known.axis == "width") + known.variegated
    speed *= SITE * BORROWED**borrowed
    return Doubt(low, high, speed ** (1 / math.sqrt(1 + observed(known.seen))))


def observed(seen: tuple[Seen, ...]) -> float:
    """How many free-standing plants the measurements are worth: those of one source at one place are one plant's, which counts
    more the more often it was measured, but ever less so.
    """
    by_plant = groupby(sorted(seen, key=lambda one: one.whose), key=lambda one: one.whose)
    shares = [[one.counts for one in group] for _, group in by_plant]
    return sum(sum(share) / len(share) * (1 + math.log(len(share))) for share in shares)


def _creep(rest: float, grown: float) -> float:
    """The speed of the creep over what is left to the old size."""
    usual = -math.log(1 - 0.5 ** (1 / CREEP_SHAPE)) / CREEP_HALF
    if rest <= CREPT * grown:
        return usual
    return min(usual, -math.log(1 - (CREPT * grown / rest) ** (1 / CREEP_SHAPE)) / GROWN_AT)


def _reach(known: Known) -> float:
    if known.reach is not None:
        return known.reach
    assert known.grown is not None
    return middle(known.grown) / (1 if known.axis == "height" else 2)


def _with_speed(curve: Curve, size: float, age: float, slow: float) -> Curve:
    """The curve whose first part is of a size at an age, slowed down."""
    base = math.log(1 - share(curve.set_at, curve.grown))
    nearest = min(size, NEAREST * curve.grown)
    speed = (base - math.log(1 - share(max(nearest, 1.01 * curve.set_at), curve.grown))) / growing(age, curve.lag)
    return _at_speed(curve, speed * slow)


def _at_speed(curve: Curve, speed: float) -> Curve:
    start = -math.log(1 - share(curve.set_at, curve.grown)) / speed
    return curve._replace(speed=speed, start=start)


def _pulled(curve: Curve, seen: tuple[Seen, ...], age: float) -> Curve:
    """The curve drawn towards the measurements: the speed of the least weighted squares of logarithms, by golden section."""
    worth = observed(seen)
    together = MOST_OBSERVED * worth / (worth + MOST_OBSERVED)
    each = together / sum(one.counts for one in seen)
    points = [(age, curve.at(age), 1.0), *((one.age, one.size, one.counts * each) for one in seen)]

    def off(moved: float) -> float:
        tried = _at_speed(curve, curve.speed * math.exp(moved))
        return sum(weight * math.log(tried.at(years) / size) ** 2 for years, size, weight in points)

    low, high = -math.log(_FURTHEST), math.log(_FURTHEST)
    for _ in range(_NARROWINGS):
        left, right = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
        low, high = (low, right) if off(left) < off(right) else (left, high)
    return _at_speed(curve, curve.speed * math.exp((low + high) / 2))
