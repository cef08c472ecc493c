"""Tables of every usual kind are read alike, and what is no table is refused in one line."""

from __future__ import annotations

import datetime
import zipfile
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from askplant.errors import FileError
from askplant.sheets import columns, delimited, sheet, workbooks
from askplant.sheets.encodings import decoded
from askplant.sheets.read import read
from askplant.sheets.sheet import Cell, Uncomputed, is_date, letters, text_of
from tests.sheets import files

KNOWN = partial(columns.known, "request")
ROWS = [
    ["id", "Customer", "Request", "Zone"],
    [1, "Zoë", "10–15 ft evergreen, “narrow”", 7],
    [2, None, "shade; deer, \"safe\"\nfor dogs", "6b"],
    [3, "José", "fern", datetime.date(2027, 5, 9)],
]  # fmt: skip


def texts(rows: tuple[tuple[Cell, ...], ...]) -> list[list[str]]:
    """The cells as people read them."""
    return [[text_of(cell) for cell in row] for row in rows]


def delimited_text(delimiter: str) -> str:
    """The rows as a spreadsheet writes them, with a date of its own making."""
    plain = [["" if cell is None else str(cell) for cell in row] for row in ROWS]
    quoted = [
        ['"' + cell.replace('"', '""') + '"' if set(cell) & set('";\n,\t|') else cell for cell in row] for row in plain
    ]
    return "\r\n".join(delimiter.join(row) for row in quoted) + "\r\n"


@pytest.mark.parametrize("delimiter, said", [(",", "commas"), (";", "semicolons"), ("\t", "tabs"), ("|", "bars")])
@pytest.mark.parametrize(
    "encoding, name",
    [("utf-8", "UTF-8"), ("utf-8-sig", "UTF-8"), ("utf-16", "UTF-16"), ("cp1252", "Windows-1252"), ("utf-16-le", "UTF-16 w")],
)  # fmt: skip
def test_text_files(tmp_path: Path, delimiter: str, said: str, encoding: str, name: str) -> None:
    """In any usual encoding and parted by any usual sign, with quotes and line ends in cells; how it was read is said."""
    path = tmp_path / "in.csv"
    path.write_bytes(delimited_text(delimiter).encode(encoding))
    found = read(str(path), KNOWN)
    assert found.headings == ("id", "Customer", "Request", "Zone")
    assert texts(found.rows)[0] == ["1", "Zoë", "10–15 ft evergreen, “narrow”", "7"]
    assert texts(found.rows)[1][2] == 'shade; deer, "safe"\nfor dogs'
    assert found.how.startswith(name)
    assert found.how.endswith(f"parted by {said}")


def make_xlsx(path: Path) -> Path:
    return files.xlsx(path, {"Requests": ROWS})


@pytest.mark.parametrize(
    "make, kind",
    [
        (make_xlsx, "XLSX"),
        (lambda path: files.xls(path, "Requests", ROWS), "XLS"),
        (lambda path: files.ods(path, "Requests", ROWS), "ODS"),
    ],
    ids=["XLSX", "XLS", "ODS"],
)  # fmt: skip
def test_workbooks(tmp_path: Path, make: Callable[[Path], Path], kind: str) -> None:
    """Each kind gives the same cells, dates as dates, whatever the file is called."""
    found = read(str(make(tmp_path / "table.dat")), KNOWN)
    assert found.how == f"{kind}, sheet Requests"
    assert texts(found.rows) == [
        ["1", "Zoë", "10–15 ft evergreen, “narrow”", "7"],
        ["2", "", 'shade; deer, "safe"\nfor dogs', "6b"],
        ["3", "José", "fern", "2027-05-09"],
    ]
    assert isinstance(found.rows[2][3], datetime.date)


def test_short_central_european_text_is_told() -> None:
    """What is not Western European is told by its look; Western text is never taken for it."""
    text = "id;name\n1;Šárka Dvořáková;jehličnan\n2;Žižkov;růže do stínu\n"
    assert decoded(text.encode("cp1250")) == (text, "cp1250, by the look of it")
    assert decoded("Zoë – ½ shade".encode("cp1252")) == ("Zoë – ½ shade", "Windows-1252")


def test_a_sheet_among_others(tmp_path: Path) -> None:
    """The first sheet that is shown and holds anything is read, the others are named; another can be asked for."""
    path = files.xlsx(
        tmp_path / "in.xlsx", {"Old": [["x"]], "Empty": [], "Mine": ROWS, "More": [["request"], ["fern"]]}, ["Old"]
    )
    assert read(str(path), KNOWN).how == "XLSX, sheet Mine, not read: Empty, More"
    assert texts(read(str(path), KNOWN, "More").rows) == [["fern"]]
    with pytest.raises(FileError, match="found the sheets Old, Empty, Mine, More; expected a sheet named None of them"):
        read(str(path), KNOWN, "None of them")


def test_titles_merged_cells_and_formulas(tmp_path: Path) -> None:
    """A title stands above the headings; a merged cell counts for its rows; a formula is its value, or known to have none."""
    rows = [
        ["Spring requests"],
        [],
        ["Zone", "Height (ft)", "Notes"],
        ["7b", ("formula", "=3+3", 6), "a"],
        [None, ("formula", "=6+6", ""), "b"],
        ["6a", 12, None],
    ]
    found = read(str(files.xlsx(tmp_path / "in.xlsx", {"s": rows}, merged=["A4:A5"])), KNOWN)
    assert found.headings == ("Zone", "Height (ft)", "Notes")
    assert (found.first, texts(found.above)[0][0]) == (4, "Spring requests")
    assert [text_of(found.cell(row, 0)) for row in range(3)] == ["7b", "7b", "6a"]
    assert found.rows[1][0] is None
    assert found.rows[0][1] == 6.0
    assert found.rows[1][1] == Uncomputed()
    assert found.notes == (
        "1 merged stretch of cells: the value counts in every cell of one",
        "1 formula without a value: no spreadsheet has saved the file since",
    )


def test_a_quote_left_open_costs_one_row(tmp_path: Path) -> None:
    """Each line is then a row."""
    path = tmp_path / "in.csv"
    path.write_text('id,request\n1,"fern\n2,oak\n3,holly\n')
    assert [row[0] for row in texts(read(str(path), KNOWN).rows)] == ["1", "2", "3"]


def test_lines_of_requests_without_headings(tmp_path: Path) -> None:
    """A first row that is a request is one, and headings are made up."""
    path = tmp_path / "in.txt"
    for text in (
        "evergreen, narrow, zone 7, shade\nsmall tree with red fall color\n",
        "evergreen, 10 ft, zone 7\nfern, shade\n",
    ):
        path.write_text(text)
        found = read(str(path), KNOWN)
        assert (found.headings, len(found.rows), found.first) == (("request",), 2, 1)


@pytest.mark.parametrize("line", ["fern, shade", "fern,shade", "shade; fern", "a fern, or a hosta, zone 7"])
def test_one_column_of_sentences(tmp_path: Path, line: str) -> None:
    """Under a single heading no comma parts what people write."""
    path = tmp_path / "in.csv"
    path.write_text("request\n" + f"{line}\n" * 9)
    found = read(str(path), KNOWN)
    assert (found.headings, found.rows[8]) == (("request",), (line,))


@pytest.mark.parametrize(
    "name, said",
    [
        ("absent.csv", "no such file"),
        (".", "expected a file that can be read"),
        ("empty.csv", "found nothing"),
        ("lines.csv", "found nothing"),
        ("blank.xlsx", "found nothing"),
        ("cut.xlsx", "a damaged workbook"),
        ("other.zip", "a workbook that cannot be read"),
        ("wide.csv", "found 5001 cells"),
        ("wide.xlsx", "1200 columns and 2 rows"),
        ("huge.xlsx", "a workbook that unpacks to 1.2 GB"),
        ("far.xlsx", "takes more than 3 GB to open"),
        ("far.xls", "takes more than 3 GB to open"),
        ("many.ods", "a workbook that cannot be read"),
    ],
)
def test_what_is_refused(bad: Path, name: str, said: str) -> None:
    """In one line, and without taking the program's memory: what is missing, damaged, or far too much."""
    with pytest.raises(FileError, match=said) as problem:
        read(str(bad / name), KNOWN)
    assert str(problem.value).count("\n") == 0


@pytest.fixture(scope="module")
def bad(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of files that nobody should have to read."""
    folder = tmp_path_factory.mktemp("bad")
    (folder / "empty.csv").write_bytes(b"")
    (folder / "lines.csv").write_bytes(b"\n\n")
    files.xlsx(folder / "blank.xlsx", {"s": []})
    whole = files.xlsx(folder / "whole.xlsx", {"s": ROWS}).read_bytes()
    (folder / "cut.xlsx").write_bytes(whole[: len(whole) // 2])
    with zipfile.ZipFile(folder / "other.zip", "w") as parts:
        parts.writestr("letter.txt", "hello")
    (folder / "wide.csv").write_text("a," * 5000 + "b\n1\n")
    files.xlsx(folder / "wide.xlsx", {"s": [["h"] * 1200, [1]]})
    with (
        zipfile.ZipFile(folder / "huge.xlsx", "w", zipfile.ZIP_DEFLATED) as parts,
        parts.open("xl/workbook.xml", "w") as part,
    ):
        for _ in range(1200):
            part.write(b" " * 1_000_000)
    files.xlsx(folder / "far.xlsx", {"s": [["request"]]})
    with zipfile.ZipFile(folder / "far.xlsx") as parts:
        held = {name: parts.read(name) for name in parts.namelist()}
    far = b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'
    held["xl/worksheets/sheet1.xml"] = held["xl/worksheets/sheet1.xml"].replace(b"</sheetData>", far)
    with zipfile.ZipFile(folder / "far.xlsx", "w") as parts:
        for name, data in held.items():
            parts.writestr(name, data)
    stream = files._biff("s", [["request"]])
    files.compound(folder / "far.xls", stream[:-4] + files._biff_cell(65535, 65535, 1.0) + stream[-4:])
    files.ods(folder / "many.ods", "s", [["request"]])
    with zipfile.ZipFile(folder / "many.ods") as parts:
        held = {name: parts.read(name) for name in parts.namelist()}
    cell = b'<table:table-cell table:number-columns-repeated="16384" office:value-type="float" office:value="1"/>'
    row = b'<table:table-row table:number-rows-repeated="1048576">' + cell + b"</table:table-row></table:table>"
    held["content.xml"] = held["content.xml"].replace(b"</table:table>", row)
    with zipfile.ZipFile(folder / "many.ods", "w") as parts:
        for name, data in held.items():
            parts.writestr(name, data)
    return folder


def test_a_part_that_lies_about_its_size(tmp_path: Path) -> None:
    """What a zipped part says of itself is held against what comes out of it."""
    path = files.xlsx(tmp_path / "in.xlsx", {"s": ROWS})
    data = bytearray(path.read_bytes())
    with zipfile.ZipFile(path) as parts:
        place = data.rindex(b"PK\x01\x02", 0, data.rindex(parts.namelist()[-1].encode()))
    data[place + 24 : place + 28] = (5).to_bytes(4, "little")
    path.write_bytes(bytes(data))
    with pytest.raises(FileError, match="damaged workbook"):
        read(str(path), KNOWN)


def test_dates_that_were_sizes() -> None:
    """What spreadsheets make of 5-9 and the like is a date; what people write is not."""
    for cell in (
        "9-May",
        "5/9/2027",
        "May-09",
        "2027-05-09 00:00:00",
        "9. Mai",
        datetime.date(2027, 5, 9),
        datetime.time(5, 9),
    ):
        assert is_date(cell), cell
    for cell in ("5-9", "5-9 ft", "7b", "6a-7b", "10–15", "May", 5.0, None, "fern"):
        assert not is_date(cell), cell


def test_letters() -> None:
    """Columns are named as spreadsheets name them."""
    assert [letters(n) for n in (0, 25, 26, 701, 702, 16383)] == ["A", "Z", "AA", "ZZ", "AAA", "XFD"]


cells = st.text(st.characters(blacklist_categories=("Cs",), blacklist_characters="\0\r"), max_size=12)


@given(
    st.lists(st.lists(cells.filter(lambda text: text.strip() != ""), min_size=3, max_size=3), min_size=1, max_size=6),
    st.sampled_from(list(delimited.DELIMITERS)),
)
def test_any_cells_come_back(rows: list[list[str]], delimiter: str) -> None:
    """Whatever cells hold, a written table is read as it was."""
    import csv
    import io

    stream = io.StringIO(newline="")
    csv.writer(stream, delimiter=delimiter, quoting=csv.QUOTE_ALL).writerows([["id", "request", "zone"], *rows])
    text = stream.getvalue()
    assert delimited.delimiter_of(text, KNOWN) == delimiter
    assert [list(row) for row in delimited.whole_rows(text, delimiter, "x")][1:] == rows


@given(st.binary(max_size=400))
def test_any_bytes_are_text(raw: bytes) -> None:
    """Decoding never fails."""
    text, name = decoded(raw)
    assert isinstance(text, str)
    assert name


def test_limits_are_in_one_place() -> None:
    """What a workbook is bounded by is what a text file is bounded by."""
    assert workbooks.MOST_BYTES is sheet.MOST_BYTES
    assert delimited.MOST_COLUMNS is sheet.MOST_COLUMNS
