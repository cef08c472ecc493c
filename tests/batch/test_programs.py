"""From files of other programs into ones that other programs open: the table's own columns as they were, in their order."""

from __future__ import annotations

import csv
import datetime
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from askplant import cli, statuses
from askplant.batch import out
from askplant.batch.rows import ANSWERED, EMPTY, NOT_READ
from askplant.commands.batch import BEST
from tests.sheets import programs

ADDED = out.added(programs.HEADINGS, BEST, False)
STATUSES = [ANSWERED, NOT_READ, ANSWERED, EMPTY, NOT_READ, NOT_READ, ANSWERED, ANSWERED]


def answered(table: Path, name: str) -> Path:
    """The output of a batch, beside its table."""
    assert cli.main(["batch", str(table), str(table.parent / name), "--workers", "1"]) == statuses.FITS
    return table.parent / name


def in_openpyxl(path: Path) -> list[list[Any]]:
    """The cells of the sheet that opens, dates as days."""
    from openpyxl import load_workbook

    page = load_workbook(path).active
    assert not any(cell.data_type == "f" for row in page.iter_rows() for cell in row)
    days = (datetime.datetime,)
    return [
        [cell.date() if isinstance(cell, days) else cell for cell in row] for row in page.iter_rows(values_only=True)
    ]


def checked(rows: list[list[Any]], formula: Any) -> list[list[Any]]:
    """What was added, after what was there is found untouched."""
    expected = [[{programs.FORMULA: formula}.get(cell, cell) for cell in row] for row in programs.ROWS]
    width = len(programs.HEADINGS)
    assert rows[0][0] == programs.TITLE
    assert rows[2] == [*programs.HEADINGS, *ADDED]
    assert [row[:width] for row in rows[3 : 3 + len(expected)]] == expected
    return [row[width:] for row in rows[3:]]


@pytest.mark.parametrize(
    "make, name", [(programs.openpyxl, "in.xlsx"), (programs.xlwt, "in.xls"), (programs.odfpy, "in.ods")]
)
def test_from_other_libraries_into_openpyxl(tmp_path: Path, make: Callable[[Path], Path], name: str) -> None:
    """Each row has its status; what no spreadsheet has worked out is an empty cell, and said."""
    added = checked(in_openpyxl(answered(make(tmp_path / name), "out.xlsx")), None)
    assert [row[-2] for row in added][:7] == [*STATUSES[:5], added[5][-2], ANSWERED]
    assert added[5][-2] == NOT_READ
    assert added[1][-1].startswith("C5 (Request): the date 2027-05-09, which a spreadsheet may have made of a range")
    assert added[4][-1].startswith("C8 (Request): a formula that no spreadsheet has worked out")
    if name != "in.ods":  # whose writer knows no errors
        assert added[5][-1] == "C9 (Request): #N/A, an error that a formula came to; mend it in a spreadsheet"


@pytest.mark.parametrize("kind", ["xlsx", "ods", "xls"])
def test_saved_by_a_spreadsheet_and_opened_in_it(tmp_path: Path, kind: str) -> None:
    """There and back: OUT opened in LibreOffice and saved as text holds the cells of OUT, and those of the table."""
    table = programs.saved(programs.openpyxl(tmp_path / "in.xlsx"), kind, tmp_path / "saved")
    made = answered(table, "out.xlsx")
    cells = in_openpyxl(made)
    added = checked(cells, "fern, shade")
    assert [row[-2] for row in added] == [*STATUSES[:4], ANSWERED, NOT_READ, ANSWERED, ANSWERED]
    with programs.saved(made, "csv", tmp_path / "saved").open(encoding="utf-8", newline="") as stream:
        texts = list(csv.reader(stream))
    assert [[_text(cell) for cell in row] for row in cells] == texts


def _text(cell: Any) -> str:
    """A cell as LibreOffice saves it as text."""
    if isinstance(cell, bool):
        return str(cell).upper()
    if isinstance(cell, float):
        return f"{cell:.15g}"
    return "" if cell is None else str(cell)


def test_from_pandas_and_back(tmp_path: Path) -> None:
    """Text keeps its zeros; the row left empty is there, and says that it was."""
    from pandas import read_csv

    made = answered(programs.pandas(tmp_path / "in.csv"), "out.csv")
    frame = read_csv(made, skiprows=2, dtype=str, keep_default_na=False)
    assert list(frame["Zip"]) == [row[1] or "" for row in programs.ROWS]
    assert list(frame["Notes"])[4] == "'=1+1"
    assert list(frame["status"])[:4] == [ANSWERED, NOT_READ, ANSWERED, EMPTY]
    assert list(frame["Code"]) == [str(row[4] or "") for row in programs.ROWS]
