"""Tables as other programs write them are read cell for cell, and what no reader may leave out in silence is said."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

from askplant.sheets import columns
from askplant.sheets.read import read
from askplant.sheets.sheet import Sheet, Uncomputed, text_of
from tests.sheets import files, programs

KNOWN = partial(columns.known, "request")
ROWS = programs.ROWS
ERROR = Uncomputed(programs.ERROR)


def checked(found: Sheet, formula: object, error: object) -> None:
    """The rows are those that were written, whoever wrote them."""
    assert found.headings == tuple(programs.HEADINGS)
    assert (found.first, text_of(found.above[0][0]), len(found.above)) == (4, programs.TITLE, 2)
    expected = [[{programs.FORMULA: formula, programs.ERROR: error}.get(cell, cell) for cell in row] for row in ROWS]
    assert [list(row) for row in found.rows[: len(ROWS)]] == expected
    assert text_of(found.rows[7][2]) == "small tree, zone 6"
    assert found.cell(6, 3) == found.cell(7, 3) == "merged"


@pytest.mark.parametrize(
    "make, name, error",
    [
        (programs.openpyxl, "in.xlsx", ERROR),
        (programs.xlwt, "in.xls", ERROR),
        (programs.odfpy, "in.ods", programs.ERROR),  # odfpy has no cells for errors: it is text
    ],
)
def test_other_libraries(tmp_path: Path, make: Callable[[Path], Path], name: str, error: object) -> None:
    """A formula without a value is one, never an empty cell; an error is told by its name."""
    found = read(str(make(tmp_path / name)), KNOWN)
    checked(found, Uncomputed(), error)
    assert found.how.endswith("sheet March")
    assert "1 formula without a value: no spreadsheet has saved the file since" in found.notes
    assert any("of cells: the value counts in every cell of one" in note for note in found.notes)


def test_pandas(tmp_path: Path) -> None:
    """As text, the empty row and its place kept."""
    found = read(str(programs.pandas(tmp_path / "in.csv")), KNOWN)
    texts = [["" if cell is None else str(cell) for cell in row] for row in ROWS]
    assert [[text_of(cell) for cell in row] for row in found.rows] == texts
    assert found.first == 4


@pytest.mark.parametrize("kind", ["xlsx", "ods", "xls"])
def test_saved_by_a_spreadsheet(tmp_path: Path, kind: str) -> None:
    """Formulas are worked out by then, which is told from empty ones; errors stay."""
    made = programs.openpyxl(tmp_path / "in.xlsx")
    found = read(str(programs.saved(made, kind, tmp_path / "saved")), KNOWN)
    checked(found, "fern, shade", ERROR)
    assert not any("without a value" in note for note in found.notes)


@pytest.mark.parametrize("kind", ["xlsx", "ods", "xls"])
def test_a_formula_that_came_to_nothing_is_empty(tmp_path: Path, kind: str) -> None:
    """`=IF(…, "")` filled down a column is no reason to refuse its rows."""
    from openpyxl import Workbook

    book = Workbook()
    for row in (["id", "request", "zone"], [1, '=IF(A2=2,"fern","")', "=3+3"], [2, '=IF(A3=2,"fern","")', "=4+4"]):
        book.active.append(row)
    book.save(tmp_path / "in.xlsx")
    found = read(str(programs.saved(tmp_path / "in.xlsx", kind, tmp_path / "saved")), KNOWN)
    assert [list(map(text_of, row)) for row in found.rows] == [["1", "", "6"], ["2", "fern", "8"]]
    assert not any(isinstance(cell, Uncomputed) for row in found.rows for cell in row)


def test_rows_left_empty_keep_their_places(tmp_path: Path) -> None:
    """In text too: the numbers of the rows below are those that a spreadsheet shows."""
    path = tmp_path / "in.csv"
    path.write_text("\nid,request\n1,fern\n\n2,holly\n\n")
    found = read(str(path), KNOWN)
    assert (found.headings, found.first) == (("id", "request"), 3)
    assert found.rows == (("1", "fern"), (), ("2", "holly"))
    path.write_text('id,request\n1,"fern\n\n2,holly\n')  # where a quote is left open, too
    assert [row[:1] for row in read(str(path), KNOWN).rows] == [("1",), (), ("2",)]


@pytest.mark.parametrize("title", ["Spring", "Requests", "Wishes of March\nfrom the counter", ""])
def test_headings_below_a_title(tmp_path: Path, title: str) -> None:
    """One known heading beside others is enough, even under a title that is a known one itself."""
    path = files.xlsx(
        tmp_path / "in.xlsx", {"s": [[title], [], ["No", "Customer", "Request"], [1, "Oar", "fern, shade"]]}
    )
    found = read(str(path), KNOWN)
    assert (found.headings, found.first) == (("No", "Customer", "Request"), 4)


def test_a_first_row_below_its_heading_is_no_heading(tmp_path: Path) -> None:
    """Short cells under a known heading are requests."""
    path = tmp_path / "in.csv"
    path.write_text("request,\nfern,sun\nholly,shade\n")
    assert [row[0] for row in read(str(path), KNOWN).rows] == ["fern", "holly"]


def test_a_slip_in_the_encoding_costs_one_character(tmp_path: Path) -> None:
    """The rest is not taken for another encoding, and what is lost is counted."""
    path = tmp_path / "in.csv"
    path.write_bytes("id,request\n1,Zoë früh – fern\n2,".encode() + b"caf\xe9\n")
    found = read(str(path), KNOWN)
    assert found.rows == (("1", "Zoë früh – fern"), ("2", "caf\ufffd"))
    assert found.notes == ("1 character that is none in UTF-8, now \ufffd",)


def test_numbers_as_they_are_read() -> None:
    """All the digits that a spreadsheet shows."""
    for cell, said in (
        (4006381333931.0, "4006381333931"),
        (0.1 + 0.2, "0.3"),
        (-2.5, "-2.5"),
        (7.0, "7"),
        (1e300, "1e+300"),
    ):
        assert text_of(cell) == said


def test_headings_alike_are_mapped_in_their_order(tmp_path: Path) -> None:
    """The first that is named so is the first of the table."""
    (tmp_path / "in.csv").write_text("request,notes,notes\nfern,a,b\n")
    (tmp_path / "m.toml").write_text(
        '[[column]]\nheading = "notes"\nsay = "x {}"\n[[column]]\nheading = "notes"\nsay = "y {}"\n'
    )
    found = read(str(tmp_path / "in.csv"), KNOWN)
    assert [one.place for one in columns.from_file(str(tmp_path / "m.toml"), found, "request")] == [1, 2]
