"""Sizes measured at a known age against the cards and the growth curves; sources are the growth-* keys of
traits/sources/tables.toml, and each row of traits/observations.csv names its own.
"""

from __future__ import annotations

import csv

import pytest

from askplant import where
from askplant.base import botanical
from askplant.base.observations import COLUMNS, NOTE
from askplant.base.opened import Observation, Plant
from askplant.growth.course import course_of
from askplant.growth.known import known
from tests.published.tables import Agreement, Taxa, table
from tests.residuals import errors, median_and_ninth, published, share_inside

# Plants measured this young, years, cannot have passed their old size.
YOUNG = 15
# Site means of one trial differ by a third and more; a curve that is off by more than half is another plant's.
OFF = 1.5


@pytest.fixture(scope="module")
def observed(taxa: Taxa) -> list[tuple[Plant, Observation]]:
    """Every measurement with its plant."""
    return [(plant, seen) for plant in taxa.base.plants() for seen in taxa.base.observations(plant.n)]


def test_every_row_is_in_the_base(observed: list[tuple[Plant, Observation]]) -> None:
    path = where.folder("traits") / "observations.csv"
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) >= 25
    assert set(rows[0]) == {*COLUMNS, NOTE}
    assert len(rows) == len(observed)
    assert {botanical.identify(row["plant"]) for row in rows} == {plant.id for plant, _ in observed}


def test_sources_are_publications_of_growth(observed: list[tuple[Plant, Observation]], taxa: Taxa) -> None:
    for plant, seen in observed:
        source = taxa.base.source(seen.source)
        assert seen.source.startswith("growth-"), plant.botanical
        assert source is not None, seen.source
        assert source.basis in ("opened", "recalled"), plant.botanical
        assert 0 < seen.age <= 60
        assert seen.height or seen.width


def test_young_plants_are_no_taller_than_old_ones(observed: list[tuple[Plant, Observation]], taxa: Taxa) -> None:
    above, compared = [], 0
    for plant, seen in observed:
        most = taxa.values(plant)["height_old"].high or 0
        if seen.height is None or seen.age > YOUNG:
            continue
        compared += 1
        if seen.height > most:
            above.append(f"{plant.botanical}: {seen.height} m at {seen.age:g} years, old {most} m ({seen.source})")
    assert compared >= 20
    assert not above, "\n".join(above)


@pytest.mark.parametrize("alone, least", [(False, 0.9), (True, 0.8)], ids=["with measurements", "from the card alone"])
def test_curves_pass_near_the_measurements(
    alone: bool, least: float, observed: list[tuple[Plant, Observation]], taxa: Taxa
) -> None:
    """The curve of a measured plant gives its size at that age to within half as much again, either way.

    The curve that is used has seen the measurements; the one from the card alone has not.
    """
    agreement = Agreement(f"measured heights, curve{' from the card alone' if alone else ''} within half as much again")
    for plant, seen in observed:
        knows = known(taxa.base, plant.n, "height")
        course = course_of(knows._replace(seen=()) if alone else knows)
        if course is None or seen.height is None or seen.pruned == "yes":
            continue
        size = course.at(seen.age).middle
        told = f"{plant.botanical} at {seen.age:g}: curve {size:.1f} m, seen {seen.height:.1f} m ({seen.source})"
        agreement.add(1 / OFF <= size / seen.height <= OFF, told)
    agreement.holds(least, rows=25)


def test_curves_pass_near_published_sizes_at_an_age(taxa: Taxa) -> None:
    """The sizes of growth_observations.csv against the cards alone; each row names its source.

    A cultivar without a card stands against its species, which is another plant: half of all within three tenths.
    """
    found = list(published(taxa))
    assert len(found) >= 45
    half, ninth = median_and_ninth(errors(found, "alone"))
    assert half <= 0.3
    assert ninth <= 0.65
    assert share_inside(found) >= 0.7


def test_published_sizes_are_in_the_base_or_of_plants_without_a_card(taxa: Taxa) -> None:
    """Each row of the table is one of ours, or of a plant that has no card, or a statement rather than a measurement."""
    for row in table("growth_observations"):
        plant = taxa.one(row["taxon"])
        if plant is not None and "not a measurement" not in row["note"]:
            assert any(seen.age == float(row["age_years"]) for seen in taxa.base.observations(plant.n)), row
