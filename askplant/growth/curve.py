"""The growth curve: Chapman-Richards with an establishment lag, and a slow second rise towards the old size.

    h(t) = G (1 - exp(-k (s + s0)))^p + (H - G) (1 - exp(-j s))^3

    s    years of full growth after t years in the ground: roots first, top growth after
    H    the old size, which the curve approaches
    G    the size it is grown out to; for a plant that still grows at twenty years G is H, and the second part is nothing
    p    the shape, k the speed of the way to the grown size; s0 makes the plant its size at planting when t = 0
    j    the speed of the creep from the grown to the old size, of the shape 3 that theory gives

Only k is fitted: three or four parameters cannot be told apart from one or two sizes (Danjon and Hervé, INRA, 1994), and H is
taken from recorded old size, for short young series underestimate it. The formula is that of Richards 1959 and Chapman 1961;
with p near 1 it is the monomolecular curve, which fitted young trees best (Chandrasekhar, J. Forestry Research 23(3), 2012).
Lengths are metres, times years since planting. A curve never falls.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

# Between the monomolecular curve (1) and the sigmoid of theory (3): nearer 1, as for young trees.
SHAPE = 1.3
# The shape that theory gives (forest-biometrics blog, SLU, 2017): it starts slowly, as a creep after full growth does.
CREEP_SHAPE = 3.0
# While roots establish the top grows at about a third of its later speed: "sleep, creep, leap"; common practice.
LAG_SPEED = 1 / 3
# A size that takes longer than this is never reached, years.
NEVER = 200.0
# A size is reached when no more than a tenth of a millimetre is missing, m.
REACHED = 1e-4
# Years are told to less than an hour.
_PRECISION = 1e-4


class Curve(NamedTuple):
    """One fitted curve: `top` H and `grown` G in metres, `speed` k and `creep` j a year, `start` s0 and `lag` years,
    `set_at` metres at planting.
    """

    top: float
    grown: float
    speed: float
    creep: float
    start: float
    lag: float
    set_at: float

    def at(self, years: float) -> float:
        """Size in metres after so many years in the ground."""
        full = growing(years, self.lag)
        size = self.grown * (1 - math.exp(-self.speed * (full + self.start))) ** SHAPE
        if self.top > self.grown:
            size += (self.top - self.grown) * (1 - math.exp(-self.creep * full)) ** CREEP_SHAPE
        return float(size)

    def years_to(self, size: float) -> float | None:
        """Years in the ground until a size in metres is reached; None if it never is."""
        return years_to(self.at, size)

    def yearly(self, size: float) -> float:
        """Growth in metres a year of an established plant held at a size; none at its top.

        A plant cut back below the size at which it grows best keeps the roots to grow at its best; one held above what it
        is grown out to still creeps. So the growth never rises with the size held.
        """
        if size >= self.top:
            return 0.0
        # The steepest place of (1 - exp(-x))^3 is 4/9.
        creeping = 4 / 9 * self.creep * (self.top - self.grown)
        best = self.grown * (1 - 1 / SHAPE) ** SHAPE
        held = max(size, best)
        if held >= self.grown:
            return creeping
        return float(max(creeping, self.speed * SHAPE * held * ((self.grown / held) ** (1 / SHAPE) - 1)))


def growing(years: float, lag: float) -> float:
    """Years of full growth in so many years in the ground: the lag counts a third."""
    return years * LAG_SPEED if years < lag else lag * LAG_SPEED + years - lag


def till(full: float, lag: float) -> float:
    """Years in the ground until there were so many years of full growth."""
    slow = lag * LAG_SPEED
    return full / LAG_SPEED if full < slow else full + lag - slow


def share(size: float, top: float) -> float:
    """What stands in the curve for a size: (size / top)^(1/p)."""
    return float((size / top) ** (1 / SHAPE))


def years_to(at: Callable[[float], float], size: float) -> float | None:
    """Years until a function of years that never falls reaches a size; None if it does not within NEVER years."""
    if at(0.0) >= size:
        return 0.0
    if at(NEVER) < size - REACHED:
        return None
    low, high = 0.0, NEVER
    while high - low > _PRECISION:
        middle = (low + high) / 2
        low, high = (middle, high) if at(middle) < size - REACHED else (low, middle)
    return high
