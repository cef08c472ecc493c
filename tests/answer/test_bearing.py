"""Sizes that a request means without asking for them move plants up and down the list, and none in or out of it."""

from __future__ import annotations

from typing import Any

import pytest

from askplant.answer.answer import Answer
from askplant.answer.bearing import hiding, outgrowing, small_bound, to_hide
from askplant.answer.compose import answer
from askplant.quantities.lengths import FOOT
from askplant.reading.reading import Condition, Hidden, Reading

from ..verdicts.conditions import any_of, size
from ..verdicts.invented import InventedBase, feet

SCREEN: dict[str, Any] = {
    "kind": ["shrub"], "persistence": ["evergreen"], "density": ["dense"], "uses": ["screen"], "light": ["full sun"],
}  # fmt: skip
UNIT = Hidden("a box", 4 * FOOT, (0, 5))
BASE = InventedBase(
    {
        "Alta alta": SCREEN | {"height_grown": feet(28, 32)},
        "Bassa bassa": SCREEN | {"height_grown": feet(1, 2)},
        "Giusta giusta": SCREEN | {"height_grown": feet(4, 6)},
    }
)


def names(base: InventedBase, found: Answer) -> list[str]:
    return [base.botanical[match.plant] for match in found.matches]


def test_what_is_as_tall_as_what_it_hides_comes_first() -> None:
    """A tree ten times as tall, and what is lower, still fit, behind it."""
    found = names(BASE, answer(Reading("hide it", (any_of("use", "screen"),), hides=UNIT), BASE))
    assert found[0] == "Giusta giusta"
    assert sorted(found) == sorted(BASE.botanical)
    unsaid = names(BASE, answer(Reading("hide it", (any_of("use", "screen"),)), BASE))
    assert unsaid[0] != "Giusta giusta"


@pytest.mark.parametrize("height, near", [(2, 0.5), (4, 1.0), (6, 1.0), (8, 1.0), (16, 0.5)])
def test_just_that_tall_to_twice_is_near(height: float, near: float) -> None:
    """Lower and taller hide it less well, or cost a view."""
    assert hiding(feet(height, height), 4 * FOOT) == pytest.approx(near)


def test_a_height_that_was_asked_counts_alone() -> None:
    """Then the caller has said what is wanted, and the thing to be hidden says no more."""
    assert to_hide(Reading("hide it", (any_of("use", "screen"),), hides=UNIT)) == UNIT.height
    assert to_hide(Reading("hide it", (size("height", "about", 8),), hides=UNIT)) is None


def test_a_small_tree_that_ends_as_a_forest_tree_falls_behind() -> None:
    """It fits, for it is small for as long as most gardens last."""
    tree: dict[str, Any] = {"kind": ["tree"], "height_grown": feet(20, 30), "light": ["full sun"]}
    old = {"Antica antica": feet(60, 100), "Minuta minuta": feet(30, 40)}
    base = InventedBase({name: tree | {"height_old": height} for name, height in old.items()})
    small = Condition("size", "any_of", ("small",), maximum=30 * FOOT, unit="m", basis="grown")
    assert names(base, answer(Reading("small", (small,)), base)) == ["Minuta minuta", "Antica antica"]
    assert names(base, answer(Reading("tree", (any_of("kind", "tree"),)), base))[0] == "Antica antica"
    assert small_bound((small,)) == pytest.approx(30 * FOOT)
    assert small_bound((any_of("kind", "tree"),)) is None
    assert outgrowing(None, 9.0) == outgrowing((9.0, 12.0), 9.0) == 0.0
    assert outgrowing((20.0, 27.0), 9.0) == 1.0
