"""What a line of a stock list says: its name, and beside it sizes, containers, a price and how many there are.

Lists are typed by hand, and much of a line's column of names is no name: `120 Taxus x media 'Hicksii' 24-30" @ $32.50`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from askplant import toml, where
from askplant.base.botanical import LONGEST
from askplant.base.names import HYBRID, RANKS
from askplant.folding import stem
from askplant.quantities.containers import container_spans
from askplant.quantities.scan import Lexeme, lexemes
from askplant.sheets.encodings import ungarbled
from askplant.stock.cells import price_of, quantity_of

WORDS = "trade_words.toml"  # under traits/

_SIZE = re.compile(
    r"""(?<![\w.])\d+(?:\.\d+)?(?:\s?/\s?\d+)?(?:\s*(?:-|–|—|to|x)\s*\d+(?:\.\d+)?)?\s*
    (?:['’′"”″]|(?:ft|feet|foot|in|inch|inches|cm|mm|cu|cf|yd|yr|pk|bdl)\b\.?)(?:\s*ft\b)?""",
    re.IGNORECASE | re.VERBOSE,
)
_PRICE = re.compile(
    r"(?:(?:@\s*)?[$€£]\s*(?P<one>\d[\d.,]*\d|\d)|@\s*(?P<two>\d[\d.,]*\d|\d)|(?<![\w.])(?P<three>\d+\.\d\d)(?=\s*net\b))"
    r"(?:\s*/?\s*(?:ea|each|net)\b\.?)?",
    re.IGNORECASE,
)
_COUNT = re.compile(
    r"\bqty\b\.?:?\s*(?P<one>\d[\d,]*)|(?<![\w$.])(?P<two>\d[\d,]*)\s*(?:avail(?:able)?|on hand|left|pcs)\b\.?"
    r"|(?<![\w$.])(?P<three>\d[\d,]*)(?=\s*@)|^\s*(?P<four>\d[\d,]*)\s+(?=[A-Za-z×])",
    re.IGNORECASE,
)
_QUOTED = re.compile(r"(?<!\w)['‘’\"“”](?P<epithet>[^\"“”]{2,}?)['‘’\"“”](?=$|[^\w])")
# A quotation begun without a blank: Hakonechloa'Aureola'. A possessive before an epithet has no word behind its apostrophe.
_GLUED = re.compile(r"(?<=[^\W\d_]{4})(?=['‘’`\"“][^\W\d_]{3}[^'’\"”]{0,40}['’\"”](?:\s|$))")
_MARKS = re.compile(
    r"[®™©℠]|\((?:r|tm|pp[^)]*|pbr|usppaf)\)|\bpp\s?#?\s?\d[\d,]*(?:\s?af)?\b|\bcpbr\s?#?\d*|\buspp?\w*\s?#?\d*|\bppaf\b|\bpbr\b",
    re.IGNORECASE,
)
# Words that names have or leave out as they please.
SMALL = frozenset(("and", "the", "of"))
_OPENING = frozenset("([*")  # marks behind which remarks stand
VARIETY = "var"  # a rank between a species and its variety; elsewhere short for variegated


class Word(NamedTuple):
    """A word of a name, folded; whether a full stop cuts it short, whether it stands in quotes, whether it is a number.

    `apart` says that it is written as remarks are: small in a line with capitals, or behind a bracket, a star or a free dash.
    """

    key: str
    cut: bool = False
    quoted: bool = False
    number: bool = False
    apart: bool = False


class Said(NamedTuple):
    """A line's name as it is written, and what it says beside it: a container, a price, a number (0: sold out)."""

    name: str
    container: str = ""
    price: float | None = None
    quantity: int | None = None


class Trade(NamedTuple):
    """The words of lists, as traits/trade_words.toml has them."""

    short: dict[str, tuple[str, ...]]
    beside: frozenset[str]
    remark: frozenset[str]
    remarks: tuple[str, ...]
    left_out: frozenset[str]
    mixed: frozenset[str]
    no_plant: frozenset[str]
    gone: tuple[str, ...]
    plain_epithet: frozenset[str]


@lru_cache(maxsize=1)
def trade() -> Trade:
    """The words of lists."""
    told = toml.read(where.folder("traits") / WORDS, "the tables of words of stock lists")
    return Trade(
        {word: tuple(full) for word, full in {**told["short"], **told["spelling"]}.items()},
        _folded(told["beside"]),
        _folded(told["remark"]),
        tuple(told["remark"]["says"]),
        _folded(told["left_out"]),
        _folded(told["mixed"]),
        _folded(told["no_plant"]),
        tuple(told["gone"]["says"]),
        _folded(told["plain_epithet"]),
    )


def _folded(table: dict[str, list[str]]) -> frozenset[str]:
    return frozenset(map(stem, table["words"]))


def said(text: str) -> Said:
    """A line's column of names taken apart. Nothing is lost: what is no size, price or number stays in the name."""
    if len(text) > LONGEST:
        return Said(text, "")
    rest, price, quantity = text, None, None
    for word in trade().gone:
        without = _without(rest, word)
        quantity = 0 if without != rest else quantity
        rest = without
    counts = list(_COUNT.finditer(rest))
    if counts and quantity is None:
        quantity = quantity_of(next(group for group in counts[0].groups() if group))
    rest = _COUNT.sub(" ", rest)
    prices = list(_PRICE.finditer(rest))
    if prices:
        price = price_of(next(group for group in prices[-1].groups() if group))
    rest = _PRICE.sub(" ", rest)
    quoted = [one.span() for one in _QUOTED.finditer(rest)]  # 'Cloud 9' is no nine feet
    sizes = [one.span() for one in _SIZE.finditer(rest)]
    sizes = [size for size in sizes if not any(start < size[0] < end for start, end in quoted)]
    spans = sorted({*container_spans(rest), *sizes})
    container = " ".join(rest[start:end].strip() for start, end in _apart(spans))
    for start, end in reversed(list(_apart(spans))):
        rest = f"{rest[:start]} {rest[end:]}"
    name = re.sub(r"\(\s*\)|\[\s*\]", " ", rest)
    name = " ".join(name.split()).strip(" ,;:-–—*/!+")
    return Said(name or " ".join(text.split()), container, price, quantity)


def _without(text: str, phrase: str) -> str:
    """A text without a phrase that stands by itself, in capitals or not."""
    at, low = 0, text.lower()
    while (at := low.find(phrase.lower(), at)) >= 0:
        end = at + len(phrase)
        if not low[at - 1 : at].isalnum() and not low[end : end + 1].isalnum():
            text, low = f"{text[:at]} {text[end:]}", f"{low[:at]} {low[end:]}"
        at += 1
    return text


def _apart(spans: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Spans that do not lie over one another, those that do taken together."""
    found: list[tuple[int, int]] = []
    for start, end in spans:
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], max(end, found[-1][1]))
        else:
            found.append((start, end))
    return found


def without_marks(name: str) -> str:
    """A name without marks of trade and patent, and with a blank before every quotation."""
    if len(name) > LONGEST:
        return name
    return " ".join(_GLUED.sub(" ", _MARKS.sub(" ", ungarbled(name))).split())


def words_in(name: str) -> tuple[Word, ...]:
    """The words of a name in their order, without hybrid signs and ranks; none of what is longer than any name."""
    if len(name) > LONGEST:
        return ()
    plain = without_marks(name)
    for phrase in trade().remarks:
        plain = _without(plain, phrase)
    quoted = [one.span("epithet") for one in _QUOTED.finditer(plain)]
    capitals = any(one.isupper() for one in plain)
    found: list[Word] = []
    told = list(_told(lexemes(plain)))
    for place, (lexeme, apart) in enumerate(told):
        if lexeme.key in RANKS and (lexeme.key != VARIETY or 1 < place < len(told) - 1):
            continue
        cut = plain[lexeme.end : lexeme.end + 1] == "."
        within = any(start <= lexeme.start < end for start, end in quoted)
        number = lexeme.kind == "num"
        apart = apart or (capitals and lexeme.text.islower())
        found.append(Word(lexeme.text if number else lexeme.key, cut, within, number, apart))
    return tuple(found)


def _told(scanned: list[Lexeme]) -> Iterator[tuple[Lexeme, bool]]:
    """The words and numbers that count, and whether a bracket, a star or a dash between blanks stands anywhere before them."""
    apart = False
    for lexeme in scanned:
        if lexeme.kind in ("word", "num"):
            if lexeme.key not in HYBRID | SMALL:
                yield lexeme, apart
        else:
            apart = apart or lexeme.text in _OPENING or (lexeme.kind == "dash" and not lexeme.joint)
