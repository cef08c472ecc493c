"""An answer as plain data: plants are numbers, verdicts are judgements, and nothing is worded yet."""

from collections.abc import Sequence
from typing import NamedTuple

from askplant.growth.course import Band
from askplant.reading.reading import Condition, Mention, Reading
from askplant.stock.stock import Offer, Stock
from askplant.verdicts.cautions import Caution
from askplant.verdicts.names import Note
from askplant.verdicts.verdict import Judgement

DEFAULT_COUNT = 8


class Options(NamedTuple):
    """How much is told: how many matches are shown where the request does not say, and whether every excluded plant
    is told. `noted` false leaves the notes on names to the matches that are shown, as looking at all names takes time;
    `advised` false leaves out compromises and questions to ask back, which take about as long as the rest.
    """

    count: int = DEFAULT_COUNT  # type: ignore[assignment]
    all: bool = False
    noted: bool = True
    advised: bool = True


class Why(NamedTuple):
    """What put a plant at its rank: how many musts and wishes there are and it meets outright; conditions (by index)
    with care, unknown, or wished in vain; those met with the most ease; how many of its species stand before it;
    where it is listed; whether it is only known wild from other climates than the place has.
    """

    musts: int
    musts_met: int
    wishes: int
    wishes_met: int
    cares: tuple[int, ...]
    unknowns: tuple[int, ...]
    vain: tuple[int, ...]
    best: tuple[int, ...]
    before: int
    listed: bool
    dependable: float
    away: bool = False


class Difference(NamedTuple):
    """A trait in which a substitute differs: what it has, and what the plant has in whose place it stands. Sizes are (low,
    high) in metres.
    """

    trait: str
    has: tuple[float, float] | tuple[str, ...]
    against: tuple[float, float] | tuple[str, ...]


class Substitute(NamedTuple):
    """The plant in stock that is most like one that is not, and how it differs."""

    plant: int
    differs: tuple[Difference, ...]


class Match(NamedTuple):
    """A plant that no must excludes. `fit` runs from 0 to 1; `judgements` stand in the order of the conditions.

    `then` is the height, with its band, by the year the request names, for the matches that are shown. `offers` is what a
    stock list has of it, None without one; `instead` what stands in for it, for the matches that are shown and not in stock.
    """

    plant: int
    rank: int
    fit: float
    judgements: tuple[Judgement, ...]
    why: Why
    notes: tuple[Note, ...]
    cautions: tuple[Caution, ...]
    then: Band | None = None
    offers: tuple[Offer, ...] | None = None
    instead: Substitute | None = None


class Miss(NamedTuple):
    """A condition, by index, that excludes a plant, and what the plant has instead."""

    condition: int
    judgement: Judgement


class Excluded(NamedTuple):
    """An excluded plant with everything that excludes it."""

    plant: int
    misses: tuple[Miss, ...]


class Price(NamedTuple):
    """What one condition costs: the plants that miss it, and those that it excludes and no other does."""

    condition: int
    misses: int
    alone: int


class Change(NamedTuple):
    """One condition, by index, and what it would have to become; None: it would have to be given up."""

    condition: int
    to: Condition | None


class Loosening(NamedTuple):
    """Changes that together bring in these plants, which nothing less would."""

    changes: tuple[Change, ...]
    plants: tuple[int, ...]


class Question(NamedTuple):
    """A question about a trait, and how many of the matches would be left after each answer."""

    trait: str
    code: str
    splits: tuple[tuple[str, int], ...]


class Named(NamedTuple):
    """A plant the caller brought up, judged. `plant` is None where the base has none of that name; of several plants
    that bear the name it is the best placed, `bear` being how many there are and `match` how many of them match.
    """

    mention: Mention
    plant: int | None
    judgements: tuple[Judgement, ...]
    misses: tuple[Miss, ...]
    bear: int
    match: int
    rank: int | None


class Tension(NamedTuple):
    """Two musts (by index) that hardly any plant meets together, though each alone is met by many: how many meet each
    and both.
    """

    one: int
    other: int
    meet_one: int
    meet_other: int
    meet_both: int


class Answer(NamedTuple):
    """Everything that is to be said to one request. `outright` is how many of the matches meet every condition, `shown` how many
    a text gives, `stock` the list that the plants were held against.
    """

    reading: Reading
    plants: int
    built: str
    matches: Sequence[Match]
    outright: int
    shown: int
    excluded_total: int
    prices: tuple[Price, ...]
    near: tuple[Excluded, ...]
    named: tuple[Named, ...]
    ask_back: tuple[Question, ...]
    loosen: tuple[Loosening, ...]
    tensions: tuple[Tension, ...]
    stock: Stock | None = None
