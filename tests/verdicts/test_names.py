"""Names that mislead and names that keep their word, as published, and cautions."""

from __future__ import annotations

from typing import Any

import pytest

from askplant import where
from askplant.base import claims
from askplant.reading.reading import Reading, Task
from askplant.verdicts.cautions import READS, cautions
from askplant.verdicts.columns import columns_of
from askplant.verdicts.misleading import Notes, notes_of
from askplant.verdicts.names import claims_of

from .conditions import any_of
from .invented import InventedBase, Plant, feet

CLAIMS = [(claim.word, claim.claim, claim.kind) for claim in claims.rows(where.folder("traits"))]
VOCABULARY = {(word, kind): claim for word, claim, kind in CLAIMS}


def noted(botanical: str, common: str = "", **traits: Any) -> Notes:
    return notes_of(InventedBase({botanical: traits}, {botanical: [common] if common else []}, CLAIMS))


@pytest.mark.parametrize(
    ("botanical", "common", "kind", "low", "high", "misleads"),
    [
        # Kennebec County SWCD, Maine, Buffer plants: small shrubs: 3 to 6 ft tall.
        ("Salix purpurea 'Gracilis'", "dwarf arctic willow", "shrub", 3, 6, True),
        # WSU Extension, Kittitas County: the same plant, 1 to 3 ft.
        ("Salix purpurea 'Gracilis'", "dwarf arctic willow", "shrub", 1, 3, False),
        # Zoning plant list, City of Mount Holly, North Carolina: up to 25 ft.
        ("Magnolia 'Ann'", "Little Girl magnolia", "tree", 15, 25, True),
        # UF/IFAS Extension, Nassau County, 2017: 3 to 5 ft.
        ("Lagerstroemia indica 'Ozark Spring'", "dwarf crape myrtle", "shrub", 3, 5, True),
        # Texas AgriLife Extension, Brazos County Master Gardeners: 3 to 4 ft.
        ("Lagerstroemia indica 'Tightwad'", "dwarf crape myrtle", "shrub", 3, 4, False),
        # Washington State Dept. of Ecology, Rain Garden Handbook, 2013: 5 ft.
        ("Taxodium distichum 'Peve Minaret'", "dwarf bald cypress", "shrub", 5, 5, True),
        # NC Cooperative Extension, Pender County: 5 to 6 ft.
        ("Chamaerops humilis", "", "palm", 5, 6, True),
        # Cornell Cooperative Extension, Nassau County: 3 ft.
        ("Buxus sempervirens 'Suffruticosa'", "", "shrub", 3, 3, True),
        # NC State, AG-508-3: 2 ft.
        ("Juniperus horizontalis 'Plumosa'", "", "shrub", 2, 2, True),
        # NC State, AG-508-3: 8 in to 15 in.
        ("Liriope muscari", "big blue liriope", "perennial", 0.67, 1.25, True),
        # Rain Garden Handbook, 2013: 1 to 3.5 ft.
        ("Canadanthus modestus", "great northern aster", "perennial", 1, 3.5, True),
        # Oklahoma State University Extension, 1998: 1.5 to 2 ft.
        ("Nandina domestica 'Nana Purpurea'", "", "shrub", 1.5, 2, False),
        # Cornell Cooperative Extension, Nassau County: 1.5 ft.
        ("Berberis microphylla 'Pygmaea'", "", "shrub", 1.5, 1.5, False),
        # Texas AgriLife Extension, Brazos County Master Gardeners: 1.5 to 2 ft.
        ("Lagerstroemia 'Baton Rouge'", "miniature crape myrtle", "shrub", 1.5, 2, False),
        # Rain Garden Handbook, 2013: 2 to 3 ft.
        ("Mahonia nervosa", "low Oregon grape", "shrub", 2, 3, False),
        # NC State fact sheet on Fothergilla major: 6 to 12 ft.
        ("Fothergilla major", "large fothergilla", "shrub", 6, 12, False),
    ],
)
def test_sizes_that_names_promise(
    botanical: str, common: str, kind: str, low: float, high: float, misleads: bool
) -> None:
    """Published instances of names that mislead about size, or keep their word."""
    found = noted(botanical, common, kind=[kind], height_grown=feet(low, high)).of(0)
    assert bool(found) == misleads


@pytest.mark.parametrize(
    ("botanical", "tall", "wide", "misleads"),
    [
        # Tree Board list, City of Edmonds, Washington, 2016: 20 ft wide.
        ("Acer saccharum 'Green Column'", 45, 20, True),
        # Iowa State University Extension, 2004: 2 to 3 ft wide.
        ("Thuja occidentalis 'Degroot's Spire'", 9, 3, False),
    ],
)
def test_widths_that_names_promise(botanical: str, tall: float, wide: float, misleads: bool) -> None:
    """A column is under 10 ft wide, a spire under 4."""
    found = noted(botanical, kind=["tree"], form=["upright"], height_grown=feet(tall), width_grown=feet(wide)).of(0)
    assert bool(found) == misleads


def test_a_dwarf_of_a_tall_species_is_small_beside_it_only() -> None:
    """The note gives the species' size and the plant of the genus that keeps the promise."""
    base = InventedBase(
        {
            "Fictia alta": {"kind": ["tree"], "persistence": ["evergreen"], "height_grown": feet(30, 40)},
            "Fictia alta 'Nana'": {"kind": ["tree"], "persistence": ["evergreen"], "height_grown": feet(10, 12)},
            "Fictia alta 'Tiny'": {"kind": ["tree"], "persistence": ["evergreen"], "height_grown": feet(2, 3)},
            "Fictia alta 'Bare'": {"kind": ["tree"], "persistence": ["deciduous"], "height_grown": feet(2, 3)},
        },
        claims=CLAIMS,
    )
    (note,) = notes_of(base).of(base.botanical.index("Fictia alta 'Nana'"))
    assert (note.word, note.claim) == ("Nana", "small")
    assert note.parent == tuple(feet(30, 40))
    assert note.instead is not None
    assert base.botanical[note.instead] == "Fictia alta 'Tiny'"


@pytest.mark.parametrize(
    ("botanical", "common"),
    [
        ("Tilia cordata", "little leaf linden"),
        ("Fictia 'Little Giant'", ""),
        ("Spiraea thunbergii", "baby's breath"),
        ("Kerria 'Girard'", "Girard Rose"),
    ],
)
def test_words_that_claim_nothing(botanical: str, common: str) -> None:
    """A part of the plant, two sizes at odds, a possessive and a proper name."""
    assert claims_of(Plant(0, "x", botanical, botanical.split()[0], common=(common,)), VOCABULARY) == []


def test_kin_colour_season_and_origin() -> None:
    """A rose that is none, a blue without blue, a plant of spring that flowers in fall, and a stranger to its country."""
    assert noted("Helleborus niger", "Christmas rose").of(0)[0].claim == "kin Rosa"
    green = {"leaf_colour": ["green"], "flower_colour": ["white"], "fruit": ["none"]}
    assert noted("Fictia glauca", **green).of(0)[0].claim == "colour blue"
    assert not noted("Fictia glauca", **(green | {"leaf_colour": ["blue"]})).of(0)
    assert not noted("Fictia glauca", **(green | {"leaf_colour": None})).of(0)
    assert noted("Fictia vernalis", bloom=[9, 10]).of(0)[0].claim == "season spring"
    assert not noted("Fictia vernalis", bloom=[2]).of(0)
    assert noted("Fictia libera", "Siberian fiction", native=["34"]).of(0)
    assert not noted("Fictia libera", "Siberian fiction", native=["30", "36"]).of(0)


def warned(reading: Reading | None, **traits: Any) -> dict[str, tuple[str, ...]]:
    base = InventedBase({"Fictia cavenda": traits})
    values = columns_of(base).values(READS, 0)
    return {caution.about: caution.words for caution in cautions(values, reading)}


def test_cautions() -> None:
    """Poison, thorns and listing are always said; fire and sight lines where the request makes them matter."""
    plain = Reading("", task=Task(place="NY"))
    poison = [["people", "serious", "seeds"], ["dogs", "none known", ""]]
    assert warned(plain, poison=poison)["toxic"] == ("people: serious: seeds",)
    assert "toxic" not in warned(plain, poison=[["none known", "", ""]])
    assert warned(plain, invasive="NY: regulated")["invasive"] == ("NY: regulated", "NY")
    assert "invasive" not in warned(plain, invasive="no")
    assert "thorns" in warned(plain, thorns=["present"])
    assert "roots" in warned(plain, roots=["aggressive"])
    assert "size" in warned(plain, kind=["tree"], height_grown=feet(40, 60))
    assert "size" not in warned(plain, kind=["tree"], height_grown=feet(15, 20))
    assert "fire" not in warned(plain, fire="flammable")
    assert "fire" in warned(Reading("", (any_of("use", "foundation"),)), fire="flammable")
    assert "sight lines" in warned(Reading("", (any_of("use", "street"),)), kind=["shrub"], height_grown=feet(4, 6))
