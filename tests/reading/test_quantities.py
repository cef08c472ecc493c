"""Every way of saying a length, zone, temperature, hour or month that the grammar knows."""

from __future__ import annotations

import pytest

from askplant.base.opened import Base
from askplant.reading.read import read
from tests.reading.told import meanings

SAID = [
    ("10'", "height about 3.05..3.05"),
    ("10ft", "height about 3.05..3.05"),
    ("10 ft", "height about 3.05..3.05"),
    ("10 feet", "height about 3.05..3.05"),
    ("ten feet tall", "height about 3.05..3.05"),
    ("5'6\"", "height about 1.68..1.68"),
    ("5 ft 6 in tall", "height about 1.68..1.68"),
    ("1.5 m", "height about 1.50..1.50"),
    ("150 cm", "height about 1.50..1.50"),
    ("1,5 m high", "height about 1.50..1.50"),
    ("half a metre tall", "height about 0.50..0.50"),
    ("10-15 ft", "height within 3.05..4.57"),
    ("10–15 ft", "height within 3.05..4.57"),
    ("10 to 15 ft", "height within 3.05..4.57"),
    ("between 10 and 15 feet", "height within 3.05..4.57"),
    ("10' to 15' tall", "height within 3.05..4.57"),
    ("8+ ft", "height at_least 2.44.."),
    ("8 ft or more", "height at_least 2.44.."),
    ("at least 8 ft", "height at_least 2.44.."),
    ("under 8 ft", "height at_most ..2.44"),
    ("up to 8 ft", "height at_most ..2.44"),
    ("no more than 8 ft", "height at_most ..2.44"),
    ("no taller than 8 ft", "height at_most ..2.44"),
    ("8 ft max", "height at_most ..2.44"),
    ("max 8 ft", "height at_most ..2.44"),
    ("about 8 ft", "height about 2.44..2.44"),
    ("over 8 ft", "height at_least 2.44.."),
    ("no wider than 3'", "width at_most ..0.91"),
    ("a bed 3 ft deep", "width at_most ..0.91"),
    ("the strip is only 2 feet wide", "width at_most ..0.61"),
    ("18 inches tall", "height about 0.46..0.46"),
    ("6½ ft", "height about 1.98..1.98"),
    ("6 1/2 ft tall", "height about 1.98..1.98"),
    ("zone 7", "zone any_of 7a 7b"),
    ("7b", "zone any_of 7b"),
    ("z5", "zone any_of 5a 5b"),
    ("zone 7a", "zone any_of 7a"),
    ("USDA 6", "zone any_of 6a 6b"),
    ("zones 6–8", "zone any_of 6a 6b 7a 7b 8a 8b"),
    ("zone 6 or 7", "zone any_of 6a 6b 7a 7b"),
    ("winters down to -10 °F", "zone any_of 6a"),
    ("down to −10 degrees", "zone any_of 6a"),
    ("-25 °C", "zone any_of 5b"),
    ("minus 10 F", "zone any_of 6a"),
    ("RHS H4", "zone any_of 8b 9a"),
    ("6+ hours of sun", "light any_of full sun"),
    ("3 hours of sun", "light any_of part shade full shade"),
    ("5 hours of direct sun", "light any_of part sun"),
    ("blooms in June", "bloom any_of 6"),
    ("flowers from May to August", "bloom any_of 5 6 7 8"),
    ("winter blooming", "bloom any_of winter"),
    ("pH 7.5", "ph about 7.50..7.50"),
    ("pH 5.5-6.5", "ph within 5.50..6.50"),
]


@pytest.mark.parametrize("said, meant", SAID)
def test_one_quantity_is_read_as_meant(real_base: Base, said: str, meant: str) -> None:
    """Each wording gives just the one condition."""
    assert meanings(read(f"evergreen, {said}", real_base)) - {"persistence any_of evergreen"} == {meant}


def test_two_dimensions_are_height_and_width(real_base: Base) -> None:
    """10x4 and its spellings are a height by a width."""
    for said in ("10x4", "10 x 4 ft", "10' x 4'", "10' tall by 4' wide", "10 ft high and 4 ft wide"):
        assert meanings(read(said, real_base)) == {"height about 3.05..3.05", "width about 1.22..1.22"}, said


@pytest.mark.parametrize(
    "said, basis",
    [("kept at 6 ft", "held"), ("can be kept at 6 ft", "held"), ("labelled 6 ft", "label"), ("6 ft tall", "grown")],
)
def test_the_basis_of_a_size_is_told(real_base: Base, said: str, basis: str) -> None:
    """Held, label and grown sizes are not mixed up."""
    (condition,) = read(said, real_base).conditions
    assert condition.basis == basis


@pytest.mark.parametrize(
    "story",
    [
        "at 3,000 ft elevation",
        "on a 4 acre parcel",
        "the house is 40 years old",
        "about 6 feet from the fence",
        "my 6 ft fence",
        "we get 14 inches of rain",
        "budget of $200",
        "a five gallon pot",
    ],
)
def test_other_numbers_make_no_size(real_base: Base, story: str) -> None:
    """A number of something else is never a plant's height or width."""
    reading = read(f"evergreen, {story}", real_base)
    assert not [condition for condition in reading.conditions if condition.trait in ("height", "width")]


def test_task_facts(real_base: Base) -> None:
    """Runs, years and counts are the task's, not the plants'."""
    assert read("60 ft long hedge", real_base).task.run == pytest.approx(18.288)
    assert read("privacy screen for 100 feet of fence", real_base).task.run == pytest.approx(30.48)
    reading = read("8 ft in 4 years", real_base)
    assert reading.task.by_year == 4
    assert meanings(reading) == {"height about 2.44..2.44"}
    assert read("top 5 evergreen shrubs", real_base).task.count == 5


@pytest.mark.parametrize("text", ["Our lot sits at 5280 ft", "we are at 7,000 feet", "1600 m up the mountain"])
def test_an_elevation_is_no_run_and_no_size(real_base: Base, text: str) -> None:
    """How high a place lies says nothing of a row or a plant."""
    found = read(f"{text}, a shrub", real_base)
    assert found.task.run is None
    assert not {"height", "width"} & {condition.trait for condition in found.conditions}


def test_a_long_bare_length_is_a_run(real_base: Base) -> None:
    """No plant is 200 ft high; a row is that long."""
    assert read("200 ft screen", real_base).task.run == pytest.approx(60.96)


SAID = {
    "over 6 ft but under 10": "height within 1.83..3.05",
    "over 3 ft and under 5": "height within 0.91..1.52",
    "10 ft tall and no more than 4 ft wide": "width at_most ..1.22",
    "something that is not higher than 4 ft": "height at_most ..1.22",
    'no taller than the picket fence (48")': "height at_most ..1.22",
    "6 ft tall and about half that across": "width about 0.91..0.91",
    "it has to stay thin, 18 in. or less": "width at_most ..0.46",
    "between the drive and a wall 4 feet apart": "width at_most ..1.22",
}


@pytest.mark.parametrize("text, meant", SAID.items())
def test_bounds_and_room(real_base: Base, text: str, meant: str) -> None:
    """Two bounds, things to stay below, widths said by the height, gaps."""
    assert meant in meanings(read(text, real_base))


@pytest.mark.parametrize(
    "text", ["my lot is 100 ft by 150 ft", "the house is 40 feet tall", "we lost a 20 ft arborvitae"]
)
def test_sizes_of_other_things(real_base: Base, text: str) -> None:
    """A lot, a house and a plant that is gone have sizes that nobody asks for."""
    assert not {"height", "width"} & {one.trait for one in read(f"{text}, a shrub", real_base).conditions}
