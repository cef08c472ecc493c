"""A stock list as plain data: lines as they are written, the plants they stand for, and the offers there are."""

from collections.abc import Sequence
from functools import cached_property
from typing import Literal, NamedTuple

Sureness = Literal["sure", "doubtful", "unmatched", "left out"]


class Offer(NamedTuple):
    """One line of a stock list: a plant of the base in a container, its price and how many there are (None: not given)."""

    plant: int
    container: str
    price: float | None
    quantity: int | None


class Unmatched(NamedTuple):
    """A line of a stock list that is no one plant of the base: its row, its name, and names that come close."""

    row: int
    name: str
    nearest: tuple[str, ...]


class Line(NamedTuple):
    """One line as it is written and as it was understood.

    `plants` are the candidates: one for a sure line, several or a guess for a doubtful one. `how` is a code for how the name
    was matched; `wrong` holds cells that could not be read, as (column, cell); `tag` is the label size the list gives, as
    (height, width), each (low m, high m) or None.
    """

    row: int
    name: str
    container: str
    price: float | None
    quantity: int | None
    sureness: Sureness
    how: str
    plants: tuple[int, ...]
    nearest: tuple[str, ...] = ()
    wrong: tuple[tuple[str, str], ...] = ()
    tag: tuple[tuple[float, float] | None, tuple[float, float] | None] = (None, None)


class Stock:
    """A stock list, its names matched to the base. Two lists are the same only where they are one object.

    `offers` are those of sure lines with any left, in the order of the list; `how` says how the file was read and `columns`
    which of its columns, as (heading, role).
    """

    def __init__(
        self,
        file: str,
        lines: tuple[Line, ...],
        how: str = "",
        columns: tuple[tuple[str, str], ...] = (),
        notes: tuple[str, ...] = (),
    ) -> None:
        self.file, self.lines, self.how, self.columns, self.notes = file, lines, how, columns, notes

    @cached_property
    def offers(self) -> tuple[Offer, ...]:
        """What can be sold now."""
        return tuple(
            Offer(line.plants[0], line.container, line.price, line.quantity)
            for line in self.lines
            if line.sureness == "sure" and line.quantity != 0
        )

    @cached_property
    def unmatched(self) -> tuple[Unmatched, ...]:
        """The lines that are no one plant of the base, doubtful ones among them."""
        kinds = ("doubtful", "unmatched")
        return tuple(Unmatched(line.row, line.name, line.nearest) for line in self.lines if line.sureness in kinds)

    @cached_property
    def by_plant(self) -> dict[int, tuple[Offer, ...]]:
        """The offers of each plant."""
        found: dict[int, list[Offer]] = {}
        for offer in self.offers:
            found.setdefault(offer.plant, []).append(offer)
        return {plant: tuple(offers) for plant, offers in found.items()}

    @cached_property
    def bits(self) -> int:
        """The set of plants that are in stock."""
        found = 0
        for plant in self.by_plant:
            found |= 1 << plant
        return found

    def of(self, plant: int) -> tuple[Offer, ...]:
        """The offers of one plant, none where it is not in stock."""
        return self.by_plant.get(plant, ())


def counted(lines: Sequence[Line], sureness: Sureness) -> int:
    """How many lines are matched so."""
    return sum(line.sureness == sureness for line in lines)
