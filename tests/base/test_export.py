"""The export, row by row."""

from __future__ import annotations

import csv
import io

from askplant.base import export
from askplant.base.opened import Base


def exported(base: Base) -> list[dict[str, str]]:
    stream = io.StringIO()
    count = export.write_csv(base, stream)
    rows = list(csv.DictReader(io.StringIO(stream.getvalue())))
    assert len(rows) == count
    return rows


def of(base: Base, plant: str, trait: str) -> list[tuple[str, ...]]:
    return [
        tuple(row[key] for key in ("low", "high", "value", "unit", "source", "basis", "note"))
        for row in exported(base)
        if row["plant"] == plant and row["trait"] == trait
    ]


def test_the_header_is_the_published_one(base: Base) -> None:
    """Names and order of the columns."""
    stream = io.StringIO()
    export.write_csv(base, stream, plants=[])
    assert stream.getvalue() == "plant,botanical,trait,low,high,value,unit,source,basis,note\n"


def test_lengths_fill_low_and_high_in_metres(base: Base) -> None:
    """Where sources disagree each has its row, and the resolved value follows."""
    assert of(base, "ilex-glabra", "height_grown") == [
        ("1.524", "2.4384", "", "m", "demo-opened", "opened", ""),
        ("1.8288", "3.048", "", "m", "demo-recalled", "recalled", ""),
        (
            "1.524",
            "2.4384",
            "",
            "m",
            "resolved",
            "opened",
            "2 sources disagree: 5–8 ft (demo-opened), 6–10 ft (demo-recalled); took the opened one",
        ),
    ]


def test_words_fill_value(base: Base) -> None:
    """Several are joined; months are numbers; a zone is its half-zone."""
    note = "thinner and leggy in shade"
    assert of(base, "ilex-glabra", "light") == [
        ("", "", "full sun; part sun; part shade", "", "", "common practice", note)
    ]
    assert of(base, "ilex-glabra", "bloom") == [("", "", "5; 6", "", "", "common practice", "")]
    assert of(base, "ilex-glabra", "zone_cold") == [("", "", "5a", "", "demo-opened", "opened", "")]
    assert of(base, "thuja-occidentalis", "zone_warm") == [("", "", "7b", "", "", "common practice", "")]
    assert of(base, "ilex-glabra", "heat_zone") == [("4", "9", "", "", "", "common practice", "")]
    assert of(base, "ilex-glabra", "growth_per_year") == [("0.1016", "0.2032", "", "m", "", "common practice", "")]


def test_inherited_values_are_written_out(base: Base) -> None:
    """With the source they have on the parent's card; what a dash blocks is not there."""
    assert of(base, "ilex-glabra-densa", "deer") == of(base, "ilex-glabra", "deer")
    assert of(base, "ilex-glabra-densa", "native") == []
    assert {row["botanical"] for row in exported(base) if row["plant"] == "ilex-glabra-densa"} == {
        "Ilex glabra 'Densa'"
    }


def test_only_facts_are_exported(base: Base) -> None:
    """Sentences a card gives for the answer stay in the base."""
    assert "virtue" in base.resolved(base.index("ilex-glabra"))
    assert "virtue" not in {row["trait"] for row in exported(base)}


def test_plants_are_in_order_of_id(base: Base) -> None:
    """All rows of a plant stand together."""
    plants = list(dict.fromkeys(row["plant"] for row in exported(base)))
    assert plants == sorted(base.ids)
