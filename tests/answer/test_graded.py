"""Grades of a trait say what they are grades of."""

from __future__ import annotations

import pytest

from askplant.quantities.lengths import FOOT
from askplant.render.facts import stated
from askplant.render.plan_text import _number
from askplant.render.sided import fact
from askplant.verdicts.verdict import words


@pytest.mark.parametrize(
    "trait, value, said",
    [
        ("fruit", "showy", "showy fruit"),
        ("fruit", "none", "no fruit"),
        ("litter", "messy fruit", "messy fruit"),
        ("flower", "inconspicuous", "inconspicuous flowers"),
        ("persistence", "evergreen", "evergreen"),
        (None, "showy", "showy"),
    ],
)
def test_a_grade_comes_with_its_noun(trait: str | None, value: str, said: str) -> None:
    """So that "misses showy" is never said of what has fruit to clean up."""
    assert stated(words(value), "us", trait) == said


@pytest.mark.parametrize(
    "trait, value, said",
    [
        ("shearing", "light", "takes light shearing"),
        ("old_wood", "yes", "sprouts from old wood"),
        ("old_wood", "no", "does not sprout from old wood"),
    ],
)
def test_sides_are_said_in_plain_words(trait: str, value: str, said: str) -> None:
    """As one says it on the telephone."""
    row = {"trait": trait, "value": value, "note": None, "source": "dirr-manual"}
    assert fact(trait, [row], "us")[1] == said


def test_sizes_under_a_foot_are_inches() -> None:
    """Whole feet would make nothing of them."""
    assert _number(0.4 * FOOT, "us").endswith(" in")
    assert _number(2 * FOOT, "us") == "2"
    assert _number(0.2, "metric") == "0.2"
