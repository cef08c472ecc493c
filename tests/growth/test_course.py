"""Courses: the band holds the usual size, widens where less is known, and follows what was measured."""

from __future__ import annotations

import time
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from askplant.base.opened import Base
from askplant.growth.course import Course, course, course_of
from askplant.growth.fit import MOST_OBSERVED, age_when_grown, doubt_of, effort_of, observed
from askplant.growth.known import AXES, CUT_BACK, Known, Seen, known
from askplant.growth.prospect import prospect
from askplant.render.growing import prospect_text
from askplant.render.screen import Screen
from tests.residuals import errors, measured, median_and_ninth, share_inside

from ..verdicts.invented import FOOT, InventedBase, feet
from .test_curve import knowns, knows

# All courses of the real base, seconds; twice what a slow machine needs.
ALL_COURSES_S = 1.5


def told(known: Known) -> Course:
    """The course of what is known, which there is."""
    found = course_of(known)
    assert found is not None
    return found


@given(knowns, st.floats(0, 100), st.floats(0, 30))
def test_the_band_holds_the_usual_size_and_never_falls(known: Known, years: float, more: float) -> None:
    """Low, middle, high at any age, and none of them smaller later."""
    now, then = told(known).at(years), told(known).at(years + more)
    assert now.low <= now.middle + 1e-9
    assert now.middle <= now.high + 1e-9
    assert all(one <= other + 1e-9 for one, other in zip(now, then, strict=True))


@given(knowns, st.floats(0.1, 30))
def test_spans_are_in_order(known: Known, size: float) -> None:
    """Good growth is there first, poor growth last or never."""
    span = [float("inf") if years is None else years for years in told(known).years_to(size)]
    assert all(one <= other + 1e-3 for one, other in pairwise(span))


@given(knowns, st.floats(0.5, 60))
def test_the_band_widens_where_less_is_known(known: Known, years: float) -> None:
    """Fewer measurements, a wider range or sources that disagree: the same middle is told less surely."""
    assert known.grown is not None
    doubt = doubt_of(known)
    unmeasured = doubt_of(known._replace(seen=()))
    assert unmeasured.speed >= doubt.speed - 1e-9
    low, high = known.grown
    wider = doubt_of(known._replace(stated=(*known.stated, (0.8 * low, 1.2 * high))))
    assert wider.low <= doubt.low
    assert wider.high >= doubt.high
    same = told(known)
    spread = [Course(known, same.curve, one).at(years) for one in (doubt, wider)]
    assert spread[1].low <= spread[0].low + 1e-9
    assert spread[1].high >= spread[0].high - 1e-9


def test_no_stated_rate_is_told_less_surely() -> None:
    """Inches a year, only a class, nothing at all: each is less sure than the one before."""
    stated, classed, silent = knows(10, 12, 20, 1, growth="slow"), knows(10, 12, 20, growth="slow"), knows(10, 12, 20)
    speeds = [doubt_of(one).speed for one in (stated, classed, silent)]
    assert speeds == sorted(speeds)
    assert len(set(speeds)) == 3


@given(knowns.map(lambda known: known._replace(seen=())), st.floats(2, 30), st.floats(0.3, 3), st.integers(1, 6))
def test_more_observations_pull_the_curve_further(known: Known, age: float, off: float, count: int) -> None:
    """Each further plant of one size at one age draws the curve towards it, and never beyond.

    The first may also make the plant smaller when set, or larger in the end, which moves what was right already a little.
    """
    size = off * told(known).curve.at(age)
    apart = [abs(told(_with(known, age, size, number)).curve.at(age) - size) for number in (0, count, count + 1)]
    assert apart[0] >= apart[1] - 1e-6 or apart[0] < 0.05 * size
    assert apart[1] >= apart[2] - 2e-3 * size


def _with(known: Known, age: float, size: float, count: int) -> Known:
    """Known with so many plants of one size; the top is the same with none, so that the curves compare."""
    seen = tuple(Seen(age, size, 1.0, f"plant {number}") for number in range(count))
    return known._replace(seen=seen, old=max(known.old or 0.0, size, known.grown[1] if known.grown else 0.0))


def test_several_measurements_of_one_plant_do_not_drown_the_card() -> None:
    """Ten of one plant count less than ten plants, and no number of them more than three cards."""
    one = tuple(Seen(float(age), 1.0, 1.0, "one") for age in range(1, 11))
    ten = tuple(Seen(float(age), 1.0, 1.0, f"{age}") for age in range(1, 11))
    assert 1 < observed(one) < 4 < observed(ten) == pytest.approx(10)
    card = knows(10, 12, 20, 1)
    small = card._replace(seen=tuple(Seen(10.0, 0.8, 1.0, f"{n}") for n in range(200)))
    assert told(small).curve.at(10) > 0.8
    assert MOST_OBSERVED < 4


def test_pruned_plants_and_street_trees_count_less() -> None:
    """The same size at the same age pulls most from a plant that stood free."""
    card = {"kind": ["shrub"], "height_grown": feet(10, 14), "growth": "moderate"}
    rows = {"Free": (6.0, 1.2), "Street": (6.0, 1.2, None, "street, Ohio"), "Pruned": (6.0, 1.2, None, "", "yes")}
    base = InventedBase(
        {f"{name} alba": card | {"observed": [row]} for name, row in rows.items()} | {"Alba sola": card}
    )
    heights = {base.botanical[n]: _height(base, n, 6.0) for n in range(base.count)}
    assert heights["Free alba"] < heights["Street alba"] < heights["Pruned alba"] < heights["Alba sola"]
    assert known(base, base.index("pruned-alba"), "height").seen[0].counts == CUT_BACK


def _height(base: InventedBase, n: int, years: float) -> float:
    found = course(base, n, "height")
    assert found is not None
    return found.at(years).middle


def test_a_dwarf_is_no_sooner_grown_than_its_parent() -> None:
    """A card that is silent on growth takes its parent's in proportion to its size, and a variegated one grows slower."""
    parent = knows(20, 20, 40, 1.5, reach=20 * FOOT)
    dwarf = knows(4, 4, 8, 1.5, reach=4 * FOOT, states=False, parent=20 * FOOT)
    green = knows(20, 20, 40, 1.5, reach=20 * FOOT, states=False, parent=20 * FOOT)
    assert age_when_grown(dwarf) >= 0.85 * age_when_grown(parent)
    assert age_when_grown(dwarf._replace(states=True)) < 0.5 * age_when_grown(parent)
    for years in (2, 5, 10):
        assert told(green._replace(variegated=True)).at(years).middle < told(green).at(years).middle


def test_slower_forms_of_the_real_base_stay_below_their_parents(real_base: Base) -> None:
    """Where a card says smaller than its parent and no faster, its curve is so at five, ten and twenty years."""
    compared = 0
    for plant in real_base.plants():
        if plant.parent is None:
            continue
        own, parent = (known(real_base, n, "height") for n in (plant.n, plant.parent))
        faster = (effort_of(own).rate or 0.0) > (effort_of(parent).rate or 0.0)
        if own.grown and parent.grown and own.grown[1] <= 0.7 * parent.grown[0] and not faster and not own.seen:
            compared += 1
            for years in (5, 10, 20):
                assert told(own).at(years).middle <= told(parent).at(years).middle + 1e-9, plant.botanical
    assert compared > 50


def test_the_real_base_grows_within_its_cards(real_base: Base) -> None:
    """Every plant has both courses, stands within its grown range at twenty years, or so, and nears its old size."""
    off = []
    for n in range(real_base.count):
        for axis in AXES:
            found = course(real_base, n, axis)
            assert found is not None
            assert found.known.grown is not None
            low, high = found.known.grown
            if not found.known.seen and not 0.85 * low <= found.at(20).middle <= 1.15 * high:
                off.append((real_base.plant(n).botanical, axis, found.at(20).middle, found.known.grown))
            assert found.at(1000).middle == pytest.approx(found.curve.top, rel=0.05)
    assert len(off) <= 4, off


def test_all_courses_are_made_in_about_a_second(real_base: Base) -> None:
    """Height and width of every plant, from the open base."""
    start = time.perf_counter()
    course.cache_clear()
    course_of.cache_clear()
    for n in range(real_base.count):
        for axis in AXES:
            course(real_base, n, axis)
    assert time.perf_counter() - start < ALL_COURSES_S


def test_curves_lie_near_what_was_measured(real_base: Base) -> None:
    """The figures that `python -m tests.residuals` prints, with room for a few more measurements."""
    seen = list(measured(real_base))
    assert len(seen) >= 35
    bounds = {"used": (0.12, 0.35), "without": (0.22, 0.65), "alone": (0.3, 0.65)}
    for curve, (half, ninth) in bounds.items():
        found = median_and_ninth(errors(seen, curve))
        assert found[0] <= half, curve
        assert found[1] <= ninth, curve
    assert share_inside(seen) >= 0.75


def test_a_prospect_tells_what_it_does_not_know() -> None:
    """No growth, no measurement and a wide range are said; an unknown size has no side at all."""
    base = InventedBase({"Alba alba": {"height_grown": feet(10, 20)}, "Blanda blanda": {"kind": ["tree"]}})
    found = prospect(base, 0, 12)
    assert found.height is not None
    assert found.width is None
    assert set(found.height.basis.doubtful) == {"no rate", "no measurement", "wide range"}
    assert [age for age, _ in found.height.table] == [1, 2, 3, 5, 10, 12]
    text = prospect_text(found, base.plant(0), Screen(80), "us")
    assert "height" in text
    assert "width" not in text.partition("years in the ground")[2]
    assert prospect(base, 1).height is None
    assert "not known" in prospect_text(prospect(base, 1), base.plant(1), Screen(80), "us")
