"""Lists, negation, alternatives, strength, mentions, mends: what the words around a trait do to it."""

from __future__ import annotations

import pytest

from askplant.base.opened import Base
from askplant.reading.read import read
from tests.reading.told import meanings

LISTS = [
    (
        "evergreen, 10–15 ft, narrow, zone 7, deer-proof, part shade",
        {
            "persistence any_of evergreen",
            "height within 3.05..4.57",
            "form any_of narrow",
            "zone any_of 7a 7b",
            "deer at_least rarely damaged",
            "light any_of part shade",
        },
    ),
    ("no thorns or berries", {"thorns any_of none", "fruit any_of none"}),
    ("no thorns, evergreen", {"thorns any_of none", "persistence any_of evergreen"}),
    ("not holly, yew or boxwood", {"taxon none_of holly yew Buxus sempervirens"}),
    ("pink or white flowers", {"flower_colour any_of pink white"}),
    ("yellow or red fall color", {"fall_colour any_of yellow red"}),
    ("purple foliage", {"leaf_colour any_of purple"}),
    ("ideally fragrant", {"fragrance any_of yes wish"}),
    ("fragrant if possible", {"fragrance any_of yes wish"}),
    ("must be evergreen", {"persistence any_of evergreen"}),
    ("evergreen, would be nice if fragrant", {"persistence any_of evergreen", "fragrance any_of yes wish"}),
    ("without thorns", {"thorns any_of none"}),
    ("shrub or small tree", {"kind any_of shrub tree", "size any_of small"}),
    ("non-toxic for dogs", {"safe_for any_of dogs"}),
    ("under the power lines", {"use any_of under wires"}),
    ("blocks the neighbors", {"use any_of screen"}),
    ("goes up instead of out", {"form any_of narrow"}),
    ("heavy clay, soggy", {"soil any_of clay", "moisture any_of wet"}),
    ("like a Leyland cypress but narrower", {"like any_of × Hesperotropsis leylandii wish"}),
    (
        "flowers over the septic field",
        {"flower any_of showy", "roots any_of well-behaved", "kind none_of tree shrub vine palm bamboo wish"},
    ),
    ("perennials over the leach field", {"kind any_of perennial", "roots any_of well-behaved"}),
    ("a tree near the septic tank", {"kind any_of tree", "roots any_of well-behaved"}),
    ("shrubs for the desert", {"kind any_of shrub", "heat any_of tolerant", "drought any_of tolerant"}),
    ("a hedge along the ocean", {"use any_of hedge", "salt any_of tolerant"}),
    ("perennials for moist woodland", {"kind any_of perennial", "moisture any_of moist", "light any_of part shade full shade"}),
    ("a shrub with fragrant flowers", {"kind any_of shrub", "fragrance any_of yes", "flower any_of showy wish"}),
    ("narrow side yard 4 feet wide, evergreen", {"form any_of narrow", "width at_most ..1.22", "persistence any_of evergreen"}),
    ("a xeric shrub", {"drought any_of tolerant", "kind any_of shrub"}),
    ("a vine that blooms midsummer", {"kind any_of vine", "bloom any_of summer"}),
]


@pytest.mark.parametrize("said, meant", LISTS)
def test_a_request_means_just_this(real_base: Base, said: str, meant: set[str]) -> None:
    """Each wording gives these conditions and no other."""
    assert meanings(read(said, real_base)) == meant


def test_alternatives_of_different_traits_share_a_number(real_base: Base) -> None:
    """`evergreen or at least very dense`: either will do."""
    first, second = read("evergreen or at least very dense", real_base).conditions
    assert first.either == second.either == 1


@pytest.mark.parametrize(
    "said, role",
    [
        (
            "My neighbor has a black walnut and an oak, I need an evergreen shrub to grow there for privacy please",
            "seen",
        ),
        ("Would a holly work for a shady corner of our yard where there is not much room to grow?", "considered"),
        ("I need something evergreen to replace a Leyland cypress at the back of my yard in zone 7", "to be replaced"),
    ],
)
def test_a_mentioned_plant_is_no_condition(real_base: Base, said: str, role: str) -> None:
    """What is seen, considered or to be replaced is named, not asked for."""
    reading = read(said, real_base)
    assert role in {mention.role for mention in reading.named}
    assert not [condition for condition in reading.conditions if condition.trait == "taxon"]


def test_a_typo_is_mended_and_told(real_base: Base) -> None:
    """The mend is shown with both spellings and its place."""
    reading = read("evergren, zone 7", real_base)
    assert meanings(reading) == {"persistence any_of evergreen", "zone any_of 7a 7b"}
    (mend,) = read("everrgeen, zone 7", real_base).corrections
    assert (mend.wrong, mend.right, mend.at) == ("everrgeen", "evergreen", (0, 9))


def test_names_are_found_before_their_words(real_base: Base) -> None:
    """`Japanese red maple` is no wish for red, `Blue Prince holly` none for blue."""
    for said in ("Blue Prince holly", "Ilex × meserveae 'Blue Prince'", "Golden Spirit smokebush"):
        (condition,) = read(said, real_base).conditions
        assert condition.trait == "taxon", said


def test_a_place_gives_its_zones_with_a_note(real_base: Base) -> None:
    """The range inside the state, coldest first, and a question."""
    reading = read("evergreen hedge in Connecticut", real_base)
    (zone,) = [condition for condition in reading.conditions if condition.trait == "zone"]
    assert zone.values[0] == "5b"
    assert reading.task.place == "CT"
    assert "Which zone" in (zone.note or "")


def test_conflicts_are_said(real_base: Base) -> None:
    """Evergreen with fall colour; a least height above a greatest one."""
    assert read("evergreen with fall color", real_base).conflicts
    assert read("at least 12 ft tall, labelled at most 6 ft", real_base).conflicts


def test_what_is_not_understood_is_shown_apart(real_base: Base) -> None:
    """Unknown words stand in `unread`, with the place they came from."""
    reading = read("evergreen, flurbish, zone 6", real_base)
    assert [(part.text, part.at) for part in reading.unread] == [("flurbish", (11, 19))]


def test_what_is_hidden_gives_no_height_but_a_note(real_base: Base) -> None:
    """The height of the fence is the fence's; the caller is told what it takes to hide it."""
    for said, height in (
        ("evergreen to hide a 6 ft fence", "6 ft"),
        ("block the view from the second-storey window", "15 ft"),
        ("evergreen to hide a second-story window", "15 ft"),
        ("hide the two-storey house next door", "18 ft"),
    ):
        (screen,) = [condition for condition in read(said, real_base).conditions if condition.trait == "use"]
        assert height in (screen.note or ""), said
        assert not [condition for condition in read(said, real_base).conditions if condition.trait == "height"]


@pytest.mark.parametrize(
    "text, animals",
    [("safe for dogs and horses", "dogs horses"), ("not poisonous to dogs, cats or kids", "dogs cats children")],
)
def test_every_animal_that_is_named_counts(real_base: Base, text: str, animals: str) -> None:
    """A second animal behind `and` is never dropped: a plant may poison just that one."""
    (found,) = [one for one in read(f"hedge {text}", real_base).conditions if one.trait == "safe_for"]
    assert set(found.values) == set(animals.split())


def test_one_kind_only_is_a_wish_of_the_whole(real_base: Base) -> None:
    """A row of one plant may be asked for against the usual mixture."""
    assert read("60 ft hedge, all the same plant", real_base).task.mixed is False


def test_along_is_the_run_where_no_other_is_said(real_base: Base) -> None:
    """And the spot that matters where one is."""
    assert read("screen 80 ft along my driveway", real_base).task.run == pytest.approx(24.38, abs=0.01)
    both = read("100 ft of hedge, the tallest one at 30 ft along the fence", real_base).task
    assert (both.run, both.spot) == (pytest.approx(30.48), pytest.approx(9.144))


ZONES = [
    ("a hedge in Toronto", "5b", "7a", "Toronto"),
    ("a hedge in Denver, Colorado", "5b", "6a", "Denver"),
    ("a hedge, CO, near Fort Collins", "5a", "6a", "Fort Collins"),
    ("a hedge in Colorado", "3a", "7a", "Colorado"),
    ("a hedge for the Willamette Valley", "8a", "8b", "The Willamette Valley"),
]


@pytest.mark.parametrize("said, coldest, warmest, name", ZONES)
def test_a_town_tells_its_own_zone(real_base: Base, said: str, coldest: str, warmest: str, name: str) -> None:
    """And not that of the coldest mountain of its state, wherever the state is said beside it."""
    zone = next(one for one in read(said, real_base).conditions if one.trait == "zone")
    assert (zone.values[0], zone.values[-1]) == (coldest, warmest)
    assert zone.note is not None
    assert zone.note.startswith(f"{name} runs from zone {coldest} to {warmest}")


@pytest.mark.parametrize(
    "said",
    [
        "burning bush replacement with red fall color",
        "boxwood alternatives for zone 6",
        "a Bradford pear that split; white flowers please",
    ],
)
def test_what_stands_before_its_replacement_is_to_go(real_base: Base, said: str) -> None:
    """It is neither wanted nor a condition."""
    reading = read(said, real_base)
    assert [mention.role for mention in reading.named] == ["to be replaced"]
    assert not any(condition.trait == "taxon" for condition in reading.conditions)


@pytest.mark.parametrize(
    "said, least", [("perennials for cutting, zone 4b, tall, full sun", 4), ("a vine or a tree, zone 6, tall", 15)]
)
def test_a_size_word_by_itself_speaks_of_the_only_kind(real_base: Base, said: str, least: float) -> None:
    """Where several kinds are wanted it has the definition for any."""
    size = next(one for one in read(said, real_base).conditions if one.trait == "size")
    assert size.minimum == pytest.approx(least * 0.3048)
