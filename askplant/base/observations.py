"""Sizes measured at a known age: `observations.csv`, one measurement a row."""

from __future__ import annotations

import csv
import io
import math
import re
from collections.abc import Callable, Container, Mapping
from datetime import date
from pathlib import Path
from typing import NamedTuple, TypeVar

from askplant.base import botanical, values
from askplant.base.records import Source
from askplant.base.trust import OBSERVED
from askplant.errors import CardError
from askplant.quantities import quantity

NAME = "observations.csv"
COLUMNS = ("plant", "age", "height", "width", "place", "pruned", "source")
# Columns that a file may lack.
NOTE, DATE = "note", "date"
PRUNED = ("", "yes", "no")
# No plant is known to be so high or wide (m); the tallest tree measured stands at 116.
MOST = 150.0

# A day, a month or a year (ISO 8601).
_DATE = re.compile(r"\d{4}(-\d\d(-\d\d)?)?")

Kind = TypeVar("Kind")


class Observed(NamedTuple):
    """One measurement: the plant's id, years since planting, height and width in metres, `pruned` yes, no or empty.

    `basis` is that of the publication it was taken from, `observed` where somebody measured it.
    """

    plant: str
    age: float
    height: float | None
    width: float | None
    place: str
    pruned: str
    source: str
    note: str
    date: str
    basis: str


def read(
    folder: Path, label: str, plants: Container[str], sources: dict[str, Source]
) -> tuple[list[Observed], list[CardError]]:
    """Every measurement of the folder, none where the file is missing, and everything wrong with the rows."""
    path, label = folder / NAME, f"{label}/{NAME}"
    if not path.exists():
        return [], []
    try:
        reader = csv.DictReader(io.StringIO(path.read_bytes().decode("utf-8-sig"), newline=""))
    except OSError as problem:
        return [], [CardError(label, 1, problem.strerror or "an unreadable file", "a file that can be read")]
    except UnicodeDecodeError as problem:
        line = problem.object[: problem.start].count(b"\n") + 1
        return [], [CardError(label, line, f"byte 0x{problem.object[problem.start]:02X}", "UTF-8 text")]
    try:
        columns = reader.fieldnames or ()
    except csv.Error as problem:
        return [], [CardError(label, 1, str(problem), ",".join((*COLUMNS, NOTE)))]
    if not set(COLUMNS) <= set(columns):
        return [], [CardError(label, 1, f"columns {','.join(columns)}", ",".join((*COLUMNS, NOTE)))]
    return _rows(reader, label, plants, sources)


def _rows(
    reader: csv.DictReader[str], label: str, plants: Container[str], sources: dict[str, Source]
) -> tuple[list[Observed], list[CardError]]:
    found: list[Observed] = []
    faults: list[CardError] = []
    try:
        for row in reader:
            cells = {key: (cell or "").strip() for key, cell in row.items() if isinstance(key, str)}
            try:
                found.append(observed(cells, plants, sources))
            except WrongCell as problem:
                faults.append(CardError(label, reader.line_num, problem.found, problem.expected))
    except csv.Error as problem:
        faults.append(CardError(label, reader.line_num, str(problem), "a row of short cells"))
    return found, faults


class WrongCell(Exception):
    """A cell that does not hold what its column should."""

    def __init__(self, found: str, expected: str) -> None:
        self.found, self.expected = found, expected
        super().__init__(found)


def observed(cells: Mapping[str, str], plants: Container[str], sources: Mapping[str, Source]) -> Observed:
    """The measurement that a row's cells state, by column; WrongCell names the cell that does not hold."""
    plant = _cell(cells, "plant", botanical.identify)
    if plant not in plants:
        raise WrongCell(f"plant `{cells['plant']}`, which has no card", "the botanical name of a card")
    height, width = _cell(cells, "height", _metres), _cell(cells, "width", _metres)
    if height is None and width is None:
        raise WrongCell("neither height nor width", "at least one of them")
    if cells["pruned"] not in PRUNED:
        raise WrongCell(f"pruned `{cells['pruned']}`", "yes, no or nothing")
    if cells["source"] and cells["source"] not in sources:
        raise WrongCell(
            f"source `{cells['source']}`", f"a key of sources/*.toml{values.nearest(cells['source'], list(sources))}"
        )
    age = _cell(cells, "age", _years)
    when = _cell({DATE: ""} | dict(cells), DATE, _day)
    basis = sources[cells["source"]].basis if cells["source"] else OBSERVED
    return Observed(
        plant, age, height, width, cells["place"], cells["pruned"], cells["source"], cells.get(NOTE, ""), when, basis
    )


def _cell(cells: Mapping[str, str], column: str, reader: Callable[[str], Kind]) -> Kind:
    try:
        return reader(cells[column])
    except ValueError as problem:
        raise WrongCell(f"{column} `{cells[column]}`", str(problem)) from None


def _metres(text: str) -> float | None:
    """A measured length, the middle of it where a range is given."""
    if not text:
        return None
    low, high = quantity.parse_length(text)
    if high > MOST:
        raise ValueError(f"a length of at most {MOST:g} m")
    return round((low + high) / 2, values.DECIMALS)


def _years(text: str) -> float:
    try:
        years = float(text)
    except ValueError:
        raise ValueError("a number of years") from None
    if not math.isfinite(years) or years < 0:
        raise ValueError("a number of years")
    return years


def _day(text: str) -> str:
    """A date as it is written, at least the year of it; nothing where it is not known."""
    expected = "a date (2026-05-31, or only 2026-05 or 2026)"
    if text and not _DATE.fullmatch(text):
        raise ValueError(expected)
    try:
        if text:
            date.fromisoformat(f"{text}-01-01"[: len("2026-01-01")])
    except ValueError:
        raise ValueError(expected) from None
    return text
