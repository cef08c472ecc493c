"""Rows of the published export → cards, one file a genus; every row that does not hold, with its place.

Nothing is guessed: what a spreadsheet has made into a date, a number without its point or a word that no trait permits
is told with its row and column, and then no card is written at all. Rows of the resolved value are left out, since it is
worked out anew from the others.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from askplant.base import botanical, cards
from askplant.base.cells import Statement, WrongCells, statement
from askplant.base.deck import Deck
from askplant.base.opened import RESOLVED
from askplant.errors import FileError
from askplant.quantities import zones

Rows = Iterable[tuple[int, Mapping[str, str]]]


class Imported(NamedTuple):
    """Card texts by the name of their file, how many plants and values they hold, and every fault of the rows."""

    texts: dict[str, str]
    plants: int
    values: int
    faults: tuple[FileError, ...]


@dataclass(slots=True)
class _Plant:
    """One plant's statements, by trait in the order of the rows."""

    name: botanical.Botanical
    row: int
    stated: dict[str, list[Statement]] = field(default_factory=dict)

    @property
    def id(self) -> str:
        return botanical.plain_id(self.name.text)


class _Line(NamedTuple):
    """One line of a card: its text, the row it comes from, and what it should be read as."""

    text: str
    row: int
    means: tuple[Statement, ...] = ()


def imported(rows: Rows, label: str, read: Deck, decimal_comma: bool = False) -> Imported:
    """The cards that rows come to; `label` names their file in faults, `read` is what the cards will be laid over.

    `decimal_comma` tells how the file writes numbers.
    """
    faults: list[FileError] = []
    plants: dict[str, _Plant] = {}
    for number, row in rows:
        if row["source"].strip() == RESOLVED or not any(cell.strip() for cell in row.values()):
            continue
        try:
            _add(plants, number, statement(row, read, decimal_comma))
        except WrongCells as problem:
            faults += [FileError(label, f"row {number}, column {wrong.column}", *wrong[1:]) for wrong in problem.cells]
    faults += _known_already(plants, label, read)
    texts: dict[str, str] = {}
    known = {card.id for card in read.cards}
    for genus, some in _by_genus(plants).items():
        lines = [line for plant in some for line in _card(plant, plants, known, read)]
        texts[genus] = "".join(f"{line.text}\n" for line in lines)
        faults += _misread(lines, label, read)
    values = sum(len(listed) for plant in plants.values() for listed in plant.stated.values())
    return Imported(texts, len(plants), values, tuple(sorted(faults, key=_row_of)))


def _row_of(fault: FileError) -> int:
    return int("".join(sign for sign in fault.place.partition(",")[0] if sign.isdigit()))


def _add(plants: dict[str, _Plant], number: int, said: Statement) -> None:
    plant = _Plant(said.plant, number)
    plant = plants.setdefault(plant.id, plant)
    plant.stated.setdefault(said.trait, []).append(said._replace(row=number))


def _known_already(plants: Mapping[str, _Plant], label: str, read: Deck) -> Iterator[FileError]:
    """Plants that the folder has cards of: whoever wrote those would lose them, or have two."""
    for plant in plants.values():
        card = read.own.get(plant.id)
        if card is not None:
            found = f"{card.botanical}, which has a card at {card.file}:{card.line}"
            yield FileError(
                label,
                f"row {plant.row}, column botanical",
                found,
                "a plant without one (take out its card or its rows)",
            )


def _by_genus(plants: Mapping[str, _Plant]) -> dict[str, list[_Plant]]:
    """The plants of each file, in order of id: a species before its cultivars."""
    files: dict[str, list[_Plant]] = {}
    for _, plant in sorted(plants.items()):
        files.setdefault(f"{botanical.plain_id(plant.name.genus)}.txt", []).append(plant)
    return files


def _card(plant: _Plant, plants: Mapping[str, _Plant], known: Container[str], read: Deck) -> Iterator[_Line]:
    yield _Line(plant.name.text, plant.row)
    yield from _values(plant, read)
    for trait in _missing(plant, plants, known, read):
        yield _Line(f"    {trait}: {cards.BLANK}", plant.row)
    yield _Line("", plant.row)


def _values(plant: _Plant, read: Deck) -> Iterator[_Line]:
    """The plant's values in the dictionary's order; both ends of the zones on one line where they go together."""
    pairs = _zones(plant)
    for trait in read.dictionary.traits:
        if pairs and trait == "zone_cold":
            for cold, warm in pairs:
                yield _line(cards.ZONE, f"{cold.text}-{warm.text}", cold, (cold, warm))
        elif not (pairs and trait == "zone_warm"):
            yield from (_line(trait, said.text, said, (said,)) for said in plant.stated.get(trait, ()))


def _line(key: str, text: str, said: Statement, means: tuple[Statement, ...]) -> _Line:
    source = f" [{said.source}]" if said.source else ""
    note = f"{cards.NOTE}{said.note}" if said.note else ""
    return _Line(f"    {key}: {text}{source}{note}", said.row, means)


def _zones(plant: _Plant) -> list[tuple[Statement, Statement]]:
    """The statements about cold and warm that come from the same sources, in pairs; none if any has no partner."""
    cold, warm = plant.stated.get("zone_cold", []), plant.stated.get("zone_warm", [])
    pairs = list(zip(cold, warm, strict=False))
    return pairs if len(cold) == len(warm) and all(_go_together(*pair) for pair in pairs) else []


def _go_together(cold: Statement, warm: Statement) -> bool:
    """Whether one line can say both: by the same source, and the colder end first."""
    alike = (cold.source, cold.note) == (warm.source, warm.note) and cards.BLANK not in (cold.text, warm.text)
    return alike and zones.index(cold.text) <= zones.index(warm.text)


def _missing(plant: _Plant, plants: Mapping[str, _Plant], known: Container[str], read: Deck) -> list[str]:
    """The traits that its species has in the same rows and the plant has not.

    Where both are there, inherited values are written out, so that what a plant lacks is not known of it.
    """
    wider = (botanical.plain_id(name) for name in plant.name.wider)
    parent = next((one for one in wider if one in plants or one in known), "")
    above = plants[parent].stated if parent in plants else {}
    return [trait for trait in read.dictionary.traits if trait in above and trait not in plant.stated]


def _misread(lines: list[_Line], label: str, read: Deck) -> Iterator[FileError]:
    """What the lines would not be read as: the card's own reader is asked, as it will be when the base is built."""
    text = "".join(f"{line.text}\n" for line in lines)
    found, faults = cards.read_bytes(text.encode(), label, read.dictionary, read.sources)
    told = set()
    for fault in faults:
        told.add(fault.line)
        yield FileError(label, f"row {lines[fault.line - 1].row}", fault.found, fault.expected)
    by_line: dict[int, list[tuple[str, str, str, str]]] = {}
    for entry in (entry for card in found for entry in card.entries):
        by_line.setdefault(entry.line, []).append((entry.trait, entry.text, entry.source, entry.note))
    for number, line in enumerate(lines, 1):
        wanted = [(said.trait, said.text, said.source, said.note) for said in line.means]
        if line.means and number not in told and by_line.get(number) != wanted:
            yield FileError(label, f"row {line.row}", f"`{line.text.strip()}`", "a value that a card can hold")
