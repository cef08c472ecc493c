"""How high or wide a plant is over the years: the usual size, and a band around it that is wider the less is known."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from askplant.growth.curve import Curve, growing, till, years_to
from askplant.growth.fit import Doubt, doubt_of, fitted
from askplant.growth.known import Grown, Known, known


class Band(NamedTuple):
    """A size in metres: the usual one, with what it may be in poor and in good growth."""

    low: float
    middle: float
    high: float


class Span(NamedTuple):
    """Years until a size is reached: in good growth, usually, in poor growth; None where it never is."""

    soonest: float | None
    usual: float | None
    latest: float | None


class Course(NamedTuple):
    """The height or the width of one plant over time, what it rests on, and how far off it may lie."""

    known: Known
    curve: Curve
    doubt: Doubt

    @property
    def axis(self) -> str:
        """`height` or `width`."""
        return self.known.axis

    def at(self, years: float) -> Band:
        """The size in metres after so many years in the ground, 0 or more."""
        return Band(self._low(years), self.curve.at(years), self._high(years))

    def years_to(self, size: float) -> Span:
        """Years in the ground until a size in metres is reached."""
        return Span(years_to(self._high, size), self.curve.years_to(size), years_to(self._low, size))

    def planted(self, usual: float, years: float) -> float:
        """How big it would have to be when it is set, in metres, to come in so many years where it usually is after `usual`.

        A plant that is set bigger has to root in as the usual one does.
        """
        rooting = growing(years, self.curve.lag)
        before = max(0.0, growing(usual, self.curve.lag) - rooting)
        return self.curve.at(till(before, self.curve.lag))

    def _low(self, years: float) -> float:
        """Grown slower, and to less."""
        start = self.curve.set_at
        return start + self.doubt.low * (self.curve.at(years / self.doubt.speed) - start)

    def _high(self, years: float) -> float:
        """Grown faster, and to more, but not beyond its old size."""
        start = self.curve.set_at
        return min(self.curve.top, start + self.doubt.high * (self.curve.at(years * self.doubt.speed) - start))


@lru_cache(maxsize=16384)
def course(base: Grown, n: int, axis: str) -> Course | None:
    """The course of a plant's `height` or `width`; None where no grown size is known."""
    return course_of(known(base, n, axis))


@lru_cache(maxsize=16384)
def course_of(known: Known) -> Course | None:
    """The course of what is known; None where no grown size is."""
    curve = fitted(known)
    return Course(known, curve, doubt_of(known)) if curve is not None else None
