"""Streams that are closed, readers that leave, and Ctrl-C: nothing is lost, and the status says which it was."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.faults.conftest import REQUEST, Run, one_line

pytestmark = pytest.mark.skipif(os.name == "nt", reason="signals and shells of POSIX")
COMMAND = f"'{sys.executable}' -m askplant"


@pytest.fixture
def shell(surroundings: dict[str, str], tmp_path: Path) -> Callable[[str], subprocess.CompletedProcess[str]]:
    """Runs a line of a shell, in which ASKPLANT stands for the command."""
    return lambda line: subprocess.run(
        ["bash", "-c", f"set -o pipefail; {line.replace('ASKPLANT', COMMAND)}"],
        cwd=tmp_path, env=surroundings, capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip


def test_a_reader_that_leaves(shell: Callable[[str], subprocess.CompletedProcess[str]]) -> None:
    """`| head` ends the command quietly, with much to say and with little."""
    done = shell("ASKPLANT traits export --csv | head -1")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("plant,")
    done = shell(f"ASKPLANT ask --all --count 900 '{REQUEST}' | head -1")
    assert (done.returncode, done.stderr) == (0, "")


def test_closed_streams(shell: Callable[[str], subprocess.CompletedProcess[str]]) -> None:
    """Output or errors that go nowhere change no status; a request cannot be read from a closed input."""
    assert shell("ASKPLANT read evergreen >&-").returncode == 0
    assert shell("ASKPLANT ask '' 2>&-").returncode == 2
    one_line(shell("ASKPLANT ask - <&-"), 2, "standard input is closed")
    done = shell("ASKPLANT read evergreen <&-")
    assert (done.returncode, done.stderr) == (0, "")


def interrupted(running: subprocess.Popen[bytes]) -> tuple[int, str]:
    """Press Ctrl-C, and tell the status and what was said."""
    running.send_signal(signal.SIGINT)
    _, err = running.communicate(timeout=60)
    return running.returncode, err.decode()


def begin(surroundings: dict[str, str], folder: Path, *arguments: str) -> subprocess.Popen[bytes]:
    """The command, running."""
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    return subprocess.Popen([sys.executable, "-m", "askplant", *arguments], cwd=folder, env=surroundings, **pipes)  # type: ignore[call-overload,no-any-return]


def until(done: Callable[[], bool], running: subprocess.Popen[bytes]) -> None:
    """Wait for something that the command does."""
    end = time.monotonic() + 60
    while not done():
        assert running.poll() is None, running.stderr.read() if running.stderr else ""
        assert time.monotonic() < end
        time.sleep(0.01)


def test_ctrl_c_while_asking(surroundings: dict[str, str], tmp_path: Path) -> None:
    """What was answered is out by then."""
    running = begin(surroundings, tmp_path, "read", "--json", "--lines", "-")
    assert running.stdin is not None
    assert running.stdout is not None
    running.stdin.write(b"evergreen\n")
    running.stdin.flush()
    assert running.stdout.readline().startswith(b"{")
    assert interrupted(running) == (130, "askplant: stopped\n")


def test_ctrl_c_while_building(surroundings: dict[str, str], tmp_path: Path) -> None:
    """No half of a base is left, and none that passes for whole."""
    store = tmp_path / "cache"
    running = begin(surroundings | {"ASKPLANT_CACHE": str(store)}, tmp_path, "read", "evergreen")
    until(lambda: (store / "building.lock").exists(), running)
    time.sleep(0.5)
    status, said = interrupted(running)
    assert (status, said.splitlines()[-1]) == (130, "askplant: stopped")
    assert [path.name for path in store.iterdir()] == ["building.lock"]


def test_ctrl_c_in_a_batch(surroundings: dict[str, str], tmp_path: Path, run: Run, kept: Path) -> None:
    """Every row that was answered is kept, and the run goes on from there."""
    rows = [f"evergreen shrub, {feet} ft" for feet in range(2, 42)]
    (tmp_path / "in.csv").write_text("\n".join(["request", *rows]) + "\n", encoding="utf-8")
    running = begin(surroundings, tmp_path, "batch", "in.csv", "out.csv", "--workers", "1", "--base", str(kept))
    journal = tmp_path / "out.csv.journal"
    until(lambda: journal.exists() and journal.read_bytes().count(b"\n") > 4, running)
    status, said = interrupted(running)
    assert status == 130
    assert "rows are answered and kept; --resume goes on" in said
    assert "Traceback" not in said
    assert not (tmp_path / "out.csv").exists()
    done = run("batch", "in.csv", "out.csv", "--workers", "1", "--resume", "--base", str(kept))
    assert done.returncode == 0
    assert "rows were answered before" in done.stderr
    assert len((tmp_path / "out.csv").read_text(encoding="utf-8-sig").splitlines()) == len(rows) + 1
    assert not journal.exists()
