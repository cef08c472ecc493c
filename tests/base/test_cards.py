"""The card format: what a line says, and every way in which one can be wrong."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from askplant.base import deck
from askplant.base.cards import Card, CardFaults, Entry
from askplant.base.deck import Deck

Write = Callable[[str, str | bytes], Path]

FAULTY = sorted((Path(__file__).parent / "faulty").glob("*.txt"))


def cards_of(read: Deck) -> dict[str, Card]:
    return {card.id: card for card in read.cards}


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.stem)
def test_each_fault_is_named_with_its_line(path: Path, folder: Path, write: Write) -> None:
    """The comments at the head of a faulty file say `line: message` for each of its faults; there are no others."""
    text = path.read_text(encoding="utf-8")
    expected = [line.removeprefix("# ") for line in text.splitlines() if line.startswith("# ")]
    write("plants/ilex.txt", text)
    faults = deck.read(folder).faults
    assert [str(fault).removeprefix("traits/plants/ilex.txt:") for fault in faults] == expected


def test_a_good_folder_has_no_faults(folder: Path) -> None:
    """The folder that the other tests stand on is itself in order."""
    assert deck.read(folder).faults == ()


def test_a_card_is_read_as_written(folder: Path) -> None:
    """Trait, text, source, basis, note and line of an entry are those of its line."""
    card = cards_of(deck.read(folder))["ilex-glabra"]
    assert (card.botanical, card.genus, card.epithet, card.parent_id) == ("Ilex glabra", "Ilex", None, None)
    assert (card.file, card.line) == ("traits/plants/ilex.txt", 3)
    assert card.common == ("inkberry", "gallberry")
    assert card.synonym == ("Prinos glaber",)
    assert card.own("height_grown") == (
        Entry("height_grown", "5-8 ft", "demo-opened", "opened", "", 15),
        Entry("height_grown", "6-10 ft", "demo-recalled", "recalled", "", 16),
    )
    (light,) = card.own("light")
    assert (light.text, light.note) == ("full sun, part sun, part shade", "thinner and leggy in shade")
    assert (light.source, light.basis) == ("", "common practice")


def test_zone_is_short_for_its_two_ends(folder: Path) -> None:
    """`zone: 5a-9b [key]` gives both limits with the same source and line; a whole zone means all of it."""
    cards = cards_of(deck.read(folder))
    cold, warm = cards["ilex-glabra"].own("zone_cold") + cards["ilex-glabra"].own("zone_warm")
    assert (cold.text, warm.text, cold.source, warm.source) == ("5a", "9b", "demo-opened", "demo-opened")
    assert cold.line == warm.line
    thuja = cards["thuja-occidentalis"]
    assert (thuja.own("zone_cold")[0].text, thuja.own("zone_warm")[0].text) == ("2a", "7b")


@pytest.mark.parametrize(
    "content",
    [
        b"\xef\xbb\xbfIlex glabra\n    kind: shrub\n",
        b"Ilex glabra\r\n    kind: shrub\r\n",
        b"Ilex glabra\n\tkind: shrub\n",
        b"Ilex glabra\n \t kind:shrub",
        b"\n# Ilex\n\nIlex glabra   \n\n   # bare\n    kind:   shrub   \n\n",
        "Ilex glabra\n\N{NO-BREAK SPACE}kind: shrub\n".encode(),
    ],
    ids=["byte order mark", "CRLF", "tab", "no newline at the end", "blank lines and comments", "no-break space"],
)
def test_editors_leave_their_marks(content: bytes, folder: Path, write: Write) -> None:
    """Byte order mark, line ends, tabs and stray blanks make no difference."""
    write("plants/ilex.txt", content)
    read = deck.read(folder)
    assert read.faults == ()
    assert [entry.text for entry in cards_of(read)["ilex-glabra"].entries] == ["shrub"]


@pytest.mark.parametrize(
    "content, line, found",
    [
        (b"Ilex glabra\n    leaf: caf\xe9\n    kind: bush\n", 2, "byte 0xE9"),
        ("Ilex glabra\n    kind: shrub\n".encode("utf-16"), 1, "UTF-16 text"),
    ],
)
def test_other_encodings_are_refused_with_the_line(
    content: bytes, line: int, found: str, folder: Path, write: Write
) -> None:
    """Bytes that are no UTF-8 are a fault of their line; they are never guessed at."""
    write("plants/ilex.txt", content)
    first = deck.read(folder).faults[0]
    assert (first.line, first.found, first.expected) == (line, found, "UTF-8 text")


def test_reading_goes_on_after_bytes_that_cannot_be_read(folder: Path, write: Write) -> None:
    """One bad line does not hide the next fault."""
    write("plants/ilex.txt", b"Ilex glabra\n    leaf: caf\xe9\n    kind: bush\n")
    assert [fault.line for fault in deck.read(folder).faults] == [2, 3]


def test_faults_of_all_files_are_collected(folder: Path, write: Write) -> None:
    """One run names what is wrong anywhere, in order of file and line."""
    write("plants/abies.txt", "Abies concolor\n    kind: bush\n")
    write("plants/zelkova.txt", "Zelkova serrata\n    knd: tree\n    kind: trees\n")
    places = [(fault.file, fault.line) for fault in deck.read(folder).faults]
    assert places == [
        ("traits/plants/abies.txt", 2),
        ("traits/plants/zelkova.txt", 2),
        ("traits/plants/zelkova.txt", 3),
    ]


def test_an_empty_file_is_no_fault_but_an_empty_folder_is(folder: Path, write: Write) -> None:
    """A genus file may be empty; a base without a plant cannot answer anything."""
    write("plants/ilex.txt", "")
    assert deck.read(folder).faults == ()
    write("plants/thuja.txt", "# nothing yet\n")
    assert "no card" in [fault.found for fault in deck.read(folder).faults]


def test_one_message_holds_all_faults_up_to_a_limit(folder: Path, write: Write) -> None:
    """Forty faults are listed, the rest are counted."""
    write("plants/ilex.txt", "Ilex glabra\n" + "    knd: shrub\n" * 45)
    message = str(CardFaults(deck.read(folder).faults))
    assert message.count("found `knd`") == 40
    assert message.endswith("… and 5 more")
