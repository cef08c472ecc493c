"""A run that is stopped loses nothing: killed, interrupted, or out of disk, and gone on with to the very same file."""

from __future__ import annotations

import csv
import errno
import json
import os
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from askplant import cli, statuses
from askplant.batch import journal as journal_
from askplant.batch import out
from askplant.batch.journal import Journal
from askplant.errors import UserError, WritingError
from tests.batch import varied
from tests.batch.demo import HEADINGS, requests

ROWS = 64
VARIED = 60  # ten thousand of them: python -m tests.bench --only batch
POSIX = pytest.mark.skipif(os.name == "nt", reason="signals of POSIX")


def table(folder: Path, count: int = ROWS) -> Path:
    """The demo as a file."""
    path = folder / "in.csv"
    with path.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows([HEADINGS, *requests(count)])
    return path


def begun(folder: Path, *more: str) -> subprocess.Popen[str]:
    """The command, running."""
    command = [sys.executable, "-m", "askplant", "batch", "in.csv", "out.csv", "--details", *more]
    return subprocess.Popen(command, cwd=folder, stderr=subprocess.PIPE, text=True, start_new_session=True)


def after_some(folder: Path, running: subprocess.Popen[str], rows: int) -> None:
    """Wait until so many rows stand in the journal."""
    path = folder / "out.csv.journal"
    until = time.monotonic() + 120
    while time.monotonic() < until and running.poll() is None:
        if path.exists() and path.read_bytes().count(b"\n") > rows:
            return
        time.sleep(0.01)
    raise AssertionError(f"ended with {running.returncode}: {running.stderr.read() if running.stderr else ''}")


def outputs(folder: Path) -> dict[str, bytes]:
    """What was written."""
    return {path.name: path.read_bytes() for path in sorted(folder.glob("out*"))}


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """What a run that nobody stops writes, with one process."""
    folder = tmp_path_factory.mktemp("whole")
    table(folder)
    assert (
        cli.main(["batch", str(folder / "in.csv"), str(folder / "out.csv"), "--details", "--workers", "1"])
        == statuses.FITS
    )
    return outputs(folder)


def test_four_processes_write_what_one_does(tmp_path: Path, whole: dict[str, bytes]) -> None:
    """Byte for byte, details and all."""
    table(tmp_path)
    assert cli.main(["batch", str(tmp_path / "in.csv"), str(tmp_path / "out.csv"), "--details", "--workers", "4"]) == 0
    assert outputs(tmp_path) == whole
    assert sorted(whole) == ["out.csv", "out.excluded.csv", "out.matches.csv", "out.totals.csv"]


def test_three_hundred_rows(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The whole demo: every row comes back under its own cells, whatever it holds, alike from one process and from four."""
    rows = requests()
    path = table(tmp_path, len(rows))
    for workers in ("1", "4"):
        assert (
            cli.main(["batch", str(path), str(tmp_path / f"out{workers}.jsonl"), "--workers", workers]) == statuses.FITS
        )
    assert (tmp_path / "out1.jsonl").read_bytes() == (tmp_path / "out4.jsonl").read_bytes()
    told = [json.loads(line) for line in (tmp_path / "out1.jsonl").read_text(encoding="utf-8").splitlines()]
    assert [list(one["columns"].values()) for one in told] == rows
    assert [one["row"] for one in told] == list(range(2, 302))
    counts = Counter(one["status"] for one in told)
    assert counts["empty"] == 6
    assert counts["not read"] == 12
    assert counts["answered"] + counts["nothing fits"] == 282
    assert all(one["plants"] for one in told if one["status"] == "answered")
    assert all(one["nearest_misses"] for one in told if one["status"] == "nothing fits")
    assert all(one["why"] for one in told if one["status"] == "not read")
    assert f"300 rows: {counts['answered']} answered" in capsys.readouterr().err


@POSIX
@pytest.mark.parametrize("workers", ["1", "2"])
def test_killed_and_gone_on_with(tmp_path: Path, whole: dict[str, bytes], workers: str) -> None:
    """A kill leaves the journal and no OUT; --resume writes the same files, with another number of processes too."""
    table(tmp_path)
    running = begun(tmp_path, "--workers", workers)
    after_some(tmp_path, running, 12)
    os.kill(running.pid, signal.SIGKILL)
    running.communicate()
    assert list(outputs(tmp_path)) == ["out.csv.journal"]
    kept = (tmp_path / "out.csv.journal").read_bytes()
    (tmp_path / "out.csv.journal").write_bytes(kept[:-7])  # the last line torn off, as a kill may leave it
    resumed = begun(tmp_path, "--resume", "--workers", "3")
    said = resumed.communicate(timeout=180)[1]
    assert resumed.returncode == 0, said
    assert "rows were answered before" in said
    assert outputs(tmp_path) == whole


@POSIX
def test_killed_four_times(tmp_path: Path) -> None:
    """By turns a process that answers and the command: each row is there once, as in a run that nobody stops."""
    pytest.importorskip("psutil")
    from tests.bench import batches

    batches.killed(tmp_path, VARIED, "out.csv")
    killed = (tmp_path / "out.csv").read_bytes()
    assert cli.main(["batch", str(tmp_path / f"in{VARIED}.csv"), str(tmp_path / "out.csv"), "--workers", "1"]) == 0
    assert (tmp_path / "out.csv").read_bytes() == killed
    with (tmp_path / "out.csv").open(encoding="utf-8-sig", newline="") as stream:
        found = [[row[key] for key in ("job", "zip")] for row in csv.DictReader(stream)]
    assert found == [row[0::3] for row in varied.requests(VARIED)]


@POSIX
def test_no_process_outlives_a_kill(tmp_path: Path) -> None:
    """The processes that answer end with the one that was killed."""
    table(tmp_path)
    running = begun(tmp_path, "--workers", "2")
    after_some(tmp_path, running, 8)
    os.kill(running.pid, signal.SIGKILL)
    running.communicate()
    until = time.monotonic() + 30
    while time.monotonic() < until:
        try:
            os.killpg(running.pid, 0)
        except ProcessLookupError:
            return
        time.sleep(0.1)
    os.killpg(running.pid, signal.SIGKILL)
    raise AssertionError("processes are left")


@POSIX
@pytest.mark.parametrize("workers", ["1", "2"])
def test_ctrl_c(tmp_path: Path, whole: dict[str, bytes], workers: str) -> None:
    """Says how much is kept, leaves with the status of Ctrl-C, and can be gone on with."""
    table(tmp_path)
    running = begun(tmp_path, "--workers", workers)
    after_some(tmp_path, running, 12)
    os.killpg(running.pid, signal.SIGINT)
    said = running.communicate(timeout=60)[1]
    assert running.returncode == statuses.STOPPED, said
    assert f"of {ROWS} rows are answered and kept; --resume goes on" in said
    assert "Traceback" not in said
    assert list(outputs(tmp_path)) == ["out.csv.journal"]
    resumed = begun(tmp_path, "--resume")
    assert resumed.communicate(timeout=180)[1].count("\n") == 3
    assert resumed.returncode == 0
    assert outputs(tmp_path) == whole


class Full:
    """A stream on a disk that fills up after so many bytes."""

    def __init__(self, stream: Any, room: int) -> None:
        self._stream, self._room = stream, room

    def write(self, data: bytes) -> int:
        if len(data) > self._room:
            self._stream.write(data[: self._room])
            self._room = 0
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        self._room -= len(data)
        return int(self._stream.write(data))

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)

    def __iter__(self) -> Iterator[bytes]:
        return iter(self._stream)


def test_a_disk_that_fills_up_under_the_journal(
    tmp_path: Path, whole: dict[str, bytes], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """One line, the rows before it kept; with room again it goes on to the same files."""
    table(tmp_path)
    arguments = ["batch", str(tmp_path / "in.csv"), str(tmp_path / "out.csv"), "--details", "--workers", "1"]
    begin = Journal._begin

    def short_of_room(self: Journal, *given: Any) -> None:
        self._stream = Full(self._stream, 200_000)  # type: ignore[assignment]
        monkeypatch.setattr(journal_.locks, "taken", lambda lock: True)
        begin(self, *given)

    with monkeypatch.context() as patched:
        patched.setattr(Journal, "_begin", short_of_room)
        assert cli.main(arguments) == statuses.TROUBLE
    said = capsys.readouterr().err.splitlines()[-1]
    assert "no space left on device" in said
    assert "answered rows are kept" in said
    assert list(outputs(tmp_path)) == ["out.csv.journal"]
    assert cli.main([*arguments, "--resume"]) == statuses.FITS
    assert outputs(tmp_path) == whole


def test_a_disk_that_fills_up_under_out(
    tmp_path: Path, whole: dict[str, bytes], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """OUT is as it was before, nothing half written is left, and --resume answers nothing anew."""
    table(tmp_path)
    (tmp_path / "out.csv").write_text("before")
    arguments = ["batch", str(tmp_path / "in.csv"), str(tmp_path / "out.csv"), "--details", "--workers", "1"]

    def full(*_: Any) -> Any:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patched:
        patched.setattr(out, "matches_of", full)
        assert cli.main(arguments) == statuses.TROUBLE
    assert "no space left on device; the answered rows are kept" in capsys.readouterr().err
    assert {name: size for name, size in outputs(tmp_path).items() if "journal" not in name} == {"out.csv": b"before"}
    assert [path.name for path in tmp_path.iterdir() if path.name.startswith(".")] == []
    assert cli.main([*arguments, "--resume"]) == statuses.FITS
    assert f"{ROWS} rows were answered before" in capsys.readouterr().err
    assert outputs(tmp_path) == whole


def test_a_full_workbook(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """A workbook that cannot be finished leaves nothing behind either."""
    from askplant.sheets.book import Page

    table(tmp_path, 5)

    def full(self: Page, cells: Any) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(Page, "add", full)
    assert cli.main(["batch", str(tmp_path / "in.csv"), str(tmp_path / "out.xlsx")]) == statuses.TROUBLE
    assert "no space left on device" in capsys.readouterr().err
    assert sorted(path.name for path in tmp_path.iterdir()) == ["in.csv", "out.xlsx.journal"]


@pytest.mark.skipif(
    sys.platform != "linux" or not hasattr(os, "geteuid") or os.geteuid() != 0, reason="mounts a small disk"
)
def test_a_real_small_disk(tmp_path: Path, whole: dict[str, bytes]) -> None:
    """A disk of 256 kB: stopped with one line, then moved to where there is room and gone on with."""
    disk = tmp_path / "disk"
    disk.mkdir()
    if subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=256k", "none", disk], capture_output=True, check=False
    ).returncode:
        pytest.skip("no mounting here")
    try:
        table(tmp_path)
        command = [sys.executable, "-m", "askplant", "batch", "in.csv", "disk/out.csv", "--details", "--workers", "1"]
        done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)
        assert done.returncode == statuses.TROUBLE
        assert "no space left on device" in done.stderr
        (tmp_path / "out.csv.journal").write_bytes((disk / "out.csv.journal").read_bytes())
    finally:
        subprocess.run(["umount", disk], check=True)
    resumed = begun(tmp_path, "--resume")
    assert resumed.communicate(timeout=180)[1].count("\n") == 3
    assert resumed.returncode == 0
    assert outputs(tmp_path) == whole


@POSIX
def test_a_process_that_answers_is_killed(tmp_path: Path, whole: dict[str, bytes]) -> None:
    """Says how much is kept and why it ended, with the status of trouble; gone on with to the same files."""
    psutil = pytest.importorskip("psutil")
    table(tmp_path)
    running = begun(tmp_path, "--workers", "2")
    after_some(tmp_path, running, 12)
    workers = [one for one in psutil.Process(running.pid).children() if "spawn_main" in " ".join(one.cmdline())]
    workers[0].kill()
    said = running.communicate(timeout=120)[1].splitlines()
    assert running.returncode == statuses.TROUBLE, said
    assert f"of {ROWS} rows are answered and kept; --resume goes on" in said[-2]
    assert said[-1].startswith("askplant: a process that answers rows was ended from outside")
    assert list(outputs(tmp_path)) == ["out.csv.journal"]
    resumed = begun(tmp_path, "--resume", "--workers", "1")
    said_then = resumed.communicate(timeout=180)[1]
    assert resumed.returncode == 0, said_then
    assert outputs(tmp_path) == whole


@POSIX
def test_a_file_that_may_not_grow(tmp_path: Path) -> None:
    """A limit of the system on the size of files is one line too, and what is kept can be gone on with."""
    import resource

    def limited() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (2_000, 2_000))

    (tmp_path / "in.csv").write_text("request\n" + "fern, shade\n" * 12)
    command = [sys.executable, "-m", "askplant", "batch", "in.csv", "out.csv", "--workers", "1"]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, preexec_fn=limited, check=False)
    assert done.returncode == statuses.TROUBLE
    assert "file too large; 1 answered rows are kept" in done.stderr.splitlines()[-1]
    assert "Traceback" not in done.stderr
    assert subprocess.run([*command, "--resume"], cwd=tmp_path, capture_output=True, check=False).returncode == 0
    assert (tmp_path / "out.csv").read_text(encoding="utf-8-sig").count("answered") == 12


def test_ctrl_c_while_out_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nothing of OUT is left, and what is kept is said."""
    (tmp_path / "in.csv").write_text("request\nfern\n")

    def stopped(*_: Any) -> Any:
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr(out, "cells_of", stopped)
        assert cli.main(["batch", str(tmp_path / "in.csv"), str(tmp_path / "out.xlsx")]) == statuses.STOPPED
    assert "1 of 1 rows are answered and kept; --resume goes on" in capsys.readouterr().err
    assert sorted(path.name for path in tmp_path.iterdir()) == ["in.csv", "out.xlsx.journal"]


def test_what_a_killed_run_left_half_written_goes_with_the_next(tmp_path: Path) -> None:
    """It stands in a folder of its own, which the next run empties."""
    (tmp_path / "in.csv").write_text("request\nfern\n")
    half = tmp_path / ".out.csv.new"
    half.mkdir()
    (half / "out.csv").write_text("half")
    assert cli.main(["batch", str(tmp_path / "in.csv"), str(tmp_path / "out.csv")]) == statuses.FITS
    assert sorted(path.name for path in tmp_path.iterdir()) == ["in.csv", "out.csv"]


@pytest.mark.skipif(
    sys.platform != "linux" or not hasattr(os, "geteuid") or os.geteuid() != 0, reason="mounts a disk that is read only"
)
def test_a_disk_that_is_read_only(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Said before anything is answered."""
    (tmp_path / "disk").mkdir()
    command = ["mount", "-t", "tmpfs", "-o", "ro,size=64k", "none", str(tmp_path / "disk")]
    if subprocess.run(command, capture_output=True, check=False).returncode:
        pytest.skip("no mounting here")
    try:
        (tmp_path / "in.csv").write_text("request\nfern\n")
        assert cli.main(["batch", str(tmp_path / "in.csv"), str(tmp_path / "disk" / "out.csv")]) == statuses.TROUBLE
        assert "read-only file system; expected a folder that can be written" in capsys.readouterr().err
    finally:
        subprocess.run(["umount", tmp_path / "disk"], check=True)


def test_a_journal_that_is_none(tmp_path: Path) -> None:
    """Somebody's own file of that name is left alone; the torn first line of one of ours is written anew."""
    path = tmp_path / "out.csv.journal"
    for text in ("my own notes\n", '{"title": "mine"}\n', "no line end"):
        path.write_text(text)
        with pytest.raises(UserError, match=r"out\.csv\.journal beside it is no journal of a batch"):
            Journal(tmp_path / "out.csv", "one", resume=False)
        assert path.read_text() == text
    for text in ('{"ask', '{"askplant":"0123'):
        path.write_text(text)
        with Journal(tmp_path / "out.csv", "one", resume=False) as journal:
            assert path.read_text() == '{"askplant":"one"}\n'
            journal.remove()


def test_a_journal_of_another_run(tmp_path: Path) -> None:
    """It is gone on with only where it was asked for, and only for the same table, columns, base and options."""
    path = tmp_path / "out.csv"
    with Journal(path, "one", resume=False) as journal:
        journal.add({"n": 0, "status": "empty"})
    with pytest.raises(UserError, match="holds 1 rows answered by a run that was stopped; go on with --resume"):
        Journal(path, "one", resume=False)
    with pytest.raises(UserError, match="of another table, base or options"):
        Journal(path, "two", resume=True)
    with Journal(path, "one", resume=True) as journal:
        assert journal.done == 1
        with pytest.raises(UserError, match="another run is answering into it"):
            Journal(path, "one", resume=True)
        assert [answer["n"] for answer in journal.answers()] == [0]
        journal.remove()
    assert list(tmp_path.iterdir()) == []


def test_a_place_that_cannot_be_written(tmp_path: Path) -> None:
    """Is said before anything is answered."""
    with pytest.raises(WritingError, match="expected a folder that can be written"):
        Journal(tmp_path / "no" / "out.csv", "one", resume=False)
