"""One built base for all faults, copied, never built again, and the command run as a process of its own."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest

from askplant.base import cache

REQUEST = "evergreen shrub, 5-8 ft, zone 7, deer-proof, part shade"
NOBODY = 65534
ROOT = Path(__file__).parent.parent.parent

Run = Callable[..., "subprocess.CompletedProcess[str]"]


@pytest.fixture(scope="session")
def kept() -> Path:
    """The base of the trait files; whoever needs to spoil it copies it."""
    return cache.ready()


@pytest.fixture
def copied(kept: Path, tmp_path: Path) -> Path:
    """A copy of the base that may be spoilt."""
    return Path(shutil.copy(kept, tmp_path / "base.sqlite"))


@pytest.fixture
def surroundings(tmp_path: Path) -> dict[str, str]:
    """The variables of a user with folders of their own, none of which exists yet; the cache is that of these tests."""
    own = {name: str(tmp_path / name.lower()) for name in ("ASKPLANT_OWN", "ASKPLANT_STATE", "TMPDIR")}
    os.mkdir(own["TMPDIR"])
    dropped = ("LC_ALL", "NO_COLOR", "FORCE_COLOR", "COLUMNS", "ASKPLANT_TRACE", "ASKPLANT_LOG", "PYTHONIOENCODING")
    others = {name: value for name, value in os.environ.items() if name not in dropped}
    return others | own | {"PYTHONPATH": str(ROOT)}


@pytest.fixture
def run(surroundings: Mapping[str, str], tmp_path: Path) -> Run:
    """Runs the command; `also` adds variables and takes away those that are None, further words are for `subprocess.run`."""

    def runs(
        *arguments: str,
        also: Mapping[str, str | None] | None = None,
        before: Sequence[str] = (),
        **more: Any,
    ) -> subprocess.CompletedProcess[str]:
        changed = dict(surroundings) | dict(also or {})
        named = {name: value for name, value in changed.items() if value is not None}
        command = [*before, sys.executable, "-m", "askplant", *arguments]
        known = {"capture_output": True, "encoding": "utf-8", "errors": "replace", "timeout": 120, "cwd": tmp_path}
        return subprocess.run(command, env=named, check=False, **(known | more))

    return runs


def one_line(done: subprocess.CompletedProcess[str], status: int, said: str = "") -> str:
    """The one line of trouble that a run ended with, and that it ended with that status; `said` is a pattern of it."""
    lines = done.stderr.splitlines()
    assert done.returncode == status, done.stderr
    assert len(lines) == 1, done.stderr
    assert lines[0].startswith("askplant: ")
    assert "inside the program" not in lines[0]
    assert re.search(said, lines[0]), lines[0]
    return lines[0]


def small(size: str, place: Path) -> bool:
    """Mount a file system of that size; False where that is not allowed."""
    if os.name == "nt" or os.geteuid() != 0 or shutil.which("mount") is None:
        return False
    place.mkdir()
    made = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", f"size={size}", "none", place], capture_output=True, check=False
    )
    return made.returncode == 0
