"""What is answered already, kept beside OUT line by line, so that nothing is lost with the process that answers.

The first line says what the answers are for (a digest of the table, its columns, the base and the options); each further one is
the answer to the next row. A line that was torn off is forgotten.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Any, BinaryIO

from askplant.base import locks
from askplant.errors import UserError, WritingError

Json = dict[str, Any]
SUFFIX = ".journal"
BEGINS = b'{"askplant":"'
DIGITS = 70  # of a digest, with what ends its line
FAR = 1 << 40  # bytes into the file
EACH = 64  # rows between two waits for the disk


def path_of(out: str | Path) -> Path:
    """Where the journal of an output stands."""
    real = Path(os.path.realpath(out))
    return real.with_name(f"{real.name}{SUFFIX}")


class Journal:
    """The journal of one output, open for one writer.

    UserError where one of an earlier run is there and is not to be gone on with, or is of another table or other options, or
    somebody is writing it; WritingError where it cannot be written, with all that was written before kept.
    """

    def __init__(self, out: str | Path, digest: str, resume: bool) -> None:
        self.path, self.done = path_of(out), 0
        there = self.path.exists() and self.path.stat().st_size > 0
        try:
            self._stream: BinaryIO = open(self.path, "r+b" if self.path.exists() else "w+b")  # noqa: SIM115
        except OSError as problem:
            raise WritingError(f"{out}: {_said(problem)}; expected a folder that can be written") from problem
        try:
            self._begin(out, digest, resume, there)
        except BaseException as problem:
            with suppress(OSError):  # what could not be written is told already
                self._stream.close()
            if not there and isinstance(problem, WritingError):
                self.path.unlink(missing_ok=True)
            raise

    def _begin(self, out: str | Path, digest: str, resume: bool, there: bool) -> None:
        # Windows locks bytes and keeps everybody from reading them: one that no journal reaches.
        self._stream.seek(FAR)
        taken = locks.taken(self._stream)
        self._stream.seek(0)
        if not taken:
            raise UserError(f"{out}: another run is answering into it just now")
        if not there:
            self._write({"askplant": digest})
            return
        head, end, count = self._scan()
        if not head and not self._torn():
            raise UserError(
                f"{out}: {self.path.name} beside it is no journal of a batch; move it away, or name another OUT"
            )
        if head != digest and count:
            found = f"{self.path.name} holds {count} answered rows of another table, base or options"
            raise UserError(f"{out}: {found}; run as before with --resume, or delete it")
        if count and not resume:
            found = f"{self.path.name} holds {count} rows answered by a run that was stopped"
            raise UserError(f"{out}: {found}; go on with --resume, or delete it")
        self._stream.seek(end)
        self._stream.truncate()
        self.done = count
        if head != digest:
            self._stream.seek(0)
            self._stream.truncate()
            self._write({"askplant": digest})

    def _scan(self) -> tuple[str, int, int]:
        """The digest, where the last whole line ends, and how many answers stand before it."""
        self._stream.seek(0)
        head, end, count = "", 0, -1
        for line in self._stream:
            told = _whole(line)
            if told is None or (count >= 0 and told.get("n") != count):
                break
            head = str(told.get("askplant", "")) if count < 0 else head
            end += len(line)
            count += 1
        return head, end, max(count, 0)

    def _torn(self) -> bool:
        """Whether the file holds the beginning of a journal's first line, which was torn off."""
        self._stream.seek(0)
        begun = self._stream.read(len(BEGINS) + DIGITS)
        return b"\n" not in begun and begun[: len(BEGINS)] == BEGINS[: len(begun)]

    def add(self, answer: Json) -> None:
        """Keep the answer to the next row."""
        self._write(answer)
        self.done += 1
        if self.done % EACH == 0:
            self.settle()

    def _write(self, told: Json) -> None:
        try:
            self._stream.write(json.dumps(told, ensure_ascii=False, separators=(",", ":")).encode() + b"\n")
            self._stream.flush()
        except OSError as problem:
            raise WritingError(f"{self.path}: {_said(problem)}; {self.done} answered rows are kept") from problem

    def settle(self) -> None:
        """Wait until all of it is on the disk."""
        try:
            os.fsync(self._stream.fileno())
        except OSError as problem:
            raise WritingError(f"{self.path}: {_said(problem)}; {self.done} answered rows are kept") from problem

    def answers(self) -> Iterator[Json]:
        """Every answer, in order, read again from the file."""
        with self.path.open("rb") as stream:
            next(stream, None)
            for line in stream:
                told = _whole(line)
                if told is not None:
                    yield told

    def remove(self) -> None:
        """Delete it: OUT is whole."""
        self._stream.close()
        self.path.unlink(missing_ok=True)

    def __enter__(self) -> Journal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, found: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Let go of the file; one that holds no answer yet is of no use to anybody."""
        if self._stream.closed:
            return
        with suppress(OSError):  # what could not be written was told already
            self._stream.close()
        if not self.done:
            self.path.unlink(missing_ok=True)


def _whole(line: bytes) -> Json | None:
    if not line.endswith(b"\n"):
        return None
    try:
        told = json.loads(line)
    except (ValueError, RecursionError):
        return None
    return told if isinstance(told, dict) else None


def _said(problem: OSError) -> str:
    return (problem.strerror or "trouble").lower()
