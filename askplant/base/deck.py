"""Everything that stands in traits/, put together: dictionary, sources, cards with their parents, observations.

A folder of the user's own is laid over it: its cards add to ours or replace lines of them, its sources and observations
are added.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from difflib import get_close_matches
from pathlib import Path

from askplant.base import botanical, cards, observations, postcodes, sources, traits
from askplant.base.cards import Card
from askplant.base.observations import Observed
from askplant.base.records import Source
from askplant.base.traits import Dictionary
from askplant.errors import CardError


@dataclass(frozen=True, slots=True)
class Deck:
    """The whole of traits/ and the user's own folder.

    `cards` is in order of id; `own` are the user's as they stand, by id; `faults` is all that stops a build, by file and
    line.
    """

    dictionary: Dictionary
    sources: dict[str, Source]
    cards: tuple[Card, ...]
    observations: tuple[Observed, ...]
    faults: tuple[CardError, ...]
    own: dict[str, Card]
    postcodes: dict[str, str]


def read(folder: Path, own: Path | None = None) -> Deck:
    """The traits folder under the user's own; CardError where the dictionary cannot be read, which all is judged by."""
    dictionary = traits.read(folder)
    known: dict[str, Source] = {}
    faults: list[CardError] = []
    layers = [(folder, folder.name), *([(own, label_of(own))] if own else ())]
    held = [_cards(place, label, dictionary, known, faults) for place, label in layers]
    laid = _laid_over(held)
    if not laid and not faults:
        faults.append(CardError(f"{folder.name}/plants", 1, "no card", "a file a genus, with at least one card in all"))
    linked = _linked(laid, faults)
    measured: list[Observed] = []
    for place, label in layers:
        some, wrong = observations.read(place, label, linked.keys(), known)
        measured += some
        faults += wrong
    codes, wrong_codes = postcodes.read(own, label_of(own)) if own else ({}, [])
    faults += wrong_codes
    ordered = sorted(faults, key=lambda fault: (fault.file, fault.line))
    upper = held[1] if own else {}
    return Deck(dictionary, known, tuple(linked.values()), tuple(measured), tuple(ordered), upper, codes)


def label_of(own: Path) -> str:
    """How faults name the user's own folder: in full, since it may be anywhere."""
    return own.as_posix()


def _cards(
    folder: Path, label: str, dictionary: Dictionary, known: dict[str, Source], faults: list[CardError]
) -> dict[str, Card]:
    """The cards of one folder by id; its sources and faults are added to those given."""
    faults += sources.read(folder, label, known)
    found: list[Card] = []
    for path in sorted((folder / "plants").glob("*.txt")):
        some, wrong = cards.read_file(path, f"{label}/plants/{path.name}", dictionary, known)
        found += some
        faults += wrong
    return _once_each(found, faults)


def _laid_over(held: Iterable[dict[str, Card]]) -> dict[str, Card]:
    """The cards of all folders in order of id, each folder's laid over those of the same plants before."""
    laid: dict[str, Card] = {}
    for layer in held:
        for plant, card in layer.items():
            laid[plant] = laid[plant].under(card) if plant in laid else card
    return dict(sorted(laid.items()))


def _once_each(found: Iterable[Card], faults: list[CardError]) -> dict[str, Card]:
    by_id: dict[str, Card] = {}
    for card in sorted(found, key=lambda card: card.id):
        first = by_id.setdefault(card.id, card)
        if first is not card:
            place = f"{first.file}:{first.line}"
            faults.append(
                CardError(
                    card.file,
                    card.line,
                    f"a second card of {card.botanical}",
                    f"one card a plant; the first is {place}",
                )
            )
    return by_id


def _linked(by_id: dict[str, Card], faults: list[CardError]) -> dict[str, Card]:
    """The cards with their parents; those that would inherit from themselves are left without one."""
    linked = {plant: replace(card, parent_id=_parent(card, by_id, faults)) for plant, card in by_id.items()}
    for card in [card for card in linked.values() if _in_circle(card, linked)]:
        faults.append(card.fault_of_like(f"{card.botanical} inherits from itself", "`like:` without a circle"))
        linked[card.id] = replace(card, parent_id=None)
    return linked


def _parent(card: Card, by_id: dict[str, Card], faults: list[CardError]) -> str | None:
    """The id of the card it inherits from: the one `like:` names, else the nearest wider taxon that has a card."""
    if card.like == cards.NOTHING:
        return None
    if card.like is None:
        wider = (botanical.plain_id(name) for name in botanical.parse(card.botanical).wider)
        return next((plant for plant in wider if plant in by_id), None)
    wanted = botanical.plain_id(card.like)
    if wanted in by_id:
        return wanted
    close = get_close_matches(card.like, [other.botanical for other in by_id.values()], n=1)
    hint = f"; nearest is {close[0]}" if close else ""
    faults.append(card.fault_of_like(f"`like: {card.like}`, which has no card", f"a plant with a card{hint}"))
    return None


def _in_circle(card: Card, by_id: dict[str, Card]) -> bool:
    seen: set[str] = set()
    step = card.parent_id
    while step is not None and step not in seen:
        if step == card.id:
            return True
        seen.add(step)
        step = by_id[step].parent_id
    return False
