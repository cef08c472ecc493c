"""Words whose meaning hangs on what was told before them: sizes of things, refusals, deaths, the same look, they and them."""

from __future__ import annotations

import pytest

from askplant.base.opened import Base
from askplant.reading.read import read
from tests.reading.told import meanings

SIZES = [
    ("hide the utility box by the drive, 3 ft tall", set()),
    ("the utility box by the drive, 3 ft tall, needs hiding", set()),
    ("our electric box is an eyesore, 4 ft by 4 ft and about 3 ft high", set()),
    ("Which evergreens hide the boat trailer? It's about 8 feet tall", set()),
    ("we have a retaining wall 4 feet high", set()),
    ("I'm 5'2\" and want to see over it", set()),
    ("the deer ate our arborvitae up to five feet", set()),
    ("an evergreen by a path, waist high", {"height about 0.91..0.91"}),
    ("it grows to the height of the eaves, about 4 metres", {"height about 4.00..4.00"}),
    ("a square bed in full sun, 10 by 10", {"width at_most ..3.05"}),
    ("a perennial for the back of a border, 5 ft or more", {"height at_least 1.52.."}),
    ("it can't get more than 30 inches out from the wall", {"width at_most ..0.76"}),
    ("shrubs, none taller than 6 feet", {"height at_most ..1.83"}),
    ("between one and three feet", {"height within 0.30..0.91"}),
]


@pytest.mark.parametrize("said, meant", SIZES)
def test_a_size_is_the_plants_only_where_it_is_told_of_it(real_base: Base, said: str, meant: set[str]) -> None:
    """Sizes of things, callers and old plants ask nothing of the plant."""
    assert {told for told in meanings(read(said, real_base)) if told.split(" ")[0] in ("height", "width")} == meant


LIGHT = [
    ("hostas can't take full sun", set()),
    ("it scorches in full sun", set()),
    ("a shrub that won't scorch in full sun", {"light any_of full sun"}),
    ("a fern with no full sun", {"light any_of part sun part shade full shade"}),
    ("nothing that can't handle the heat", {"heat any_of tolerant"}),
]


@pytest.mark.parametrize("said, meant", LIGHT)
def test_what_a_plant_cannot_take_is_no_wish_for_it(real_base: Base, said: str, meant: set[str]) -> None:
    """A refusal told of a plant asks nothing; one that is refused itself asks for the thing."""
    assert {told for told in meanings(read(said, real_base)) if told.split(" ")[0] in ("light", "heat")} == meant


GRAZERS = [
    ("Rabbits are the plague here, something that they leave alone", {"rabbit at_least rarely damaged"}),
    ("Deer come through, something that they leave alone", {"deer at_least rarely damaged"}),
    (
        "Deer and rabbits both come here. Something that they leave alone",
        {"deer at_least rarely damaged", "rabbit at_least rarely damaged"},
    ),
]


@pytest.mark.parametrize("said, meant", GRAZERS)
def test_they_are_the_animals_that_were_named(real_base: Base, said: str, meant: set[str]) -> None:
    """`They` means deer only where no others were named."""
    assert meanings(read(said, real_base)) == meant


NO = [
    ("something that won't sucker or flop", {"suckers any_of no", "form any_of upright"}),
    ("won't get mildew or drop berries", {"pests any_of low", "litter any_of low"}),
    ("no balls, pods, nuts or berries", {"litter any_of low", "fruit any_of none"}),
    ("an oak but not a black walnut", {"taxon any_of oak", "taxon none_of black walnut"}),
]


@pytest.mark.parametrize("said, meant", NO)
def test_a_negation_holds_for_its_whole_list(real_base: Base, said: str, meant: set[str]) -> None:
    """What is refused with `or` is refused altogether: no alternatives."""
    found = read(said, real_base)
    assert meanings(found) == meant
    assert {condition.either for condition in found.conditions} == {None}


PLANTS = [
    (
        "We had a daphne. Everyone loved it and it bloomed, then last winter it died.",
        "taxon none_of Daphne wish",
        "died",
    ),
    ("We saw a smokebush at the park. We moved. Something like that but smaller", "like any_of smokebush wish", None),
    ("I love lilacs but it is too hot here. What gives the same scent?", "like any_of lilac wish", None),
    ("Does anyone carry a dwarf form of sweetgum?", "like any_of Liquidambar styraciflua wish", None),
    ("A replacement for dead inkberries along the front walk of our house", "taxon none_of Ilex glabra wish", "died"),
    ("We have too much Asiatic jasmine, so please not that", "taxon none_of Trachelospermum asiaticum", None),
]


@pytest.mark.parametrize("said, condition, role", PLANTS)
def test_words_reach_the_plant_they_speak_of(real_base: Base, said: str, condition: str, role: str | None) -> None:
    """Though sentences stand between."""
    found = read(said, real_base)
    assert condition in meanings(found)
    assert next((mention.role for mention in found.named), None) == role


def test_what_would_do_too_is_no_condition(real_base: Base) -> None:
    """`Evergreen preferred but deciduous ok` wishes for evergreen and asks no more."""
    assert meanings(read("evergreen preferred but deciduous w/ good form ok", real_base)) == {
        "persistence any_of evergreen wish"
    }


def test_how_the_wanted_plant_differs_is_kept(real_base: Base) -> None:
    """Said before the plant or behind what points back to it."""
    for said in ("a dwarf form of sweetgum", "We saw a smokebush. Something like that but smaller"):
        assert [one.than for one in read(said, real_base).conditions if one.trait == "like"] == ["smaller"]


COLOURS = [
    ("a hydrangea, blue if possible", "flower_colour any_of blue wish"),
    ("an upright juniper, green not blue", "leaf_colour none_of blue"),
    ("a maple that turns orange, not red", "fall_colour none_of red"),
]


@pytest.mark.parametrize("said, meant", COLOURS)
def test_a_bare_colour_is_that_of_the_plant_asked_for(real_base: Base, said: str, meant: str) -> None:
    """Flowers of a hydrangea, leaves of a juniper, and what a colour before it was the colour of."""
    assert meant in meanings(read(said, real_base))


def test_a_town_is_no_cultivar(real_base: Base) -> None:
    """`Buffalo` and `Baton Rouge` are cultivar epithets too."""
    for said in ("Our school in Buffalo needs shrubs", "It is hot here (Baton Rouge, 9a), which shrubs?"):
        assert not read(said, real_base).named
        assert not any(condition.trait in ("taxon", "like") for condition in read(said, real_base).conditions)


TAILS = [
    ("evergreen shrub, upright, I think", "form", "wish"),
    ("shrub with pink flowers, I hope", "flower_colour", "wish"),
    ("I hope it stays small, a shrub", "size", "wish"),
    ("shrub, zone 7 I think", "zone", "must"),
    ("shrub for soil that is dry, I guess", "moisture", "must"),
    ("a tree, we'd prefer white or pink bloom", "flower_colour", "wish"),
]


@pytest.mark.parametrize("said, trait, strength", TAILS)
def test_what_is_only_thought_is_a_wish_of_the_plant(real_base: Base, said: str, trait: str, strength: str) -> None:
    """A tentative tail softens what is asked of the plant, and not what is told of the site."""
    assert [found.strength for found in read(said, real_base).conditions if found.trait == trait] == [strength]


PLACES = [
    ("ferns for a dark, damp corner", "light any_of full shade", True),
    ("a shrub with a dark, glossy leaf", "light any_of full shade", False),
    ("Screen for zone 6. Quick and tall, evergreen", "size any_of large", True),
    ("a shrub 5 ft high and wide", "size any_of large", False),
    ("a hedge clipped to 18 inches", "shearing any_of yes", True),
    ("a hedge kept at 18 inches", "shearing any_of yes", False),
    ("something evergreen instead of boxwood because of the blight", "taxon none_of Buxus sempervirens", True),
    ("something evergreen instead of the boxwood by the gate", "taxon none_of Buxus sempervirens", False),
    ("an evergreen in place of our dying arborvitae", "taxon any_of arborvitae", False),
    ("Perennials for a damp bed. The ferns are happy there", "kind any_of perennial fern", False),
]


@pytest.mark.parametrize("said, condition, there", PLACES)
def test_a_word_means_what_stands_around_it(real_base: Base, said: str, condition: str, there: bool) -> None:
    """A row of adjectives, a word of growth, a bare name or an owner decide what a word says."""
    assert any(told.startswith(condition) for told in meanings(read(said, real_base))) == there
