"""Typed lines in a terminal, with history and completion. The only module that knows prompt_toolkit."""

from __future__ import annotations

import os
import sys
from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from prompt_toolkit import PromptSession
from prompt_toolkit.completion import CompleteEvent, Completer, Completion
from prompt_toolkit.document import Document
from prompt_toolkit.history import FileHistory, History, InMemoryHistory

MOST_SHOWN = 40  # completions offered at once
MOST_WORDS = 4  # words before the cursor that may be the start of one known phrase
MOST_KEPT = 2_000_000  # bytes of history above which the older half is dropped when a sitting starts
PROMPT = "? "


class NoTerminal(Exception):
    """The terminal cannot be steered (a Windows console behind another program): plain lines are all there is."""


def line_reader(phrases: Sequence[str], history: Path | None) -> Callable[[], str]:
    """A function that reads one line; it raises EOFError at Ctrl-D and KeyboardInterrupt at Ctrl-C."""
    try:
        session: PromptSession[str] = PromptSession(
            PROMPT, history=_history(history), completer=SortedCompleter(phrases), complete_while_typing=False
        )
    except (OSError, RuntimeError) as problem:
        raise NoTerminal(str(problem)) from problem
    return session.prompt


class SortedCompleter(Completer):
    """Completes the last words before the cursor from a sorted list, found by halving: the list may be long."""

    def __init__(self, phrases: Sequence[str]) -> None:
        known = sorted({phrase.casefold(): phrase for phrase in phrases}.items())
        self._folded = [folded for folded, _ in known]
        self._shown = [shown for _, shown in known]

    def get_completions(self, document: Document, complete_event: CompleteEvent) -> Iterator[Completion]:
        """Whatever begins with the longest stretch of last words that anything begins with."""
        for typed in last_words(document.text_before_cursor):
            found = self.beginning_with(typed)
            if found:
                yield from (Completion(phrase, start_position=-len(typed)) for phrase in found)
                return

    def beginning_with(self, typed: str) -> list[str]:
        """The first known phrases, in order, that begin with what was typed."""
        folded = typed.casefold()
        start = bisect_left(self._folded, folded)
        end = start
        while end < min(start + MOST_SHOWN, len(self._folded)) and self._folded[end].startswith(folded):
            end += 1
        return self._shown[start:end]


def last_words(text: str) -> Iterator[str]:
    """The last four words of the text, the last three, two, one; never beyond a comma."""
    stretch = text.replace(";", ",").rpartition(",")[2].lstrip()
    words = stretch.split(" ")
    for first in range(max(len(words) - MOST_WORDS, 0), len(words)):
        typed = " ".join(words[first:])
        if typed:
            yield typed


def _history(path: Path | None) -> History:
    """History in a file that only its owner reads; in memory where there is no such place, which is said."""
    if path is None:
        return InMemoryHistory()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        os.close(os.open(path, os.O_WRONLY | os.O_CREAT, 0o600))
        _shorten(path)
    except OSError as problem:
        print(f"askplant: history is not kept: {path}: {(problem.strerror or 'trouble').lower()}", file=sys.stderr)
        return InMemoryHistory()
    return FileHistory(str(path))


def _shorten(path: Path) -> None:
    """Drop the older half of a history grown too long; entries are parted by empty lines."""
    if path.stat().st_size <= MOST_KEPT:
        return
    kept = path.read_bytes()[-MOST_KEPT // 2 :].partition(b"\n\n")[2]
    unfinished = path.with_name(f"{path.name}.{os.getpid()}")
    with open(os.open(unfinished, os.O_WRONLY | os.O_CREAT, 0o600), "wb") as stream:
        stream.write(b"\n" + kept)
    os.replace(unfinished, path)
