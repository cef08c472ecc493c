"""Tables of requests as people keep them: any usual encoding and delimiter in, one safe spreadsheet file out."""

from __future__ import annotations

import csv
import io
import os
import re
import tempfile
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from askplant.commands.requests import decoded, opened
from askplant.errors import FileError
from askplant.writing import mode_of

DELIMITERS = (",", ";", "\t", "|")
NO_DELIMITER = "\x1f"  # parts nothing: the whole line is one cell
SAMPLE_ROWS = 50  # whole rows looked at to tell the delimiter
CELL_LIMIT = 10_000_000  # characters; the csv module's own limit of 131,072 would end a table with one long cell
HEADINGS = (
    "request", "requests", "question", "enquiry", "inquiry", "wish", "wishes", "wanted", "looking for", "text",
    "message", "what they want", "description", "notes", "note", "comment", "comments",
)  # fmt: skip
SENTENCE = 4  # words from which a first row is taken for a request rather than for headings
FORMULA = ("=", "+", "-", "@", "\t", "\r")
WORKBOOK = b"PK\x03\x04"
_NUMBER = re.compile(r"[+-]?\d+([.,]\d+)*")


class Table(NamedTuple):
    """Headings, rows as they stand (they may be too short or too long), the request's column, and the delimiter."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    request: int
    delimiter: str


def read(name: str, column: str | None = None) -> Table:
    """The table in a file; `column` names the heading of the requests, else it is guessed.

    Raises FileError where the file cannot be read, holds a workbook or nothing, or has no such column.
    """
    with opened(name) as stream:
        raw = stream.read()
    if raw.startswith(WORKBOOK):
        raise FileError(name, "", "a workbook", "a CSV file (in the spreadsheet: save as CSV UTF-8)")
    text = decoded(raw)
    delimiter = _delimiter(text)
    rows = _whole_rows(text, delimiter or NO_DELIMITER)
    if not rows:
        raise FileError(name, "", "nothing", "a heading row and one request a row")
    return _table(name, rows, delimiter or DELIMITERS[0], column)


def safe(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula; numbers stay as they are."""
    return f"'{cell}" if cell.startswith(FORMULA) and not _NUMBER.fullmatch(cell) else cell


def unmarked(cell: str) -> str:
    """A cell without the mark that `safe` sets before it."""
    return cell[1:] if cell.startswith("'") and cell[1:].startswith(FORMULA) else cell


def write(name: str, rows: Iterable[Sequence[str]], delimiter: str) -> None:
    """Write a table so that the file appears whole or not at all; a file of that name is replaced.

    The encoding is UTF-8 with a mark at the start, by which spreadsheets know it.
    """
    target = Path(os.path.realpath(name))
    if target.exists() and not target.is_file():
        raise FileError(name, "", "something that is no ordinary file", "the name of a file to write")
    try:
        unfinished, path = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent)
    except OSError as problem:
        raise FileError(name, "", (problem.strerror or "trouble").lower(), "a folder that can be written") from problem
    try:
        with open(unfinished, "w", encoding="utf-8-sig", newline="") as stream:
            csv.writer(stream, delimiter=delimiter).writerows([safe(cell) for cell in row] for row in rows)
        os.chmod(path, mode_of(target))
        os.replace(path, target)
    except BaseException:
        Path(path).unlink(missing_ok=True)
        raise


def _table(name: str, rows: list[tuple[str, ...]], delimiter: str, column: str | None) -> Table:
    headings = tuple(cell.strip() for cell in rows[0])
    known = _named_column(headings, (column.casefold(),) if column else HEADINGS)
    if column and known is None:
        raise FileError(name, "1", f"the columns {', '.join(headings)}", f"a column named {column}")
    if known is not None:
        return Table(headings, tuple(rows[1:]), known, delimiter)
    guessed = _wordiest_column(rows)
    if len(rows[0][guessed : guessed + 1]) == 1 and len(rows[0][guessed].split()) >= SENTENCE:
        plain = tuple("request" if n == guessed else f"column {n + 1}" for n in range(len(headings)))
        return Table(plain, tuple(rows), guessed, delimiter)
    return Table(headings, tuple(rows[1:]), guessed, delimiter)


def _named_column(headings: Sequence[str], names: Sequence[str]) -> int | None:
    folded = [heading.casefold() for heading in headings]
    return next((folded.index(name) for name in names if name in folded), None)


def _wordiest_column(rows: Sequence[Sequence[str]]) -> int:
    """The column with most text in it."""
    below = rows[1:] or rows
    lengths = [sum(len(row[n]) for row in below if n < len(row)) for n in range(len(rows[0]))]
    return lengths.index(max(lengths))


def _delimiter(text: str) -> str | None:
    """The delimiter under which most rows have as many cells as the headings; most cells win, None where none parts."""
    best, most = None, 1
    for delimiter in DELIMITERS:
        sample = [row for _, row in zip(range(SAMPLE_ROWS), _rows(text, delimiter), strict=False) if row]
        width = len(sample[0]) if sample else 1
        agreeing = sum(len(row) == width for row in sample)
        if width > most and agreeing * 2 >= len(sample) and _like_headings(sample[0]):
            best, most = delimiter, width
    return best


def _like_headings(row: Sequence[str]) -> bool:
    """Whether a first row is parted rightly: a single sentence holds commas too, but blanks follow them."""
    known = _named_column([cell.strip() for cell in row], HEADINGS) is not None
    return known or all(cell == cell.lstrip() for cell in row)


def _rows(text: str, delimiter: str) -> Iterator[tuple[str, ...]]:
    csv.field_size_limit(CELL_LIMIT)
    lines = io.StringIO(text, newline="")
    return (tuple(row) for row in csv.reader(lines, delimiter=delimiter))


def _whole_rows(text: str, delimiter: str) -> list[tuple[str, ...]]:
    """Every row; where a quote is opened and never closed each line is a row, so that one slip costs one row."""
    if not _left_open(text, delimiter):
        return [row for row in _rows(text, delimiter) if row]
    return [row for line in text.splitlines() for row in _rows(line, delimiter) if row]


def _left_open(text: str, delimiter: str) -> bool:
    try:
        for _ in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True):
            pass
    except csv.Error as problem:
        return "end of data" in str(problem)
    return False
