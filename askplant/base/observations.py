"""Sizes measured at a known age: `observations.csv`, one measurement a row."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Container
from pathlib import Path
from typing import NamedTuple, TypeVar

from askplant.base import botanical, values
from askplant.base.records import Source
from askplant.errors import CardError
from askplant.quantities import quantity

NAME = "observations.csv"
COLUMNS = ("plant", "age", "height", "width", "place", "pruned", "source")
NOTE = "note"
PRUNED = ("", "yes", "no")

Kind = TypeVar("Kind")


class Observed(NamedTuple):
    """One measurement: the plant's id, years since planting, height and width in metres, `pruned` yes, no or empty."""

    plant: str
    age: float
    height: float | None
    width: float | None
    place: str
    pruned: str
    source: str
    note: str


def read(folder: Path, plants: Container[str], sources: dict[str, Source]) -> tuple[list[Observed], list[CardError]]:
    """Every measurement of the folder, none where the file is missing, and everything wrong with the rows."""
    path = folder / NAME
    if not path.exists():
        return [], []
    label = f"{folder.name}/{NAME}"
    try:
        reader = csv.DictReader(io.StringIO(path.read_bytes().decode("utf-8-sig"), newline=""))
    except UnicodeDecodeError as problem:
        line = problem.object[: problem.start].count(b"\n") + 1
        return [], [CardError(label, line, f"byte 0x{problem.object[problem.start]:02X}", "UTF-8 text")]
    if not set(COLUMNS) <= set(reader.fieldnames or ()):
        return [], [CardError(label, 1, f"columns {','.join(reader.fieldnames or ())}", ",".join((*COLUMNS, NOTE)))]
    return _rows(reader, label, plants, sources)


def _rows(
    reader: csv.DictReader[str], label: str, plants: Container[str], sources: dict[str, Source]
) -> tuple[list[Observed], list[CardError]]:
    found: list[Observed] = []
    faults: list[CardError] = []
    for row in reader:
        cells = {key: (cell or "").strip() for key, cell in row.items() if isinstance(key, str)}
        try:
            found.append(_row(cells, plants, sources))
        except _WrongCell as problem:
            faults.append(CardError(label, reader.line_num, problem.found, problem.expected))
    return found, faults


class _WrongCell(Exception):
    """A cell that does not hold what its column should."""

    def __init__(self, found: str, expected: str) -> None:
        self.found, self.expected = found, expected
        super().__init__(found)


def _row(cells: dict[str, str], plants: Container[str], sources: dict[str, Source]) -> Observed:
    plant = _cell(cells, "plant", _identified)
    if plant not in plants:
        raise _WrongCell(f"plant `{cells['plant']}`, which has no card", "the botanical name of a card")
    height, width = _cell(cells, "height", _metres), _cell(cells, "width", _metres)
    if height is None and width is None:
        raise _WrongCell("neither height nor width", "at least one of them")
    if cells["pruned"] not in PRUNED:
        raise _WrongCell(f"pruned `{cells['pruned']}`", "yes, no or nothing")
    if cells["source"] and cells["source"] not in sources:
        raise _WrongCell(
            f"source `{cells['source']}`", f"a key of sources/*.toml{values.nearest(cells['source'], list(sources))}"
        )
    age = _cell(cells, "age", _years)
    return Observed(plant, age, height, width, cells["place"], cells["pruned"], cells["source"], cells.get(NOTE, ""))


def _cell(cells: dict[str, str], column: str, reader: Callable[[str], Kind]) -> Kind:
    try:
        return reader(cells[column])
    except ValueError as problem:
        raise _WrongCell(f"{column} `{cells[column]}`", str(problem)) from None


def _identified(text: str) -> str:
    return botanical.identify(text)


def _metres(text: str) -> float | None:
    """A measured length, the middle of it where a range is given."""
    if not text:
        return None
    low, high = quantity.parse_length(text)
    return round((low + high) / 2, values.DECIMALS)


def _years(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        raise ValueError("a number of years") from None
