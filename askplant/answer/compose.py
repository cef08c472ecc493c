"""A reading and a base → the answer to it: every plant is a match, ranked, or excluded, with what excludes it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Protocol

from askplant.answer.answer import Answer, Match, Options, Why
from askplant.answer.ask_back import questions
from askplant.answer.exclude import NEAREST, by_plant, nearest, prices
from askplant.answer.loosen import Loosener
from askplant.answer.named import named
from askplant.answer.rank import Ranked, dependable, ranked
from askplant.answer.substitute import substitute
from askplant.answer.tension import tensions
from askplant.answer.units import Unit, excluded_by, units_of
from askplant.growth.course import course
from askplant.reading.reading import Reading
from askplant.stock.stock import Stock
from askplant.verdicts import cautions as cautions_
from askplant.verdicts.columns import Columns, columns_of
from askplant.verdicts.judge import Outcome, outcome, site_of
from askplant.verdicts.misleading import Notes, notes_of
from askplant.verdicts.safety import listed_anywhere
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
    noted = base.count if options.noted else shown
    matches = _by_year(_matches(reading, base, outcomes, units, matching, noted, site), shown, reading, base)
    if stock is not None:
        matches = _stocked(matches, shown, stock, base)
    return Answer(
        reading=reading,
        plants=base.count,
        built=base.built,
        matches=matches,
        shown=min(len(matches), shown),
        excluded_total=excluded.bit_count(),
        prices=prices(units),
        near=nearest(outcomes, units, None if options.all else NEAREST),
        named=named(reading.named, base, outcomes, units, matches),
        ask_back=questions(reading, matching, base, site) if options.advised else (),
        loosen=Loosener(base, outcomes, units, site, reading.units).found() if options.advised else (),
        tensions=tensions(outcomes, units, base.count),
        stock=stock,
    )


def _matches(
    reading: Reading,
    base: Answering,
    outcomes: Sequence[Outcome],
    units: Sequence[Unit],
    matching: int,
    noted: int,
    site: Site,
) -> tuple[Match, ...]:
    columns, notes = columns_of(base), notes_of(base)
    columns.want(matching)
    said = [by_plant(outcome, matching) for outcome in outcomes]
    order = ranked(outcomes, units, matching, base, site)
    return tuple(
        _match(place, rank, reading, units, [by[place.plant] for by in said], columns, notes if rank <= noted else None)
        for rank, place in enumerate(order, 1)
    )


def _by_year(matches: tuple[Match, ...], shown: int, reading: Reading, base: Answering) -> tuple[Match, ...]:
    """The shown matches with how tall they are by the year that is asked about."""
    years = reading.task.by_year
    if years is None:
        return matches
    courses = [course(base, match.plant, "height") for match in matches[:shown]]
    told = [
        match._replace(then=found.at(years) if found is not None else None)
        for match, found in zip(matches, courses, strict=False)
    ]
    return (*told, *matches[shown:])


def _stocked(matches: tuple[Match, ...], shown: int, stock: Stock, base: Answering) -> tuple[Match, ...]:
    """The matches with what there is of each; the shown ones that are not in stock with what stands in for them."""
    there = [match.plant for match in matches if stock.of(match.plant)]
    return tuple(
        match._replace(
            offers=stock.of(match.plant),
            instead=None if rank > shown or stock.of(match.plant) else substitute(base, match.plant, there),
        )
        for rank, match in enumerate(matches, 1)
    )


def _match(
    place: Ranked,
    rank: int,
    reading: Reading,
    units: Sequence[Unit],
    judgements: Sequence[Judgement],
    columns: Columns,
    notes: Notes | None,
) -> Match:
    plant = place.plant
    return Match(
        plant,
        rank,
        place.fit,
        tuple(judgements),
        _why(place, units, judgements, columns),
        notes.of(plant) if notes is not None else (),
        cautions_.cautions(columns.values(cautions_.READS, plant), reading),
    )


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
