"""A reading and a base → the answer to it: every plant is a match, ranked, or excluded, with what excludes it."""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce
from operator import and_
from typing import Any, Protocol

from askplant.answer.answer import Answer, Match, Options, Substitute, Why
from askplant.answer.ask_back import questions
from askplant.answer.exclude import NEAREST, by_plant, nearest, prices
from askplant.answer.loosen import Loosener
from askplant.answer.matches import Matches
from askplant.answer.meant import with_meant
from askplant.answer.named import named
from askplant.answer.rank import Ranked, Ranking, dependable, ranked
from askplant.answer.tension import tensions
from askplant.answer.units import Unit, excluded_by, units_of
from askplant.growth.course import Band, course
from askplant.reading.reading import Reading
from askplant.stock.stock import Stock
from askplant.verdicts import cautions as cautions_
from askplant.verdicts.climate import of_climate
from askplant.verdicts.columns import Columns, columns_of
from askplant.verdicts.judge import Outcome, outcome, site_of
from askplant.verdicts.kinship import bits_of
from askplant.verdicts.misleading import notes_of
from askplant.verdicts.safety import code_of, listed_anywhere
from askplant.verdicts.verdict import Judgement, Site

# A condition met with at least this margin is one to name as the reason of a rank.
WITH_EASE = 0.75


class Answering(Protocol):
    """What an answer needs of a base."""

    built: str
    count: int
    everyone: int

    def judged(self, condition: str) -> Sequence[tuple[list[Any], int]]: ...
    def index(self, plant_id: str) -> int: ...
    def plant(self, n: int) -> Any: ...
    def names_starting(self, first: str) -> Sequence[Any]: ...
    def claims(self) -> Sequence[tuple[str, str, str]]: ...
    def resolved(self, n: int) -> dict[str, Any]: ...
    def observations(self, n: int) -> Sequence[Any]: ...
    def __hash__(self) -> int: ...


def answer(reading: Reading, base: Answering, options: Options | None = None, stock: Stock | None = None) -> Answer:
    """Judge every plant of the base for one reading, and put together all that there is to say. With a stock list, whether a
    plant is in stock counts.
    """
    options = options or Options()
    site = site_of(reading, stock)
    outcomes = tuple(outcome(condition, base, site) for condition in reading.conditions)
    units = units_of(outcomes)
    excluded = excluded_by(units)
    matching = base.everyone & ~excluded
    shown = reading.task.count or options.count
    ranking = ranked(*with_meant(reading, outcomes, base), matching, base, site, reading)
    making = _Making(reading, base, outcomes, units, site, ranking, base.count if options.noted else shown, shown)
    matches = Matches(ranking, shown, making)
    return Answer(
        reading=reading,
        plants=base.count,
        built=base.built,
        matches=matches,
        outright=reduce(and_, (outcome.meets for outcome in outcomes), matching).bit_count(),
        shown=min(len(matches), shown),
        excluded_total=excluded.bit_count(),
        prices=prices(units),
        near=nearest(outcomes, units, None if options.all else NEAREST),
        named=named(reading.named, base, outcomes, units, matching, ranking),
        ask_back=questions(reading, matching, base, site) if options.advised else (),
        loosen=Loosener(base, outcomes, units, site, reading.units).found() if options.advised else (),
        tensions=tensions(outcomes, units, base.count),
        stock=stock,
    )


class _Making:
    """Makes matches of places in the ranking; notes on names for the first `noted` of them, and what is told of none but those
    that are shown for the first `shown`.
    """

    def __init__(
        self,
        reading: Reading,
        base: Answering,
        outcomes: Sequence[Outcome],
        units: Sequence[Unit],
        site: Site,
        ranking: Ranking,
        noted: int,
        shown: int,
    ) -> None:
        self._reading, self._base, self._outcomes, self._units = reading, base, outcomes, units
        self._noted, self._shown, self._stock, self._ranking = noted, shown, site.stock, ranking
        self._columns, self._notes = columns_of(base), notes_of(base)
        self._there: list[int] | None = None

    def __call__(self, places: Sequence[Ranked], first: int) -> list[Match]:
        plants = bits_of(place.plant for place in places)
        said = [by_plant(outcome, plants) for outcome in self._outcomes]
        return [
            self._match(place, rank, [judgements[place.plant] for judgements in said])
            for rank, place in enumerate(places, first)
        ]

    def _match(self, place: Ranked, rank: int, judgements: Sequence[Judgement]) -> Match:
        plant, shown = place.plant, rank <= self._shown
        return Match(
            plant,
            rank,
            place.fit,
            tuple(judgements),
            _why(place, self._units, judgements, self._columns)._replace(away=self._away(plant)),
            self._notes.of(plant) if rank <= self._noted else (),
            cautions_.cautions(self._columns.values(cautions_.READS, plant), self._reading),
            self._then(plant) if shown else None,
            self._stock.of(plant) if self._stock is not None else None,
            self._instead(plant, self._stock) if shown and self._stock is not None else None,
        )

    def _away(self, plant: int) -> bool:
        """Whether it grows wild in other climates than that of the place that was said."""
        place = code_of(self._reading.task.place)
        return place is not None and of_climate(self._columns.value("native", plant)[0], place).verdict == "with care"

    def _then(self, plant: int) -> Band | None:
        """How tall it is by the year that is asked about."""
        years = self._reading.task.by_year
        found = course(self._base, plant, "height") if years is not None else None
        return found.at(years) if found is not None and years is not None else None

    def _instead(self, plant: int, stock: Stock) -> Substitute | None:
        """What stands in for one that is not in stock."""
        if stock.of(plant):
            return None
        if self._there is None:
            self._there = [one.plant for one in self._ranking if stock.of(one.plant)]
        from askplant.answer.substitute import substitute  # not wanted without a list

        return substitute(self._base, plant, self._there)


def _why(place: Ranked, units: Sequence[Unit], judgements: Sequence[Judgement], columns: Columns) -> Why:
    """Each unit by the verdict of its best alternative."""
    musts = musts_met = wishes_met = 0
    by_verdict: dict[str, list[int]] = {"meets": [], "with care": [], "unknown": [], "misses": []}
    ease = []
    for unit in units:
        indexes = unit.conditions
        best = indexes[0] if len(indexes) == 1 else max(indexes, key=lambda index: _worth(judgements[index]))
        verdict = judgements[best].verdict
        by_verdict[verdict].append(best)
        musts += unit.must
        if verdict == "meets":
            musts_met += unit.must
            wishes_met += not unit.must
            if judgements[best].margin >= WITH_EASE:
                ease.append(best)
    return Why(
        musts=musts,
        musts_met=musts_met,
        wishes=len(units) - musts,
        wishes_met=wishes_met,
        cares=tuple(by_verdict["with care"]),
        unknowns=tuple(by_verdict["unknown"]),
        vain=tuple(by_verdict["misses"]),
        best=tuple(ease),
        before=place.before,
        listed=listed_anywhere(columns.value("invasive", place.plant)[0]),
        dependable=dependable(columns, place.plant),
    )


def _worth(judgement: Judgement) -> tuple[int, float]:
    return ("misses", "unknown", "with care", "meets").index(judgement.verdict), judgement.margin
