"""Classes in order: what meets, what will do with care, what misses."""

from __future__ import annotations

from typing import Any

import pytest

from askplant.verdicts.ground import LIGHT
from askplant.verdicts.judge import judge
from askplant.verdicts.scales import BROWSED, GRADES
from askplant.verdicts.verdict import Site

from .conditions import any_of, at_least, none_of

PLAIN = Site()
INCH = 0.0254


@pytest.mark.parametrize(("trait", "asked"), GRADES)
def test_each_grade_runs_from_meets_to_misses(trait: str, asked: str) -> None:
    """The class asked for meets, the far end misses, and what is not known is unknown."""
    grades = GRADES[trait, asked]
    found = {grade: judge(any_of(trait, asked), [grade, None], PLAIN).verdict for grade in grades}
    assert found == grades
    assert "meets" in found.values()
    assert "misses" in found.values()
    assert judge(any_of(trait, asked), [None, None], PLAIN).verdict == "unknown"


@pytest.mark.parametrize(
    ("asked", "has", "verdict"),
    [
        ("rarely damaged", "rarely damaged", "meets"),
        ("rarely damaged", "seldom severely damaged", "with care"),
        ("rarely damaged", "occasionally severely damaged", "misses"),
        ("seldom severely damaged", "rarely damaged", "meets"),
        ("seldom severely damaged", "occasionally severely damaged", "with care"),
        ("seldom severely damaged", "frequently severely damaged", "misses"),
    ],
)
def test_one_class_short_of_deer_wants_a_fence(asked: str, has: str, verdict: str) -> None:
    """Classes C and D want a fence or repellent (Rutgers NJAES E271); the neighbour class is with care."""
    found = judge(at_least("deer", asked), [has], PLAIN)
    assert found.verdict == verdict
    assert (found.how is not None) == (verdict == "with care")


def test_deer_classes_stand_worst_first() -> None:
    """A rarely, B seldom severely, C occasionally severely, D frequently severely damaged (Rutgers NJAES E271)."""
    assert [one.split()[0] for one in reversed(BROWSED)] == ["rarely", "seldom", "occasionally", "frequently"]


@pytest.mark.parametrize(
    ("inches", "asked", "verdict"),
    [
        # Melinda Myers garden note on trees and shrubs: slow to 12 inches a year, medium 13 to 24, fast 25 and up.
        (12, "slow", "meets"),
        (13, "moderate", "meets"),
        (24, "moderate", "meets"),
        (25, "fast", "meets"),
        (24, "fast", "with care"),
        (12, "fast", "misses"),
        (25, "slow", "misses"),
    ],
)
def test_a_rate_alone_tells_the_class(inches: float, asked: str, verdict: str) -> None:
    """Where the card gives inches a year and no class."""
    assert judge(any_of("growth", asked), [None, [inches * INCH] * 2], PLAIN).verdict == verdict


def test_the_next_class_of_growth_is_with_care_and_not_the_one_beyond() -> None:
    """Fast wanted: moderate starts larger, slow misses; not fast: moderate meets."""
    assert judge(any_of("growth", "fast"), ["moderate", None], PLAIN).verdict == "with care"
    assert judge(any_of("growth", "fast"), ["slow", None], PLAIN).verdict == "misses"
    assert judge(none_of("growth", "fast"), ["moderate", None], PLAIN).verdict == "meets"
    assert judge(none_of("growth", "fast"), ["fast", None], PLAIN).verdict == "misses"
    assert judge(at_least("growth", "moderate"), ["fast", None], PLAIN).verdict == "meets"


# Least and most hours of direct sun, by publication.
HOURS = {
    "Penn State Extension, as quoted by floracrate.com": {
        "full sun": (6, 24),
        "part sun": (4, 6),
        "part shade": (2, 4),
        "full shade": (0, 2),
    },
    "Purple Potting Shed column 2014": {
        "full sun": (6, 24),
        "part sun": (4, 6),
        "part shade": (2, 4),
        "full shade": (0, 2),
    },
    "plant labels, 3 to 6 version (Gardening Express)": {
        "full sun": (6, 24),
        "part sun": (3, 6),
        "part shade": (3, 6),
        "full shade": (0, 3),
    },
    "Ashland (Oregon) Garden Club": {
        "full sun": (6, 24),
        "part sun": (3, 6),
        "part shade": (3, 4),
        "full shade": (0, 3),
    },
}


@pytest.mark.parametrize("publication", HOURS)
def test_light_classes_run_from_most_sun_to_least(publication: str) -> None:
    """However the hours are cut, the order of the classes is the same."""
    hours = [HOURS[publication][word] for word in LIGHT]
    assert hours == sorted(hours, reverse=True)


@pytest.mark.parametrize(
    ("asked", "has", "verdict", "code"),
    [
        (["part shade"], ["full sun", "part sun"], "with care", "light.darker"),
        (["part sun"], ["part shade", "full shade"], "with care", "light.brighter"),
        (["full shade"], ["full sun", "part sun"], "misses", None),
        (["full sun"], ["part shade"], "misses", None),
        (["part shade", "full shade"], ["part shade"], "meets", None),
        (["part shade", "full shade"], ["part sun"], "with care", "light.darker"),
    ],
)
def test_light_next_door_is_with_care(asked: list[str], has: list[str], verdict: str, code: str | None) -> None:
    """One class darker or brighter than the plant likes has its consequence; two are a miss."""
    found = judge(any_of("light", *asked), [has], PLAIN)
    assert found.verdict == verdict
    assert (found.how.code if found.how else None) == code


def test_what_likes_all_the_shade_that_is_asked_for_meets_it_with_more_ease() -> None:
    """A plant of sun that bears light shade is only just one for shade."""
    shade = any_of("light", "part shade", "full shade")
    of_shade, of_sun = (judge(shade, [has], PLAIN) for has in (["part shade", "full shade"], ["full sun", "part shade"]))
    assert of_shade.verdict == of_sun.verdict == "meets"
    assert of_shade.margin > of_sun.margin


@pytest.mark.parametrize(
    ("asked", "value", "verdict"),
    [
        ("wet", [["moist", "wet"], None], "meets"),
        ("wet", [["average", "moist"], None], "with care"),
        ("wet", [["average"], None], "misses"),
        ("dry", [None, "tolerant"], "meets"),
        ("dry", [["average"], "moderate"], "with care"),
        ("dry", [["moist"], "sensitive"], "misses"),
        ("average", [["moist"], None], "with care"),
        ("average", [None, None], "unknown"),
    ],
)
def test_moisture_next_door_is_with_care(asked: str, value: list[Any], verdict: str) -> None:
    """Dry ground may also be answered by drought tolerance."""
    assert judge(any_of("moisture", asked), value, PLAIN).verdict == verdict


@pytest.mark.parametrize(
    ("asked", "span", "verdict"),
    [
        # Classes of Soil Quality Indicators: pH, USDA NRCS, 1998: neutral 6.6-7.3, slightly alkaline 7.4-7.8.
        ("alkaline", [5.5, 7.5], "meets"),
        ("alkaline", [5.5, 7.0], "with care"),
        ("alkaline", [4.5, 6.0], "misses"),
        ("acid", [6.0, 7.5], "meets"),
        ("acid", [6.6, 8.0], "misses"),
        ("neutral", [5.0, 6.6], "meets"),
        (7.5, [6.0, 7.5], "meets"),
        (8.0, [6.0, 7.5], "with care"),
    ],
)
def test_acidity_by_class_or_number(asked: Any, span: list[float], verdict: str) -> None:
    """A bed is moved by half a unit, no more."""
    assert judge(any_of("ph", asked), [span], PLAIN).verdict == verdict
