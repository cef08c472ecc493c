"""A workbook read in a process of its own, whose memory is bounded: a cell in the last row of the last column makes the reader
ask for hundreds of gigabytes and end the process, and that must not be the caller's.

Run as a file, with the workbook, the sheet's name or nothing, the bytes of memory it may take, and the most columns, rows and
cells. Prints JSON: first a line {"sheet", "others", "merged"}, then a row a line; a cell that JSON has no word for is {"date"},
{"moment"}, {"time"}, {"days"} or {"formula"}: the error that a formula came to, or nothing where it has no value. Trouble is a
line {"trouble"} alone.
"""

from __future__ import annotations

import datetime
import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple


class Formula(NamedTuple):
    """A formula that came to an error, or has no value where that is empty."""

    error: str


def main(path: str, wanted: str, most_columns: int, most_rows: int, most_cells: int) -> None:
    """Print the first sheet that is shown and holds anything, or the one that is wanted. Nothing bounds its memory here."""
    from python_calamine import CalamineError, CalamineWorkbook, SheetTypeEnum, SheetVisibleEnum

    from askplant.sheets import blanks

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
    found = blanks.found(path, name, height, width)
    _print({"sheet": name, "others": [one for one in shown if one != name], "merged": merged or found.merged})
    filled: dict[int, dict[int, str]] = {}
    for (number, column), error in found.blanks.items():
        filled.setdefault(number, {})[column] = error
    rows += [[]] * (max(filled, default=-1) + 1 - len(rows))  # the reader ends where it sees nothing
    for number, row in enumerate(rows):
        _print(_filled(row, filled.get(number, {})))


def _filled(row: list[Any], formulas: dict[int, str]) -> list[Any]:
    cells = [_plain(cell) for cell in row]
    for column, error in formulas.items():
        cells += [None] * (column + 1 - len(cells))
        cells[column] = {"formula": error}
    return cells


def _bounded(memory: int) -> None:
    try:
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    except (ImportError, OSError, ValueError):  # no such bound on this system: the limits of sizes are left
        pass


def _plain(cell: Any) -> Any:
    if isinstance(cell, datetime.datetime):
        return {"moment": cell.isoformat()}
    if isinstance(cell, datetime.date):
        return {"date": cell.isoformat()}
    if isinstance(cell, datetime.time):
        return {"time": cell.isoformat()}
    if isinstance(cell, datetime.timedelta):
        return {"days": cell / datetime.timedelta(days=1)}
    return None if cell == "" else cell


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
    return datetime.timedelta(days=value) if kind == "days" else Formula(value)


if __name__ == "__main__":
    sys.path.append(
        str(Path(__file__).parents[2])
    )  # not this folder itself: `encodings` would stand in for Python's own
    _bounded(int(sys.argv[3]))
    main(sys.argv[1], sys.argv[2], *map(int, sys.argv[4:]))
