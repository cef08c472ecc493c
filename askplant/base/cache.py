"""The base for the present content of traits/, grammar/ and the user's own folder: found in the cache, or built there.

A base is named by a digest of everything that shapes it. So that a normal start need not read all those files, the
digest is remembered together with their names, sizes and times of change.
"""

from __future__ import annotations

import os
import sqlite3
import sys
import time
from binascii import crc32
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import NamedTuple

from askplant import __version__, where
from askplant.base import locks
from askplant.base.opened import FORMAT, Base
from askplant.errors import BaseError, FileError

Progress = Callable[[str], None]

# A file changed this short a time before it is looked at may change again without its time of change telling (s).
UNSETTLED = 2.0
# A build that takes longer than this says what it does (s).
PATIENCE = 1.0
# How long another builder is waited for before this one builds beside it (s).
WAIT = 120.0
# How many bases are kept, the newest of them, for going back and forth between contents.
KEPT = 4
# A half-written file this old was left by a builder that was stopped (s).
ABANDONED = 3600.0

_PREFIX, _SUFFIX = "base-", ".sqlite"
_LOCK = "building.lock"
# The parts of the program that a base's content depends on.
_SHAPED_BY = ("base", "quantities", "folding.py", "grammars.py", "parsing.py")


def ready(
    base_path: Path | None = None,
    progress: Progress | None = None,
    *,
    traits: Path | None = None,
    own: Path | None = None,
    cache: Path | None = None,
) -> Path:
    """The file of the base to ask: `base_path` as it stands, or the one for the present traits/, built if need be.

    BaseError names a `base_path` that is missing or damaged; CardFaults says what is wrong with traits/ or the user's
    own folder, FileError what of them cannot be read. `traits`, `own` and `cache` stand in for the installed folder and
    for the user's two. `progress` gets a line before each step of a build; without it they go to standard error once
    the build has taken a second.
    """
    if base_path is not None:
        _named(base_path)
        return base_path
    folders = _Folders(traits or where.folder("traits"), where.folder("grammar"), own or where.own_to_read())
    memo = _Memo(cache or where.cache_folder(), folders)
    try:
        signature = _signature(folders)
        digest = memo.digest(signature) or _digest(folders)
    except OSError as problem:
        told = (problem.strerror or "unreadable").lower()
        raise FileError(str(problem.filename), "", told, "a file or folder that can be read") from None
    found = memo.folder / _name(digest)
    if not _usable(found, memo, signature, digest):
        if not _writable(memo.folder):
            memo = _Memo(_instead_of(memo.folder), folders)
            found = memo.folder / _name(digest)
        if not _usable(found, memo, signature, digest):
            _build(found, folders, digest, progress)
    memo.remember(signature, digest, found)
    return found


def _named(path: Path) -> None:
    """BaseError for a base that somebody names and that is not as it was built."""
    base = Base.open(path)
    try:
        if not base.is_sound():
            raise BaseError(f"{path}: damaged (its bytes are not those that were built); build it anew")
    finally:
        base.close()


def _name(digest: str) -> str:
    return f"{_PREFIX}{digest[:32]}{_SUFFIX}"


# ---- what the base is made from


class _Folders(NamedTuple):
    """Where the content of a base comes from; `own` need not exist."""

    traits: Path
    grammar: Path
    own: Path | None

    def places(self) -> Iterator[tuple[str, Path, str]]:
        """Every place that shapes a base: a word for its folder, the folder, and the file or folder in it."""
        yield "traits", self.traits, ""
        yield "grammar", self.grammar, ""
        yield from (("program", where.PACKAGE, part) for part in _SHAPED_BY)
        if self.own is not None:
            yield from (("own", self.own, part) for part in where.OWN_PARTS)


def _files(folders: _Folders) -> Iterator[tuple[str, str, os.stat_result]]:
    """Every file that shapes a base: what it is called wherever the folders stand, its path, and its state."""
    for word, folder, part in folders.places():
        for path, state in _walk(str(folder / part)):
            yield word + path[len(str(folder)) :], path, state


def _walk(place: str) -> Iterator[tuple[str, os.stat_result]]:
    try:
        with os.scandir(place) as entries:
            listed = sorted(entries, key=lambda entry: entry.name)
    except NotADirectoryError:
        yield place, os.stat(place)
        return
    except FileNotFoundError:
        return
    for entry in listed:
        if entry.name.startswith((".", "__pycache__")) or entry.name.endswith("~"):
            continue  # what editors and Python leave lying about
        if entry.is_dir():
            yield from _walk(entry.path)
        else:
            yield entry.path, entry.stat()


def _signature(folders: _Folders) -> str:
    """Names, sizes and times of the files, as one text; empty while one of them has only just changed."""
    parts = [f"{FORMAT} {__version__} {folders.traits} {folders.own}"]
    newest = 0.0
    for _, path, state in _files(folders):
        parts.append(f"{path} {state.st_size} {state.st_mtime_ns} {state.st_ctime_ns} {state.st_ino}")
        newest = max(newest, state.st_mtime, state.st_ctime)
    settled = abs(time.time() - newest) > UNSETTLED
    return "\n".join(parts) if settled else ""


def _digest(folders: _Folders) -> str:
    """The content of the files, hashed; the same wherever the folders stand."""
    from hashlib import sha256  # not needed on a normal start, and slow to load

    hashed = sha256(f"{FORMAT} {__version__}".encode())
    for name, path, _ in _files(folders):
        data = Path(path).read_bytes()
        hashed.update(f"{name} {len(data)}\n".encode(errors="surrogateescape") + data)
    return hashed.hexdigest()


# ---- what is remembered from start to start


class _Memo:
    """What was last seen of the same folders: the state of their base when found sound, the digest, the signature."""

    def __init__(self, folder: Path, folders: _Folders) -> None:
        self.folder = folder
        named = f"{folders.traits} {folders.own}".encode(errors="surrogateescape")
        self._path = folder / f"seen-{crc32(named):08x}"
        self._state = self._digest = self._signature = ""
        with suppress(OSError, ValueError):  # missing, unreadable or cut short: nothing is remembered
            self._state, self._digest, self._signature = self._path.read_text("utf-8", "surrogateescape").split("\n", 2)

    def digest(self, signature: str) -> str:
        """The digest that belongs to a signature, empty if it is not the one last seen."""
        return self._digest if signature and signature == self._signature else ""

    def trusts(self, signature: str, base: Path) -> bool:
        """Whether the base is untouched since it was found sound."""
        return bool(self.digest(signature)) and bool(self._state) and self._state == _state(base)

    def remember(self, signature: str, digest: str, base: Path) -> None:
        """Keep what was seen; a folder that cannot be written costs time at the next start, nothing else."""
        seen = (_state(base), digest, signature)
        if not signature or seen == (self._state, self._digest, self._signature):
            return
        new = self._path.with_name(f".{self._path.name}.{os.getpid()}")
        with suppress(OSError):
            new.write_text("\n".join(seen), "utf-8", "surrogateescape")
            os.replace(new, self._path)


def _state(path: Path) -> str:
    try:
        state = path.stat()
    except OSError:
        return ""
    return f"{path.name} {state.st_size} {state.st_mtime_ns} {state.st_ctime_ns} {state.st_ino}"


def _usable(found: Path, memo: _Memo, signature: str, digest: str) -> bool:
    return memo.trusts(signature, found) or _sound(found, digest)


def _sound(path: Path, digest: str) -> bool:
    """Whether the file is a whole base of this digest; looks at every page of it."""
    try:
        base = Base.open(path)
    except BaseError:
        return False
    try:
        return base.digest == digest and base.is_sound()
    finally:
        base.close()


# ---- building


def _writable(folder: Path) -> bool:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:
        return False
    return os.access(folder, os.W_OK | os.X_OK)


def _instead_of(folder: Path) -> Path:
    instead = where.temporary_folder()
    print(f"askplant: {folder} cannot be written; the base goes to {instead}", file=sys.stderr)
    return instead


def _build(found: Path, folders: _Folders, digest: str, progress: Progress | None) -> None:
    patient = _Patient(progress)
    try:
        with _alone(found.parent, patient):
            if not _sound(found, digest):  # another builder may have been faster
                from askplant.base.build import build

                build(found, folders.traits, digest, patient, folders.own)
                _tidy(found)
    except (OSError, sqlite3.Error) as problem:
        raise BaseError(f"{found}: cannot be built ({problem})") from None
    finally:
        patient.done()


class _Patient:
    """Passes progress on: at once to whoever asked for it, else to standard error when the build has taken a while."""

    def __init__(self, asked: Progress | None) -> None:
        from threading import Timer

        self._asked, self._line, self._speaks = asked, "starting", False
        self._timer = Timer(PATIENCE, self._speak)
        self._timer.daemon = True
        if asked is None:
            self._timer.start()

    def __call__(self, line: str) -> None:
        said, self._line = self._line, line
        if line == said:
            return  # a wait is told once, not each time it is found to go on
        if self._asked:
            self._asked(line)
        elif self._speaks:
            self._print()

    def done(self) -> None:
        self._timer.cancel()

    def _speak(self) -> None:
        self._speaks = True
        if self._line:
            self._print()

    def _print(self) -> None:
        print(f"askplant: building the base, once after each change: {self._line} …", file=sys.stderr)


@contextmanager
def _alone(folder: Path, tell: Progress) -> Iterator[None]:
    """Holds off other builders of the folder."""
    with locks.held(folder / _LOCK, WAIT, lambda: tell("waiting for another askplant that is building")):
        # Past that time both build: each swaps in a whole base of the same content.
        yield


def _tidy(newest: Path) -> None:
    """Remove bases of contents long gone, and what stopped builders left."""
    with suppress(OSError):
        built = sorted(newest.parent.glob(f"{_PREFIX}*{_SUFFIX}"), key=lambda path: path.stat().st_mtime, reverse=True)
        halves = [
            path for path in newest.parent.glob(f".{_PREFIX}*.new") if path.stat().st_mtime < time.time() - ABANDONED
        ]
        for path in [*(path for path in built[KEPT:] if path != newest), *halves]:
            path.unlink()
