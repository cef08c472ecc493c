"""Everything wrong or doubtful in traits/: what stops a build as errors, what an expert would ask about as warnings."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from itertools import combinations
from pathlib import Path
from typing import NamedTuple

from askplant.base import claims, deck, phrases, resolve
from askplant.base.cards import Card
from askplant.base.deck import Deck
from askplant.base.resolve import Settled, Values, said
from askplant.base.traits import Dictionary
from askplant.errors import CardError
from askplant.quantities import zones
from askplant.quantities.months import say_months

ERROR, WARNING = "error", "warning"
VOCABULARY = "vocabulary"

# What every card should come to, its own or inherited.
NEEDED = ("kind", "form", "persistence", "height_grown", "width_grown", "zone_cold", "light")
# What a cultivar's card must say itself.
OWN = ("height_grown", "width_grown")
HEIGHTS = ("height_label", "height_grown", "height_old")
SOURCED_HEIGHTS = 2
# Pairs of sizes of which the first should not reach above the second.
ORDERED = (
    ("height_label", "height_old"),
    ("height_grown", "height_old"),
    ("width_label", "width_old"),
    ("width_grown", "width_old"),
)
# A columnar plant is at most this part of its height wide before it is doubted.
COLUMNAR = 0.5
# Bloom in these months is doubted of a plant hardy in zones colder than this one, unless its card speaks of winter.
WINTER, WINTER_ZONE = frozenset({12, 1, 2}), zones.index("6a")
# Two ids of one genus that differ by one letter are doubted from this length on.
NEAR_LENGTH = 8


class Finding(NamedTuple):
    """One thing wrong (`error`) or doubtful (`warning`): its place, what it is about, what is there, what should be."""

    severity: str
    file: str
    line: int
    what: str
    found: str
    expected: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.severity}: found {self.found}; expected {self.expected}"


def check(folder: Path) -> list[Finding]:
    """All findings of a traits folder, in order of file and line."""
    try:
        read = deck.read(folder)
    except CardError as fault:
        return [_error(fault)]
    findings = [_error(fault) for fault in (*read.faults, *_vocabulary(folder))]
    findings += _doubts(read)
    return sorted(findings, key=lambda finding: (finding.file, finding.line, finding.severity))


def _error(fault: CardError) -> Finding:
    return Finding(ERROR, fault.file, fault.line, "form", fault.found, fault.expected)


def _vocabulary(folder: Path) -> Iterator[CardError]:
    """The first fault of the phrases and of the claims; neither goes on after one."""
    for read in (phrases.compiled(folder / VOCABULARY), claims.rows(folder)):
        yield from _first_fault(read, folder)


def _first_fault(read: Iterable[object], folder: Path) -> Iterator[CardError]:
    try:
        for _ in read:
            pass
    except CardError as fault:
        file = Path(fault.file)
        # Named as the other files are, from the folder on.
        label = file.relative_to(folder.parent).as_posix() if file.is_relative_to(folder.parent) else fault.file
        yield CardError(label, fault.line, fault.found, fault.expected)


def _doubts(read: Deck) -> Iterator[Finding]:
    settled = resolve.settle(read.cards, read.dictionary)
    by_id = {card.id: card for card in read.cards}
    for card in read.cards:
        about = _About(card, settled[card.id], by_id, read.dictionary)
        for doubt in _CARD_DOUBTS:
            yield from doubt(about)
    yield from _wrong_files(read.cards)
    yield from _shared_names(read.cards)
    yield from _near_names(read.cards)


class _About:
    """One card with all that it comes to."""

    def __init__(self, card: Card, values: Values, by_id: Mapping[str, Card], dictionary: Dictionary) -> None:
        self.card, self.values, self.by_id, self.dictionary = card, values, by_id, dictionary
        self.lines = {entry.trait: entry.line for entry in reversed(card.entries)}

    def doubt(self, what: str, found: str, expected: str, *traits: str) -> Finding:
        """A warning at the first of the traits that the card itself states, else at the card's head."""
        line = next((self.lines[trait] for trait in traits if trait in self.lines), self.card.line)
        return Finding(WARNING, self.card.file, line, what, found, expected)

    def both(self, first: str, second: str) -> tuple[Settled, Settled] | None:
        """Two traits that are both known, at least one of them from this card: what is all inherited was told there."""
        if first in self.values and second in self.values and (first in self.lines or second in self.lines):
            return self.values[first], self.values[second]
        return None

    def said(self, trait: str) -> str:
        return f"{trait} {said(self.dictionary.traits[trait], self.values[trait].meaning)}"


def _no_species(about: _About) -> Iterator[Finding]:
    card = about.card
    if card.epithet and card.parent_id is None and card.like is None:
        expected = "a card of its species, or `like:` with what it inherits from, or `like: nothing`"
        yield about.doubt("parent", f"{card.botanical} without a species card", expected)


def _genus_alone(about: _About) -> Iterator[Finding]:
    if about.card.botanical.removeprefix("× ") == about.card.genus:
        yield about.doubt("name", f"the genus {about.card.genus} alone", "a species, a hybrid or a cultivar")


def _missing(about: _About) -> Iterator[Finding]:
    kinds = about.values["kind"].meaning.words if "kind" in about.values else ()
    lacking = [
        trait for trait in NEEDED if trait not in about.values and not (trait == "zone_cold" and "annual" in kinds)
    ]
    if lacking:
        yield about.doubt(
            "missing", f"{about.card.botanical} without {', '.join(lacking)}", "each of them, its own or inherited"
        )


def _borrowed_sizes(about: _About) -> Iterator[Finding]:
    lacking = [trait for trait in OWN if trait in about.values and trait not in about.lines]
    if about.card.epithet and lacking:
        yield about.doubt(
            "sizes", f"{about.card.botanical} with its parent's {' and '.join(lacking)}", "sizes of its own"
        )


def _few_sources(about: _About) -> Iterator[Finding]:
    stated = [statement for trait in HEIGHTS if trait in about.values for statement in about.values[trait].statements]
    keys = {statement.entry.source for statement in stated if statement.entry.source}
    if len(keys) < SOURCED_HEIGHTS:
        found = f"{len(keys)} source{'' if len(keys) == 1 else 's'} for the heights of {about.card.botanical}"
        yield about.doubt("sources", found, f"at least {SOURCED_HEIGHTS}", *HEIGHTS)


def _sizes_out_of_order(about: _About) -> Iterator[Finding]:
    for smaller, larger in ORDERED:
        pair = about.both(smaller, larger)
        if pair and (pair[0].meaning.high or 0.0) > (pair[1].meaning.high or 0.0):
            yield about.doubt(
                "sizes",
                f"{about.said(smaller)} above {about.said(larger)}",
                f"{larger} at least as large",
                smaller,
                larger,
            )


def _wide_column(about: _About) -> Iterator[Finding]:
    pair = about.both("width_grown", "height_grown")
    if not pair or "form" not in about.values or "columnar" not in about.values["form"].meaning.words:
        return
    width, height = (settled.meaning.middle for settled in pair)
    if width >= height * COLUMNAR:
        found = f"form columnar, {about.said('width_grown')}, {about.said('height_grown')}"
        yield about.doubt(
            "form", found, "a columnar plant less than half as wide as high", "form", "width_grown", "height_grown"
        )


def _zones_inverted(about: _About) -> Iterator[Finding]:
    for colder, warmer in (("zone_cold", "zone_warm"), ("zone_shelter", "zone_cold")):
        pair = about.both(colder, warmer)
        if pair and _zone(pair[0]) > _zone(pair[1]):
            yield about.doubt(
                "zones",
                f"{about.said(colder)}, {about.said(warmer)}",
                f"{colder} no warmer than {warmer}",
                colder,
                warmer,
            )


def _winter_bloom(about: _About) -> Iterator[Finding]:
    pair = about.both("bloom", "zone_cold")
    if not pair or _zone(pair[1]) >= WINTER_ZONE or _speaks_of_winter(about):
        return
    months = {int(word) for word in pair[0].meaning.words} & WINTER
    if months:
        found = f"bloom in {say_months(months)}, {about.said('zone_cold')}"
        yield about.doubt(
            "bloom",
            found,
            "bloom in the growing season, or a note, or a winter_interest that says so",
            "bloom",
            "zone_cold",
        )


def _speaks_of_winter(about: _About) -> bool:
    interest = about.values.get("winter_interest")
    noted = any(statement.entry.note for statement in about.values["bloom"].statements)
    return noted or (interest is not None and interest.meaning.text != "no")


def _twice_said(about: _About) -> Iterator[Finding]:
    for trait in about.lines:
        if trait == "poison" or trait not in about.values:
            continue
        meanings: dict[str, set[object]] = defaultdict(set)
        for entry, meaning in about.values[trait].statements:
            meanings[entry.source].add(meaning)
            if len(meanings[entry.source]) > 1:
                source = f"from [{entry.source}]" if entry.source else "without a source"
                found = f"two values of {trait} {source}"
                yield Finding(WARNING, about.card.file, entry.line, "sources", found, "one value a source")
                break


def _zone(settled: Settled) -> int:
    return zones.index(settled.meaning.words[0])


_CARD_DOUBTS = (
    _no_species,
    _genus_alone,
    _missing,
    _borrowed_sizes,
    _few_sources,
    _sizes_out_of_order,
    _wide_column,
    _zones_inverted,
    _winter_bloom,
    _twice_said,
)


def _wrong_files(cards: Iterable[Card]) -> Iterator[Finding]:
    """Genera in a file that is not named after them (`prunus.txt`, `prunus-shrub.txt`); once for each file."""
    told: set[tuple[str, str]] = set()
    for card in sorted(cards, key=lambda card: card.line):
        name, genus = card.file.rpartition("/")[2], card.genus.lower()
        if not name.startswith((f"{genus}.", f"{genus}-")) and (name, genus) not in told:
            told.add((name, genus))
            found = f"{card.genus} in {name}"
            yield Finding(WARNING, card.file, card.line, "file", found, f"one file a genus, here {genus}.txt")


def _shared_names(cards: Iterable[Card]) -> Iterator[Finding]:
    """Synonyms and selling names that stand for two plants, or for a plant that has a card under that very name."""
    bearers = {card.botanical.casefold(): card for card in cards}
    for card in cards:
        for kind, listed in (("synonym", card.synonym), ("heard", card.heard)):
            for name in listed:
                other = bearers.setdefault(name.casefold(), card)
                if other is not card:
                    bearer = f"{other.botanical} ({other.file}:{other.line})"
                    found = f"{kind} `{name}` of {card.botanical}, which {bearer} bears too"
                    yield Finding(WARNING, card.file, card.line, "names", found, "a name of one plant only")


def _near_names(cards: Iterable[Card]) -> Iterator[Finding]:
    genera: dict[str, list[Card]] = defaultdict(list)
    for card in cards:
        genera[card.genus].append(card)
    for alike in genera.values():
        for one, other in combinations(alike, 2):
            if min(len(one.id), len(other.id)) < NEAR_LENGTH:
                continue
            if _one_letter_apart(one.id, other.id) or _same_epithet(one, other):
                found = f"{other.botanical}, very like {one.botanical} ({one.file}:{one.line})"
                yield Finding(WARNING, other.file, other.line, "names", found, "one card a plant, under one spelling")


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
