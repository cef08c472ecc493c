"""Size words without a number: whose size they speak of, and the bounds of their written definition."""

from __future__ import annotations

from bisect import bisect_left
from typing import TYPE_CHECKING

from askplant.parsing import Token
from askplant.reading.elements import Element, traits_of
from askplant.reading.meanings import (
    as_conditions,
    definition,
    names_kind,
    size_bounds,
)
from askplant.reading.reading import Condition

if TYPE_CHECKING:
    from askplant.reading.conditions import Maker


# What is left when a size is refused.
NEGATED = {"small": "medium large", "large": "small medium", "small medium": "large", "medium large": "small"}
# Things whose size is no plant's: the site, parts of a plant.
ELSEWHERE = frozenset("SITE SPACE THING LEAFHEAD FLOWERHEAD FRUITHEAD RUN".split())


def size(maker: Maker, number: int, element: Element) -> None:
    if _of_something_else(maker, element):
        maker.made.used.append(element.core)
        return
    if maker.differs_from_like(element):
        return
    kind = _kind_of(maker, number) or _only_kind(maker)
    value = str(element.core.meaning["value"])
    if element.negated:
        value = NEGATED.get(value, value)
    low, high = size_bounds(element.core, value, kind)
    plant = maker.near(number, 1, ("PLANT",), ("SIZE", "COLOR"))
    if plant is not None and plant.role in ("SEEN", "REPLACE", "DIED_BEFORE"):
        maker.made.used.append(element.core)
        return
    condition = Condition(
        "size",
        "any_of",
        tuple(value.split()),
        low,
        high,
        "m",
        "grown",
        note=f"{' or '.join(value.split())} {kind if kind in ('tree', 'shrub') else 'plant'}: read as {definition(low, high)}.",
    )
    maker.add(element, (condition._replace(strength="wish" if element.core.meaning.get("wish") else "must"),))


def is_restricted(maker: Maker, element: Element) -> bool:
    """`no tree that will …`: the clause that follows is what is refused, not the tree."""
    after = next((token for token in maker.after(element) if token.type != "FILLER"), None)
    return after is not None and after.type == "BUT" and str(after) in ("that", "which")


def _of_something_else(maker: Maker, element: Element) -> bool:
    """Whether a size word speaks of the site, a part of a plant or a plant that is only mentioned."""
    for token in maker.after(element):
        if token.type in (
            "SIZE",
            "COLOR",
            "FILLER",
            "AND",
            "OR",
            "TO",
            "SLASH",
            "PUNCT",
            "DASH",
            "LIGHT",
        ):
            continue
        if token.type in ("COMMA", "WORD") and _leads_to_part(maker, token):
            continue
        if token.type == "PHRASE" and token.meaning.get("names") and traits_of(token) == {"juglone"}:
            return True  # "a big walnut tree"
        if token.type == "PHRASE":
            if as_conditions(token.meaning)[:1] and as_conditions(token.meaning)[0].trait in (
                "kind",
                "use",
                "group",
            ):
                return _is_scenery(maker, token)
            continue
        if token.type == "PLANT":
            return _is_scenery(maker, token)
        if token.type in ELSEWHERE:
            return True
        break
    return speaks_of_site(maker, element)


def _leads_to_part(maker: Maker, token: Token) -> bool:
    """Whether a part of a plant comes next, past a strange word at most: "large, bold leaves"."""
    at = bisect_left(maker.starts, token.start)
    after = [other for other in maker.tokens[at + 1 : at + 4] if other.type not in ("WORD", "FILLER")]
    return bool(after) and after[0].type in ("LEAFHEAD", "FLOWERHEAD")


def _is_scenery(maker: Maker, token: Token) -> bool:
    """Whether the plant or kind a size word stands before is only part of the scene."""
    owner = maker.owners.get(id(token))
    return owner is not None and (
        owner.role in ("SEEN", "REPLACE", "DIED_BEFORE")
        or (owner.core.type == "PLANT" and owner.role in ("OWN", "CONSIDER", None))
    )


def speaks_of_site(maker: Maker, element: Element) -> bool:
    """Whether the sentence up to a size word is about a place and names no plant: "the yard is not large"."""
    site = plant = False
    for token in maker.sentence_before(element):
        if token.type in ("PLANT", "WANT", "WISH", "MUST") or names_kind(token):
            plant = True
        elif token.type in ("SITE", "SPACE", "THING"):
            site = True
        elif token.type == "PHRASE" and not plant:
            site = site or as_conditions(token.meaning)[0].values == ("bank",)
    return site and not plant


def _kind_of(maker: Maker, number: int) -> str:
    """The kind of plant a size word speaks of: tree, shrub or other; nothing when none is named near it."""
    for element in maker.elements[number + 1 : number + 6]:
        if element.island != maker.elements[number].island:
            break
        kinds = (
            [condition.values for condition in as_conditions(element.core.meaning) if condition.trait == "kind"]
            if element.core.type == "PHRASE"
            else []
        )
        if kinds:
            return _defined(str(kinds[0][0]))
    return ""


def _only_kind(maker: Maker) -> str:
    """Where a size word stands by itself ("for cutting, in full sun, tall"), the only kind that is wanted before it; else any."""
    wanted = {
        _defined(str(kind))
        for condition, _ in maker.sources
        if condition.trait == "kind" and condition.test == "any_of"
        for kind in condition.values
    }
    return wanted.pop() if len(wanted) == 1 else "any"


def _defined(kind: str) -> str:
    """The kind by which size words are defined."""
    return {"tree": "tree", "shrub": "shrub"}.get(kind, "other")
