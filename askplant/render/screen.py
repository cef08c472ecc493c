"""The page that text is laid out on: how wide it is, whether it may carry colour, and how long lines are folded."""

from __future__ import annotations

import os
from typing import Literal, NamedTuple, TextIO

Color = Literal["auto", "always", "never"]

PIPE_WIDTH = 80  # columns where nobody's screen sets a width
NARROWEST = 20  # columns under which folding would leave no room for words
WIDEST = 110  # columns beyond which lines grow too long to read

_STYLES = {"bold": "1", "faint": "2", "warn": "33"}


class Screen(NamedTuple):
    """Width in columns, and whether escapes for colour and weight may be written."""

    width: int = PIPE_WIDTH
    colour: bool = False

    def styled(self, text: str, style: str) -> str:
        """The text in bold, faint or warn; as it is where colour is off. Nothing is said by style alone."""
        if not self.colour or not text.strip():
            return text
        return f"\x1b[{_STYLES[style]}m{text}\x1b[0m"

    def fold(self, text: str, first: str = "", rest: str | None = None) -> list[str]:
        """The text in lines no wider than the screen, `first` before the first line and `rest` before the others."""
        wide = cells(first)  # of the line so far
        rest = " " * wide if rest is None else rest
        indent = cells(rest)
        lines: list[str] = []
        line, between = first, ""
        for word in _pieces(text, max(self.width - indent, 1), max(self.width - wide, 1)):
            more = len(between) + cells(word)
            if not between or wide + more <= self.width:
                line += between + word
                wide += more
            else:
                lines.append(line)
                line, wide = rest + word, indent + cells(word)
            between = " "
        return [*lines, line.rstrip()]


def screen_for(stream: TextIO, color: Color = "auto", width: int | None = None) -> Screen:
    """What a stream can show: a terminal its own width and colours, anything else 80 columns and no escapes."""
    terminal = stream.isatty()
    return Screen(max(width or _width(stream, terminal), NARROWEST), _coloured(color, terminal))


def clean(text: str) -> str:
    """The text on one line, without characters that could steer a terminal."""
    spaced = "".join(" " if sign.isspace() else sign for sign in text)
    return "".join(sign if sign.isprintable() else "\N{REPLACEMENT CHARACTER}" for sign in spaced)


def cells(text: str) -> int:
    """How many columns the text takes on a terminal."""
    if text.isascii():
        return len(text)
    import unicodedata  # not wanted for the plain case

    wide = sum(unicodedata.east_asian_width(sign) in "WF" for sign in text)
    return len(text) + wide - sum(unicodedata.combining(sign) > 0 for sign in text)


def padded(text: str, columns: int) -> str:
    """The text followed by blanks up to so many columns."""
    return text + " " * (columns - cells(text))


def _width(stream: TextIO, terminal: bool) -> int:
    if not terminal:
        return PIPE_WIDTH
    told = os.environ.get("COLUMNS", "")
    if told.isdigit() and int(told) > 0:
        return min(int(told), WIDEST)
    try:
        return min(os.get_terminal_size(stream.fileno()).columns or PIPE_WIDTH, WIDEST)
    except OSError:
        return PIPE_WIDTH


def _coloured(color: Color, terminal: bool) -> bool:
    """The option first, then NO_COLOR, then what asks for colour by force, then whether the stream is a terminal."""
    if color != "auto":
        return color == "always"
    if os.environ.get("NO_COLOR"):
        return False
    forced = os.environ.get("FORCE_COLOR") or os.environ.get("CLICOLOR_FORCE")
    if forced and forced != "0":
        return True
    return terminal and os.environ.get("TERM", "") not in ("dumb", "unknown", "")


def _pieces(text: str, room: int, first_room: int) -> list[str]:
    """The words of a text, those too long for a line cut into pieces that fit."""
    pieces: list[str] = []
    for word in text.split():
        limit = room if pieces else min(room, first_room)
        while cells(word) > limit:
            cut = limit if word.isascii() else max(limit // 2, 1)  # signs that take two columns are never cut too late
            pieces.append(word[:cut])
            word = word[cut:]
        pieces.append(word)
    return pieces
