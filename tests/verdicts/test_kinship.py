"""Kin and likeness, logic, and what no card can tell."""

from __future__ import annotations

from askplant.reading.reading import Condition
from askplant.verdicts.columns import numbers
from askplant.verdicts.judge import outcome
from askplant.verdicts.kinship import called
from askplant.verdicts.logic import best, negated, worst
from askplant.verdicts.verdict import UNKNOWN, Advice, Site, care, meets, misses

from .conditions import any_of, none_of
from .invented import InventedBase, feet

PLAIN = Site()


def spruce(low: float, high: float, wide: float, **more: object) -> dict[str, object]:
    height = {"height_grown": feet(low, high), "width_grown": feet(wide)}
    return {"kind": ["tree"], "persistence": ["evergreen"], "growth": "moderate", "zone_cold": 4, **height, **more}


BASE = InventedBase(
    {
        "Inventa magna": spruce(40, 60, 20),
        "Inventa magna 'Slim'": spruce(30, 40, 6),
        "Inventa parva": spruce(6, 8, 6, zone_cold=2, growth="fast"),
        "Fictia foliosa": spruce(20, 30, 15, persistence=["deciduous"]),
        "Fictia obscura": {"kind": ["tree"]},
    },
    common={"Inventa magna": ["great inventa"]},
)


def fitting(condition: Condition) -> list[str]:
    found = outcome(condition, BASE, PLAIN)
    return [BASE.botanical[n] for n in numbers(BASE.everyone & ~found.misses & ~found.unknown)]


def test_a_species_means_its_cultivars_and_a_genus_all() -> None:
    """By id, by botanical and common name, and by genus."""
    assert [BASE.botanical[n] for n in called(BASE, "inventa-magna")] == ["Inventa magna", "Inventa magna 'Slim'"]
    assert called(BASE, "great inventa") == called(BASE, "Inventa magna")
    assert fitting(any_of("taxon", "Inventa")) == ["Inventa magna", "Inventa magna 'Slim'", "Inventa parva"]
    assert fitting(none_of("taxon", "Inventa magna")) == ["Fictia foliosa", "Fictia obscura", "Inventa parva"]
    assert called(BASE, "nothing of the kind") == ()


def test_like_it_but_narrower_or_smaller_or_hardier() -> None:
    """Compared with the plant named, among plants of its kind and leaf."""
    assert fitting(any_of("like", "Inventa magna", than="narrower")) == ["Inventa magna 'Slim'", "Inventa parva"]
    assert fitting(any_of("like", "Inventa magna", than="hardier")) == ["Inventa parva"]
    assert fitting(any_of("like", "Inventa magna", than="faster")) == ["Inventa parva"]
    assert "Inventa parva" not in fitting(any_of("like", "Inventa magna"))
    assert "Inventa magna" in fitting(any_of("like", "Inventa magna"))


def test_each_plant_of_a_group_is_like_the_group() -> None:
    """Whatever its size; others are held against what is usual in the group, and kin counts for more than strangers."""
    assert set(fitting(any_of("like", "Inventa"))) == {"Inventa magna", "Inventa magna 'Slim'", "Inventa parva"}
    base = InventedBase(
        {
            "Inventa magna": spruce(40, 60, 20),
            "Inventa media": spruce(40, 60, 20),
            "Strania strania": spruce(40, 60, 20),
        }
    )
    stranger = base.botanical.index("Strania strania")
    for name in ("Inventa magna", "Inventa"):
        assert list(numbers(outcome(any_of("like", name), base, PLAIN).care)) == [stranger]
    wider = outcome(any_of("like", "Inventa magna", than="larger"), base, PLAIN)
    assert wider.care == 0


def test_a_plant_nobody_knows_is_a_pattern_for_nothing() -> None:
    """Likeness to an unknown plant is unknown of every plant, and so is being in stock."""
    assert outcome(any_of("like", "Nowhere tree"), BASE, PLAIN).unknown == BASE.everyone
    assert outcome(any_of("stock", "in"), BASE, PLAIN).unknown == BASE.everyone


def test_verdicts_combine() -> None:
    """The best of alternatives, the worst of requirements, and the opposite."""
    good, cared, bad = meets(None), care(None, Advice("soil.clay")), misses(None)
    assert best([bad, UNKNOWN, cared]) is cared
    assert worst([good, UNKNOWN, cared]) is UNKNOWN
    assert worst([good, bad, UNKNOWN]) is bad
    assert [negated(one).verdict for one in (good, cared, UNKNOWN, bad)] == ["misses", "meets", "unknown", "meets"]
