"""The grammars have no conflicts, and what is packed into the base is what the files say."""

from __future__ import annotations

import pytest

from askplant import parsing, where
from askplant.base.opened import GRAMMARS, Base
from askplant.parsing import Token


@pytest.mark.parametrize("name", GRAMMARS)
def test_no_conflicts(name: str) -> None:
    """Strict LALR: a conflict is an error that names its rule."""
    parsing.built(where.folder("grammar") / f"{name}.lark", GRAMMARS[name], strict=True)


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
    """As much as makes a phrase, and not a token more; packed and built grammars agree."""
    packed = real_base.grammar("quantity")
    assert packed is not None
    assert packed[0] == parsing.PACKED_FOR
    for parser in (
        parsing.unpacked(packed[1]),
        parsing.built(where.folder("grammar") / "quantity.lark", GRAMMARS["quantity"]),
    ):
        tree, count = parsing.longest(parser, "quantity", _tokens(kinds))
        assert (count if tree is not None else 0) == taken
