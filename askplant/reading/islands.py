"""Tokens → quantities and clauses: the two grammars tried from each token, the longest whole phrase taken, the rest left.

An island that fails costs its own tokens only; nothing is skipped inside one, so nothing unsaid is joined.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from askplant import parsing
from askplant.parsing import Grammar, Token, Tree

# No quantity is longer; without a limit a text of nothing but numbers would be fed again from each of them.
LONGEST_QUANTITY = 32
# Nor any clause: a longer one is read in pieces.
LONGEST_CLAUSE = 256

# Tokens that may stand inside a quantity without being part of it.
_LOOSE = frozenset(("FILLER", "PUNCT", "ROUGHLY"))
_STARTS = frozenset(
    (
        "SUNFROM SUNTILL SUNAFTER NUM NEGNUM LEN MAX MIN ABOUT BETWEEN KEPT LABELLED GROWN AXIS SPACE COLD "
        "SPOT NEG ZONEWORD HALFZONE RHS HEATZONE PH PART MONTH WITHIN MONEY TOP "
    ).split()
)
_LENGTH = frozenset(("FT", "FTMARK", "IN", "METRIC"))
_UNIT = frozenset("FT FTMARK IN METRIC HOURS YEARS DEG OTHER".split())


class Grammars(NamedTuple):
    """The two parsers: quantities over numbers and units, requests over what those make."""

    quantity: Grammar
    request: Grammar


class Island(NamedTuple):
    """A parsed stretch: its tree and the tokens it took."""

    tree: Tree
    tokens: tuple[Token, ...]


def quantities(tokens: Sequence[Token], grammar: Grammar) -> list[Token | Island]:
    """The tokens with every quantity among them parsed."""
    out: list[Token | Island] = []
    at = 0
    while at < len(tokens):
        island, at = _quantity(tokens, at, grammar) if tokens[at].type in _STARTS else (None, at)
        if island is None:
            out.append(tokens[at])
            at += 1
        else:
            out.append(island)
    return out


def _quantity(tokens: Sequence[Token], at: int, grammar: Grammar) -> tuple[Island | None, int]:
    feed: list[Token] = []
    places: list[int] = []
    behind = at
    for number in range(at, min(at + LONGEST_QUANTITY, len(tokens))):
        if number < behind:
            continue
        if feed and tokens[number].type in ("OPEN", "SLASH") and (end := _restated(tokens, number, feed)):
            behind, places[-1] = end, end - 1
            continue
        if tokens[number].type in _LOOSE and feed:
            if len(places) and number - places[-1] > 1:
                break
            continue
        if feed and _leads_to_bound(tokens, number):
            continue
        if tokens[number].type in ("STOP", "WORD", "PHRASE", "PLANT", "OPEN", "CLOSE"):
            break
        if tokens[number].type == "MAX" and feed and feed[-1].type in ("AND", "BUT") and not _is_cold(feed):
            feed[-1] = _upper(feed[-1], tokens[number])
            places[-1] = number
            continue
        feed.append(tokens[number])
        places.append(number)
    tree, taken = parsing.longest(grammar, "quantity", feed)
    while tree is not None and _is(tree, "zones") and taken < len(feed) and feed[taken].type in _UNIT and taken > 2:
        # "zone 7 - 10 ft": the number before the unit begins a length, so the zone ends before it.
        tree, taken = parsing.longest(grammar, "quantity", feed[: taken - 1])
    if tree is not None and _is(tree, "measure") and _begins_next(feed, taken):
        tree, taken = parsing.longest(grammar, "quantity", feed[: taken - 1])
    if tree is not None and _is(tree, "clock") and taken < len(feed) and feed[taken].type in _LENGTH:
        tree = None  # "sun from 10 ft away" is no hour
    if tree is None:
        return None, at
    return Island(tree, tuple(feed[:taken])), places[taken - 1] + 1


def _restated(tokens: Sequence[Token], number: int, feed: Sequence[Token]) -> int:
    """Where a length ends that only says the one before it in the other system: "2 m (6 ft 6 in) tall", "2m/6ft"; else 0."""
    opens = tokens[number].type
    if feed[-1].type not in _LENGTH:
        return 0
    at = number + 1
    while at < len(tokens) and tokens[at].type in _LENGTH | {"NUM", "DASH", "ABOUT", "PUNCT"}:
        at += 1
    said = {token.type == "METRIC" for token in tokens[number:at] if token.type in _LENGTH}
    if said != {feed[-1].type != "METRIC"} or (opens == "OPEN" and (at >= len(tokens) or tokens[at].type != "CLOSE")):
        return 0
    return at + (opens == "OPEN")


def _leads_to_bound(tokens: Sequence[Token], number: int) -> bool:
    """Whether a comma only parts a length from its bound: "5 ft wide, no more"."""
    return (
        tokens[number].type == "COMMA"
        and number + 1 < len(tokens)
        and tokens[number + 1].type in ("MAX_AFTER", "MIN_AFTER")
    )


def _begins_next(feed: Sequence[Token], taken: int) -> bool:
    """Whether the direction at the end is that of the figure behind it, as the first stood before its own: "height 6 width 3"."""
    last = feed[taken - 1] if taken > 1 else None
    led = feed[0].type == "AXIS" and last is not None and last.type == "AXIS"
    return led and taken < len(feed) and feed[taken].type == "NUM"


def _is_cold(feed: Sequence[Token]) -> bool:
    """Whether a cold is spoken of, which bounds no length: "survive minus 20 and be under 10 ft"."""
    return any(token.type in ("NEG", "NEGNUM", "COLD", "DEG") for token in feed)


def _upper(joint: Token, bound: Token) -> Token:
    """A joint and the bound behind it as one token: which of two things an `and` joins shows only here."""
    return Token("UPPER", str(bound), joint.start, bound.end, {**bound.meaning, "joint": joint.type})


def _is(tree: Tree, kind: str) -> bool:
    inner = tree.children[0]
    return isinstance(inner, Tree) and inner.data == kind


def clauses(tokens: Sequence[Token], grammar: Grammar, known: frozenset[str]) -> list[Token | Island]:
    """The chunk tokens with every clause among them parsed; tokens the grammar does not know are left between."""
    out: list[Token | Island] = []
    at = run = 0
    while at < len(tokens):
        if tokens[at].type not in known:
            out.append(tokens[at])
            at += 1
            continue
        run = max(run, at)
        while run < len(tokens) and tokens[run].type in known:
            run += 1
        tree, taken = parsing.longest(grammar, "clause", tokens[at : min(run, at + LONGEST_CLAUSE)])
        if tree is None:
            taken = max(taken, 1)
            out += tokens[at : at + taken]
        else:
            out.append(Island(tree, tuple(tokens[at : at + taken])))
        at += taken
    return out
