"""The growth curve: it passes through what a card says, grows as measured plants grew, and its cut falls with size."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from askplant.verdicts.growth import CLASS_RATE, fitted, growing, soft_years
from askplant.verdicts.scales import MODERATE_TO, SLOW_TO

from .invented import FOOT

INCH = 0.0254


def test_a_slow_plant_reaches_its_grown_size_at_twenty_years() -> None:
    """Grown sizes are those of about twenty years."""
    curve = fitted((3.0, 4.0), 9.0, 0.15, "slow")
    assert curve.at(20) == pytest.approx(3.5)
    assert curve.at(0) == pytest.approx(curve.set_at)


def test_a_fast_plant_is_grown_sooner() -> None:
    """A 12 ft shrub that adds 2 ft a year is full grown long before twenty years, and stays within its range."""
    curve = fitted((10 * FOOT, 14 * FOOT), 20 * FOOT, 2 * FOOT, "fast")
    years = curve.years_to(12 * FOOT)
    assert years is not None
    assert 6 < years < 12
    assert curve.at(20) <= 14 * FOOT * 1.06


@pytest.mark.parametrize(
    "grown, old, rate, age, seen, within",
    [
        # J. Arboriculture, Camp Hill, Alabama (auf.isa-arbor.com): 'Armstrong' red maple 13.0 and 16.9 ft at 5 and 7 years.
        ((35, 50), 60, 2.0, 5, 13.0, 0.2),
        ((35, 50), 60, 2.0, 7, 16.9, 0.2),
        # Gerhold, tree lilac cultivars as street trees, second report: 15.8 to 16.8 ft at 12 years.
        ((20, 25), 30, 1.0, 12, 16.3, 0.1),
        # Gerhold, crabapple cultivars, third report, 2007: 'Snowdrift' 16.1 ft at 12 years.
        ((15, 20), 25, 1.5, 12, 16.1, 0.1),
    ],
)
def test_measured_plants_stand_near_the_curve(
    grown: tuple[float, float], old: float, rate: float, age: float, seen: float, within: float
) -> None:
    """Published sizes at a known age lie within a tenth or a fifth of the curve of the card alone."""
    curve = fitted((grown[0] * FOOT, grown[1] * FOOT), old * FOOT, rate * FOOT)
    assert curve.at(age) / FOOT == pytest.approx(seen, rel=within)


def test_a_measurement_pulls_the_curve() -> None:
    """'Green Giant' of 18-20 ft at ten years (usna.usda.gov) slows a curve that ran ahead of it."""
    card = ((30 * FOOT, 40 * FOOT), 60 * FOOT, 3 * FOOT)
    before, after = fitted(*card), fitted(*card, seen=((10.0, 19 * FOOT),))
    assert 19 * FOOT < after.at(10) < before.at(10)


def test_the_first_years_count_a_third() -> None:
    """Sleep and creep before the leap."""
    assert growing(2, 2) == pytest.approx(2 / 3)
    assert growing(5, 2) == pytest.approx(2 / 3 + 3)


def test_classes_of_growth_are_the_published_ones() -> None:
    """Slow to 12 in a year, medium 13 to 24, fast 25 and up (Melinda Myers garden note; Cook's Greenhouse conifer list)."""
    assert CLASS_RATE["slow"] <= SLOW_TO < 13 * INCH
    assert 13 * INCH < CLASS_RATE["moderate"] <= MODERATE_TO < 25 * INCH
    assert CLASS_RATE["fast"] > 25 * INCH


def test_only_plants_without_a_woody_top_are_soon_grown() -> None:
    """A perennial is; one that is grown as a shrub too is not."""
    assert soft_years(["perennial"]) == 3.0
    assert soft_years(["perennial", "shrub"]) is None
    assert soft_years([]) is None


ranges = st.tuples(st.floats(0.3, 20), st.floats(0, 10)).map(lambda pair: (pair[0], pair[0] + pair[1]))
curves = st.builds(fitted, ranges, st.none() | st.floats(0.5, 60), st.none() | st.floats(0.05, 2), st.none())


@given(curves, st.floats(0, 60), st.floats(0, 20))
def test_growth_never_turns_back(curve, years: float, more: float) -> None:  # type: ignore[no-untyped-def]
    """A plant is no smaller later, and never beyond its top."""
    assert curve.at(years) <= curve.at(years + more) + 1e-9
    assert curve.at(years) <= curve.top + 1e-9


@given(curves, st.floats(0.1, 30), st.floats(0, 10))
def test_the_yearly_cut_falls_with_the_size_held(curve, size: float, more: float) -> None:  # type: ignore[no-untyped-def]
    """What can be held at a size can be held at any greater one."""
    assert curve.yearly(size) >= curve.yearly(size + more) - 1e-9


@given(curves, st.floats(0.05, 0.95))
def test_years_to_a_size_and_the_size_then_agree(curve, share: float) -> None:  # type: ignore[no-untyped-def]
    """The two questions are each other's answer."""
    size = curve.set_at + share * (curve.top - curve.set_at)
    years = curve.years_to(size)
    assert years is not None
    assert curve.at(years) == pytest.approx(size, rel=1e-6)
