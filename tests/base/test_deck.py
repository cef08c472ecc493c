"""The folder as a whole: dictionary, sources, parents and observations."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from askplant.base import deck
from askplant.errors import CardError

Write = Callable[[str, str | bytes], Path]


def parents(folder: Path) -> dict[str, str | None]:
    return {card.id: card.parent_id for card in deck.read(folder).cards}


def test_parents_come_from_names_or_from_like(folder: Path) -> None:
    """A cultivar inherits from its species' card; `like:` names another, or nothing."""
    assert parents(folder) == {
        "ilex-glabra": None,
        "ilex-glabra-densa": "ilex-glabra",
        "ilex-meserveae-blue-prince": "ilex-glabra",
        "thuja-green-giant": None,
        "thuja-occidentalis": None,
    }


def test_the_nearest_wider_taxon_is_the_parent(folder: Path, write: Write) -> None:
    """A cultivar of a variety inherits from the variety's card where there is one, else from the species'."""
    write(
        "plants/acer.txt",
        "Acer palmatum\n    kind: tree\nAcer palmatum var. dissectum\n    form: weeping\n"
        "Acer palmatum var. dissectum 'Crimson Queen'\n    kind: shrub\n"
        "Acer palmatum var. heptalobum 'Osakazuki'\n    kind: tree\n",
    )
    found = parents(folder)
    assert found["acer-palmatum-var-dissectum"] == "acer-palmatum"
    assert found["acer-palmatum-var-dissectum-crimson-queen"] == "acer-palmatum-var-dissectum"
    assert found["acer-palmatum-var-heptalobum-osakazuki"] == "acer-palmatum"


def test_cards_are_in_order_of_id(folder: Path) -> None:
    """The order of ids is the order of plants' numbers everywhere."""
    ids = [card.id for card in deck.read(folder).cards]
    assert ids == sorted(ids)


@pytest.mark.parametrize(
    "content, line, found",
    [
        ('[demo-x]\ntitle = "Demo"\nbasis = "read"\n', 1, "basis 'read'"),
        ('\n[demo-x]\nbasis = "opened"\n', 2, "no title"),
        ('[demo-x]\ntitle = "Demo"\nbasis = "opened"\nauthor = "nobody"\n', 1, "`author`"),
        ('# again\n[demo-opened]\ntitle = "Demo"\nbasis = "opened"\n', 2, "a second [demo-opened]"),
        ('[demo-x]\ntitle = "Demo\n', 2, "illegal character '\\n'"),
        ('title = "Demo"\n', 1, "`title = …` outside any table"),
        (b'[demo-x]\ntitle = "caf\xe9"\n', 2, "byte 0xE9"),
    ],
)
def test_faults_of_sources_are_named(content: str | bytes, line: int, found: str, folder: Path, write: Write) -> None:
    """A source that is not in its form is a fault of its file and line."""
    write("sources/more.toml", content)
    (fault,) = deck.read(folder).faults
    assert (fault.file, fault.line, fault.found) == ("traits/sources/more.toml", line, found)


@pytest.mark.parametrize(
    "name, old, new, message",
    [
        ("traits.toml", 'type = "poison"', 'type = "poisson"', "type 'poisson'"),
        ("traits.toml", 'values = ["yes", "no"]', 'values = "yes"', "`values` that is no list"),
        (
            "conditions.toml",
            'reads = ["deer"]',
            'reads = ["dear"]',
            "reads `dear`; expected traits that traits.toml declares; nearest is `deer`",
        ),
        ("traits.toml", "[kind]", "[kind", "found"),
    ],
)
def test_a_broken_dictionary_stops_everything(name: str, old: str, new: str, message: str, folder: Path) -> None:
    """Without the declarations no card can be judged, so their fault is raised at once."""
    path = folder / name
    path.write_text(path.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")
    with pytest.raises(CardError) as caught:
        deck.read(folder)
    assert caught.value.file == f"traits/{name}"
    assert caught.value.line >= 1
    assert message in str(caught.value)


def test_observations_are_read_in_metres(folder: Path) -> None:
    """A measured range counts as its middle; what was not measured is not known."""
    first, second = deck.read(folder).observations
    assert (first.plant, first.age, first.pruned, first.note) == ("thuja-green-giant", 10.0, "no", "hedge")
    assert first.height == pytest.approx(19 * 0.3048, abs=1e-4)
    assert second.height == pytest.approx(6.5 * 0.3048, abs=1e-4)
    assert second.width is None


@pytest.mark.parametrize(
    "row, found",
    [
        ("Thuja plicata,10,19 ft,,,,,", "plant `Thuja plicata`, which has no card"),
        ("thuja,10,19 ft,,,,,", "plant `thuja`"),
        ("Thuja occidentalis,ten,19 ft,,,,,", "age `ten`"),
        ("Thuja occidentalis,10,19,,,,,", "height `19`"),
        ("Thuja occidentalis,10,,,,,,", "neither height nor width"),
        ("Thuja occidentalis,10,19 ft,,,maybe,,", "pruned `maybe`"),
        ("Thuja occidentalis,10,19 ft,,,,demo-open,", "source `demo-open`"),
    ],
)
def test_faults_of_observations_are_named(row: str, found: str, folder: Path, write: Write) -> None:
    """A row that is not in its form is a fault of its line."""
    write("observations.csv", f"plant,age,height,width,place,pruned,source,note\n{row}\n")
    (fault,) = deck.read(folder).faults
    assert (fault.file, fault.line, fault.found) == ("traits/observations.csv", 2, found)


def test_observations_need_their_columns(folder: Path, write: Write) -> None:
    """A file with other columns is refused as a whole."""
    write("observations.csv", "plant,height\nThuja occidentalis,19 ft\n")
    (fault,) = deck.read(folder).faults
    assert fault.found == "columns plant,height"
