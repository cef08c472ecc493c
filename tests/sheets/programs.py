"""Files as other programs write them: openpyxl, odfpy, xlwt, pandas, and a spreadsheet program that is run for it."""

from __future__ import annotations

import csv
import datetime
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

LONG = "Long text, " + "much ado about a corner by the gate; " * 60
TITLE = "Requests of Quillon Hollow"
HEADINGS = ["No", "Zip", "Request", "Notes", "Code", "Notes", "Paid"]
DAY = datetime.date(2027, 5, 9)
LAST = 10  # the row of the last request, as spreadsheets count
# Numbers as text, a zip with its zero, a range that became a date, a row left empty, text like a formula, long text, a
# number of many digits, a formula that nobody has worked out, and one that came to an error.
FORMULA, ERROR = '="fern, "&"shade"', "#N/A"
ROWS: list[list[Any]] = [
    [1, "02134", "evergreen shrub, zone 7, part shade", "Zoë – “früh”", 4006381333931, "a", True],
    [2, "00501", DAY, None, 0.1, "b", False],
    [3, "10001", "groundcover for dry shade, zone 6", LONG, -2.5, None, True],
    [None] * len(HEADINGS),
    ["4", "07030", FORMULA, "=1+1", 5, "c", False],
    [5, "07030", ERROR, "東京 🌿", 6, "d", True],
    [6, "07030", "fern, zone 5", "merged", 7, "last", False],
]


def openpyxl(path: Path) -> Path:
    """XLSX: a hidden sheet before the one that counts, a title over it, merged cells, formulas without values."""
    from openpyxl import Workbook

    book = Workbook()
    book.active.title = "Old"
    book.active["A1"] = "request"
    book.active.sheet_state = "hidden"
    page = book.create_sheet("March")
    book.active = 1
    for row in _whole():
        page.append(row)
    page["D8"].data_type = "s"  # text, whatever it begins with
    page.merge_cells("A1:G1")
    page.merge_cells(f"D{LAST}:D{LAST + 1}")
    book.save(path)
    return path


def xlwt(path: Path) -> Path:
    """XLS, with formulas that nobody has worked out."""
    from xlwt import Formula, Workbook, easyxf

    book = Workbook()
    hidden = book.add_sheet("Old")
    hidden.write(0, 0, "request")
    hidden.visibility = 1
    page = book.add_sheet("March")
    book.set_active_sheet(1)
    for y, row in enumerate(_whole()):
        for x, cell in enumerate(row):
            if cell == FORMULA:
                page.write(y, x, Formula(cell[1:]))
            elif cell == ERROR:
                page.row(y).set_cell_error(x, 0x2A)
            elif isinstance(cell, datetime.date):
                page.write(y, x, cell, easyxf(num_format_str="d-mmm"))
            elif cell is not None:
                page.write(y, x, cell)
    page.merge(LAST - 1, LAST, 3, 3)
    book.save(str(path))
    return path


def odfpy(path: Path) -> Path:
    """ODS."""
    from odf.opendocument import OpenDocumentSpreadsheet
    from odf.style import Style, TableProperties
    from odf.table import CoveredTableCell, Table, TableRow

    book = OpenDocumentSpreadsheet()
    style = Style(name="hidden", family="table")
    style.addElement(TableProperties(display="false"))
    book.automaticstyles.addElement(style)
    hidden, page = Table(name="Old", stylename="hidden"), Table(name="March")
    for table, rows in ((hidden, [["request"]]), (page, _whole())):
        for y, row in enumerate(rows):
            line = TableRow()
            for x, cell in enumerate(row):
                merged = {"numberrowsspanned": 2} if (y, x) == (LAST - 1, 3) else {}
                line.addElement(CoveredTableCell() if (y, x) == (LAST, 3) else _odf_cell(cell, merged))
            table.addElement(line)
        book.spreadsheet.addElement(table)
    book.save(str(path))
    return path


def _odf_cell(cell: Any, more: dict[str, Any]) -> Any:
    from odf.table import TableCell
    from odf.text import P

    if cell is None:
        return TableCell(**more)
    if cell == FORMULA:
        return TableCell(formula=f"of:{cell}", **more)
    if isinstance(cell, bool):
        return TableCell(valuetype="boolean", booleanvalue=str(cell).lower(), **more)
    if isinstance(cell, (int, float)):
        return TableCell(valuetype="float", value=cell, **more)
    if isinstance(cell, datetime.date):
        return TableCell(valuetype="date", datevalue=str(cell), **more)
    made = TableCell(valuetype="string", **more)
    made.addElement(P(text=cell))
    return made


def pandas(path: Path) -> Path:
    """CSV. The formula is text by then, as is the error."""
    from pandas import DataFrame

    frame = DataFrame(ROWS, columns=HEADINGS, dtype=object)
    path.write_text(f"{TITLE}\n\n", encoding="utf-8")
    frame.to_csv(path, index=False, mode="a", encoding="utf-8", quoting=csv.QUOTE_MINIMAL)
    return path


def _whole() -> list[list[Any]]:
    """Title, a row left free, headings, requests."""
    return [[TITLE], [], HEADINGS, *ROWS, *[[7, "07030", "small tree, zone 6", None, 8, "e", True]]]


def saved(path: Path, kind: str, folder: Path) -> Path:
    """A file saved anew by LibreOffice, as XLSX, ODS, XLS or CSV; skips where there is none."""
    program = shutil.which("soffice") or shutil.which("libreoffice")
    if program is None:
        pytest.skip("LibreOffice is not installed (Debian: apt-get install --no-install-recommends libreoffice-calc)")
    folder.mkdir(exist_ok=True)
    # UTF-8, every cell quoted that is text, formulas and numbers as they are rather than as they look.
    form = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false" if kind == "csv" else kind
    profile = (folder / "profile").as_uri()
    command = [
        program,
        f"-env:UserInstallation={profile}",
        "--headless",
        "--convert-to",
        form,
        "--outdir",
        folder,
        path,
    ]
    done = subprocess.run(command, capture_output=True, text=True, timeout=180, check=False)
    made = folder / f"{path.stem}.{kind}"
    assert made.exists(), done.stderr
    return made
