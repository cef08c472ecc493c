"""Holding at a size: what it takes, when and at what cost, why it is not reasonable, and that lower never takes less."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from askplant.answer.keeping import keep
from askplant.base.opened import Base
from askplant.finding import find
from askplant.render.advice import advised
from askplant.verdicts.holding import (
    BEFORE_BLOOM,
    MOST_HARD,
    MOST_OF_TOP,
    REACH,
    Size,
    clips,
    costs,
    held,
    hold,
    least,
    when_to_cut,
    why_not,
    years_down,
)
from askplant.verdicts.sizes import size_of
from askplant.verdicts.verdict import Advice

from ..growth.test_curve import knowns
from .invented import FOOT, feet

sizes = st.builds(
    Size,
    known=knowns,
    shearing=st.sampled_from(["yes", "light", "no", None]),
    old_wood=st.sampled_from(["yes", "no", None]),
    prune_when=st.sampled_from(["late winter", "after flowering", "seldom", None]),
    kinds=st.sampled_from([("shrub",), ("tree",), ("perennial",)]),
    forms=st.sampled_from([("rounded",), ("weeping",)]),
    blooms_on=st.sampled_from([(), ("old",), ("new",), ("new", "old")]),
    flower=st.sampled_from([("showy",), ("none",)]),
    fruit=st.sampled_from([("showy",), ("none",)]),
)
heights = st.floats(0.2, 20)


def shrub(**more: Any) -> Size:
    """A 12-16 ft shrub that takes clipping and breaks from bare wood."""
    value = [feet(12, 16), None, feet(20), None, "moderate", "yes", ["yes"], ["late winter"], ["shrub"], ["rounded"]]
    return size_of("height", value)._replace(**more)


@given(sizes, heights, heights)
def test_holding_lower_never_takes_less(size: Size, at: float, more: float) -> None:
    """More is cut, as often or more often, and what can be held low can be held higher."""
    low, high = held(size, at), held(size, at + more)
    assert low.cut >= high.cut - 1e-9
    assert low.cuts >= high.cuts
    assert low.clips >= high.clips
    if hold(size, at) is not None:
        assert hold(size, at + more) is not None


@given(sizes, heights)
def test_what_is_held_loses_no_more_than_a_third_a_year(size: Size, at: float) -> None:
    """At most a third of the top in a year (Ohio State Extension column; Clemson Extension says 30 %), but for what is cut to a
    framework every year.
    """
    kept = hold(size, at)
    if kept is not None:
        assert kept.cut <= kept.at * (MOST_HARD if size.is_cut_hard else MOST_OF_TOP) + 1e-9
        assert kept.cuts == 1 or not size.is_cut_hard


def test_a_fast_shrub_of_new_wood_is_held_by_one_hard_cut() -> None:
    """It blooms on what grows back from its framework; a slow one, or one that blooms on old wood, is no such shrub."""
    fast = shrub(shearing="light", blooms_on=("new",), flower=("showy",))
    fast = fast._replace(known=fast.known._replace(grown=(2.4, 2.4), old=3.9, growth="fast", rate=(0.6, 0.9), lag=(1.0, 2.0)))
    kept = hold(fast, 5 * FOOT)
    assert kept is not None
    assert (kept.cuts, kept.clips, kept.costs) == (1, 1, ())
    assert why_not(fast, 2 * FOOT)
    for other in (fast._replace(blooms_on=("old",)), fast._replace(known=fast.known._replace(growth="moderate"))):
        assert hold(other, 5 * FOOT) is None


@given(sizes, heights)
def test_a_reason_is_given_where_it_is_not_reasonable_and_nowhere_else(size: Size, at: float) -> None:
    """The reasons agree with what is held, a centimetre at the least size and the reach of a ladder aside."""
    smallest = least(size)
    assume(smallest is None or abs(at - smallest) > 0.01)
    assume(size.axis == "width" or at <= REACH)
    assert (hold(size, at) is None) == bool(why_not(size, at))


@pytest.mark.parametrize(
    "size, at, reason",
    [
        (shrub(kinds=("perennial",)), 6, "kind"),
        (shrub(forms=("weeping",)), 6, "weeping"),
        (shrub(shearing="no"), 6, "shearing"),
        (shrub(shearing=None), 6, "unsaid"),
        (shrub(old_wood="no"), 5, "bare"),
        (shrub(), 3, "low"),
        (shrub(known=shrub().known._replace(rate=(1.2, 1.8))), 5, "third"),
        (shrub(known=shrub().known._replace(grown=(12.0, 14.0), old=25.0)), 18, "reach"),
        (shrub(known=shrub().known._replace(grown=None)), 5, "size"),
    ],
)
def test_why_not(size: Size, at: float, reason: str) -> None:
    """Each reason there is."""
    assert reason in why_not(size, at * FOOT)


def test_cutting_at_the_wrong_time_costs_the_flowers() -> None:
    """Old-wood bloomers cut in late winter lose the year's flowers; new-wood bloomers lose none (University of Georgia Extension,
    Pruning ornamental plants in the landscape).
    """
    old, new = (shrub(blooms_on=(wood,), flower=("showy",), fruit=("showy",)) for wood in ("old", "new"))
    assert costs(old, "late winter", 1) == ("flower", "fruit")
    assert costs(old, "after flowering", 1) == ("fruit",)
    assert costs(new, "late winter", 1) == ()
    assert costs(new, "late winter", 2) == ("some flower",)
    assert costs(new, "summer", 1) == ("flower", "fruit")
    assert costs(old._replace(flower=("inconspicuous",), fruit=("none",)), "late winter", 1) == ()


def test_the_time_is_the_cards_or_that_of_the_wood() -> None:
    """Bloom on old wood: right after it; on new wood: late winter (the same bulletin); the card's own time comes first."""
    silent = shrub(prune_when=None, flower=("showy",))
    assert when_to_cut(silent._replace(blooms_on=("old",))) == "after flowering"
    assert when_to_cut(silent._replace(blooms_on=("new",))) == "late winter"
    assert when_to_cut(silent._replace(blooms_on=("old",), prune_when="summer")) == "summer"
    assert when_to_cut(silent) == "late winter"


def test_a_face_is_clipped_as_often_as_it_grows_ragged() -> None:
    """Each hand's length of growth is a clip; common practice, no source."""
    assert [clips(cut) for cut in (0.05, 0.2, 0.21, 0.5, 5.0)] == [1, 1, 2, 3, 6]


def test_an_overgrown_plant_is_brought_down_by_thirds() -> None:
    """A third each year for three years leaves three tenths (renovation by thirds, extension columns)."""
    assert years_down(10, 10) == 0
    assert years_down(10, 6.7) == 1
    assert years_down(10, 3) == 3


@pytest.mark.parametrize(
    "name, at, when, green, lost",
    [
        # University of New Hampshire Extension, Pruning Evergreens in the Landscape: early spring to mid June; not from old wood.
        ("Thuja occidentalis", 10, {"early spring or early summer", "early spring", "late spring"}, True, False),
        ("Tsuga canadensis", 15, {"early spring or early summer", "early spring", "late spring"}, None, False),
        # The same: yew breaks from old wood.
        ("Taxus × media", 5, {"early spring or early summer", "early spring", "late spring"}, False, False),
        # University of Georgia Extension, Table 1: forsythia and lilac right after bloom.
        ("Forsythia × intermedia", 7, {"after flowering"}, False, False),
        ("Syringa vulgaris", 9, {"after flowering"}, None, False),
        # Walter Reeves / UGA, Shrub Pruning Calendar: before spring growth; it blooms on new wood.
        ("Hibiscus syriacus", 7, BEFORE_BLOOM, False, False),
    ],
)
def test_published_times(real_base: Base, name: str, at: float, when: set[str], green: bool | None, lost: bool) -> None:
    """The cards' plants are cut when bulletins say, in green wood where they say so, and keep their flowers."""
    told = keep(real_base, find(name, real_base).plants[0], "height", at * FOOT)
    assert told.takes is not None
    assert told.takes.when in when
    assert green is None or told.takes.green_only == green
    assert ("flower" in told.takes.costs) == lost


@pytest.mark.parametrize("genus", ["Pinus", "Picea", "Abies", "Juniperus", "Chamaecyparis"])
def test_conifers_are_cut_in_the_green(real_base: Base, genus: str) -> None:
    """Pine, spruce, fir, juniper and false cypress do not sprout from leafless wood (UNH Extension; Berkshire Eagle 2022)."""
    plants = [plant for plant in real_base.plants() if plant.genus == genus]
    takes = [keep(real_base, plant.n, "height", 1.5).takes for plant in plants]
    green = [one.green_only for one in takes if one is not None]
    assert sum(green) / len(green) > 0.95


def test_what_is_not_needed_is_said_so(real_base: Base) -> None:
    """A plant that never grows so high needs no cutting for it."""
    (n,) = find("Ilex crenata 'Helleri'", real_base).plants
    assert not keep(real_base, n, "height", 12 * FOOT).needed
    assert keep(real_base, n, "height", 2 * FOOT).needed


def test_what_a_plant_usually_stays_within_is_no_matter_of_cutting(real_base: Base) -> None:
    """Sundrops, 1–2 ft and at most 3 ft, are not "ruined by cutting" to 3 ft: they are not cut for it."""
    (n,) = find("Oenothera fruticosa", real_base).plants
    told = keep(real_base, n, "height", 3 * FOOT)
    assert told.seldom
    assert not told.reasons
    assert keep(real_base, n, "height", FOOT).reasons == ("kind",)


@pytest.mark.parametrize(
    "words, said",
    [
        (
            ("once", "late winter", "", "ladder", "flower", "fruit"),
            "hold at 8–10 ft with one cut of about 24 in each late winter, from a ladder; "
            "that costs the year's flowers and the fruit",
        ),
        (
            ("twice", "summer", "green", "pole"),
            "hold at 8–10 ft with two cuts a year, about 24 in in all, with a long-reach cutter, never into bare wood",
        ),
        (
            ("once", "after flowering", "", "ground"),
            "hold at 8–10 ft with one cut of about 24 in a year, after flowering",
        ),
    ],
)
def test_holding_is_said_with_its_cost(words: tuple[str, ...], said: str) -> None:
    """Cut, time, reach and what it takes, in one clause."""
    advice = Advice("hold", (8 * FOOT, 10 * FOOT, 23.8 * FOOT / 12), words)
    assert advised(advice, "us") == said
