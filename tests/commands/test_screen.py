"""Widths, folding, colour and characters of the page."""

from __future__ import annotations

import io

import pytest

from askplant.render.screen import NARROWEST, PIPE_WIDTH, Screen, cells, clean, padded, screen_for


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        return True

    def fileno(self) -> int:
        raise OSError("no descriptor")


def test_lines_are_folded_not_cut() -> None:
    """Every word is still there, and no line is wider than the screen."""
    text = "hold it at 15 ft with one cut of about 2 ft each late winter"
    lines = Screen(24).fold(text, "  care  ", "        ")
    assert all(cells(line) <= 24 for line in lines)
    assert " ".join(" ".join(lines).split()) == f"care {text}"


def test_a_word_longer_than_the_line_is_broken() -> None:
    """An endless word takes as many lines as it needs."""
    lines = Screen(20).fold("x" * 45, "> ")
    assert [line.strip("> ") for line in lines] == ["x" * 18, "x" * 18, "x" * 9]


def test_wide_signs_never_overflow() -> None:
    """Signs of two columns are counted as two."""
    assert all(cells(line) <= 20 for line in Screen(20).fold("樹" * 33))


def test_the_first_line_keeps_its_mark_when_the_text_is_empty() -> None:
    """Nothing to say leaves the mark alone."""
    assert Screen(20).fold("", "1 ") == ["1"]


@pytest.mark.parametrize("columns, expected", [("40", 40), ("9999", 110), ("3", NARROWEST), ("junk", PIPE_WIDTH)])
def test_terminal_width(monkeypatch: pytest.MonkeyPatch, columns: str, expected: int) -> None:
    """COLUMNS is believed on a terminal, within bounds."""
    monkeypatch.setenv("COLUMNS", columns)
    assert screen_for(Terminal()).width == expected


def test_a_pipe_has_its_own_width(monkeypatch: pytest.MonkeyPatch) -> None:
    """The screen of whoever started a pipe does not fold what is piped; an option does."""
    monkeypatch.setenv("COLUMNS", "40")
    assert screen_for(io.StringIO()).width == PIPE_WIDTH
    assert screen_for(io.StringIO(), width=33).width == 33


@pytest.mark.parametrize(
    "option, variables, terminal, coloured",
    [
        ("auto", {"TERM": "xterm"}, True, True),
        ("auto", {"TERM": "xterm"}, False, False),
        ("auto", {"TERM": "dumb"}, True, False),
        ("auto", {"TERM": "xterm", "NO_COLOR": "1"}, True, False),
        ("auto", {"TERM": "xterm", "NO_COLOR": ""}, True, True),
        ("auto", {"FORCE_COLOR": "1"}, False, True),
        ("auto", {"FORCE_COLOR": "0"}, False, False),
        ("auto", {"FORCE_COLOR": "1", "NO_COLOR": "1"}, True, False),
        ("always", {"NO_COLOR": "1"}, False, True),
        ("never", {"FORCE_COLOR": "1"}, True, False),
    ],
)
def test_who_decides_about_colour(
    monkeypatch: pytest.MonkeyPatch, option: str, variables: dict[str, str], terminal: bool, coloured: bool
) -> None:
    """The option, then NO_COLOR, then FORCE_COLOR, then the terminal."""
    for name, value in variables.items():
        monkeypatch.setenv(name, value)
    stream = Terminal() if terminal else io.StringIO()
    assert screen_for(stream, option).colour is coloured  # type: ignore[arg-type]


def test_style_needs_colour() -> None:
    """Without colour there is no escape at all, bold neither."""
    assert Screen(80, False).styled("Fits", "bold") == "Fits"
    assert Screen(80, True).styled("Fits", "bold") == "\x1b[1mFits\x1b[0m"


def test_control_characters_are_shown_not_obeyed() -> None:
    """What was typed cannot steer the terminal."""
    assert clean("a\x1b[31mred\tb\u00a0c\u202e") == "a\ufffd[31mred b c\ufffd"


def test_columns_are_filled_by_what_is_seen() -> None:
    """A combining accent takes no column, a wide sign takes two."""
    assert padded("e\u0301", 3) == "e\u0301  "
    assert padded("樹", 3) == "樹 "
