"""Faults of the built base: cut, flipped, locked, replaced and built by two; never a wrong answer."""

from __future__ import annotations

import os
import random
import shutil
import sqlite3
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from askplant.base import cache, seal
from askplant.base.opened import Base
from askplant.desk import Desk
from askplant.errors import BaseError
from tests.faults.conftest import REQUEST, Run, one_line

READERS = 8


def told(desk: Desk) -> dict[str, Any]:
    """The answer to the request of these tests in its published form."""
    return desk.worded(desk.ask(REQUEST, count=3)).json


@pytest.fixture(scope="module")
def right(kept: Path) -> dict[str, Any]:
    """What the sound base answers."""
    return told(Desk(kept))


def test_cut_short(copied: Path, run: Run) -> None:
    """At any length, a page's border or not, and empty."""
    size = copied.stat().st_size
    for length in (size - 1, size - 4096, size // 2, 4096, 100, 20, 1, 0):
        os.truncate(copied, length)
        with pytest.raises(BaseError, match=r"base\.sqlite: (damaged|not a built base)"):
            cache.ready(copied)
    one_line(run("ask", "--base", str(copied), REQUEST), 4, r"base\.sqlite: not a built base$")


def test_a_flipped_bit(copied: Path, run: Run) -> None:
    """Anywhere: in the header, in a page, in a value, in the seal itself."""
    data = bytearray(copied.read_bytes())
    value = data.index(b"evergreen", len(data) // 2)
    places = [18, 61, 100, value, *(random.Random(7).randrange(len(data)) for _ in range(8))]
    for place in places:
        data[place] ^= 0x04
        copied.write_bytes(data)
        with pytest.raises(BaseError, match=r"base\.sqlite: "):
            cache.ready(copied)
        data[place] ^= 0x04
    copied.write_bytes(data)
    assert seal.holds(copied)
    data[value] ^= 0x01
    copied.write_bytes(data)
    one_line(run("ask", "--base", str(copied), REQUEST), 4, r"base\.sqlite: damaged \(its bytes are not those")


def test_a_flipped_bit_in_the_cache(
    kept: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, right: dict[str, Any]
) -> None:
    """It is seen though length and time are as they were, and the base is made anew."""
    store = tmp_path / "cache"
    store.mkdir()
    sound = Path(shutil.copy2(kept, store))
    made: list[Path] = []

    def build(target: Path, *_: object) -> None:
        made.append(target)
        shutil.copy(kept, target)

    monkeypatch.setattr("askplant.base.build.build", build)
    assert cache.ready(cache=store) == sound
    assert made == []
    state = sound.stat()
    data = bytearray(sound.read_bytes())
    data[data.index(b"evergreen", len(data) // 2)] ^= 0x01
    sound.write_bytes(data)
    os.utime(sound, ns=(state.st_atime_ns, state.st_mtime_ns))
    assert told(Desk(cache.ready(cache=store))) == right
    assert made == [sound]


def test_locked_by_another_writer(copied: Path, right: dict[str, Any]) -> None:
    """Whoever holds it is not waited for; what is not yet written is not answered from, what is, is refused."""
    writer = sqlite3.connect(copied, isolation_level=None)
    writer.execute("BEGIN EXCLUSIVE")
    writer.execute("UPDATE vals SET value = 'nonsense' WHERE plant < 9")
    desk = Desk(copied)
    assert told(desk) == right
    writer.execute(
        "UPDATE vals SET value = 'nonsense'"
    )  # more than the writer keeps by itself: half of it is in the file
    with pytest.raises(BaseError, match="damaged"):
        Desk(copied)
    writer.execute("COMMIT")
    writer.close()
    with pytest.raises(BaseError, match="damaged"):
        Desk(copied)


def test_written_into_while_it_is_read(copied: Path) -> None:
    """A reader that had it open says so rather than mixing two contents."""
    base = Base.open(copied)
    assert base.ids
    writer = sqlite3.connect(copied)
    writer.execute("UPDATE vals SET value = 'nonsense' WHERE plant = 1")
    writer.commit()
    writer.close()
    with pytest.raises(BaseError, match="written to by another program while it was read"):
        base.rows(1)
    base.close()


# One process loads the program; its children each open the base by themselves, twice.
READER = """if True:
    import os, sys
    from askplant.desk import Desk
    path, request, readers = sys.argv[1], sys.argv[2], int(sys.argv[3])
    Desk(path).ask(request)  # all is imported before the children begin
    for number in range(readers):
        if os.fork() == 0:
            with open(f"{path}.{number}", "w") as told:
                for _ in range(2):
                    desk = Desk(path)
                    print(desk.answer(desk.read(request), noted=False, advised=False), file=told)
            os._exit(0)
    sys.exit(max(os.wait()[1] for _ in range(readers)))
"""


@pytest.mark.skipif(os.name == "nt", reason="an open file cannot be replaced there")
def test_replaced_while_eight_readers_ask(copied: Path, kept: Path) -> None:
    """Each answer is that of one whole base."""
    desk = Desk(kept)
    right = str(desk.answer(desk.read(REQUEST), noted=False, advised=False))
    command = [sys.executable, "-c", READER, str(copied), REQUEST, str(READERS)]
    twins = [Path(shutil.copy(copied, copied.with_name(f"twin{n}"))) for n in range(2)]
    new, replaced = copied.with_name("new"), 0
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True) as readers:
        while readers.poll() is None:
            os.link(twins[replaced % 2], new)
            os.replace(new, copied)
            replaced += 1
            time.sleep(0.002)
        assert readers.stdout is not None
        assert (readers.stdout.read(), readers.returncode) == ("", 0)
    assert replaced > READERS
    for number in range(READERS):
        lines = copied.with_name(f"{copied.name}.{number}").read_text(encoding="utf-8").splitlines()
        assert lines == [right] * 2
