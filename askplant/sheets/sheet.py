"""A table as it was read: its headings, its rows as they stand, and how the file was understood."""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

# More than this is no table of requests or plants.
MOST_BYTES = 500_000_000  # of a file, and of all that a zipped one unpacks to
MOST_COLUMNS = 1_000
MOST_ROWS = 1_000_000
MOST_CELLS = 20_000_000
EXACT = 1e15  # numbers of more digits are no longer exact; spreadsheets show fifteen of them


class Uncomputed(NamedTuple):
    """A formula whose value no spreadsheet has worked out yet, or one that came to an error (`#N/A`)."""

    error: str = ""


Cell = str | float | bool | datetime.date | datetime.time | datetime.timedelta | Uncomputed | None
Row = tuple[Cell, ...]

# How months begin in the languages that spreadsheets are used in here: English, French, Spanish, German.
_MONTH = (
    "(jan|feb|f[eé]v|mar|mär|apr|avr|abr|may|mai|jun|juin|jul|juil|aug|aoû|ago|sep|oct|okt|nov|dec|déc|dic|dez|ene)"
)
# What spreadsheets make of ranges and sizes: 5-Aug, 8. Mai, Aug-05, 05/08/2026, 2026-05-08 00:00:00.
_DATE = re.compile(
    r"\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}( \d\d?:\d\d.*)?"
    rf"|\d{{1,2}}[-./ ] ?{_MONTH}[^\W\d_]*\.?([-./ ]\d{{2,4}})?"
    rf"|{_MONTH}[^\W\d_]*\.?[-./ ]\d{{1,4}}",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Sheet:
    """One table. `how` says how the file was read, `notes` what else there is to know of that.

    `above` are rows over the headings. Rows are as they stand: in a text file too short or too long, in a workbook of one
    width. `first` is the number of the first row as spreadsheets count. `merged` holds, by (row, column), the values of
    merged cells in the places that they cover. `headed` is false where the file had no headings and they were made up.
    """

    file: str
    how: str
    headings: tuple[str, ...]
    rows: tuple[Row, ...]
    first: int
    above: tuple[Row, ...] = ()
    delimiter: str = ","
    notes: tuple[str, ...] = ()
    merged: Mapping[tuple[int, int], Cell] = field(default_factory=dict)
    headed: bool = True

    def cell(self, row: int, column: int) -> Cell:
        """What a cell says: in a merged stretch what the stretch says, nothing where the row is too short."""
        cells = self.rows[row]
        found = cells[column] if column < len(cells) else None
        return self.merged.get((row, column)) if found is None or found == "" else found


def text_of(cell: Cell) -> str:
    """A cell as people read it: `7`, not `7.0`; dates as 2027-05-09; nothing for an empty one."""
    if cell is None:
        return ""
    if isinstance(cell, Uncomputed):
        return cell.error
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float):
        return f"{cell:.0f}" if cell.is_integer() and abs(cell) < EXACT else f"{cell:.15g}"
    if isinstance(cell, datetime.datetime) and cell.time() == datetime.time():
        return cell.date().isoformat()
    if isinstance(cell, (datetime.date, datetime.time)):
        return cell.isoformat(" ") if isinstance(cell, datetime.datetime) else cell.isoformat()
    return str(cell)


def letters(column: int) -> str:
    """A column's letters as spreadsheets write them: 0 is A, 26 is AA."""
    found = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        found = chr(ord("A") + rest) + found
    return found


def is_date(cell: Cell) -> bool:
    """Whether a cell holds a date or a time, or text that a spreadsheet has made one of (`9-May`)."""
    if isinstance(cell, str):
        return bool(_DATE.fullmatch(cell.strip()))
    return isinstance(cell, (datetime.date, datetime.time, datetime.timedelta))
