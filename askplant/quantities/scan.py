"""Text → numbers, words and marks with their places. The text is never rewritten; only values are normalised.

Requests and trait cards are scanned alike. The pattern has no nested repeats, so scanning is linear in the text.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from typing import NamedTuple

from askplant.folding import APOSTROPHES, DASHES, QUOTES, fold, stem

_APO = re.escape(APOSTROPHES)
_DASH = re.escape(DASHES)
_QUOTE = re.escape(QUOTES)
_FRACTIONS = "½¼¾⅓⅔⅛⅜⅝⅞"

_SCAN = re.compile(
    rf"(?P<num>\d{{1,3}}(?:,\d{{3}})+(?!\d)|\d+,\d{{1,2}}(?=\s?(?:m|cm)\b)|\d+(?:\.\d+)?|\.\d+)(?P<frac>[{_FRACTIONS}])?"
    rf"|(?P<half>[{_FRACTIONS}])"
    rf"|(?P<word>[^\W\d_]+(?:[{_APO}][^\W\d_]+)*)"
    rf"|(?P<dquote>[{_QUOTE}]|[{_APO}]{{2}})"
    rf"|(?P<quote>[{_APO}])"
    rf"|(?P<dash>[{_DASH}])"
    r"|(?P<mark>[^\s\w]|_)"
)
_VULGAR = re.compile(r"\s?(\d)/(\d{1,2})(?![\d/])")


class Lexeme(NamedTuple):
    """One number (`num`), word (`word`) or mark of a text.

    `joint` is true when no space stands before it. `key` is the folded singular of a word, the mark itself, or `#` for a number.
    """

    kind: str
    text: str
    start: int
    end: int
    key: str
    joint: bool
    value: float = 0.0


def lexemes(text: str) -> list[Lexeme]:
    """Every number, word and mark of a text, in order."""
    return list(_scan(text))


def _scan(text: str) -> Iterator[Lexeme]:
    position, last_end = 0, -1
    while match := _SCAN.search(text, position):
        start, position = match.span()
        kind = match.lastgroup or "mark"
        joint = start == last_end
        if kind in ("num", "frac", "half"):
            value, position = _number(match, text)
            yield Lexeme("num", text[start:position], start, position, "#", joint, value)
        elif kind == "word":
            # A lone accent or apostrophe folds to nothing: it stands for itself.
            yield Lexeme("word", match.group(), start, position, stem(match.group()) or match.group(), joint)
        else:
            yield Lexeme(kind, match.group(), start, position, _mark_key(kind, match.group()), joint)
        last_end = position


def _number(match: re.Match[str], text: str) -> tuple[float, int]:
    """The value of a number with a fraction after it (`5½`, `1 1/2`, `3/4`), and where it ends."""
    whole, end = match.group("num"), match.end()
    value = float(_decimal(whole)) if whole else 0.0
    sign = match.group("frac") or match.group("half")
    if sign:
        return value + unicodedata.numeric(sign), end
    if whole and whole.isdigit():
        bare = re.compile(r"/(\d{1,2})(?![\d/])").match(text, end)
        if (
            bare
            and len(whole) == 1
            and 0 < int(bare.group(1)) <= 16
            and value < int(bare.group(1))
            and int(bare.group(1)) in (2, 3, 4, 8, 16)
        ):
            return value / int(bare.group(1)), bare.end()
        vulgar = _VULGAR.match(text, end)
        if (
            vulgar
            and text[end : end + 1].isspace()
            and int(vulgar.group(2)) > 0
            and int(vulgar.group(1)) < int(vulgar.group(2))
        ):
            return value + int(vulgar.group(1)) / int(vulgar.group(2)), vulgar.end()
    return value, end


def _decimal(number: str) -> str:
    head, comma, tail = number.partition(",")
    if comma and len(tail) <= 2:
        return f"{head}.{tail}"
    return number.replace(",", "")


def _mark_key(kind: str, mark: str) -> str:
    return {"dquote": '"', "quote": "'", "dash": "-"}.get(kind, fold(mark))
