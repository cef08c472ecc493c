"""Colours and blooming: what a colour is the colour of, and which months belong to flowers."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from askplant.reading.elements import Element, traits_of
from askplant.reading.meanings import (
    as_conditions,
    colour_for,
    colour_trait,
    is_flower,
    names_kind,
    speaks_of_colour,
)
from askplant.reading.reading import Condition, Test
from askplant.reading.sizewords import speaks_of_site

if TYPE_CHECKING:
    from askplant.reading.conditions import Maker


# What makes a bare colour the colour of flowers.
FLOWERY = frozenset(
    {("flower", "showy"), ("kind", "perennial"), ("kind", "annual"), ("kind", "bulb"), ("kind", "vine")}
    | {("bloom", season) for season in ("spring", "summer", "fall", "winter")}
)
# What shows that a sentence asks for something, what dates a thing that happened, and how many words a telling takes at least.
ASKING = frozenset("WANT WISH MUST COLOR BLOOMHEAD FLOWERHEAD LEAFHEAD".split())
DATED = frozenset("in by since last until on of around".split())
SHORTEST_STORY = 4
# Why a plant is spoken of that is not the one asked for.
ONLY_THERE = frozenset("SEEN OWN REPLACE DIED_BEFORE".split())
HEADS = {"LEAFHEAD": "leaf_colour", "FLOWERHEAD": "flower_colour", "FALLHEAD": "fall_colour", "FRUITHEAD": "fruit"}
# What a head says when no colour stands before it.
BARE_HEADS: dict[str, tuple[Condition, ...]] = {
    "FLOWERHEAD": (Condition("flower", "any_of", ("showy",)),),
    "FALLHEAD": (Condition("fall_colour", "any_of", ("any",)),),
    "FRUITHEAD": (Condition("fruit", "any_of", ("showy",)),),
}


def colour(maker: Maker, number: int, element: Element) -> None:
    head = maker.near(number, 1, tuple(HEADS), ("COLOR",)) or _coloured_ahead(maker, number)
    if head is None:
        _bare_colour(maker, number, element)
        return
    if head.neutral:
        maker.made.used.append(element.core)
        return
    trait = HEADS.get(head.core.type) or colour_trait(head)
    start, end = element.core.start, head.core.end
    conditions: tuple[Condition, ...]
    if trait == "fruit":
        conditions = (Condition("fruit", "any_of", ("showy",)),)
    else:
        conditions = (Condition(trait, "any_of", (colour_for(trait, element.core),)),)
    if element.negated:
        conditions = tuple(condition._replace(test="none_of") for condition in conditions)
    element.wish = element.wish or head.wish
    maker.add(element, conditions, start, end)


def _coloured_ahead(maker: Maker, number: int) -> Element | None:
    """A word for blooming, or a phrase of flowers or colours, that the colour before it belongs to."""
    head = maker.near(number, 1, ("BLOOMHEAD", "PHRASE"), ("COLOR",))
    return head if head is not None and (head.core.type == "BLOOMHEAD" or speaks_of_colour(head)) else None


def _bare_colour(maker: Maker, number: int, element: Element) -> None:
    """A colour without a head is a foliage colour only when no other sense is usual (variegated); else it is left unread."""
    head = maker.near(number, -1, ("PHRASE", "LEAFHEAD", "FALLHEAD"), ("COLOR",))
    test: Test = "none_of" if element.negated else "any_of"
    told = head is not None and head.core.type == "PHRASE" and speaks_of_colour(head)
    if head is not None and (told or is_flower(head) or head.core.type in HEADS):
        of = HEADS.get(head.core.type) or colour_trait(head)  # "turns orange, not red"
        colour = (Condition(of, test, (colour_for(of, element.core),)),)
        closer = _says_any(head) and head.wish == element.wish and not element.negated
        # What the colour says more closely stays among the words that were read: "flowers, pink".
        maker.add(element, colour, head.core.start if closer or is_flower(head) else None)
        maker.say_no_more(head, of if closer else "flower")
    elif (trait := _colour_sense(maker, element)) is not None and not _is_painted(maker, element):
        maker.add(element, (Condition(trait, test, (colour_for(trait, element.core),)),))
    else:
        maker.made.loose.append(element.core)


def _says_any(head: Element) -> bool:
    """Whether a head asks for colour and not for which: "fall color, red or orange"."""
    return [found.values for found in as_conditions(head.core.meaning)] == [("any",)]


def _is_painted(maker: Maker, element: Element) -> bool:
    """Whether the sentence up to a colour is about a wall or a house and no plant: "our wall is 14 ft high and it's pink"."""
    things = any(
        token.meaning.get("thing") for token in maker.sentence_before(element) if token.type in ("SITE", "THING")
    )
    return things and speaks_of_site(maker, element)


def _colour_sense(maker: Maker, element: Element) -> str | None:
    """What a colour by itself is the colour of: flowers where flowers are spoken of, leaves of conifers, else unknown."""
    if element.core.meaning["value"] == "variegated":
        return "leaf_colour"
    if maker.request[element.core.start : element.core.end].endswith("s"):
        return "flower_colour"  # "pinks and whites" are flowers
    return maker.colour_sense


def sense_of(elements: Sequence[Element]) -> str | None:
    """What a bare colour in a request of these elements is the colour of."""
    asked = {
        (found.trait, value)
        for element in elements
        if element.core.type == "PHRASE"
        for found in as_conditions(element.core.meaning)
        for value in found.values
    }
    if asked & FLOWERY or any(element.core.type in ("FLOWERHEAD", "BLOOMHEAD") for element in elements):
        return "flower_colour"
    if asked & {("group", "conifer"), ("kind", "grass")}:
        return "leaf_colour"
    plants = (one for one in elements if one.core.type == "PLANT" and not one.negated and one.role not in ONLY_THERE)
    of = next((part for one in plants if (part := one.core.meaning.get("colour"))), None)
    return f"{of}_colour" if of else None


def head(maker: Maker, number: int, element: Element) -> None:
    if maker.near(number, -1, ("COLOR",), ()) is not None:
        maker.made.used.append(element.core)
        return
    conditions = BARE_HEADS.get(element.core.type, ())
    if not conditions:
        maker.made.loose.append(element.core)
        return
    if element.negated:
        value = "none" if conditions[0].trait in ("flower", "fruit") else conditions[0].values[0]
        test: Test = "any_of" if value == "none" else "none_of"
        conditions = (conditions[0]._replace(values=(value,), test=test),)
    maker.add(element, conditions)


def months(maker: Maker, number: int, element: Element) -> None:
    near = [other for other in maker.elements[max(number - 3, 0) : number + 4] if other.island == element.island]
    listed = (
        element.core.meaning["named"]
        and maker.colour_sense == "flower_colour"
        and element.joint in ("", "COMMA")
        and not element.leads
        and not _is_told(maker, element)
    )
    if listed or any(other.core.type in ("BLOOMHEAD", "FLOWERHEAD") or is_flower(other) for other in near):
        element.wish = element.wish or any(other.wish for other in near if other.core.type == "BLOOMHEAD")
        maker.add(element, (Condition("bloom", "any_of", tuple(element.core.meaning["values"])),))
    else:
        maker.made.loose.append(element.core)


def _is_told(maker: Maker, element: Element) -> bool:
    """Whether a month only dates what a sentence tells, in which nothing is asked: "we hit it with the truck in March"."""
    before = maker.sentence_before(element)
    if len(before) < SHORTEST_STORY or str(before[-1]) not in DATED:
        return False
    asks = (
        token.type in ASKING or names_kind(token) or traits_of(token) & {"flower", "flower_colour", "bloom"}
        for token in before
    )
    return not any(asks)


def bloomhead(maker: Maker, number: int, element: Element) -> None:
    near = maker.elements[max(number - 3, 0) : number + 4]
    near = [other for other in near if other.island == element.island]
    if any(other.core.type in ("MONTHS", "COLOR") or "bloom" in traits_of(other.core) for other in near):
        maker.made.used.append(element.core)
    elif element.negated:
        maker.add(element, (Condition("flower", "any_of", ("none",)),))
    else:
        maker.add(element, BARE_HEADS["FLOWERHEAD"])
