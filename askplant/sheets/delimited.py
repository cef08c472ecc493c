"""Text files of cells: which sign parts them, and every row, whatever quotes are left open."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterator, Sequence

from askplant.errors import FileError
from askplant.sheets.sheet import MOST_CELLS, MOST_COLUMNS, MOST_ROWS

DELIMITERS = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars"}
NO_DELIMITER = "\x1f"  # parts nothing: the whole line is one cell
SAMPLE_ROWS = 50  # whole rows looked at to tell the delimiter
CELL_LIMIT = 10_000_000  # characters; the csv module's own limit of 131,072 would end a table with one long cell

Error = csv.Error  # a cell beyond that

Known = Callable[[str], bool]


def delimiter_of(text: str, known: Known) -> str | None:
    """The delimiter under which most rows have as many cells as the first; most cells win, None where none parts.

    `known` tells headings: a first row with one of them is parted rightly, whatever blanks follow.
    """
    best, most = None, 1
    for delimiter in DELIMITERS:
        sample = [row for _, row in zip(range(SAMPLE_ROWS), rows(text, delimiter), strict=False) if row]
        widths = [len(row) for row in sample]
        width = max(set(widths), key=widths.count) if widths else 1
        agreeing = widths.count(width)
        if width > most and agreeing * 2 >= len(sample) and _like_headings(sample, width, known):
            best, most = delimiter, width
    return best


def _like_headings(sample: Sequence[Sequence[str]], width: int, known: Known) -> bool:
    """Whether rows are parted rightly: a single sentence holds commas too, but blanks follow them. A first line that is one known
    heading is that of the only column, and no sign parts what is below it.
    """
    top = sample[0]
    if len(top) < width and known(top[0]):
        return False
    first = next(row for row in sample if len(row) == width)
    return all(cell == cell.lstrip() for cell in first) or (first is top and any(known(cell) for cell in first))


def rows(text: str, delimiter: str) -> Iterator[tuple[str, ...]]:
    """Rows as the csv module reads them."""
    csv.field_size_limit(CELL_LIMIT)
    return (tuple(row) for row in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter))


def whole_rows(text: str, delimiter: str, file: str) -> list[tuple[str, ...]]:
    """Every row up to the last that holds anything, empty ones between them too; where a quote is opened and never closed each
    line is a row, so that one slip costs one row. FileError for what is too much to be a table.
    """
    pieces = text.splitlines() if _left_open(text, delimiter) else [text]
    found = (row for piece in pieces for row in (rows(piece, delimiter) if piece else ((),)))
    kept: list[tuple[str, ...]] = []
    cells = 0
    for row in found:
        cells += len(row)
        if len(row) > MOST_COLUMNS:
            raise FileError(file, f"row {len(kept) + 1}", f"{len(row)} cells", f"{MOST_COLUMNS} columns at most")
        if len(kept) >= MOST_ROWS or cells > MOST_CELLS:
            raise FileError(file, "", f"more than {len(kept)} rows", f"{MOST_ROWS} rows, {MOST_CELLS} cells at most")
        kept.append(row)
    while kept and not kept[-1]:
        kept.pop()
    return kept


def _left_open(text: str, delimiter: str) -> bool:
    csv.field_size_limit(CELL_LIMIT)
    try:
        for _ in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True):
            pass
    except csv.Error as problem:
        return "end of data" in str(problem)
    return False
