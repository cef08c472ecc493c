"""Values as a card writes them: what the export prints, turned back into a line that reads the same."""

from __future__ import annotations

import math
from collections.abc import Iterator

from askplant.base.traits import Dictionary, Trait
from askplant.base.values import DECIMALS, JOIN
from askplant.quantities.lengths import METRES
from askplant.quantities.months import NAMES, say_months

# Units that a plantsman would rather read than metres, with the decimals that are still easily read, for what is under
# two feet high or wide and for what is not; the first that gives the very same lengths is taken.
_SMALL_BELOW_M = 2 * METRES["ft"]
_SMALL = (("in", 1), ("ft", 1), ("cm", 0), ("m", DECIMALS))
_LARGE = (("ft", 1), ("in", 1), ("m", 2), ("m", DECIMALS))
# Types whose words are joined with `; ` in the export and with commas on a card.
_LISTED = ("words", "places")


def of_range(trait: Trait, low: float, high: float, dictionary: Dictionary) -> str:
    """A range of metres, years or plain numbers as a card writes it, to the decimals that cards are kept in."""
    wanted = (round(low, DECIMALS), round(high, DECIMALS))
    *rounded, exact = _forms(trait, *wanted)
    for text in rounded:
        meaning = dictionary.parse(trait.name, text)
        if (meaning.low, meaning.high) == wanted:
            return text
    return exact


def of_words(trait: Trait, value: str) -> str:
    """Words of the export as a card writes them."""
    parts = [part.strip() for part in value.split(JOIN.strip())]
    if trait.type == "months":
        return _months(parts)
    if trait.type in _LISTED and not trait.is_single:
        return ", ".join(parts)
    return value


def _forms(trait: Trait, low: float, high: float) -> Iterator[str]:
    """Ways of writing a range, the last of them with all its decimals."""
    if trait.unit != "m":
        yield _range(low, high, 1.0, DECIMALS)
        return
    for unit, decimals in _SMALL if high < _SMALL_BELOW_M else _LARGE:
        factor = METRES[unit]
        if all(_is_short(metres / factor, decimals) for metres in (low, high)):
            yield f"{_range(low, high, factor, decimals)} {unit}"


def _is_short(number: float, decimals: int) -> bool:
    """Whether a number hardly changes when it is written with so many decimals; rounded metres are never exact."""
    return math.isclose(number, round(number, decimals), abs_tol=0.01)


def _range(low: float, high: float, factor: float, decimals: int) -> str:
    first, last = _number(low / factor, decimals), _number(high / factor, decimals)
    return first if first == last else f"{first}-{last}"


def _number(number: float, decimals: int) -> str:
    text = f"{number:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if decimals else text


def _months(parts: list[str]) -> str:
    """The names of numbered months, runs joined; anything else as it stands, for the card's own reader to judge."""
    numbers = {str(number): number for number in range(1, len(NAMES) + 1)}
    if any(part not in numbers for part in parts):
        return ", ".join(parts)
    if len(set(parts)) == len(NAMES):
        return f"{NAMES[0]}-{NAMES[-1]}"
    return say_months(numbers[part] for part in parts).replace("–", "-")
