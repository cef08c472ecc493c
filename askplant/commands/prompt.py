"""Typed lines in a terminal, with history, completion and what the line comes to below it. Only here is prompt_toolkit known."""

from __future__ import annotations

import os
import sys
from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from prompt_toolkit import PromptSession
from prompt_toolkit.application import Application
from prompt_toolkit.completion import CompleteEvent, Completer, Completion
from prompt_toolkit.document import Document
from prompt_toolkit.filters import to_filter
from prompt_toolkit.formatted_text import StyleAndTextTuples
from prompt_toolkit.history import FileHistory, History, InMemoryHistory
from prompt_toolkit.output import ColorDepth
from prompt_toolkit.styles import Style

from askplant.render.glanced import Line

MOST_SHOWN = 40  # completions offered at once
MOST_WORDS = 4  # words before the cursor that may be the start of one known phrase
MOST_KEPT = 2_000_000  # bytes of history above which the older half is dropped when a sitting starts
PROMPT = "? "
# Weight and underlining, never colour alone; the marks of render/glanced.py say the same without either.
STYLES = {"read": "bold", "mended": "bold underline", "unread": "reverse", "named": "underline", "": ""}

Typed = Callable[[str], None]
Below = Callable[[], Sequence[Line]]


class NoTerminal(Exception):
    """The terminal cannot be steered (a Windows console behind another program): plain lines are all there is."""


class LineReader:
    """Reads one line after another; EOFError at Ctrl-D on an empty line, KeyboardInterrupt at Ctrl-C.

    `typed` is told the text with every key, and must return at once; `below` gives the lines that stand below the line.
    """

    def __init__(
        self, phrases: Sequence[str], history: Path | None, typed: Typed | None = None, below: Below | None = None
    ) -> None:
        self._below = below
        try:
            self._session: PromptSession[str] = PromptSession(
                PROMPT,
                history=_history(history),
                completer=SortedCompleter(phrases),
                complete_while_typing=False,
                enable_history_search=True,
                bottom_toolbar=self._toolbar if below is not None else None,
                style=Style.from_dict({"bottom-toolbar": "noreverse", "hint": "italic"}),
                color_depth=ColorDepth.DEPTH_1_BIT if os.environ.get("NO_COLOR") else None,
                reserve_space_for_menu=5,
            )
        except (OSError, RuntimeError) as problem:
            raise NoTerminal(str(problem)) from problem
        # What stands below the line stands right below it, not at the foot of an empty screen.
        self._session.layout.current_window.dont_extend_height = to_filter(below is not None)
        if typed is not None:
            self._session.default_buffer.on_text_changed += lambda buffer: typed(buffer.text)

    def __call__(self) -> str:
        return self._session.prompt()

    @property
    def application(self) -> Application[str]:
        """The application that draws, to be told that something is new below the line."""
        return self._session.app

    def redraw(self) -> None:
        """Draw what is new below the line; may be called from any thread."""
        self._session.app.invalidate()

    def _toolbar(self) -> StyleAndTextTuples:
        """Only formats what is there: it is called at every redraw."""
        out: StyleAndTextTuples = []
        for line in self._below() if self._below is not None else ():
            if out:
                out.append(("", "\n"))
            out += [(STYLES.get(style, style), text) for style, text in line]
        return out


def line_reader(phrases: Sequence[str], history: Path | None) -> Callable[[], str]:
    """A function that reads one line, with nothing below it."""
    return LineReader(phrases, history)


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
