"""What is installed is whole: the grammar and the traits go into the wheel, under the package's own folder."""

from __future__ import annotations

import importlib.util
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
LEFT_OUT = ("__pycache__", ".DS_Store")


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel built from this checkout; with the build tool at hand it needs no network."""
    folder = tmp_path_factory.mktemp("wheel")
    isolated = [] if importlib.util.find_spec("hatchling") is None else ["--no-build-isolation"]
    command = [
        sys.executable,
        "-m",
        "pip",
        "wheel",
        "-q",
        "--no-deps",
        *isolated,
        "--wheel-dir",
        str(folder),
        str(ROOT),
    ]
    subprocess.run(command, check=True, timeout=300)
    return next(folder.glob("askplant-*.whl"))


def files(folder: str) -> set[str]:
    """The files of a folder of the checkout, as paths below the checkout."""
    found = (path for path in (ROOT / folder).rglob("*") if path.is_file())
    return {path.relative_to(ROOT).as_posix() for path in found if not any(part in LEFT_OUT for part in path.parts)}


@pytest.mark.slow
def test_the_wheel_holds_program_grammar_and_traits(wheel: Path) -> None:
    """Every file of the three folders and nothing of the tests."""
    with zipfile.ZipFile(wheel) as archive:
        packed = {name for name in archive.namelist() if ".dist-info/" not in name}
        command = next(name for name in archive.namelist() if name.endswith("/entry_points.txt"))
        assert b"askplant = askplant.cli:main" in archive.read(command)
    data = {f"askplant/_data/{name}" for folder in ("grammar", "traits") for name in files(folder)}
    assert packed == files("askplant") | data


@pytest.mark.slow
def test_the_unpacked_wheel_answers_away_from_the_checkout(wheel: Path, tmp_path: Path) -> None:
    """Program and data from the wheel alone answer a request, with a base of their own."""
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(tmp_path / "site")
    surroundings = {**os.environ, "PYTHONPATH": str(tmp_path / "site"), "ASKPLANT_CACHE": str(tmp_path / "cache")}
    code = "import askplant, sys; print(askplant.__file__); from askplant.cli import main; sys.exit(main(['evergreen, zone 7']))"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, env=surroundings, capture_output=True, text=True, timeout=300
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith(str(tmp_path / "site"))
    assert "“evergreen”" in done.stdout
    assert list((tmp_path / "cache").glob("*.sqlite"))
