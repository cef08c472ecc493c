"""`askplant traits import`: a table in the form of the export becomes cards in the user's own folder."""

from __future__ import annotations

import csv
import io
import sys
from argparse import Namespace
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from askplant import statuses, where
from askplant.base import deck, own
from askplant.base.cards import CardFaults
from askplant.base.cells import NEEDED
from askplant.base.export import HEADER
from askplant.base.imported import Imported, imported
from askplant.commands.requests import decoded, opened
from askplant.errors import FileError, UserError
from askplant.sheets.delimited import CELL_LIMIT, DELIMITERS
from askplant.sheets.workbooks import is_workbook


class Sheet(NamedTuple):
    """The rows of a table by column, each with its number as spreadsheets count, and how its numbers are written."""

    rows: list[tuple[int, dict[str, str]]]
    spare: tuple[str, ...]
    decimal_comma: bool


def import_table(arguments: Namespace) -> int:
    """Write the cards that a table comes to, or name every cell that stands in the way."""
    if len(arguments.names) != 1:
        raise UserError("say one FILE to import (see askplant traits --help)")
    (name,) = arguments.names
    folder = Path(arguments.into).absolute() if arguments.into else own.folder()
    sheet = read_sheet(name)
    read = _read(folder)
    found = imported(sheet.rows, name, read, sheet.decimal_comma)
    if found.faults:
        sys.stdout.flush()
        for fault in found.faults:
            print(f"askplant: {fault}", file=sys.stderr)
        print(f"askplant: {name}: nothing was imported", file=sys.stderr)
        return statuses.WRONG_USE
    if not found.plants:
        raise FileError(name, "", "no row with a value", "rows as `askplant traits export --csv` prints them")
    _report(own.add_cards(folder, found.texts), found, sheet)
    return statuses.FITS


def read_sheet(name: str) -> Sheet:
    """The table in a file: any usual encoding, its columns parted by comma, semicolon, tab or bar."""
    with opened(name) as stream:
        raw = stream.read()
    if is_workbook(raw):
        raise FileError(name, "", "a workbook", "a CSV file (in the spreadsheet: save as CSV UTF-8)")
    text = decoded(raw)
    delimiter, columns = _columns(text, name)
    rows = []
    for number, row in _rows(text, delimiter, name):
        if any(cell.strip() for cell in row[len(columns) :]):
            raise FileError(name, f"row {number}", f"{len(row)} cells", f"{len(columns)}, as there are headings")
        cells = [*row, *("" for _ in columns[len(row) :])]
        rows.append((number, {column: cell for column, cell in zip(columns, cells, strict=False) if column in HEADER}))
    spare = tuple(column for column in columns if column and column not in HEADER)
    # Where commas do not part the cells they may stand in numbers, as much of Europe writes them.
    return Sheet(rows, spare, delimiter != ",")


def _columns(text: str, name: str) -> tuple[str, list[str]]:
    """The delimiter under which the first row holds the export's headings, and that row."""
    csv.field_size_limit(CELL_LIMIT)
    first = next(iter(text.splitlines()), "")[:CELL_LIMIT]
    for delimiter in DELIMITERS:
        columns = [cell.strip().casefold() for cell in next(csv.reader([first], delimiter=delimiter), [])]
        if set(NEEDED) <= set(columns) and len(set(columns) - {""}) == sum(column != "" for column in columns):
            return delimiter, columns
    raise FileError(name, "row 1", f"`{first[:200]}`", f"the headings {','.join(HEADER)}, each once")


def _rows(text: str, delimiter: str, name: str) -> Iterator[tuple[int, Sequence[str]]]:
    """The rows below the headings that hold anything, numbered from 2."""
    number = 0
    try:
        for number, row in enumerate(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True), 1):
            if number > 1 and row:
                yield number, row
    except csv.Error as problem:
        raise FileError(name, f"row {number + 1}", str(problem), "cells quoted as spreadsheets do") from None


def _read(folder: Path) -> deck.Deck:
    """What the cards will be laid over; CardFaults where the folder itself has faults already."""
    read = deck.read(where.folder("traits"), folder)
    there = [fault for fault in read.faults if fault.file.startswith(f"{deck.label_of(folder)}/")]
    if there:
        raise CardFaults(there)
    return read


def _report(files: Sequence[Path], found: Imported, sheet: Sheet) -> None:
    plants = f"{found.plants} plant{'' if found.plants == 1 else 's'}"
    print(f"{files[0].parent}: {plants}, {found.values} values, in {', '.join(file.name for file in files)}")
    if sheet.spare:
        print(f"columns not read: {', '.join(sheet.spare)}")
