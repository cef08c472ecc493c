"""Elements → conditions: strength, negation, colours with their heads, size words with their kinds, alternatives."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from askplant.parsing import Token
from askplant.quantities import zones
from askplant.quantities.lengths import FOOT
from askplant.reading.elements import Element
from askplant.reading.reading import Condition, Mention, Strength, Test

# Traits of which a plant has one value or few, so that two mentions widen the choice instead of contradicting each other.
WIDENING = frozenset(
    "kind light soil form use leaf_colour flower_colour moisture zone size growth taxon wildlife".split()
)
# Values of one trait joined by `and` that a plant can have together; they stay conditions of their own.
TOGETHER = frozenset(["use", "safe_for"])
# How many elements away a colour may find its head.
REACH = 12
# What makes a bare colour the colour of flowers.
FLOWERY = frozenset(
    {("flower", "showy"), ("kind", "perennial"), ("kind", "annual"), ("kind", "bulb"), ("kind", "vine")}
    | {("bloom", season) for season in ("spring", "summer", "fall", "winter")}
)
# Uses that are planted in a row.
ROWS = frozenset(("hedge", "screen", "windbreak"))
# How many tokens back a correction may stand.
CORRECTION_REACH = 5
# How many tokens back a sentence is followed.
LONGEST_SENTENCE = 80
HEADS = {"LEAFHEAD": "leaf_colour", "FLOWERHEAD": "flower_colour", "FALLHEAD": "fall_colour", "FRUITHEAD": "fruit"}
# What a head says when no colour stands before it.
BARE_HEADS: dict[str, tuple[Condition, ...]] = {
    "FLOWERHEAD": (Condition("flower", "any_of", ("showy",)),),
    "FALLHEAD": (Condition("fall_colour", "any_of", ("any",)),),
    "FRUITHEAD": (Condition("fruit", "any_of", ("showy",)),),
}
_COLOUR_KEYS = {"leaf_colour": "leaf", "flower_colour": "flower", "fall_colour": "fall"}
# Things whose size is no plant's: the site, parts of a plant.
ELSEWHERE = frozenset("SITE SPACE THING LEAFHEAD FLOWERHEAD FRUITHEAD RUN".split())


@dataclass(slots=True)
class Made:
    """What the elements came to: conditions in order of the text, plants only mentioned, spans that turned out unread."""

    conditions: list[Condition] = field(default_factory=list)
    named: list[Mention] = field(default_factory=list)
    loose: list[Token] = field(default_factory=list)
    used: list[Token] = field(default_factory=list)
    run: float | None = None


@dataclass(slots=True)
class Maker:
    """Turns the elements of one request into conditions."""

    request: str
    elements: Sequence[Element]
    mention: Callable[[Element, Maker], None]
    tokens: Sequence[Token] = ()
    made: Made = field(default_factory=Made)
    either: int = 0
    sources: list[tuple[Condition, Element]] = field(default_factory=list)
    _starts: list[int] = field(default_factory=list)
    _owners: dict[int, Element] = field(default_factory=dict)
    _corrects: bool = False

    def run(self) -> Made:
        """Conditions, mentions and left-overs of all elements."""
        self._starts = [token.start for token in self.tokens]
        self._owners = {id(element.core): element for element in self.elements}
        for number, element in enumerate(self.elements):
            self._element(number, element)
        self._alternatives()
        self.made.conditions = [condition for condition, _ in self.sources]
        return self.made

    def add(
        self, element: Element, conditions: Sequence[Condition], start: int | None = None, end: int | None = None
    ) -> None:
        """Add an element's conditions with their strength and place."""
        at = (element.core.start if start is None else start, element.core.end if end is None else end)
        self.made.used.append(element.core)
        for condition in conditions:
            if self._corrects:
                self._take_back(condition)
            strength: Strength = (
                "wish" if (element.wish and not element.must) or condition.strength == "wish" else "must"
            )
            self.sources.append(
                (replace(condition, strength=strength, text=self.request[at[0] : at[1]], at=at), element)
            )

    # ---- one element

    def _element(self, number: int, element: Element) -> None:
        kind = element.core.type
        self._corrects = self._is_correction(number, element)
        if element.neutral and kind != "PLANT":
            self.made.used.append(element.core)
        elif kind == "PLANT":
            self.mention(element, self)
        elif kind == "COLOR":
            self._colour(number, element)
        elif kind in HEADS:
            self._head(number, element)
        elif kind == "SIZE":
            self._size(number, element)
        elif kind == "MONTHS":
            self._months(number, element)
        elif kind == "BLOOMHEAD":
            self._bloomhead(number, element)
        elif kind == "NUMBER":
            self._number(element)
        elif kind == "HEIGHT" and element.core.meaning.get("bare") and self._is_row():
            self.made.used.append(element.core)
            self.made.run = element.core.meaning["bare"]
        else:
            self._phrase(element)

    def _is_correction(self, number: int, element: Element) -> bool:
        """Whether the caller takes back what was said just before: "10 ft, no, make that 12"."""
        before = self.elements[number - 1] if number else None
        start = element.leads[0].start if element.leads else element.core.start
        place = bisect_left(self._starts, start)
        for token in reversed(self.tokens[max(place - CORRECTION_REACH, 0) : place]):
            if token.type == "CORRECTION":
                return before is not None and before.core.start < token.start
            if token.type not in ("FILLER", "COMMA", "PUNCT", "OWN", "DASH", "NOT", "STOP", "AND"):
                return False
        return False

    def _take_back(self, condition: Condition) -> None:
        """Drop the latest condition on the same trait."""
        for at in range(len(self.sources) - 1, -1, -1):
            if self.sources[at][0].trait == condition.trait:
                del self.sources[at]
                return

    def _number(self, element: Element) -> None:
        """A bare number is nothing, unless it corrects a size or a zone."""
        last = self.sources[-1][0] if self.sources and self._corrects else None
        value = float(element.core.meaning["n"])
        if last is not None and last.trait in ("height", "width"):
            factor = FOOT if last.minimum != value else 1.0
            ends = {"minimum": value * factor if last.minimum else None, "maximum": value * factor if last.maximum else None}
            self.add(element, (replace(last, note=None, **ends),))
        elif last is not None and last.trait == "zone" and value in range(1, 14):
            self.add(element, (replace(last, values=tuple(zones.name(half) for half in zones.halves(int(value)))),))
        else:
            self.made.loose.append(element.core)

    def _is_row(self) -> bool:
        """Whether the request speaks of a hedge, screen or windbreak, so that a long bare length is its run."""
        return any(
            condition.trait == "use" and set(condition.values) & ROWS
            for element in self.elements
            if element.core.type == "PHRASE"
            for condition in as_conditions(element.core.meaning)
        )

    def _phrase(self, element: Element) -> None:
        conditions = as_conditions(element.core.meaning)
        if element.negated and conditions and conditions[0].trait == "kind" and self._restricted(element):
            element.negated = False
        if element.negated:
            conditions = negated(element.core.meaning, conditions)
        if (
            element.role in ("SEEN", "DIED_BEFORE", "REPLACE")
            and conditions
            and conditions[0].trait in ("kind", "group")
            and not element.led_by("WANT")
        ):
            self.made.used.append(element.core)
            return
        self.add(element, conditions)

    def _near(self, number: int, step: int, wanted: Sequence[str], through: Sequence[str]) -> Element | None:
        """The nearest element of the same clause in one direction, past elements of the kinds in `through` only."""
        at = number + step
        while (
            abs(at - number) <= REACH
            and 0 <= at < len(self.elements)
            and self.elements[at].island == self.elements[number].island
        ):
            element = self.elements[at]
            joint = element.joint if step > 0 else self.elements[at + 1].joint
            if "COMMA" in joint and step > 0 and element.core.type not in ("COLOR", *wanted):
                return None
            if element.core.type in wanted:
                return element
            if element.core.type not in through:
                return None
            at += step
        return None

    # ---- colours

    def _colour(self, number: int, element: Element) -> None:
        head = self._near(number, 1, tuple(HEADS), ("COLOR",)) or self._bloom_ahead(number)
        if head is None:
            self._bare_colour(number, element)
            return
        trait = HEADS.get(head.core.type, "flower_colour")
        start, end = element.core.start, head.core.end
        conditions: tuple[Condition, ...]
        if trait == "fruit":
            conditions = (Condition("fruit", "any_of", ("showy",)),)
        else:
            conditions = (Condition(trait, "any_of", (colour_for(trait, element.core),)),)
        if element.negated:
            conditions = tuple(replace(condition, test="none_of") for condition in conditions)
        element.wish = element.wish or head.wish
        self.add(element, conditions, start, end)

    def _bloom_ahead(self, number: int) -> Element | None:
        head = self._near(number, 1, ("BLOOMHEAD", "PHRASE"), ("COLOR",))
        if head is None or head.core.type == "BLOOMHEAD":
            return head
        conditions = as_conditions(head.core.meaning)
        return head if conditions and conditions[0].trait == "flower" else None

    def _bare_colour(self, number: int, element: Element) -> None:
        """A colour without a head is a foliage colour only when no other sense is usual (variegated); else it is left unread."""
        head = self._near(number, -1, ("PHRASE", "LEAFHEAD"), ("COLOR",))
        if head is not None and (_is_flower(head) or head.core.type == "LEAFHEAD"):
            trait = "leaf_colour" if head.core.type == "LEAFHEAD" else "flower_colour"
            self.add(element, (Condition(trait, "any_of", (colour_for(trait, element.core),)),))
        elif (trait := self._colour_sense(element)) is not None:
            test: Test = "none_of" if element.negated else "any_of"
            self.add(element, (Condition(trait, test, (colour_for(trait, element.core),)),))
        else:
            self.made.loose.append(element.core)

    def _colour_sense(self, element: Element) -> str | None:
        """What a colour by itself is the colour of: flowers where flowers are spoken of, leaves of conifers, else unknown."""
        if element.core.meaning["value"] == "variegated":
            return "leaf_colour"
        conditions = [found for other in self.elements for found in as_conditions(other.core.meaning) if other.core.type == "PHRASE"]
        asked = {(found.trait, value) for found in conditions for value in found.values}
        if asked & FLOWERY or any(other.core.type in ("FLOWERHEAD", "BLOOMHEAD") for other in self.elements):
            return "flower_colour"
        return "leaf_colour" if ("group", "conifer") in asked else None

    def _head(self, number: int, element: Element) -> None:
        if self._near(number, -1, ("COLOR",), ()) is not None:
            self.made.used.append(element.core)
            return
        conditions = BARE_HEADS.get(element.core.type, ())
        if not conditions:
            self.made.loose.append(element.core)
            return
        if element.negated:
            value = "none" if conditions[0].trait in ("flower", "fruit") else conditions[0].values[0]
            test: Test = "any_of" if value == "none" else "none_of"
            conditions = (replace(conditions[0], values=(value,), test=test),)
        self.add(element, conditions)

    # ---- months of bloom

    def _months(self, number: int, element: Element) -> None:
        near = [other for other in self.elements[max(number - 3, 0) : number + 4] if other.island == element.island]
        if any(other.core.type in ("BLOOMHEAD", "FLOWERHEAD") or _is_flower(other) for other in near):
            element.wish = element.wish or any(other.wish for other in near if other.core.type == "BLOOMHEAD")
            self.add(element, (Condition("bloom", "any_of", tuple(element.core.meaning["values"])),))
        else:
            self.made.used.append(element.core)

    def _bloomhead(self, number: int, element: Element) -> None:
        near = self.elements[max(number - 3, 0) : number + 4]
        if any(other.island == element.island and other.core.type in ("MONTHS", "COLOR") for other in near):
            self.made.used.append(element.core)
        elif element.negated:
            self.add(element, (Condition("flower", "any_of", ("none",)),))
        else:
            self.add(element, BARE_HEADS["FLOWERHEAD"])

    # ---- size words

    def _size(self, number: int, element: Element) -> None:
        if self._of_something_else(number, element):
            self.made.used.append(element.core)
            return
        kind = self._kind_of(number)
        value = str(element.core.meaning["value"])
        if element.negated:
            value = {"small": "large", "large": "small"}.get(value, value)
        low, high = size_bounds(element.core, value, kind)
        plant = self._near(number, 1, ("PLANT",), ("SIZE", "COLOR"))
        if plant is not None and plant.role in ("SEEN", "REPLACE", "DIED_BEFORE"):
            self.made.used.append(element.core)
            return
        condition = Condition(
            "size",
            "any_of",
            (value,),
            low,
            high,
            "m",
            "grown",
            note=f"{value} {kind}: read as {_definition(low, high)}.",
        )
        self.add(element, (replace(condition, strength="wish" if element.core.meaning.get("wish") else "must"),))

    def _after(self, element: Element) -> Iterator[Token]:
        """The tokens of the request behind an element, in order."""
        for at in range(bisect_left(self._starts, element.core.end), len(self.tokens)):
            yield self.tokens[at]

    def _sentence_before(self, element: Element) -> list[Token]:
        """The tokens between the start of the sentence and an element, in order."""
        out: list[Token] = []
        place = bisect_left(self._starts, element.core.start)
        for at in range(place - 1, max(place - LONGEST_SENTENCE, 0) - 1, -1):
            if self.tokens[at].type in ("STOP", "BUT"):
                break
            out.append(self.tokens[at])
        return out[::-1]

    def _restricted(self, element: Element) -> bool:
        """`no tree that will …`: the clause that follows is what is refused, not the tree."""
        after = next(
            (token for token in self.tokens if token.start >= element.core.end and token.type != "FILLER"), None
        )
        return after is not None and after.type == "BUT" and str(after) in ("that", "which")

    def _of_something_else(self, number: int, element: Element) -> bool:
        """Whether a size word speaks of the site, a part of a plant or a plant that is only mentioned."""
        for token in self._after(element):
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
            if token.type == "PHRASE":
                if as_conditions(token.meaning)[:1] and as_conditions(token.meaning)[0].trait in (
                    "kind",
                    "use",
                    "group",
                ):
                    return self._is_scenery(token)
                continue
            if token.type == "PLANT":
                return self._is_scenery(token)
            if token.type in ELSEWHERE:
                return True
            break
        return self._speaks_of_site(element)

    def _is_scenery(self, token: Token) -> bool:
        """Whether the plant or kind a size word stands before is only part of the scene."""
        owner = self._owners.get(id(token))
        return owner is not None and (
            owner.role in ("SEEN", "REPLACE", "DIED_BEFORE", "CONSIDER")
            or (owner.core.type == "PLANT" and owner.role in ("OWN", None))
        )

    def _speaks_of_site(self, element: Element) -> bool:
        """Whether the sentence up to a size word is about a place and names no plant: "the yard is not large"."""
        site = plant = False
        for token in self._sentence_before(element):
            if token.type in ("PLANT", "WANT", "WISH", "MUST") or _names_kind(token):
                plant = True
            elif token.type in ("SITE", "SPACE", "THING"):
                site = True
            elif token.type == "PHRASE" and not plant:
                site = site or as_conditions(token.meaning)[0].values == ("bank",)
        return site and not plant

    def _kind_of(self, number: int) -> str:
        """The kind of plant a size word speaks of: tree, shrub, other, or any when none is named near it."""
        for element in self.elements[number + 1 : number + 6]:
            if element.island != self.elements[number].island:
                break
            kinds = (
                [condition.values for condition in as_conditions(element.core.meaning) if condition.trait == "kind"]
                if element.core.type == "PHRASE"
                else []
            )
            if kinds:
                return {"tree": "tree", "shrub": "shrub"}.get(str(kinds[0][0]), "other")
        return "any"

    # ---- alternatives

    def _alternatives(self) -> None:
        """Join what is said as alternatives: values of one trait in one condition, different traits by an `either` number."""
        out: list[tuple[Condition, Element]] = []
        for condition, element in self.sources:
            if out and _joined_to(out[-1], (condition, element)):
                before, owner = out[-1]
                if mergeable(before, condition, element.joint):
                    out[-1] = (merged(before, condition, self.request), element)
                    continue
                if _true_or(element) and before.trait != condition.trait and before.test == "any_of" == condition.test:
                    out[-1], condition = self._either(before, owner, out, condition)
            out.append((condition, element))
        self.sources = out

    def _either(
        self, before: Condition, owner: Element, out: list[tuple[Condition, Element]], condition: Condition
    ) -> tuple[tuple[Condition, Element], Condition]:
        if before.trait == "kind" or condition.trait in ("kind", "size"):
            return (before, owner), condition
        if before.either is None:
            self.either += 1
        number = before.either or self.either
        return (replace(before, either=number), owner), replace(condition, either=number)


def _names_kind(token: Token) -> bool:
    """Whether a token names a kind of plant or a use that is one (hedge), so that a size word after it is the plant's."""
    return token.type == "PHRASE" and any(
        found.trait in ("kind", "use", "group") and found.values != ("bank",) for found in as_conditions(token.meaning)
    )


def _true_or(element: Element) -> bool:
    return element.joint in ("OR", "COMMA+OR")


def _joined_to(before: tuple[Condition, Element], after: tuple[Condition, Element]) -> bool:
    return before[1].island == after[1].island


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
    return replace(
        before,
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
        return as_conditions({"conditions": meaning["negated"]})
    flipped = {"any_of": "none_of", "none_of": "any_of", "at_least": "none_of", "at_most": "none_of"}
    return tuple(replace(condition, test=flipped.get(condition.test, condition.test)) for condition in conditions)  # type: ignore[arg-type]


def _is_flower(element: Element) -> bool:
    return element.core.type == "PHRASE" and any(
        condition.trait == "flower" for condition in as_conditions(element.core.meaning)
    )


def colour_for(trait: str, token: Token) -> str:
    """The value of a colour word for a trait: gold leaves are gold, gold flowers yellow."""
    return str(token.meaning.get(_COLOUR_KEYS[trait], token.meaning["value"]))


def size_bounds(token: Token, value: str, kind: str) -> tuple[float | None, float | None]:
    """The written definition of a size word for a kind of plant: (least, most) height in metres."""
    low, _, high = str(token.meaning[kind]).partition("-")
    if value != token.meaning["value"]:
        return (float(high), None) if value == "large" else (None, float(low) or float(high))
    return (float(low) or None), (float(high) if float(high) < 99 else None)


def _definition(low: float | None, high: float | None) -> str:
    from askplant.quantities.lengths import say, say_range

    if low is None and high is not None:
        return f"at most {say(high)}"
    if high is None and low is not None:
        return f"at least {say(low)}"
    return say_range(low or 0, high or 0)
