"""All conditions of a request together: repeats merged, later corrections kept, a zone taken from the place, conflicts said."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from askplant.parsing import Token
from askplant.quantities import zones
from askplant.quantities.lengths import say
from askplant.reading.meanings import merged
from askplant.reading.reading import BROWSED, Condition, Conflict, Hidden, Strength

# Traits whose mentions in different places of a request widen one choice.
WIDENED = frozenset(
    (
        "kind light zone soil size form moisture leaf_colour flower_colour bloom taxon growth persistence fall_colour "
    ).split()
)
# What is true of every bed of one garden, wherever in a request it is said.
OF_THE_GARDEN = frozenset("zone heat deer rabbit native safe_for".split())
GRAZERS = ("deer", "rabbit")
ANYBODY = ("children", "dogs", "cats")


def settled(conditions: Sequence[Condition], request: str) -> list[Condition]:
    """The conditions with repeats merged and choices widened, in order of the text."""
    out: list[Condition] = []
    for condition in conditions:
        at = _partner(out, condition)
        if at is None:
            out.append(condition)
        else:
            out[at] = _joined(out[at], condition, request)
    return [condition for condition in out if not _implied(condition, out)]


def _partner(out: Sequence[Condition], condition: Condition) -> int | None:
    for at, before in enumerate(out):
        if before.trait != condition.trait or before.test != condition.test or before.either != condition.either:
            continue
        if (
            condition.trait in ("height", "width")
            and condition.test in ("at_most", "at_least")
            and (before.basis, before.strength) == (condition.basis, condition.strength)
        ):
            return at
        same = (before.values, before.minimum, before.maximum, before.basis) == (
            condition.values,
            condition.minimum,
            condition.maximum,
            condition.basis,
        )
        if (
            same
            or (condition.trait in WIDENED and condition.test in ("any_of", "none_of"))
            or (condition.test == "at_least" and condition.trait in ("deer", "rabbit"))
        ):
            return at
    return None


def _joined(before: Condition, after: Condition, request: str) -> Condition:
    """Two mentions of one choice: the first keeps its words, the second's place is remembered."""
    strength: Strength = "must" if "must" in (before.strength, after.strength) else "wish"
    if before.trait in ("height", "width") and before.test in ("at_most", "at_least"):
        return _stricter_bound(before, after)
    if before.test == "at_least":
        stricter = max((before, after), key=lambda condition: BROWSED.index(str(condition.values[0])))
        return stricter._replace(strength=strength, text=before.text, at=before.at, more=(*before.more, after.at))
    both = merged(before, after, request)
    return both._replace(strength=strength, text=before.text, at=before.at, more=(*before.more, after.at))


def _stricter_bound(before: Condition, after: Condition) -> Condition:
    """Of two limits on one size, the one that leaves less room."""
    if before.test == "at_most":
        keep, other = (before, after) if (before.maximum or 0) <= (after.maximum or 0) else (after, before)
    else:
        keep, other = (before, after) if (before.minimum or 0) >= (after.minimum or 0) else (after, before)
    return keep._replace(more=(*keep.more, other.at))


def _implied(condition: Condition, out: Sequence[Condition]) -> bool:
    """A size word beside a height in figures says nothing more, nor that some kinds would rather not do beside others that are
    asked for.
    """
    if condition.trait == "kind" and condition.test == "none_of" and condition.strength == "wish":
        return any(
            other.trait == "kind" and other.test == "any_of" and not {*other.values} & {*condition.values} for other in out
        )
    return condition.trait == "size" and any(other.trait == "height" for other in out)


def with_grazers(conditions: Sequence[Condition]) -> list[Condition]:
    """What "they" leave alone said of the animals that were named: the vocabulary takes them for deer."""
    named = {found.trait for found in conditions if found.trait in GRAZERS and not _says_they(found)}
    out: list[Condition] = []
    for found in conditions:
        meant = sorted(named) if _says_they(found) and "rabbit" in named else [found.trait]
        out += [found._replace(trait=trait, note=found.note if trait == found.trait else None) for trait in meant]
    return out


def _says_they(condition: Condition) -> bool:
    said = condition.text.casefold()
    return (
        condition.trait in GRAZERS
        and any(word in said for word in ("they", "their"))
        and not any(name in said for name in ("deer", "rabbit", "bunn"))
    )


def with_animals(conditions: Sequence[Condition], tokens: Sequence[Token]) -> list[Condition]:
    """`non-toxic` said where animals or children are named is safe for just those; "safe for dogs and horses" for both."""
    conditions = [
        _safe_for(found, found.values, _joined_animals(found.at[1], tokens))
        if found.trait == "safe_for" and found.values != ANYBODY
        else found
        for found in conditions
    ]
    named = [token for token in tokens if token.type == "ANIMAL"]
    if any(found.trait == "safe_for" and found.values not in (ANYBODY, ()) for found in conditions) and not named:
        # "We have two cats who chew … Nontoxic!": what is safe for the cats is said already.
        return [found for found in conditions if found.trait != "safe_for" or found.values != ANYBODY]
    if not named:
        return list(conditions)
    return [
        _safe_for(found, (), named) if found.trait == "safe_for" and found.values == ANYBODY else found
        for found in conditions
    ]


def _safe_for(condition: Condition, values: Sequence[str | int | float], named: Iterable[Token]) -> Condition:
    """Safe for some and for animals that were named, with what is to be said of those that no list tells of."""
    animals = tuple(named)
    who = dict.fromkeys((*values, *(str(token.meaning["value"]) for token in animals)))
    notes = dict.fromkeys((condition.note, *(token.meaning.get("note") for token in animals)))
    return condition._replace(values=tuple(who), note=" ".join(filter(None, notes)) or None)


def _joined_animals(end: int, tokens: Sequence[Token]) -> Iterable[Token]:
    """The animals joined to a place of a request by and, or, a comma or a slash."""
    for token in tokens:
        if token.start < end:
            continue
        if token.type == "ANIMAL":
            yield token
        elif token.type not in ("AND", "OR", "COMMA", "SLASH", "FILLER", "OWN"):
            return


def with_hidden(conditions: Sequence[Condition], tokens: Sequence[Token]) -> list[Condition]:
    """A note on a screen that no height was asked for: how high the thing is that it is to hide."""
    if any(found.trait in ("height", "size") for found in conditions):
        return list(conditions)
    name, height, token = _hidden(tokens)
    if token is None:
        return list(conditions)
    told = say(height)
    note = (
        f"What it is to hide is {told} high: nothing lower hides it. No height was said."
        if token.type == "STORY"
        else f"To hide {name} it must come to about {told}; no height was said."
    )
    return [
        found._replace(note=note) if found.trait == "use" and "screen" in found.values and not found.note else found
        for found in conditions
    ]


def hidden(tokens: Sequence[Token], request: str) -> Hidden | None:
    """The first thing to be hidden whose height was said, or is known by its kind."""
    name, height, token = _hidden(tokens)
    if token is None:
        return None
    return Hidden(name or request[token.start : token.end], height, (token.start, token.end))


def _hidden(tokens: Sequence[Token]) -> tuple[str | None, float, Token | None]:
    """The thing by its kind, its height in metres, and where that stands: behind it where the caller told its own."""
    name: str | None = None
    known: tuple[float, Token] | None = None
    for token in tokens:
        height = token.meaning.get("object") if token.type == "STORY" else None
        if height:
            return name, float(height), token
        thing = token.meaning if token.type == "HIDDEN" else token.meaning.get("hides")
        if thing and known is None:
            name, known = str(thing["name"]), (float(thing["m"]), token)
            if not thing.get("own"):
                break
    return (name, *known) if known is not None else (None, 0.0, None)


def closest(places: Sequence[Token]) -> Token:
    """Of the places said, within the state of the first, the one that tells its zone most closely: "Denver, Colorado"."""
    return min((one for one in places if one.meaning["code"] == places[0].meaning["code"]), key=_half_zones)


def _half_zones(place: Token) -> int:
    low, high = (zones.index(part) for part in str(place.meaning["zones"]).split("-"))
    return high - low


def zone_of_place(token: Token, request: str) -> Condition:
    """The zones inside a state, a province or about a town, coldest first, with a note that asks which."""
    low, high = (zones.index(part) for part in str(token.meaning["zones"]).split("-"))
    names = tuple(zones.name(number) for number in range(low, high + 1))
    start, end, name = token.start, token.end, str(token.meaning["name"])
    place = f"{name[:1].upper()}{name[1:]}"
    note = (
        f"{place}: zone {names[0]} in your table."
        if low == high
        else f"{place} runs from zone {names[0]} to {names[-1]}; the coldest is counted. Which zone is it?"
    )
    return Condition("zone", "any_of", names, text=request[start:end], at=(start, end), note=note)


def second_sites(conditions: Sequence[Condition], tokens: Sequence[Token]) -> list[Conflict]:
    """That a second place is spoken of: what is said of it is not to be mixed up with the first, so each is asked by itself."""
    start = next((token.start for token in tokens if token.type == "SECONDSITE"), None)
    if start is None:
        return []
    behind = tuple(number for number, found in enumerate(conditions) if found.at[0] >= start)
    return [
        Conflict(
            behind,
            "Two places seem to be spoken of; ask for each by itself, for what fits the one may not fit the other.",
        )
    ]


def parted(
    conditions: Sequence[Condition], tokens: Sequence[Token]
) -> tuple[tuple[tuple[int, int], list[Condition]], ...]:
    """Spans of the request with the conditions of each place: two where both have some of their own, else one of all.

    What holds of the whole garden is said once: the second place takes it over where nothing else is said of it.
    """
    end = max((token.end for token in tokens), default=0)
    for start in (token.start for token in tokens if token.type == "SECONDSITE"):
        first = [found for found in conditions if found.at[0] < start]
        second = [found for found in conditions if found.at[0] >= start]
        if all(any(found.trait not in OF_THE_GARDEN for found in side) for side in (first, second)):
            said = {found.trait for found in second}
            shared = [found for found in first if found.trait in OF_THE_GARDEN and found.trait not in said]
            return ((0, start), first), ((start, end), [*shared, *second])
    return (((0, end), list(conditions)),)


def conflicts(conditions: Sequence[Condition]) -> list[Conflict]:
    """Conditions that cannot hold together, by their numbers, with what to tell the caller."""
    return [*_evergreen_and_fall(conditions), *_sizes(conditions), *_held_apart(conditions)]


def _numbers(conditions: Sequence[Condition], trait: str, test: str | None = None) -> Iterable[tuple[int, Condition]]:
    return (
        (number, found)
        for number, found in enumerate(conditions)
        if found.trait == trait and (test is None or found.test == test)
    )


def _evergreen_and_fall(conditions: Sequence[Condition]) -> Iterable[Conflict]:
    for one, persistence in _numbers(conditions, "persistence", "any_of"):
        for other, _ in _numbers(conditions, "fall_colour", "any_of"):
            if persistence.values == ("evergreen",):
                yield Conflict(
                    (one, other),
                    "An evergreen keeps its leaves, so it has no fall colour to speak of: one of the two must "
                    "give way.",
                )


def _sizes(conditions: Sequence[Condition]) -> Iterable[Conflict]:
    for trait in ("height", "width"):
        bounded = list(_numbers(conditions, trait))
        for at, (one, first) in enumerate(bounded):
            for other, second in bounded[at + 1 :]:
                low = max((bound for bound in (first.minimum, second.minimum) if bound is not None), default=None)
                high = min((bound for bound in (first.maximum, second.maximum) if bound is not None), default=None)
                if low is not None and high is not None and low > high + 1e-6:
                    yield Conflict(
                        (one, other),
                        f"Two {trait}s are asked that cannot both hold: at least {say(low)} and at most {say(high)}.",
                    )


def _held_apart(conditions: Sequence[Condition]) -> Iterable[Conflict]:
    """The same value asked for and refused."""
    for one, wanted in enumerate(conditions):
        for other, refused in enumerate(conditions):
            if wanted.trait == refused.trait and wanted.test == "any_of" and refused.test == "none_of":
                both = set(wanted.values) & set(refused.values)
                if both and wanted.trait != "taxon":
                    yield Conflict(
                        (one, other), f"{', '.join(map(str, sorted(both, key=str)))} is asked for and refused."
                    )
