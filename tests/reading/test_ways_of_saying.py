"""Ways of saying one thing that share a cause, each with what must not be read where the same words mean something else."""

from __future__ import annotations

import pytest

from askplant.base.opened import Base
from askplant.reading.read import read
from tests.reading.told import meanings

SIZES = [
    ("a climber, 3 m tall x 2 m wide", "height about 3.00..3.00", "width about 2.00..2.00"),
    ("evergreen shrub 6' H x 3' W", "height about 1.83..1.83", "width about 0.91..0.91"),
    ('shrub, 18"-24" H x 30" W, sun', "height within 0.46..0.61", "width about 0.76..0.76"),
    ("need 12 H x 5 W conifers", "height about 3.66..3.66", "width about 1.52..1.52"),
    ("shrub 4' W x 6' H", "height about 1.83..1.83", "width about 1.22..1.22"),
    ("shrub 4' x 6' H", "height about 1.83..1.83", "width about 1.22..1.22"),
    ("evergreen H6 W3, zone 6", "height about 1.83..1.83", "width about 0.91..0.91"),
    ("H6' W3' evergreen", "height about 1.83..1.83", "width about 0.91..0.91"),
    ("height 6 ft width 3 ft", "height about 1.83..1.83", "width about 0.91..0.91"),
    ("shrub 5ish ft tall and 4ish wide", "height about 1.52..1.52", "width about 1.22..1.22"),
    ("tree, 12-ish feet", "height about 3.66..3.66", None),
    ("tree 10 to 12 ish ft", "height within 3.05..3.66", None),
    ("conifer 3ish metres", "height about 3.00..3.00", None),
    ("hedge 6 ft, max", "height at_most ..1.83", None),
    ("hedge 5 ft, no more boxwood please", "height about 1.52..1.52", None),
    ("it can get as high as 10 feet", "height at_most ..3.05", None),
    ("H 1.2 m, W 0.8 m, evergreen", "height about 1.20..1.20", "width about 0.80..0.80"),
    ("6 ft (H) x 4 ft (W)", "height about 1.83..1.83", "width about 1.22..1.22"),
    ("6 feet (tall) by 4 feet (wide)", "height about 1.83..1.83", "width about 1.22..1.22"),
    ("3 ft (0.9 m) wide and 6 ft (1.8 m) tall", "height about 1.83..1.83", "width about 0.91..0.91"),
    ("no more than 2 m (6 ft 6 in) tall", "height at_most ..2.00", None),
    ("about 2m/6ft high", "height about 2.00..2.00", None),
    ("shrub 120 x 80 cm", "height about 1.20..1.20", "width about 0.80..0.80"),
    ("evergreen 24 x 36 inches", "height about 0.61..0.61", "width about 0.91..0.91"),
    ("at least 60 and no more than 90 cm", "height within 0.60..0.90", None),
    ("10 ft tall max. 4 ft wide max.", "height at_most ..3.05", "width at_most ..1.22"),
    ("between 4 and 6 feet, closer to 4", "height within 1.22..1.52", None),
    ("1 to 2 m, nearer to 2 m", "height within 1.50..2.00", None),
    ("plants as high as 10 but no wider than 4", "height about 3.05..3.05", "width at_most ..1.22"),
    ("its height is 6 ft and its width is 4 ft", "height about 1.83..1.83", "width about 1.22..1.22"),
    ("a tree 30 ft in every direction", "height about 9.14..9.14", "width about 9.14..9.14"),
    ("6 ft, 7 at a pinch", "height within 1.83..2.13", None),
    ("ideally 6 ft but 8 is ok", "height within 1.83..2.44 wish", None),
    ("under 6 ft, 7 is fine", "height at_most ..2.13", None),
    ("4 ft tall, pink is fine", "height about 1.22..1.22", None),
    ("the goal is 6 ft tall", "height about 1.83..1.83", None),
    ("hedge @ 5' tall, 50 ft", "height about 1.52..1.52", None),
    ("a tree 20' w/ white flowers", "height about 6.10..6.10", None),
    ("a 6 ft hedge w berries", "height about 1.83..1.83", None),
]


@pytest.mark.parametrize("said, height, width", SIZES)
def test_a_size_is_read_however_it_is_written(real_base: Base, said: str, height: str, width: str | None) -> None:
    """Letters for directions, "ish", and a bound behind a comma; "w" by itself is "with"."""
    found = {
        one.split(" ")[0]: one for one in meanings(read(said, real_base)) if one.split(" ")[0] in ("height", "width")
    }
    assert found == {"height": height} | ({"width": width} if width else {})


def test_a_letter_beside_a_figure_is_a_rating_where_no_size_is_written(real_base: Base) -> None:
    """`H6` alone is a hardiness, beside `W3` a height."""
    assert any(one.trait == "zone" for one in read("H6, evergreen", real_base).conditions)
    assert not any(one.trait == "zone" for one in read("evergreen H6 W3", real_base).conditions)


ROWS = [
    ("A 3 ft hedge along the drive, 40 ft", 12.19),
    ("Low hedge beside the path, 18 inches high, 15 feet", 4.57),
    ("edging hedge along the terrace 60 cm tall, 8 m", 8.0),
    ("hedge along the sidewalk, 20 ft", 6.1),
    ("hedge along the sidewalk, 5 ft", None),
    ("hedge along the drive, 20 ft tall", None),
    ("screen along the fence, 15 ft", None),
    ("need 60 linear feet of hedge", 18.288),
    ("40 LF hedge, 3 ft tall", 12.192),
    ("20 linear metres of screen, 2 m high", 20.0),
]


@pytest.mark.parametrize("said, run", ROWS)
def test_a_length_behind_what_a_row_runs_along_is_the_rows(real_base: Base, said: str, run: float | None) -> None:
    """Unless it may as well be the height, which a screen is asked for."""
    found = read(said, real_base).task.run
    assert found == (pytest.approx(run, abs=0.01) if run else None)


ROOMS = [
    ("between the house and the walk there is 5 ft", "width at_most ..1.52"),
    ("between the garage and the fence we have about 4 feet, something evergreen", "width at_most ..1.22"),
    ("corridor 6 feet wide", "width at_most ..1.83"),
    ("a passage 3 ft wide", "width at_most ..0.91"),
    ("something between 4 and 6 feet", "height within 1.22..1.83"),
    ("wildlife corridor, native shrubs 8 ft tall", "height about 2.44..2.44"),
]


@pytest.mark.parametrize("said, meant", ROOMS)
def test_the_room_between_two_things_is_the_most_there_is(real_base: Base, said: str, meant: str) -> None:
    """And what is no room is none."""
    found = [one for one in meanings(read(said, real_base)) if one.startswith(("height", "width"))]
    assert found == [meant]


ELSEWHERE = [
    "A small tree. The street is at 4 meters.",
    "Evergreen shrub. The neighbour's wall is at 3 m.",
    "There is a house at 5 meters. Want a maple for red fall color.",
    "I want a smaller lilac. My mother's was easily 15 feet.",
    "Need a conifer. The old one was about 12 feet tall.",
    "Mine got to 20 ft and had to go. Something evergreen.",
    "His reached 9 feet. I would like something evergreen",
    "Something evergreen for a pot. The pot is 2 ft across",
    "my maples are 30 ft tall, what grows under them",
    "my yard is about 40 by 60, one shade tree",
    "My stoop is 6 feet wide, need shrubs",
    "A tree, please. The plaque is 20 cm wide.",
    "Two zinc troughs, 90 x 40 cm. A formal evergreen for each",
    "my fence is 6 ft, I want 2 ft more than that, evergreen",
]


@pytest.mark.parametrize("said", ELSEWHERE)
def test_a_length_of_something_else_is_no_size_and_shown(real_base: Base, said: str) -> None:
    """How far off a road is, how high the old plant was."""
    found = read(said, real_base)
    assert not [one for one in found.conditions if one.trait in ("height", "width")]
    assert any(any(char.isdigit() for char in part.text) for part in found.unread)


def test_what_the_wanted_plant_is_to_be_is_its_size(real_base: Base) -> None:
    """`Ours should be 12 ft`, `it tops out at 5 m`, `kept at 2 m`."""
    for said, meant in (
        ("Ours should be about 12 ft", "height about 3.66..3.66"),
        ("Mine must stay under 5 ft", "height at_most ..1.52"),
        ("Want a maple that tops out at 5 meters", "height at_most ..5.00"),
        ("hedge kept at 2 meters", "height about 2.00..2.00"),
    ):
        assert meant in meanings(read(said, real_base))


WAYS = [
    ("use any_of ground cover", ["shade, grnd cover", "grd cover for a slope"], ["on the ground, cover it with mulch"]),
    ("flower_colour any_of white", ["full sun, wht fl, zone 5"], []),
    ("drought any_of tolerant", ["2', drought tol, sun"], []),
    ("kind any_of shrub", ["evrgrn shrb, 4 ft"], []),
    (
        "use any_of screen",
        [
            "block the upstairs windows of the house behind",
            "need to block a third floor balcony",
            "something to block out their second-story deck",
            "break up the view of the street",
            "soften the view of the parking lot",
            "don't want to be seen from the road",
        ],
        [
            "a shrub that won't block the kitchen window",
            "nothing that blocks the windows",
            "don't want it to break up the pavement",
            "Winter color, to be seen from the kitchen",
            "something that can be seen from the sofa in January",
        ],
    ),
    (
        "form any_of prostrate",
        ["an evergreen, flat, for a rockery", "Groundcover. Flat. Sun.", "juniper, low and flat, zone 4"],
        [
            "Our lot: flat, sunny, clay. Need a shade tree.",
            "flat, open yard, full sun, want a tree",
            "The yard is big, flat, and sunny",
        ],
    ),
    (
        "care any_of low",
        [
            "not too much work to look after",
            "something that is not much bother to keep",
            "don't want too much trouble with it",
        ],
        ["I don't mind putting in a lot of work", "not much trouble with deer here"],
    ),
    (
        "drought any_of tolerant",
        ["xeric perennials, Colorado", "xeric. sun. 2 ft", "shrub for a xeric landscape"],
        ["a dry spot under the eaves"],
    ),
    (
        "breakage any_of tolerant",
        ["snow gets heavy", "snow gets deep and heavy here", "the snow is heavy most winters"],
        ["we get light snow"],
    ),
    (
        "light any_of full sun",
        ["fig against a south stone wall", "climber on a south-facing brick wall"],
        ["the wall is south of us"],
    ),
    ("light any_of part shade full shade", ["vine for a north brick wall"], []),
    (
        "use any_of foundation",
        ["an evergreen shrub for the front of the house"],
        ["a tree for the front of the house, 20 ft"],
    ),
    (
        "pests any_of low",
        ["a tree bugs leave alone"],
        ["I've seen what one bug does to a row of trees. Mixed windbreak"],
    ),
    (
        "deer at_least rarely damaged",
        [
            "Deer are bad. A hedge that they really won't touch",
            "Deer!! which shrubs would they never touch",
            "deer everywhere, perennials they simply will not eat",
        ],
        ["a plant whose roots will not touch the pipe", "Rabbits ate it all. What will they not eat?"],
    ),
    ("rabbit at_least rarely damaged", ["Rabbits ate it all. What will they not eat?"], []),
    (
        "safe_for any_of dogs",
        ["our puppy chews everything", "a dog that eats everything"],
        [
            "rabbits chew everything here",
            "the deer chew everything, want a hedge",
            "Voles chew everything low in winter",
        ],
    ),
    (
        "safe_for any_of children dogs cats",
        [],
        ["bunnies chew everything", "the deer eat everything", "groundhogs eat everything"],
    ),
    (
        "roots any_of well-behaved",
        ["Prefer red flowers, and roots must not lift the patio"],
        ["Prefer roots that do not lift the patio"],
    ),
    (
        "wildlife any_of birds wish",
        ["shrub, sun. It'd be great if it fed the birds"],
        ["My dad fed the birds. Need a tree"],
    ),
    ("wildlife any_of hummingbirds wish", ["Would be nice if it fed the hummingbirds"], []),
    (
        "fragrance any_of yes wish",
        [
            "a ground cover, smelling sweet underfoot would be a bonus",
            "smelling nice when you walk on it would be lovely",
            "Gran's kitchen smelled of her lilac. I'd love that smell again",
        ],
        ["Gran's kitchen smelled of her lilac."],
    ),
    (
        "size any_of large",
        ["a big tree, salt tolerant"],
        ["There is a huge black walnut by the lot line. What shrubs?", "a tall walnut tree over the bed, perennials"],
    ),
    ("size any_of small", ["a small walnut-tolerant tree", "something small under a black walnut"], []),
    (
        "bloom any_of 3",
        ["something flowering in March"],
        ["A tree with flowers. We hit the old one with the truck in March."],
    ),
    ("bloom any_of 5 6", ["bloom May-June, perennials", "flowers in may-june"], ["we may, in June, want flowers"]),
    ("bloom any_of 4 5 6", ["bloom april-june perennials"], []),
    ("fall_colour any_of red", ["fall color red", "fall color: red"], ["good fall color but not red"]),
    ("zone any_of 7b", ["zone seven b evergreen", "zone 7 b, evergreen"], ["zone 7 birch"]),
    ("zone any_of 7a", ["zone seven a, hedge"], ["zone 7 a tree for shade"]),
    ("bloom any_of 6 7", ["flowering shrub, June or July, pink"], []),
]


@pytest.mark.parametrize("meant, said, otherwise", WAYS, ids=[meant for meant, _, _ in WAYS])
def test_ways_of_saying_one_thing(real_base: Base, meant: str, said: list[str], otherwise: list[str]) -> None:
    """All are read, and the same words are not where they mean something else."""
    assert [text for text in said if meant not in meanings(read(text, real_base))] == []
    assert [text for text in otherwise if meant in meanings(read(text, real_base))] == []


PLANTS = [
    ("Is there a magnolia that stays under 15 ft for a courtyard that gets hot afternoon sun?", "any_of Magnolia wish"),
    ("Are there any camellias hardy in zone 6 with red flowers for a shady wall by the door?", "any_of camellia wish"),
    (
        "Are there any dwarf hydrangeas that take full sun, white, 3 ft, for the front of the house?",
        "any_of hydrangea wish",
    ),
    ("Viburnum? I want one for a wet corner in full sun, zone 5b, with berries for birds", "any_of Viburnum wish"),
    ("My neighbor has a smokebush. I'd love one too, but it must stay under 6 feet", "any_of smokebush wish"),
    ("Holly hedge, 6 ft, for a shady walk in zone 6, and please nothing with prickles, toddler around", "any_of holly"),
    ("The arborvitae hedge got wiped out by bagworms. What can go there, 6 ft", "none_of arborvitae wish"),
    ("azaleas got wiped out last winter, need something hardier", "none_of azalea wish"),
    ("Yew hedge got too big. What evergreen hedge would be smaller, zone 5, shade, 3 ft, and deer leave it", None),
    ("Is there a problem with planting under a maple? I need a ground cover for dry shade in zone 5", None),
    ("native ground cover for dry shade under oaks, ideally one that spreads fast", None),
    (
        "We lost an oak. I want one tree that flowers in its place, no taller than 20 ft, sun, clay soil",
        "none_of oak wish",
    ),
]


@pytest.mark.parametrize("said, meant", PLANTS)
def test_a_plant_that_is_asked_for_is_wished_for(real_base: Base, said: str, meant: str | None) -> None:
    """In a question, by what points back to it, or as a heading; not where it only stands there."""
    found = {one.removeprefix("taxon ") for one in meanings(read(said, real_base)) if one.startswith("taxon ")}
    assert found == ({meant} if meant else set())


def test_how_the_plant_that_is_pointed_back_to_is_to_differ_is_kept(real_base: Base) -> None:
    """`I want one, but smaller` is a plant like it."""
    found = read("He has a maple. I want one, but smaller", real_base).conditions
    assert [(one.trait, one.than) for one in found] == [("like", "smaller")]


@pytest.mark.parametrize(
    "before", ["pH 6.5", "heat zone 8", "an 8 ft arch", "zone 6", "6 hours of sun", "to last 60 years"]
)
def test_a_length_may_stand_behind_any_other_figure(real_base: Base, before: str) -> None:
    """Conditions made of figures are looked at like those of the vocabulary."""
    assert "height about 0.91..0.91" in meanings(read(f"evergreen, {before}, 3 ft", real_base))
    assert read(f"an evergreen, {before}, in the shade of oaks, 3 ft high", real_base).conditions
