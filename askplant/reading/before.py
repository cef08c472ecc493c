"""What the words before a length tell of it: that it is a bed's, that of a thing with a size of its own, or a lid's."""

from __future__ import annotations

from collections.abc import Sequence

from askplant.parsing import Token
from askplant.reading.elements import traits_of
from askplant.reading.meanings import as_conditions
from askplant.reading.vocabulary import ARTICLES

# Words that end the name of a place to plant, though the whole name says a use: "foundation bed".
BEDS = frozenset(("bed", "strip", "border"))
# What is said of a place to plant, not of the plant.
OF_A_SITE = frozenset("light soil moisture ph wind heat salt drought zone".split())
# How many tokens before a length its bed or border may have been named.
SPACE_REACH = 9
# How many tokens before a length a thing may have been named that the plant is to stay below.
LID_REACH = 9
# How many tokens back a sentence is followed for the thing it tells of.
SENTENCE_REACH = 40
# Words between a thing and its size, and those that speak of the thing of the sentence before.
IS = frozenset(("is", "are", "was", "were", "stand", "measure"))
ITSELF = frozenset(("it", "its", "it is", "that", "they"))
WHICH = frozenset(("which", "that"))
# Words behind which pots are where the plant goes.
PUT_IN = frozenset("for in into a the my our each".split())
# Words that make a thing the measure of the plant: "to the height of the eaves, about 4 m".
AS_HIGH = frozenset(("height", "level", "tall", "high"))
# What may stand between a bed and its size.
_BETWEEN = frozenset("FILLER PUNCT COMMA OWN ABOUT BUT AND SEEN SITE THING STORY FROM OPEN WORD CONSIDER DASH".split())
# What may stand between a thing and its size where a sentence tells of nothing else.
_TOLD = frozenset("FILLER PUNCT COMMA AND STORY CONSIDER SIZE COLOR WORD ABOUT OPEN".split())

# What shows that a sentence speaks of plants, by the kind of its words and by the traits of its phrases.
_OF_PLANTS = frozenset("PLANT WANT WISH MUST MAX MIN KEPT HEIGHT SIZE COLOR TASKED".split())
_ASKED = frozenset("kind group use form growth persistence".split())

# What may stand between a thing that is to be hidden and its size.
_TO_ITS_SIZE = frozenset("COMMA OPEN PUNCT CONSIDER OWN ABOUT SITE DASH".split())


def in_space(before: Sequence[Token]) -> bool:
    """Whether a bed, border or strip was named just before, with no plant or kind of plant since."""
    for token in reversed(before[-SPACE_REACH:]):
        if token.type == "SPACE" or (token.type == "PHRASE" and str(token).split(" ")[-1] in BEDS):
            return True
        if token.type not in _BETWEEN:
            return False
    return False


def of_bed(before: Sequence[Token]) -> bool:
    """Whether the sentence so far tells of a bed and what it is like, and of no plant: "a square bed in full sun, 10 by 10"."""
    for token in reversed(before[-SENTENCE_REACH:]):
        if token.type == "SPACE" or (token.type == "SITE" and str(token) in BEDS):
            return True
        traits = traits_of(token)
        # "The bed in front of the porch is" 8 x 3: where it lies is told before what it measures.
        lies = traits == {"use"} and str(before[-1]) in IS
        if token.type not in _BETWEEN | {"PLACE", "LIGHT", "ZONE"} and not (traits and (traits <= OF_A_SITE or lies)):
            return False
    return False


def under_lid(before: Sequence[Token]) -> bool:
    """Whether a bound and a thing to stay below were just named: "not taller than the sill, which is at" 30 in."""
    recent = list(before[-LID_REACH:])
    lid = next((at for at in range(len(recent) - 1, -1, -1) if recent[at].meaning.get("lid")), None)
    if lid is None or any(token.type not in _BETWEEN | {"MAX", "TO", "WANT"} for token in recent[lid:]):
        return False
    return bounded(recent[:lid])


def bounded(before: Sequence[Token]) -> bool:
    """Whether an upper bound stands just before, articles aside."""
    return next((token.type == "MAX" for token in reversed(before) if token.type not in ("FILLER", "OWN")), False)


def between(before: Sequence[Token]) -> bool:
    """Whether two things were just named that a plant is to stand between: "between the drive and a wall, 4 ft apart"."""
    for token in reversed(before[-SPACE_REACH:]):
        if str(token).startswith("between"):
            return True
        if token.type == "STOP":
            return False
    return False


def after_narrow(before: Sequence[Token]) -> bool:
    """Whether a narrow form was just asked for, so that a length without a direction is its width: "thin, 18 in"."""
    last = next((token for token in reversed(before) if token.type not in ("COMMA", "FILLER", "PUNCT", "ABOUT")), None)
    asked = as_conditions(last.meaning) if last is not None and last.type == "PHRASE" else ()
    return any(one.trait == "form" and "narrow" in one.values for one in asked)


def of_site(before: Sequence[Token]) -> bool:
    """Whether a height is said of the site: "the house is 40 feet tall"."""
    if len(before) < 2 or str(before[-1]) not in IS:
        return False
    return before[-2].type in ("SITE", "THING")


def of_old_plant(before: Sequence[Token]) -> bool:
    """Whether a plant that stands or stood elsewhere was just said to be of a size: "hers was" 12 ft."""
    last = next((token for token in reversed(before) if token.type not in ("FILLER", "ABOUT")), None)
    return last is not None and bool(last.meaning.get("old"))


def is_told(before: Sequence[Token]) -> bool:
    """Whether the sizes are those of a pot or of an unknown thing: "the pot is" 2 ft across, "the plaque is" 8 in wide."""
    at = len(before) - 1
    while (
        at > 0 and before[at].type in ("AND", "COMMA", "STORY", "BY", "FILLER", "ABOUT") and str(before[at]) not in IS
    ):
        at -= 1
    if at < 1 or str(before[at]) not in IS:
        return False
    unknown = before[at - 1].type == "WORD" and at > 1 and before[at - 2].type == "OWN"
    return _is_pot(before[at - 1]) or (unknown and (at < 3 or before[at - 3].type in ("STOP", "COMMA", "AND", "BUT")))


def lies_at(before: Sequence[Token]) -> bool:
    """Whether a sentence that names no plant tells how far off a thing is: "there is the road at" 3 m."""
    place = False
    if not before or before[-1].type not in ("FILLER", "COLD") or str(before[-1]).split(" ")[-1] != "at":
        return False
    for token in reversed(before):
        if token.type == "STOP":
            break
        if token.type in _OF_PLANTS or traits_of(token) & _ASKED:
            return False
        place = place or token.type in ("SITE", "THING", "WORD")
    return place


def of_pot(before: Sequence[Token]) -> bool:
    """Whether pots were just named, whose depth is no plant's room: "deck planters, 18 in deep"."""
    last = next((token for token in reversed(before) if token.type not in ("COMMA", "FILLER", "OPEN", "PUNCT")), None)
    return last is not None and _is_pot(last)


def of_two_pots(before: Sequence[Token]) -> bool:
    """Whether pots were named as what there is, and not as where the plant goes: "two zinc troughs, 90 x 40 cm"."""
    at = len(before) - 1
    while at > 0 and before[at].type in ("COMMA", "FILLER", "OPEN", "PUNCT"):
        at -= 1
    return (
        at > 0
        and _is_pot(before[at])
        and str(before[at - 1]) not in PUT_IN
        and not str(before[at]).startswith(("for ", "in "))
    )


def _is_pot(token: Token) -> bool:
    return token.type == "PHRASE" and "container" in str(token.meaning.get("conditions"))


def of_thing(before: Sequence[Token]) -> bool:
    """Whether a size without a bound is that of a thing just told of, which is no plant."""
    recent = before[-SENTENCE_REACH:]
    told = (_after_thing, _of_thing_told, _of_thing_beside, _of_hidden, _of_thing_that_is, _of_own_size)
    return any(one(recent) for one in told)


def _of_thing_told(before: Sequence[Token]) -> bool:
    """Whether the sentence so far only tells of a thing: "our electric box is an eyesore," 4 ft by 4 ft."""
    for number in range(len(before) - 1, -1, -1):
        token = before[number]
        if token.type in ("SITE", "THING") and token.meaning.get("thing"):
            return number + 1 < len(before) and str(before[number + 1]) in IS
        if token.type not in _TOLD and not _is_screen(token):
            return False
    return False


def _of_thing_beside(before: Sequence[Token]) -> bool:
    """Whether a thing and what it stands beside were just named: "the utility box by the drive," 3 ft tall."""
    at = len(before) - 2
    if at < 0 or before[-1].type not in ("COMMA", "OPEN"):
        return False
    while at >= 0 and before[at].type in ("FILLER", "OWN", "SITE", "THING"):
        at -= 1
    if at < 1 or before[at].type != "SEEN":
        return False
    if _is_screen(before[at - 1]):
        return bool(before[at - 1].meaning.get("thing"))
    told = (token.type for token in before[: at - 1])
    return bool(before[at - 1].meaning.get("thing")) and all(kind in _TOLD | {"OWN", "STOP"} for kind in told)


def _of_hidden(before: Sequence[Token]) -> bool:
    """Whether a sentence of its own tells the size of what was to be hidden: "hide the trailer? It's about" 8 ft tall."""
    at = len(before) - 1
    while at >= 0 and before[at].type in ("FILLER", "ABOUT", "PUNCT", "CONSIDER", "STORY", "AND", "BY"):
        at -= 1
    said = [str(token) for token in before[at + 1 :] if token.type == "FILLER"]
    if at < 0 or before[at].type != "STOP" or not said or said[0] not in ITSELF:
        return False
    for number in range(at - 1, -1, -1):
        if before[number].type == "STOP":
            return False
        if _is_screen(before[number]):
            # "A screen. It is to be 8 ft tall" hides nothing that was named.
            return " " in str(before[number]) or before[number + 1].type in ("OWN", "SITE", "THING", "WORD")
    return False


def _of_thing_that_is(before: Sequence[Token]) -> bool:
    """Whether a clause about what is to be hidden tells its size: "screen the shed which is" 8 ft high."""
    at = len(before) - 1
    while at >= 0 and before[at].type in ("FILLER", "ABOUT", "PUNCT"):
        at -= 1
    if at < 2 or str(before[at]) not in IS or str(before[at - 1]) not in WHICH:
        return False
    at -= 2
    named = False
    while at > 0 and before[at].type in ("FILLER", "OWN", "SITE", "THING", "HIDDEN", "COMMA"):
        named = named or before[at].type in ("SITE", "THING", "HIDDEN")
        at -= 1
    return _is_screen(before[at]) and (
        named or bool(before[at].meaning.get("thing") or before[at].meaning.get("hides"))
    )


def _of_own_size(before: Sequence[Token]) -> bool:
    """Whether a thing that callers tell the size of was just named as what is to be hidden: "hide an ac unit," 4 ft."""
    for number in range(len(before) - 1, -1, -1):
        token = before[number]
        thing = token.meaning if token.type == "HIDDEN" else token.meaning.get("hides")
        if thing:
            return bool(thing.get("own")) and any(map(_is_screen, before[: number + 1]))
        if token.type not in _TO_ITS_SIZE and str(token) not in WHICH | ITSELF | ARTICLES:
            return False
    return False


def _after_thing(before: Sequence[Token]) -> bool:
    """Whether the sizes belong to a thing that was just named: "fence, 200 ft long by 4 ft high"."""
    parted = False
    for number in range(len(before) - 1, max(len(before) - 4, -1), -1):
        token = before[number]
        if token.type == "THING" or _is_spared(token):
            return not (parted and _only_beside(before[:number]))
        if token.type == "STORY":
            # A thing of a known height has no second one: "hide a 6 ft fence, 10 ft tall" is a plant's.
            return token.meaning.get("object") is not None and not parted
        if token.type not in ("COMMA", "FILLER", "OPEN", "PUNCT", "CONSIDER", "OWN"):
            return False
        parted = parted or token.type == "COMMA"
    return False


def _only_beside(before: Sequence[Token]) -> bool:
    """Whether a thing is named only as where the plant stands or how high it grows, by what stands before it.

    "An evergreen by a path, waist high" is a plant's height; "the utility box by the drive, 3 ft tall" is the box's.
    """
    recent = [token for token in before[-4:] if token.type not in ("OWN", "PUNCT") and str(token) not in ARTICLES]
    if not recent:
        return False
    if str(recent[-1]) == "of" and len(recent) > 1:
        return str(recent[-2]) in AS_HIGH
    return recent[-1].type == "SEEN" and not (len(recent) > 1 and recent[-2].meaning.get("thing"))


def _is_spared(token: Token) -> bool:
    """Whether a phrase names a thing that roots are to spare: "a retaining wall"."""
    return token.type == "PHRASE" and traits_of(token) == {"roots"} and bool(token.meaning.get("thing"))


def _is_screen(token: Token) -> bool:
    return token.type == "PHRASE" and "screen" in str(token.meaning.get("conditions"))
