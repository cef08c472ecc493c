"""How plants of a base grow, as a plan needs it: low, middle and high size over the years. Lengths metres, times years.

The one door of the plan to growth.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, NamedTuple, Protocol

from askplant.verdicts.growth import Curve, fitted, soft_years


class Band(NamedTuple):
    """A size as it may turn out: low, middle, high."""

    low: float
    middle: float
    high: float


class Span(NamedTuple):
    """Years until a size is reached: at the soonest, usually, at the latest; None where it never is."""

    soonest: float | None
    usual: float | None
    latest: float | None


class Course(NamedTuple):
    """The growth of one plant along one axis."""

    slow: Curve
    usual: Curve
    fast: Curve

    def at(self, years: float) -> Band:
        """Size after so many years in the ground."""
        return Band(*sorted(curve.at(years) for curve in (self.slow, self.usual, self.fast)))

    def years_to(self, size: float) -> Span:
        """Years in the ground until a size is reached."""
        years = sorted(
            math.inf if (found := curve.years_to(size)) is None else found
            for curve in (self.slow, self.usual, self.fast)
        )
        return Span(*(None if one == math.inf else one for one in years))


class Growing(Protocol):
    """What a base must tell of growth."""

    def resolved(self, n: int) -> dict[str, Any]: ...
    def observations(self, n: int) -> Sequence[Any]: ...


def course(base: Growing, n: int, axis: str) -> Course | None:
    """The growth of a plant's height or width; None where its grown size is not known."""
    card = base.resolved(n)
    grown = card.get(f"{axis}_grown")
    if grown is None:
        return None
    old = card[f"{axis}_old"].high if f"{axis}_old" in card else None
    kinds = card["kind"].words if "kind" in card else ()
    rate, growth, lag = card.get("growth_per_year"), card.get("growth"), card.get("lag_years")
    tall = axis == "height"
    seen = tuple(
        (one.age, getattr(one, axis))
        for one in base.observations(n)
        if getattr(one, axis) is not None and one.age > 0 and one.pruned != "yes"
    )
    curves = (
        fitted(
            sides,
            old,
            (rate.low + rate.high) / 2 if rate is not None and tall else None,
            growth.text if growth is not None and tall else None,
            soft_years(kinds) if kinds else None,
            (lag.low + lag.high) / 2 if lag is not None else None,
            seen,
        )
        for sides in ((grown.low, grown.low), (grown.low, grown.high), (grown.high, grown.high))
    )
    return Course(*curves)
