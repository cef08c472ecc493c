"""`askplant traits`: what each of its five does, and that plants of one's own stay in one's own folder."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest

from askplant import cli, statuses, where
from askplant.base import cache
from askplant.commands import importing, traits
from askplant.errors import FileError
from askplant.render.screen import cells

Capture = pytest.CaptureFixture[str]


@pytest.fixture(scope="module", autouse=True)
def own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Bases with plants of one's own are built elsewhere than the others, which are not pushed out by them."""
    with pytest.MonkeyPatch.context() as surroundings:
        surroundings.setenv(where.CACHE_VARIABLE, str(tmp_path_factory.mktemp("cache")))
        cache.ready(progress=lambda _: None)
        yield


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of one's own, not there yet."""
    folder = tmp_path / "own"
    monkeypatch.setenv(where.OWN_VARIABLE, str(folder))
    return folder


def run(capsys: Capture, *arguments: str) -> tuple[int, str, str]:
    status = cli.main(["traits", *arguments])
    return (status, *capsys.readouterr())


def table(path: Path, text: str, encoding: str = "utf-8") -> str:
    path.write_bytes(text.encode(encoding))
    return str(path)


HEAD = "plant,botanical,trait,low,high,value,unit,source,basis,note"
DEMO = f"{HEAD}\n,Ilex demo,kind,,,shrub,,,,\n,Ilex demo,height_grown,1.524,2.4384,,m,,,café\n"


# ---- check


def test_check_tells_of_both_folders(capsys: Capture, own: Path) -> None:
    """A line for ours, and one for one's own where there is one; faults there have their file and line."""
    status, out, _ = run(capsys, "check")
    assert status == 0
    ours, mine = out.splitlines()
    assert ours.startswith(f"{where.folder('traits')}: no faults, ")
    assert mine == f"{own}: not there; no plants of your own"
    (own / "plants").mkdir(parents=True)
    (own / "plants" / "ilex.txt").write_text("Ilex demo\n    knd: shrub\n    kind: shrub\n", encoding="utf-8")
    status, out, _ = run(capsys, "check")
    assert status == statuses.WRONG_USE
    first, ours, mine = out.splitlines()
    assert first.startswith(f"{own.as_posix()}/plants/ilex.txt:2: error: found `knd`, which is no trait")
    assert ours.startswith(f"{where.folder('traits')}: no faults, ")
    assert mine.startswith(f"{own}: 1 fault, ")


# ---- coverage


@pytest.mark.parametrize("width", [40, 80])
def test_coverage_folds(capsys: Capture, width: int) -> None:
    """A table no wider than asked for, plain in a pipe."""
    status, out, _ = run(capsys, "coverage", "--width", str(width))
    assert status == 0
    assert max(map(cells, out.splitlines())) <= width
    assert "\x1b" not in out
    assert out.count("\nheight_grown ") >= 3
    assert cli.main(["traits", "coverage", "--color", "always"]) == 0
    assert "\x1b[1m" in capsys.readouterr().out


def test_coverage_as_json(capsys: Capture) -> None:
    """One object on a line."""
    status, out, _ = run(capsys, "coverage", "--json")
    assert (status, out.count("\n")) == (0, 1)
    told = json.loads(out)
    assert told["plants"] > 1000
    assert {"opened", "observed", "recalled", "common practice"} == set(told["bases"])


# ---- export


def test_export_of_named_plants(capsys: Capture) -> None:
    """By any name, each once, in order of id; the rows are those of the whole export."""
    status, out, _ = run(capsys, "export", "--csv", "Ilex crenata", "inkbery", "ilex-crenata")
    assert status == 0
    rows = list(csv.DictReader(out.splitlines()))
    assert list(dict.fromkeys(row["plant"] for row in rows)) == ["ilex-crenata", "ilex-glabra"]
    everything = run(capsys, "export", "--csv")[1]
    assert [line for line in everything.splitlines() if line.startswith("ilex-glabra,")] == [
        line for line in out.splitlines() if line.startswith("ilex-glabra,")
    ]
    assert run(capsys, "export", "--csv", "zzzzqqq")[0] == statuses.UNKNOWN_PLANT


# ---- observe


def test_observe_adds_a_row_and_says_where(capsys: Capture, own: Path) -> None:
    """The plant by any name, sizes as they were said; without a date it was today."""
    status, out, err = run(
        capsys, "observe", "Inkberries", "--age", "10", "--height", "6 ft", "--width", "1.5 m", "--pruned", "no",
        "--place", "Demo Town, back row", "--note", "in\nthe wet", "--date", "2026-05",
    )  # fmt: skip
    assert (status, err) == (0, "")
    assert out == (
        "Ilex glabra, 10 years in the ground: 6 ft high, 1.5 m wide; not pruned; Demo Town, back row; 2026-05; in the wet\n"
        f"added to {own}/observations.csv, line 2\n"
    )
    assert run(capsys, "observe", "Ilex", "crenata", "--age", "1", "--height", "40 cm")[1].startswith(
        "Ilex crenata, 1 year "
    )
    with (own / "observations.csv").open(encoding="utf-8", newline="") as stream:
        first, second = csv.DictReader(stream)
    assert (first["plant"], first["height"], first["place"]) == ("Ilex glabra", "6 ft", "Demo Town, back row")
    assert (second["date"], second["width"], second["source"]) == (date.today().isoformat(), "", "")


def test_what_was_observed_is_shown(capsys: Capture, own: Path) -> None:
    """The base is built anew by the next command, and the measurement stands there as observed."""
    run(capsys, "observe", "inkberry", "--age", "10", "--height", "6 ft", "--date", "2026-05-01", "--pruned", "yes")
    assert cli.main(["show", "inkberry"]) == 0
    shown = " ".join(capsys.readouterr().out.split())
    assert "measured 6 ft high at 10 years [observed] – pruned; 2026-05-01" in shown
    assert cli.main(["show", "inkberry", "--json"]) == 0
    (seen,) = json.loads(capsys.readouterr().out)["observations"]
    assert seen == {
        "age": 10.0, "height": 1.8288, "unit": "m", "pruned": "yes", "date": "2026-05-01", "basis": "observed",
    }  # fmt: skip


@pytest.mark.parametrize(
    "arguments, status, said",
    [
        (["inkberry"], 2, "say the plant, --age YEARS and --height LENGTH"),
        (["--age", "3", "--height", "1 ft"], 2, "say the plant"),
        (["inkberry", "--age", "3"], 2, "--height LENGTH"),
        (["inkberry", "--age", "three", "--height", "1 ft"], 2, "found age `three`; expected a number of years"),
        (["inkberry", "--age", "-3", "--height", "1 ft"], 2, "found age `-3`; expected a number of years"),
        (["inkberry", "--age", "3", "--height", "6"], 2, "found height `6`; expected a length with its unit"),
        (["inkberry", "--age", "3", "--height", "6 ft", "--width", "900 ft"], 2, "at most 150 m"),
        (["inkberry", "--age", "3", "--height", "6 ft", "--date", "May"], 2, "found date `May`; expected a date"),
        (["inkberry", "--age", "3", "--height", "6 ft", "--date", "2999-01"], 2, "still to come"),
        (["inkberry", "--age", "3", "--height", "6 ft", "--pruned", "maybe"], 2, "invalid choice: 'maybe'"),
        (["Ilex", "--age", "3", "--height", "6 ft"], 2, "is the name of"),
        (["zzzzqqq", "--age", "3", "--height", "6 ft"], 3, "no plant of that name"),
    ],
)
def test_what_cannot_be_observed(capsys: Capture, own: Path, arguments: list[str], status: int, said: str) -> None:
    """One line says why, and no file is made."""
    given, out, err = run(capsys, "observe", *arguments)
    assert (given, out, err.count("\n")) == (status, "", 1)
    assert said in err
    assert not own.exists()


def test_tomorrow_is_still_to_come(capsys: Capture, own: Path) -> None:
    """Today is not."""
    today = date.today()
    measured = ("observe", "inkberry", "--age", "3", "--height", "6 ft", "--date")
    assert run(capsys, *measured, (today + timedelta(days=1)).isoformat())[0] == 2
    assert run(capsys, *measured, today.isoformat())[0] == 0


def test_a_folder_that_cannot_be_written_is_told(
    capsys: Capture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With the status of output that cannot be written."""
    (tmp_path / "file").write_text("", encoding="utf-8")
    monkeypatch.setenv(where.OWN_VARIABLE, str(tmp_path / "file" / "own"))
    status, _, err = run(capsys, "observe", "inkberry", "--age", "3", "--height", "6 ft")
    assert status == statuses.TROUBLE
    assert "own: cannot be written (not a directory); nothing was changed" in err


# ---- import


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_import_of_tables_as_people_keep_them(
    capsys: Capture, own: Path, tmp_path: Path, encoding: str, mark: str
) -> None:
    """Any usual encoding and delimiter; numbers with commas where those part no cells; headings in any case."""
    text = DEMO.replace(",", mark).replace("plant", "Plant").replace("\n", "\r\n")
    text = text if mark == "," else text.replace("1.524", "1,524")
    status, out, err = run(capsys, "import", table(tmp_path / "demo.csv", text, encoding))
    assert (status, err) == (0, "")
    assert out == f"{own}/plants: 1 plant, 2 values, in ilex.txt\n"
    assert (own / "plants" / "ilex.txt").read_text(encoding="utf-8") == (
        "Ilex demo\n    kind: shrub\n    height_grown: 5-8 ft -- café\n\n"
    )


def test_imported_plants_are_answered_with(capsys: Capture, own: Path, tmp_path: Path) -> None:
    """An export of ours goes into a folder of one's own, is checked there, and is exported again as it was."""
    before = run(capsys, "export", "--csv", "inkberry")[1]
    table(tmp_path / "out.csv", before.replace("seldom severely damaged", "rarely damaged"))
    assert run(capsys, "import", str(tmp_path / "out.csv"))[0] == 0
    assert run(capsys, "check")[0] == 0
    after = run(capsys, "export", "--csv", "inkberry")[1]
    assert after != before
    assert after == before.replace("seldom severely damaged", "rarely damaged")


def test_import_into_a_named_folder(capsys: Capture, own: Path, tmp_path: Path) -> None:
    """One's own folder stays as it is; columns of other programs are named and left out."""
    lines = DEMO.splitlines()
    name = table(tmp_path / "demo.csv", "\n".join([lines[0] + ",price", *(line + ",3" for line in lines[1:])]))
    status, out, _ = run(capsys, "import", name, "--into", str(tmp_path / "draft"))
    assert status == 0
    assert out.splitlines()[1] == "columns not read: price"
    assert (tmp_path / "draft" / "plants" / "ilex.txt").is_file()
    assert not own.exists()


def test_all_that_stands_in_the_way_is_told_at_once(capsys: Capture, own: Path, tmp_path: Path) -> None:
    """A line for each cell, on standard error; nothing is written."""
    rows = ",Ilex demo,lihgt,,,full sun,,,,\n,Ilex demo,height_grown,5-Aug,x,,m,nowhere,,\n"
    name = table(tmp_path / "demo.csv", DEMO + rows)
    status, out, err = run(capsys, "import", name)
    assert (status, out) == (statuses.WRONG_USE, "")
    places = [line.split(": found")[0] for line in err.splitlines()]
    assert places == [
        f"askplant: {name}:row 4, column trait",
        f"askplant: {name}:row 5, column source",
        f"askplant: {name}:row 5, column low",
        f"askplant: {name}:row 5, column high",
        f"askplant: {name}: nothing was imported",
    ]
    assert not own.exists()


def test_rows_are_counted_as_spreadsheets_do(capsys: Capture, own: Path, tmp_path: Path) -> None:
    """A cell of two lines is in one row, and an empty row is one."""
    name = table(tmp_path / "demo.csv", f'{HEAD}\n,Ilex demo,kind,,,shrub,,,,"two\nlines"\n\n,Ilex demo,x,,,y,,,,\n')
    assert f"{name}:row 4, column trait" in run(capsys, "import", name)[2]


@pytest.mark.parametrize(
    "content, said",
    [
        (b"PK\x03\x04...", "found a workbook; expected a CSV file"),
        (b"", "row 1: found ``; expected the headings plant,botanical"),
        (b"plant,height\nx,y\n", "row 1: found `plant,height`; expected the headings"),
        (HEAD.encode() + b",trait\n", "expected the headings"),
        (HEAD.encode() + b"\n", "found no row with a value"),
        (HEAD.encode() + b'\n,"Ilex demo,kind\n', "row 2: found unexpected end of data"),
        (HEAD.encode() + b"\n,Ilex demo,kind,,,shrub,,,,,more\n", "row 2: found 11 cells; expected 10"),
    ],
)
def test_what_is_no_such_table(capsys: Capture, own: Path, tmp_path: Path, content: bytes, said: str) -> None:
    """It is said in one line, and nothing is written."""
    (tmp_path / "demo.csv").write_bytes(content)
    status, _, err = run(capsys, "import", str(tmp_path / "demo.csv"))
    assert (status, err.count("\n")) == (statuses.WRONG_USE, 1)
    assert said in err
    assert not own.exists()


def test_a_folder_with_faults_is_mended_first(capsys: Capture, own: Path, tmp_path: Path) -> None:
    """What is in it cannot be known until then."""
    (own / "plants").mkdir(parents=True)
    (own / "plants" / "ilex.txt").write_text("Ilex demo\n    knd: shrub\n", encoding="utf-8")
    status, _, err = run(capsys, "import", table(tmp_path / "demo.csv", DEMO))
    assert status == statuses.WRONG_USE
    assert f"{own.as_posix()}/plants/ilex.txt:2: found `knd`" in err


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    """As everywhere."""
    with pytest.raises(FileError, match=r"absent\.csv: found no such file"):
        importing.read_sheet(str(tmp_path / "absent.csv"))


@pytest.mark.parametrize(
    "arguments, said",
    [
        (["import"], "say one FILE to import"),
        (["import", "a.csv", "b.csv"], "say one FILE to import"),
        (["check", "--json"], "--json is for traits coverage, not for check"),
        (["check", "inkberry"], "traits check takes no name, found 'inkberry'"),
        (["coverage", "--width", "wide"], "argument --width: expected a whole number"),
        (["export", "--csv", "--width", "80"], "--width is for traits coverage and observe, not for export"),
        (["nothing"], "invalid choice: 'nothing'"),
    ],
)
def test_wrong_use(capsys: Capture, arguments: list[str], said: str) -> None:
    """An option that would be passed over in silence is refused."""
    status, out, err = run(capsys, *arguments)
    assert (status, out, err.count("\n")) == (statuses.WRONG_USE, "", 1)
    assert said in err


def test_help_says_which_option_is_whose() -> None:
    """Every option's help names the ones that take it."""
    about = {action.dest: action.help or "" for action in traits.parser()._actions}
    assert set().union(*traits.OPTIONS.values()) == set(about) - {"help", "what", "names"}
    for what, options in traits.OPTIONS.items():
        assert f"{what}: " in about["what"]
        assert all(what in about[option].partition(": ")[0] or f"; {what}: " in about[option] for option in options)
