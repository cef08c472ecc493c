"""One plant as it is set and at the ages of the sheet, drawn to one scale beside a person, a door and the thing to be hidden."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from askplant.growth.course import Band
from askplant.quantities.lengths import Units, say, say_range
from askplant.reading.reading import Hidden
from askplant.render import svg
from askplant.render.elevation import PERSON
from askplant.render.svg import WIDE, Point

# An inner door as most are made, 3 ft by 6 ft 8 in, m; common practice.
DOOR = (0.914, 2.032)
# How wide the thing to be hidden is drawn, m: its width is seldom said, and only its height counts here.
THING = 1.2
TALL = 96.0  # units of a drawing that its tallest thing takes at most
HEAD, FOOT_OF = 12.0, 48.0  # above the tallest thing, and below the ground for the words
COLUMN, GAP = 55.0, 6.0  # the least room for a plant with its words, and between columns
BESIDE = 38.0  # the least room for a person, a door or a thing, with its word below
SMALL, LABEL = 10.0, 11.0  # letters of their words, and of the sizes


class Age(NamedTuple):
    """A size at an age: height and width, None where it is not known."""

    years: int
    height: Band
    width: Band | None


def drawn(
    name: str, title: str, ages: Sequence[Age], form: str | None, tree: bool, hides: Hidden | None, units: Units
) -> str:
    """The drawing. Where no width is known the plant is a bare height."""
    scale = _scale(ages, hides)
    ground = Point(0.0, HEAD + _tallest(ages, hides) * scale)
    inside = [*_beside(scale, ground.y, hides), *_rows(ground.y), svg.line(Point(0, ground.y), Point(WIDE, ground.y), "ground")]
    at = _lead(scale, hides)
    room = (WIDE - at - sum(_columns(ages, scale))) / len(ages)
    for age, wide in zip(ages, _columns(ages, scale), strict=True):
        inside += _age(age, Point(at + (wide + room) / 2, ground.y), scale, form, tree, units)
        at += wide + room
    if hides is not None:
        top = ground.y - hides.height * scale
        inside.insert(0, svg.line(Point(0, top), Point(WIDE, top), "reach"))
    return svg.picture(name, title, told(ages, hides, units), ground.y + FOOT_OF, inside)


def told(ages: Sequence[Age], hides: Hidden | None, units: Units) -> str:
    """What the drawing shows, in words."""
    beside = f"To scale beside a person of {say(PERSON, units)} and a door of {say(DOOR[1], units)}"
    thing = f", and what is to be hidden ({hides.name}), {say(hides.height, units)} high" if hides else ""
    return f"{beside}{thing}. " + " ".join(f"{_when(age.years)}: {_size(age, units)}." for age in ages)


def _size(age: Age, units: Units) -> str:
    high = f"{say(age.height.middle, units)} high{_between(age.height, units)}"
    return f"{high}, {say(age.width.middle, units)} wide{_between(age.width, units)}" if age.width else high


def _between(band: Band, units: Units) -> str:
    text = say_range(band.low, band.high, units)
    return f" ({text})" if "–" in text else ""


def _when(years: int) -> str:
    return f"{years} years" if years else "when set"


def _tallest(ages: Sequence[Age], hides: Hidden | None) -> float:
    return max([DOOR[1], hides.height if hides else 0.0, *(age.height.high for age in ages)])


def _columns(ages: Sequence[Age], scale: float) -> list[float]:
    return [max(COLUMN, (age.width.middle * scale if age.width else 0.0) + GAP) for age in ages]


def _lead(scale: float, hides: Hidden | None) -> float:
    """The room that a person, a door and a thing take."""
    door = max(BESIDE, DOOR[0] * scale + GAP)
    thing = max(BESIDE, THING * scale + GAP) if hides is not None else 0.0
    return max(BESIDE, PERSON / 3 * scale + GAP) + door + thing


def _scale(ages: Sequence[Age], hides: Hidden | None) -> float:
    """Units in a metre: as many as the tallest thing and the row of columns leave room for."""
    scale = TALL / _tallest(ages, hides)
    while _lead(scale, hides) + sum(_columns(ages, scale)) > WIDE and scale > 0.1:
        scale *= 0.97
    return scale


def _beside(scale: float, ground: float, hides: Hidden | None) -> Iterator[str]:
    one = max(BESIDE, PERSON / 3 * scale + GAP)
    two = max(BESIDE, DOOR[0] * scale + GAP)
    yield svg.person(Point(one / 2, ground), PERSON * scale)
    yield svg.words(Point(one / 2, ground + 13), "person", kind="soft", size=SMALL)
    yield svg.door(Point(one + (two - DOOR[0] * scale) / 2, ground), DOOR[0] * scale, DOOR[1] * scale)
    yield svg.words(Point(one + two / 2, ground + 13), "door", kind="soft", size=SMALL)
    if hides is not None:
        three, at = max(BESIDE, THING * scale + GAP), one + two
        left = at + (three - THING * scale) / 2
        high = {"class": "thing", "data-height": f"{hides.height:.3f}"}
        yield svg.box(left, ground - hides.height * scale, THING * scale, hides.height * scale, **high)
        yield svg.words(Point(at + three / 2, ground + 13), "to hide", kind="soft", size=SMALL)


def _rows(ground: float) -> Iterator[str]:
    """What the figures below each plant are, said once."""
    yield svg.words(Point(BESIDE / 2, ground + 27), "high", kind="soft", size=SMALL)
    yield svg.words(Point(BESIDE / 2, ground + 41), "wide", kind="soft", size=SMALL)


def _age(age: Age, ground: Point, scale: float, form: str | None, tree: bool, units: Units) -> Iterator[str]:
    high, wide = age.height.middle, age.width.middle if age.width else 0.0
    if age.width:
        yield svg.plant(ground, (high * scale, wide * scale), form, tree, svg.LEAF, (high, wide))
    else:
        yield svg.line(ground, Point(ground.x, ground.y - high * scale), "usual")
    if (age.height.high - age.height.low) * scale > 1:
        yield from _whisker(age.height, ground, scale)
    yield svg.words(Point(ground.x, ground.y + 13), _when(age.years), kind="strong", size=LABEL)
    yield svg.words(Point(ground.x, ground.y + 27), say(high, units), size=LABEL)
    if age.width:
        yield svg.words(Point(ground.x, ground.y + 41), say(wide, units), size=LABEL)


def _whisker(band: Band, ground: Point, scale: float) -> Iterator[str]:
    """A bar from the height in poor growth to that in good growth."""
    low, high = ground.y - band.low * scale, ground.y - band.high * scale
    yield svg.line(Point(ground.x, low), Point(ground.x, high), "thin")
    for end in (low, high):
        yield svg.line(Point(ground.x - 4, end), Point(ground.x + 4, end), "thin")
