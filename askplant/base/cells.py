"""The cells of one row of the published export → what it states of a plant; every cell that does not hold."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import NamedTuple, TypeVar

from askplant.base import botanical, written
from askplant.base.botanical import Botanical
from askplant.base.cards import BLANK
from askplant.base.deck import Deck
from askplant.base.traits import Trait
from askplant.base.trust import COMMON_PRACTICE
from askplant.base.values import nearest
from askplant.quantities import zones

# What a row must have; the other columns of the export may be left out.
NEEDED = ("botanical", "trait", "low", "high", "value", "source")
# A length above this is a number that has lost its point (m); the tallest tree measured stands at 116.
MOST = 150.0

_PLAIN = re.compile(r"\d+(\.\d+)?")
_COMMA = re.compile(r"\d+,\d+")
# What spreadsheets make of ranges and codes: 5-Aug, 8. Mai, Aug-05, 05/08/2026, 2026-05-08 00:00:00.
_DATE = re.compile(
    r"\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}( \d\d?:\d\d.*)?"
    r"|\d{1,2}[-./ ] ?[^\W\d_]{3,9}\.?([-./ ]\d{2,4})?"
    r"|[^\W\d_]{3,9}\.?[-./ ]\d{1,4}"
)

Kind = TypeVar("Kind")


class Statement(NamedTuple):
    """One row: the plant, what is said of which trait, as a card writes it, by whom, and the note."""

    plant: Botanical
    trait: str
    text: str
    source: str
    note: str
    row: int = 0

    @property
    def half_zone(self) -> int:
        """The half-zone that it states; of a trait of zones only. One that is not known comes before all others."""
        return -1 if self.text == BLANK else zones.index(self.text)


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


class _WrongCell(Exception):
    def __init__(self, column: str, found: str, expected: str) -> None:
        self.wrong = Wrong(column, found, expected)
        super().__init__(found)


def statement(row: Mapping[str, str], read: Deck, decimal_comma: bool) -> Statement:
    """What a row states; WrongCells names each of its cells that does not hold."""
    cells = {column: _one_line(cell) for column, cell in row.items()}
    wrong: list[Wrong] = []

    def of(reader: Callable[[], Kind]) -> Kind | None:
        try:
            return reader()
        except _WrongCell as problem:
            wrong.append(problem.wrong)
            return None

    plant = of(lambda: _plant(cells))
    trait = of(lambda: _trait(cells, read))
    source = of(lambda: _source(cells, read))
    text = of(lambda: _text(cells, trait, read, decimal_comma)) if trait else None
    if source is not None:
        of(lambda: _basis(cells, source, read))
    of(lambda: _legible(cells))
    if wrong or plant is None or trait is None or source is None or text is None:
        raise WrongCells(wrong)
    return Statement(plant, trait.name, text, source, cells.get("note", ""))


def _one_line(cell: str) -> str:
    """A cell without line breaks and blanks around it; blanks within a line stay as they are."""
    return " ".join(line.strip() for line in cell.strip().splitlines() if line.strip())


def _plant(cells: Mapping[str, str]) -> Botanical:
    try:
        name = botanical.parse(cells["botanical"])
    except ValueError as problem:
        raise _WrongCell("botanical", f"`{cells['botanical']}`", str(problem)) from None
    plant = botanical.plain_id(name.text)
    if cells.get("plant", "") not in ("", plant):
        raise _WrongCell("plant", f"`{cells['plant']}` of {name.text}", f"`{plant}`, or nothing")
    return name


def _trait(cells: Mapping[str, str], read: Deck) -> Trait:
    known = read.dictionary.traits
    if cells["trait"] not in known:
        raise _WrongCell(
            "trait", f"`{cells['trait']}`", f"a trait of traits.toml{nearest(cells['trait'], list(known))}"
        )
    trait = known[cells["trait"]]
    if cells.get("unit", "") not in ("", trait.unit):
        raise _WrongCell("unit", f"`{cells['unit']}`", f"{trait.unit or 'no unit'} for {trait.name}")
    return trait


def _source(cells: Mapping[str, str], read: Deck) -> str:
    if cells["source"] and cells["source"] not in read.sources:
        close = nearest(cells["source"], list(read.sources))
        raise _WrongCell("source", f"`{cells['source']}`", f"a key of sources/*.toml{close}")
    return cells["source"]


def _basis(cells: Mapping[str, str], source: str, read: Deck) -> None:
    """A value's basis is its source's; a cell that says otherwise would be lost."""
    basis = read.sources[source].basis if source else COMMON_PRACTICE
    if cells.get("basis", "") not in ("", basis):
        of = f"of [{source}]" if source else "of a value without a source"
        raise _WrongCell("basis", f"`{cells['basis']}`", f"{basis}, the basis {of}")


def _legible(cells: Mapping[str, str]) -> None:
    for column, cell in cells.items():
        if "\N{REPLACEMENT CHARACTER}" in cell:
            raise _WrongCell(column, f"a sign that cannot be read in `{cell}`", "text saved as CSV UTF-8")


def _text(cells: Mapping[str, str], trait: Trait, read: Deck, decimal_comma: bool) -> str:
    if cells["value"] == BLANK and not cells["low"] and not cells["high"]:
        return BLANK
    if trait.is_range:
        return _range(cells, trait, read, decimal_comma)
    for column in ("low", "high"):
        if cells[column]:
            raise _WrongCell(column, f"`{cells[column]}` for {trait.name}", "nothing; words stand in the column value")
    return _words(cells["value"], trait, read)


def _words(value: str, trait: Trait, read: Deck) -> str:
    if _DATE.fullmatch(value):
        raise _WrongCell("value", f"`{value}`, which looks like a date", f"a value of {trait.name}")
    text = written.of_words(trait, value)
    try:
        read.dictionary.parse(trait.name, text)
    except ValueError as problem:
        raise _WrongCell("value", f"{trait.name} `{value}`", str(problem)) from None
    if not text:
        raise _WrongCell("value", "nothing", f"a value of {trait.name}")
    return text


def _range(cells: Mapping[str, str], trait: Trait, read: Deck, decimal_comma: bool) -> str:
    if cells["value"]:
        told = "which looks like a date" if _DATE.fullmatch(cells["value"]) else f"for {trait.name}"
        raise _WrongCell("value", f"`{cells['value']}`, {told}", "nothing; numbers stand in the columns low and high")
    low, high = (_number(cells, column, trait, decimal_comma) for column in ("low", "high"))
    if low > high:
        raise _WrongCell("low", f"{cells['low']} above {cells['high']}", "a range with its smaller end first")
    try:
        return written.of_range(trait, low, high, read.dictionary)
    except ValueError as problem:
        raise _WrongCell("low", f"{cells['low']} to {cells['high']}", str(problem)) from None


def _number(cells: Mapping[str, str], column: str, trait: Trait, decimal_comma: bool) -> float:
    cell = cells[column]
    expected = f"a number of {trait.unit}" if trait.unit else "a number"
    point = cell.replace(",", ".") if decimal_comma and _COMMA.fullmatch(cell) else cell
    if not _PLAIN.fullmatch(point):
        found = f"`{cell}`, which looks like a date" if _DATE.fullmatch(cell) else f"`{cell}`" if cell else "nothing"
        raise _WrongCell(column, found, f"{expected}; low and high have a column each")
    number = float(point)
    if trait.unit == "m" and number > MOST:
        raise _WrongCell(column, f"{cell} m", f"at most {MOST:g} m; has the number lost its decimal point?")
    return number
