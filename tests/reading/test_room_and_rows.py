"""Lengths that say how much there is to plant: the room across, a row's length, a place along it; and sizes of what is hidden."""

from __future__ import annotations

import pytest

from askplant.base.opened import Base
from askplant.quantities.lengths import FOOT
from askplant.reading.read import read
from tests.reading.told import meanings

ROOM = [
    ("narrow evergreen, only got 2 ft for width", "width at_most ..0.61"),
    ("evergreen shrub, the width is a problem, only got 4 ft", "width at_most ..1.22"),
    ("the width is really tight here, we have 3 ft", "width at_most ..0.91"),
    ("holly, only have 4 ft of width", "width at_most ..1.22"),
    ("shrub, I've got only 5 ft", "width at_most ..1.52"),
    ("a hedge, I have 3 ft", "width at_most ..0.91"),
    ("only have 8 ft of height", "height about 2.44..2.44"),
    ("shrubs for a bed, 20 feet to fill", "width at_most ..6.10"),
]


@pytest.mark.parametrize("said, meant", ROOM)
def test_what_somebody_only_has_is_room(said: str, meant: str, real_base: Base) -> None:
    """At most so wide, unless a height is said."""
    assert {one for one in meanings(read(said, real_base)) if one.split(" ")[0] in ("height", "width")} == {meant}


def test_a_width_without_a_number_is_not_dropped(real_base: Base) -> None:
    """What is said of the width is read or shown as not read."""
    found = read("a holly, the width matters", real_base)
    assert any("width" in one.text for one in found.unread)


RUNS = [
    ("I have 20 feet, need a hedge", 20),
    ("evergreen privacy screen, 20 feet to fill", 20),
    ("screen, 10 ft to fill", 10),
    ("hedge, zone 6, we only have 15 ft", 15),
    ("mixed screen 80 ft zone 7", 80),
]


@pytest.mark.parametrize("said, feet", RUNS)
def test_of_a_row_it_is_the_length(said: str, feet: float, real_base: Base) -> None:
    """Where a hedge or screen is asked and no other run is said."""
    found = read(said, real_base)
    assert found.task.run == pytest.approx(feet * FOOT)
    assert not {one for one in meanings(found) if one.split(" ")[0] in ("height", "width")}


def test_with_a_run_it_is_not_another(real_base: Base) -> None:
    """The run that is said as one stays."""
    found = read("60 ft long hedge, I have 15 feet", real_base)
    assert found.task.run == pytest.approx(60 * FOOT)
    assert "width at_most ..4.57" in meanings(found)


@pytest.mark.parametrize("said", [
    "screen 60 ft long, a view spot at 20 ft", "60 feet of screen, view spot at 20 ft", "hedge 60 ft, the window is at 20 ft",
    "the window is at 20 ft, hedge 60 ft", "screen 60 ft long, worst spot is at 20 ft",
])  # fmt: skip
def test_a_spot_along_the_row(said: str, real_base: Base) -> None:
    """A window or a view at so many feet is a place along the row, and no size."""
    found = read(said, real_base)
    assert (found.task.run, found.task.spot) == (pytest.approx(60 * FOOT), pytest.approx(20 * FOOT))
    assert not {one for one in meanings(found) if one.split(" ")[0] in ("height", "width")}
    assert not found.unread


@pytest.mark.parametrize("said", ["hedge 60 ft, the window is at 4 ft", "a shrub, the window is at 20 ft"])
def test_a_window_that_is_no_spot(said: str, real_base: Base) -> None:
    """How high it lies, or without a row: shown as not read."""
    found = read(said, real_base)
    assert found.task.spot is None
    assert [one.text for one in found.unread] == [said[said.index("window") :]]


def test_a_bound_before_a_window_is_the_plants(real_base: Base) -> None:
    """`Below the window that is at 4 ft` bounds the height."""
    assert meanings(read("stay below the window that is at 4 ft", real_base)) == {"height at_most ..1.22"}


@pytest.mark.parametrize("use", ["screen", "hedge", "border"])
def test_mixed_and_for_what(use: str, real_base: Base) -> None:
    """A mixed screen is a mixture and a screen."""
    found = read(f"a mixed {use}", real_base)
    assert found.task.mixed
    assert meanings(found) == {f"use any_of {use}"}


OWN = [
    ("hide an ac unit, 4 ft", 4),
    ("screen the AC unit which is 4 ft high", 4),
    ("hide the heat pump, about 3 ft tall", 3),
    ("hide the shed which is 8 ft high", 8),
    ("hide a propane tank, 4 ft high", 4),
]


@pytest.mark.parametrize("said, feet", OWN)
def test_the_size_of_what_is_hidden(said: str, feet: float, real_base: Base) -> None:
    """It asks no height of the plant, and is told of the screen."""
    found = read(said, real_base)
    assert meanings(found) == {"use any_of screen"}
    assert found.hides is not None
    assert found.hides.height == pytest.approx(feet * FOOT)
    assert any(one.note and f"{feet} ft" in one.note for one in found.conditions)


@pytest.mark.parametrize("said", [
    "privacy screen that is 8 ft tall", "evergreen 8 ft to hide the ac unit", "hide the ac unit with something 8 ft tall",
    "a shrub by the ac unit, 8 ft",
])  # fmt: skip
def test_the_size_of_what_hides(said: str, real_base: Base) -> None:
    """A length that is told of the plants stays theirs."""
    assert "height about 2.44..2.44" in meanings(read(said, real_base))
