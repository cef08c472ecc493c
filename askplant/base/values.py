"""What a value on a card means, for each type of trait: read from its text, told to the export and the judges."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from typing import TYPE_CHECKING, Any

from askplant.quantities import quantity, zones

if TYPE_CHECKING:
    from askplant.base.traits import Trait

# Metres are kept to a tenth of a millimetre: finer than any card, coarse enough that 4 ft is one number everywhere.
DECIMALS = 4
JOIN = "; "
NONE_KNOWN = "none known"

# Postal codes of the US states and DC, and of the Canadian provinces and territories.
US_CODES = (
    "AL", "AK", "AZ", "AR", "CA", "CO", "CT", "DE", "DC", "FL", "GA", "HI", "ID", "IL", "IN", "IA", "KS",
    "KY", "LA", "ME", "MD", "MA", "MI", "MN", "MS", "MO", "MT", "NE", "NV", "NH", "NJ", "NM", "NY", "NC",
    "ND", "OH", "OK", "OR", "PA", "RI", "SC", "SD", "TN", "TX", "UT", "VT", "VA", "WA", "WV", "WI", "WY",
)  # fmt: skip
CANADA_CODES = ("AB", "BC", "MB", "NB", "NL", "NS", "NT", "NU", "ON", "PE", "QC", "SK", "YT")
# Level-2 regions of the World Geographical Scheme for Recording Plant Distributions, 2nd edition, TDWG 2001: first and
# last of each continent.
_WORLD_RANGES = ((10, 14), (20, 29), (30, 38), (40, 43), (50, 51), (60, 63), (70, 79), (80, 85), (90, 91))
WORLD_CODES = tuple(str(code) for first, last in _WORLD_RANGES for code in range(first, last + 1))
PLACES = frozenset((*US_CODES, *CANADA_CODES, *WORLD_CODES))


@dataclass(frozen=True, slots=True)
class Meaning:
    """A value: a range of numbers (metres, years or plain) or words; the other of the two is empty."""

    low: float | None = None
    high: float | None = None
    words: tuple[str, ...] = ()

    @property
    def text(self) -> str:
        """The words as the export prints them."""
        return JOIN.join(self.words)

    @property
    def middle(self) -> float:
        """The midpoint of a range."""
        return ((self.low or 0.0) + (self.high or 0.0)) / 2


def parse(trait: Trait, text: str) -> Meaning:
    """What `text` says of a trait; ValueError says what was expected instead."""
    return _PARSERS[trait.type](trait, text)


def judged(trait: Trait, meaning: Meaning) -> Any:
    """The value as the judges get it: plain JSON, one shape a type, equal for equal meanings."""
    if trait.is_range:
        return [meaning.low, meaning.high]
    if trait.type in ("scale", "text"):
        return meaning.words[0]
    if trait.type == "zone":
        return zones.index(meaning.words[0])
    if trait.type == "months":
        return sorted(int(word) for word in meaning.words)
    if trait.type == "poison":
        return sorted(poison_parts(word) for word in meaning.words)
    # What a plant mainly is comes first; of other words the order says nothing.
    return list(meaning.words) if trait.name == "kind" else sorted(meaning.words)


def nearest(word: str, permitted: Sequence[str]) -> str:
    """`; nearest is …` where one of the permitted words is close, else nothing."""
    close = get_close_matches(word.lower(), permitted, n=1)
    return f"; nearest is `{close[0]}`" if close else ""


def poison_parts(word: str) -> list[str]:
    """One poison entry as [who, severity, parts]."""
    parts = [part.strip() for part in word.split(":", 2)]
    return parts + [""] * (3 - len(parts))


def _words(trait: Trait, text: str) -> Meaning:
    # A permitted value may hold a comma itself ("dioecious, female"), so the whole text is tried first.
    if text in trait.values:
        return Meaning(words=(text,))
    if trait.is_single:
        raise ValueError(f"one of {', '.join(trait.values)}{nearest(text, trait.values)}")
    words = [word.strip() for word in text.split(",")]
    for word in words:
        if word not in trait.values:
            raise ValueError(f"any of {', '.join(trait.values)}, separated by commas{nearest(word, trait.values)}")
    return Meaning(words=tuple(dict.fromkeys(words)))


def _places(_: Trait, text: str) -> Meaning:
    words = [word.strip() for word in text.split(",")]
    wrong = next((word for word in words if word not in PLACES), None)
    if wrong is not None:
        raise ValueError(f"postal codes of US states and Canadian provinces, or WGSRPD level-2 codes; not `{wrong}`")
    return Meaning(words=tuple(dict.fromkeys(words)))


def _text(_: Trait, text: str) -> Meaning:
    return Meaning(words=(text,))


def _poison(trait: Trait, text: str) -> Meaning:
    if text == NONE_KNOWN:
        return Meaning(words=(NONE_KNOWN,))
    return Meaning(words=tuple(dict.fromkeys(_poison_entry(trait, part) for part in text.split(";"))))


def _poison_entry(trait: Trait, text: str) -> str:
    who, severity, parts = poison_parts(text)
    if who not in trait.who or who == NONE_KNOWN:
        raise ValueError(f"`who: severity: parts` with who one of {', '.join(trait.who)}{nearest(who, trait.who)}")
    if severity not in trait.severity:
        raise ValueError(f"severity one of {', '.join(trait.severity)}{nearest(severity, trait.severity)}")
    if severity == NONE_KNOWN and not parts:
        return f"{who}: {NONE_KNOWN}"
    if not parts:
        raise ValueError("`who: severity: parts`, with the parts of the plant that are meant")
    return f"{who}: {severity}: {parts}"


def _months(_: Trait, text: str) -> Meaning:
    return Meaning(words=tuple(str(month) for month in sorted(quantity.parse_months(text))))


def _zone(trait: Trait, text: str) -> Meaning:
    # A whole zone means all of it: as a warm limit its warmer half, as a cold limit its colder half.
    number = quantity.parse_zone(text, cold=trait.name != "zone_warm")
    return Meaning(words=(zones.name(number),))


def _range(reader: Callable[[str], tuple[float, float]]) -> Callable[[Trait, str], Meaning]:
    def parse_range(_: Trait, text: str) -> Meaning:
        low, high = reader(text)
        if low > high:
            raise ValueError("a range with its smaller end first")
        return Meaning(low=round(low, DECIMALS), high=round(high, DECIMALS))

    return parse_range


_PARSERS: dict[str, Callable[[Trait, str], Meaning]] = {
    "words": _words,
    "scale": _words,
    "places": _places,
    "text": _text,
    "poison": _poison,
    "months": _months,
    "zone": _zone,
    "length": _range(quantity.parse_length),
    "rate": _range(quantity.parse_rate),
    "years": _range(quantity.parse_years),
    "span": _range(quantity.parse_span),
}
TYPES = frozenset(_PARSERS)
