"""The user's own folder: laid over ours card by card and line by line, part of the base, and named in full in faults."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from askplant import where
from askplant.base import cache, deck
from askplant.base.build import build
from askplant.base.cards import Card
from askplant.base.checks import check
from askplant.base.opened import Base
from askplant.errors import FileError

Put = Callable[[str, str], Path]

SOURCE = '[demo-nursery]\ntitle = "Demo nursery, own measurements"\npublisher = ""\nyear = "2026"\nbasis = "observed"\n'


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """A folder of one's own that does not exist yet."""
    return tmp_path / "own things" / "plants of ours"


@pytest.fixture
def put(own: Path) -> Put:
    """Puts a text into a file of the own folder."""

    def into(name: str, content: str) -> Path:
        path = own / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(content, encoding="utf-8")
        return path

    return into


def cards(folder: Path, own: Path) -> dict[str, Card]:
    read = deck.read(folder, own)
    assert read.faults == ()
    return {card.id: card for card in read.cards}


def told(card: Card) -> list[tuple[str, str]]:
    return [(entry.trait, entry.text) for entry in card.entries]


def test_a_folder_that_is_not_there_changes_nothing(folder: Path, own: Path) -> None:
    """Nobody need have plants of their own."""
    assert deck.read(folder, own).cards == deck.read(folder).cards


def test_new_plants_are_added_and_inherit(folder: Path, own: Path, put: Put) -> None:
    """A cultivar of the nursery's takes from our species what it does not say."""
    put("plants/ilex.txt", "Ilex glabra 'Demo Jubilee'\n    common: jubilee inkberry\n    height_grown: 3-4 ft\n")
    card = cards(folder, own)["ilex-glabra-demo-jubilee"]
    assert (card.parent_id, card.file) == ("ilex-glabra", f"{own.as_posix()}/plants/ilex.txt")
    assert list(cards(folder, own)) == sorted(cards(folder, own))


def test_lines_replace_those_of_the_same_trait(folder: Path, own: Path, put: Put) -> None:
    """All of ours of that trait go, the others stay; `-` says that it is not known after all."""
    before = cards(folder, own)["ilex-glabra"]
    put("plants/any.txt", "Ilex glabra\n    height_grown: 9-10 ft\n    deer: -\n    zone: 6a-8b\n    litter: low\n")
    after = cards(folder, own)["ilex-glabra"]
    replaced = ("height_grown", "deer", "zone_cold", "zone_warm")
    assert told(after) == [
        *((trait, text) for trait, text in told(before) if trait not in replaced),
        ("height_grown", "9-10 ft"), ("deer", "-"), ("zone_cold", "6a"), ("zone_warm", "8b"), ("litter", "low"),
    ]  # fmt: skip
    assert (after.file, after.line) == (before.file, before.line)
    assert {entry.file for entry in after.own("litter")} == {f"{own.as_posix()}/plants/any.txt"}


def test_names_are_added_and_like_is_replaced(folder: Path, own: Path, put: Put) -> None:
    """What callers of this nursery say stands beside what others say."""
    put("plants/ilex.txt", "Ilex glabra\n    common: demo berry, inkberry\n\nIlex glabra 'Densa'\n    like: nothing\n")
    after = cards(folder, own)
    assert after["ilex-glabra"].common == ("inkberry", "gallberry", "demo berry")
    assert after["ilex-glabra"].synonym == ("Prinos glaber",)
    assert after["ilex-glabra-densa"].parent_id is None


def test_what_a_species_says_anew_reaches_its_cultivars(folder: Path, own: Path, put: Put, tmp_path: Path) -> None:
    """The export of a cultivar of ours holds the nursery's value, with its source and the basis written there."""
    put("sources/ours.toml", SOURCE)
    put("plants/ilex.txt", "Ilex glabra\n    moisture: wet [demo-nursery] -- in the ditch\n")
    build(tmp_path / "own.sqlite", folder, "demo", own=own)
    base = Base.open(tmp_path / "own.sqlite")
    rows = [row for row in base.rows(base.index("ilex-glabra-densa")) if row.trait == "moisture"]
    assert [(row.value, row.source, row.basis, row.note) for row in rows] == [
        ("wet", "demo-nursery", "observed", "in the ditch")
    ]


def test_observations_are_added_as_observed(folder: Path, own: Path, put: Put, tmp_path: Path) -> None:
    """Measured by somebody, on a day; what was taken from a publication has the publication's basis."""
    put(
        "observations.csv",
        "plant,age,height,width,place,pruned,source,note,date\nIlex glabra,5,4 ft,3 ft,Demo,no,,hedge,2026-05\n"
        "Ilex glabra,8,6 ft,,,,demo-recalled,,\n",
    )
    build(tmp_path / "own.sqlite", folder, "demo", own=own)
    base = Base.open(tmp_path / "own.sqlite")
    first, second = base.observations(base.index("ilex-glabra"))
    assert (first.age, first.height, first.date, first.basis) == (5.0, 1.2192, "2026-05", "observed")
    assert (second.source, second.basis, second.date) == ("demo-recalled", "recalled", "")
    assert len(base.observations(base.index("thuja-green-giant"))) == 2


@pytest.mark.parametrize(
    "file, content, line, found",
    [
        ("plants/ilex.txt", "Ilex glabra\n    knd: shrub\n", 2, "`knd`, which is no trait"),
        ("plants/ilex.txt", "Ilex demo\n    kind: shrub [demo-none]\n", 2, "source [demo-none]"),
        ("plants/ilex.txt", "Ilex demo\n\nIlex demo\n", 3, "a second card of Ilex demo"),
        ("plants/ilex.txt", "# mine\nIlex glabra\n    like: Ilex nowhere\n", 3, "`like: Ilex nowhere`, which has no card"),
        ("plants/ilex.txt", "Ilex glabra\n    like: Ilex glabra 'Densa'\n", 2, "Ilex glabra inherits from itself"),
        ("sources/ours.toml", '[demo-opened]\ntitle = "Mine"\nbasis = "observed"\n', 1, "a second [demo-opened]"),
        ("observations.csv", "plant,age,height,width,place,pruned,source\nIlex nowhere,1,1 ft,,,,\n", 2, "plant `Ilex now"),
        ("observations.csv", "plant,age,height,width,place,pruned,source\nIlex glabra,nan,1 ft,,,,\n", 2, "age `nan`"),
        ("observations.csv", "plant,age,height,width,place,pruned,source\nIlex glabra,1,900 ft,,,,\n", 2, "height `900 ft`"),
        ("observations.csv", "plant,age,height,width,place,pruned,source,date\nIlex glabra,1,1 ft,,,,,2026-02-30\n", 2, "date"),
        ("observations.csv", "plant,age,height,width,place,pruned,source,date\nIlex glabra,1,1 ft,,,,,1 May\n", 2, "date"),
    ],
)  # fmt: skip
def test_faults_name_the_file_in_full(
    file: str, content: str, line: int, found: str, folder: Path, own: Path, put: Put
) -> None:
    """It may lie anywhere, and is not to be mixed up with ours."""
    put(file, content)
    faults = [fault for fault in deck.read(folder, own).faults if fault.found.startswith(found)]
    assert [(fault.file, fault.line) for fault in faults] == [(f"{own.as_posix()}/{file}", line)]
    assert next(finding.file for finding in check(folder, own) if finding.severity == "error") == faults[0].file


def test_doubts_stand_where_the_line_does(folder: Path, own: Path, put: Put) -> None:
    """A line of one's own that contradicts a line of ours is doubted in one's own file."""
    put("plants/ilex.txt", "Ilex glabra\n    height_label: 20 ft\n")
    (doubt,) = (finding for finding in check(folder, own) if "above height_old 12 ft" in finding.found)
    assert (doubt.file, doubt.line, doubt.severity) == (f"{own.as_posix()}/plants/ilex.txt", 2, "warning")


def test_files_that_are_not_read_are_doubted(folder: Path, own: Path, put: Put) -> None:
    """A card file saved as another kind would be passed over in silence; hidden files and backups are nobody's concern."""
    for name in ("plants/ilex.rtf", "plants/.ilex.txt.swp", "plants/ilex.txt~", "sources/ours.txt", "notes.md"):
        put(name, "")
    found = [
        finding.file.removeprefix(f"{own.as_posix()}/") for finding in check(folder, own) if finding.what == "file"
    ]
    assert found == ["plants/ilex.rtf", "sources/ours.txt"]


def test_the_base_follows_every_change(folder: Path, own: Path, put: Put, tmp_path: Path) -> None:
    """A card, a source and an observation each give another base; what else lies in the folder gives none."""

    def ready() -> Path:
        return cache.ready(traits=folder, own=own, cache=tmp_path / "cache")

    bases = [ready()]
    put("notes.txt", "nothing of ours")
    put("pictures/ilex.txt", "Ilex nowhere\n")
    assert ready() == bases[0] == cache.ready(traits=folder, cache=tmp_path / "cache")
    for name, content in (
        ("plants/ilex.txt", "Ilex demo\n    kind: shrub\n"),
        ("sources/ours.toml", SOURCE),
        ("observations.csv", "plant,age,height,width,place,pruned,source\nIlex demo,1,1 ft,,,,demo-nursery\n"),
    ):
        put(name, content)
        bases.append(ready())
    assert len(set(bases)) == 4
    assert Base.open(bases[-1]).count == 6


def test_going_back_and_forth_is_remembered_apart(
    folder: Path, own: Path, put: Put, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With and without plants of one's own, neither start has to read what has not changed."""
    monkeypatch.setattr(cache, "UNSETTLED", -1.0)
    put("plants/ilex.txt", "Ilex demo\n    kind: shrub\n")
    store, other = tmp_path / "cache", tmp_path / "other"
    found = {place: cache.ready(traits=folder, own=place, cache=store) for place in (own, other)}
    assert found[own] != found[other]

    def fail(*_: object) -> None:
        raise AssertionError("read again")

    monkeypatch.setattr(cache, "_digest", fail)
    assert {place: cache.ready(traits=folder, own=place, cache=store) for place in (own, other)} == found


@pytest.fixture
def bare(monkeypatch: pytest.MonkeyPatch) -> None:
    """No variable of the developer's shell has a say."""
    for name in (where.OWN_VARIABLE, "XDG_DATA_HOME", "LOCALAPPDATA"):
        monkeypatch.delenv(name, raising=False)


@pytest.mark.usefixtures("bare")
@pytest.mark.parametrize(
    "platform, variables, expected",
    [
        ("linux", {"HOME": "/demo"}, "/demo/.local/share/askplant/own"),
        ("linux", {"HOME": "/demo", "XDG_DATA_HOME": "/demo/xdg"}, "/demo/xdg/askplant/own"),
        ("linux", {"HOME": "/demo", "XDG_DATA_HOME": "relative"}, "/demo/.local/share/askplant/own"),
        ("linux", {"HOME": "/demo", "ASKPLANT_OWN": "/demo/plants"}, "/demo/plants"),
        ("darwin", {"HOME": "/demo"}, "/demo/Library/Application Support/askplant/own"),
        ("win32", {"HOME": "/demo", "LOCALAPPDATA": "/demo/local"}, "/demo/local/askplant/own"),
        ("win32", {"HOME": "/demo"}, "/demo/AppData/Local/askplant/own"),
    ],
)
def test_each_platform_has_its_place(
    platform: str, variables: dict[str, str], expected: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As the platform's own rules have it."""
    monkeypatch.setattr(sys, "platform", platform)
    for name, value in variables.items():
        monkeypatch.setenv(name, value)
    assert where.own_folder() == Path(expected)


@pytest.mark.usefixtures("bare")
def test_nobody_without_a_home_has_plants(monkeypatch: pytest.MonkeyPatch) -> None:
    """Never in a temporary folder: they would be lost."""

    def homeless() -> Path:
        raise RuntimeError("Could not determine home directory.")

    monkeypatch.setattr(Path, "home", homeless)
    assert where.own_folder() is None
    assert where.own_to_read() is None


@pytest.mark.usefixtures("bare")
def test_a_named_folder_that_cannot_be_read_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One that is missing is only empty; one that is there and closed would be passed over in silence."""
    monkeypatch.setenv(where.OWN_VARIABLE, str(tmp_path / "missing"))
    assert where.own_to_read() is None
    monkeypatch.setenv(where.OWN_VARIABLE, str(tmp_path))
    assert where.own_to_read() == tmp_path
    monkeypatch.setattr(os, "access", lambda *_: False)
    with pytest.raises(FileError, match="ASKPLANT_OWN"):
        where.own_to_read()
    monkeypatch.delenv(where.OWN_VARIABLE)
    assert where.own_to_read() is None
