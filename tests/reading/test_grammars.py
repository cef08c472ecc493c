"""The grammars have no conflicts, and what is packed into the base parses as Lark does by their files."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import lark
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lark.exceptions import UnexpectedToken

from askplant import grammars, parsing, where
from askplant.base.opened import GRAMMARS, Base
from askplant.parsing import END, Token, Tree

STARTS = [(name, start) for name, starts in GRAMMARS.items() for start in starts]


def file_of(name: str) -> Path:
    """The file of a grammar."""
    return where.folder("grammar") / f"{name}.lark"


@pytest.mark.parametrize("name", GRAMMARS)
def test_no_conflicts(name: str) -> None:
    """Strict LALR: a conflict is an error that names its rule."""
    grammars.built(file_of(name), GRAMMARS[name], strict=True)


def _tokens(kinds: str) -> list[Token]:
    return [Token(kind, kind, at, at + 1, {"n": 1.0}) for at, kind in enumerate(kinds.split())]


@pytest.mark.parametrize(
    "kinds, taken",
    [
        ("NUM DASH NUM FT", 4),
        ("MAX NUM FT AXIS NUM", 4),
        ("NUM FT BY NUM FT AXIS", 6),
        ("ZONEWORD NUM OR NUM", 4),
        ("MAX MAX", 0),
    ],
)
def test_the_longest_whole_phrase_is_taken(real_base: Base, kinds: str, taken: int) -> None:
    """As much as makes a phrase, and not a token more."""
    tree, count = parsing.longest(parsing.unpacked(real_base.grammar("quantity")), "quantity", _tokens(kinds))
    assert (count if tree is not None else 0) == taken


# ---- beside Lark


@cache
def by_lark(name: str) -> lark.Lark:
    """A grammar as Lark's own parser."""
    return grammars.parser(file_of(name), GRAMMARS[name])


def fed(parser: lark.Lark, start: str, kinds: list[str]) -> Any:
    """Lark's parser after some tokens, none if it does not take them."""
    feed = parser.parse_interactive(start=start)
    try:
        for at, kind in enumerate(kinds):
            feed.feed_token(lark.Token(kind, str(at)))
    except UnexpectedToken:
        return None
    return feed


def whole(parser: lark.Lark, start: str, kinds: list[str]) -> Any:
    """Lark's tree of some tokens, none if they are no phrase."""
    try:
        return feed.feed_eof() if (feed := fed(parser, start, kinds)) else None
    except UnexpectedToken:
        return None


def shape(tree: Any) -> Any:
    """A tree, ours or Lark's, as nested lists."""
    if isinstance(tree, Tree | lark.Tree):
        return [str(tree.data), *map(shape, tree.children)]
    return str(tree.type)


@given(st.sampled_from(STARTS), st.lists(st.integers(0, 999), min_size=1, max_size=14))
@settings(deadline=None)
def test_phrases_are_parsed_as_lark_parses_them(real_base: Base, grammar: tuple[str, str], choices: list[int]) -> None:
    """Along any way that Lark's parser can go, and one token that may lead astray: the same longest phrase, the same tree."""
    name, start = grammar
    parser, tables = by_lark(name), parsing.unpacked(real_base.grammar(name))
    kinds: list[str] = []
    for choice in choices:
        feed = fed(parser, start, kinds)
        open_ways = sorted(kind for kind in (feed.choices() if feed else ()) if kind.isupper() and kind != END)
        if not open_ways:
            break
        kinds.append(open_ways[choice % len(open_ways)])
    every = sorted({kind for state in tables.states for kind in state if kind.isupper() and kind != END})
    kinds.append(every[choices[-1] % len(every)])
    longest = next((taken for taken in range(len(kinds), 0, -1) if whole(parser, start, kinds[:taken])), None)
    tree, taken = parsing.longest(tables, start, [Token(kind, str(at), at, at + 1) for at, kind in enumerate(kinds)])
    if longest is None:
        assert tree is None
        assert taken == next(n for n in range(len(kinds), -1, -1) if fed(parser, start, kinds[:n]) is not None)
    else:
        assert taken == longest
        assert shape(tree) == shape(whole(parser, start, kinds[:longest]))


def test_a_gap_in_the_tree_is_refused(tmp_path: Path) -> None:
    """`[x]` would leave a hole in a tree, which is not made here."""
    path = tmp_path / "gap.lark"
    path.write_text("%declare A B\nstart: [A] B\n")
    with pytest.raises(ValueError, match="leaves a gap"):
        grammars.built(path, ["start"])


def test_tokens_that_are_left_out(tmp_path: Path) -> None:
    """A token whose name begins with a line is in no tree, the parts of such a rule stand in its place, as Lark has them."""
    path = tmp_path / "left.lark"
    path.write_text("%declare A _B C\nstart: _pair one?\n_pair: A _B\n?one: C | C C -> two\n")
    parser = grammars.parser(path, ["start"])
    for kinds, told in (("A _B", ["A"]), ("A _B C", ["A", "C"]), ("A _B C C", ["A", ["two", "C", "C"]])):
        tree, taken = parsing.longest(grammars.tables(parser), "start", _tokens(kinds))
        assert taken == len(kinds.split())
        assert shape(tree) == shape(whole(parser, "start", kinds.split())) == ["start", *told]
