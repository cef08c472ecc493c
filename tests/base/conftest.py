"""A small traits folder of its own for each test: three hollies, two arborvitae and invented sources."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from askplant import where
from askplant.base import build as build_module
from askplant.base.opened import Base

HERE = Path(__file__).parent
FAULTY = HERE / "faulty"


def lay_out(place: Path) -> Path:
    """The fixture folder with the program's own dictionary, copied below `place`."""
    folder = place / "traits"
    shutil.copytree(HERE / "folder", folder)
    for name in ("traits.toml", "conditions.toml"):
        shutil.copy(where.folder("traits") / name, folder / name)
    return folder


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A traits folder that holds no fault."""
    return lay_out(tmp_path)


@pytest.fixture
def write(folder: Path) -> Callable[[str, str | bytes], Path]:
    """Puts a text or bytes into a file of the folder."""

    def put(name: str, content: str | bytes) -> Path:
        path = folder / name
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        return path

    return put


@pytest.fixture
def built(folder: Path, tmp_path: Path) -> Path:
    """The folder's base."""
    path = tmp_path / "built.sqlite"
    build_module.build(path, folder, "demo")
    return path


@pytest.fixture
def base(built: Path) -> Base:
    """The folder's base, opened."""
    return Base.open(built)
