"""`askplant batch`: every row comes back, answered or marked."""

from __future__ import annotations

import csv
import os
from pathlib import Path

import pytest

from askplant import cli, statuses
from askplant.commands.batch import ADDED, FITS, NO_REQUEST, NOTHING_FITS

HEADINGS = ["id", "customer", "request"]
ROWS = [
    ["1", "=1+1", "evergreen, 10–15 ft, narrow, zone 7, ideally fragrant"],
    ["2", "Zoë", ""],
    ["3", "x", "a fern", "one too many"],
    ["4"],
    ["5", "y", "a palm for zone 2, at least 90 ft tall, frobnicated"],
    ["6", "y", "'-10 °F hardy shrub\nfor shade"],
]


def batch(folder: Path, rows: list[list[str]], *options: str) -> tuple[int, list[dict[str, str]]]:
    """The exit status, and the table that comes of a table."""
    with (folder / "in.csv").open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows(rows)
    status = cli.main(["batch", *options, str(folder / "in.csv"), str(folder / "out.csv")])
    if status:
        return status, []
    with (folder / "out.csv").open(encoding="utf-8-sig", newline="") as stream:
        return status, list(csv.DictReader(stream))


def test_every_row_comes_back(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In order, with its own cells, the answer behind them, and a status that tells bad rows."""
    status, rows = batch(tmp_path, [HEADINGS, *ROWS])
    assert status == statuses.FITS
    assert [row["id"] for row in rows] == list("123456")
    assert list(rows[0]) == [*HEADINGS, *ADDED]
    told = [row["status"] for row in rows]
    assert told[:2] == [FITS, NO_REQUEST]
    assert told[2].startswith("not answered: 4 cells where the headings are 3")
    assert told[3:] == [NO_REQUEST, NOTHING_FITS, FITS]
    assert rows[2]["request"] == "a fern,one too many"
    said = capsys.readouterr().err
    assert "6 rows from column 'request': 2 with plants that fit, 1 with none, 3 not answered" in said


def test_an_answer_in_cells(tmp_path: Path) -> None:
    """The reading in words, what was not understood, plants with their sizes; no cell is a formula."""
    _, rows = batch(tmp_path, [HEADINGS, *ROWS])
    assert rows[0]["understood"] == "evergreen; height 10–15 ft; narrow; zone 7a–7b; wish: fragrant"
    assert rows[0]["plant 1"]
    assert " × " in rows[0]["size 1"]
    assert rows[4]["not understood"] == "“frobnicated”"
    assert rows[0]["customer"] == "'=1+1"
    cells = [cell for row in rows for cell in row.values() if cell]
    assert [cell for cell in cells if cell.startswith(("=", "+", "-", "@"))] == []


def test_the_mark_before_a_formula_is_no_part_of_the_request(tmp_path: Path) -> None:
    """A request that was marked as text when it was exported is read without the mark."""
    _, rows = batch(tmp_path, [HEADINGS, *ROWS])
    assert "zone" in rows[5]["understood"]
    assert rows[5]["not understood"] == ""


def test_units_and_column(tmp_path: Path) -> None:
    """Both can be chosen."""
    _, rows = batch(tmp_path, [["a", "b"], ["evergreen, 10–15 ft", "x"]], "--units", "metric", "--column", "A")
    assert rows[0]["understood"] == "evergreen; height 3–4.6 m"


def test_its_own_output_can_be_answered_again(tmp_path: Path) -> None:
    """Columns of the same name are set apart."""
    batch(tmp_path, [HEADINGS, *ROWS[:1]])
    os.replace(tmp_path / "out.csv", tmp_path / "in2.csv")
    assert cli.main(["batch", str(tmp_path / "in2.csv"), str(tmp_path / "out.csv")]) == statuses.FITS
    head = (tmp_path / "out.csv").read_text(encoding="utf-8-sig").splitlines()[0]
    assert "status,understood (askplant)" in head


@pytest.mark.parametrize(
    "arguments, said",
    [
        (["absent.csv", "out.csv"], "absent.csv: found no such file"),
        (["in.csv", "in.csv"], "in.csv: is the table to read"),
        (["in.csv", "no/folder/out.csv"], "a folder that can be written"),
        (["in.csv", "."], "no ordinary file"),
        (["--column", "wish", "in.csv", "out.csv"], "a column named wish"),
    ],
)
def test_wrong_use(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], arguments: list[str], said: str
) -> None:
    """What cannot be read or written is one line, and leaves no file behind."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "in.csv").write_text("id,request\n1,fern\n")
    assert cli.main(["batch", *arguments]) == statuses.WRONG_USE
    err = capsys.readouterr().err
    assert err.count("\n") == 1
    assert said in err
    assert os.listdir(tmp_path) == ["in.csv"]
