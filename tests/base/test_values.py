"""Each type of value: what it says, what the export prints, what the judges get."""

from __future__ import annotations

from typing import Any

import pytest

from askplant import where
from askplant.base import traits, values

DICTIONARY = traits.read(where.folder("traits"))


@pytest.mark.parametrize(
    "trait, text, printed, judged",
    [
        ("kind", "tree, shrub, tree", "tree; shrub", ["tree", "shrub"]),
        ("persistence", "dies back", "dies back", ["dies back"]),
        ("pollination", "dioecious, female", "dioecious, female", ["dioecious, female"]),
        ("deer", "rarely damaged", "rarely damaged", "rarely damaged"),
        ("native", "NJ, 38, ON", "NJ; 38; ON", ["38", "NJ", "ON"]),
        ("bloom", "November-February", "1; 2; 11; 12", [1, 2, 11, 12]),
        ("bloom", "spring", "3; 4; 5", [3, 4, 5]),
        ("zone_cold", "5", "5a", 8),
        ("zone_warm", "5", "5b", 9),
        ("zone_shelter", "4b", "4b", 7),
        ("leaf", "long; thin, glossy", "long; thin, glossy", "long; thin, glossy"),
        ("poison", "none known", "none known", [["none known", "", ""]]),
        (
            "poison",
            "dogs: mild: fruit, leaves;cats:mild : fruit",
            "dogs: mild: fruit, leaves; cats: mild: fruit",
            [["cats", "mild", "fruit"], ["dogs", "mild", "fruit, leaves"]],
        ),
    ],
)
def test_words(trait: str, text: str, printed: str, judged: Any) -> None:
    """Words are kept in the card's order for people and sorted for the judges, the kinds of a plant apart."""
    meaning = DICTIONARY.parse(trait, text)
    assert (meaning.low, meaning.high) == (None, None)
    assert meaning.text == printed
    assert values.judged(DICTIONARY.traits[trait], meaning) == judged


@pytest.mark.parametrize(
    "trait, text, low, high, unit",
    [
        ("height_grown", "5-8 ft", 1.524, 2.4384, "m"),
        ("height_grown", "60-90 cm", 0.6, 0.9, "m"),
        ("height_old", "12 ft", 3.6576, 3.6576, "m"),
        ("growth_per_year", "12-24 in", 0.3048, 0.6096, "m"),
        ("lag_years", "2", 2.0, 2.0, "years"),
        ("heat_zone", "4-9", 4.0, 9.0, ""),
        ("ph", "5.0-6.5", 5.0, 6.5, ""),
    ],
)
def test_ranges(trait: str, text: str, low: float, high: float, unit: str) -> None:
    """Lengths are metres to a tenth of a millimetre, a single number is both ends."""
    meaning = DICTIONARY.parse(trait, text)
    assert (meaning.low, meaning.high, meaning.words) == (low, high, ())
    assert DICTIONARY.traits[trait].unit == unit
    assert values.judged(DICTIONARY.traits[trait], meaning) == [low, high]


def test_a_text_is_read_once() -> None:
    """The same text of the same trait gives the same object; a refusal is remembered too."""
    assert DICTIONARY.parse("ph", "5.0-7.0") is DICTIONARY.parse("ph", "5.0-7.0")
    for _ in range(2):
        with pytest.raises(ValueError, match="a number or a range"):
            DICTIONARY.parse("ph", "sour")


def test_places_are_all_there() -> None:
    """Fifty states, the District, thirteen provinces and territories, 52 regions of the world."""
    assert len(set(values.US_CODES)) == 51
    assert len(set(values.CANADA_CODES)) == 13
    assert len(set(values.WORLD_CODES)) == 52
    assert len(values.PLACES) == 116
