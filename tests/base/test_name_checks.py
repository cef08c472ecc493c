"""Doubts about names: one name on two plants, and epithets against the rules of naming cultivated plants."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from askplant.base import botanical
from askplant.base.cards import Card
from askplant.base.name_checks import doubts


def card(name: str, line: int = 1, **names: tuple[str, ...]) -> Card:
    """A card of nothing but names."""
    own = botanical.parse(name)
    return Card(botanical.plain_id(own.text), own.text, own.genus, own.epithet, None, "demo.txt", line, **names)


def told(cards: Sequence[Card]) -> list[tuple[int, str]]:
    return [(doubt.line, doubt.found) for doubt in doubts(cards)]


@pytest.mark.parametrize(
    "common", ["Abelia grandiflora", "abelia grandiflora", "Abelia x Grandiflora", "Abelia-grandiflora"]
)
def test_a_common_name_that_is_another_plants_botanical_one(common: str) -> None:
    """However it is spelled, with or without its hybrid sign."""
    cards = [card("Abelia × grandiflora"), card("Abelia chinensis", 7, common=(common, "glossy abelia"))]
    assert told(cards) == [
        (
            7,
            f"common name `{common}` of Abelia chinensis, the botanical name of Abelia × grandiflora (demo.txt:1)",
        )
    ]


def test_a_plants_own_botanical_name_may_be_its_common_one() -> None:
    """As with forsythia and many others."""
    assert told([card("Abelia × grandiflora", common=("abelia grandiflora",)), card("Abelia chinensis")]) == []


@pytest.mark.parametrize("other", ["Demo Charm", "demo charm", "Demo-Charm", "Demo  Charm’s"])
def test_a_selling_name_on_two_cards(other: str) -> None:
    """However it is marked and spaced."""
    cards = [card("Ilex 'Abc'", heard=("Demo Charm",)), card("Ilex 'Xyz'", 9, heard=(other,))]
    (doubt,) = told(cards)
    assert doubt == (9, f"heard `{other}` of Ilex 'Xyz', which Ilex 'Abc' (demo.txt:1) bears too")


def test_a_synonym_that_is_anothers_name_without_its_rank() -> None:
    """Ranks and hybrid signs tell no plants apart."""
    cards = [card("Acer palmatum var. dissectum"), card("Acer japonicum", 3, synonym=("Acer palmatum dissectum",))]
    assert [line for line, _ in told(cards)] == [3]


@pytest.mark.parametrize(
    "epithet, found",
    [
        ("Demo pencil", "with `pencil` in small letters"),
        ("demo Pencil", "with `demo` in small letters"),
        ("of Demo", "with `of` in small letters"),
        ("cv. Demo", "with cv."),
        ("Cv Demo", "with cv."),
        ("Demo Variety", "with the word Variety"),
        ("Demo Improved", "with the word Improved"),
        ("Dwarf Form", "with the word Form"),
        ("Hybrid Demo", "with the word Hybrid"),
        ("Demo Strain-Two", "with the word Strain"),
        ("Abcdefghij Abcdefghij Abcdefghij A", "of 31 characters"),
    ],
)
def test_epithets_against_the_rules(epithet: str, found: str) -> None:
    """One doubt each, and what the rule asks for."""
    first, *others = told([card(f"Ilex demo '{epithet}'")])
    assert first == (1, f"epithet '{epithet}' {found}")
    assert len(others) == (epithet == "cv. Demo")


@pytest.mark.parametrize(
    "epithet",
    [
        "Compacta Nana",
        "Queen of the Demos",
        "Cloth-of-gold",
        "Emerald 'n' Demo",
        "Demo's Double-flowered",
        "Reine des Démos",
        "Formosa",
        "Improvement",
        "100 Demos",
        "Feelin' Blue",
        "Abcdefghij Abcdefghij Abcdefghij",
        "CVX Demo",
    ],
)
def test_epithets_within_the_rules(epithet: str) -> None:
    """Latin form, small words inside, words behind a hyphen, thirty characters, words that only begin alike."""
    assert told([card(f"Ilex demo '{epithet}'")]) == []


@pytest.mark.parametrize(
    "name", ['Ilex demo "Pencil"', "Ilex demo cv. Pencil", "Ilex demo Pencil", "Ilex demo 'Pencil"]
)
def test_other_marks_than_single_quotes_are_no_name_at_all(name: str) -> None:
    """They stop a build, where the doubts above do not."""
    with pytest.raises(ValueError, match="a botanical name"):
        botanical.parse(name)
