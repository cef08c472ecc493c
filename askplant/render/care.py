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
from askplant.render.warnings import caution_json

Json = dict[str, Any]

DIG = "Before any digging call the local utility-marking service (811 in the US) and wait for the marks."
SOUTH = "Months and places are those of the US and Canada; the southern hemisphere is not served."
SAYS: dict[str, str] = {
    "planting.spring": "plant {them}",
    "planting.tender": "plant {them}, after the last frost",
    "planting.cool_spring": "plant {them}, while it is cool: they stand a light frost",
    "planting.cool_fall": "plant {them}, for fall, and in mild winters until spring",
    "planting.palm": "plant {them}, into warm soil",
    "planting.fall_deciduous": "plant {them}; potted or balled, no bare roots in fall",
    "planting.fall_evergreen": "plant {them}; potted or balled, no later, so that roots take hold before the ground freezes",
    "planting.fall_herbaceous": "plant {them}, early enough to root before frost heaves the ground",
    "planting.fall_bulb": "plant {them}",
    "planting.frost_free": "plant {them}, in the cooler half of the year",
    "water.daily": "water {them} daily for two weeks: {dose}",
    "water.often": "water {them} every two or three days, to the twelfth week: {dose}",
    "water.succulent": "water {them} in at planting, then only when the soil has dried: wet soil rots them",
    "water.weekly": "water {them} every week without {inch} of rain, {inch} deep",
    "water.second": "water {them} every week without {inch} of rain, {inch} deep",
    "water.third": "water {them} in dry spells",
    "water.sensitive": "water {them} every week without {inch} of rain: sensitive to drought",
    "water.moderate": "water {them} once or twice a month in drought, deep",
    "water.tolerant": "water {them} only in a long drought",
    "water.before_freeze": "in a dry fall, water {them} well before the ground freezes",
    "prune.late_winter": "prune {them}, before growth begins",
    "prune.early_spring": "prune {them}, as buds swell",
    "prune.late_spring": "prune {them}",
    "prune.candles": "pinch or shorten the soft candles of {them}",
    "prune.needled": "prune or trim {them}",
    "prune.summer": "prune {them}, in full leaf",
    "prune.dormant": "prune {them}, while leafless or at rest",
    "prune.after_bloom": "prune {them}, right after bloom; the sooner the better",
    "prune.long_bloom": "prune {them} while the flowers fade: later cuts take the next year's buds",
    "prune.cut_back": "cut back {them}, before new growth",
    "feed.rose": "feed {them} as buds break; nothing after midsummer",
    "feed.rhododendron": "feed {them} if leaves are pale, shortly after bloom; nothing after midsummer",
    "feed.annual": "feed {them} through summer",
    "mulch.spring": "mulch {them} 2–3 in deep out to the branch tips, never against the bark",
    "winter.cover": "cover {them}: 3–4 in of mulch on the roots, off the stem, and burlap on a frame to windward",
    "winter.screen": "shelter {them} from wind and winter sun with a burlap screen, open at the top",
    "winter.tie": "tie {them} loosely where snow lies, so that it cannot splay them",
    "winter.trunk": "put white guards on the trunks of {them}, against sunscald and gnawing; off after the last frost",
    "winter.deer": "keep deer off {them} with a fence or a repellent, renewed as its label says",
    "winter.rabbit": "keep rabbits and mice off {them} with a wire guard",
    "enjoy.bloom": "{them} in bloom",
    "enjoy.fruit": "{them} in fruit",
    "enjoy.harvest": "fruit of {them} ripens",
}
PEST = "{0} on {them}: {1} (seen then in {2})"
ADDED = {
    "green only": "cut only where it is green: bare wood does not sprout",
    "dry day": "on a dry day, for fire blight; blighted wood comes out in late winter",
    "costs bloom": "this costs some of the year's bloom",
    "costs fruit": "this costs some of the year's fruit",
    "costs crop": "this costs some of the year's bloom and fruit, and what is left grows better",
}
NEVER = {
    "never.oak_wilt": "never {0}, for oak wilt",
    "never.elm_disease": "never {0}, for Dutch elm disease",
    "never.bleeding": "not in early spring, when cuts bleed",
}
DOSE = {
    "us": "1–1.5 gallons for each inch of trunk, for a shrub a quarter to a third of its pot",
    "metric": "4–6 liters for each 2.5 cm of trunk, for a shrub a quarter to a third of its pot",
}
SOFT_DOSE = "enough to wet the soil as deep as the roots"
INCH = {"us": "an inch", "metric": "25 mm"}
NOT_KNOWN = {
    "zone.misses": "Not hardy here, so winter may kill it however it is kept: {them}.",
    "zone.marginal": "Hardy here only in shelter, so plant in spring and cover it the first winters: {them}.",
    "zone.warm": "Too warm here for it to do well: {them}.",
    "zone.unknown": "Whether it is hardy here is not known, so fall planting is left out: {them}.",
    "planting.out_of_season": "The time of planting is none of the usual ones ({0}), so water it closely: {them}.",
    "prune.seldom": "Seldom pruned, dead and broken wood apart: {them}.",
    "prune.unknown": "When to prune is not known: {them}.",
    "prune.no_time": "No good time to prune is left here (the usual one, {0}, does harm); only dead wood: {them}.",
    "pests.unknown": "Pests are not known: {them}.",
    "drought.unknown": "How it stands drought is not known, so no watering is told from the fourth year on: {them}.",
    "deer.unknown": "Whether deer browse it is not known: {them}.",
    "bloom.unknown": "When it blooms is not known: {them}.",
}
NO_MONTHS = "In which months these show is not in the tables, so look at any time: {0}."
ORDINALS = ("first", "second", "third", "fourth", "fifth")


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
    said = tuple(_said(task, names, len(calendar.plants), units) for task in calendar.tasks)
    unknown = (*_strange(calendar), *_not_known(calendar.unknown, names))
    cautions = tuple(_cautions(calendar, names, units))
    sources = tuple(_sources(calendar, base))
    heading = f"Care of {joined(list(names.values()), 'and')} in zone {zones.name(calendar.site.zone)}"
    heading += f", {calendar.site.place}" if calendar.site.place else ""
    json = _json(calendar, base, names, said, unknown, cautions)
    return WordedCare(calendar, json, heading, _frost(calendar), said, unknown, cautions, sources)


def _said(task: Task, names: dict[int, str], count: int, units: Units) -> Said:
    them = "all of them" if len(task.plants) == count > 2 else joined([names[n] for n in task.plants], "and")
    if task.code == "look.pest":
        text = PEST.format(*task.words, them=them)
    else:
        dose = SOFT_DOSE if "soft" in task.words else DOSE[units]
        text = SAYS[task.code].format(them=them, dose=dose, inch=INCH[units])
        if "marginal" in task.words:
            text += "; in spring only, so that it roots before winter"
        added = [ADDED[word] for word in task.words if word in ADDED]
        added += dict.fromkeys(NEVER[harm].format(_through(span)) for harm, span in task.never)
        left = [f"leave {names[n]} until after it blooms ({thirds.say(third)})" for n, third in task.leave]
        text = "; ".join([text, *added, *left])
    return Said(task, text, thirds.say_span(task.span), _years(task))


def _through(span: thirds.Span) -> str:
    """`April through October`."""
    return thirds.say_span(span).replace(" to ", " through ")


def _years(task: Task) -> str:
    """In which years, in words; nothing for what comes every year or is dated by the planting itself."""
    first, last = task.seasons
    if task.code in ("water.daily", "water.often") or task.kind == "plant" or (first == 1 and last is None):
        return ""
    if last is None:
        return f"from the {ORDINALS[first - 1]} year on"
    return f"{ORDINALS[first - 1]} year" if first == last else f"first {last} years"


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
