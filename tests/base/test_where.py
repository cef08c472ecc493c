"""Where things stand: folders of the program, and the cache on each platform."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from askplant import where
from askplant.errors import FileError


@pytest.fixture(autouse=True)
def bare(monkeypatch: pytest.MonkeyPatch) -> None:
    """No variable of the developer's shell has a say."""
    for name in (where.CACHE_VARIABLE, "XDG_CACHE_HOME", "LOCALAPPDATA"):
        monkeypatch.delenv(name, raising=False)


def test_a_checkout_has_its_folders_beside_the_package() -> None:
    """Edits there are seen at once."""
    assert (where.folder("traits") / "traits.toml").is_file()
    assert where.folder("grammar").is_dir()


def test_an_installed_package_has_them_inside(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Inside comes first, though a folder of that name stands beside it."""
    package = tmp_path / "site-packages" / "askplant"
    (package / "_data" / "traits").mkdir(parents=True)
    (package.parent / "traits").mkdir()
    monkeypatch.setattr(where, "PACKAGE", package)
    assert where.folder("traits") == package / "_data" / "traits"
    (package.parent / "grammar").mkdir()
    with pytest.raises(FileError, match="grammar"):
        where.folder("grammar")


def test_the_variable_decides(monkeypatch: pytest.MonkeyPatch) -> None:
    """ASKPLANT_CACHE names the folder outright."""
    monkeypatch.setenv(where.CACHE_VARIABLE, "/demo/cache")
    assert where.cache_folder() == Path("/demo/cache")


@pytest.mark.parametrize(
    "platform, variables, expected",
    [
        ("linux", {"HOME": "/demo"}, "/demo/.cache/askplant"),
        ("linux", {"HOME": "/demo", "XDG_CACHE_HOME": "/demo/xdg"}, "/demo/xdg/askplant"),
        ("linux", {"HOME": "/demo", "XDG_CACHE_HOME": "relative"}, "/demo/.cache/askplant"),
        ("darwin", {"HOME": "/demo"}, "/demo/Library/Caches/askplant"),
        ("win32", {"HOME": "/demo", "LOCALAPPDATA": "/demo/local"}, "/demo/local/askplant/Cache"),
        ("win32", {"HOME": "/demo"}, "/demo/AppData/Local/askplant/Cache"),
    ],
)
def test_each_platform_has_its_place(
    platform: str, variables: dict[str, str], expected: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As the platform's own rules have it."""
    monkeypatch.setattr(sys, "platform", platform)
    for name, value in variables.items():
        monkeypatch.setenv(name, value)
    assert where.cache_folder() == Path(expected)


def test_nobody_without_a_home_still_has_a_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A user id without HOME and without an entry in the password file gets a temporary folder."""

    def homeless() -> Path:
        raise RuntimeError("Could not determine home directory.")

    monkeypatch.setattr(Path, "home", homeless)
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    assert where.cache_folder().is_relative_to(tmp_path)


def test_the_temporary_folder_is_ours_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Closed to others; one that somebody else could have laid out is left alone."""
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    own = where.temporary_folder()
    assert own == where.temporary_folder()
    assert own.stat().st_mode & 0o077 == 0
    os.chmod(own, 0o777)
    other = where.temporary_folder()
    assert other != own
    own.rmdir()
    own.symlink_to(tmp_path)
    assert where.temporary_folder() not in (own, tmp_path)
