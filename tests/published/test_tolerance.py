"""Drought, salt and wet ground against published lists; the source of each row stands in drought_salt_wet.csv.

Salt spray: Journal of Arboriculture 1(1), 1975, injury 1 (none) to 5 (extreme). Soil salt: a three-class list. Wet ground:
Southern Regional Extension Forestry, bottomland hardwoods. Drought: Oklahoma State University HLA-6439 and others.
"""

from __future__ import annotations

from functools import partial

from askplant.base.opened import Plant
from tests.published.tables import Agreement, Row, Taxa, by_taxon, table

SALT = ("sensitive", "moderate", "tolerant")
# What each printed word may be in ours: classes of drought and salt, and below the classes of moisture for wet ground.
WORDS: dict[tuple[str, str], set[str]] = {
    ("drought", "tolerant once established"): {"tolerant"},
    ("drought", "dry areas"): {"tolerant"},
    ("drought", "sensitive"): {"sensitive"},
    ("salt", "tolerant"): {"tolerant"},
    ("salt", "moderate"): {"moderate"},
    ("salt soil", "tolerant"): {"tolerant"},
    ("salt soil", "moderate"): {"moderate"},
    ("salt soil", "sensitive"): {"sensitive"},
    ("salt spray", "tolerant"): {"tolerant"},
    ("salt spray", "1"): {"tolerant"},
    ("salt spray", "1-2"): {"tolerant"},
    ("salt spray", "1-3"): {"tolerant", "moderate"},
    ("salt spray", "2"): {"tolerant", "moderate"},
    ("salt spray", "2-3"): {"moderate"},
    ("salt spray", "3"): {"moderate"},
    ("salt spray", "3-4"): {"moderate", "sensitive"},
    ("salt spray", "4"): {"sensitive"},
    ("salt spray", "4-5"): {"sensitive"},
    ("salt spray", "5"): {"sensitive"},
}
WET = {
    "very tolerant": {"wet"},
    "tolerant": {"wet"},
    "wet areas": {"wet"},
    # Between: stands neither drought nor long floods, so moist ground or wet.
    "intermediate": {"moist", "wet"},
    "intolerant": {"dry", "average", "moist"},
    "very intolerant": {"dry", "average", "moist"},
}


def test_every_printed_word_has_a_meaning() -> None:
    for row in table("drought_salt_wet"):
        known = row["rating"] in WET if row["trait"] == "wet" else (row["trait"], row["rating"]) in WORDS
        assert known, row


def test_drought(taxa: Taxa) -> None:
    agreement = Agreement("drought lists")
    for row in table("drought_salt_wet"):
        if row["trait"] == "drought":
            wanted = WORDS[row["trait"], row["rating"]]
            agreement.add_row(taxa, row, "taxon", taxa.has("drought", wanted))
    agreement.holds(0.9, rows=45)


def test_salt(taxa: Taxa) -> None:
    """The trait holds the worse of spray and soil salt, so a card may be worse than one row where another is as bad."""
    agreement = Agreement("salt lists")
    worst = _worst(taxa)
    for row in table("drought_salt_wet"):
        if row["trait"].startswith("salt"):
            wanted = WORDS[row["trait"], row["rating"]]
            agreement.add_row(taxa, row, "taxon", partial(_salt, taxa, wanted, worst))
    agreement.holds(0.9, rows=130)


def test_wet(taxa: Taxa) -> None:
    """Wet among the classes of moisture where a list says a plant stands it, and not among them where it does not."""
    agreement = Agreement("wet-ground lists")
    for row in table("drought_salt_wet"):
        if row["trait"] == "wet":
            agreement.add_row(taxa, row, "taxon", partial(_wet, taxa, row))
    agreement.holds(0.9, rows=55)


def _salt(taxa: Taxa, wanted: set[str], worst: dict[str, str], plant: Plant) -> bool | None:
    held = taxa.words(plant, "salt")
    return bool(held & (wanted | {worst[plant.botanical]})) if held else None


def _worst(taxa: Taxa) -> dict[str, str]:
    """The worst class that any salt row gives each plant; rows of the plant itself before rows of its genus."""
    found: dict[str, str] = {}
    for name, rows in by_taxon([row for row in table("drought_salt_wet") if row["trait"].startswith("salt")], "taxon"):
        grade = min((_best(row) for row in rows), key=SALT.index)
        for plant in taxa.bearers(name):
            found[plant.botanical] = min(grade, found.get(plant.botanical, grade), key=SALT.index)
    return found


def _best(row: Row) -> str:
    """The better of the classes a row's word may mean."""
    return max(WORDS[row["trait"], row["rating"]], key=SALT.index)


def _wet(taxa: Taxa, row: Row, plant: Plant) -> bool | None:
    held = taxa.words(plant, "moisture")
    if not held:
        return None
    if row["rating"].endswith("intolerant"):
        return "wet" not in held
    return bool(held & WET[row["rating"]])
