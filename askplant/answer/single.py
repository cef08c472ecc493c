"""One plant by itself: every verdict of a request on it, all that the base holds of it, and plants side by side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple, Protocol

from askplant.answer.answer import Miss
from askplant.answer.compose import Answering
from askplant.answer.exclude import misses_of
from askplant.answer.meant import with_meant
from askplant.answer.rank import ranked
from askplant.answer.units import excluded_by, units_of
from askplant.reading.reading import Reading
from askplant.stock.stock import Stock
from askplant.verdicts import cautions as cautions_
from askplant.verdicts.cautions import Caution
from askplant.verdicts.columns import columns_of
from askplant.verdicts.judge import judgement_of, outcome, site_of
from askplant.verdicts.misleading import notes_of
from askplant.verdicts.names import Note
from askplant.verdicts.verdict import Judgement


class Reasons(NamedTuple):
    """Every verdict of a request on one plant, what excludes it, and its rank and fit where nothing does."""

    reading: Reading
    plant: int
    judgements: tuple[Judgement, ...]
    misses: tuple[Miss, ...]
    rank: int | None
    of: int
    fit: float | None


class Portrait(NamedTuple):
    """One plant with the rows of its values, notes on its names and its cautions."""

    plant: int
    rows: tuple[Any, ...]
    notes: tuple[Note, ...]
    cautions: tuple[Caution, ...]


class Trait(NamedTuple):
    """One trait of several plants side by side: None where a plant's card does not say."""

    trait: str
    values: tuple[Any | None, ...]
    differs: bool


class Comparison(NamedTuple):
    """Plants side by side, the traits in which they differ first."""

    plants: tuple[int, ...]
    traits: tuple[Trait, ...]


class Told(Answering, Protocol):
    """What showing a plant needs of a base."""

    def rows(self, n: int) -> Sequence[Any]: ...


def why(base: Answering, reading: Reading, plant: int, stock: Stock | None = None) -> Reasons:
    """The verdicts of a request on one plant, matched or not."""
    site = site_of(reading, stock)
    outcomes = tuple(outcome(condition, base, site) for condition in reading.conditions)
    units = units_of(outcomes)
    matching = base.everyone & ~excluded_by(units)
    order = ranked(*with_meant(reading, outcomes, base), matching, base, site, reading) if matching >> plant & 1 else ()
    place = next(((rank, one.fit) for rank, one in enumerate(order, 1) if one.plant == plant), (None, None))
    judgements = tuple(judgement_of(one, plant) for one in outcomes)
    return Reasons(
        reading, plant, judgements, misses_of(plant, outcomes, units), place[0], matching.bit_count(), place[1]
    )


def show(base: Told, plant: int) -> Portrait:
    """All that the base holds of one plant."""
    values = columns_of(base).values(cautions_.READS, plant)
    return Portrait(plant, tuple(base.rows(plant)), notes_of(base).of(plant), cautions_.cautions(values, None))


def compare(base: Told, plants: Sequence[int]) -> Comparison:
    """Plants side by side, in the order given; within both parts the traits stand as the first plants have them."""
    cards = [base.resolved(plant) for plant in plants]
    names = dict.fromkeys(name for card in cards for name in card)
    traits = [_trait(name, [card.get(name) for card in cards]) for name in names]
    return Comparison(tuple(plants), tuple(sorted(traits, key=lambda trait: not trait.differs)))


def _trait(name: str, values: Sequence[Any | None]) -> Trait:
    said = {(value.low, value.high, frozenset(value.words)) if value is not None else None for value in values}
    return Trait(name, tuple(values), len(said) > 1)
