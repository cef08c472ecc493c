"""How much of the base is known: which plants have which traits, and how many statements stand on opened publications."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from askplant.base.opened import Plant, Row
from tests.published.tables import Agreement, Taxa

WOODY = frozenset({"tree", "shrub", "vine"})
LASTING = frozenset({"tree", "shrub", "perennial", "bulb", "grass", "fern", "palm", "bamboo"})
SIZES = frozenset(f"{axis}_{stage}" for axis in ("height", "width") for stage in ("label", "grown", "old"))
ZONES = frozenset({"zone_cold", "zone_warm", "zone_shelter"})

ALL = ("height_grown", "height_old", "width_grown", "width_old", "light", "persistence", "kind", "form")
# Traits of which any one will do, and the share of plants that must have it.
MOST = [
    (("deer",), 0.85),
    (("growth", "growth_per_year"), 0.9),
    (("moisture", "drought"), 0.9),
    (("poison",), 0.8),
]


@pytest.mark.parametrize("trait", ALL)
def test_every_plant_has(trait: str, taxa: Taxa) -> None:
    without = [plant.botanical for plant in taxa.base.plants() if trait not in taxa.values(plant)]
    assert not without, ", ".join(without)


@pytest.mark.parametrize("trait", ["zone_cold", "zone_warm"])
def test_every_plant_that_meets_a_winter_has(trait: str, taxa: Taxa) -> None:
    """What lives for one summer only has no zone, as the check of the cards has it; such plants are few."""
    without = [plant for plant in taxa.base.plants() if trait not in taxa.values(plant)]
    lasting = [plant.botanical for plant in without if taxa.words(plant, "kind") & LASTING]
    assert not lasting, ", ".join(lasting)
    assert all("annual" in taxa.words(plant, "kind") for plant in without)
    assert len(without) < taxa.base.count / 50


@pytest.mark.parametrize(
    "traits, least", MOST, ids=lambda value: " or ".join(value) if isinstance(value, tuple) else ""
)
def test_most_plants_have(traits: tuple[str, ...], least: float, taxa: Taxa) -> None:
    _share(f"plants with {' or '.join(traits)}", taxa.base.plants(), traits, taxa).holds(least, rows=taxa.base.count)


def test_most_woody_plants_have_a_time_to_prune(taxa: Taxa) -> None:
    woody = [plant for plant in taxa.base.plants() if taxa.words(plant, "kind") & WOODY]
    _share("woody plants with prune_when", woody, ("prune_when",), taxa).holds(0.8, rows=1000)


def test_half_the_plants_have_an_opened_size_or_zone(taxa: Taxa) -> None:
    """Their own or inherited from their species."""
    agreement = Agreement("plants with a size or zone from an opened publication")
    for plant in taxa.base.plants():
        opened = any(row.basis == "opened" and row.trait in SIZES | ZONES for row in statements(taxa, plant))
        agreement.add(opened, plant.botanical)
    agreement.holds(0.5, rows=taxa.base.count)


def test_every_plant_has_two_height_statements(taxa: Taxa) -> None:
    agreement = Agreement("plants with two statements of height or more")
    counts: dict[Plant, int] = {}
    for plant in taxa.base.plants():
        counts[plant] = sum(row.trait.startswith("height_") for row in statements(taxa, plant))
        agreement.add(counts[plant] >= 2, f"{plant.botanical}: {counts[plant]}")
    agreement.holds(1.0, rows=taxa.base.count)
    Agreement.told.append(f"statements of height: {sum(counts.values())}, least {min(counts.values())} a plant")


def statements(taxa: Taxa, plant: Plant) -> Iterator[Row]:
    """What each source says of a plant, inherited statements too."""
    return (row for row in taxa.base.rows(plant.n) if row.source != "resolved")


def _share(what: str, plants: list[Plant] | tuple[Plant, ...], traits: tuple[str, ...], taxa: Taxa) -> Agreement:
    agreement = Agreement(what)
    for plant in plants:
        agreement.add(any(trait in taxa.values(plant) for trait in traits), plant.botanical)
    return agreement
