"""A workbook read in a process of its own, whose memory is bounded: a cell in the last row of the last column makes the reader
ask for hundreds of gigabytes and end the process, and that must not be the caller's.

Run as a file, with the workbook, the sheet's name or nothing, the bytes of memory it may take, and the most columns, rows and
cells. Prints JSON: first a line {"sheet", "others", "merged"}, then a row a line; a cell that JSON has no word for is {"date"},
{"moment"}, {"time"}, {"days"} or {"formula"}. Trouble is a line {"trouble"} alone.
"""

from __future__ import annotations

import datetime
import json
import re
import sys
import zipfile
from collections.abc import Iterator
from typing import Any
from xml.etree import ElementTree

_CELL = re.compile(rb'<c r="([A-Z]+)(\d+)"[^>]*>\s*<f[^>]*(?:/>|>[^<]*</f>)\s*(?:<v\s*/>|<v>\s*</v>)?\s*</c>')
_NAMES = {"m": "http://schemas.openxmlformats.org/spreadsheetml/2006/main"}
_LINK = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"


def main(path: str, wanted: str, memory: int, most_columns: int, most_rows: int, most_cells: int) -> None:
    """Print the first sheet that is shown and holds anything, or the one that is wanted."""
    _bounded(memory)
    from python_calamine import CalamineError, CalamineWorkbook, SheetTypeEnum, SheetVisibleEnum

    try:
        workbook = CalamineWorkbook.from_path(path)
        about = workbook.sheets_metadata
        names = [one.name for one in about if one.typ is SheetTypeEnum.WorkSheet]
        shown = [one.name for one in about if one.visible is SheetVisibleEnum.Visible and one.name in names]
        if wanted and wanted not in names:
            _print({"trouble": "sheet", "names": names})
            return
        for name in [wanted] if wanted else [*shown, *(name for name in names if name not in shown)]:
            sheet = workbook.get_sheet_by_name(name)
            height, width = (last + 1 for last in sheet.end or (-1, -1))
            if width > most_columns or height > most_rows or width * height > most_cells:
                _print({"trouble": "large", "width": width, "height": height})
                return
            rows = sheet.to_python(skip_empty_area=False)
            if wanted or any(cell != "" for row in rows for cell in row):
                break
        else:
            _print({"trouble": "empty"})
            return
        merged = sheet.merged_cell_ranges or []
    except (CalamineError, OSError, ValueError) as problem:
        _print({"trouble": "unreadable", "said": str(problem)})
        return
    _print({"sheet": name, "others": [one for one in shown if one != name], "merged": merged})
    formulas = _uncomputed(path, name)
    for number, row in enumerate(rows):
        _print([_plain(cell, (number, column) in formulas) for column, cell in enumerate(row)])


def _bounded(memory: int) -> None:
    try:
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    except (ImportError, OSError, ValueError):  # no such bound on this system: the limits of sizes are left
        pass


def _plain(cell: Any, formula: bool) -> Any:
    if formula and cell == "":
        return {"formula": 1}
    if isinstance(cell, datetime.datetime):
        return {"moment": cell.isoformat()}
    if isinstance(cell, datetime.date):
        return {"date": cell.isoformat()}
    if isinstance(cell, datetime.time):
        return {"time": cell.isoformat()}
    if isinstance(cell, datetime.timedelta):
        return {"days": cell / datetime.timedelta(days=1)}
    return None if cell == "" else cell


def _uncomputed(path: str, sheet: str) -> set[tuple[int, int]]:
    """The places of formulas without a value, of which the reader makes empty cells; told for XLSX alone."""
    try:
        with zipfile.ZipFile(path) as files:
            inside = _part_of(files, sheet)
            data = files.read(inside) if inside else b""
    except (zipfile.BadZipFile, KeyError, ElementTree.ParseError, OSError):
        return set()
    return {(int(row) - 1, _column(letters.decode())) for letters, row in _CELL.findall(data)}


def _part_of(files: zipfile.ZipFile, sheet: str) -> str | None:
    """The part of an XLSX file that holds a sheet."""
    if "xl/workbook.xml" not in files.namelist():
        return None
    book = ElementTree.fromstring(files.read("xl/workbook.xml"))
    links = ElementTree.fromstring(files.read("xl/_rels/workbook.xml.rels"))
    targets = {link.get("Id"): link.get("Target", "") for link in links}
    for one in book.iterfind("m:sheets/m:sheet", _NAMES):
        if one.get("name") == sheet:
            target = targets.get(one.get(_LINK), "")
            return target.lstrip("/") if target.startswith("/") else f"xl/{target}"
    return None


def _column(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - ord("A") + 1
    return number - 1


def _print(value: Any) -> None:
    sys.stdout.write(json.dumps(value) + "\n")


def read_back(lines: Iterator[bytes]) -> Iterator[tuple[Any, ...]]:
    """The rows of what was printed, their cells as values again."""
    return (tuple(_value(cell) for cell in json.loads(line)) for line in lines)


def _value(cell: Any) -> Any:
    if not isinstance(cell, dict):
        return float(cell) if isinstance(cell, int) and not isinstance(cell, bool) else cell
    ((kind, value),) = cell.items()
    if kind == "moment":
        return datetime.datetime.fromisoformat(value)
    if kind == "date":
        return datetime.date.fromisoformat(value)
    if kind == "time":
        return datetime.time.fromisoformat(value)
    return datetime.timedelta(days=value) if kind == "days" else FORMULA


FORMULA = object()  # what `read_back` gives for a formula without a value

if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], *map(int, sys.argv[3:]))
