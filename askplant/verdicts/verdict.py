"""What a judge says of a plant, as plain data: no wording and nothing that computes."""

from typing import Any, Literal, NamedTuple

from askplant.reading.reading import Purchase
from askplant.stock.stock import Stock

Verdict = Literal["meets", "with care", "unknown", "misses"]

# From best to worst. "Unknown" stands below "with care", where something is known to do, and above "misses".
ORDER: dict[Verdict, int] = {"meets": 3, "with care": 2, "unknown": 1, "misses": 0}


class Fact(NamedTuple):
    """What the plant has: `kind` says how `values` are to be read.

    words, text: words as the card has them; size: (axis, basis, low m, high m); zones: (coldest, sheltered, warmest),
    each the number of a half-zone or None; months: month numbers; ph: (low, high); rate: (low, high) metres a year;
    heat: (low, high) heat zones; stock: the offers there are; poison: (who, severity, parts) triples; places: codes;
    derived: (what, …) told in words by the wording.
    """

    kind: str
    values: tuple[Any, ...]


class Advice(NamedTuple):
    """What someone has to do for the plant to fit: a code the wording knows, lengths in metres and words to fill it
    with.
    """

    code: str
    lengths: tuple[float, ...] = ()
    words: tuple[str, ...] = ()


class Judgement(NamedTuple):
    """One condition held against one value.

    `margin` runs from 0 (only just) to 1 (with ease) for a plant that fits, and is the shortfall relative to what was
    asked, 0 or less, for one that misses. `off_by` is the shortfall in `unit`.
    """

    verdict: Verdict
    has: Fact | None = None
    how: Advice | None = None
    margin: float = 1.0
    off_by: float | None = None
    unit: str | None = None


class Site(NamedTuple):
    """What bears on judging beside a request's conditions: the state or province, the years until the height is wanted, what
    is said of buying, and the stock list there is.
    """

    place: str | None = None
    by_year: float | None = None
    buy: Purchase = Purchase()
    stock: Stock | None = None


UNKNOWN = Judgement("unknown", margin=0.0)


def meets(has: Fact | None, margin: float = 1.0, how: Advice | None = None) -> Judgement:
    """It fits as it is."""
    return Judgement("meets", has, how, margin)


def care(has: Fact | None, how: Advice, margin: float = 0.5) -> Judgement:
    """It fits if someone does something."""
    return Judgement("with care", has, how, margin)


def misses(has: Fact | None, gap: float = 1.0, off_by: float | None = None, unit: str | None = None) -> Judgement:
    """It does not fit; `gap` is the shortfall relative to what was asked, 1 where it has no measure."""
    return Judgement("misses", has, None, -gap, off_by, unit)


def words(values: Any) -> Fact:
    """What the card says in words."""
    return Fact("words", (values,) if isinstance(values, str) else tuple(values))
