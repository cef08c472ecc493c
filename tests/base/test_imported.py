"""Rows of the export become cards that export the same rows; what does not hold is told cell by cell, never guessed."""

from __future__ import annotations

import csv
import io
import shutil
import tempfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from askplant import where
from askplant.base import deck, export, own, written
from askplant.base.build import build
from askplant.base.cells import NEEDED
from askplant.base.imported import Imported, imported
from askplant.base.opened import Base
from askplant.quantities.months import NAMES

from .test_properties import CARDS, DICTIONARY, base_of


def exported(base: Base) -> str:
    stream = io.StringIO()
    export.write_csv(base, stream)
    return stream.getvalue()


def without_plants(traits: Path, place: Path) -> Path:
    """A copy of a traits folder that has no plants of its own."""
    shutil.copytree(traits, place, ignore=shutil.ignore_patterns("*.txt", "observations.csv"))
    for name in ("vocabulary", "plants"):
        (place / name).mkdir(exist_ok=True)
    return place


def brought_in(text: str, traits: Path, folder: Path) -> Imported:
    rows = list(enumerate(csv.DictReader(io.StringIO(text)), 2))
    return imported(rows, "demo.csv", deck.read(traits, folder))


def around(base: Base, traits: Path, place: Path) -> str:
    """The export of what the export of a base has been imported into."""
    bare, folder = without_plants(traits, place / "bare"), place / "own"
    found = brought_in(exported(base), bare, folder)
    assert found.faults == ()
    assert found.plants == base.count
    own.add_cards(folder, found.texts)
    build(place / "again.sqlite", bare, "demo", own=folder)
    again = Base.open(place / "again.sqlite")
    text = exported(again)
    again.close()
    return text


def test_every_plant_of_ours_goes_around(real_base: Base, tmp_path: Path) -> None:
    """All rows of all plants come back as they were: values, sources, notes and what was resolved between them."""
    before, after = exported(real_base), around(real_base, where.folder("traits"), tmp_path)
    assert before.count("\n") > 50_000
    assert after.splitlines() == before.splitlines()
    files = sorted(path.stem for path in (tmp_path / "own" / "plants").iterdir())
    assert files == sorted({plant.genus.lower() for plant in real_base.plants()})


@settings(max_examples=15, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(CARDS.map(lambda cards: [lines for lines in cards if lines]).filter(bool))
def test_any_cards_go_around(cards: list[list[Any]]) -> None:
    """Whatever cards say, and whatever their cultivars leave unsaid."""
    with tempfile.TemporaryDirectory() as place:
        base = base_of(cards, place)
        assert around(base, Path(place) / "traits", Path(place)) == exported(base)
        base.close()


@settings(max_examples=300, deadline=None, derandomize=True)
@given(
    st.sampled_from(["height_grown", "growth_per_year", "ph", "lag_years"]),
    st.integers(0, 800_000),
    st.integers(0, 90_000),
)
def test_any_length_can_be_written(trait: str, low: int, more: int) -> None:
    """To a tenth of a millimetre, in whatever unit it is read back as the same number."""
    ends = (low / 10_000, (low + more) / 10_000)
    text = written.of_range(DICTIONARY.traits[trait], *ends, DICTIONARY)
    meaning = DICTIONARY.parse(trait, text)
    assert (meaning.low, meaning.high) == ends


@pytest.mark.parametrize(
    "low, high, text",
    [
        (1.524, 2.4384, "5-8 ft"),
        (0.3048, 0.4572, "12-18 in"),
        (3.048, 3.048, "10 ft"),
        (1.3716, 1.8288, "4.5-6 ft"),
        (0.4, 0.6, "40-60 cm"),
        (0.6, 0.9, "0.6-0.9 m"),
        (1.25, 12.5, "1.25-12.5 m"),
        (1.2346, 2.0, "1.2346-2 m"),
    ],
)
def test_lengths_are_written_as_people_say_them(low: float, high: float, text: str) -> None:
    """Feet and inches where they are exact, else metric."""
    assert written.of_range(DICTIONARY.traits["height_grown"], low, high, DICTIONARY) == text


@pytest.mark.parametrize(
    "value, text",
    [
        ("5; 6", "May-June"),
        ("1; 2; 11; 12", "November-February"),
        ("4; 9", "April, September"),
        ("; ".join(map(str, range(1, 13))), "January-December"),
        ("13", "13"),
        ("May; June", "May, June"),
    ],
)
def test_months_are_written_by_name(value: str, text: str) -> None:
    """Runs joined; what is no number of a month is left for the reader of cards to refuse."""
    assert written.of_words(DICTIONARY.traits["bloom"], value) == text
    assert NAMES[4] == "May"


HEAD = ("plant", "botanical", "trait", "low", "high", "value", "unit", "source", "basis", "note")
ROW = dict.fromkeys(HEAD, "") | {"botanical": "Ilex demo", "trait": "light", "value": "full sun"}
HEIGHT = ROW | {"trait": "height_grown", "low": "1.524", "high": "2.4384", "value": "", "unit": "m"}


def refused(folder: Path, *rows: dict[str, str], comma: bool = False) -> list[str]:
    """The faults of rows that are imported beside the demo plants, as place and what was found."""
    read = deck.read(folder, folder.parent / "own")
    found = imported(enumerate(rows, 2), "demo.csv", read, comma)
    return [f"{fault.place}: {fault.found}" for fault in found.faults]


@pytest.mark.parametrize(
    "row, place, found",
    [
        ({"botanical": "ilex demo"}, "botanical", "`ilex demo`"),
        ({"botanical": ""}, "botanical", "``"),
        ({"plant": "ilex-other"}, "plant", "`ilex-other` of Ilex demo"),
        ({"trait": "lihgt"}, "trait", "`lihgt`"),
        ({"value": "full sum"}, "value", "light `full sum`"),
        ({"value": ""}, "value", "nothing"),
        ({"source": "demo-opend"}, "source", "`demo-opend`"),
        ({"basis": "observed"}, "basis", "`observed`"),
        ({"source": "demo-opened", "basis": "recalled"}, "basis", "`recalled`"),
        ({"unit": "m"}, "unit", "`m`"),
        ({"low": "5"}, "low", "`5` for light"),
        ({"note": "caf\N{REPLACEMENT CHARACTER}"}, "note", "a sign that cannot be read in `caf\N{REPLACEMENT CHARACTER}`"),
        ({"trait": "bloom", "value": "5-Jun"}, "value", "`5-Jun`, which looks like a date"),
        ({"trait": "bloom", "value": "13"}, "value", "bloom `13`"),
        ({"trait": "zone_cold", "value": "5a-9b"}, "value", "zone_cold `5a-9b`"),
        ({"trait": "zone_cold", "value": "14a"}, "value", "zone_cold `14a`"),
        ({"trait": "poison", "value": "people"}, "value", "poison `people`"),
    ],
)  # fmt: skip
def test_words_that_do_not_hold(row: dict[str, str], place: str, found: str, folder: Path) -> None:
    """The row as spreadsheets count, and the column."""
    assert refused(folder, ROW, ROW | row) == [f"row 3, column {place}: {found}"]


@pytest.mark.parametrize(
    "cell",
    ["5-Aug", "Aug-05", "5. Aug", "8-août", "5.Mai.2026", "05/08/2026", "2026-05-08", "2026-05-08 00:00:00", "5.8.26"],
)
def test_dates_are_told_as_what_they_are(cell: str, folder: Path) -> None:
    """A spreadsheet has made them of a range; what the range was cannot be known."""
    date = f"`{cell}`, which looks like a date"
    assert refused(folder, HEIGHT | {"low": cell, "high": ""}) == [
        f"row 2, column low: {date}",
        "row 2, column high: nothing",
    ]
    assert f"row 2, column value: {date}" in refused(folder, HEIGHT | {"value": cell})


@pytest.mark.parametrize("cell", ["", "5-8", "5 ft", "-1", "1e3", "1,5", "1.5m", "NaN", "inf", "#VALUE!"])
def test_what_is_no_number(cell: str, folder: Path) -> None:
    """One number stands in one cell, in the unit that the export has."""
    assert refused(folder, HEIGHT | {"low": cell}) == [f"row 2, column low: {f'`{cell}`' if cell else 'nothing'}"]


def test_ranges_that_do_not_hold(folder: Path) -> None:
    """The larger end first, a number without its point, another unit, words where numbers belong."""
    assert refused(folder, HEIGHT | {"low": "3"}) == ["row 2, column low: 3 above 2.4384"]
    assert refused(folder, HEIGHT | {"high": "24384"}) == ["row 2, column high: 24384 m"]
    assert refused(folder, HEIGHT | {"unit": "ft"}) == ["row 2, column unit: `ft`"]
    assert refused(folder, HEIGHT | {"value": "5-8 ft"}) == ["row 2, column value: `5-8 ft`, for height_grown"]


def test_a_decimal_comma_counts_where_commas_part_no_cells(folder: Path) -> None:
    """As much of Europe writes numbers, in files parted by semicolons."""
    row = HEIGHT | {"low": "1,524", "high": "2,4384"}
    assert refused(folder, row, comma=True) == []
    assert refused(folder, row) == ["row 2, column low: `1,524`", "row 2, column high: `2,4384`"]
    assert refused(folder, HEIGHT, comma=True) == []


def test_all_faults_are_told_at_once(folder: Path) -> None:
    """Of every row and every cell, in order."""
    rows = [
        ROW | {"trait": "x", "source": "y"},
        ROW,
        HEIGHT | {"low": "a", "high": "b"},
        ROW | {"botanical": "Ilex glabra"},
    ]
    told = [line.partition(":")[0] for line in refused(folder, *rows)]
    assert told == [
        f"row {place}" for place in ("2, column trait", "2, column source", "4, column low", "4, column high")
    ]


@pytest.mark.parametrize(
    "trait, value, note",
    [
        ("pests", "few -- really", ""),
        ("pests", "few [demo-opened]", ""),
        ("pests", "few", "as told [demo-opened]"),
        ("pests", "few\x07", ""),
        ("pests", "-", ""),
    ],
)
def test_what_a_card_would_read_otherwise(trait: str, value: str, note: str, folder: Path) -> None:
    """Signs that mean something on a card cannot stand in a text; a dash alone means that it is not known."""
    told = refused(folder, ROW | {"trait": trait, "value": value, "note": note})
    assert len(told) == (0 if value == "-" else 1)
    assert all(line.startswith("row 2: ") for line in told)


def test_contradictions_are_told_by_the_reader_of_cards(folder: Path) -> None:
    """Known and not known at once."""
    (told,) = refused(folder, ROW, ROW | {"value": "-"})
    assert told == "row 2: light `full sun` on a card that also says `light: -`"


def cards_of(folder: Path, *rows: dict[str, str]) -> dict[str, str]:
    found = imported(enumerate(rows, 2), "demo.csv", deck.read(folder, folder.parent / "own"))
    assert found.faults == ()
    return found.texts


def test_cards_are_written_as_people_write_them(folder: Path) -> None:
    """One file a genus, a species before its cultivars, traits in the dictionary's order, both zones on one line."""
    texts = cards_of(
        folder,
        ROW | {"botanical": "Ilex demo 'Second'", "note": "thin\nin  shade"},
        ROW | {"trait": "zone_warm", "value": "9b", "source": "demo-opened"},
        ROW | {"trait": "zone_cold", "value": "5a", "source": "demo-opened"},
        HEIGHT | {"source": "demo-recalled", "basis": "recalled"},
        HEIGHT | {"source": "resolved", "low": "9", "high": "9"},
        dict.fromkeys(HEAD, " "),
        ROW | {"botanical": "× Thujopsis x demoensis", "trait": "fruit_colour", "value": "red; blue"},
    )
    assert texts == {
        "ilex.txt": (
            "Ilex demo\n    height_grown: 5-8 ft [demo-recalled]\n    zone: 5a-9b [demo-opened]\n\n"
            "Ilex demo 'Second'\n    light: full sun -- thin in  shade\n    height_grown: -\n    zone_cold: -\n"
            "    zone_warm: -\n\n"
        ),
        "thujopsis.txt": "× Thujopsis × demoensis\n    fruit_colour: red, blue\n\n",
    }


def test_zones_without_a_partner_stand_alone(folder: Path) -> None:
    """Of other sources, or only one of the two, or the warmer first, as somebody may have it."""
    cold = ROW | {"trait": "zone_cold", "value": "7a"}
    warm = ROW | {"trait": "zone_warm", "value": "6b"}
    assert cards_of(folder, cold)["ilex.txt"] == "Ilex demo\n    zone_cold: 7a\n\n"
    assert cards_of(folder, cold, warm)["ilex.txt"] == "Ilex demo\n    zone_cold: 7a\n    zone_warm: 6b\n\n"
    other = warm | {"value": "9b", "source": "demo-opened"}
    assert (
        cards_of(folder, cold, other)["ilex.txt"] == "Ilex demo\n    zone_cold: 7a\n    zone_warm: 9b [demo-opened]\n\n"
    )


def test_a_cultivar_alone_inherits_as_ever(folder: Path) -> None:
    """Only where its species stands in the same rows is what it lacks unknown."""
    row = ROW | {"botanical": "Ilex glabra 'Demo Jubilee'"}
    assert cards_of(folder, row)["ilex.txt"] == "Ilex glabra 'Demo Jubilee'\n    light: full sun\n\n"


def test_cards_that_are_there_are_not_written_over(folder: Path) -> None:
    """Whoever wrote them is told where they stand; plants of ours may be laid over."""
    place = folder.parent / "own"
    own.add_cards(place, {"ilex.txt": "# mine\nIlex demo\n    kind: shrub\n"})
    (told,) = refused(folder, ROW, ROW | {"botanical": "Ilex glabra"})
    assert told == f"row 2, column botanical: Ilex demo, which has a card at {place.as_posix()}/plants/ilex.txt:2"


def test_the_columns_needed_are_those_of_the_export() -> None:
    """What cannot be told without them."""
    assert set(NEEDED) < set(export.HEADER)
