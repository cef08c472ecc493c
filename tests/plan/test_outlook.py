"""What becomes of a row: when it closes, held against a measured hedge, and what it outgrows."""

from __future__ import annotations

import math
from typing import NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st

from askplant.base.opened import Base
from askplant.finding import find
from askplant.plan.growing import Band, Span, course
from askplant.plan.outlook import closing, latest_of
from askplant.plan.plan import Position
from askplant.quantities.lengths import FOOT


class Widening(NamedTuple):
    """A plant that comes to between two widths in metres, ever more slowly."""

    low: float
    high: float

    def at(self, years: float) -> Band:
        share = 1 - math.exp(-0.2 * years)
        return Band(share * self.low, share * (self.low + self.high) / 2, share * self.high)


def test_the_measured_hedge_closes_within_ten_years(real_base: Base) -> None:
    """US National Arboretum: 'Green Giant' set 1998 at 6.5 ft was 8 ft wide and 18 to 20 ft tall ten years on."""
    (plant,) = find("Thuja 'Green Giant'", real_base).plants
    width, height = course(real_base, plant, "width"), course(real_base, plant, "height")
    assert width is not None
    assert height is not None
    hedge = [Position(0, 6.5 * FOOT * (n + 0.5), 0) for n in range(10)]
    usual = closing(hedge, [width]).usual
    assert usual is not None
    assert usual <= 10
    # A plant of a hedge is held in by its neighbours; the curve is of one in the open.
    assert width.at(10).middle / FOOT == pytest.approx(8, rel=0.25)
    assert height.at(10).middle / FOOT == pytest.approx(19, rel=0.2)


def test_a_row_closes_when_widths_meet() -> None:
    """At the year that is told neighbours touch, and half a year before they do not."""
    wide = Widening(2.0, 3.0)
    years = closing([Position(0, 0.5, 0), Position(0, 2.3, 0)], [wide]).usual
    assert years is not None
    assert wide.at(years).middle == pytest.approx(1.8, abs=0.05)
    assert wide.at(years - 0.5).middle < 1.8


def test_a_row_that_stands_too_far_apart_never_closes() -> None:
    """Plants of 1 m at 5 m: said, not guessed."""
    assert closing([Position(0, 0, 0), Position(0, 5, 0)], [Widening(1.0, 1.0)]) == Span(None, None, None)


def test_one_plant_is_closed() -> None:
    """There is no joint to close."""
    assert closing([Position(0, 1, 0)], [Widening(1.0, 1.0)]).usual == 0


@given(low=st.floats(0.5, 4), more=st.floats(0, 3), apart=st.floats(0.3, 5), wider=st.floats(0.01, 2))
def test_years_are_in_order(low: float, more: float, apart: float, wider: float) -> None:
    """Soonest before usual before latest, and a wider distance never closes sooner."""

    def years(distance: float) -> list[float]:
        found = closing([Position(0, 0, 0), Position(0, distance, 0)], [Widening(low, low + more)])
        return [99.0 if one is None else one for one in found]

    near, far = years(apart), years(apart + wider)
    assert near == sorted(near)
    assert all(one <= other for one, other in zip(near, far, strict=True))


def test_the_last_counts() -> None:
    """A row is tall when its last plant is; one that never is keeps it from ever being."""
    assert latest_of([Span(1, 2, 3), Span(2, 2.5, None)]) == Span(2, 2.5, None)
