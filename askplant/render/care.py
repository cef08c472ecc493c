"""The care calendar in words: each task as a sentence, what is not known, cautions, and the published form."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple, Protocol

from askplant.base.records import Source
from askplant.care import thirds
from askplant.care.task import Calendar, Task, Unknown
from askplant.quantities import zones
from askplant.quantities.lengths import Units
from askplant.quantities.months import NAMES
from askplant.render.asked import joined
from askplant.render.care_figures import figures
from askplant.render.care_words import (
    ADDED,
    DATED,
    DIG,
    NEVER,
    NO_MONTHS,
    NOT_KNOWN,
    OF_RULE,
    ORDINALS,
    PEST,
    SAYS,
    SOUTH,
)
from askplant.render.warnings import caution_json

Json = dict[str, Any]


class Titles(Protocol):
    """What a base must tell of plants and sources."""

    def plant(self, n: int) -> Any: ...
    def source(self, key: str) -> Source | None: ...


class Said(NamedTuple):
    """One task in words: the sentence, when in words, in which years in words (empty for every year)."""

    task: Task
    text: str
    when: str
    years: str


class WordedCare(NamedTuple):
    """A calendar in words. `json` is the published form; the rest holds what texts are drawn from."""

    calendar: Calendar
    json: Json
    heading: str
    frost: str
    said: tuple[Said, ...]
    unknown: tuple[str, ...]
    cautions: tuple[str, ...]
    sources: tuple[str, ...]


def worded_care(calendar: Calendar, base: Titles, units: Units) -> WordedCare:
    """A calendar in words and in the published form."""
    names = {n: str(base.plant(n).botanical) for n in calendar.plants}
    said = tuple(_said(task, calendar, names, units) for task in calendar.tasks)
    unknown = (*_strange(calendar), *_not_known(calendar.unknown, names))
    cautions = tuple(_cautions(calendar, names, units))
    sources = tuple(_sources(calendar, base))
    heading = f"Care of {joined(list(names.values()), 'and')} in zone {zones.name(calendar.site.zone)}"
    heading += f", {calendar.site.place}" if calendar.site.place else ""
    json = _json(calendar, base, names, said, unknown, cautions)
    return WordedCare(calendar, json, heading, _frost(calendar), said, unknown, cautions, sources)


def _said(task: Task, calendar: Calendar, names: dict[int, str], units: Units) -> Said:
    rules, site = calendar.rules, calendar.site
    whole = len(task.plants) == len(calendar.plants) > 2
    them = "all of them" if whole else joined([names[n] for n in task.plants], "and")
    if task.code == "look.pest":
        text = PEST.format(*task.words, them=them)
    else:
        text = SAYS[task.code].format(them=them, **figures(task.code, task.words, rules, site, units))
        added = [
            ADDED[word].format(**figures(OF_RULE.get(word, task.code), (), rules, site, units))
            for word in task.words
            if word in ADDED
        ]
        added += dict.fromkeys(NEVER[harm].format(_through(span)) for harm, span in task.never)
        left = [f"leave {names[n]} until after it blooms ({thirds.say(third)})" for n, third in task.leave]
        text = "; ".join([text, *added, *left])
    return Said(task, text, thirds.say_span(task.span), "" if lives_once(calendar) else _years(task))


def lives_once(calendar: Calendar) -> bool:
    """Whether every task comes once, for the plants live one season here."""
    return all(task.times == 1 for task in calendar.tasks)


def _through(span: thirds.Span) -> str:
    """`April through October`."""
    return thirds.say_span(span).replace(" to ", " through ")


def _years(task: Task) -> str:
    """In which years, in words; nothing for what comes every year or is dated by the planting itself."""
    first, last = task.seasons
    if task.code in DATED or task.kind == "plant" or (first == 1 and last is None):
        return ""
    if last is None:
        return f"from the {ORDINALS[first - 1]} year on"
    if first == last:
        return f"{ORDINALS[first - 1]} year"
    return f"first {last} years" if first == 1 else f"{ORDINALS[first - 1]} to {ORDINALS[last - 1]} year"


def _strange(calendar: Calendar) -> Iterable[str]:
    """That the zone that was said is none of the state that was said."""
    here = calendar.site
    if here.is_strange and here.among is not None:
        low, high = map(zones.name, here.among)
        yield f"{zones.name(here.zone)} is none of the zones of {here.region} ({low} to {high}), so check zone and place."


def _not_known(unknown: Sequence[Unknown], names: dict[int, str]) -> Iterable[str]:
    """Each in a sentence; the pests without months, of the same plants, in one."""
    pests: dict[tuple[int, ...], list[str]] = {}
    for one in unknown:
        them = joined([names[n] for n in one.plants], "and")
        if one.code == "pests.months":
            pests.setdefault(one.plants, []).append(one.words[0])
        else:
            yield NOT_KNOWN[one.code].format(joined(list(one.words), "or") if one.words else "", them=them)
    if pests:
        each = [f"{', '.join(found)} ({joined([names[n] for n in plants], 'and')})" for plants, found in pests.items()]
        yield NO_MONTHS.format("; ".join(each))


def _cautions(calendar: Calendar, names: dict[int, str], units: Units) -> Iterable[str]:
    """Digging first, then gloves and clippings, then each caution of the cards once with its plants."""
    yield DIG
    for plants, text in (
        (calendar.handling.gloves, "Prune in gloves, for thorns or irritant sap"),
        (
            calendar.handling.clippings,
            "Poisonous in part, so gather clippings out of the reach of children and animals",
        ),
    ):
        if plants:
            yield f"{text}: {joined([names[n] for n in plants], 'and')}."
    bearers: dict[str, list[str]] = {}
    for n, found in calendar.cautions:
        for caution in found:
            bearers.setdefault(caution_json(caution, units)["text"], []).append(names[n])
    for text, plants_ in bearers.items():
        yield f"{joined(plants_, 'and')}: {text}"


def _frost(calendar: Calendar) -> str:
    """When frosts come and go, and what that rests on."""
    said = _frosts(calendar)
    if not calendar.site.assumed:
        return said
    coldest = f"{zones.name(calendar.site.zone)} is the coldest zone of {calendar.site.region}"
    return f"{coldest}: say your own with --zone for closer times. {said}"


def _frosts(calendar: Calendar) -> str:
    frost = calendar.site.frost
    if frost.free:
        return "No frost in a mean winter (common practice from zone 10b on)."
    of = f"of zone {zones.name(calendar.site.zone)} (common practice)"
    near = f" and {joined(list(frost.places), 'and')}" if frost.places else ""
    return (
        f"Mean last frost {thirds.say_span(thirds.span(*frost.last))}, first frost "
        f"{thirds.say_span(thirds.span(*frost.first))}: {of}{near}. Years differ by weeks, and so do hollows and hills."
    )


def _sources(calendar: Calendar, base: Titles) -> Iterable[str]:
    keys = [key for task in calendar.tasks for key in task.sources]
    for key in dict.fromkeys((*calendar.site.frost.sources, *keys)):
        source = base.source(key)
        if source:
            issue = ", ".join(part for part in (source.publisher, source.year) if part and part != "n.d.")
            yield f"{source.title}. {issue} ({source.basis})"


def _json(
    calendar: Calendar,
    base: Titles,
    names: dict[int, str],
    said: Sequence[Said],
    unknown: Sequence[str],
    cautions: Sequence[str],
) -> Json:
    ids = {n: str(base.plant(n).id) for n in calendar.plants}
    frost = calendar.site.frost
    return {
        "site": {
            "zone": zones.name(calendar.site.zone),
            "place": calendar.site.place,
            "last_frost": None if frost.free else [_day(third) for third in frost.last],
            "first_frost": None if frost.free else [_day(third) for third in frost.first],
            "frost_of": list(frost.places),
        },
        "plants": [
            {"plant": ids[n], "botanical": names[n], "planted": thirds.starts(moment).isoformat()}
            for n, moment in zip(calendar.plants, calendar.planted, strict=True)
        ],
        "years": calendar.years,
        "tasks": [_task_json(one, ids) for one in said],
        "months": [
            {"year": year, "month": month, "begin": list(begin), "still": list(still)}
            for year, month, begin, still in months_of(calendar)
        ],
        "unknown": list(unknown),
        "cautions": list(cautions),
        "note": SOUTH,
    }


def _task_json(one: Said, ids: dict[int, str]) -> Json:
    task = one.task
    return {
        "kind": task.kind,
        "code": task.code,
        "text": one.text,
        "plants": [ids[n] for n in task.plants],
        "when": one.when,
        "months": list(task.span.months),
        "begins": thirds.starts(task.begins).isoformat(),
        "ends": thirds.ends(task.ends).isoformat(),
        "years": list(task.seasons),
        "leave": [ids[n] for n, _ in task.leave],
        "sources": list(task.sources),
    }


def _day(third: int) -> str:
    return thirds.starts(thirds.YEAR + third).strftime("%m-%d")


def months_of(calendar: Calendar) -> Iterable[tuple[int, int, tuple[int, ...], tuple[int, ...]]]:
    """Twelve months from the first planting on: year, month, and by number the tasks that begin then and those that go on.

    A task of a later year stands in its month too: the twelve months stand for every year.
    """
    first = thirds.starts(calendar.first)
    for step in range(12):
        month = (first.month - 1 + step) % 12 + 1
        year = first.year + (first.month - 1 + step) // 12
        begin, still = [], []
        for number, task in enumerate(calendar.tasks):
            touched = _touched(task)
            if touched[0] == month:
                begin.append(number)
            elif month in touched:
                still.append(number)
        yield year, month, tuple(begin), tuple(still)


def later(task: Task, year: int, month: int) -> int | None:
    """The year in which a task first comes, if after a month in which it stands; None for one that is told by its own year."""
    begins = thirds.starts(task.begins)
    return begins.year if task.seasons[0] == 1 and (begins.year, begins.month) > (year, month) else None


def _touched(task: Task) -> tuple[int, ...]:
    """The months of its first time where it comes once, else of its span."""
    if task.times == 1:
        return thirds.Span(task.begins % thirds.YEAR, task.ends - task.begins + 1).months
    return task.span.months


def month_name(month: int) -> str:
    """The name of a month."""
    return NAMES[month - 1]
