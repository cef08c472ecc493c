"""`askplant batch`: every row comes back under its own cells, answered or marked, in each form; nothing acts as a formula."""

from __future__ import annotations

import csv
import datetime
import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from askplant import cli, statuses
from askplant.batch import composed as composed_
from askplant.batch import out
from askplant.batch.details import Names
from askplant.batch.rows import ANSWERED, EMPTY, NOT_READ, NOTHING_FITS, Telling, _nothing
from askplant.commands.batch import BEST
from askplant.desk import Desk
from askplant.sheets import columns
from askplant.sheets.book import LONGEST, Book
from askplant.sheets.read import read
from askplant.sheets.sheet import Sheet, text_of
from tests.sheets import files

HEADINGS = ["id", "customer", "request"]
ROWS = [
    ["1", "=1+1", "evergreen, 10–15 ft, narrow, zone 7, ideally fragrant"],
    ["2", "Zoë", ""],
    ["3", "x", "a fern", "one too many"],
    ["4"],
    ["5", "y", "a palm for zone 2, at least 90 ft tall, frobnicated"],
    ["6", "y", "'-10 °F hardy shrub\nfor shade"],
    ["7", "y", "zzyqx blorptastic"],
    ["8", "y", "x" * 30_000],
    ["9", "y", "9-May"],
]
STARTS = ("=", "+", "-", "@", "\t", "\r")


def batch(folder: Path, rows: list[list[str]], *options: str, name: str = "out.csv") -> int:
    """The exit status of a batch over a table."""
    with (folder / "in.csv").open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows(rows)
    return cli.main(["batch", *options, str(folder / "in.csv"), str(folder / name)])


def table(path: Path) -> list[dict[str, str]]:
    """The rows of a CSV file."""
    with path.open(encoding="utf-8-sig", newline="") as stream:
        return list(csv.DictReader(stream))


def book(path: Path, sheet: str | None = None) -> Sheet:
    """A sheet of a workbook that was written."""
    return read(str(path), lambda heading: heading == "status", sheet)


def test_every_row_comes_back(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In order, with its own cells, the answer behind them, a status, and why where it could not be answered."""
    assert batch(tmp_path, [HEADINGS, *ROWS]) == statuses.FITS
    rows = table(tmp_path / "out.csv")
    assert [row["id"] for row in rows] == list("123456789")
    assert list(rows[0]) == [*HEADINGS, *out.added(HEADINGS, BEST, False)]
    told = [row["status"] for row in rows]
    assert told == [ANSWERED, EMPTY, NOT_READ, EMPTY, NOTHING_FITS, ANSWERED, NOT_READ, NOT_READ, NOT_READ]
    whys = [row["why"] for row in rows if row["why"]]
    assert whys[0] == "4 cells where the headings are 3"
    assert whys[1] == "no wish in it was understood"
    assert whys[2].startswith("request of 30000 characters")
    assert whys[3].startswith("C10 (request): the date 9-May, which a spreadsheet may have made of a range or a number")
    assert rows[2]["request"] == "a fern,one too many"
    assert rows[6]["not understood"] == "“zzyqx blorptastic”"
    said = capsys.readouterr().err
    assert "in.csv: UTF-8, parted by commas, 9 rows; requests in column 'request'" in said
    assert "out.csv: 9 rows: 2 answered, 1 nothing fits, 4 not read, 2 empty" in said


def test_an_answer_in_cells(tmp_path: Path) -> None:
    """The reading in words, what was not understood, plants with size and cautions, near misses; no cell is a formula."""
    batch(tmp_path, [HEADINGS, *ROWS], "--count", "2")
    rows = table(tmp_path / "out.csv")
    assert rows[0]["understood"] == "evergreen; height 10–15 ft; narrow; zone 7a–7b; wish: fragrant"
    assert rows[0]["plant 2"]
    assert "plant 3" not in rows[0]
    assert " × " in rows[0]["size 1"]
    assert any(row["cautions 1"] for row in rows)
    assert rows[4]["not understood"] == "“frobnicated”"
    assert rows[4]["nearest misses"].count(", asked: ") >= 3
    assert rows[0]["customer"] == "'=1+1"
    assert "zone" in rows[5]["understood"]
    assert rows[5]["not understood"] == ""
    assert [cell for row in rows for cell in row.values() if cell and cell.startswith(STARTS)] == []


def test_the_wordiest_column_where_no_heading_tells(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Is the one of the requests."""
    rows = [["nr", "customer", "said"], ["1", "Smith", "something narrow and evergreen by the fence"]]
    batch(tmp_path, rows)
    assert "requests in column 'said'" in capsys.readouterr().err
    assert table(tmp_path / "out.csv")[0]["understood"].startswith("narrow")


def test_a_link_is_written_through(tmp_path: Path) -> None:
    """OUT that is a link stays one, and what it points to is replaced."""
    (tmp_path / "real.csv").write_text("before")
    (tmp_path / "out.csv").symlink_to(tmp_path / "real.csv")
    assert batch(tmp_path, [HEADINGS, *ROWS[:1]]) == statuses.FITS
    assert (tmp_path / "out.csv").is_symlink()
    assert len(table(tmp_path / "real.csv")) == 1


def test_units_and_column(tmp_path: Path) -> None:
    """Both can be chosen."""
    batch(tmp_path, [["a", "b"], ["evergreen, 10–15 ft", "x"]], "--units", "metric", "--column", "A")
    assert table(tmp_path / "out.csv")[0]["understood"] == "evergreen; height 3–4.6 m"


def test_its_own_output_can_be_answered_again(tmp_path: Path) -> None:
    """Columns of the same name are set apart."""
    batch(tmp_path, [HEADINGS, *ROWS[:1]])
    (tmp_path / "out.csv").rename(tmp_path / "in2.csv")
    assert cli.main(["batch", str(tmp_path / "in2.csv"), str(tmp_path / "out.csv")]) == statuses.FITS
    head = (tmp_path / "out.csv").read_text(encoding="utf-8-sig").splitlines()[0]
    assert "why,understood (askplant)" in head


def test_into_a_workbook(tmp_path: Path) -> None:
    """The same cells, live formulas nowhere, details as further sheets."""
    assert batch(tmp_path, [HEADINGS, *ROWS], "--details", name="out.xlsx") == statuses.FITS
    found = book(tmp_path / "out.xlsx")
    assert found.headings == (*HEADINGS, *out.added(HEADINGS, BEST, False))
    assert found.how == "XLSX, sheet answers, not read: matches, excluded, totals"
    assert found.rows[0][1] == "=1+1"
    assert found.rows[5][2] == "'-10 °F hardy shrub\nfor shade"
    matches, excluded = (read(str(tmp_path / "out.xlsx"), lambda _: False, name) for name in ("matches", "excluded"))
    totals = read(str(tmp_path / "out.xlsx"), lambda _: False, "totals")
    desk = Desk()
    for number, row in ((0, 2.0), (5, 7.0)):
        answer = desk.ask(" ".join(ROWS[number][2].lstrip("'").split()), all=True)
        assert sum(cells[0] == row for cells in matches.rows) == len(answer.matches)
        assert sum(cells[0] == row for cells in excluded.rows) == sum(len(one.misses) for one in answer.near)
    wishes = {cells[1]: cells for cells in totals.rows if cells[0] == "wish"}
    narrow = next(price for price in desk.ask(ROWS[0][2]).prices if price.condition == 2)
    assert wishes["narrow"][2:5] == (1.0, float(narrow.misses), float(narrow.alone))
    plants = [cells for cells in totals.rows if cells[0] == "plant"]
    assert [cells[5] for cells in plants] == sorted((cells[5] for cells in plants), reverse=True)


def test_a_workbook_keeps_its_cells(tmp_path: Path) -> None:
    """Numbers stay numbers and dates dates, in their columns and order, whatever the row comes to."""
    day = datetime.date(2027, 3, 4)
    rows = [
        ["Spring"],
        ["no", "request", "when", "sum"],
        [1, "fern, shade", day, -2.5],
        [2, None, None, ("f", "=1+1", 2)],
    ]
    path = files.xlsx(tmp_path / "in.xlsx", {"s": rows})
    assert cli.main(["batch", str(path), str(tmp_path / "out.xlsx")]) == statuses.FITS
    found = read(str(tmp_path / "out.xlsx"), lambda heading: heading in ("request", "status"))
    assert found.above[0][0] == "Spring"
    assert [row[:4] for row in found.rows] == [(1.0, "fern, shade", day, -2.5), (2.0, None, None, 2.0)]


def test_as_json_lines(tmp_path: Path) -> None:
    """One object a row, with details inside it."""
    assert batch(tmp_path, [[*HEADINGS, "id"], [*ROWS[0], "again"]], "--details", name="out.jsonl") == statuses.FITS
    (told,) = (json.loads(line) for line in (tmp_path / "out.jsonl").read_text(encoding="utf-8").splitlines())
    assert told["columns"] == {"id": "1", "customer": "=1+1", "request": ROWS[0][2], "id (2)": "again"}
    assert told["row"] == 2
    assert told["plants"][0]["botanical"] == told["matches"][0]["botanical"]
    assert {"plant", "botanical", "wish", "has", "off by"} == set(told["excluded"][0])
    assert (tmp_path / "out.totals.jsonl").exists()


def test_several_columns_make_a_request(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What their headings say is put into words, and said; a no asks for nothing and reaches into no other cell."""
    rows = [
        ["Job", "Height (ft)", "Max width", "Zone", "Sun", "Deer", "Avoid", "Notes"],
        ["a", "10-15", "6 ft", "7", "part shade", "yes", "holly", "evergreen, please"],
        ["b", "", "", "5b", "full sun", "no", "", "small tree"],
        ["c", "9-May", "", "5b", "full sun", "no", "", "small tree"],
    ]
    batch(tmp_path, rows)
    told = table(tmp_path / "out.csv")
    first = "height 10–15 ft; at most 6 ft wide; zone 7a–7b; part shade; deer: at least seldom severely damaged"
    assert told[0]["understood"] == f"{first}; not holly; evergreen"
    assert told[1]["understood"].startswith("zone 5b; full sun; ")
    assert "deer" not in told[1]["understood"]
    assert told[2]["status"] == NOT_READ
    assert told[2]["why"].startswith("B4 (Height (ft)): the date 9-May")
    said = capsys.readouterr().err
    assert (
        "requests put together from 'Height (ft)' as “… ft tall”, 'Max width' as “at most … wide”, 'Zone' as “zone …”"
        in said
    )


def test_a_mapping_is_written_mended_and_used(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A guess can be written, changed, and given back."""
    rows = [["Job", "Height (ft)", "Ort"], ["a", "10", "shade"]]
    mapping = str(tmp_path / "m.toml")
    assert batch(tmp_path, rows, "--write-mapping", mapping) == statuses.FITS
    text = Path(mapping).read_text(encoding="utf-8")
    assert 'heading = "Height (ft)"\nrole = "height"\nsay = "{} tall"\nunit = "ft"\n' in text
    assert "# not read: Job | Ort" in text
    Path(mapping).write_text(
        text.replace("{} tall", "at most {} tall") + '\n[[column]]\nheading = "Ort"\nsay = "{} garden"\n'
    )
    assert batch(tmp_path, rows, "--mapping", mapping) == statuses.FITS
    assert table(tmp_path / "out.csv")[0]["understood"] == "at most 10 ft tall; part shade or full shade"
    assert "'Ort' as “… garden”" in capsys.readouterr().err


@pytest.mark.parametrize(
    "text, said",
    [
        ("nothing = 1", "no [[column]]"),
        ("column = [", "m.toml: found"),
        ('[[column]]\nheading = "id"', "role ``"),
        ('[[column]]\nheading = "absent"\nrole = "zone"', "absent: found no such column; expected one of id, request"),
        ('[[column]]\nheading = "id"\nsay = "x"', "words with one {} for the cell"),
        ('[[column]]\nheading = "id"\nrole = 5', "`role = 5`"),
    ],
)
def test_a_mapping_that_is_none(tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str, said: str) -> None:
    """Is named with what was found and expected."""
    (tmp_path / "m.toml").write_text(text)
    assert (
        batch(tmp_path, [["id", "request"], ["1", "fern"]], "--mapping", str(tmp_path / "m.toml")) == statuses.WRONG_USE
    )
    assert said in capsys.readouterr().err


def test_a_formula_without_a_value_is_said(tmp_path: Path) -> None:
    """It is never taken for an empty cell."""
    rows = [["no", "request"], [1, ("f", '="fern"', "")]]
    path = files.xlsx(tmp_path / "in.xlsx", {"s": rows})
    assert cli.main(["batch", str(path), str(tmp_path / "out.csv")]) == statuses.FITS
    told = table(tmp_path / "out.csv")[0]
    assert (told["status"], told["why"][:40]) == (NOT_READ, "B2 (request): a formula that no spreadsh")


def test_headings_that_are_known_are_known_whole() -> None:
    """Every heading of the table of columns is found by itself, with its unit, and in any case."""
    for name in ("request", "stock"):
        for role in columns.roles(name):
            for words in role.headings:
                (found,) = columns.guessed([" ".join(words).upper()], name)
                assert words in found.role.headings
    (height,) = columns.guessed(["Max. Height in feet"], "request")
    assert (height.role.name, height.unit) == ("height_most", "ft")


@pytest.mark.parametrize(
    "arguments, said, status",
    [
        (["absent.csv", "out.csv"], "absent.csv: found no such file", 2),
        (["in.csv", "in.csv"], "in.csv: is the table to read", 2),
        (["in.csv", "no/folder/out.csv"], "a folder that can be written", 4),
        (["in.csv", "."], "no ordinary file", 2),
        (["in.csv", "out.doc"], "found the ending .doc; expected one of .csv", 2),
        (["--column", "wish", "in.csv", "out.csv"], "a column named wish", 2),
        (["--sheet", "wish", "in.csv", "out.csv"], "--sheet names one of its sheets", 2),
        (["--column", "id", "--mapping", "x", "in.csv", "out.csv"], "either --mapping or --column", 2),
        (["--stock", "absent", "in.csv", "out.csv"], "absent: found no such file", 2),
    ],
)
def test_wrong_use(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    arguments: list[str],
    said: str,
    status: int,
) -> None:
    """What cannot be read or written is one line, and leaves no file behind."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "in.csv").write_text("id,request\n1,fern\n")
    assert cli.main(["batch", *arguments]) == status
    err = capsys.readouterr().err
    assert said in err.splitlines()[-1]
    assert [path.name for path in tmp_path.iterdir()] == ["in.csv"]


@pytest.mark.parametrize(
    "arguments, said",
    [
        (["in.csv", "link.csv"], "link.csv: is the table to read"),
        (["out.matches.csv", "out.csv", "--details"], "out.matches.csv: is the table to read"),
        (["out.csv.journal", "out.csv"], "out.csv.journal: is the table to read"),
        (["in.csv", "out.csv", "--write-mapping", "in.csv"], "in.csv: is the table to read"),
        (["in.csv", "list.csv", "--stock", "list.csv"], "list.csv: is the stock list to read"),
        (["in.csv", "out.csv", "--mapping", "out.csv"], "out.csv: is the mapping to read"),
    ],
)
def test_nothing_that_is_read_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], arguments: list[str], said: str
) -> None:
    """By whatever name: a second name of the same file, a file of details, the journal."""
    monkeypatch.chdir(tmp_path)
    for name in ("in.csv", "out.matches.csv", "out.csv.journal", "list.csv"):
        (tmp_path / name).write_text("id,request\n1,fern\n")
    (tmp_path / "link.csv").hardlink_to(tmp_path / "in.csv")
    assert cli.main(["batch", *arguments]) == statuses.WRONG_USE
    assert said in capsys.readouterr().err
    assert {path.read_text() for path in tmp_path.iterdir()} == {"id,request\n1,fern\n"}


def test_an_out_that_is_there_is_replaced_and_that_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Before anything is answered; a file of details too."""
    (tmp_path / "out.csv").write_text("before")
    (tmp_path / "out.totals.csv").write_text("before")
    assert batch(tmp_path, [["request"], ["fern"]], "--details") == statuses.FITS
    assert "out.csv: out.csv, out.totals.csv will be replaced" in capsys.readouterr().err.splitlines()[1]
    assert len(table(tmp_path / "out.csv")) == 1


def test_headings_that_stand_there_twice(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Which of the columns is read is said by its letter; both come back."""
    assert batch(tmp_path, [["request", "request"], ["fern", "oak"]], name="out.jsonl") == statuses.FITS
    assert "requests in column 'request' (A)" in capsys.readouterr().err
    told = json.loads((tmp_path / "out.jsonl").read_text(encoding="utf-8"))
    assert told["columns"] == {"request": "fern", "request (2)": "oak"}


def test_trouble_with_one_row_costs_no_other(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A row that the program itself stumbles over is marked."""
    worded = Desk.worded

    def stumbling(self: Desk, answer: Any) -> Any:
        if "oak" in answer.reading.request:
            raise ValueError("a fault")
        return worded(self, answer)

    monkeypatch.setattr(Desk, "worded", stumbling)
    batch(tmp_path, [["request"], ["fern, shade"], ["oak, zone 5"], ["holly, zone 7"]], "--workers", "1")
    told = table(tmp_path / "out.csv")
    assert [row["status"] for row in told] == [ANSWERED, NOT_READ, ANSWERED]
    assert told[1]["why"] == "trouble inside the program (ValueError: a fault)"


def test_a_stock_list_in_the_answers(tmp_path: Path) -> None:
    """With one, each plant has what there is of it; without, the question is said to be open."""
    (tmp_path / "list.csv").write_text("plant,size,price,qty\ninkberry,#3,24.50,12\n")
    rows = [["request"], ["evergreen shrub, in stock, zone 7"]]
    batch(tmp_path, rows, "--stock", str(tmp_path / "list.csv"))
    told = table(tmp_path / "out.csv")[0]
    assert (told["plant 1"], told["stock 1"], told["plant 2"]) == (
        "Ilex glabra",
        "in stock: #3 at 24.50 (12 there)",
        "",
    )
    batch(tmp_path, rows)
    told = table(tmp_path / "out.csv")[0]
    assert "stock 1" not in told
    assert told["why"].startswith("No stock list is set")


def test_a_bar_on_a_terminal_and_none_in_a_pipe(tmp_path: Path) -> None:
    """Rows a second and the time left are shown to whoever watches."""
    pexpect = pytest.importorskip("pexpect")
    import sys

    with (tmp_path / "in.csv").open("w") as stream:
        stream.write("request\n" + "fern, shade\n" * 30)
    command = [sys.executable, ["-m", "askplant", "batch", "in.csv", "out.csv", "--workers", "1"]]
    child = pexpect.spawn(*command, cwd=str(tmp_path), encoding="utf-8", timeout=120, dimensions=(24, 100))
    child.expect(r"/30 \[.* rows/s\]")
    child.expect("30 rows: 30 answered")
    child.expect(pexpect.EOF)
    child.close()


cells = st.one_of(
    st.none(),
    st.text(st.characters(blacklist_categories=("Cs", "Cc")), min_size=1, max_size=20).filter(
        lambda text: text.strip() == text
    ),
    st.floats(-1e9, 1e9, allow_nan=False).map(lambda number: round(number, 4) + 0.0),
    st.dates(datetime.date(1950, 1, 1), datetime.date(2100, 1, 1)),
    st.booleans(),
)
rows = st.lists(st.tuples(cells, cells, cells), min_size=1, max_size=5)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=25)
@given(rows=rows)
def test_untouched_columns_go_round(tmp_path: Path, desk: Desk, rows: list[tuple[Any, ...]]) -> None:
    """Whatever stands in the table's own columns stands there in each form of OUT, as it was; text never as a formula."""
    sheet = Sheet("x", "x", ("a", "b", "c"), tuple(rows), 2)
    answers = [_nothing(n, EMPTY) for n in range(len(rows))]
    for name in ("out.csv", "out.xlsx", "out.jsonl"):
        out.write(str(tmp_path / name), sheet, iter(answers), Telling(1), False, Names(desk.base))
    written = table(tmp_path / "out.csv")
    assert [[row[key] for key in "abc"] for row in written] == [[out._plain(cell) for cell in row] for row in rows]
    assert not any(
        row[key].startswith(("=", "+", "-", "@")) and not _number(row[key]) for row in written for key in "abc"
    )
    found = book(tmp_path / "out.xlsx").rows
    assert [row[:3] for row in found] == [tuple(row) for row in rows]
    told = [
        json.loads(line)["columns"] for line in (tmp_path / "out.jsonl").read_text(encoding="utf-8").split("\n") if line
    ]
    assert [[text_of(out._value(cell)) for cell in row] for row in rows] == [
        [text_of(cell) for cell in one.values()] for one in told
    ]


def _number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


@given(st.text(max_size=40))
def test_no_text_is_a_formula_and_the_mark_comes_off(text: str) -> None:
    """What a spreadsheet would run is marked as text; the mark is no part of a request."""
    from askplant.sheets.safe import FORMULA, safe, unmarked

    assert not safe(text).startswith(FORMULA) or _number(text.replace(",", "."))
    assert unmarked(safe(text)) in (text, unmarked(text))


def test_a_cell_that_no_workbook_holds_is_cut_and_says_so(tmp_path: Path) -> None:
    """Text longer than the format has room for ends in a mark."""
    with Book(tmp_path / "long.xlsx") as made:
        made.sheet("s", ["status"]).add(["x" * (LONGEST + 10)])
    (cell,) = book(tmp_path / "long.xlsx").rows[0]
    assert isinstance(cell, str)
    assert len(cell) == LONGEST
    assert cell.endswith("(cut)")


@pytest.mark.parametrize(
    "cell, said", [("10-15", "10-15 ft tall"), ("at 10 ft tall", "at 10 ft tall"), ("n/a", ""), ("", "")]
)
def test_a_cell_in_words(cell: str, said: str) -> None:
    """A bare number gets its heading's unit; what a cell says already is not said twice."""
    sheet = Sheet("x", "x", ("Height (ft)",), ((cell,),), 2)
    assert composed_.composed(sheet, 0, columns.guessed(sheet.headings, "request")).text == said
