"""What tokens mean: conditions from the vocabulary, negated, merged; colours and size words by their definitions."""

from __future__ import annotations

from typing import Any

from askplant.parsing import Token
from askplant.quantities.lengths import say, say_range
from askplant.reading.elements import Element
from askplant.reading.reading import Condition, Strength

# Traits of which a plant has one value or few, so that two mentions widen the choice instead of contradicting each other.
WIDENING = frozenset(
    "kind light soil form use leaf_colour flower_colour moisture zone size growth taxon wildlife".split()
)
# Values of one trait joined by `and` that a plant can have together; they stay conditions of their own.
TOGETHER = frozenset(["use", "safe_for"])
COLOUR_KEYS = {"leaf_colour": "leaf", "flower_colour": "flower", "fall_colour": "fall"}


def names_kind(token: Token) -> bool:
    """Whether a token names a kind of plant or a use that is one (hedge), so that a size word after it is the plant's."""
    return token.type == "PHRASE" and any(
        found.trait in ("kind", "use", "group") and found.values != ("bank",) for found in as_conditions(token.meaning)
    )


def is_or(element: Element) -> bool:
    return element.joint in ("OR", "COMMA+OR")


def mergeable(before: Condition, after: Condition, joint: str) -> bool:
    """Whether two conditions of one clause are values of one choice."""
    if (
        before.trait != after.trait
        or before.test != after.test
        or before.test not in ("any_of", "none_of")
        or before.either is not None
    ):
        return False
    if before.test == "none_of":
        return True
    if after.trait in TOGETHER:
        return joint in ("OR", "COMMA+OR", "SLASH")
    return after.trait in WIDENING or joint in ("OR", "COMMA+OR", "SLASH", "TO", "DASH")


def merged(before: Condition, after: Condition, request: str) -> Condition:
    """One condition of two: all values, the wider bounds, the text from one to the other."""
    values = tuple(dict.fromkeys(before.values + after.values))
    at = (min(before.at[0], after.at[0]), max(before.at[1], after.at[1]))
    low = None if None in (before.minimum, after.minimum) else min(before.minimum, after.minimum)  # type: ignore[type-var]
    high = None if None in (before.maximum, after.maximum) else max(before.maximum, after.maximum)  # type: ignore[type-var]
    strength: Strength = "must" if "must" in (before.strength, after.strength) else "wish"
    note = before.note if before.note == after.note else " ".join(filter(None, (before.note, after.note))) or None
    return before._replace(
        values=values,
        at=at,
        text=request[at[0] : at[1]],
        minimum=low,
        maximum=high,
        strength=strength,
        note=note,
    )


def as_conditions(meaning: Any) -> tuple[Condition, ...]:
    """The conditions a token's meaning holds, from the vocabulary or already made."""
    note = meaning.get("note")
    return tuple(
        found
        if isinstance(found, Condition)
        else Condition(
            found["trait"], found["test"], tuple(found["values"]), strength=found.get("strength") or "must", note=note
        )
        for found in meaning.get("conditions", ())
    )


def negated(meaning: Any, conditions: tuple[Condition, ...]) -> tuple[Condition, ...]:
    """What a phrase means behind a negation: as the vocabulary says, else none of its values."""
    if "negated" in meaning:
        # What is asked either way ("poisonous to goats", "not poisonous to goats") keeps what is to be said of it.
        note = meaning.get("note") if meaning["negated"] == meaning.get("conditions") else None
        return as_conditions({"conditions": meaning["negated"], "note": note})
    if conditions and conditions[0].trait in ("height", "width"):
        return tuple(map(_other_bound, conditions))
    flipped = {"any_of": "none_of", "none_of": "any_of", "at_least": "none_of", "at_most": "none_of"}
    return tuple(condition._replace(test=flipped.get(condition.test, condition.test)) for condition in conditions)  # type: ignore[arg-type]


def _other_bound(condition: Condition) -> Condition:
    """A bound refused is the other one: "nothing that is higher than 4 ft" is at most 4 ft."""
    if condition.test == "at_least":
        return condition._replace(test="at_most", minimum=None, maximum=condition.minimum)
    if condition.test == "at_most":
        return condition._replace(test="at_least", minimum=condition.maximum, maximum=None)
    return condition


def is_flower(element: Element) -> bool:
    return element.core.type == "PHRASE" and any(
        condition.trait == "flower" for condition in as_conditions(element.core.meaning)
    )


def speaks_of_colour(element: Element) -> bool:
    conditions = as_conditions(element.core.meaning)
    return bool(conditions) and conditions[0].trait in ("flower", *COLOUR_KEYS)


def colour_trait(head: Element) -> str:
    """The colour trait a head that is a phrase speaks of: burgundy/purple foliage is of leaves, white flowering of flowers."""
    conditions = as_conditions(head.core.meaning)
    trait = conditions[0].trait if conditions else ""
    return trait if trait in COLOUR_KEYS else "flower_colour"


def colour_for(trait: str, token: Token) -> str:
    """The value of a colour word for a trait: gold leaves are gold, gold flowers yellow."""
    return str(token.meaning.get(COLOUR_KEYS[trait], token.meaning["value"]))


def size_bounds(token: Token, value: str, kind: str) -> tuple[float | None, float | None]:
    """The written definition of a size word for a kind of plant: (least, most) height in metres."""
    low, _, high = str(token.meaning[kind]).partition("-")
    if value != token.meaning["value"]:
        return (float(high), None) if value.endswith("large") else (None, float(low) or float(high))
    return (float(low) or None), (float(high) if float(high) < 99 else None)


def definition(low: float | None, high: float | None) -> str:
    if low is None and high is not None:
        return f"at most {say(high)}"
    if high is None and low is not None:
        return f"at least {say(low)}"
    return say_range(low or 0, high or 0)
