"""The opened base: what it hands out, and what it says of files that are not one."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from askplant.base.opened import Base
from askplant.errors import BaseError, UnknownPlant


def test_a_plant_and_its_kin(base: Base) -> None:
    """Names as lists, the parent as a number."""
    densa = base.plant(base.index("ilex-glabra-densa"))
    assert (densa.botanical, densa.genus, densa.epithet, densa.family) == (
        "Ilex glabra 'Densa'",
        "Ilex",
        "Densa",
        "Aquifoliaceae",
    )
    assert densa.parent == base.index("ilex-glabra")
    assert densa.heard == ("Demo Selling Name",)
    assert densa.common == ()
    assert base.plant(base.index("thuja-green-giant")).parent is None


def test_unknown_plants(base: Base) -> None:
    """An id or a number that no card bears."""
    with pytest.raises(UnknownPlant, match="ilex-verticillata"):
        base.index("ilex-verticillata")
    with pytest.raises(UnknownPlant):
        base.plant(5)


@pytest.mark.parametrize("condition", ["height", "persistence", "zone", "safe_for", "bloom", "form", "invasive"])
def test_judged_sets_tile_everyone(base: Base, condition: str) -> None:
    """Each plant is in exactly one set."""
    together = 0
    for _, bits in base.judged(condition):
        assert not together & bits
        together |= bits
    assert together == base.everyone == 0b11111


def test_judged_values_have_one_shape_a_type(base: Base) -> None:
    """Ranges as pairs, words sorted, zones as numbers, what is not known as nothing."""

    def value(condition: str, plant: str) -> list[object]:
        bit = 1 << base.index(plant)
        return next(value for value, bits in base.judged(condition) if bits & bit)

    assert value("zone", "ilex-glabra") == [8, None, 17]
    assert value("form", "ilex-glabra") == [["rounded", "upright"], [1.524, 2.4384], [1.524, 2.4384]]
    assert value("deer", "ilex-glabra") == ["seldom severely damaged"]
    assert value("safe_for", "ilex-glabra") == [[["dogs", "mild", "fruit, leaves"], ["people", "mild", "fruit"]], None]
    assert value("bloom", "ilex-glabra") == [[5, 6], None]
    assert value("invasive", "ilex-glabra") == [None, None]
    assert value("native", "ilex-glabra") == [["FL", "NC", "NJ"]]


def test_conditions_without_reads_have_no_sets(base: Base) -> None:
    """Kinship is judged by names."""
    assert base.judged("taxon") == ()


def test_resolved_values_are_for_display(base: Base) -> None:
    """The value that was taken, its note, its sources, and why."""
    values = base.resolved(base.index("ilex-glabra"))
    height = values["height_grown"]
    assert (height.low, height.high, height.unit, height.sources) == (
        1.524,
        2.4384,
        "m",
        ("demo-opened", "demo-recalled"),
    )
    assert height.why == "2 sources disagree: 5–8 ft (demo-opened), 6–10 ft (demo-recalled); took the opened one"
    assert (height.basis, height.words, height.text) == ("opened", (), "")
    light = values["light"]
    assert light.words == ("full sun", "part sun", "part shade")
    assert (light.note, light.why, light.sources) == ("thinner and leggy in shade", "", ())
    assert values["leaf"].words == ("spatula-shaped; leathery, glossy",)
    assert values["zone_cold"].text == "5a"
    assert values["poison"].words == ("people: mild: fruit", "dogs: mild: fruit, leaves")


def test_names_and_phrases_are_found_by_their_first_word(base: Base) -> None:
    """What the reader asks, word by word."""
    (name,) = [name for name in base.names_starting("inkberry") if name.words == ("inkberry",)]
    assert name.shown == "Ilex glabra"
    assert base.index("ilex-glabra") in name.plants
    (number,) = base.phrases_starting("deer")["proof"][""]
    assert base.entry(number)["conditions"] == [{"trait": "deer", "test": "at_least", "values": ["rarely damaged"]}]
    assert base.names_starting("nobody") == []
    assert base.names_starting("inkberry") is base.names_starting("inkberry")
    assert name in base.names()


def test_known_and_ordinary_words(base: Base) -> None:
    """Words of phrases come before words of names, misspellings last; ordinary words are a list of their own."""
    known = base.known_words()
    assert known["evergreen"] == "phrase"
    assert known["inkberry"] in ("plant", "species")
    assert known["blew"] == "misspelt"
    assert base.is_ordinary("water")
    assert not base.is_ordinary("inkberry")


def test_declarations_are_in_the_base(base: Base) -> None:
    """Whoever answers need not read the dictionary's files."""
    assert base.traits()["deer"].values[0] == "frequently severely damaged"
    assert base.traits()["height_grown"].unit == "m"
    assert base.conditions()["zone"].reads == ("zone_cold", "zone_shelter", "zone_warm")
    assert base.conditions()["deer"].scale
    assert base.conditions()["bloom"].values[0] == 1


def test_claims_of_names_are_in_the_base(base: Base) -> None:
    """Each form of a word with what it claims."""
    assert base.claims() == [("nanus", "small", "latin"), ("nana", "small", "latin"), ("nanum", "small", "latin")]


def test_sources_and_observations(base: Base) -> None:
    """A key's publication, and the measured sizes, youngest first."""
    source = base.source("demo-opened")
    assert source is not None
    assert (source.title, source.year, source.basis) == ("Demo bulletin of shrubs", "1999", "opened")
    assert base.source("demo") is None
    first, second = base.observations(base.index("thuja-green-giant"))
    assert (first.age, second.age, second.pruned, first.width) == (3.0, 10.0, "no", None)
    assert base.observations(base.index("ilex-glabra")) == []


def test_names_with_strange_signs_are_opened(built: Path, tmp_path: Path) -> None:
    """A question mark, a hash or a per cent sign in a path is part of the path."""
    odd = tmp_path / "a?b#c%20d"
    odd.mkdir()
    moved = built.rename(odd / "base ?.sqlite")
    assert Base.open(moved).count == 5


@pytest.mark.parametrize(
    "content, complaint",
    [
        (b"", "not a built base"),
        (b"plants,height\n", "not a built base"),
        (b"SQLite format 3\0" + b"\0" * 84, "damaged|malformed"),
    ],
)
def test_other_files_are_refused(content: bytes, complaint: str, tmp_path: Path) -> None:
    """The complaint names the file."""
    path = tmp_path / "other.sqlite"
    path.write_bytes(content)
    with pytest.raises(BaseError, match=complaint) as caught:
        Base.open(path)
    assert str(path) in str(caught.value)
    assert caught.value.status == 4


def test_missing_and_unreadable_files_are_named(tmp_path: Path) -> None:
    """A path that is not there, and one that is a folder."""
    for path in (tmp_path / "nowhere.sqlite", tmp_path):
        with pytest.raises(BaseError) as caught:
            Base.open(path)
        assert str(path) in str(caught.value)


def test_a_file_cut_short_is_damaged(built: Path) -> None:
    """The header tells how long the file should be."""
    built.write_bytes(built.read_bytes()[:-4096])
    with pytest.raises(BaseError, match="damaged"):
        Base.open(built)


def test_damage_further_in_is_told_when_it_is_met(built: Path) -> None:
    """Pages are not read at opening; a bad one is a BaseError of whoever meets it, and the thorough look finds it."""
    connection = sqlite3.connect(built)
    ((page,),) = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'vals'")
    ((size,),) = connection.execute("PRAGMA page_size")
    connection.close()
    data = bytearray(built.read_bytes())
    data[(page - 1) * size : page * size] = b"\xa5" * size
    built.write_bytes(data)
    base = Base.open(built)
    assert not base.is_sound()
    assert base.plant(0).id == "ilex-glabra"
    with pytest.raises(BaseError, match="damaged"):
        base.resolved(0)


def test_a_base_of_another_form_is_refused(built: Path) -> None:
    """It may be sound, but this program does not read it."""
    connection = sqlite3.connect(built)
    connection.execute("UPDATE meta SET value = '0' WHERE key = 'format'")
    connection.commit()
    connection.close()
    with pytest.raises(BaseError, match="form 0"):
        Base.open(built)


def test_opening_imports_nothing_heavy(built: Path) -> None:
    """Neither the builder nor the readers of text files come along."""
    code = (
        "import sys; from pathlib import Path; from askplant.base.opened import Base; from askplant.base import cache\n"
        f"b = Base.open(cache.ready(Path({str(built)!r}))); b.resolved(0); b.judged('height'); b.known_words()\n"
        "heavy = {'sqlite_utils', 'lark', 'tomllib', 'csv', 'tempfile', 'hashlib', 'rapidfuzz'}\n"
        "print(*heavy & set(sys.modules))"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60)
    assert run.stdout.split() == []
