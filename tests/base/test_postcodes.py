"""The user's table of postal codes: read with the own folder, faults by line, and understood in a request."""

from __future__ import annotations

from pathlib import Path

import pytest

from askplant import where
from askplant.base import build, postcodes
from askplant.base.cards import CardFaults
from askplant.base.opened import Base
from askplant.reading.read import read

# Invented codes and zones: what a real code's zone is does not matter here.
TABLE = "code,zone\n00501,7b\n1234,5\nK1A,5a\n"


def test_codes_are_read_with_their_coldest_half_zone(tmp_path: Path) -> None:
    """A code that lost its leading nought to a spreadsheet is filled up again."""
    (tmp_path / postcodes.NAME).write_text(TABLE, encoding="utf-8")
    assert postcodes.read(tmp_path, "own") == ({"00501": "7b", "01234": "5a", "K1A": "5a"}, [])


@pytest.mark.parametrize(
    "text, fault",
    [
        ("zip,zone\n00501,7b\n", "own/postcodes.csv:1: found columns zip, zone; expected columns code, zone"),
        ("code,zone\nabc,7b\n", "own/postcodes.csv:2: found 'abc', '7b'; expected a five-digit US code"),
        ("code,zone\n00501,warm\n", "own/postcodes.csv:2: found '00501', 'warm'; expected a hardiness zone"),
    ],
)
def test_a_bad_table_is_named_by_line(tmp_path: Path, text: str, fault: str) -> None:
    """File, line, what was found and what was expected."""
    (tmp_path / postcodes.NAME).write_text(text, encoding="utf-8")
    _, faults = postcodes.read(tmp_path, "own")
    assert str(faults[0]).startswith(fault)


def test_a_request_may_name_a_postal_code(tmp_path: Path) -> None:
    """The zone of the table, with a note; a code the table does not hold is no zone."""
    (tmp_path / postcodes.NAME).write_text(TABLE, encoding="utf-8")
    build.build(tmp_path / "base", where.folder("traits"), "demo", own=tmp_path)
    base = Base.open(tmp_path / "base")
    for said, zone in (("evergreen, 00501", "7b"), ("evergreen in K1A 0B1", "5a")):
        (found,) = [condition for condition in read(said, base).conditions if condition.trait == "zone"]
        assert found.values == (zone,)
    assert not [condition for condition in read("evergreen, 99999", base).conditions if condition.trait == "zone"]


def test_a_bad_table_stops_the_build(tmp_path: Path) -> None:
    """Nothing is built from half a table."""
    (tmp_path / postcodes.NAME).write_text("code,zone\n00501,warm\n", encoding="utf-8")
    with pytest.raises(CardFaults, match=r"postcodes\.csv:2"):
        build.build(tmp_path / "base", where.folder("traits"), "demo", own=tmp_path)
