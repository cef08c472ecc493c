"""A sitting on the disk: a journal of what happened, one JSON object a line, each on the disk before the next is taken.

A killed program leaves a journal whose last line may be torn: it is read up to there. Readings are written out whole, so that
a sitting opens as it was, whatever became of the vocabulary since. Nothing leaves the folder, which only its owner reads.
"""

from __future__ import annotations

import json
import os
import re
import time
from collections.abc import Iterator
from pathlib import Path
from types import UnionType
from typing import Any, Literal, NamedTuple, get_args, get_origin, get_type_hints

from askplant.base.locks import taken
from askplant.errors import UserError, WritingError
from askplant.reading.reading import Condition, Reading
from askplant.sitting.state import Kept, Past, Shortlist, State

FOLDER = "sittings"
SUFFIX = ".jsonl"
# A sitting without a reference is kept under the time it began; so many of them are.
UNNAMED = "unnamed-"
MOST_UNNAMED = 20
REFERENCE = re.compile(r"[^\W_][\w.-]{0,39}")

Json = dict[str, Any]


class Opened(NamedTuple):
    """A sitting as it was left."""

    past: Past
    shortlist: Shortlist


class Journal:
    """The journal of one sitting; the file is made with the first entry, and locked as long as the sitting lasts.

    `folder` None keeps nothing. WritingError where an entry cannot be written.
    """

    def __init__(self, folder: Path | None, name: str | None = None) -> None:
        self.folder, self.name = folder, name or f"{UNNAMED}{time.strftime('%Y%m%d-%H%M%S')}-{os.getpid()}"
        self._file: Any = None

    @property
    def path(self) -> Path | None:
        """Where the entries go; None where nothing is kept."""
        return self.folder / f"{self.name}{SUFFIX}" if self.folder is not None else None

    @property
    def reference(self) -> str | None:
        """The caller's reference the sitting is kept under; None before it has one."""
        return None if self.name.startswith(UNNAMED) else self.name

    def add(self, happened: str, **told: Any) -> None:
        """Put one entry on the disk."""
        path = self.path
        if path is None:
            return
        entry = {"at": time.strftime("%Y-%m-%dT%H:%M:%S"), "happened": happened, **told}
        try:
            self._open(path)
            self._file.write(json.dumps(entry, ensure_ascii=False, separators=(",", ":")).encode() + b"\n")
            self._file.flush()
            os.fsync(self._file.fileno())
        except OSError as problem:
            raise WritingError(f"{path}: the sitting is not kept: {(problem.strerror or 'trouble').lower()}") from None

    def rename(self, reference: str) -> None:
        """Keep the sitting under a reference from now on; UserError where another sitting has it."""
        if self.folder is None:
            raise UserError("this sitting is kept nowhere: begin it with --open REF (ASKPLANT_STATE names another folder)")
        if not REFERENCE.fullmatch(reference) or reference.startswith(UNNAMED):
            raise UserError(f"found reference `{reference}`; expected letters, digits, - . _ in one word of at most 40")
        target = self.folder / f"{reference}{SUFFIX}"
        if target.exists() and reference != self.name:
            raise UserError(
                f"there is a sitting {reference} already: open {reference} goes on with it, or save under another"
            )
        before, self.name = self.path, reference
        self.close()
        try:
            if before is not None and before.exists():
                os.replace(before, target)
        except OSError as problem:
            raise WritingError(f"{target}: {(problem.strerror or 'trouble').lower()}") from None
        self.add("saved", reference=reference)

    def close(self) -> None:
        """Let go of the file, which stays."""
        if self._file is not None:
            self._file.close()
            self._file = None

    def __del__(self) -> None:
        self.close()

    def _open(self, path: Path) -> None:
        if self._file is not None:
            return
        for folder in (path.parent.parent, path.parent):  # `mode` counts for the last of the folders that are made alone
            folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        whole = not path.exists() or path.read_bytes()[-1:] in (b"\n", b"")
        self._file = open(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600), "ab", buffering=0)  # noqa: SIM115
        if not taken(self._file):
            self.close()
            raise UserError(f"the sitting {self.name} is open elsewhere")
        if not whole:  # a line that was torn when the program was killed ends here
            self._file.write(b"\n")


def state_told(state: State) -> Json:
    """A state as an entry tells it."""
    return {
        "line": state.line,
        "reading": _plain(state.reading),
        "off": [number for number, found in enumerate(state.reading.conditions) if found in state.off],
    }


def opened(path: Path) -> Opened:
    """The sitting that a journal tells, up to where it is whole; UserError where there is none."""
    past, shortlist = Past(), Shortlist()
    try:
        lines = path.read_bytes().splitlines()
    except OSError:
        raise UserError(f"there is no sitting {path.name.removesuffix(SUFFIX)}") from None
    for entry in _entries(lines):
        happened = entry.get("happened")
        try:
            if happened == "state":
                past = past.then(_state(entry))
            elif happened == "undo":
                past = past.undone()
            elif happened == "redo":
                past = past.redone()
            elif happened == "shortlist":
                shortlist = Shortlist(tuple(Kept(str(plant), str(note)) for plant, note in entry["plants"]))
        except (LookupError, TypeError, ValueError, AttributeError):
            continue  # an entry of another version of the program says nothing, and costs only itself
    return Opened(past, shortlist)


def references(folder: Path | None) -> list[tuple[str, float]]:
    """The references there are sittings of, and when each was last worked at, newest first; the unnamed by their files."""
    if folder is None or not folder.is_dir():
        return []
    found = [(path.name.removesuffix(SUFFIX), path.stat().st_mtime) for path in folder.glob(f"*{SUFFIX}")]
    return sorted(found, key=lambda one: -one[1])


def left_open(folder: Path | None) -> str | None:
    """The newest unnamed sitting that no running program holds; older ones beyond a few are removed."""
    unnamed = [name for name, _ in references(folder) if name.startswith(UNNAMED)]
    free = [name for name in unnamed if folder is not None and _is_free(folder / f"{name}{SUFFIX}")]
    for name in free[MOST_UNNAMED:]:
        assert folder is not None
        (folder / f"{name}{SUFFIX}").unlink(missing_ok=True)
    return free[0] if free else None


def _is_free(path: Path) -> bool:
    try:
        with path.open("ab") as stream:
            return taken(stream)
    except OSError:
        return False


def _entries(lines: list[bytes]) -> Iterator[Json]:
    for line in lines:
        try:
            entry = json.loads(line)
        except (ValueError, RecursionError):
            continue
        if isinstance(entry, dict):
            yield entry


def _state(entry: Json) -> State:
    reading: Reading = _made(Reading, entry["reading"])
    off: frozenset[Condition] = frozenset(reading.conditions[number] for number in entry["off"])
    return State(reading, off, str(entry["line"]))


def _plain(value: Any) -> Any:
    """Frozen values as JSON: classes by their fields that are not as they are by themselves, tuples as lists."""
    if hasattr(value, "_asdict"):
        return {name: _plain(one) for name, one in value._asdict().items() if one not in (None, ())}
    return [_plain(one) for one in value] if isinstance(value, tuple) else value


def _first_of(kinds: list[Any], told: Any) -> Any:
    """Made by the first of some types that it is of."""
    for kind in kinds[:-1]:
        try:
            return _made(kind, told)
        except (LookupError, TypeError, ValueError, AttributeError):
            continue
    return _made(kinds[-1], told)


def _made(kind: Any, told: Any) -> Any:
    """What `_plain` told, made again by the declared types; fields that are not told are as they are by themselves.

    LookupError, TypeError, ValueError or AttributeError for what is not of those types.
    """
    origin = get_origin(kind)
    if origin is UnionType:
        if told is None and type(None) in get_args(kind):
            return None
        return _first_of([one for one in get_args(kind) if one is not type(None)], told)
    if origin is tuple:
        inner = get_args(kind)
        kinds = inner[:1] * len(told) if inner[-1] is Ellipsis else inner
        return tuple(_made(one, part) for one, part in zip(kinds, told, strict=True))
    if hasattr(kind, "_fields"):
        hints = get_type_hints(kind)
        return kind(**{name: _made(hints[name], one) for name, one in told.items() if name in hints})
    if origin is Literal:
        return get_args(kind)[get_args(kind).index(told)]
    if not isinstance(told, (int, float) if kind is float else kind):
        raise TypeError(f"{told!r} is no {kind}")
    return told
