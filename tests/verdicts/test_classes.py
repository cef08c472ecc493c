"""Words without an order, uses, burdens, safety and origin."""

from __future__ import annotations

from typing import Any

import pytest

from askplant.quantities.lengths import FOOT
from askplant.verdicts.judge import judge
from askplant.verdicts.uses import WIRES_MOST, WIRES_SOME
from askplant.verdicts.verdict import Site

from .conditions import any_of, none_of
from .invented import feet

PLAIN = Site()
IN_OHIO = Site(place="OH")


@pytest.mark.parametrize(
    ("trait", "asked", "value", "verdict"),
    [
        ("persistence", ["evergreen"], [["evergreen"]], "meets"),
        ("persistence", ["evergreen"], [["semi-evergreen"]], "with care"),
        ("persistence", ["evergreen"], [["deciduous"]], "misses"),
        ("persistence", ["evergreen", "semi-evergreen"], [["semi-evergreen"]], "meets"),
        ("group", ["conifer"], [["conifer"], ["evergreen"]], "meets"),
        ("group", ["conifer"], [None, ["deciduous"]], "misses"),
        ("group", ["conifer"], [None, ["evergreen"]], "unknown"),
        ("fall_colour", ["any"], [["red"], ["deciduous"]], "meets"),
        ("fall_colour", ["any"], [["none"], ["deciduous"]], "misses"),
        ("fall_colour", ["red"], [None, ["evergreen"]], "misses"),
        ("fall_colour", ["red"], [None, ["deciduous"]], "unknown"),
        ("flower", ["none"], [["inconspicuous"]], "meets"),
        ("flower_colour", ["white"], [["white", "pink"], ["showy"]], "meets"),
        ("flower_colour", ["white"], [None, ["none"]], "misses"),
        ("fruit", ["none"], [["inconspicuous"]], "meets"),
        ("fruit", ["none"], [["messy"]], "misses"),
        ("fruit", ["edible", "none"], [["edible", "messy"]], "meets"),
        ("pollination", ["self-fruitful"], [["dioecious, female"]], "with care"),
        ("pollination", ["self-fruitful"], [["dioecious, male"]], "misses"),
        ("soil", ["clay"], [["loam"]], "with care"),
        ("soil", ["clay"], [["sand"]], "misses"),
        ("bloom", [6], [[5, 6], ["showy"]], "meets"),
        ("bloom", ["winter"], [[2, 3], ["showy"]], "meets"),
        ("bloom", [8], [[6, 7], ["showy"]], "with care"),
        ("bloom", [12], [[1], ["showy"]], "with care"),
        ("bloom", [6], [None, ["none"]], "misses"),
        ("winter_interest", ["yes"], [None, ["evergreen"]], "meets"),
        ("winter_interest", ["yes"], ["no", ["evergreen"]], "misses"),
        ("litter", ["low"], [None, ["messy"]], "misses"),
        ("pests", ["low"], ["few, mildew when dry"], "meets"),
        ("pests", ["low"], ["leaf spot, aphids"], "with care"),
        ("pests", ["low"], ["fire blight, scab"], "misses"),
        ("pests", ["low"], ["resists Dutch elm disease and wilt; leaf miner"], "with care"),
    ],
)
def test_words(trait: str, asked: list[Any], value: list[Any], verdict: str) -> None:
    """The words asked for, and those that will do with care."""
    assert judge(any_of(trait, *asked), value, PLAIN).verdict == verdict


def test_what_a_plant_mainly_is_counts_for_more() -> None:
    """A tree that is also grown as a shrub is a shrub only just; of a shrub somebody has to make a tree."""
    mainly, also = (judge(any_of("kind", "shrub"), [kinds], PLAIN) for kinds in (["shrub", "tree"], ["tree", "shrub"]))
    assert mainly.verdict == also.verdict == "meets"
    assert mainly.margin > also.margin
    trained = judge(any_of("kind", "tree"), [["shrub", "tree"]], PLAIN)
    assert (trained.verdict, trained.how and trained.how.code) == ("with care", "kind.tree")
    assert judge(any_of("kind", "tree", "shrub"), [["shrub", "tree"]], PLAIN).verdict == "meets"
    assert judge(any_of("kind", "tree"), [["tree", "shrub"]], PLAIN).verdict == "meets"


def test_what_flowers_in_other_colours_too_is_white_with_less_ease() -> None:
    """A tree that is white here and there is a white one only just."""
    white = any_of("flower_colour", "white")
    pure, mixed = (judge(white, [has, ["showy"]], PLAIN) for has in (["white"], ["pink", "purple", "white"]))
    assert pure.verdict == mixed.verdict == "meets"
    assert pure.margin > mixed.margin


@pytest.mark.parametrize(
    "asked, blooms, verdict",
    [
        (["spring", "summer", "fall"], [5, 6, 7, 8, 9], "meets"),
        (["spring", "summer", "fall"], [6, 7, 8], "meets"),
        (["spring", "summer", "fall"], [5, 6], "with care"),
        (["spring", "summer", "fall", "winter"], [5, 6, 7], "with care"),
        (["spring", "summer", "fall", "winter"], [4, 5, 6, 7], "meets"),
        (["spring", "summer"], [5], "meets"),  # either will do
        (["spring", "summer", "fall"], [1], "misses"),
    ],
)
def test_who_asks_for_three_seasons_wants_a_long_bloom(asked: list[str], blooms: list[int], verdict: str) -> None:
    """A fortnight of flowers is no bloom all year."""
    assert judge(any_of("bloom", *asked), [blooms, ["showy"]], PLAIN).verdict == verdict


def test_not_wanted_is_the_other_way_round() -> None:
    """What has the form misses, what has not meets, what is unknown stays unknown."""
    not_conical = none_of("form", "pyramidal")
    assert judge(not_conical, [["pyramidal", "upright"], None, None], PLAIN).verdict == "misses"
    assert judge(not_conical, [["upright"], None, None], PLAIN).verdict == "meets"
    assert judge(not_conical, [None, None, None], PLAIN).verdict == "unknown"


@pytest.mark.parametrize(
    ("asked", "forms", "height", "width", "verdict"),
    [
        ("narrow", ["upright"], feet(10, 14), feet(4, 6), "meets"),
        ("narrow", ["upright"], feet(10, 14), feet(7, 8), "with care"),
        ("narrow", ["upright"], feet(10, 14), feet(9, 10), "misses"),
        ("narrow", ["rounded"], feet(10, 14), feet(4, 6), "misses"),
        ("narrow", ["columnar"], None, None, "meets"),
        ("narrow", ["pyramidal"], None, None, "unknown"),
        ("columnar", ["upright"], feet(10, 14), feet(3, 4), "meets"),
        ("columnar", ["upright"], feet(10, 14), feet(5, 6), "with care"),
        ("rounded", ["mounded"], None, None, "with care"),
        ("upright", ["columnar"], None, None, "meets"),
    ],
)
def test_narrow_is_half_as_wide_as_high_and_columnar_a_third(
    asked: str, forms: list[str], height: list[float] | None, width: list[float] | None, verdict: str
) -> None:
    """Meaning of the trait form: columnar at least three times as high as wide, narrow at most half as wide as high."""
    assert judge(any_of("form", asked), [forms, height, width], PLAIN).verdict == verdict


def used(uses: list[str] | None, low: float, high: float, kind: str = "shrub", **more: Any) -> list[Any]:
    value = {"uses": uses, "height": feet(low, high), "persistence": ["evergreen"], "density": ["dense"]}
    return list((value | {"kind": [kind], "roots": None} | more).values())


@pytest.mark.parametrize(
    ("asked", "value", "verdict"),
    [
        ("screen", used(["screen"], 8, 12), "meets"),
        ("screen", used(["border"], 8, 12), "meets"),
        ("screen", used(["border"], 8, 12, persistence=["deciduous"]), "with care"),
        ("screen", used(["border"], 2, 3), "with care"),
        ("screen", used(["border"], 1, 1.5), "misses"),
        ("screen", used(["border"], 2, 3, density=["open"]), "misses"),
        ("screen", used(["screen"], 3, 4), "with care"),
        ("hedge", used(["border"], 4, 6), "with care"),
        ("hedge", used(["border"], 4, 6, density=["open"]), "misses"),
        ("foundation", used(["border"], 3, 5), "meets"),
        ("foundation", used(["border"], 20, 30, kind="tree"), "misses"),
        ("shade", used(["street"], 40, 60, kind="tree"), "meets"),
        ("shade", used(["border"], 15, 20, kind="tree"), "with care"),
        ("shade", used(["screen"], 40, 60, kind="tree", form=["columnar"]), "misses"),
        ("shade", used(["screen"], 40, 60, kind="tree", form=["pyramidal"]), "with care"),
        ("screen", used(["screen"], 10, 20, kind="vine"), "with care"),
        ("trellis", used(None, 10, 20, kind="vine"), "meets"),
        ("rain garden", used(["border"], 3, 5), "misses"),
        ("rain garden", used(None, 3, 5), "unknown"),
        ("under wires", used(None, 15, 20, kind="tree"), "meets"),
        ("under wires", used(None, 15, 25, kind="tree"), "with care"),
        ("under wires", used(None, 30, 40, kind="tree"), "misses"),
        ("poolside", used(["border"], 3, 5, roots=["aggressive"]), "misses"),
    ],
)
def test_a_use_is_stated_or_follows_from_size_and_habit(asked: str, value: list[Any], verdict: str) -> None:
    """What the card does not state is derived where size and habit leave little doubt."""
    assert judge(any_of("use", asked), value, PLAIN).verdict == verdict


def test_bounds_under_wires_are_the_published_ones() -> None:
    """Mature height to 20 ft (Berkeley Electric) or to 25 ft (Vermont Urban and Community Forestry) under wires."""
    assert (WIRES_MOST / FOOT, WIRES_SOME / FOOT) == (20, 25)


@pytest.mark.parametrize(
    ("asked", "value", "verdict"),
    [
        (["dogs"], [[["none known", "", ""]], None], "meets"),
        (["dogs"], [[["dogs", "mild", "berries"]], None], "misses"),
        (["cats"], [[["dogs", "mild", "berries"]], None], "unknown"),
        (["dogs", "cats"], [[["dogs", "none known", ""], ["cats", "mild", "leaves"]], None], "misses"),
        (["dogs"], [[["dogs", "none known", ""], ["cats", "mild", "leaves"]], None], "meets"),
        (["children"], [[["people", "serious", "seeds"]], None], "misses"),
        (["children"], [[["none known", "", ""]], ["present"]], "with care"),
        (["horses"], [[["livestock", "serious", "leaves"]], None], "misses"),
        (["dogs"], [None, None], "unknown"),
    ],
)
def test_safe_means_safe_for_each_one_named(asked: list[str], value: list[Any], verdict: str) -> None:
    """Poison to people counts for children, to livestock for horses; what no list says is unknown."""
    assert judge(any_of("safe_for", *asked), value, PLAIN).verdict == verdict


@pytest.mark.parametrize(
    ("asked", "site", "codes", "verdict"),
    [
        ("OH", PLAIN, ["OH", "PA"], "meets"),
        ("OH", PLAIN, ["GA"], "misses"),
        ("OH", PLAIN, ["75"], "meets"),
        ("yes", IN_OHIO, ["GA"], "misses"),
        ("yes", PLAIN, ["GA"], "meets"),
        ("yes", PLAIN, ["38"], "misses"),
        ("yes", Site(place="43201"), ["GA"], "meets"),
        ("78", PLAIN, ["GA"], "meets"),
    ],
)
def test_native_to_the_place_that_was_said(asked: str, site: Site, codes: list[str], verdict: str) -> None:
    """Regions by the World Geographical Scheme for Recording Plant Distributions: Ohio lies in 75, Georgia in 78."""
    assert judge(any_of("native", asked), [codes], site).verdict == verdict


@pytest.mark.parametrize(
    ("site", "value", "verdict"),
    [
        (PLAIN, ["no", None], "meets"),
        (PLAIN, ["NY, MA: banned", None], "misses"),
        (IN_OHIO, ["NY, MA: banned", None], "with care"),
        (Site(place="NY"), ["NY, MA: banned", None], "misses"),
        (PLAIN, ["no", "many"], "misses"),
        (PLAIN, ["no", "some"], "with care"),
        (PLAIN, [None, None], "unknown"),
    ],
)
def test_invasive_where_it_is_listed(site: Site, value: list[Any], verdict: str) -> None:
    """Listed here misses, listed elsewhere asks for a word with the extension office."""
    assert judge(any_of("invasive", "no"), value, site).verdict == verdict


@pytest.mark.parametrize(
    ("value", "verdict"),
    [
        (["few", "low", "slow", "tolerant", "no"], "meets"),
        (["leaf spot", "low", "fast", "tolerant", "no"], "with care"),
        (["fire blight", "high", "slow", None, None], "misses"),
        ([None, None, None, None, None], "unknown"),
        (["few", None, None, None, None], "unknown"),
    ],
)
def test_low_care_is_fewer_than_two_burdens(value: list[Any], verdict: str) -> None:
    """One burden is looked after, two are care, and a card that says next to nothing is no low care."""
    assert judge(any_of("care", "low"), value, PLAIN).verdict == verdict


@pytest.mark.parametrize("use, low, tall", [("bank", 2, 10), ("ground cover", 1, 5)])
def test_what_covers_the_ground_does_so_while_it_is_low(use: str, low: float, tall: float) -> None:
    """Both are planted for it, and the low one is the better cover."""
    covers, stands = (judge(any_of("use", use), used([use], high, high), PLAIN) for high in (low, tall))
    assert covers.verdict == stands.verdict == "meets"
    assert covers.margin > stands.margin


def test_along_a_house_stand_shrubs() -> None:
    """A fern fills in between them."""
    shrub, fern = (
        judge(any_of("use", "foundation"), used(["foundation"], 2, 3, kind=kind), PLAIN) for kind in ("shrub", "fern")
    )
    assert shrub.verdict == fern.verdict == "meets"
    assert shrub.margin > fern.margin
