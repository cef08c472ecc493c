"""Everything wrong or doubtful in traits/: what stops a build as errors, what an expert would ask about as warnings."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from askplant.base import claims, deck, name_checks, phrases, resolve
from askplant.base.cards import Card
from askplant.base.deck import Deck
from askplant.base.findings import ERROR, WARNING, Finding
from askplant.base.resolve import Settled, Values, said
from askplant.base.traits import Dictionary
from askplant.errors import CardError
from askplant.quantities import zones
from askplant.quantities.months import say_months

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


def check(folder: Path, own: Path | None = None) -> list[Finding]:
    """All findings of a traits folder and of the user's own over it, in order of file and line."""
    try:
        read = deck.read(folder, own)
    except CardError as fault:
        return [_error(fault)]
    findings = [_error(fault) for fault in (*read.faults, *_vocabulary(folder))]
    findings += _doubts(read)
    findings += _unread(own) if own else ()
    return sorted(findings, key=lambda finding: (finding.file, finding.line, finding.severity))


def _error(fault: CardError) -> Finding:
    return Finding(ERROR, fault.file, fault.line, "form", fault.found, fault.expected)


def _vocabulary(folder: Path) -> Iterator[CardError]:
    """The first fault of the phrases and of the claims; neither goes on after one."""
    for read in (phrases.compiled(folder / phrases.FOLDER), claims.rows(folder)):
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
    yield from name_checks.doubts(read.cards)


def _unread(own: Path) -> Iterator[Finding]:
    """Files in the user's own folder that look as if they should be read, and are not: cards saved as another kind."""
    for part, ending in (("plants", ".txt"), ("sources", ".toml")):
        for path in sorted((own / part).glob("*")):
            if path.suffix != ending and not path.name.startswith(".") and not path.name.endswith("~"):
                place = f"{deck.label_of(own)}/{part}/{path.name}"
                yield Finding(WARNING, place, 1, "file", "a file that is not read", f"a name that ends in {ending}")


class _About:
    """One card with all that it comes to."""

    def __init__(self, card: Card, values: Values, by_id: Mapping[str, Card], dictionary: Dictionary) -> None:
        self.card, self.values, self.by_id, self.dictionary = card, values, by_id, dictionary
        # Where the card states each trait: a line laid over it by the user's own stands in another file.
        self.lines = {entry.trait: (entry.file or card.file, entry.line) for entry in reversed(card.entries)}

    def doubt(self, what: str, found: str, expected: str, *traits: str) -> Finding:
        """A warning at the first of the traits that the card itself states, else at the card's head."""
        head = (self.card.file, self.card.line)
        place = next((self.lines[trait] for trait in traits if trait in self.lines), head)
        return Finding(WARNING, *place, what, found, expected)

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
                file = entry.file or about.card.file
                yield Finding(WARNING, file, entry.line, "sources", found, "one value a source")
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
