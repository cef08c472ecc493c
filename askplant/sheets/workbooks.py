"""Workbooks (XLSX, XLS, ODS): refused where they would unpack to more than a table can be, else read apart."""

from __future__ import annotations

import json
import subprocess
import sys
import zipfile
from pathlib import Path
from typing import Any, NamedTuple

from askplant.errors import FileError
from askplant.sheets import apart
from askplant.sheets.sheet import MOST_BYTES, MOST_CELLS, MOST_COLUMNS, MOST_ROWS, Row, Uncomputed

ZIPPED, COMPOUND = b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
MOST_MEMORY = 3 << 30  # bytes that reading a workbook may take
MOST_PARTS = 10_000  # files in a zipped workbook
CHUNK = 1 << 20
EXPECTED = "a workbook that a spreadsheet can open (XLSX, XLS or ODS)"


class Read(NamedTuple):
    """One sheet of a workbook: its kind and name, the names of the others, its rows, and merged ranges, ends included."""

    kind: str
    sheet: str
    others: tuple[str, ...]
    rows: tuple[Row, ...]
    merged: tuple[tuple[tuple[int, int], tuple[int, int]], ...]


def is_workbook(head: bytes) -> bool:
    """Whether a file that begins like this is a workbook."""
    return head.startswith((ZIPPED, COMPOUND))


def read(file: str, wanted: str | None = None) -> Read:
    """The rows of a sheet: the one that is wanted, else the first that is shown and holds anything.

    FileError for a file that is no workbook, is damaged or locked, has no such sheet, or is too much.
    """
    kind = _kind(file)
    limits = map(str, (MOST_MEMORY, MOST_COLUMNS, MOST_ROWS, MOST_CELLS))
    command = [sys.executable, "-P", str(Path(apart.__file__)), file, wanted or "", *limits]
    # The reader's own complaints, a trace of its memory when that ends, are for nobody.
    done = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, check=False)
    first, *rest = done.stdout.splitlines() or [b"{}"]
    told: dict[str, Any] = json.loads(first) if done.returncode == 0 else {}
    if not told:
        raise FileError(file, "", f"a workbook that takes more than {MOST_MEMORY >> 30} GB to open", _least())
    _sound(file, told, wanted)
    rows = tuple(_values(row) for row in apart.read_back(iter(rest)))
    merged = tuple((tuple(start), tuple(end)) for start, end in told["merged"])
    return Read(kind, told["sheet"], tuple(told["others"]), _trimmed(rows), merged)


def _kind(file: str) -> str:
    with open(file, "rb") as stream:
        if stream.read(len(COMPOUND)) == COMPOUND:
            return "XLS"
    try:
        with zipfile.ZipFile(file) as parts:
            _unpackable(file, parts)
            names = set(parts.namelist())
    except (zipfile.BadZipFile, OSError, EOFError, NotImplementedError, RuntimeError, ValueError) as problem:
        raise FileError(file, "", f"a damaged workbook ({problem})", EXPECTED) from None
    if "content.xml" in names:
        return "ODS"
    return "XLSX" if "xl/workbook.xml" in names else "workbook"


def _unpackable(file: str, parts: zipfile.ZipFile) -> None:
    """FileError for a file that says, or turns out, to hold more than a table can."""
    told = parts.infolist()
    most = sum(part.file_size for part in told)
    if most > MOST_BYTES or len(told) > MOST_PARTS:
        size = f"{most / 1e9:.1f} GB" if most > MOST_BYTES else f"{len(told)} files"
        raise FileError(file, "", f"a workbook that unpacks to {size}", _least())
    for part in told:  # what a part says of its size may be a lie: the sum is checked against what comes out
        with parts.open(part) as stream:
            while stream.read(CHUNK):
                pass


def _least() -> str:
    return f"{MOST_BYTES // 1_000_000} MB, {MOST_COLUMNS} columns and {MOST_ROWS} rows at most"


def _sound(file: str, told: dict[str, Any], wanted: str | None) -> None:
    trouble = told.get("trouble")
    if trouble == "sheet":
        raise FileError(file, "", f"the sheets {', '.join(told['names'])}", f"a sheet named {wanted}")
    if trouble == "large":
        raise FileError(file, "", f"{told['width']} columns and {told['height']} rows", _least())
    if trouble == "empty":
        raise FileError(file, "", "nothing", "a heading row and one request a row")
    if trouble:
        raise FileError(file, "", f"a workbook that cannot be read ({told.get('said', trouble)})", EXPECTED)


def _values(row: tuple[Any, ...]) -> Row:
    return tuple(Uncomputed(cell.error) if isinstance(cell, apart.Formula) else cell for cell in row)


def _trimmed(rows: tuple[Row, ...]) -> tuple[Row, ...]:
    """Without the empty rows at the end, which a workbook has wherever somebody coloured a cell."""
    count = len(rows)
    while count and not any(cell is not None for cell in rows[count - 1]):
        count -= 1
    return rows[:count]
