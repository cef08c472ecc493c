"""Inheritance, and one value where sources disagree."""

from __future__ import annotations

from pathlib import Path

import pytest

from askplant import where
from askplant.base import deck, resolve, traits
from askplant.base.cards import Entry
from askplant.base.resolve import Settled, Values

DICTIONARY = traits.read(where.folder("traits"))


def settled(folder: Path) -> dict[str, Values]:
    read = deck.read(folder)
    return resolve.settle(read.cards, read.dictionary)


def of(trait: str, *stated: tuple[str, str]) -> Settled:
    """What statements (text, basis) of one trait come to; each of its own source, unsourced where common practice."""
    entries = [
        Entry(trait, text, "" if basis == "common practice" else f"demo-{number}", basis, "", number)
        for number, (text, basis) in enumerate(stated, 1)
    ]
    return resolve.settle_trait(DICTIONARY.traits[trait], entries, DICTIONARY)


def test_a_cultivar_takes_what_it_does_not_say(folder: Path) -> None:
    """Values come from the species' card, with its sources, unless the cultivar states the trait."""
    plants = settled(folder)
    species, cultivar = plants["ilex-glabra"], plants["ilex-glabra-densa"]
    assert cultivar["deer"] is species["deer"]
    assert cultivar["form"].meaning.words == ("rounded",)
    assert [statement.entry.source for statement in cultivar["height_grown"].statements] == ["demo-opened"]
    assert cultivar["light"].meaning.words == ("full sun",)


def test_a_dash_is_not_inherited(folder: Path) -> None:
    """`native: -` leaves the trait unknown for the card and for what inherits from it."""
    plants = settled(folder)
    assert "native" in plants["ilex-glabra"]
    assert "native" not in plants["ilex-glabra-densa"]


def test_a_zone_is_inherited_limit_by_limit(folder: Path) -> None:
    """A card that states one limit keeps the other from its parent."""
    blue = settled(folder)["ilex-meserveae-blue-prince"]
    assert (blue["zone_cold"].meaning.text, blue["zone_warm"].meaning.text) == ("5a", "9b")


def test_traits_are_in_the_dictionarys_order(folder: Path) -> None:
    """Whatever order cards use, and whatever is inherited."""
    order = list(DICTIONARY.traits)
    for values in settled(folder).values():
        assert list(values) == sorted(values, key=order.index)


def test_inheritance_reaches_over_several_cards(folder: Path) -> None:
    """A card that is like a cultivar has what the cultivar has of its species."""
    (folder / "plants" / "demo.txt").write_text(
        "Ilex 'Demo'\n    like: Ilex glabra 'Densa'\n    kind: tree\n", encoding="utf-8"
    )
    demo = settled(folder)["ilex-demo"]
    assert demo["form"].meaning.words == ("rounded",)
    assert demo["deer"].meaning.text == "seldom severely damaged"
    assert demo["kind"].meaning.words == ("tree",)
    assert "native" not in demo


def test_one_statement_or_equal_ones_need_no_reason() -> None:
    """Sources that agree are kept, the most trusted gives the basis, and nothing is resolved."""
    both = of("height_grown", ("5-8 ft", "recalled"), ("60-96 in", "opened"))
    assert (both.why, both.basis, len(both.statements)) == ("", "opened", 2)


@pytest.mark.parametrize(
    "trait, stated, value, why",
    [
        (
            "height_grown",
            [("5-8 ft", "opened"), ("6-10 ft", "recalled")],
            (1.524, 2.4384),
            "2 sources disagree: 5–8 ft (demo-1), 6–10 ft (demo-2); took the opened one",
        ),
        (
            "height_grown",
            [("5-8 ft", "common practice"), ("6-10 ft", "recalled")],
            (1.8288, 3.048),
            "2 sources disagree: 5–8 ft (common practice), 6–10 ft (demo-2); took the recalled one",
        ),
        (
            "height_grown",
            [("40-60 ft", "opened"), ("30-40 ft", "opened"), ("25-40 ft", "opened")],
            (9.144, 12.192),
            "3 sources disagree: 40–60 ft (demo-1), 30–40 ft (demo-2), 25–40 ft (demo-3); took the middle one",
        ),
        (
            "height_grown",
            [("40-60 ft", "opened"), ("30-40 ft", "opened"), ("5 ft", "recalled")],
            (9.144, 12.192),
            "3 sources disagree: 40–60 ft (demo-1), 30–40 ft (demo-2), 5 ft (demo-3);"
            " took the middle one of the opened",
        ),
        (
            "form",
            [("vase", "opened"), ("upright", "opened"), ("upright", "opened")],
            "upright",
            "3 sources disagree: vase (demo-1), upright (demo-2, demo-3); took what most say",
        ),
        (
            "form",
            [("vase", "opened"), ("upright", "opened"), ("upright", "recalled")],
            "vase",
            "3 sources disagree: vase (demo-1), upright (demo-2, demo-3); took the first of the opened",
        ),
        (
            "form",
            [
                ("vase", "recalled"),
                ("upright", "recalled"),
                ("upright", "common practice"),
                ("upright", "common practice"),
            ],
            "vase",
            "4 sources disagree: vase (demo-1), upright (demo-2, common practice); took the first of the recalled",
        ),
        (
            "light",
            [("part shade", "opened"), ("full sun", "opened"), ("full shade", "common practice")],
            "full sun; part shade",
            "3 sources disagree: part shade (demo-1), full sun (demo-2), full shade (common practice);"
            " took the words of the opened together",
        ),
        (
            "bloom",
            [("May-June", "opened"), ("June", "opened")],
            "5; 6",
            "2 sources disagree: May–June (demo-1), June (demo-2); took the first",
        ),
        (
            "ph",
            [("5-6.5", "common practice"), ("6", "opened"), ("6", "opened")],
            (6.0, 6.0),
            "3 sources disagree: 5–6.5 (common practice), 6 (demo-2, demo-3); took the opened one",
        ),
    ],
)
def test_disagreement_is_settled_and_told(
    trait: str, stated: list[tuple[str, str]], value: tuple[float, float] | str, why: str
) -> None:
    """Opened before recalled before common practice; then the middle range, or what most sources say, or the first."""
    result = of(trait, *stated)
    found = result.meaning.text if isinstance(value, str) else (result.meaning.low, result.meaning.high)
    assert found == value
    assert result.why == why


def test_poison_is_added_up() -> None:
    """Sources on other animals are put together; of two on one animal the more trusted counts, then the graver."""
    result = of(
        "poison",
        ("dogs: mild: fruit", "recalled"),
        ("dogs: serious: all parts", "recalled"),
        ("people: mild: fruit", "opened"),
        ("people: serious: seed; cats: mild: leaves", "recalled"),
    )
    assert result.meaning.words == ("people: mild: fruit", "dogs: serious: all parts", "cats: mild: leaves")
    assert result.basis == "recalled"
    assert result.why.startswith("4 sources put together: dogs: mild: fruit (demo-1); ")


def test_a_warning_outweighs_none_known() -> None:
    """That one list knows of nothing does not undo another's warning, whatever their standing."""
    result = of("poison", ("none known", "opened"), ("dogs: mild: fruit", "common practice"))
    assert result.meaning.words == ("dogs: mild: fruit",)
