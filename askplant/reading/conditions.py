"""Elements → conditions, one element after the other: strength, negation, corrections; the rest by its own module."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from askplant.parsing import Token
from askplant.quantities import zones
from askplant.quantities.lengths import FOOT
from askplant.reading import alternatives, backward, colours, ranges, sizewords
from askplant.reading.before import IS
from askplant.reading.elements import NEGATIONS, Element, describes, traits_of
from askplant.reading.lengths import ROW_FROM, room
from askplant.reading.meanings import as_conditions, negated
from askplant.reading.reading import As, Condition, Mention, Strength

# How many elements away a colour may find its head.
REACH = 12
# Uses that are planted in a row.
ROWS = frozenset(("hedge", "screen", "windbreak"))
HEDGES = frozenset(("hedge",))
# How many tokens before a row's length the place may have been named that it runs along.
ALONG_REACH = 9
# A bare number with a bound is a height in feet between these; outside them it counts something else.
LEAST_FEET, MOST_FEET = 2, 100
# How many tokens back a correction may stand.
CORRECTION_REACH = 5
# Words by which a phrase itself is a must, whatever was wished before.
MUSTS = frozenset(("must", "mustnt", "mustn't"))
# Kinds that callers name as they name a plant.
NAMED_KINDS = frozenset(("bamboo",))
# Kinds that may be told to do well already where the new plants are to stand.
TOLD_KINDS = NAMED_KINDS | {"fern"}
# Words for the plant that was just spoken of.
PRONOUNS = frozenset("it they them these those she he".split())
# How many tokens back a sentence is followed.
LONGEST_SENTENCE = 80


class Made(NamedTuple):
    """What the elements came to: conditions in order of the text, plants only mentioned, spans that turned out unread, tokens
    that conditions and mentions are made of, and the length of a row.
    """

    conditions: list[Condition]
    named: list[Mention]
    loose: list[Token]
    used: list[Token]
    run: float | None = None


class Maker:
    """Turns the elements of one request into conditions."""

    def __init__(
        self,
        request: str,
        elements: Sequence[Element],
        mention: Callable[[Element, Maker], None],
        tokens: Sequence[Token] = (),
    ) -> None:
        self.request, self.elements, self.mention, self.tokens = request, elements, mention, tokens
        self.made = Made([], [], [], [])
        self.sources: list[tuple[Condition, Element]] = []
        self.either = 0
        self.starts = [token.start for token in tokens]
        self.colour_sense = colours.sense_of(elements)
        self.owners = {id(element.core): element for element in elements}
        self.rows: dict[int, list[Element]] = {}
        for element in elements:
            self.rows.setdefault(element.island, []).append(element)
        self._row_length: float | None = None
        self._corrects = False

    def run(self) -> Made:
        """Conditions, mentions and left-overs of all elements."""
        for number, element in enumerate(self.elements):
            self._element(number, element)
        backward.compared(self)
        backward.longed(self)
        backward.refused(self)
        backward.buried(self)
        alternatives.joined(self)
        return self.made._replace(conditions=[condition for condition, _ in self.sources], run=self._row_length)

    def add(
        self, element: Element, conditions: Sequence[Condition], start: int | None = None, end: int | None = None
    ) -> None:
        """Add an element's conditions with their strength and place."""
        at = (element.core.start if start is None else start, element.core.end if end is None else end)
        self.made.used.append(element.core)
        for condition in conditions:
            if self._corrects:
                self._take_back(condition)
            wished = element.wish and not (element.must or _says_must(self.request[at[0] : at[1]]))
            strength: Strength = "wish" if wished or condition.strength == "wish" else "must"
            self.sources.append(
                (condition._replace(strength=strength, text=self.request[at[0] : at[1]], at=at), element)
            )

    def _element(self, number: int, element: Element) -> None:
        kind = element.core.type
        self._corrects = self._is_correction(number, element)
        if ranges.adjusted(self, element) or (element.neutral and kind != "PLANT"):
            self.made.used.append(element.core)
        elif kind == "PLANT":
            self.mention(element, self)
        elif kind == "COLOR":
            colours.colour(self, number, element)
        elif kind in colours.HEADS:
            colours.head(self, number, element)
        elif kind == "SIZE":
            sizewords.size(self, number, element)
        elif kind == "MONTHS":
            colours.months(self, number, element)
        elif kind == "BLOOMHEAD":
            colours.bloomhead(self, number, element)
        elif kind == "NUMBER":
            self._number(element)
        elif kind == "HEIGHT" and self._of_old_plant(number):
            (self.made.loose if element.leads else self.made.used).append(element.core)
        elif kind == "HEIGHT" and element.core.meaning.get("bare") and self._is_row():
            self.made.used.append(element.core)
            self._row_length = element.core.meaning["bare"]
        elif kind == "HEIGHT" and (self._is_length_of_row(element) or self._is_along(element)):
            self.made.used.append(element.core)
            self._row_length = element.core.meaning["conditions"][0].maximum
        elif kind == "HEIGHT" and self._is_room(element):
            self.add(element, (room(float(element.core.meaning["conditions"][0].maximum)),))
        else:
            self._phrase(number, element)

    def _is_length_of_row(self, element: Element) -> bool:
        """Whether the length that there is to plant is a row's, where one is asked for and no other run is said."""
        told = [token.meaning for token in self.tokens if token is not element.core]
        if (
            not self._is_row()
            or self._row_length
            or any(one.get(key) for one in told for key in ("run", "along", "bare"))
        ):
            return False
        had = self._is_room(element) and element.core.meaning["conditions"][0].maximum >= ROW_FROM
        return had or bool(element.core.meaning.get("had"))

    def _is_along(self, element: Element) -> bool:
        """Whether a bare length right behind what a row runs along is the row's: "a 3 ft hedge along the walk, 20 ft".

        Where no height is said it is so for hedges and from a length on that hedges are not asked to be high.
        """
        found = element.core.meaning["conditions"]
        if not element.core.meaning.get("plain") or self._row_length or not self._runs_along(element):
            return False
        high = max((one.maximum or 0 for one, _ in self.sources if one.trait == "height"), default=None)
        if high is not None:
            return self._is_row() and found[0].minimum is not None and found[0].minimum > high
        return self._is_row(HEDGES) and (found[0].minimum or 0) >= ROW_FROM

    def _runs_along(self, element: Element) -> bool:
        """Whether the place that a row stands along was named just before: "along the walkway," "beside the path,"."""
        place = bisect_left(self.starts, element.core.start)
        told = [token for token in self.tokens[max(place - ALONG_REACH, 0) : place] if token.type != "OWN"]
        for at in range(len(told) - 1, 0, -1):
            if told[at].type in ("SITE", "THING") and told[at - 1].type == "SEEN":
                return True
            if told[at].type not in ("COMMA", "FILLER", "PUNCT", "SITE", "THING", "HEIGHT", "PHRASE", "ABOUT"):
                return False
        return False

    def _is_room(self, element: Element) -> bool:
        """Whether a bare length is the room the caller has: "I have 8 feet." """
        if not element.core.meaning.get("plain") or element.core.meaning["conditions"][0].maximum is None:
            return False
        after = next(self.after(element), None)
        have = any(token.type == "OWN" and str(token).split(" ")[-1] in ("have", "got") for token in element.leads)
        return have and (after is None or after.type in ("STOP", "BUT", "COMMA"))

    def _is_correction(self, number: int, element: Element) -> bool:
        """Whether the caller takes back what was said just before: "10 ft, no, make that 12"."""
        before = self.elements[number - 1] if number else None
        start = element.leads[0].start if element.leads else element.core.start
        place = bisect_left(self.starts, start)
        for token in reversed(self.tokens[max(place - CORRECTION_REACH, 0) : place]):
            if token.type == "CORRECTION":
                return before is not None and before.core.start < token.start
            if token.type not in ("FILLER", "COMMA", "PUNCT", "OWN", "DASH", "NOT", "STOP", "AND"):
                return False
        return False

    def differs_from_like(self, element: Element) -> bool:
        """Whether a size behind a plant to be like says how it is to differ: "like a willow but much smaller"."""
        refused = str(element.core).split(" ")[0] in NEGATIONS
        if not refused and not str(element.core).endswith("er"):
            return False
        smaller = refused or element.core.meaning["value"] == "small"
        for at in range(len(self.sources) - 1, -1, -1):
            found, owner = self.sources[at]
            if found.trait == "like" and found.than is None and owner.island == element.island:
                self.sources[at] = (found._replace(than="smaller" if smaller else "larger"), owner)
                self.made.used.append(element.core)
                return True
        return False

    def say_no_more(self, element: Element, trait: str) -> None:
        """Drop an element's condition that another word says more closely: "blooms in red" is red, not only showy."""
        self.sources = [
            source for source in self.sources if source[1] is not element or source[0].trait != trait or source[0].more
        ]

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
            low = value * factor if last.minimum else None
            high = value * factor if last.maximum else None
            self.add(element, (last._replace(note=None, minimum=low, maximum=high),))
        elif last is not None and last.trait == "zone" and value in range(1, 14):
            self.add(element, (last._replace(values=tuple(zones.name(half) for half in zones.halves(int(value)))),))
        elif self._is_height(element):
            self._bounded(element, value)
        else:
            self.made.loose.append(element.core)

    def _is_height(self, element: Element) -> bool:
        """Whether a number without a unit, but with a bound, follows a length: "not 60 feet tall, 20 is plenty"."""
        meaning = element.core.meaning
        return (
            meaning.get("test") in ("at_most", "at_least")
            and LEAST_FEET <= float(meaning["n"]) <= MOST_FEET
            and any(
                token.type == "HEIGHT" or token.meaning.get("length")
                for token in self.tokens[: bisect_left(self.starts, element.core.start)]
            )
        )

    def _bounded(self, element: Element, feet: float) -> None:
        """A height bound in feet; a height about which nothing surer was said gives way to it."""
        at_most = element.core.meaning["test"] == "at_most"
        for at in range(len(self.sources) - 1, -1, -1):
            if self.sources[at][0].trait == "height" and self.sources[at][0].test == "about":
                del self.sources[at]
        low, high = (None, feet * FOOT) if at_most else (feet * FOOT, None)
        bound = Condition("height", element.core.meaning["test"], minimum=low, maximum=high, unit="m", basis="grown")
        self.add(element, (bound,))

    def _of_old_plant(self, number: int) -> bool:
        """Whether a height is that of a plant that is only mentioned: "taking out a 12 ft burning bush"."""
        height = self.elements[number]
        before = self.elements[number - 1] if number and not height.joint else None
        told = all(str(token) in IS for token in height.leads)  # "my maples are 30 ft tall"
        if before is not None and before.core.type == "PLANT" and before.island == height.island and told:
            return before.role in ("REPLACE", "DIED_BEFORE", "OWN")  # "they ate our arborvitae up to 5 ft"
        after = self.elements[number + 1] if number + 1 < len(self.elements) else None
        if after is None or after.core.type != "PLANT" or after.joint or after.island != height.island:
            return False
        return {after.role, height.role} & {"REPLACE", "SEEN", "DIED_BEFORE", "OWN"} != set()

    def _is_row(self, rows: frozenset[str] = ROWS) -> bool:
        """Whether the request speaks of a hedge, screen or windbreak, so that a long bare length is its run."""
        return any(
            condition.trait == "use" and set(condition.values) & rows
            for element in self.elements
            if element.core.type == "PHRASE"
            for condition in as_conditions(element.core.meaning)
        )

    def _phrase(self, number: int, element: Element) -> None:
        conditions = as_conditions(element.core.meaning)
        before = self.elements[number - 1] if number and element.joint == "" else None
        form = element.core.meaning.get("alone") and traits_of(element.core) == {"form"}
        if form and sizewords.speaks_of_site(self, element):
            self.made.used.append(element.core)  # "our lot: flat, sunny"
            return
        if before is not None and before.core.type == "PLANT" and before.role == "SEEN" and element.role is None:
            element.role = "SEEN"  # "the shade of pine trees": the trees are the pines
        if element.negated and conditions and conditions[0].trait == "kind" and sizewords.is_restricted(self, element):
            element.negated = False
        if self._is_named_kind(element, conditions):
            text = self.request[element.core.start : element.core.end]
            role: As = "considered" if element.role == "CONSIDER" and not element.led_by("OWN") else "seen"
            self.made.used.append(element.core)
            self.made.named.append(Mention(str(element.core), role, text, (element.core.start, element.core.end)))
            return
        if element.negated and self._tells_of_another(element):
            self.made.used.append(element.core)
            return
        if element.negated:
            conditions = negated(element.core.meaning, conditions)
        if (
            element.role in ("SEEN", "DIED_BEFORE", "REPLACE")
            and conditions
            and conditions[0].trait in ("kind", "group")
            and not element.led_by("WANT", "MUST")
        ):
            self.made.used.append(element.core)
            return
        if element.role in ("SEEN", "DIED_BEFORE", "REPLACE") and self._describes_next(number):
            self.made.used.append(element.core)
            return
        self.add(element, conditions)

    def _describes_next(self, number: int) -> bool:
        """Whether a phrase only says what the plant behind it is like, which is not the one wanted: "under deciduous trees"."""
        after = self.elements[number + 1] if number + 1 < len(self.elements) else None
        return (
            after is not None
            and describes(self.elements[number].core)
            and after.joint == ""
            and not after.leads
            and after.island == self.elements[number].island
            and (after.core.type == "PLANT" or bool(traits_of(after.core) & {"kind", "group"}))
        )

    @staticmethod
    def _is_named_kind(element: Element, conditions: Sequence[Condition]) -> bool:
        """Whether a kind is only brought up, as a plant's name is: "our bamboo got out of hand", "the ferns are happy there"."""
        kinds = {value for found in conditions if found.trait == "kind" for value in found.values}
        told = element.led_by("OWN") and element.trailed_by("CONSIDER_AFTER")
        named = kinds <= (TOLD_KINDS if told else NAMED_KINDS)
        return bool(kinds) and named and element.role in ("OWN", "CONSIDER") and not element.negated

    def _tells_of_another(self, element: Element) -> bool:
        """Whether a refusal is told of a plant brought up before: "hostas can't take full sun", "they scorch in it"."""
        refusal = next((token for token in element.leads if token.meaning.get("refusal")), None)
        if refusal is None:
            return False
        before = self.sentence_before(element)
        before = before[: next((n for n, token in enumerate(before) if token is refusal), len(before))]
        said = next((token for token in reversed(before) if token.type not in ("NOT", "CONSIDER", "PUNCT")), None)
        return any(token.type == "PLANT" for token in before) or (said is not None and str(said) in PRONOUNS)

    def near(self, number: int, step: int, wanted: Sequence[str], through: Sequence[str]) -> Element | None:
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

    def after(self, element: Element) -> Iterator[Token]:
        """The tokens of the request behind an element, in order."""
        for at in range(bisect_left(self.starts, element.core.end), len(self.tokens)):
            yield self.tokens[at]

    def sentence_before(self, element: Element) -> list[Token]:
        """The tokens between the start of the sentence and an element, in order."""
        out: list[Token] = []
        place = bisect_left(self.starts, element.core.start)
        for at in range(place - 1, max(place - LONGEST_SENTENCE, 0) - 1, -1):
            if self.tokens[at].type in ("STOP", "BUT"):
                break
            out.append(self.tokens[at])
        return out[::-1]


def _says_must(text: str) -> bool:
    """Whether a phrase itself says that it must be so: "ideally evergreen, and roots must not lift the walk"."""
    return not MUSTS.isdisjoint(text.casefold().split())
