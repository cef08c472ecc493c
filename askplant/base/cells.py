"""The cells of one row of the published export → what it states of a plant; every cell that does not hold."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import NamedTuple

from askplant.base import botanical, written
from askplant.base.botanical import Botanical
from askplant.base.cards import BLANK
from askplant.base.deck import Deck
from askplant.base.observations import MOST
from askplant.base.traits import Trait
from askplant.base.trust import COMMON_PRACTICE
from askplant.base.values import nearest

# What a row must have; the other columns of the export may be left out.
NEEDED = ("botanical", "trait", "low", "high", "value", "source")

_PLAIN = re.compile(r"\d+(\.\d+)?")
_COMMA = re.compile(r"\d+,\d+")
_ZONE = re.compile(r"\d{1,2}[ab]?", re.IGNORECASE)
# How months begin in the languages that spreadsheets are used in here: English, French, Spanish, German.
_MONTH = (
    "(jan|feb|f[eé]v|mar|mär|apr|avr|abr|may|mai|jun|juin|jul|juil|aug|aoû|ago|sep|oct|okt|nov|dec|déc|dic|dez|ene)"
)
# What spreadsheets make of ranges and codes: 5-Aug, 8. Mai, Aug-05, 05/08/2026, 2026-05-08 00:00:00.
_DATE = re.compile(
    r"\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}( \d\d?:\d\d.*)?"
    rf"|\d{{1,2}}[-./ ] ?{_MONTH}[^\W\d_]*\.?([-./ ]\d{{2,4}})?"
    rf"|{_MONTH}[^\W\d_]*\.?[-./ ]\d{{1,4}}",
    re.IGNORECASE,
)
_UNITS = {"m": "metres", "years": "years"}


class Statement(NamedTuple):
    """One row: the plant, what is said of which trait, as a card writes it, by whom, and the note."""

    plant: Botanical
    trait: str
    text: str
    source: str
    note: str
    row: int = 0


class Wrong(NamedTuple):
    """One cell that does not hold."""

    column: str
    found: str
    expected: str


class WrongCells(Exception):
    """A row with cells that do not hold."""

    def __init__(self, cells: list[Wrong]) -> None:
        self.cells = tuple(cells)
        super().__init__(f"{len(cells)} cells")


def statement(row: Mapping[str, str], read: Deck, decimal_comma: bool) -> Statement:
    """What a row states; WrongCells names each of its cells that does not hold."""
    reader = _Row({column: _one_line(cell) for column, cell in row.items()}, read, decimal_comma)
    plant, trait, source = reader.plant(), reader.trait(), reader.source()
    text = reader.text(trait) if trait else None
    reader.check(trait, source)
    if plant is None or trait is None or source is None or text is None or reader.wrong:
        raise WrongCells(reader.wrong)
    return Statement(plant, trait.name, text, source, reader.cells.get("note", ""))


def _one_line(cell: str) -> str:
    """A cell without line breaks and blanks around it; blanks within a line stay as they are."""
    return " ".join(line.strip() for line in cell.strip().splitlines() if line.strip())


class _Row:
    """Reads the cells of one row; what it cannot read is None and kept in `wrong`."""

    def __init__(self, cells: Mapping[str, str], read: Deck, decimal_comma: bool) -> None:
        self.cells, self.deck, self.decimal_comma = cells, read, decimal_comma
        self.wrong: list[Wrong] = []

    def plant(self) -> Botanical | None:
        try:
            name = botanical.parse(self.cells["botanical"])
        except ValueError as problem:
            self._refuse("botanical", f"`{self.cells['botanical']}`", str(problem))
            return None
        plant = botanical.plain_id(name.text)
        if self.cells.get("plant", "") not in ("", plant):
            self._refuse("plant", f"`{self.cells['plant']}` of {name.text}", f"`{plant}`, or nothing")
            return None
        return name

    def trait(self) -> Trait | None:
        known, name = self.deck.dictionary.traits, self.cells["trait"]
        if name not in known:
            self._refuse("trait", f"`{name}`", f"a trait of traits.toml{nearest(name, list(known))}")
            return None
        return known[name]

    def source(self) -> str | None:
        known, key = self.deck.sources, self.cells["source"]
        if key and key not in known:
            self._refuse("source", f"`{key}`", f"a key of sources/*.toml{nearest(key, list(known))}")
            return None
        return key

    def text(self, trait: Trait) -> str | None:
        """The value as a card writes it."""
        if self.cells["value"] == BLANK and not self.cells["low"] and not self.cells["high"]:
            return BLANK
        if trait.is_range:
            return self._range(trait)
        for column in ("low", "high"):
            if self.cells[column]:
                found = f"`{self.cells[column]}` for {trait.name}"
                self._refuse(column, found, "nothing; words stand in the column value")
        return self._words(trait, self.cells["value"])

    def check(self, trait: Trait | None, source: str | None) -> None:
        """The cells that add nothing: they must not say otherwise than the others."""
        if trait and self.cells.get("unit", "") not in ("", trait.unit):
            self._refuse("unit", f"`{self.cells['unit']}`", f"{trait.unit or 'no unit'} for {trait.name}")
        if source is not None:
            basis = self.deck.sources[source].basis if source else COMMON_PRACTICE
            if self.cells.get("basis", "") not in ("", basis):
                of = f"of [{source}]" if source else "of a value without a source"
                self._refuse("basis", f"`{self.cells['basis']}`", f"{basis}, the basis {of}")
        for column, cell in self.cells.items():
            if "\N{REPLACEMENT CHARACTER}" in cell:
                self._refuse(column, f"a sign that cannot be read in `{cell}`", "text saved as CSV UTF-8")

    def _refuse(self, column: str, found: str, expected: str) -> None:
        self.wrong.append(Wrong(column, found, expected))

    def _words(self, trait: Trait, value: str) -> str | None:
        if _DATE.fullmatch(value):
            self._refuse("value", f"`{value}`, which looks like a date", f"a value of {trait.name}")
            return None
        if not value:
            self._refuse("value", "nothing", f"a value of {trait.name}, or {BLANK} for not known")
            return None
        if trait.type == "zone" and not _ZONE.fullmatch(value):
            self._refuse("value", f"{trait.name} `{value}`", "one hardiness zone from 1a to 13b")
            return None
        text = written.of_words(trait, value)
        try:
            meaning = self.deck.dictionary.parse(trait.name, text)
        except ValueError as problem:
            self._refuse("value", f"{trait.name} `{value}`", str(problem))
            return None
        return meaning.text if trait.type == "zone" else text

    def _range(self, trait: Trait) -> str | None:
        value = self.cells["value"]
        if value:
            told = "which looks like a date" if _DATE.fullmatch(value) else f"for {trait.name}"
            self._refuse("value", f"`{value}`, {told}", "nothing; numbers stand in the columns low and high")
        low, high = self._number(trait, "low"), self._number(trait, "high")
        if low is None or high is None:
            return None
        if low > high:
            found = f"{self.cells['low']} above {self.cells['high']}"
            self._refuse("low", found, "a range with its smaller end first")
            return None
        return written.of_range(trait, low, high, self.deck.dictionary)

    def _number(self, trait: Trait, column: str) -> float | None:
        cell = self.cells[column]
        point = cell.replace(",", ".") if self.decimal_comma and _COMMA.fullmatch(cell) else cell
        if not _PLAIN.fullmatch(point):
            told = ", which looks like a date" if _DATE.fullmatch(cell) else ""
            kind = f"a number of {_UNITS[trait.unit]}" if trait.unit else "a number"
            self._refuse(column, f"`{cell}`{told}" if cell else "nothing", f"{kind}, one for low and one for high")
            return None
        number = float(point)
        if trait.unit == "m" and number > MOST:
            found = f"{cell} m"
            self._refuse(column, found, f"at most {MOST:g} m; has the number lost its decimal point?")
            return None
        return number
