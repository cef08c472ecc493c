"""Quantity trees → what each number is a number of: a length, light, a zone, months, or something else.

What a length is the length of is said in lengths.py.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from askplant.parsing import Token, Tree
from askplant.quantities import quantity, zones
from askplant.reading.before import between, bounded, under_lid
from askplant.reading.islands import Island
from askplant.reading.lengths import Side, below, lengths, room, sides_of
from askplant.reading.reading import Condition, Test

# Hours of direct sun: full sun from 6, part sun 4–6, part shade 2–4, full shade under 2 (as most publications have it;
# some call everything under 3 full shade, so two to three hours count as both).
LIGHT_HOURS = (("full sun", 6.0, 24.0), ("part sun", 4.0, 6.0), ("part shade", 2.0, 4.0), ("full shade", 0.0, 2.0))
SHADE_EITHER_WAY_UNDER = 3.0
# Winter lows warmer than this say nothing about hardiness (0 °C is where zone 10a ends its frost, roughly).
COLDEST_CLAIM_C = 4.5
# Hours of the clock: a working sun rises and sets about here in the growing season (common practice, no source).
SUNRISE, SUNSET = 7, 19
BEFORE_SIX = 6
# A plant that is to last so many years is to be long-lived (common practice), and the words that ask for it.
LONG_LIFE = 50
LIVING = frozenset(("last", "live", "stand"))


def chunk(island: Island, before: Sequence[Token]) -> Token:
    """One token for a quantity: its kind says what the number is of, its meaning holds conditions, task or months."""
    tree: Tree = island.tree.children[0]  # type: ignore[assignment]
    start, end = island.tokens[0].start, island.tokens[-1].end
    kind, meaning = _READERS[tree.data](tree, before)
    return Token(kind, tree.data, start, end, meaning)


def _measure(tree: Tree, before: Sequence[Token]) -> tuple[str, dict[str, Any]]:
    sides = [
        side
        for child in tree.children
        if isinstance(child, Tree) and child.data == "side"
        for side in sides_of(child)
    ]
    one = sides[0]
    if any(side.has("HOURS") for side in sides):
        return "LIGHT", {"conditions": (_light(one),)}
    if any(side.has("DEG", "CELSIUS", "FAHRENHEIT") for side in sides):
        return _temperature(one)
    lid = any(mark.meaning.get("lid") for mark in one.marks) and (one.has("MAX") or bounded(before))
    if len(sides) == 1 and one.extent.length and (lid or under_lid(before)):
        return "HEIGHT", {"conditions": (below(one),), "metric": one.extent.metric}
    if len(sides) == 1 and one.extent.length and one.has("FROM") and (between(before) or _gap(one)):
        return "HEIGHT", {"conditions": (room(one.extent.high),), "metric": one.extent.metric}
    if one.has("YEARS") and one.extent.low >= LONG_LIFE and before and str(before[-1]) in LIVING:
        return "PHRASE", {"conditions": (Condition("longevity", "any_of", ("long",)),)}
    if len(sides) == 1 and one.extent.length and one.has("MAX") and _sticks_out(one):
        return "HEIGHT", {"conditions": (room(one.extent.high),), "metric": one.extent.metric}
    if any(side.has("OTHER", "YEARS") for side in sides) or any(
        (side.has("FROM") and not side.axes) or (side.has("THING") and "height" not in side.axes) for side in sides
    ):
        sized = one.extent.high if one.extent.length and one.has("THING") else None
        use = next((mark.meaning["use"] for mark in one.marks if mark.type == "THING" and "use" in mark.meaning), None)
        if use:  # "an 8 ft arch" is an arch, and its size no plant's; "under 25 ft wires" is both
            said = (
                Condition("use", "any_of", (use,)),
                *((below(one),) if one.has("MAX") and one.extent.length else ()),
            )
            return "PHRASE", {"conditions": said, "object": sized}
        return "STORY", {"object": sized, "length": one.extent.length}
    if len(sides) == 1 and one.has("COLD") and not one.extent.length and (one.has("NEG") or one.extent.low < 0):
        return _temperature(one)
    return lengths(sides, before)


def _gap(side: Side) -> bool:
    """Whether the words before a length name what it lies between: "between the drive and a wall 4 ft apart"."""
    return any(mark.type == "SPACE" and str(mark).startswith("between") for mark in side.marks)


def _sticks_out(side: Side) -> bool:
    """Whether a length says how far a plant may reach: "can't get more than 30 in out from the wall"."""
    return any(mark.type == "FROM" and str(mark).startswith("out") for mark in side.marks)


def _light(side: Side) -> Condition:
    low, high = side.extent.low, side.extent.high
    if side.test == "at_least":
        high = 24.0
    if side.test == "at_most":
        low = 0.0
    if low != high:
        found = [name for name, least, most in LIGHT_HOURS if low < most and high > least]
    elif side.test == "about":
        found = [name for name, least, most in LIGHT_HOURS if least <= low <= most]
    else:
        found = [name for name, least, most in LIGHT_HOURS if least <= low < most]
    if high <= SHADE_EITHER_WAY_UNDER and "full shade" not in found:
        found.append("full shade")
    return Condition("light", "any_of", tuple(found), note=f"{_hours(low, high)} of sun: read as {' or '.join(found)}.")


def _hours(low: float, high: float) -> str:
    if high >= 24:
        return f"at least {low:g} hours"
    return f"{low:g} hours" if low == high else f"{low:g}–{high:g} hours"


def _temperature(side: Side) -> tuple[str, dict[str, Any]]:
    value = min(side.extent.low, side.extent.high)
    if side.has("NEG") or any(mark.type == "DEG" and "below" in str(mark) for mark in side.marks):
        value = -abs(value)
    celsius = side.has("CELSIUS")
    degrees_c = value if celsius else (value - 32) * 5 / 9
    if degrees_c > COLDEST_CLAIM_C or (value > 0 and not side.has("COLD")):
        return "STORY", {}
    number = zones.of_celsius(value) if celsius else zones.of_fahrenheit(value)
    name = zones.name(number)
    scale = "°C" if celsius else "°F"
    return "ZONE", {
        "conditions": (Condition("zone", "any_of", (name,), note=f"Winters down to {value:g} {scale}: zone {name}."),)
    }


def _zones(tree: Tree, _: Sequence[Token]) -> tuple[str, dict[str, Any]]:
    try:
        halves = quantity.zone_halves(tree)
    except ValueError:
        return "STORY", {}
    names = tuple(zones.name(number) for number in halves)
    note = f"The coldest counts: {names[0]}." if len(names) > 2 else None
    return "ZONE", {"conditions": (Condition("zone", "any_of", names, note=note),)}


def _heat(tree: Tree, _: Sequence[Token]) -> tuple[str, dict[str, Any]]:
    numbers = [int(token.meaning["n"]) for token in tree.children if isinstance(token, Token) and token.type == "NUM"]
    return "PHRASE", {"conditions": (Condition("heat", "any_of", tuple(dict.fromkeys(numbers))),)}


def _ph(tree: Tree, _: Sequence[Token]) -> tuple[str, dict[str, Any]]:
    extent = next(
        quantity.extent(child) for child in tree.children if isinstance(child, Tree) and child.data == "extent"
    )
    if extent.length or not 2 <= extent.low <= extent.high <= 12:
        return "STORY", {}
    test: Test = "about" if extent.low == extent.high else "within"
    return "PHRASE", {"conditions": (Condition("ph", test, minimum=extent.low, maximum=extent.high),)}


def _months(tree: Tree, _: Sequence[Token]) -> tuple[str, dict[str, Any]]:
    tokens = list(tree.tokens())
    seasons = [token.meaning["season"] for token in tokens if token.type == "MONTH" and token.meaning.get("season")]
    whole = all(token.type in ("MONTH", "PART", "OR", "AND", "COMMA", "SLASH") for token in tokens) and len(
        seasons
    ) == sum(token.type == "MONTH" for token in tokens)
    return "MONTHS", {"values": tuple(seasons) if whole else quantity.month_numbers(tree), "named": not seasons}


def _within(tree: Tree, _: Sequence[Token]) -> tuple[str, dict[str, Any]]:
    extent = next(
        quantity.extent(child) for child in tree.children if isinstance(child, Tree) and child.data == "extent"
    )
    return "TASKED", {"by_year": extent.high}


def _money(tree: Tree, _: Sequence[Token]) -> tuple[str, dict[str, Any]]:
    del tree
    return "TASKED", {"budget": True}


def _count(tree: Tree, _: Sequence[Token]) -> tuple[str, dict[str, Any]]:
    token = tree.children[-1]
    assert isinstance(token, Token)
    return "TASKED", {"count": int(token.meaning["n"])}


def _spot(tree: Tree, _: Sequence[Token]) -> tuple[str, dict[str, Any]]:
    """A place along the row: "opposite the kitchen window at 20 ft"."""
    extent = next(
        quantity.extent(child) for child in tree.children if isinstance(child, Tree) and child.data == "extent"
    )
    if not extent.length:
        return "STORY", {}
    middle = (extent.low + extent.high) / 2
    said = [token for token in tree.children if isinstance(token, Token)]
    # "80 ft along the drive" is the row itself where no other length of one is said.
    along = len(said) == 1 and str(said[0]).startswith("along")
    if any(token.meaning.get("row") for token in said):
        return "TASKED", {"if_row": middle, "metric": extent.metric}
    return "TASKED", {"along" if along else "spot": middle, "metric": extent.metric}


def _clock(tree: Tree, _: Sequence[Token]) -> tuple[str, dict[str, Any]]:
    """Hours of sun from the clock: a start and an end, an end after sunrise, or a start before sunset."""
    tokens = [token for token in tree.children if isinstance(token, Token)]
    hours = [float(token.meaning["n"]) % 24 for token in tokens if token.type == "NUM"]
    if tokens[0].type == "SUNTILL":
        hours = [SUNRISE, hours[0] if hours[0] >= SUNRISE else hours[0] + 12]
    elif tokens[0].type == "SUNAFTER":
        start = hours[0] + 12 if hours[0] < SUNRISE else hours[0]
        return "LIGHT", {"conditions": (_sun_for(SUNSET - start, late=True),)}
    else:
        # "From 4" is said of the afternoon: nobody calls about the sun before six.
        hours[0] += 12 if hours[0] < BEFORE_SIX else 0
        hours += [SUNSET] if len(hours) == 1 else []
    end = hours[1] + 12 if hours[1] <= hours[0] else hours[1]
    return "LIGHT", {"conditions": (_sun_for(end - hours[0], late=False),)}


def _sun_for(hours: float, *, late: bool) -> Condition:
    """The classes of light that so many hours on end may be called; afternoon sun counts for more than morning sun."""
    if hours >= 7 or (late and hours >= 5):
        found: tuple[str, ...] = ("full sun", "part sun") if late or hours < 8 else ("full sun",)
    elif hours >= 6:
        found = ("full sun", "part sun")
    else:
        found = ("part sun", "part shade") if hours >= 4 or late else ("part shade",)
    return Condition("light", "any_of", found, note=f"About {hours:g} hours of sun: read as {' or '.join(found)}.")


_READERS = {
    "clock": _clock,
    "measure": _measure,
    "zones": _zones,
    "heat": _heat,
    "ph": _ph,
    "months": _months,
    "within": _within,
    "money": _money,
    "count": _count,
    "spot": _spot,
}
