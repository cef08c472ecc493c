"""Where requests come from: words, standard input, lines of any file."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from askplant.commands.requests import lines_of, text_of, tidy
from askplant.errors import FileError, UserError


class Input:
    """Standard input that holds these bytes."""

    def __init__(self, content: bytes) -> None:
        self.buffer = io.BytesIO(content)


def lines(folder: Path, content: bytes) -> list[str]:
    """The lines of a file with this content."""
    path = folder / "requests.txt"
    path.write_bytes(content)
    return list(lines_of(str(path)))


def test_bare_words_are_one_request() -> None:
    """Quotes around a request may be left out."""
    assert text_of(["narrow", "evergreen,", "zone 7"], "askplant ask") == "narrow evergreen, zone 7"


def test_standard_input_is_a_request(monkeypatch: pytest.MonkeyPatch) -> None:
    """A single dash reads the request from standard input."""
    monkeypatch.setattr("sys.stdin", Input(b"narrow evergreen\n"))
    assert text_of(["-"], "askplant ask") == "narrow evergreen"


@pytest.mark.parametrize("words", [[], [""], ["  "]])
def test_no_request_is_said(words: list[str]) -> None:
    """An empty request is wrong use."""
    with pytest.raises(UserError, match="no request given"):
        text_of(words, "askplant ask")


@pytest.mark.parametrize(
    "content, expected",
    [
        (b"", []),
        (b"\n", [""]),
        (b"one\ntwo", ["one", "two"]),
        (b"one\r\ntwo\r\n", ["one", "two"]),
        (b"\xef\xbb\xbfone\n", ["one"]),
        ("10–15 ft\n½\n".encode(), ["10–15 ft", "½"]),
        ("10–15 ft\n".encode("cp1252"), ["10–15 ft"]),
        ("zwölf\nein\n".encode("utf-16"), ["zwölf", "ein"]),
        (b"one\n\xff\xfe\x00\n\ntwo\n", ["one", "ÿþ\x00", "", "two"]),
        ("a\u2028b\x0bc\x85\n".encode(), ["a\u2028b\x0bc\x85"]),
    ],
)
def test_lines(tmp_path: Path, content: bytes, expected: list[str]) -> None:
    """One line is one request, in whatever encoding, whatever it holds."""
    assert lines(tmp_path, content) == expected


@given(st.lists(st.binary().filter(lambda raw: b"\n" not in raw), min_size=1))
def test_every_line_is_there(contents: list[bytes]) -> None:
    """As many requests come out as lines stand in the file, and each can be printed."""
    stream = io.BytesIO(b"#\n" + b"\n".join(contents) + b"\n")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("sys.stdin", Input(stream.getvalue()))
        found = list(lines_of("-"))
    assert len(found) == len(contents) + 1
    assert all(line.encode("utf-8") is not None for line in found)


@pytest.mark.parametrize("name", ["absent.txt", ".", "no\x00name"])
def test_files_that_cannot_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    """A file that is not there is named in one line."""
    monkeypatch.chdir(tmp_path)
    with pytest.raises(FileError):
        list(lines_of(name))


def test_bytes_that_are_no_text_can_be_printed() -> None:
    """Arguments in another encoding are read anew; others are left alone."""
    assert tidy("zw\udcf6lf") == "zwölf"
    assert tidy("zwölf") == "zwölf"
