"""The program from Python: read a request, ask it, and look at single plants. `from askplant import Desk`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from askplant.answer import compose
from askplant.answer.answer import DEFAULT_COUNT, Answer, Options
from askplant.base import cache
from askplant.base.opened import Base, Plant
from askplant.errors import UserError
from askplant.quantities.lengths import Units
from askplant.reading.read import read, read_apart
from askplant.reading.reading import Reading
from askplant.render.wording import Worded, worded
from askplant.stock import Stock, load

if TYPE_CHECKING:  # what looks at single plants is imported when one is asked for: a request does without
    from askplant.answer.single import Comparison, Portrait, Reasons
    from askplant.finding import Found

FEW = 3  # plants told of a name that several bear


class Desk:
    """Where requests are asked: one base, opened once.

    `base` names a built base; without it the one for the present trait files is used, and built first if need be. `stock` names
    a stock list, which is matched and then held against every request.
    `units` are those of texts made from what is given back; without it those of each request. Everything given back is
    frozen, with lengths in metres and plants as numbers, which `plant` puts a name to.

    >>> desk = Desk()
    >>> reading = desk.read("decidous, at most 10 ft, zone 7")
    >>> [condition.trait for condition in reading.conditions]
    ['persistence', 'height', 'zone']
    >>> reading.corrections[0].right
    'deciduous'
    >>> answer = desk.ask("evergreen shrub, part shade, zone 7", count=3)
    >>> (answer.shown, answer.matches[0].rank)
    (3, 1)
    >>> len(answer.matches) + answer.excluded_total == answer.plants
    True
    >>> desk.plant(desk.show("inkberry").plant).botanical
    'Ilex glabra'
    >>> desk.why("inkberry", "evergreen, zone 7").misses
    ()
    >>> len(desk.compare("inkberry", "Ilex crenata").plants)
    2

    Raises UserError for what cannot be read and for a name that several plants bear, UnknownPlant for a name that none bears
    (its `nearest` holds those that come close), BaseError where there is no sound base and none can be built.
    """

    def __init__(
        self, base: str | Path | None = None, units: Units | None = None, stock: str | Path | Stock | None = None
    ) -> None:
        self.base = Base.open(cache.ready(None if base is None else Path(base)))
        self.units = units
        self.stock = stock if stock is None or isinstance(stock, Stock) else load(stock, self.base)

    def read(self, text: str) -> Reading:
        """What is understood of a request: conditions, task, mended words, plants named, and words not understood."""
        return read(text, self.base)

    def read_apart(self, text: str) -> tuple[Reading, ...]:
        """One reading for each of the places that a request speaks of; one of all where it speaks of no second."""
        return read_apart(text, self.base)

    def ask(self, text: str, count: int | None = None, all: bool = False, noted: bool = True) -> Answer:
        """Every plant judged. `count` is how many matches are told in texts; `all` tells every excluded plant; with `noted`
        false only the matches told have notes on their names, which is quicker."""
        return self.answer(self.read(text), count, all, noted)

    def answer(
        self, reading: Reading, count: int | None = None, all: bool = False, noted: bool = True, advised: bool = True
    ) -> Answer:
        """The answer to what has been read; with `advised` false without compromises and questions, in half the time."""
        return compose.answer(reading, self.base, Options(count or DEFAULT_COUNT, all, noted, advised), self.stock)

    def why(self, plant: str, text: str) -> Reasons:
        """Every verdict of a request on one plant, matched or not."""
        from askplant.answer import single

        return single.why(self.base, self.read(text), self.one(plant), self.stock)

    def show(self, plant: str) -> Portrait:
        """All that the base holds of one plant."""
        from askplant.answer import single

        return single.show(self.base, self.one(plant))

    def compare(self, *plants: str) -> Comparison:
        """Plants side by side, the traits in which they differ first."""
        from askplant.answer import single

        return single.compare(self.base, [self.one(plant) for plant in plants])

    def worded(self, answer: Answer, whole: bool = True) -> Worded:
        """An answer in words; its `json` is the published form, unless `whole` is false: then only the matches shown are told."""
        return worded(answer, self.base, self.units, whole)

    def find(self, name: str) -> Found:
        """The plants that bear a name."""
        from askplant.finding import find

        return find(name, self.base)

    def plant(self, number: int) -> Plant:
        """A plant's names and kin."""
        return self.base.plant(number)

    def title(self, plant_id: str) -> str:
        """The botanical name of a plant's id."""
        return self.base.plant(self.base.index(plant_id)).botanical

    def one(self, name: str) -> int:
        """The number of the one plant that bears a name; UserError where several do."""
        from askplant.finding import meant

        found = meant(name, self.find(name), self.base)
        if len(found.plants) == 1:
            return found.plants[0]
        few = ", ".join(self.plant(n).botanical for n in found.plants[:FEW])
        raise UserError(f"{found.shown} is the name of {len(found.plants)} plants, such as {few}: name one of them")
