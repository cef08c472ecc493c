"""Poison against published lists; the source of each row stands in toxicity.csv.

University of California Master Gardeners, US Army CHPPM, Alberta Agriculture, a horse health study group, and others opened;
California Poison Control / UC Davis and ASPCA / Merck recalled. Lists grade alike in words only, so the printed words are
put in three grades; numbers of one list mean nothing in another.
"""

from __future__ import annotations

from functools import partial

from askplant.base.opened import Plant
from askplant.base.values import poison_parts
from tests.published.tables import Agreement, Row, Taxa, table

GRADES = ("mild", "moderate", "serious")
IRRITANT = "skin irritant"
# Printed grade, and ours it may be; every grade means poisonous. `any` says only that a list names the plant.
SEVERITY = {
    "fatal": "serious",
    "may be fatal": "serious",
    "often fatal": "serious",
    "often fatal (kidney)": "serious",
    "serious": "serious",
    "serious (cyanide)": "serious",
    "serious in amount": "serious",
    "class 1 major": "serious",
    "respiratory and cardiac collapse": "serious",
    "moderate": "moderate",
    "moderate (cyanide)": "moderate",
    "class 1-2": "moderate",
    "class 1-2 cyanide": "moderate",
    "class 3 oxalates": "moderate",
    "gastroenteritis": "moderate",
    "mild to moderate": "moderate",
    "mild to severe": "moderate",
    "toxic": "moderate",
    "class 2 minor": "mild",
    "class 2 and 4": "mild",
    "mild": "mild",
    "dermatitis": IRRITANT,
    "class 4 dermatitis": IRRITANT,
    "unrated": "any",
    "listed toxic": "any",
    "treat with caution": "any",
    "slow, large amounts": "any",
    "laminitis": "any",
}
WHOM = {
    "people": ("people",),
    "dogs": ("dogs",),
    "cats": ("cats",),
    "horses": ("horses", "livestock"),
    "livestock": ("livestock", "horses"),
    "people and pets": ("people", "dogs"),
}


def test_every_printed_word_has_a_meaning() -> None:
    for row in table("toxicity"):
        assert row["severity"] in SEVERITY, row
        assert row["to_whom"] in WHOM, row


def test_listed_plants_are_poisonous_in_the_base(taxa: Taxa) -> None:
    """To those the list names."""
    agreement = Agreement("poisonous to those the list names")
    for row in table("toxicity"):
        agreement.add_row(taxa, row, "taxon", partial(_warned, taxa, row))
    agreement.holds(0.9, rows=75)


def test_severity_is_within_a_grade(taxa: Taxa) -> None:
    agreement = Agreement("severity of poison within a grade")
    for row in table("toxicity"):
        if SEVERITY[row["severity"]] in GRADES:
            agreement.add_row(taxa, row, "taxon", partial(_alike, taxa, row))
    agreement.holds(0.9, rows=60)


def test_no_listed_plant_is_called_safe(taxa: Taxa) -> None:
    """A card that says `none known` outright would send a caller to a plant that a list names as poisonous."""
    safe = {
        f"{plant.botanical}: {row['source']}"
        for row in table("toxicity")
        for plant in taxa.bearers(row["taxon"])
        if taxa.words(plant, "poison") == {"none known"}
    }
    assert not safe, "\n".join(sorted(safe))


def _grades(taxa: Taxa, plant: Plant, whom: str) -> set[str]:
    said = [poison_parts(word) for word in taxa.words(plant, "poison")]
    return {severity for who, severity, _ in said if who in WHOM[whom]}


def _warned(taxa: Taxa, row: Row, plant: Plant) -> bool | None:
    if not taxa.words(plant, "poison"):
        return None
    grades = _grades(taxa, plant, row["to_whom"]) - {"none known"}
    return bool(grades) and (SEVERITY[row["severity"]] != IRRITANT or bool(grades & {IRRITANT, "mild", "moderate"}))


def _alike(taxa: Taxa, row: Row, plant: Plant) -> bool | None:
    wanted = GRADES.index(SEVERITY[row["severity"]])
    grades = _grades(taxa, plant, row["to_whom"])
    held = [0 if grade == IRRITANT else GRADES.index(grade) for grade in grades if grade in (*GRADES, IRRITANT)]
    return abs(max(held) - wanted) <= 1 if held else None
