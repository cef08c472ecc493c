"""What is doubtful about the names of cards: borne by two plants, written two ways, or against the rules of naming.

The rules are those of the International Code of Nomenclature for Cultivated Plants, 9th edition (ICNCP), 2016, as far as a
name alone shows whether they are kept. Old names may break them and stay right, so nothing here stops a build.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import combinations

from askplant.base.cards import Card
from askplant.base.findings import WARNING, Finding
from askplant.base.names import HYBRID, RANKS, Words, words_of

# Two ids of one genus that differ by one letter are doubted from this length on.
NEAR_LENGTH = 8
# An epithet's most characters without its spaces and quotation marks; asked of epithets published since 1996 (ICNCP).
LONGEST_EPITHET = 30
# Words that no epithet published since 1959 may hold, in any number (ICNCP).
NOT_IN_EPITHETS = frozenset(
    (
        "cultivar cultivars form forms grex grexes group groups hybrid hybrids improved maintenance mixture mixtures "
        "selection selections series sport sports strain strains transformed variety varieties"
    ).split()
)
# Conjunctions, prepositions and the articles between names, which may begin small inside an epithet.
SMALL_WORDS = frozenset(
    (
        "a an and as at by for from in into of off on or over the to under upon with "
        "al am an au aux d da das de del della der des di do du e el et i im in l la las le les los n och op "
        "san sur ten ter und van vom von y zu zum zur no"
    ).split()
)

_ABBREVIATED = re.compile(r"cvs?[.\s]", re.IGNORECASE)
_MARKS = "'’‘.,!/\\-()"


def doubts(cards: Iterable[Card]) -> Iterator[Finding]:
    """All that is doubtful about the names of the cards."""
    cards = list(cards)
    yield from _shared_names(cards)
    yield from _common_as_botanical(cards)
    yield from _near_names(cards)
    for card in cards:
        if card.epithet:
            yield from _against_rules(card, card.epithet)


def _doubt(card: Card, found: str, expected: str) -> Finding:
    return Finding(WARNING, card.file, card.line, "names", found, expected)


def _bearer(card: Card) -> str:
    return f"{card.botanical} ({card.file}:{card.line})"


def _bare(name: str) -> Words:
    """The words that tell a name from others: without hybrid signs and ranks, and however it is spaced or marked."""
    return tuple(word for word in words_of(name) if word not in HYBRID and word not in RANKS)


def _shared_names(cards: Iterable[Card]) -> Iterator[Finding]:
    """Synonyms and selling names that stand for two plants, or for a plant that has a card under that very name."""
    bearers = {_bare(card.botanical): card for card in cards}
    for card in cards:
        for kind, listed in (("synonym", card.synonym), ("heard", card.heard)):
            for name in listed:
                other = bearers.setdefault(_bare(name), card)
                if other is not card:
                    found = f"{kind} `{name}` of {card.botanical}, which {_bearer(other)} bears too"
                    yield _doubt(card, found, "a name of one plant only")


def _common_as_botanical(cards: Iterable[Card]) -> Iterator[Finding]:
    """Common names that are another plant's botanical name: whoever says it would be told of the wrong one."""
    botanical = {_bare(card.botanical): card for card in cards}
    for card in cards:
        for name in card.common:
            other = botanical.get(_bare(name))
            if other is not None and other is not card:
                found = f"common name `{name}` of {card.botanical}, the botanical name of {_bearer(other)}"
                yield _doubt(card, found, "a common name that is no other plant's botanical one")


def _near_names(cards: Iterable[Card]) -> Iterator[Finding]:
    """Two cards of one genus that may be one plant under two spellings."""
    genera: dict[str, list[Card]] = defaultdict(list)
    for card in cards:
        genera[card.genus].append(card)
    for alike in genera.values():
        for one, other in combinations(alike, 2):
            if min(len(one.id), len(other.id)) < NEAR_LENGTH:
                continue
            if _one_letter_apart(one.id, other.id) or _same_epithet(one, other):
                found = f"{other.botanical}, very like {_bearer(one)}"
                yield _doubt(other, found, "one card a plant, under one spelling")


def _one_letter_apart(one: str, other: str) -> bool:
    """Whether one letter too many, too few, wrong or swapped with its neighbour tells two ids apart."""
    at = next(
        (place for place, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), min(len(one), len(other))
    )
    a, b = one[at:], other[at:]
    return a[1:] == b[1:] or a == b[1:] or a[1:] == b or (a[:2] == b[1::-1] and a[2:] == b[2:])


def _same_epithet(one: Card, other: Card) -> bool:
    """The same fancy name under two species of a genus; single Latin words (`Compacta`) are given to many."""
    return bool(
        one.epithet and other.epithet and " " in one.epithet and one.epithet.casefold() == other.epithet.casefold()
    )


def _against_rules(card: Card, epithet: str) -> Iterator[Finding]:
    """Each rule of naming that the epithet breaks; epithets in Latin form are let be, since old ones are right."""
    for broken in (_abbreviated, _too_long, _small_letters, _empty_words):
        found = broken(epithet)
        if found:
            yield _doubt(card, f"epithet '{epithet}' {found[0]}", f"{found[1]} (ICNCP)")


def _abbreviated(epithet: str) -> tuple[str, str] | None:
    return ("with cv.", "the epithet alone in its quotes") if _ABBREVIATED.match(epithet) else None


def _too_long(epithet: str) -> tuple[str, str] | None:
    length = sum(not sign.isspace() for sign in epithet)
    if length > LONGEST_EPITHET:
        return f"of {length} characters", f"at most {LONGEST_EPITHET} without spaces, unless it is older than 1996"
    return None


def _small_letters(epithet: str) -> tuple[str, str] | None:
    """Words behind a hyphen may begin small, and so may the small words everywhere but at the start."""
    for place, word in enumerate(_words(epithet)):
        if word[0].islower() and (place == 0 or word not in SMALL_WORDS):
            return f"with `{word}` in small letters", "a capital at each main word"
    return None


def _empty_words(epithet: str) -> tuple[str, str] | None:
    for word in _words(epithet.replace("-", " ")):
        if word.lower() in NOT_IN_EPITHETS:
            return f"with the word {word}", "an epithet without it, unless it is older than 1959"
    return None


def _words(epithet: str) -> list[str]:
    """The words between blanks, without the marks around them."""
    return [word for word in (part.strip(_MARKS) for part in epithet.split()) if word]
