"""Cards: one genus file → the plants it describes, every fault with its file and line.

    Ilex glabra 'Densa'                             a line at the left edge opens a card
        height_grown: 4-6 ft [key] -- in sun        trait: value [source] -- note

Reading goes on after a fault, so that one run names them all.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from pathlib import Path

from askplant.base import botanical, values
from askplant.base.records import Source
from askplant.base.traits import Dictionary
from askplant.base.trust import COMMON_PRACTICE
from askplant.errors import CardError, UserError
from askplant.quantities import quantity, zones

BLANK = "-"
NOTE = " -- "
NOTHING = "nothing"
NAME_KEYS = ("common", "heard", "synonym", "misspelt")
LIKE = "like"
ZONE = "zone"
OTHER_KEYS = (*NAME_KEYS, LIKE, ZONE)

# How many faults one message lists before it counts the rest.
MOST_SHOWN = 40

_SOURCE = re.compile(r"\[([^\[\]]*)\]$")


class CardFaults(UserError):
    """Lines of traits/ that are not as declared: all of them, in order of file and line."""

    def __init__(self, faults: Iterable[CardError]) -> None:
        self.faults = tuple(faults)
        shown = [str(fault) for fault in self.faults[:MOST_SHOWN]]
        rest = len(self.faults) - len(shown)
        super().__init__("\n".join([*shown, f"… and {rest} more"] if rest else shown))


@dataclass(frozen=True, slots=True)
class Entry:
    """One value as a card states it: `text` as written (`-` for not known), `source` a key or empty.

    `file` is empty where the line stands in the card's own file.
    """

    trait: str
    text: str
    source: str
    basis: str
    note: str
    line: int
    file: str = ""


@dataclass(frozen=True, slots=True)
class Card:
    """One plant. `like` is what its card says it inherits from; `parent_id` is the card that it does inherit from."""

    id: str
    botanical: str
    genus: str
    epithet: str | None
    parent_id: str | None
    file: str
    line: int
    entries: tuple[Entry, ...] = ()
    common: tuple[str, ...] = ()
    heard: tuple[str, ...] = ()
    synonym: tuple[str, ...] = ()
    misspelt: tuple[str, ...] = ()
    like: str | None = None
    like_line: int = 0
    like_file: str = ""

    def own(self, trait: str) -> tuple[Entry, ...]:
        """What the card itself states of a trait."""
        return tuple(entry for entry in self.entries if entry.trait == trait)

    def fault_of_like(self, found: str, expected: str) -> CardError:
        """What is wrong with what it inherits from, at its `like:` where it has one."""
        place = (self.like_file or self.file, self.like_line) if self.like_line else (self.file, self.line)
        return CardError(*place, found, expected)

    def under(self, upper: Card) -> Card:
        """This card with another of the same plant laid over it: its names are added, its lines replace this one's."""
        stated = {entry.trait for entry in upper.entries}
        return replace(
            self,
            entries=(
                *(entry for entry in self.entries if entry.trait not in stated),
                *(replace(entry, file=upper.file) for entry in upper.entries),
            ),
            common=_joined(self.common, upper.common),
            heard=_joined(self.heard, upper.heard),
            synonym=_joined(self.synonym, upper.synonym),
            misspelt=_joined(self.misspelt, upper.misspelt),
            like=self.like if upper.like is None else upper.like,
            like_line=upper.like_line or self.like_line,
            like_file=upper.file if upper.like_line else self.like_file,
        )


def _joined(names: tuple[str, ...], more: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names + more))


@dataclass(slots=True)
class _Draft:
    """A card being read."""

    name: botanical.Botanical
    line: int
    entries: list[Entry] = field(default_factory=list)
    names: dict[str, list[str]] = field(default_factory=lambda: {key: [] for key in NAME_KEYS})
    like: str | None = None
    like_line: int = 0


def read_file(
    path: Path, label: str, dictionary: Dictionary, sources: dict[str, Source]
) -> tuple[list[Card], list[CardError]]:
    """The cards of one file, their parents not yet found, and everything wrong with its lines."""
    try:
        data = path.read_bytes()
    except OSError as problem:
        return [], [CardError(label, 1, problem.strerror or "an unreadable file", "a file that can be read")]
    return read_bytes(data, label, dictionary, sources)


def read_bytes(
    data: bytes, label: str, dictionary: Dictionary, sources: dict[str, Source]
) -> tuple[list[Card], list[CardError]]:
    """The cards of a file's content, as `read_file` gives them."""
    reader = _Reader(label, dictionary, sources)
    for number, line in _lines(data, label, reader.faults):
        reader.take(number, line)
    return reader.finished(), reader.faults


def _lines(data: bytes, label: str, faults: list[CardError]) -> Iterable[tuple[int, str]]:
    """The numbered lines of a file that hold readable text; a fault for each that does not."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        faults.append(CardError(label, 1, "UTF-16 text", "UTF-8 text"))
        return
    for number, raw in enumerate(data.removeprefix(b"\xef\xbb\xbf").split(b"\n"), 1):
        try:
            line = raw.decode("utf-8").rstrip()
        except UnicodeDecodeError as problem:
            faults.append(CardError(label, number, f"byte 0x{raw[problem.start]:02X}", "UTF-8 text"))
            continue
        control = next((sign for sign in line if (sign < " " and sign != "\t") or "\x7f" <= sign < "\xa0"), None)
        if control:
            faults.append(CardError(label, number, f"control character U+{ord(control):04X}", "plain text"))
        elif line and not line.lstrip().startswith("#"):
            yield number, line


class _Reader:
    """Takes the lines of one file in order; keeps the cards and the faults."""

    def __init__(self, label: str, dictionary: Dictionary, sources: dict[str, Source]) -> None:
        self.label, self.dictionary, self.sources = label, dictionary, sources
        self.faults: list[CardError] = []
        self._drafts: list[_Draft] = []
        self._draft: _Draft | None = None
        self._opened = False

    def take(self, number: int, line: str) -> None:
        if not line[0].isspace():
            self._open(number, line)
        elif not self._opened:
            self._fault(number, f"`{line.strip()}` before any card", "a botanical name at the left edge first")
        else:
            self._value(number, line.strip())

    def finished(self) -> list[Card]:
        return [self._card(draft) for draft in self._drafts]

    def _fault(self, number: int, found: str, expected: str) -> None:
        self.faults.append(CardError(self.label, number, found, expected))

    def _open(self, number: int, line: str) -> None:
        key = line.partition(":")[0].strip()
        if self._opened and (key in self.dictionary.traits or key in OTHER_KEYS) and ":" in line:
            self._fault(number, f"`{line}` at the left edge", "a value indented below its card")
            return
        self._opened = True
        try:
            self._draft = _Draft(botanical.parse(line), number)
            self._drafts.append(self._draft)
        except ValueError as problem:
            # The lines below are still read, into a card that is then let go, so that their own faults are found too.
            self._draft = _Draft(botanical.Botanical("", False, (), None), number)
            self._fault(number, f"`{line}`", str(problem))

    def _value(self, number: int, line: str) -> None:
        key, colon, rest = line.partition(":")
        key, rest = key.strip(), rest.strip()
        if not colon or not key:
            self._fault(number, f"`{line}`", "`trait: value`")
        elif key not in self.dictionary.traits and key not in OTHER_KEYS:
            known = [*self.dictionary.traits, *OTHER_KEYS]
            self._fault(number, f"`{key}`, which is no trait", f"a trait of traits.toml{_nearest_key(key, known)}")
        elif not rest:
            self._fault(number, f"`{key}:` without a value", f"`{key}: value`, or `{key}: -` for not known")
        elif key in NAME_KEYS:
            self._names(number, key, rest)
        elif key == LIKE:
            self._like(number, rest)
        else:
            self._entry(number, key, rest)

    def _names(self, number: int, key: str, rest: str) -> None:
        assert self._draft is not None
        if _SOURCE.search(rest) or NOTE in rest:
            self._fault(number, f"`{key}: {rest}`", "names separated by commas, without source or note")
            return
        self._draft.names[key] += [name.strip() for name in rest.split(",") if name.strip()]

    def _like(self, number: int, rest: str) -> None:
        assert self._draft is not None
        if self._draft.like is not None:
            self._fault(number, "a second `like:`", f"one a card; the first stands in line {self._draft.like_line}")
            return
        try:
            self._draft.like = rest if rest == NOTHING else botanical.parse(rest).text
            self._draft.like_line = number
        except ValueError as problem:
            self._fault(number, f"`{rest}`", f"{problem}, or `like: {NOTHING}`")

    def _entry(self, number: int, key: str, rest: str) -> None:
        assert self._draft is not None
        text, source, note = self._split(number, rest)
        basis = self.sources[source].basis if source in self.sources else COMMON_PRACTICE
        for trait, value in self._stated(number, key, text):
            self._draft.entries.append(Entry(trait, value, source, basis, note, number))

    def _split(self, number: int, rest: str) -> tuple[str, str, str]:
        """`value [source] -- note` in its three parts."""
        value, _, note = rest.partition(NOTE)
        value, note = value.strip(), note.strip()
        match = _SOURCE.search(value)
        source = match[1].strip() if match else ""
        text = value[: match.start()].strip() if match else value
        if _SOURCE.search(text):
            text = text.partition("[")[0].strip()
            self._fault(number, f"two sources for `{text}`", "one source a line; give each source its own line")
        elif not match and _SOURCE.search(note):
            self._fault(number, f"a source in the note `{note}`", "the source after the value, before ` -- `")
        elif match and source not in self.sources:
            self._fault(
                number, f"source [{source}]", f"a key of sources/*.toml{values.nearest(source, list(self.sources))}"
            )
        return text, source, note

    def _stated(self, number: int, key: str, text: str) -> list[tuple[str, str]]:
        """The traits a line states, each with its text; nothing where the value does not hold."""
        try:
            if key == ZONE:
                return _zones(text)
            if text != BLANK:
                self.dictionary.parse(key, text)
            return [(key, text)]
        except ValueError as problem:
            self._fault(number, f"{key} `{text}`", str(problem))
            return []

    def _card(self, draft: _Draft) -> Card:
        self._contradictions(draft)
        names = {key: tuple(dict.fromkeys(listed)) for key, listed in draft.names.items()}
        text = draft.name.text
        return Card(
            id=botanical.plain_id(text),
            botanical=text,
            genus=draft.name.genus,
            epithet=draft.name.epithet,
            parent_id=None,
            file=self.label,
            line=draft.line,
            entries=tuple(draft.entries),
            common=names["common"],
            heard=names["heard"],
            synonym=names["synonym"],
            misspelt=names["misspelt"],
            like=draft.like,
            like_line=draft.like_line,
        )

    def _contradictions(self, draft: _Draft) -> None:
        blank = {entry.trait for entry in draft.entries if entry.text == BLANK}
        for entry in draft.entries:
            if entry.trait in blank and entry.text != BLANK:
                self._fault(
                    entry.line,
                    f"{entry.trait} `{entry.text}` on a card that also says `{entry.trait}: -`",
                    "one or the other",
                )


def _zones(text: str) -> list[tuple[str, str]]:
    if text == BLANK:
        return [("zone_cold", BLANK), ("zone_warm", BLANK)]
    cold, warm = quantity.parse_zone_range(text)
    return [("zone_cold", zones.name(cold)), ("zone_warm", zones.name(warm))]


def _nearest_key(key: str, known: list[str]) -> str:
    close = get_close_matches(key.lower().replace(" ", "_").replace("-", "_"), known, n=1)
    return f"; nearest is `{close[0]}`" if close else ""
