"""A disk that is full: one line, status 4, and what was there before is there still."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from askplant import cli
from askplant.base import cache
from askplant.commands.sitting import Sitting
from askplant.desk import Desk
from askplant.errors import BaseError, WritingError
from askplant.render.screen import Screen
from askplant.sitting.journal import Journal
from tests.base.conftest import lay_out
from tests.faults.conftest import REQUEST, Run, one_line, small

FULL = r"no space left on device|file too large"


@pytest.fixture(scope="module")
def full(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A folder on a disk without a byte left; skipped where none can be mounted."""
    place: Path = tmp_path_factory.mktemp("disk") / "full"
    if not small("64k", place):
        pytest.skip("mounting a small file system is not allowed here")
    with (place / "filler").open("wb", buffering=0) as filler:
        try:
            while True:
                filler.write(bytes(1024))
        except OSError:
            pass
    yield place
    subprocess.run(["umount", "-l", place], check=True)


def refused(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    """What the command says of a disk that is full, in one line."""
    capsys.readouterr()
    assert cli.main(list(arguments)) == 4
    said = capsys.readouterr().err.strip()
    assert len(said.splitlines()) == 1
    return said.casefold()


def test_building(full: Path, tmp_path: Path) -> None:
    """No half of a base is left."""
    before = sorted(full.iterdir())
    with pytest.raises(BaseError, match=r"cannot be built \(.*(full|No space)"):
        cache.ready(traits=lay_out(tmp_path), cache=full)
    (full / "building.lock").unlink(missing_ok=True)
    assert sorted(full.iterdir()) == before


@pytest.mark.parametrize(
    "arguments",
    [
        ("care", "inkberry", "--zone", "7", "--ics"),
        ("sheet", REQUEST, "-o"),
    ],
    ids=lambda arguments: arguments[0],
)
def test_a_file_that_is_asked_for(full: Path, arguments: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    """A calendar, a sheet: what stood in its place is untouched, and nothing is left beside it."""
    before = sorted(full.iterdir())
    there = full / "filler"
    size = there.stat().st_size
    assert "no space left" in refused(capsys, *arguments, str(there))
    assert (sorted(full.iterdir()), there.stat().st_size) == (before, size)


def test_batch(full: Path, run: Run, tmp_path: Path) -> None:
    """OUT does not appear; there is one line, and no half of anything."""
    (tmp_path / "in.csv").write_text("request\nevergreen shrub\nfern\n", encoding="utf-8")
    done = run("batch", "in.csv", str(full / "out.csv"))
    assert done.returncode == 4
    assert "no space left" in done.stderr.splitlines()[-1]
    assert [path.name for path in full.iterdir()] == ["filler"]


def test_the_desk(full: Path, run: Run, tmp_path: Path) -> None:
    """Log and sitting: every line is answered, and what could not be kept is said; an export leaves what was there."""
    (tmp_path / "list.csv").symlink_to(full / "list.csv")
    lines = f"{REQUEST}\nkeep 1\nexport list.csv\ndeciduous is fine\n"
    done = run("desk", input=lines, also={"ASKPLANT_STATE": str(full)})
    assert done.returncode == 0
    assert "no space left" in done.stdout + done.stderr
    assert "kept" in done.stdout
    assert "Traceback" not in done.stderr
    assert "inside the program" not in done.stderr
    assert done.stdout.count("fit") >= 2
    assert not (full / "list.csv").exists()
    left = [path for path in full.rglob("*") if path.is_file() and path.name != "filler"]
    assert [path.read_bytes() for path in left] == [b""] * len(left)
    for path in left:
        path.unlink()


def test_a_sitting(full: Path, kept: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """What could not be kept is said with the answer; one that is to be opened and cannot be is refused."""
    journal = Journal(full / "sittings")
    sitting = Sitting(Desk(kept), Screen(80), journal, None, plain=True)
    said = sitting.reply(REQUEST)
    assert "fit" in said
    assert "the sitting is not kept: no space left" in said
    with pytest.raises(WritingError, match="no space left"):
        sitting.reply("save A-1204")
    journal.close()
    monkeypatch.setenv("ASKPLANT_STATE", str(full))
    assert "no space left" in refused(capsys, "desk", "--base", str(kept), "--open", "A-1205")
    shutil.rmtree(full / "sittings", ignore_errors=True)


def test_standard_output(run: Run) -> None:
    """The same where it is sent to a file that does not fit."""
    if not os.path.exists("/dev/full"):
        pytest.skip("there is no /dev/full here")
    with open("/dev/full", "w", encoding="utf-8") as nowhere:
        done = run("read", "evergreen", stdout=nowhere, stderr=subprocess.PIPE, capture_output=False)
    one_line(done, 4, "no space left on device")


LIMITED = """if True:
    import resource, sys
    from askplant import cli
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))
    sys.exit(cli.main(sys.argv[1:]))
"""


@pytest.mark.skipif(os.name == "nt", reason="a bound of POSIX")
def test_a_quota(tmp_path: Path, surroundings: dict[str, str]) -> None:
    """Where files may not grow any more the same is said; this needs no rights to make."""
    command = [sys.executable, "-c", LIMITED, "care", "inkberry", "--zone", "7", "--ics", "care.ics"]
    done = subprocess.run(command, cwd=tmp_path, env=surroundings, capture_output=True, text=True, check=False)
    one_line(done, 4, FULL)
    assert [path.name for path in tmp_path.glob("*.ics*")] == []
