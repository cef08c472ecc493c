"""The cache: one base for one content, built once, trusted while untouched, and never in the way."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from askplant import where
from askplant.base import build as build_module
from askplant.base import cache, locks
from askplant.base.cards import CardFaults
from askplant.base.opened import Base
from askplant.errors import BaseError

Write = Callable[[str, str | bytes], Path]
NOBODY = 65534


@pytest.fixture
def store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache folder that does not exist yet, another temporary folder, and files that count as settled at once."""
    monkeypatch.setattr(cache, "UNSETTLED", -1.0)
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    monkeypatch.setattr("tempfile.tempdir", None)
    return tmp_path / "cache" / "deeper"


@pytest.fixture
def builds(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """The targets of the builds that happen."""
    done: list[Path] = []
    build = build_module.build

    def counted(target: Path, *rest: object) -> None:
        done.append(target)
        build(target, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr(build_module, "build", counted)
    return done


def ready(folder: Path, store: Path) -> Path:
    return cache.ready(traits=folder, cache=store)


def bases(store: Path) -> list[Path]:
    return sorted(store.glob("base-*.sqlite"))


def test_a_base_is_built_once(folder: Path, store: Path, builds: list[Path]) -> None:
    """The second start finds it, whether or not it remembers anything."""
    first = ready(folder, store)
    assert first.parent == store
    assert Base.open(first).count == 5
    assert ready(folder, store) == first
    for memo in store.glob("seen-*"):
        memo.unlink()
    assert ready(folder, store) == first
    assert builds == [first]


def test_a_normal_start_reads_no_content(folder: Path, store: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """While nothing has changed, neither the text files nor the base's pages are looked at."""
    first = ready(folder, store)

    def fail(*_: object) -> None:
        raise AssertionError("read again")

    monkeypatch.setattr(cache, "_digest", fail)
    monkeypatch.setattr(cache, "_sound", fail)
    assert ready(folder, store) == first


def test_a_changed_card_gives_another_base(folder: Path, store: Path, write: Write, builds: list[Path]) -> None:
    """The next question is answered from the changed line, and going back finds the old base again."""
    first = ready(folder, store)
    text = (folder / "plants/ilex.txt").read_text(encoding="utf-8")
    write("plants/ilex.txt", text.replace("deer: seldom severely damaged", "deer: rarely damaged"))
    second = ready(folder, store)
    assert second != first
    base = Base.open(second)
    assert base.resolved(base.index("ilex-glabra"))["deer"].text == "rarely damaged"
    write("plants/ilex.txt", text)
    assert ready(folder, store) == first
    assert builds == [first, second]


def test_a_change_is_seen_though_size_and_time_are_kept(folder: Path, store: Path, write: Write) -> None:
    """The time of change cannot be set back."""
    first = ready(folder, store)
    path = folder / "plants/ilex.txt"
    state = path.stat()
    time.sleep(0.02)
    write("plants/ilex.txt", path.read_text(encoding="utf-8").replace("4-6 ft", "5-7 ft"))
    os.utime(path, ns=(state.st_atime_ns, state.st_mtime_ns))
    assert path.stat().st_size == state.st_size
    assert ready(folder, store) != first


def test_what_has_only_just_changed_is_not_remembered(
    folder: Path, store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It might change again within the same tick of the clock."""
    monkeypatch.setattr(cache, "UNSETTLED", 60.0)
    ready(folder, store)
    assert list(store.glob("seen-*")) == []


def test_a_name_that_editors_leave_does_not_count(folder: Path, store: Path, write: Write) -> None:
    """Backups and hidden files shape no base."""
    first = ready(folder, store)
    write("plants/ilex.txt~", "old")
    write("plants/.ilex.txt.swp", "open")
    assert ready(folder, store) == first


@pytest.mark.parametrize("damage", ["cut short", "another page", "emptied", "removed", "no base"])
def test_a_damaged_base_is_built_anew(damage: str, folder: Path, store: Path, builds: list[Path]) -> None:
    """Whatever happened to the file, the next start mends it without a word."""
    path = ready(folder, store)
    data = path.read_bytes()
    spoilt = {
        "cut short": data[: len(data) // 2],
        "another page": data[:12288] + b"\xa5" * 4096 + data[16384:],
        "emptied": b"",
        "no base": b"plants\n" * 1000,
    }
    path.unlink()
    if damage in spoilt:
        path.write_bytes(spoilt[damage])
    assert ready(folder, store) == path
    assert Base.open(path).is_sound()
    assert builds == [path, path]


def test_a_damaged_memo_does_no_harm(folder: Path, store: Path, builds: list[Path]) -> None:
    """It is only a shortcut."""
    path = ready(folder, store)
    (memo,) = store.glob("seen-*")
    for content in (b"", b"\xff\xfe\n\n", b"a\nb\nc\nd"):
        memo.write_bytes(content)
        assert ready(folder, store) == path
    assert builds == [path]


def test_faults_of_cards_come_through(folder: Path, store: Path, write: Write) -> None:
    """A wrong card is the caller's to mend, and no base is left behind."""
    write("plants/ilex.txt", "Ilex glabra\n    knd: shrub\n")
    with pytest.raises(CardFaults, match=r"traits/plants/ilex\.txt:2"):
        ready(folder, store)
    assert bases(store) == []


def test_only_the_newest_are_kept(folder: Path, store: Path, write: Write) -> None:
    """A folder that is edited all day does not fill the disk, and halves of stopped builds go too."""
    store.mkdir(parents=True)
    half = store / ".base-0.sqlite.1.new"
    half.write_bytes(b"half")
    os.utime(half, (0, 0))
    for number in range(cache.KEPT + 2):
        write(
            "plants/thuja.txt",
            f"Thuja occidentalis\n    pests: few -- {number}\nThuja 'Green Giant'\n    like: nothing\n",
        )
        newest = ready(folder, store)
        os.utime(newest, (number, number))
    assert len(bases(store)) == cache.KEPT
    assert newest in bases(store)
    assert not half.exists()


def test_a_cache_that_cannot_be_made_gives_way_to_a_temporary_folder(
    folder: Path, store: Path, builds: list[Path], capsys: pytest.CaptureFixture[str]
) -> None:
    """One line says so; the base there is found again."""
    store.parent.mkdir()
    store.write_text("a file where the folder should be", encoding="utf-8")
    first = ready(folder, store)
    assert first.parent == where.temporary_folder()
    assert capsys.readouterr().err == f"askplant: {store} cannot be written; the base goes to {first.parent}\n"
    assert ready(folder, store) == first
    assert builds == [first]


@pytest.mark.skipif(sys.platform == "win32", reason="folders have no such rights there")
def test_a_read_only_cache_is_used_as_it_is(folder: Path) -> None:
    """Where the right base is already there, nothing need be written and nothing is said."""
    # Not below tmp_path: nobody else may enter the folders that pytest makes.
    with tempfile.TemporaryDirectory() as place:
        os.chmod(place, 0o755)
        traits, store = Path(place) / "traits", Path(place) / "cache"
        shutil.copytree(folder, traits)
        path = ready(traits, store)
        os.chmod(store, 0o555)
        # Root may write anywhere, so it becomes somebody else once all is imported.
        code = f"""if True:
            import hashlib, os, sqlite3
            from pathlib import Path
            from askplant.base import cache, locks
            from askplant.base.opened import Base
            if os.geteuid() == 0:
                os.setgroups([]), os.setgid({NOBODY}), os.setuid({NOBODY})
            path = cache.ready(traits=Path({str(traits)!r}), cache=Path({str(store)!r}))
            print(path, Base.open(path).count, os.access(path.parent, os.W_OK))
        """
        run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=False)
        os.chmod(store, 0o755)
    assert (run.stdout, run.stderr) == (f"{path} 5 False\n", "")


def test_two_builders_at_once_make_one_base(folder: Path, tmp_path: Path) -> None:
    """Processes that start together all get the same sound base."""
    store = tmp_path / "cache"
    code = (
        "from pathlib import Path; from askplant.base import cache; from askplant.base.opened import Base\n"
        f"path = cache.ready(traits=Path({str(folder)!r}), cache=Path({str(store)!r}), progress=lambda line: None)\n"
        "base = Base.open(path); print(path, base.is_sound(), base.built)"
    )
    runs = [
        subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        for _ in range(4)
    ]
    said = [run.communicate(timeout=120) for run in runs]
    assert [error for _, error in said] == [""] * 4
    assert len({out for out, _ in said}) == 1
    assert " True " in said[0][0]
    assert len(bases(store)) == 1
    assert list(store.glob(".base-*")) == []


def test_another_builder_is_waited_for_no_longer_than_is_sensible(
    folder: Path, store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A builder that hangs does not hang everybody else."""
    monkeypatch.setattr(locks, "taken", lambda _: False)
    monkeypatch.setattr(cache, "WAIT", 0.1)
    told: list[str] = []
    path = cache.ready(traits=folder, cache=store, progress=told.append)
    assert Base.open(path).count == 5
    assert told[0] == "waiting for another askplant that is building"


def test_a_long_build_says_what_it_does(
    folder: Path, store: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """On standard error, and only once it takes long; a quick one is silent."""
    ready(folder, store)
    assert capsys.readouterr().err == ""
    monkeypatch.setattr(cache, "PATIENCE", 0.0)
    build = build_module.build

    def slow(*given: object) -> None:
        time.sleep(0.2)
        build(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(build_module, "build", slow)
    (folder / "plants/more.txt").write_text("Abies concolor\n    kind: tree\n", encoding="utf-8")
    ready(folder, store)
    said = capsys.readouterr()
    assert said.out == ""
    assert "askplant: building the base" in said.err
    assert "writing 6 plants" in said.err


def test_a_disk_that_is_full_is_a_base_error(folder: Path, store: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It names the file that could not be built."""

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(build_module, "build", full)
    with pytest.raises(BaseError, match=r"cannot be built.*No space left"):
        ready(folder, store)


def test_a_base_that_is_named_is_taken_as_it_is(built: Path, tmp_path: Path, builds: list[Path]) -> None:
    """`--base FILE` is never rebuilt, and trouble with it is told."""
    assert cache.ready(built) == built
    built.write_bytes(b"spoilt")
    with pytest.raises(BaseError, match=str(built)):
        cache.ready(built)
    with pytest.raises(BaseError, match="no such file"):
        cache.ready(tmp_path / "nowhere.sqlite")
    assert builds == []
