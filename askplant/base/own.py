"""Writing into the folder of the user's own plants: one writer at a time, and each file whole or as it was."""

from __future__ import annotations

import csv
import io
from collections.abc import Container, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from askplant import where, writing
from askplant.base import locks, observations
from askplant.errors import FileError, UserError, WritingError

# How long another writer is waited for (s).
WAIT = 10.0

_LOCK = ".writing.lock"
_NEW = ",".join((*observations.COLUMNS, observations.NOTE, observations.DATE)) + "\n"


def folder() -> Path:
    """The folder to write to, which need not exist; UserError for a user without a home."""
    found = where.own_folder()
    if found is None:
        raise UserError(f"no home folder: name a folder for your own plants in {where.OWN_VARIABLE}")
    return found


def add_observation(own: Path, cells: Mapping[str, str], spare: Container[str] = ()) -> tuple[Path, int]:
    """Append one row to the observations of a folder; the file, and the line it stands in.

    `cells` are by column; those of `spare` may be lost where the file has no such column. FileError for a file of another
    form, WritingError where it cannot be written.
    """
    path = own / observations.NAME
    with _alone(own):
        before = path.read_bytes() if path.exists() else _NEW.encode()
        row = _row(before, cells, spare, str(path))
        data = before if before.endswith(b"\n") else before + _ending(before).encode()
        writing.write_all({path: data + row})
        return path, data.count(b"\n") + 1


def add_cards(own: Path, texts: Mapping[str, str]) -> list[Path]:
    """Write card files by their names, behind what they hold already; all of them or none."""
    plants = own / "plants"
    with _alone(own):
        plants.mkdir(exist_ok=True)
        contents = {plants / name: _before(plants / name) + text.encode() for name, text in texts.items()}
        writing.write_all(contents)
    return list(contents)


@contextmanager
def _alone(own: Path) -> Iterator[None]:
    """Holds off other writers of the folder, which is made if need be."""
    try:
        own.mkdir(parents=True, exist_ok=True)
        with locks.held(own / _LOCK, WAIT, lambda: None) as got:
            if not got:
                raise WritingError(f"{own}: somebody else is writing there; nothing was changed")
            yield
    except OSError as problem:
        told = (problem.strerror or "trouble").lower()
        raise WritingError(f"{own}: cannot be written ({told}); nothing was changed") from problem


def _before(path: Path) -> bytes:
    """What a card file holds, with a blank line behind it."""
    held = path.read_bytes() if path.exists() else b""
    if not held or held.endswith(b"\n\n"):
        return held
    return held + (b"\n" if held.endswith(b"\n") else b"\n\n")


def _row(before: bytes, cells: Mapping[str, str], spare: Container[str], label: str) -> bytes:
    """The cells as a row of a file with these contents."""
    columns = _columns(before, label)
    lost = [column for column, cell in cells.items() if cell and column not in columns and column not in spare]
    if lost:
        raise FileError(label, "1", f"no column {lost[0]}", f"{lost[0]} among the columns of the first line")
    line = io.StringIO()
    csv.writer(line, lineterminator=_ending(before)).writerow([cells.get(column, "") for column in columns])
    return line.getvalue().encode()


def _columns(before: bytes, label: str) -> list[str]:
    first = before.split(b"\n", 1)[0].decode("utf-8-sig", "replace").strip()
    columns = next(csv.reader([first]), [])
    if not set(observations.COLUMNS) <= set(columns):
        raise FileError(label, "1", f"columns {first}", _NEW.strip())
    return columns


def _ending(before: bytes) -> str:
    return "\r\n" if before.split(b"\n", 1)[0].endswith(b"\r") else "\n"
