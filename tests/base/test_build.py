"""The built file: its tables, that it is whole or not there, and that faults stop it."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest

from askplant.base import build as build_module
from askplant.base.build import build
from askplant.base.cards import CardFaults
from askplant.base.opened import Base

Write = Callable[[str, str | bytes], Path]


def test_every_table_is_strict(built: Path) -> None:
    """A text that strays into a number's column would be an error, not a value that compares above all numbers."""
    connection = sqlite3.connect(built)
    kinds = {
        name: strict
        for _, name, kind, _, _, strict in connection.execute("PRAGMA table_list")
        if not name.startswith("sqlite_")
    }
    connection.close()
    assert set(kinds) == {
        "meta", "traits", "conditions", "plants", "vals", "judged", "names", "phrases", "words", "ordinary", "claims",
        "sources", "observations", "entries", "pairs", "grammars", "postcodes",
    }  # fmt: skip
    assert set(kinds.values()) == {1}


def test_the_file_can_be_opened_immutable(built: Path) -> None:
    """Rollback journal, no file beside it, and sound."""
    assert [path.name for path in built.parent.glob("*.sqlite*")] == [built.name]
    head = built.read_bytes()[:20]
    assert head[18:20] == b"\x01\x01"
    assert Base.open(built).is_sound()


def test_meta_says_what_it_is(base: Base) -> None:
    """Digest, count and time of building are there to be shown."""
    assert (base.digest, base.count) == ("demo", 5)
    assert base.built.endswith("Z")
    assert base.built[:2] == "20"


def test_plants_are_numbered_in_order_of_id(base: Base) -> None:
    """Bit n of every set is plant n."""
    assert base.ids == tuple(sorted(base.ids))
    assert [plant.n for plant in base.plants()] == [0, 1, 2, 3, 4]


def test_faults_stop_the_build_and_leave_the_old_base(folder: Path, built: Path, write: Write) -> None:
    """All faults are named, and what was there before is still there."""
    before = built.read_bytes()
    write("plants/ilex.txt", "Ilex glabra\n    knd: shrub\n    kind: bush\n")
    with pytest.raises(CardFaults) as caught:
        build(built, folder, "other")
    assert len(caught.value.faults) == 2
    assert caught.value.status == 2
    assert built.read_bytes() == before


def test_a_build_that_breaks_off_leaves_the_old_base(
    folder: Path, built: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A failure half way through the writing changes nothing and leaves no half file."""
    before = built.read_bytes()

    def fail(*_: object) -> None:
        raise OSError("no space left on device")

    monkeypatch.setattr(build_module, "_write_words", fail)
    with pytest.raises(OSError, match="no space"):
        build(built, folder, "other")
    assert built.read_bytes() == before
    assert [path.name for path in built.parent.iterdir() if path.is_file()] == [built.name]


def test_a_reader_keeps_the_base_it_opened(folder: Path, built: Path, write: Write) -> None:
    """Replacing is one step: who has the old file open goes on reading it, who opens now reads the new one."""
    old = Base.open(built)
    write("plants/thuja.txt", "")
    write("observations.csv", "plant,age,height,width,place,pruned,source,note\n")
    build(built, folder, "new")
    assert len(old.ids) == 5
    assert [old.plant(n).id for n in range(5)] == list(old.ids)
    assert Base.open(built).count == 3


def test_the_same_folder_gives_the_same_base(folder: Path, tmp_path: Path) -> None:
    """But for the time of building and the order of a packed grammar's symbols, two builds hold the same rows."""
    dumps = []
    for name in ("one", "two"):
        build(tmp_path / name, folder, "demo")
        connection = sqlite3.connect(tmp_path / name)
        connection.execute("DELETE FROM meta WHERE key = 'built'")
        connection.execute("DELETE FROM grammars")
        dumps.append(list(connection.iterdump()))
        connection.close()
    assert dumps[0] == dumps[1]


def test_progress_is_told_in_lines(folder: Path, tmp_path: Path) -> None:
    """Each step says what it is about before it starts."""
    lines: list[str] = []
    build(tmp_path / "told.sqlite", folder, "demo", lines.append)
    assert lines == [f"reading {folder}", "writing 5 plants", "writing the vocabulary"]


def test_files_are_swapped_in_from_the_same_folder(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Only within one file system is replacing a single step."""
    moves: list[tuple[Path, Path]] = []
    replace = os.replace

    def watched(source: Path, target: Path) -> None:
        moves.append((Path(source), Path(target)))
        replace(source, target)

    monkeypatch.setattr(os, "replace", watched)
    build(tmp_path / "told.sqlite", folder, "demo")
    ((source, target),) = moves
    assert source.parent == target.parent
