"""The values of quantities: parsed trees into metres, half-zones and months; and the quantities that cards hold."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache
from typing import NamedTuple

from askplant import parsing, where
from askplant.parsing import Grammar, Token, Tree
from askplant.quantities import months as months_
from askplant.quantities import zones
from askplant.quantities.lengths import METRES
from askplant.quantities.scan import Lexeme, lexemes

STARTS = ("quantity", "extent", "zones", "months")

# Unit symbols a card may use; what callers say instead stands in the vocabulary.
_SYMBOLS = {
    "ft": "FT",
    "foot": "FT",
    "feet": "FT",
    "in": "IN",
    "inch": "IN",
    "inche": "IN",
    "m": "METRIC",
    "cm": "METRIC",
    "mm": "METRIC",
}
_MARKS = {"'": "FTMARK", '"': "IN", "-": "DASH", ",": "COMMA", "/": "SLASH", "to": "TO", "or": "OR", "and": "AND"}
_PARTS = {"early": "early", "mid": "mid", "late": "late"}


class Extent(NamedTuple):
    """One number or a range; metres where `length`, a bare number otherwise. `metric` tells the system it was said in, `unit`
    how many metres its unit has."""

    low: float
    high: float
    length: bool
    metric: bool = False
    unit: float | None = None


def extent(tree: Tree) -> Extent:
    """The value of an `extent` tree; a unit on the second number of a range serves the first ("10–15 ft")."""
    children = [child for child in tree.children if isinstance(child, Tree)]
    loose = next((child.children[0] for child in children if child.children[0].type == "LEN"), None)  # type: ignore[union-attr]
    if isinstance(loose, Token) and loose.meaning.get("to"):
        return Extent(float(loose.meaning["m"]), float(loose.meaning["to"]), True, bool(loose.meaning.get("metric")))
    parts = [_value(child) for child in children]
    factor = next((part[1] for part in reversed(parts) if part[1]), None)
    metric = any(part[2] for part in parts)
    numbers = [number if own else number * (factor or 1.0) for number, own, _ in parts]
    return Extent(min(numbers), max(numbers), factor is not None, metric, factor)


def _value(tree: Tree) -> tuple[float, float | None, bool]:
    """(metres or bare number, metres in its unit or None, metric?) of a number or length."""
    tokens: list[Token] = list(tree.children)  # type: ignore[arg-type]
    if tree.data == "number":
        return float(tokens[0].meaning["n"]), None, False
    if tokens[0].type == "LEN":
        return (
            float(tokens[0].meaning["m"]),
            float(tokens[0].meaning.get("of", 1.0)),
            bool(tokens[0].meaning.get("metric")),
        )
    first, metric = unit(tokens[1])
    total = float(tokens[0].meaning["n"]) * first
    if len(tokens) > 2:
        total += float(tokens[2].meaning["n"]) * METRES["in"]
    return total, first, metric


def unit(token: Token) -> tuple[float, bool]:
    """Metres in the unit of a token, and whether it is metric."""
    if token.type in ("FT", "FTMARK"):
        return METRES["ft"] * float(token.meaning.get("per", 1.0)), False
    if token.type == "IN":
        return METRES["in"], False
    return METRES[str(token.meaning["unit"])], True


def zone_halves(tree: Tree) -> tuple[int, ...]:
    """Half-zones of a `zones` tree, coldest first; `6-8` is everything between, `6 or 7` both."""
    found: list[tuple[int, ...]] = []
    through = False
    spanned: set[int] = set()
    for child in tree.children:
        if not isinstance(child, Tree):
            continue
        if child.data == "zone_sep":
            through = child.children[0].type in ("DASH", "TO")  # type: ignore[union-attr]
            continue
        halves = _zone(child)
        if through and found:
            spanned |= set(range(min(found[-1][0], halves[0]), max(found[-1][-1], halves[-1]) + 1))
        found.append(halves)
        through = False
    return tuple(sorted(spanned.union(*found)))


def _zone(tree: Tree) -> tuple[int, ...]:
    inner: Tree = tree.children[0] if tree.data == "zone" else tree  # type: ignore[assignment]
    token: Token = inner.children[0]  # type: ignore[assignment]
    if inner.data == "zone_number":
        return zones.halves(int(token.meaning["n"]))
    if token.type == "RHS":
        low, high = zones.RHS[str(token.meaning["rhs"])]
        return tuple(range(low, high + 1))
    return (zones.index(str(token.meaning["zone"])),)


def month_numbers(tree: Tree) -> tuple[int, ...]:
    """Months of a `months` tree in order; `May to August` is all four."""
    stretches: list[tuple[int, ...]] = []
    out: list[int] = []
    through = False
    for child in tree.children:
        assert isinstance(child, Tree)
        if child.data == "month_sep":
            through = child.children[0].type in ("DASH", "TO")  # type: ignore[union-attr]
            continue
        stretch = _month(child)
        out += sorted(months_.through(stretches[-1], stretch)) if through and stretches else stretch
        stretches.append(stretch)
        through = False
    return tuple(dict.fromkeys(out))


def _month(tree: Tree) -> tuple[int, ...]:
    tokens: list[Token] = list(tree.children)  # type: ignore[arg-type]
    numbers = tuple(int(number) for number in tokens[-1].meaning["months"])
    return months_.part(numbers, str(tokens[0].meaning["part"])) if len(tokens) > 1 else numbers


# ---- what a card may hold


def parse_length(text: str) -> tuple[float, float]:
    """`5-8 ft`, `10 ft`, `5 ft 6 in`, `60-90 cm` → (low, high) in metres."""
    found = parse_size(text)
    return found.low, found.high


def parse_size(text: str) -> Extent:
    """The same with the system it was said in."""
    found = _card_extent(text, "a length or a range of lengths (5-8 ft, 60-90 cm)")
    if not found.length:
        raise ValueError("a length with its unit (5-8 ft, 60-90 cm)")
    return found


def parse_rate(text: str) -> tuple[float, float]:
    """`12-24 in` (a year) → (low, high) in metres a year."""
    return parse_length(text.removesuffix("a year").removesuffix("per year").rstrip())


def parse_years(text: str) -> tuple[float, float]:
    """`1-3` (years) → (low, high)."""
    return parse_span(text.removesuffix("years").removesuffix("year").rstrip())


def parse_span(text: str) -> tuple[float, float]:
    """`5.0-6.5` → (low, high); a single number is both ends."""
    found = _card_extent(text, "a number or a range of numbers (5.0-6.5)")
    if found.length:
        raise ValueError("a number or a range of numbers without a unit")
    return found.low, found.high


def parse_zone(text: str, cold: bool) -> int:
    """One half-zone; a whole zone is its colder half as a cold limit, its warmer half otherwise."""
    halves = _card_zones(text)
    return halves[0] if cold else halves[-1]


def parse_zone_range(text: str) -> tuple[int, int]:
    """`5a-9b` or `5-9` → (coldest, warmest) half-zone."""
    halves = _card_zones(text)
    return halves[0], halves[-1]


def parse_months(text: str) -> frozenset[int]:
    """`May-June`, `spring`, `late winter to April` → month numbers."""
    return frozenset(month_numbers(_parsed(text, "months", "months or seasons (May-June, early spring)")))


def _card_extent(text: str, expected: str) -> Extent:
    return extent(_parsed(text, "extent", expected))


def _card_zones(text: str) -> tuple[int, ...]:
    expected = "a hardiness zone from 1a to 13b, or a range (5a-9b)"
    try:
        return zone_halves(_parsed(f"zone {text}", "zones", expected))
    except ValueError:
        raise ValueError(expected) from None


def _parsed(text: str, start: str, expected: str) -> Tree:
    tokens = list(_card_tokens(lexemes(text), expected))
    tree, taken = parsing.longest(parser(), start, tokens)
    if tree is None or taken < len(tokens):
        raise ValueError(expected)
    return tree


@lru_cache(maxsize=1)
def parser() -> Grammar:
    """The quantity grammar, built from its file."""
    from askplant import grammars  # brings Lark along, which a request does without

    return grammars.built(where.folder("grammar") / "quantity.lark", STARTS)


def _card_tokens(found: list[Lexeme], expected: str) -> Iterable[Token]:
    skip = False
    for lexeme, after in zip(found, [*found[1:], None], strict=True):
        if skip:
            skip = False
        elif lexeme.kind == "num" and after and after.joint and after.key in ("a", "b") and lexeme.text.isdigit():
            skip = True
            yield Token(
                "HALFZONE", lexeme.text + after.text, lexeme.start, after.end, {"zone": lexeme.text + after.key}
            )
        else:
            yield _card_token(lexeme, expected)


def _card_token(lexeme: Lexeme, expected: str) -> Token:
    def token(kind: str, **meaning: object) -> Token:
        return Token(kind, lexeme.text, lexeme.start, lexeme.end, meaning)

    readers: tuple[Callable[[], Token | None], ...] = (
        lambda: token("NUM", n=lexeme.value) if lexeme.kind == "num" else None,
        lambda: token(_MARKS[lexeme.key]) if lexeme.key in _MARKS else None,
        lambda: token(_SYMBOLS[lexeme.key], unit=lexeme.key) if lexeme.key in _SYMBOLS else None,
        lambda: token("PART", part=_PARTS[lexeme.key]) if lexeme.key in _PARTS else None,
        lambda: token("ZONEWORD") if lexeme.key == "zone" else None,
        lambda: token("MONTH", months=months) if (months := months_.of_word(lexeme.text)) else None,
    )
    for reader in readers:
        if (made := reader()) is not None:
            return made
    raise ValueError(expected)
