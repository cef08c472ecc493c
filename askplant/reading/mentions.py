"""Plants that are mentioned: wanted, left out, compared with, to be replaced, or only brought up — five different things."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from askplant.parsing import Token
from askplant.reading.conditions import Maker
from askplant.reading.elements import Element, traits_of
from askplant.reading.meanings import names_kind
from askplant.reading.reading import As, Condition, Mention

# A request of at most this many words that names a plant with no verb around it asks for that plant.
SHORT_REQUEST_WORDS = 14

# What words behind a plant tell of its end.
ENDS = {"DIED": "DIED_BEFORE", "BACKDIED": "DIED_BEFORE", "REPLACE_AFTER": "REPLACE"}
# What goes on a heading of plant and use, and words of an end that make it tell of what stands or stood there.
HEADED = frozenset("HEIGHT LIGHT ZONE PHRASE PLACE".split())
GONE = frozenset("REPLACE REPLACE_AFTER DIED DIED_BEFORE BACKDIED".split())
# How many tokens after a plant its death may be told.
DEATH_REACH = 7

_MENTIONED: dict[str, As] = {
    "SEEN": "seen",
    "REPLACE": "to be replaced",
    "DIED_BEFORE": "died",
    "CONSIDER": "considered",
    "OWN": "seen",
}


class Surroundings(NamedTuple):
    """What the whole request tells about its mentions: its length in words and where its sentences end in a question mark."""

    words: int
    questions: tuple[tuple[int, int], ...]

    def asks(self, at: int) -> bool:
        """Whether a place lies in a question."""
        return any(start <= at < end for start, end in self.questions)


def surroundings(tokens: Sequence[Token]) -> Surroundings:
    """The surroundings a request's tokens make."""
    questions: list[tuple[int, int]] = []
    start = 0
    for token in tokens:
        if token.type == "STOP":
            if token.meaning.get("mark") == "?":
                questions.append((start, token.end))
            start = token.end
    return Surroundings(
        sum(token.type not in ("COMMA", "STOP", "PUNCT", "OPEN", "CLOSE") for token in tokens), tuple(questions)
    )


def shown(token: Token) -> str:
    """The name a mention is shown under: the botanical name of one plant, the group word of several, else as heard."""
    name = token.meaning.get("name")
    return str(name.shown) if name is not None else str(token.meaning["shown"])


def mentioner(around: Surroundings) -> object:
    """The function that settles one mentioned plant in a Maker."""

    def mention(element: Element, maker: Maker) -> None:
        plant = shown(element.core)
        if element.role in (None, "OWN", "SEEN") and not element.must:  # "I want a maple, we had one but it died"
            element.role = _end(element, maker) or element.role
        if element.role is None and _shades(element, maker):
            element.role = "SEEN"
        if element.role is None and _stands_in_replaced(element, maker):
            element.role = "REPLACE"
        headed = element.role is None and _heads(element, maker)
        if element.negated and any(str(token) == "only" for token in element.trails):
            _mentioned(element, maker, plant, "considered")  # "not milkweed only"
        elif (element.negated and element.role not in ("REPLACE", "SEEN")) or _passed_over(element):
            maker.add(element, (Condition("taxon", "none_of", (plant,)),))
        elif element.led_by("NEUTRAL"):
            _mentioned(element, maker, plant, "considered")  # "if not dogwood then what"
        elif element.role == "LIKE":
            maker.add(element, (_like(element, plant),))
        elif element.role == "DIED_BEFORE":
            if not _only_named(element, maker):
                maker.add(element, (Condition("taxon", "none_of", (plant,), strength="wish"),))
            _mentioned(element, maker, plant, "died")
        elif element.role == "REPLACE" and _dead(element):
            maker.add(element, (Condition("taxon", "none_of", (plant,), strength="wish"),))
            _mentioned(element, maker, plant, "died")
        elif element.role in _MENTIONED:
            _mentioned(element, maker, plant, _MENTIONED[element.role])
        elif (
            element.role == "WANT"
            or (element.wish and not (element.trailed_by("WISH_AFTER") and around.asks(element.core.start)))
            or element.must
            or not _in_story(element, around)
            or _beside_kind(element, maker)
            or _offered(element, maker, around)
            or headed
        ):
            strength = (
                "must"
                if element.must
                or headed
                or (around.words <= SHORT_REQUEST_WORDS and not element.wish and not around.asks(element.core.start))
                else "wish"
            )
            maker.add(element, (Condition("taxon", "any_of", (plant,), strength=strength),))  # type: ignore[arg-type]
        else:
            _mentioned(element, maker, plant, "considered" if around.asks(element.core.start) else "seen")

    return mention


def _heads(element: Element, maker: Maker) -> bool:
    """Whether a sentence begins with what is wanted, a plant and what of it: "Holly hedge, 6 ft, …"."""
    behind = [token for token, _ in zip(maker.after(element), range(3), strict=False)]
    if maker.sentence_before(element) or element.leads or len(behind) < 2 or not names_kind(behind[0]):
        return False
    sized = behind[1].type in HEADED or (behind[1].type == "COMMA" and len(behind) > 2 and behind[2].type in HEADED)
    return sized and not any(token.type in GONE for token in maker.tokens)


def _shades(element: Element, maker: Maker) -> bool:
    """Whether the plant only casts the shade that was just spoken of: "in the shade of tall oaks"."""
    of = False
    for token in reversed(maker.sentence_before(element)):
        if token.type == "PHRASE":
            return of and "light" in traits_of(token)
        of = of or str(token) == "of"
        if token.type not in ("FILLER", "SIZE", "COLOR", "OWN"):
            return False
    return False


def _stands_in_replaced(element: Element, maker: Maker) -> bool:
    """Whether the plant is what a row to be replaced consists of: "replace a hedge of burning bush"."""
    of = False
    for token in reversed(maker.sentence_before(element)):
        if token.type == "PHRASE":
            return of and str(token).startswith("replace ")
        of = of or str(token) == "of"
        if token.type not in ("FILLER", "SIZE", "COLOR", "OWN"):
            return False
    return False


def _passed_over(element: Element) -> bool:
    """Whether another plant is to be chosen in place of this one, of which none is said to stand there: "instead of box"."""
    choice = any(token.meaning.get("choice") for token in element.leads)
    return (
        choice and not element.led_by("OWN", "DIED_BEFORE", "SEEN") and not element.trailed_by("DIED", "REPLACE_AFTER")
    )


def _dead(element: Element) -> bool:
    """Whether what is to be replaced has died, and not only as a story: "a replacement for dead boxwoods"."""
    return any(token.type == "DIED_BEFORE" and not token.meaning.get("named") for token in element.leads)


def _only_named(element: Element, maker: Maker) -> bool:
    """Whether the words for its death only tell a story (dying, eaten by deer), without a refusal in them.

    They may stand before the first plant of a list, or behind the last.
    """
    row = [one for one in maker.rows[element.island] if one.core.type == "PLANT"]
    around = [token for one in row for token in (*one.leads, *one.trails)]
    behind = [token for token, _ in zip(maker.after(element), range(DEATH_REACH), strict=False)]
    told = next((token for token in (*around, *behind) if token.type in ("DIED", "DIED_BEFORE")), None)
    return told is not None and bool(told.meaning.get("named"))


def _end(element: Element, maker: Maker) -> str | None:
    """What the same sentence goes on to say became of the plant: "I had a daphne and it died", "the yew … has to go"."""
    for token, _ in zip(maker.after(element), range(DEATH_REACH), strict=False):
        if token.type in ENDS:
            return ENDS[token.type]
        if token.type in ("STOP", "PLANT"):
            return None
    return None


def _offered(element: Element, maker: Maker, around: Surroundings) -> bool:
    """Whether the plant is one of a list with an `or` that is no question: "a clematis, a climbing rose or a honeysuckle"."""
    if element.role is not None or around.asks(element.core.start):
        return False
    row = [other for other in maker.rows[element.island] if other.core.type == "PLANT"]
    return len(row) > 1 and all(other.role is None for other in row) and any("OR" in other.joint for other in row[1:])


def _beside_kind(element: Element, maker: Maker) -> bool:
    """Whether the plant stands in one clause with a kind that is wanted: "a long-lived tree, an oak or a hickory"."""
    return element.role is None and any(
        (other.role == "WANT" or other.must or other.wish) and other.core.type != "PLANT"
        for other in maker.rows[element.island]
    )


def _in_story(element: Element, around: Surroundings) -> bool:
    return around.words > SHORT_REQUEST_WORDS or around.asks(element.core.start)


def _like(element: Element, plant: str) -> Condition:
    than = next(
        (
            str(token.meaning["value"])
            for token in (*element.trails, *element.leads)
            if token.type in ("THAN", "LIKE") and "value" in token.meaning
        ),
        None,
    )
    return Condition("like", "any_of", (plant,), strength="wish", than=than)


def _mentioned(element: Element, maker: Maker, plant: str, role: As) -> None:
    core = element.core
    maker.made.used.append(core)
    text = maker.request[core.start : core.end]
    maker.made.named.append(Mention(plant, role, text, (core.start, core.end)))
