"""An answer at a glance: how many plants fit and which few stand first, without what an answer takes its time for.

Counting and ranking are those of a whole answer, so what is shown while somebody types is what the answer will say.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from askplant.answer.compose import Answering
from askplant.answer.meant import with_meant
from askplant.answer.rank import ranked
from askplant.answer.units import excluded_by, units_of
from askplant.reading.reading import Reading
from askplant.verdicts.judge import outcome, site_of

FEW = 3


class Glance(NamedTuple):
    """How many of the plants fit, how many of them in everything, and the first few, best first."""

    plants: int
    fit: int
    outright: int
    best: tuple[int, ...]


class Stopped(Exception):
    """Nobody waits for the glance any more."""


def glances(reading: Reading, base: Answering, stopped: Callable[[], bool] = lambda: False) -> Iterator[Glance]:
    """The glance of a reading, twice: with its counts, and once more with the first few plants, which take longer.

    `stopped` is asked between the parts; once it says so, Stopped is raised.
    """
    site = site_of(reading)
    outcomes = []
    for condition in reading.conditions:
        _go_on(stopped)
        outcomes.append(outcome(condition, base, site))
    units = units_of(outcomes)
    matching = base.everyone & ~excluded_by(units)
    outright = matching
    for one in outcomes:
        outright &= one.meets
    counted = Glance(base.count, matching.bit_count(), outright.bit_count(), ())
    yield counted
    _go_on(stopped)
    order = ranked(*with_meant(reading, outcomes, base), matching, base, site, reading)[:FEW]
    yield counted._replace(best=tuple(place.plant for place in order))


def _go_on(stopped: Callable[[], bool]) -> None:
    if stopped():
        raise Stopped
