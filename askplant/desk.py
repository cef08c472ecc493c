"""The program from Python: read a request, ask it, and look at single plants. `from askplant import Desk`."""

from __future__ import annotations

from pathlib import Path

from askplant.answer import compose, single
from askplant.answer.answer import DEFAULT_COUNT, Answer, Options
from askplant.answer.single import Comparison, Portrait, Reasons
from askplant.base import cache
from askplant.base.opened import Base, Plant
from askplant.finding import Found, find
from askplant.quantities.lengths import Units
from askplant.reading.read import reader
from askplant.reading.reading import Reading


class Desk:
    """Where requests are asked: one base, opened once.

    `base` names a built base; without it the one for the present trait files is used, and built first if need be.
    `units` are those of texts made from what is given back; without it those of each request. Everything given back is
    frozen, with lengths in metres and plants as numbers, which `plant` puts a name to.

    >>> desk = Desk()
    >>> reading = desk.read("evergren, at most 10 ft, zone 7")
    >>> [condition.trait for condition in reading.conditions]
    ['persistence', 'height', 'zone']
    >>> reading.corrections[0].right
    'evergreen'
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

    Raises UserError for what cannot be read, UnknownPlant for a name that no plant bears (its `nearest` holds those that come
    close), BaseError where there is no sound base and none can be built.
    """

    def __init__(self, base: str | Path | None = None, units: Units | None = None) -> None:
        self.base = Base.open(cache.ready(None if base is None else Path(base)))
        self.units = units
        self._reader = reader(self.base)

    def read(self, text: str) -> Reading:
        """What is understood of a request: conditions, task, mended words, named plants, and every word not understood."""
        return self._reader.read(text)

    def ask(self, text: str, count: int | None = None, all: bool = False) -> Answer:
        """Every plant judged for a request. `count` is how many matches are told in texts; `all` tells every excluded plant."""
        return self.answer(self.read(text), count, all)

    def answer(self, reading: Reading, count: int | None = None, all: bool = False) -> Answer:
        """The answer to what has been read."""
        return compose.answer(reading, self.base, Options(count or DEFAULT_COUNT, all))

    def why(self, plant: str, text: str) -> Reasons:
        """Every verdict of a request on one plant, matched or not. Of several plants that bear the name, the first."""
        return single.why(self.base, self.read(text), self.find(plant).plants[0])

    def show(self, plant: str) -> Portrait:
        """All that the base holds of one plant. Of several plants that bear the name, the first."""
        return single.show(self.base, self.find(plant).plants[0])

    def compare(self, *plants: str) -> Comparison:
        """Plants side by side, the traits in which they differ first."""
        return single.compare(self.base, [self.find(plant).plants[0] for plant in plants])

    def find(self, name: str) -> Found:
        """The plants that bear a name."""
        return find(name, self.base)

    def plant(self, number: int) -> Plant:
        """A plant's names and kin."""
        return self.base.plant(number)
