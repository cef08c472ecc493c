"""Size over time: a Chapman-Richards curve with an establishment lag.

    h(t) = H (1 - exp(-k (s(t) + s0)))^p        s(t): years of growth after t years in the ground
    dh/dt = k p h ((H / h)^(1/p) - 1)           at height h, once established

H is the size the curve runs towards, p the shape, k the speed; s0 makes the plant its size at planting when t = 0.
Only k is fitted: three or four parameters cannot be told apart from one or two sizes (Danjon and Hervé, INRA, 1994).
The formula is that of Richards 1959 and Chapman 1961; with p near 1 it is the monomolecular curve, which fitted young
trees best (Chandrasekhar, J. Forestry Research 23(3), 2012). Lengths are metres, times years since planting.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

# Between the monomolecular curve (1) and the sigmoid of theory (3): nearer 1, as for young trees.
SHAPE = 1.3
# Grown sizes are those of about twenty years (see the trait height_grown).
GROWN_AT = 20.0
# Years to full size of plants without a lasting woody top; common practice.
YEARS_SOFT = {"perennial": 3.0, "grass": 3.0, "fern": 3.0, "bulb": 2.0, "annual": 0.5, "bamboo": 6.0, "vine": 6.0}
# "Sleep, creep, leap": little growth, some, then full growth from the third year.
LAG_WOODY = 2.0
LAG_SOFT = 0.0
# While roots establish the top grows at about a third of its later speed; common practice.
LAG_SPEED = 1 / 3
# A plant as it is usually set: 2 ft, or a quarter of its grown size if that is less; common practice.
SET_AT = 0.6
SET_SHARE = 0.25
# Mean of a class in metres a year: slow to 12 in, moderate 13 to 24, fast 25 and more.
CLASS_RATE = {"slow": 0.2, "moderate": 0.45, "fast": 0.8}
# Mean growth on the way to full size, as a share of the stated growth in the best years; common practice.
MEAN_OF_BEST = 0.75
# A curve that has grown out by its grown size runs only little further.
HEADROOM = 1.05


class Curve(NamedTuple):
    """One fitted curve: `top` H in metres, `speed` k a year, `start` s0 years, `lag` years, `set_at` metres."""

    top: float
    speed: float
    start: float
    lag: float
    set_at: float

    def at(self, years: float) -> float:
        """Size in metres after so many years in the ground."""
        return float(self.top * (1 - math.exp(-self.speed * (growing(years, self.lag) + self.start))) ** SHAPE)

    def years_to(self, size: float) -> float | None:
        """Years in the ground until a size in metres is reached; None if it never is."""
        if size <= self.set_at:
            return 0.0
        if size >= self.top:
            return None
        grown = -math.log(1 - (size / self.top) ** (1 / SHAPE)) / self.speed - self.start
        slow = self.lag * LAG_SPEED
        return grown / LAG_SPEED if grown < slow else grown + self.lag - slow

    def yearly(self, size: float) -> float:
        """Growth in metres a year of an established plant held at a size.

        A plant cut back below the size at which it grows best keeps the roots to grow at its best.
        """
        best = self.top * (1 - 1 / SHAPE) ** SHAPE
        held = max(size, best)
        if held >= self.top:
            return 0.0
        return float(self.speed * SHAPE * held * ((self.top / held) ** (1 / SHAPE) - 1))


def growing(years: float, lag: float) -> float:
    """Years of full growth in so many years in the ground: the lag counts a third."""
    return years * LAG_SPEED if years < lag else lag * LAG_SPEED + years - lag


@lru_cache(maxsize=8192)
def fitted(
    grown: tuple[float, float],
    old: float | None = None,
    rate: float | None = None,
    growth: str | None = None,
    soft: float | None = None,
    lag: float | None = None,
    seen: tuple[tuple[float, float], ...] = (),
) -> Curve:
    """The curve of a plant from its card: grown range and old size in metres, best growth a year, growth class.

    `soft` is the years to full size of a plant without a woody top, `seen` its measured sizes as (age in years,
    metres).
    """
    middle = (grown[0] + grown[1]) / 2
    set_at = min(SET_AT, SET_SHARE * middle)
    if lag is None:
        lag = LAG_SOFT if soft is not None else LAG_WOODY
    age = soft if soft is not None else _age_when_grown(middle - set_at, rate or CLASS_RATE.get(growth or ""), lag)
    still_growing = age >= GROWN_AT and old is not None
    top = max(HEADROOM * grown[1], old if still_growing and old else 0.0, *(HEADROOM * size for _, size in seen))
    points = [(age, middle), *((years, size) for years, size in seen if size > set_at)]
    speed = _speed(points, top, set_at, lag)
    start = -math.log(1 - _share(set_at, top)) / speed
    return Curve(top, speed, start, lag, set_at)


def soft_years(kinds: Iterable[str]) -> float | None:
    """Years to full size if a plant of these kinds has no lasting woody top, else None."""
    years = [YEARS_SOFT.get(kind, math.inf) for kind in kinds]
    longest = max(years, default=math.inf)
    return None if longest == math.inf else longest


def _age_when_grown(to_grow: float, rate: float | None, lag: float) -> float:
    """Years until the grown size is reached: about twenty, or sooner where the stated growth says so."""
    if rate is None or rate <= 0:
        return GROWN_AT
    return min(GROWN_AT, max(lag + 1.0, lag + to_grow / (MEAN_OF_BEST * rate)))


def _speed(points: list[tuple[float, float]], top: float, set_at: float, lag: float) -> float:
    """The k that each point alone would give, averaged as a ratio: the card's size counts as one measurement."""
    base = math.log(1 - _share(set_at, top))
    logs = [math.log((base - math.log(1 - _share(size, top))) / growing(years, lag)) for years, size in points]
    return math.exp(sum(logs) / len(logs))


def _share(size: float, top: float) -> float:
    return float((size / top) ** (1 / SHAPE))
