"""Folders that cannot be read or written, a user without a home, a plain locale, a clock that goes back."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from askplant.base import cache
from askplant.base.cards import CardFaults
from askplant.base.opened import Base
from askplant.reading.read import read
from askplant.sitting.journal import Journal, opened, state_told
from askplant.sitting.state import State
from tests.base.conftest import lay_out
from tests.faults.conftest import NOBODY, REQUEST, Run, one_line

POSIX = pytest.mark.skipif(os.name == "nt", reason="rights of POSIX")
SOMEBODY = ("setpriv", f"--reuid={NOBODY}", f"--regid={NOBODY}", "--clear-groups")


@pytest.fixture
def ordinary() -> tuple[str, ...]:
    """What makes a command run as a user whom rights bind; root they do not."""
    if os.geteuid() != 0:
        return ()
    if shutil.which("setpriv") is None:
        pytest.skip("runs as root, whom no rights bind, and there is no setpriv to be somebody else")
    tried = subprocess.run([*SOMEBODY, sys.executable, "-c", "import askplant"], capture_output=True, check=False)
    if tried.returncode:
        pytest.skip("runs as root, and nobody else may read this checkout or its Python")
    return SOMEBODY


@pytest.fixture
def public() -> Iterator[Path]:
    """A folder that any user may enter; those that pytest makes are closed to others."""
    with tempfile.TemporaryDirectory() as place:
        os.chmod(place, 0o755)
        yield Path(place)


@POSIX
def test_a_cache_that_is_read_only(kept: Path, public: Path, ordinary: tuple[str, ...], run: Run) -> None:
    """The base that is there is used; nothing is said."""
    store = public / "cache"
    store.mkdir()
    shutil.copy(kept, store)
    os.chmod(store, 0o555)
    done = run("read", "evergreen", also={"ASKPLANT_CACHE": str(store), "TMPDIR": str(public)}, before=ordinary)
    assert (done.returncode, done.stderr) == (0, "")
    assert "evergreen" in done.stdout
    assert sorted(path.name for path in store.iterdir()) == [kept.name]


@POSIX
def test_own_folder_that_cannot_be_read(kept: Path, public: Path, ordinary: tuple[str, ...], run: Run) -> None:
    """As a whole, or one file of it: named, with what was expected; never passed over."""
    own = public / "own"
    (own / "plants").mkdir(parents=True)
    card = own / "plants/vesta.txt"
    card.write_text("Vesta alta\n    kind: shrub\n", encoding="utf-8")
    also = {"ASKPLANT_OWN": str(own), "ASKPLANT_CACHE": str(public / "cache"), "TMPDIR": str(public)}
    for closed in (card, own / "plants", own):
        os.chmod(closed, 0)
        one_line(run("read", "evergreen", also=also, before=ordinary), 2, rf"{closed}: found .*; expected ")
        os.chmod(closed, 0o755)


def test_no_home(run: Run) -> None:
    """The password file says where home is; a user whom it does not know is told what to name."""
    homeless: dict[str, str | None] = dict.fromkeys(("HOME", "ASKPLANT_OWN", "ASKPLANT_STATE", "XDG_DATA_HOME"))
    done = run("ask", "--count", "1", REQUEST, also=homeless)
    assert (done.returncode, done.stderr) == (0, "")


@POSIX
def test_no_home_at_all(kept: Path, public: Path, run: Run) -> None:
    """A user id that nobody has: answers are given, and what needs a folder says which variable names one."""
    if os.geteuid() != 0 or shutil.which("setpriv") is None:
        pytest.skip("only root can become a user whom the password file does not know")
    stranger = ("setpriv", "--reuid=64321", "--regid=64321", "--clear-groups")
    homeless: dict[str, str | None] = dict.fromkeys(("HOME", "ASKPLANT_OWN", "ASKPLANT_STATE", "XDG_DATA_HOME"))
    also = homeless | {"TMPDIR": str(public), "USER": None, "LOGNAME": None}
    base = ("--base", str(shutil.copy(kept, public / "base.sqlite")))
    done = run("ask", *base, "--count", "1", REQUEST, also=also, before=stranger, cwd="/")
    if "No module named" in done.stderr or "Permission" in done.stderr:
        pytest.skip("nobody else may read this checkout or its Python")
    assert (done.returncode, done.stderr) == (0, "")
    one_line(run("desk", "log", also=also, before=stranger, cwd="/"), 2, "ASKPLANT_STATE names one")


@pytest.mark.parametrize(
    "locale", [{"LC_ALL": "C"}, {"LC_ALL": "POSIX", "PYTHONCOERCECLOCALE": "0", "PYTHONUTF8": "0"}]
)
def test_a_plain_locale(locale: dict[str, str], run: Run) -> None:
    """What is typed is read as what it is, and what is said is plain ASCII, with nothing lost but accents and dashes."""
    done = run("ask", "--count", "1", "évergreen, 5–8 ft × 6 ft, Thuja ‘Smaragd’, naïve", also=locale, encoding="ascii")
    assert done.returncode in (0, 1)
    assert done.stderr == ""
    assert "5-8 ft" in done.stdout
    assert "naive" in done.stdout
    plain = run("read", "--json", "5–8 ft ½ acre, naïve", also=locale, encoding="ascii")
    assert (plain.returncode, plain.stderr) == (0, "")
    assert "na\\u00efve" in plain.stdout


def test_folders_that_are_files(run: Run, tmp_path: Path) -> None:
    """Each XDG folder: answers go on, what has to be kept there is refused in a line, and the file is untouched."""
    file = tmp_path / "file"
    file.write_text("mine", encoding="utf-8")
    names = ("XDG_DATA_HOME", "XDG_STATE_HOME")
    also: dict[str, str | None] = {"ASKPLANT_OWN": None, "ASKPLANT_STATE": None} | dict.fromkeys(names, str(file))
    done = run("ask", "--count", "1", REQUEST, also=also)
    assert (done.returncode, done.stderr) == (0, "")
    seen = run("desk", input=f"{REQUEST}\nsave A-1\n", also=also)
    assert seen.returncode == 0
    assert "not a directory" in (seen.stdout + seen.stderr).casefold()
    assert "Traceback" not in seen.stderr
    assert "inside the program" not in seen.stderr
    told = run("traits", "observe", "inkberry", "--age", "5", "--height", "4 ft", also=also)
    one_line(told, 4, r"cannot be written \((not a directory|file exists)\)")
    assert file.read_text(encoding="utf-8") == "mine"


def test_a_cache_that_is_a_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The base goes elsewhere, and that is said once."""
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    store = tmp_path / "cache"
    store.write_text("mine", encoding="utf-8")
    path = cache.ready(traits=lay_out(tmp_path), cache=store)
    assert Base.open(path).is_sound()
    assert capsys.readouterr().err.count("cannot be written; the base goes to") == 1
    assert store.read_text(encoding="utf-8") == "mine"


# ---- the clock


def test_files_from_the_future(tmp_path: Path) -> None:
    """A file whose time is still to come, and is set back again, is seen to change each time."""
    traits, store = lay_out(tmp_path), tmp_path / "cache"
    card = traits / "plants/thuja.txt"
    seen = []
    for number, ahead in enumerate((0, 9e8, -9e8, 9e8)):
        text = f"Thuja occidentalis\n    pests: few -- {number}\nThuja 'Green Giant'\n    like: nothing\n"
        card.write_text(text, encoding="utf-8")
        os.utime(card, (time.time() + ahead, time.time() + ahead))
        path = cache.ready(traits=traits, cache=store)
        os.utime(path, (time.time() - ahead, time.time() - ahead))
        base = Base.open(path)
        seen.append(base.resolved(base.index("thuja-occidentalis"))["pests"].note)
    assert seen == ["0", "1", "2", "3"]


def test_back_during_a_sitting(kept: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Entries count in the order in which they were written, whatever time they bear."""
    base, sitting = Base.open(kept), Journal(tmp_path)
    states = []
    for hour, text in enumerate(("evergreen", "fern", "tall tree", "hedge")):
        monkeypatch.setattr(time, "strftime", lambda form, hour=hour: f"2026-05-31T{9 - hour:02}:00:00")
        states.append(State(read(text, base), line=text))
        sitting.add("state", **state_told(states[-1]))
    assert sitting.path is not None
    os.utime(sitting.path, (time.time() + 9e8, time.time() + 9e8))
    assert opened(sitting.path).past.states == tuple(states)


def test_a_build_with_faults_leaves_the_last_base(tmp_path: Path) -> None:
    """A card half saved stops no base from being found again once it is whole."""
    traits, store = lay_out(tmp_path), tmp_path / "cache"
    first = cache.ready(traits=traits, cache=store)
    card = traits / "plants/ilex.txt"
    whole = card.read_bytes()
    card.write_bytes(whole[: len(whole) // 2 - 3] + b"\n  knd: x\n")
    with pytest.raises(CardFaults):
        cache.ready(traits=traits, cache=store)
    card.write_bytes(whole)
    assert cache.ready(traits=traits, cache=store) == first
