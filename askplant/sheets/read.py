"""Any usual table → a Sheet: CSV and TSV in any usual encoding, XLSX, XLS and ODS."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import replace

from askplant.errors import FileError
from askplant.sheets import delimited, encodings, workbooks
from askplant.sheets.delimited import CELL_LIMIT, DELIMITERS, NO_DELIMITER, Known
from askplant.sheets.sheet import MOST_BYTES, Cell, Row, Sheet, Uncomputed, text_of

FIRST_ROWS = 10  # rows among which the headings are looked for
LEAST_KNOWN = 2  # known headings from which a row below the first is taken for the headings
SENTENCE = 4  # words from which a first row is taken for a request rather than for headings
EXPECTED = "a file that can be read"


def read(file: str, known: Known, sheet: str | None = None) -> Sheet:
    """The table in a file; `known` tells headings, `sheet` names the sheet of a workbook.

    FileError where the file cannot be read, holds nothing, or is too much.
    """
    raw = _bytes(file)
    if workbooks.is_workbook(raw[:8]):
        del raw
        return _workbook(workbooks.read(file, sheet), file, known)
    if sheet is not None:
        raise FileError(file, "", "a text file", "a workbook: --sheet names one of its sheets")
    return _text(raw, file, known)


def _bytes(file: str) -> bytes:
    try:
        with open(file, "rb") as stream:
            size = os.fstat(stream.fileno()).st_size
            if size > MOST_BYTES:
                raise FileError(file, "", f"{size / 1e9:.1f} GB", f"{MOST_BYTES // 1_000_000} MB at most")
            return stream.read(MOST_BYTES + 1)
    except OSError as problem:
        raise FileError(file, "", (problem.strerror or "trouble").lower(), EXPECTED) from problem
    except ValueError as problem:
        raise FileError(repr(file), "", str(problem), "a file name") from problem


def _text(raw: bytes, file: str, known: Known) -> Sheet:
    text, encoding = encodings.decoded(raw)
    lost = text.count(encodings.LOST)
    characters = _counted(lost, "character that is none", "characters that are none")
    notes = (f"{characters} in {encoding}, now {encodings.LOST}",) if lost else ()
    try:
        delimiter = delimited.delimiter_of(text, known)
        rows = delimited.whole_rows(text, delimiter or NO_DELIMITER, file)
    except delimited.Error as problem:
        raise FileError(file, "", str(problem), f"cells of at most {CELL_LIMIT} characters") from None
    if not rows:
        raise FileError(file, "", "nothing", "a heading row and one request a row")
    parted = f"parted by {DELIMITERS[delimiter]}" if delimiter else "one column"
    return replace(_headed(rows, file, f"{encoding}, {parted}", known, delimiter or ","), notes=notes)


def _workbook(found: workbooks.Read, file: str, known: Known) -> Sheet:
    others = f", not read: {', '.join(found.others)}" if found.others else ""
    sheet = _headed(found.rows, file, f"{found.kind}, sheet {found.sheet}{others}", known, ",")
    offset = len(sheet.above) + (1 if sheet.headed else 0)
    merged: dict[tuple[int, int], Cell] = {}
    for (top, left), (bottom, right) in found.merged:
        value = found.rows[top][left] if top < len(found.rows) and left < len(found.rows[top]) else None
        for row in range(max(top, offset), min(bottom + 1, len(found.rows))):
            merged |= {(row - offset, column): value for column in range(left, min(right + 1, len(found.rows[row])))}
    stretches = _counted(len(found.merged), "merged stretch", "merged stretches")
    notes = [f"{stretches} of cells: the value counts in every cell of one"] if merged else []
    unworked = sum(cell == Uncomputed() for row in found.rows for cell in row)
    if unworked:
        formulas = _counted(unworked, "formula", "formulas")
        notes.append(f"{formulas} without a value: no spreadsheet has saved the file since")
    return replace(sheet, notes=tuple(notes), merged=merged)


def _counted(number: int, one: str, more: str) -> str:
    return f"{number} {one if number == 1 else more}"


def _headed(rows: Sequence[Row], file: str, how: str, known: Known, delimiter: str) -> Sheet:
    """The rows under their headings; headings are made up for a file whose first row is a request already."""
    head = _head(rows, known)
    if not _known(rows[head], known) and _is_sentence(rows[head]):
        width = max(map(len, rows))
        wordiest = _wordiest(rows, width)
        made_up = tuple("request" if n == wordiest else f"column {n + 1}" for n in range(width))
        return Sheet(file, how, made_up, tuple(rows[head:]), head + 1, tuple(rows[:head]), delimiter, headed=False)
    width = len(rows[head]) if any(isinstance(cell, str) for cell in rows[head]) else max(map(len, rows))
    headings = tuple(" ".join(text_of(cell).split()) for cell in rows[head])[:width]
    return Sheet(file, how, headings, tuple(rows[head + 1 :]), head + 2, tuple(rows[:head]), delimiter)


def _head(rows: Sequence[Row], known: Known) -> int:
    """Where the headings stand: in the first row that holds anything, or in one of the next that is fuller than all above it,
    which are then a title. It has several known headings, or one beside other short texts where nothing above fills more than
    one cell.
    """
    first = next((number for number, row in enumerate(rows) if _filled(row)), 0)
    widest = 0
    for number, row in enumerate(rows[first : first + FIRST_ROWS], first):
        count, filled = _known(row, known), _filled(row)
        least = 1 if widest <= 1 and _is_short(row) else LEAST_KNOWN
        if number > first and count >= least and filled > widest:
            return number
        alone = filled == 1 and number + 1 < len(rows) and not _filled(rows[number + 1])
        if count and not alone:  # with a row left free below, one known word is a title
            break
        widest = max(widest, filled)
    return first


def _is_short(row: Row) -> bool:
    """Whether all that a row holds are short texts, as headings are."""
    return all(isinstance(cell, str) and len(cell.split()) < SENTENCE for cell in row if text_of(cell))


def _known(row: Row, known: Known) -> int:
    return sum(known(text_of(cell)) for cell in row)


def _filled(row: Row) -> int:
    return sum(text_of(cell) != "" for cell in row)


def _is_sentence(row: Row) -> bool:
    """Whether a first row is a request itself: one of its cells is a sentence."""
    return any(isinstance(cell, str) and len(cell.split()) >= SENTENCE for cell in row)


def _wordiest(rows: Sequence[Row], width: int) -> int:
    """The column with most text in it."""
    lengths = [sum(len(text_of(row[n])) for row in rows if n < len(row)) for n in range(width)]
    return lengths.index(max(lengths))
