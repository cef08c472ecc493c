"""Where a request's text comes from: words of the command line, standard input, or the lines of a file."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import AbstractContextManager, nullcontext
from typing import BinaryIO

from askplant.errors import FileError, UserError

STANDARD_INPUT = "-"
UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")
UTF8_MARK = b"\xef\xbb\xbf"


def text_of(words: Sequence[str], prog: str) -> str:
    """The request that bare words, one quoted argument or standard input hold."""
    text = decoded(standard_input().read()) if list(words) == [STANDARD_INPUT] else tidy(" ".join(words))
    if not text.strip():
        raise UserError(f"no request given: say what is wanted, or - for standard input (see {prog} --help)")
    return text.strip("\r\n")


def lines_of(name: str) -> Iterator[str]:
    """Each line of a file, or of standard input, without its line ending. A line may hold anything at all.

    The file is opened at once, so that one that cannot be read is said before anything else is done.
    """
    return _lines(opened(name))


def lines_alone(name: str, words: Sequence[str], prog: str) -> Iterator[str]:
    """`lines_of` a file named by an option; bare words of a request beside it are wrong use."""
    if words:
        raise UserError(f"either TEXT or --lines FILE, not both (see {prog} --help)")
    return lines_of(name)


def _lines(file: AbstractContextManager[BinaryIO]) -> Iterator[str]:
    with file as stream:
        first = stream.readline()
        if first.startswith(UTF16_MARKS):
            yield from decoded(first + stream.read()).removesuffix("\n").split("\n")
            return
        if first:
            yield _line(first.removeprefix(UTF8_MARK))
        for line in stream:
            yield _line(line)


def opened(name: str) -> AbstractContextManager[BinaryIO]:
    """A file to read bytes from; `-` is standard input."""
    if name == STANDARD_INPUT:
        return nullcontext(standard_input())
    try:
        return open(name, "rb")
    except OSError as problem:
        raise FileError(name, "", (problem.strerror or "trouble").lower(), "a file that can be read") from problem
    except ValueError as problem:
        raise FileError(repr(name), "", str(problem), "a file name") from problem


def standard_input() -> BinaryIO:
    """Standard input as bytes."""
    if sys.stdin is None:
        raise UserError("standard input is closed; expected a request on it")
    return sys.stdin.buffer


def decoded(raw: bytes) -> str:
    """Bytes as text: UTF-16 where a mark says so, else as `plainly_decoded`. Never fails."""
    if raw.startswith(UTF16_MARKS):
        return raw.decode("utf-16", "replace").replace("\r\n", "\n")
    return plainly_decoded(raw.removeprefix(UTF8_MARK))


def plainly_decoded(raw: bytes) -> str:
    """Bytes as UTF-8 where they hold it, else in the usual Windows encoding. Never fails."""
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError:
        return raw.decode("cp1252", "replace")


def tidy(text: str) -> str:
    """An argument as text that can be printed again: bytes that were no text in the caller's encoding are read anew."""
    if all(not "\ud800" <= sign <= "\udfff" for sign in text):
        return text
    return plainly_decoded(os.fsencode(text))


def _line(raw: bytes) -> str:
    return plainly_decoded(raw.removesuffix(b"\n").removesuffix(b"\r"))
