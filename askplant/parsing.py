"""The one door to Lark: grammars built, packed into the base, and the longest phrase parsed from hand-fed tokens."""

from __future__ import annotations

import marshal
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, cast

import lark
from lark import Lark
from lark import Tree as Tree
from lark.exceptions import UnexpectedToken
from lark.grammar import Rule
from lark.lexer import TerminalDef

END = "$END"

# What a packed grammar depends on beside its text.
PACKED_FOR = f"lark {lark.__version__} python {sys.version_info.major}.{sys.version_info.minor}"


class Token(lark.Token):
    """A typed token with its place in the text and what the vocabulary says of it."""

    __slots__ = ("end", "meaning", "start")

    meaning: dict[str, Any]
    start: int
    end: int

    def __new__(cls, kind: str, text: str, start: int, end: int, meaning: dict[str, Any] | None = None) -> Token:
        made = cast(Token, super().__new__(cls, kind, text, start, 1, start, 1, end, end))
        made.meaning = meaning or {}
        made.start, made.end = start, end
        return made


Parsed = Tree[Token]


def built(path: Path, starts: Sequence[str], *, strict: bool = False) -> Lark:
    """A grammar file as an LALR parser fed by hand; `strict` makes every conflict an error (needs interegular)."""
    return Lark(path.read_text(encoding="utf-8"), parser="lalr", lexer="basic", start=list(starts), strict=strict)


def packed(parser: Lark) -> bytes:
    """The parser's tables as bytes that hold no code."""
    data, memo = parser.memo_serialize([TerminalDef, Rule])
    return marshal.dumps({"data": data, "memo": memo})


def unpacked(blob: bytes) -> Lark:
    """A parser from what `packed` gave."""
    return Lark.load(marshal.loads(blob))


def longest(parser: Lark, start: str, tokens: Sequence[Token]) -> tuple[Parsed | None, int]:
    """The tree of the longest run from the first token that is a whole phrase, and how many tokens it takes.

    Without a tree, the number of tokens that were taken in before it failed: no phrase begins before the one it failed at.
    """
    feed: Any = parser.parse_interactive(start=start)
    whole, fed = 0, 0
    for token in tokens:
        try:
            feed.feed_token(token)
        except UnexpectedToken:
            break
        fed += 1
        if END in feed.choices():
            whole = fed
    if whole and whole == fed == len(tokens):
        tree = _ended(feed)
        if tree is not None:
            return tree, whole
        whole -= 1
    while whole:
        # LALR look-aheads can promise an end that does not come: then one token fewer.
        tree = _parsed(parser, start, tokens[:whole])
        if tree is not None:
            return tree, whole
        whole -= 1
    return None, fed


def _parsed(parser: Lark, start: str, tokens: Sequence[Token]) -> Parsed | None:
    feed = parser.parse_interactive(start=start)
    try:
        for token in tokens:
            feed.feed_token(token)
    except UnexpectedToken:
        return None
    return _ended(feed)


def _ended(feed: Any) -> Parsed | None:
    try:
        tree: Parsed = feed.feed_eof()
    except UnexpectedToken:
        return None
    return tree
