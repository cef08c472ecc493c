"""Height and width: what meets a window, a limit and "about", what can be held there, and what moves with a bound."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from askplant.growth.course import course_of
from askplant.growth.curve import growing
from askplant.verdicts.judge import judge
from askplant.verdicts.sizes import bounds_of, needed, size_of
from askplant.verdicts.verdict import Site

from .conditions import size
from .invented import FOOT, feet

PLAIN = Site()


def shrub(low: float, high: float, shearing: str | None = None, old: float | None = None, **more: Any) -> list[Any]:
    """An invented shrub's height, in feet, as the judge reads it."""
    value = {
        "grown": feet(low, high),
        "label": None,
        "old": feet(old) if old else None,
        "rate": None,
        "growth": "moderate",
    }
    value |= {
        "shearing": shearing,
        "old_wood": ["yes"],
        "prune": ["late winter"],
        "kind": ["shrub"],
        "form": ["rounded"],
    }
    return list((value | more).values())


@pytest.mark.parametrize(
    "low, high, verdict",
    [(10, 14, "meets"), (8, 12, "meets"), (7, 12, "misses"), (13, 17, "meets"), (14, 18, "misses"), (4, 40, "misses")],
)
def test_a_window_is_met_when_half_of_the_range_lies_inside(low: float, high: float, verdict: str) -> None:
    """Design of the verdicts: for a window a-b at least half of the grown range; nothing is cut here."""
    condition = size("height", "within", 10, 15)
    found = judge(condition, shrub(low, high, "no"), PLAIN).verdict
    assert (found if high > 15 or found == "meets" else "misses") == verdict


@pytest.mark.parametrize("high, verdict", [(4, "meets"), (4.02, "meets"), (4.5, "misses"), (3, "meets")])
def test_a_limit_is_met_only_by_the_whole_range(high: float, verdict: str) -> None:
    """No wider than 4 ft: a range that ends above it misses when nothing can be cut, a centimetre aside."""
    assert judge(size("width", "at_most", None, 4), shrub(2, high, "no"), PLAIN).verdict == verdict


def test_a_least_height_is_met_by_half_of_the_range() -> None:
    """At least 15 ft: 12-18 meets by its middle, 10-16 only comes there in good ground, 8-12 does not."""
    least = size("height", "at_least", 15)
    assert judge(least, shrub(12, 18), PLAIN).verdict == "meets"
    assert judge(least, shrub(10, 16), PLAIN).verdict == "with care"
    assert judge(least, shrub(8, 12), PLAIN).verdict == "misses"
    assert judge(least, shrub(8, 12, old=18), PLAIN).verdict == "with care"


def test_about_is_a_fifth_either_way() -> None:
    """About 10 ft is 8 to 12."""
    bounds = bounds_of(size("height", "about", 10, 10))
    assert bounds.low == pytest.approx(8 * FOOT, abs=0.001)
    assert bounds.high == pytest.approx(12 * FOOT, abs=0.001)


def test_off_by_is_how_far_the_bound_would_have_to_move() -> None:
    """A plant 6-8 ft wide misses 4 ft by 4 ft, 1.22 m; one 4-6 ft tall misses 10 ft by 4."""
    wide = judge(size("width", "at_most", None, 4), shrub(6, 8, "no"), PLAIN)
    low = judge(size("height", "at_least", 10), shrub(4, 6), PLAIN)
    assert (wide.off_by, wide.unit) == (1.22, "m")
    assert low.off_by == 1.22


def test_a_hedge_plant_is_held_and_the_cut_is_said() -> None:
    """12-16 ft held at 10 is one or two cuts a year, said in metres and by season."""
    found = judge(size("height", "at_most", None, 10), shrub(12, 16, "yes"), PLAIN)
    assert found.verdict == "with care"
    assert found.how is not None
    _, at, cut = found.how.lengths
    assert at == pytest.approx(10 * FOOT, abs=0.02)
    assert 0 < cut < at / 3
    assert found.how.words[1] == "late winter"


@pytest.mark.parametrize(
    "value",
    [
        shrub(12, 16, "no"),
        shrub(12, 16, None),
        shrub(60, 80, "yes"),
        shrub(12, 16, "yes", form=["weeping"]),
        shrub(12, 16, "yes", kind=["perennial"]),
    ],
)
def test_what_does_not_take_the_shears_is_not_held(value: list[Any]) -> None:
    """Not without clipping, not from five times the size, not a weeper, not a perennial."""
    assert judge(size("height", "at_most", None, 10), value, PLAIN).verdict == "misses"


def test_what_breaks_from_bare_wood_is_held_lower() -> None:
    """A 30-40 ft hornbeam makes a 12 ft hedge; a conifer of that size, bare once cut past the green, does not."""
    limit = size("height", "at_most", None, 12)
    assert judge(limit, shrub(30, 40, "yes", old_wood=["yes"]), PLAIN).verdict == "with care"
    assert judge(limit, shrub(30, 40, "yes", old_wood=["no"]), PLAIN).verdict == "misses"


def test_asked_for_as_kept_a_plant_meets_by_being_kept() -> None:
    """Can be kept at 10 ft is met by a hedge plant, and how is still said."""
    found = judge(size("height", "at_most", None, 10, basis="held"), shrub(12, 16, "yes"), PLAIN)
    assert found.verdict == "meets"
    assert found.how is not None


def test_the_label_is_judged_when_the_label_is_asked() -> None:
    """Sold as 6 ft looks at the tag, not at what it grows to."""
    value = shrub(12, 16, "no", label=feet(5, 6))
    assert judge(size("height", "at_most", None, 6, basis="label"), value, PLAIN).verdict == "meets"
    assert judge(size("height", "at_most", None, 6), value, PLAIN).verdict == "misses"


def test_a_height_wanted_by_a_year_is_a_matter_of_what_is_bought() -> None:
    """10 ft in 3 years from a shrub of moderate growth wants a larger plant, in 7 the best growth, in 20 neither."""
    window = size("height", "within", 10, 15)
    soon, later, late = (judge(window, shrub(10, 14), Site(by_year=years)) for years in (3, 7, 20))
    assert (soon.verdict, later.verdict, late.verdict) == ("with care", "with care", "meets")
    assert soon.how is not None
    assert later.how is not None
    assert (soon.how.code, later.how.code) == ("late.bigger", "late.best")
    then, buy = soon.how.lengths
    assert then < buy < 10 * FOOT
    assert soon.margin < later.margin < late.margin


def test_a_bigger_plant_comes_to_the_height_in_time() -> None:
    """What is bought as big as the advice says, and roots in as any other, is there in the year asked for."""
    course = course_of(size_of("height", shrub(10, 14)).known)
    assert course is not None
    usual = course.years_to(10 * FOOT).usual
    assert usual is not None
    bought = course.years_to(course.planted(usual, 5)).usual
    assert bought is not None
    lag = course.curve.lag
    assert growing(usual, lag) - growing(bought, lag) == pytest.approx(growing(5, lag), abs=1e-3)


def test_an_unknown_height_is_unknown() -> None:
    """No value is neither a yes nor a no."""
    assert judge(size("height", "at_most", None, 10), [None] * 10, PLAIN).verdict == "unknown"


lengths = st.floats(0.5, 80).map(lambda x: round(x, 1))
plants = st.builds(
    lambda a, b, shearing, old: shrub(min(a, b), max(a, b), shearing, old=old),
    lengths,
    lengths,
    st.sampled_from(["yes", "light", "no", None]),
    st.none() | lengths,
)


@given(plants, lengths, lengths, lengths, lengths)
def test_widening_never_loses_a_match(value: list[Any], a: float, b: float, less: float, more: float) -> None:
    """A window, a limit and a least height let in at least what a tighter one does."""
    low, high = min(a, b), max(a, b)
    wide_low, wide_high = max(0.0, low - less), high + more
    pairs = [
        (size("height", "within", low, high), size("height", "within", wide_low, wide_high)),
        (size("height", "within", low, high), size("height", "within", low, wide_high)),
        (size("height", "within", low, high), size("height", "within", wide_low, high)),
        (size("height", "at_most", None, high), size("height", "at_most", None, wide_high)),
        (size("height", "at_least", low), size("height", "at_least", wide_low)),
        (size("width", "at_most", None, high, basis="held"), size("width", "at_most", None, wide_high, basis="held")),
    ]
    for tight, loose in pairs:
        if judge(tight, value, PLAIN).verdict != "misses":
            assert judge(loose, value, PLAIN).verdict != "misses"


@given(plants, lengths, st.sampled_from(["at_most", "at_least"]))
def test_the_needed_bound_lets_the_plant_in(value: list[Any], bound: float, test: str) -> None:
    """What a limit would have to become is enough."""
    limit = size("height", test, bound if test == "at_least" else None, bound if test == "at_most" else None)
    low, high = needed(size_of("height", value), bounds_of(limit))
    moved = size("height", test, low / FOOT if low is not None else None, high / FOOT if high is not None else None)
    assert judge(moved, value, PLAIN).verdict != "misses"


def test_a_plant_is_held_inside_the_window_or_not_at_all() -> None:
    """12-16 ft is held at 9-10; a tree of 18-30 ft cannot be held at 18-20, where no ladder reaches."""
    inside = judge(size("height", "within", 9, 10), shrub(12, 16, "yes"), PLAIN)
    assert inside.verdict == "with care"
    assert judge(size("height", "within", 18, 20), shrub(18, 30, "yes"), PLAIN).verdict == "misses"
