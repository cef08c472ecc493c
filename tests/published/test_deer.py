"""Deer classes against the published ratings, A to D.

Rutgers NJAES bulletin E271 (online list opened, more rows recalled), and the four classes of Cornell Cooperative Extension
1991 as the universities of Connecticut and Iowa State copied them; the source of each row stands in deer_ratings.csv.
"""

from __future__ import annotations

from functools import partial

from askplant.base.opened import Plant
from askplant.verdicts.scales import BROWSED
from tests.published.tables import Agreement, Taxa, table

# The letters of the bulletin: rarely, seldom severely, occasionally severely, frequently severely damaged.
RATING = dict(zip("ABCD", reversed(BROWSED), strict=True))


def place(taxa: Taxa, plant: Plant) -> int | None:
    """Where a plant's class stands on the scale, worst first."""
    held = taxa.words(plant, "deer")
    return BROWSED.index(next(iter(held))) if held else None


def test_letters_are_the_classes_of_the_base(taxa: Taxa) -> None:
    assert taxa.base.traits()["deer"].values == BROWSED
    assert RATING["A"] == "rarely damaged"
    assert RATING["D"] == "frequently severely damaged"


def test_species_rows(taxa: Taxa) -> None:
    """Rows of one plant: nearly all within a class, four in five the very class."""
    near, same = Agreement("deer, species rows within a class"), Agreement("deer, species rows, the very class")
    for row in table("deer_ratings"):
        plant = taxa.one(row["botanical_name"])
        held = place(taxa, plant) if plant else None
        if plant is None or held is None:
            near.absent += " sp." not in row["botanical_name"]
            continue
        off = held - BROWSED.index(RATING[row["rating"]])
        told = f"{plant.botanical}: {row['rating']}, card {BROWSED[held]} ({row['source']})"
        near.add(abs(off) <= 1, told)
        same.add(off == 0, told)
    near.holds(0.95, rows=170)
    same.holds(0.8, rows=170)


def test_genus_rows(taxa: Taxa) -> None:
    """Rows of a genus or a part of one, by the share of its species within a class; species rows beat genus rows."""
    rated = {plant for row in table("deer_ratings") if (plant := taxa.one(row["botanical_name"]))}
    near, same = Agreement("deer, genus rows within a class"), Agreement("deer, genus rows, the very class")
    for row in table("deer_ratings"):
        if " sp." in row["botanical_name"]:
            wanted = BROWSED.index(RATING[row["rating"]])
            near.add_row(taxa, row, "botanical_name", partial(_within, taxa, rated, wanted, 1))
            same.add_row(taxa, row, "botanical_name", partial(_within, taxa, rated, wanted, 0))
    near.holds(0.95, rows=40)
    same.report()


def _within(taxa: Taxa, rated: set[Plant], wanted: int, most: int, plant: Plant) -> bool | None:
    held = place(taxa, plant)
    return None if held is None or plant in rated else abs(held - wanted) <= most
