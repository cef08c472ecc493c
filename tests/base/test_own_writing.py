"""Writing into the user's own folder: whole lines, one writer at a time, and nothing lost when the disk is full."""

from __future__ import annotations

import csv
import os
import subprocess
import sys
from pathlib import Path

import pytest

from askplant import where, writing
from askplant.base import locks, observations, own
from askplant.errors import FileError, UserError, WritingError

CELLS = {"plant": "Ilex glabra", "age": "5", "height": "4 ft", "note": 'said "so", twice', "date": "2026-05-01"}
HEAD = "plant,age,height,width,place,pruned,source,note,date\n"


def rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8-sig", newline="") as stream:
        return list(csv.DictReader(stream))


def test_the_file_is_made_with_its_headings(tmp_path: Path) -> None:
    """Folders too; what is told is the line that holds the row."""
    folder = tmp_path / "not" / "yet"
    assert own.add_observation(folder, CELLS) == (folder / "observations.csv", 2)
    assert own.add_observation(folder, CELLS)[1] == 3
    assert (folder / "observations.csv").read_text(encoding="utf-8").startswith(HEAD)
    assert [{key: cell for key, cell in row.items() if cell} for row in rows(folder / "observations.csv")] == [
        CELLS
    ] * 2
    assert observations.read(folder, "own", {"ilex-glabra"}, {})[1] == []


@pytest.mark.parametrize(
    "before, after",
    [
        (HEAD + "Ilex glabra,1,1 ft,,,,,,", HEAD + "Ilex glabra,1,1 ft,,,,,,\n"),
        ("\ufeff" + HEAD.replace("\n", "\r\n"), "\ufeff" + HEAD.replace("\n", "\r\n")),
    ],
)
def test_a_file_that_a_person_has_edited_stays_as_it_is(before: str, after: str, tmp_path: Path) -> None:
    """Mark, line endings and what stands in it; a last line that was not ended is ended first."""
    path = tmp_path / "observations.csv"
    path.write_bytes(before.encode())
    own.add_observation(tmp_path, CELLS)
    data = path.read_bytes().decode()
    assert data.startswith(after)
    assert data.endswith("2026-05-01" + ("\r\n" if "\r\n" in before else "\n"))
    assert rows(path)[-1]["note"] == CELLS["note"]


def test_columns_stand_in_the_order_of_the_file(tmp_path: Path) -> None:
    """A column that it lacks is named, unless what would stand there can be spared."""
    path = tmp_path / "observations.csv"
    path.write_text("note,plant,source,pruned,place,width,height,age\n", encoding="utf-8")
    with pytest.raises(FileError, match="no column date"):
        own.add_observation(tmp_path, CELLS)
    own.add_observation(tmp_path, CELLS, spare=("date",))
    assert rows(path)[0]["height"] == "4 ft"
    path.write_text("plant,height\n", encoding="utf-8")
    with pytest.raises(FileError, match="plant,age,height,width,place,pruned,source"):
        own.add_observation(tmp_path, CELLS)
    assert path.read_text(encoding="utf-8") == "plant,height\n"


def test_writers_at_once_lose_nothing(tmp_path: Path) -> None:
    """Processes that add rows together: every row is there once, whole."""
    code = (
        "import sys; from pathlib import Path; from askplant.base import own\n"
        "for age in range(15): own.add_observation(Path(sys.argv[1]), "
        "{'plant': 'Ilex glabra', 'age': str(age), 'height': '1 ft', 'place': sys.argv[2]})"
    )
    runs = [subprocess.Popen([sys.executable, "-c", code, str(tmp_path), f"writer {n}"]) for n in range(4)]
    assert [run.wait(timeout=120) for run in runs] == [0] * 4
    found = [(row["place"], row["age"]) for row in rows(tmp_path / "observations.csv")]
    assert sorted(found) == sorted((f"writer {n}", str(age)) for n in range(4) for age in range(15))
    assert sorted(path.name for path in tmp_path.iterdir()) == [".writing.lock", "observations.csv"]


def test_a_writer_that_hangs_is_not_waited_for_for_ever(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is said, and nothing is changed."""
    monkeypatch.setattr(own, "WAIT", 0.1)
    with locks.held(tmp_path / ".writing.lock", 0.0, lambda: None) as got:
        assert got
        with pytest.raises(WritingError, match="somebody else is writing there"):
            own.add_observation(tmp_path, CELLS)
    assert own.add_observation(tmp_path, CELLS)[1] == 2


@pytest.mark.skipif(sys.platform == "win32", reason="there are no limits on the size of files there")
def test_a_disk_that_is_full_leaves_everything_as_it_was(tmp_path: Path) -> None:
    """A file may grow by ten bytes more, which is not a whole line: it stays as it is, and no half file is left."""
    path, _ = own.add_observation(tmp_path, CELLS)
    before = path.read_bytes()
    code = f"""if True:
        import resource, signal
        from pathlib import Path
        from askplant.base import own
        from askplant.errors import WritingError
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, ({len(before) + 10},) * 2)
        try:
            own.add_observation(Path({str(tmp_path)!r}), {CELLS!r})
        except WritingError as problem:
            print(problem)
    """
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True)
    assert run.stdout == f"{tmp_path}: cannot be written (file too large); nothing was changed\n"
    assert path.read_bytes() == before
    assert sorted(file.name for file in tmp_path.iterdir()) == [".writing.lock", "observations.csv"]


def test_several_files_appear_together_or_not_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second cannot be written: the first is not there either."""
    synced: list[int] = []

    def full(handle: int) -> None:
        synced.append(handle)
        if len(synced) == 2:
            raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(WritingError, match="no space left on device"):
        own.add_cards(tmp_path, {"ilex.txt": "Ilex demo\n", "thuja.txt": "Thuja demo\n"})
    assert list((tmp_path / "plants").iterdir()) == []


def test_cards_go_behind_those_that_are_there(tmp_path: Path) -> None:
    """A blank line between them, and what a person wrote stays."""
    plants = tmp_path / "plants"
    plants.mkdir()
    (plants / "ilex.txt").write_text("# mine\nIlex mine\n    kind: shrub", encoding="utf-8")
    own.add_cards(tmp_path, {"ilex.txt": "Ilex demo\n\n"})
    own.add_cards(tmp_path, {"ilex.txt": "Ilex other\n"})
    text = (plants / "ilex.txt").read_text(encoding="utf-8")
    assert text == "# mine\nIlex mine\n    kind: shrub\n\nIlex demo\n\nIlex other\n"


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights there")
def test_links_and_permissions_are_kept(tmp_path: Path) -> None:
    """The file that a link points to is replaced, with the rights it had."""
    target = tmp_path / "elsewhere.csv"
    target.write_text("old", encoding="utf-8")
    target.chmod(0o640)
    (tmp_path / "link.csv").symlink_to(target)
    writing.write_all({tmp_path / "link.csv": b"new"})
    assert (tmp_path / "link.csv").is_symlink()
    assert (target.read_bytes(), target.stat().st_mode & 0o777) == (b"new", 0o640)


def test_a_place_that_is_no_folder_is_told(tmp_path: Path) -> None:
    """It names the place."""
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(WritingError, match="file: cannot be written"):
        own.add_observation(tmp_path / "file", CELLS)


def test_somebody_without_a_home_is_told_what_to_name(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where there is no folder to write to."""
    monkeypatch.setattr(where, "own_folder", lambda: None)
    with pytest.raises(UserError, match="ASKPLANT_OWN"):
        own.folder()
