"""Tables of requests: what is guessed, what is refused, and what is written."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from askplant.commands import tables
from askplant.errors import FileError


def table(folder: Path, content: bytes, column: str | None = None) -> tables.Table:
    """The table read from a file of this content."""
    path = folder / "in.csv"
    path.write_bytes(content)
    return tables.read(str(path), column)


@pytest.mark.parametrize("mark", [",", ";", "\t", "|"])
def test_delimiters(tmp_path: Path, mark: str) -> None:
    """The delimiter is the one that parts heading and rows alike."""
    rows = [["id", "request"], ["1", "narrow evergreen"], ["2", "red maple, small"]]
    text = "\n".join(mark.join(f'"{cell}"' for cell in row) for row in rows)
    read = table(tmp_path, text.encode())
    assert read.delimiter == mark
    assert read.headings == ("id", "request")
    assert [row[read.request] for row in read.rows] == ["narrow evergreen", "red maple, small"]


def test_one_column_with_commas_in_it(tmp_path: Path) -> None:
    """A single column is not parted at the commas of its sentences."""
    read = table(tmp_path, b"request\nevergreen, 10 ft, narrow\nfern, shade\n")
    assert read.rows == (("evergreen, 10 ft, narrow",), ("fern, shade",))


def test_a_table_without_headings(tmp_path: Path) -> None:
    """A first row that is a request is answered like the others."""
    read = table(tmp_path, b"evergreen, 10 ft, narrow, zone 7\nfern, shade\n")
    assert read.headings == ("request",)
    assert read.rows[0] == ("evergreen, 10 ft, narrow, zone 7",)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_encodings(tmp_path: Path, encoding: str) -> None:
    """UTF-8 with and without a mark, UTF-16, and the usual Windows encoding."""
    read = table(tmp_path, "who,request\nZoë,10–15 ft\n".encode(encoding))
    assert read.headings == ("who", "request")
    assert read.rows == (("Zoë", "10–15 ft"),)


def test_the_request_column_is_named_or_the_wordiest(tmp_path: Path) -> None:
    """A known heading, else the column with most text, else what was asked for."""
    content = b"nr,customer,said\n1,Smith,something narrow and evergreen by the fence\n"
    assert table(tmp_path, content).request == 2
    assert table(tmp_path, content, "Customer").request == 1
    with pytest.raises(FileError, match="a column named nobody"):
        table(tmp_path, content, "nobody")


def test_a_quote_never_closed_costs_one_row(tmp_path: Path) -> None:
    """The rows after a stray quote are still rows."""
    read = table(tmp_path, b'id,request\n1,"narrow\n2,fern\n3,moss\n')
    assert [row[0] for row in read.rows] == ["1", "2", "3"]


def test_a_cell_of_several_lines_is_one_cell(tmp_path: Path) -> None:
    """Line breaks inside quotes belong to the cell."""
    assert table(tmp_path, b'id,request\n1,"narrow\nevergreen"\n').rows == (("1", "narrow\nevergreen"),)


@pytest.mark.parametrize("content, found", [(b"", "nothing"), (b"\n\n", "nothing"), (b"PK\x03\x04rest", "a workbook")])
def test_files_that_are_no_table(tmp_path: Path, content: bytes, found: str) -> None:
    """What cannot be read is named, with what was expected."""
    with pytest.raises(FileError, match=found):
        table(tmp_path, content)


@pytest.mark.parametrize("name", ["absent.csv", "."])
def test_files_that_cannot_be_opened(tmp_path: Path, name: str) -> None:
    """A missing file or a folder is one line."""
    with pytest.raises(FileError, match="a file that can be read"):
        tables.read(str(tmp_path / name))


def test_formula_cells_are_text(tmp_path: Path) -> None:
    """No cell that is no number starts like a formula."""
    tables.write(str(tmp_path / "out.csv"), [["=1+1", "-5", "-10 °F", "@x", "plain", "+4.5"]], ",")
    row = next(csv.reader((tmp_path / "out.csv").read_text(encoding="utf-8-sig").splitlines()))
    assert row == ["'=1+1", "-5", "'-10 °F", "'@x", "plain", "+4.5"]
    assert [tables.unmarked(cell) for cell in row] == ["=1+1", "-5", "-10 °F", "@x", "plain", "+4.5"]


@given(st.text())
def test_marking_can_be_taken_back(cell: str) -> None:
    """A marked cell is never a formula, and what was marked comes back."""
    marked = tables.safe(cell)
    assert not marked.startswith(tables.FORMULA) or marked[1:].replace(".", "").replace(",", "").isdigit()
    if marked != cell:
        assert tables.unmarked(marked) == cell


def test_a_table_that_fails_half_way_leaves_what_was_there(tmp_path: Path) -> None:
    """The file appears whole or stays as it was, and nothing lies beside it."""
    out = tmp_path / "out.csv"
    out.write_text("before")

    def rows() -> object:
        yield ["one"]
        raise RuntimeError("half way")

    with pytest.raises(RuntimeError):
        tables.write(str(out), rows(), ",")  # type: ignore[arg-type]
    assert out.read_text() == "before"
    assert [path.name for path in tmp_path.iterdir()] == ["out.csv"]


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    """Where the table cannot be written is said before anything is asked."""
    with pytest.raises(FileError, match="a folder that can be written"):
        tables.write(str(tmp_path / "no" / "out.csv"), [], ",")


def test_only_ordinary_files_are_replaced(tmp_path: Path) -> None:
    """A folder is not written over."""
    with pytest.raises(FileError, match="no ordinary file"):
        tables.write(str(tmp_path), [], ",")
