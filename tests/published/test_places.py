"""The zones of US states in the vocabulary against the published ranges.

USDA Plant Hardiness Zone Map 2012, as a list of all states has it (opened) and as recalled. Where the two agree that range
counts, else the recalled one, for the opened list is wrong in places; state_zone_ranges.csv holds both with their sources.
"""

from __future__ import annotations

import re
from collections import defaultdict
from typing import NamedTuple

import pytest

from askplant import where
from askplant.base.opened import Base
from askplant.quantities import zones
from askplant.reading.read import read
from tests.published.tables import Row, by_taxon, table

_PLACE = re.compile(r"^@place\b(?P<marks>.*)$", re.MULTILINE)
_MARK = re.compile(r"(\w+)=(\S+)")


def counted(rows: list[Row]) -> Row:
    """The row of a state that counts."""
    opened = [row for row in rows if row["opened"] == "yes" and row["opened_and_memory_agree"] == "yes"]
    recalled = [row for row in rows if row["opened"] == "memory"]
    return (opened or recalled)[0]


STATES = {
    code: counted(rows)
    for code, rows in by_taxon(table("state_zone_ranges"), "code")
    if any(r["opened"] == "memory" for r in rows)
}


# The map of 2023 is warmer than that of 2012 by half a zone in many places (USDA, 2023).
WARMER = 1


class Place(NamedTuple):
    """A place of the vocabulary: its state, whether it lies within it, and its coldest and warmest half-zone."""

    code: str
    town: bool
    name: str
    coldest: str
    warmest: str


def vocabulary() -> list[Place]:
    """The places with a range."""
    text = (where.folder("traits") / "vocabulary" / "places.txt").read_text(encoding="utf-8")
    found = []
    for line in _PLACE.finditer(text):
        marks = dict(_MARK.findall(line["marks"]))
        coldest, _, warmest = marks["zones"].partition("-")
        found.append(Place(marks["code"], "town" in marks, marks["name"], coldest, warmest or coldest))
    return found


def of_states() -> dict[str, set[tuple[str, str]]]:
    """The ranges of each postal code."""
    found: dict[str, set[tuple[str, str]]] = defaultdict(set)
    for place in vocabulary():
        if not place.town:
            found[place.code].add((place.coldest, place.warmest))
    return found


def test_every_state_is_there() -> None:
    assert len(STATES) == 51
    assert STATES.keys() <= of_states().keys()


@pytest.mark.parametrize("code", STATES)
def test_range_is_the_published_one(code: str) -> None:
    row = STATES[code]
    assert of_states()[code] == {(row["coldest"], row["warmest"])}, row["source"]


@pytest.mark.parametrize("code", STATES)
def test_a_state_is_read_as_its_coldest_zone(code: str, real_base: Base) -> None:
    """The coldest half-zone is what counts until the caller says better."""
    row = STATES[code]
    asked = [c for c in read(f"an evergreen shrub in {row['state']}", real_base).conditions if c.trait == "zone"]
    assert len(asked) == 1, row
    assert min(map(str, asked[0].values), key=zones.index) == row["coldest"], row["source"]


@pytest.mark.parametrize("town", [place for place in vocabulary() if place.town], ids=lambda town: town.name)
def test_a_town_lies_within_its_state_and_tells_more(town: Place) -> None:
    """Its range is inside that of the state, and narrower: else it need not be listed."""
    ((low, high),) = of_states()[town.code]
    coldest, warmest = zones.index(low), zones.index(high)
    assert coldest <= zones.index(town.coldest) <= zones.index(town.warmest) <= warmest + WARMER
    assert zones.index(town.warmest) - zones.index(town.coldest) < max(warmest - coldest, 1)
