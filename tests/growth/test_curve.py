"""The growth curve: it passes through what a card says, grows as measured plants grew, and its cut falls with size."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from askplant.growth.curve import Curve, growing, till
from askplant.growth.fit import CLASS_RATE, GROWN_AT, age_when_grown, fitted
from askplant.growth.known import Known, Seen, known_of, soft_years
from askplant.verdicts.scales import MODERATE_TO, SLOW_TO

from ..verdicts.invented import FOOT

INCH = 0.0254


def knows(low: float, high: float, old: float | None = None, rate: float | None = None, **more: Any) -> Known:
    """What is known of an invented plant's height, in feet and feet a year."""
    grown = (low * FOOT, high * FOOT)
    stated = (rate * FOOT, rate * FOOT) if rate is not None else None
    return Known("height", grown, old=old * FOOT if old else None, rate=stated, **more)


def curve_of(known: Known) -> Curve:
    """The curve of what is known, which there is."""
    curve = fitted(known)
    assert curve is not None
    return curve


def test_a_slow_plant_reaches_its_grown_size_at_twenty_years() -> None:
    """Grown sizes are those of about twenty years."""
    curve = curve_of(knows(10, 13, 30, 0.5, growth="slow"))
    assert curve.at(GROWN_AT) == pytest.approx(11.5 * FOOT)
    assert curve.at(0) == pytest.approx(curve.set_at)


def test_a_fast_plant_is_grown_sooner() -> None:
    """A 12 ft shrub that adds 2 ft a year is full grown long before twenty years, and stays within its range."""
    curve = curve_of(knows(10, 14, 20, 2, growth="fast"))
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
        # White cedar species note, Van Buren Conservation District, Michigan: 40 ft at 50 years.
        ((20, 30), 60, 1.0, 50, 40.0, 0.2),
    ],
)
def test_measured_plants_stand_near_the_curve(
    grown: tuple[float, float], old: float, rate: float, age: float, seen: float, within: float
) -> None:
    """Published sizes at a known age lie within a tenth or a fifth of the curve of the card alone."""
    assert curve_of(knows(*grown, old, rate)).at(age) / FOOT == pytest.approx(seen, rel=within)


@pytest.mark.parametrize("age, feet", [(10, 5), (30, 15)])
def test_six_inches_a_year(age: float, feet: float) -> None:
    """American Conifer Society (conifersociety.org): a dwarf conifer's 6 in a year is 5 ft at ten years and 15 ft at thirty."""
    curve = curve_of(knows(9, 11, 25, 0.5, growth="slow"))
    assert curve.at(age) / FOOT == pytest.approx(feet, rel=0.2)


@pytest.mark.parametrize(
    "growth, grown, least, most",
    [("slow", 14, 0, 12), ("moderate", 28, 13, 24), ("fast", 45, 25, 48)],
)
def test_a_class_grows_its_inches_a_year(growth: str, grown: float, least: float, most: float) -> None:
    """Slow to 12 in a year, medium 13 to 24, fast 25 and up (growth-rate classes as commonly published), once established."""
    curve = curve_of(knows(0.9 * grown, 1.1 * grown, 2 * grown, growth=growth))
    for age in range(3, 12):
        assert least * INCH <= curve.at(age + 1) - curve.at(age) <= most * INCH


def test_a_measurement_pulls_the_curve() -> None:
    """'Green Giant' of 18-20 ft at ten years (usna.usda.gov) slows a curve that ran ahead of it."""
    card = knows(30, 40, 60, 3)
    before, after = curve_of(card), curve_of(card._replace(seen=(Seen(10.0, 19 * FOOT),)))
    assert 19 * FOOT < after.at(10) < before.at(10)


def test_the_first_years_count_a_third() -> None:
    """Sleep and creep before the leap."""
    assert growing(2, 2) == pytest.approx(2 / 3)
    assert growing(5, 2) == pytest.approx(2 / 3 + 3)
    assert till(growing(1, 2), 2) == pytest.approx(1)
    assert till(growing(9, 2), 2) == pytest.approx(9)


def test_growth_in_the_lag_is_a_third_of_the_growth_after_it() -> None:
    """Roots first, top growth after: the first two years bring less than the third."""
    curve = curve_of(knows(20, 30, 60, 1.5, lag=(2.0, 2.0)))
    first, second, third = (curve.at(year + 1) - curve.at(year) for year in range(3))
    assert first < third / 2
    assert second < third / 2


def test_classes_of_growth_are_the_published_ones() -> None:
    """Slow to 12 in a year, medium 13 to 24, fast 25 and up (growth-rate classes as commonly published)."""
    assert CLASS_RATE["slow"] <= SLOW_TO < 13 * INCH
    assert 13 * INCH < CLASS_RATE["moderate"] <= MODERATE_TO < 25 * INCH
    assert CLASS_RATE["fast"] > 25 * INCH


def test_only_plants_without_a_woody_top_are_soon_grown() -> None:
    """A perennial is; one that is grown as a shrub too is not."""
    assert soft_years(["perennial"]) == 3.0
    assert soft_years(["perennial", "shrub"]) is None
    assert soft_years([]) is None


def test_a_vine_grows_as_its_card_says_and_soft_plants_root_first() -> None:
    """A climber by its stated yearly growth; bamboo, herbs and vines of unknown growth after their years of rooting."""
    value = [(2.5, 3.5), None, None, (0.3, 0.6), None, None, None, None]
    vine, bamboo, hop = (
        known_of("height", [*value, kinds, None, (2.0, 4.0)])
        for kinds in (("vine",), ("bamboo",), ("perennial", "vine"))
    )
    assert (vine.soft, vine.habit) == (None, "vine")
    assert age_when_grown(vine) > 8
    assert (bamboo.habit, age_when_grown(bamboo)) == ("bamboo", 3.0 + 6.0)
    assert (hop.habit, age_when_grown(hop)) == (None, 3.0 + 6.0)
    silent = known_of("height", [(2.5, 3.5), None, None, None, None, None, None, None, ("vine",), None, None])
    assert silent.soft == 6.0


ranges = st.tuples(st.floats(0.3, 20), st.floats(0, 10)).map(lambda pair: (pair[0], pair[0] + pair[1]))
rates = st.tuples(st.floats(0.05, 1), st.floats(0, 1)).map(lambda pair: (pair[0], pair[0] + pair[1]))
seens = st.builds(
    Seen, st.floats(0.5, 60), st.floats(0.1, 30), st.sampled_from([1.0, 0.5, 0.25]), st.sampled_from("abc")
)
knowns = st.builds(
    Known,
    axis=st.sampled_from(["height", "width"]),
    grown=ranges,
    old=st.none() | st.floats(0.5, 60),
    rate=st.none() | rates,
    growth=st.none() | st.sampled_from(list(CLASS_RATE)),
    soft=st.none() | st.none() | st.sampled_from([0.5, 2.0, 3.0]),
    lag=st.none() | st.tuples(st.floats(0, 2), st.floats(2, 5)),
    reach=st.none() | st.floats(0.3, 20),
    stated=st.lists(ranges, max_size=3).map(tuple),
    states=st.booleans(),
    parent=st.none() | st.floats(0.3, 30),
    variegated=st.booleans(),
    seen=st.lists(seens, max_size=3).map(tuple),
)
curves = st.builds(curve_of, knowns)


@given(curves, st.floats(0, 60), st.floats(0, 20))
def test_growth_never_turns_back(curve: Curve, years: float, more: float) -> None:
    """A plant is no smaller later, and never beyond its top."""
    assert curve.at(years) <= curve.at(years + more) + 1e-9
    assert curve.at(years) <= curve.top + 1e-9


@given(knowns)
def test_it_starts_as_it_is_set_and_approaches_its_old_size(known: Known) -> None:
    """From the planting size at no years to the old size, or the grown or measured one that is above it, at very many."""
    curve = curve_of(known)
    assert known.grown is not None
    assert curve.at(0) == pytest.approx(curve.set_at)
    assert curve.top == pytest.approx(max(known.old or 0, known.grown[1], *(seen.size for seen in known.seen), 0))
    assert curve.at(1e6) == pytest.approx(curve.top, rel=1e-3)


@given(curves, st.floats(0.1, 30), st.floats(0, 10))
def test_the_yearly_cut_falls_with_the_size_held(curve: Curve, size: float, more: float) -> None:
    """What can be held at a size can be held at any greater one."""
    assert curve.yearly(size) >= curve.yearly(size + more) - 1e-9


@given(curves, st.floats(0.05, 0.95))
def test_years_to_a_size_and_the_size_then_agree(curve: Curve, share: float) -> None:
    """The two questions are each other's answer."""
    size = curve.set_at + share * (curve.top - curve.set_at)
    years = curve.years_to(size)
    if years is not None:
        assert curve.at(years) == pytest.approx(size, abs=5e-3)
    else:
        assert curve.at(200) < size
