"""A sheet in words: every sentence of the page, beside the plain data that its drawings are made of.

Everything said is said in the words of the other outputs, so that a sheet and an answer cannot disagree.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any, NamedTuple, Protocol

from askplant.answer.compose import Answering
from askplant.base.records import Source
from askplant.care.task import KINDS
from askplant.plan.plan import Plan, Refusal
from askplant.quantities.lengths import Units, say, say_range
from askplant.reading.reading import Reading
from askplant.render.asked import joined
from askplant.render.care import WordedCare, month_name, months_of, worded_care
from askplant.render.care_text import begun_by, counted, going_on, task_line
from askplant.render.care_words import DIG, SOUTH
from askplant.render.character import character
from askplant.render.elevation import PERSON
from askplant.render.growing import CAVEAT, DOUBTFUL, passing_label
from askplant.render.plan import letter, plan_json
from askplant.render.plant import published
from askplant.render.svg_sizes import DOOR
from askplant.render.text import FEW_COMPROMISES, headline, mark, missed
from askplant.render.understood import strength_word, task_words, unread_words
from askplant.render.warnings import caution_json, note_json
from askplant.render.wording import FEW_GAINED, Spoken, size_words, worded, worded_portrait, worded_reasons
from askplant.sheet import Chosen, Sheet

Json = dict[str, Any]
Labelled = tuple[str, str]

NO_ZONE = "The request says nothing of the zone, so no times of care are given: say it (zone 6b, or the state) for a calendar."
COUNTS = ("No plant", "One plant", "Two plants", "Three plants", "Four plants", "Five plants", "Six plants")
# Traits that sizes and their course over the years are made of.
SIZED = frozenset(
    {
        "height_grown",
        "height_label",
        "height_old",
        "width_grown",
        "width_label",
        "width_old",
        "growth",
        "growth_per_year",
        "lag_years",
    }
)
UNSOURCED = "Common practice, no source"


class Sourced(Answering, Protocol):
    """What a base must tell of its sources."""

    def source(self, key: str) -> Source | None: ...


class Asked(NamedTuple):
    """One condition: must or wish, as read, the caller's own words, and a note (empty where there is none)."""

    strength: str
    read: str
    words: str
    note: str


class PlantWords(NamedTuple):
    """One plant: its letter in the row or its number in the answer (empty where it does not fit), names, sizes, and what is
    said of it.
    """

    mark: str
    botanical: str
    common: str
    size: str
    said: tuple[Labelled, ...]


class Month(NamedTuple):
    """One month of the care calendar: what begins in it, each with its kind, and what goes on."""

    name: str
    begins: tuple[Labelled, ...]
    still: str


class Care(NamedTuple):
    """The care calendar: a line on frosts and on how it is counted, twelve months, and what is not known."""

    lead: tuple[str, ...]
    months: tuple[Month, ...]
    unknown: tuple[str, ...]


class SheetWords(NamedTuple):
    """All words of a sheet. `row` is the published form of the plan or of why there is none, None where no row was asked for."""

    title: str
    heading: str
    fit: str
    request: str
    asked: tuple[Asked, ...]
    beside: tuple[Labelled, ...]
    legend: str
    plants: tuple[PlantWords, ...]
    unsure: tuple[str, ...]
    row: Json | None
    care: Care | None
    changes: tuple[str, ...]
    cautions: tuple[str, ...]
    names: tuple[str, ...]
    sources: tuple[str, ...]


def sheet_words(sheet: Sheet, base: Sourced, units: Units) -> SheetWords:
    """Every word of a sheet."""
    answer, reading = sheet.answer, sheet.answer.reading
    chosen = [one.match for one in sheet.chosen if one.match is not None]
    told = worded(answer._replace(matches=tuple(chosen), shown=len(chosen)), base, units)
    spoken = {one.plant: one for one in told.shown}
    care = worded_care(sheet.care, base, units) if sheet.care is not None else None
    row = plan_json(sheet.plan, reading, base, units) if sheet.plan is not None else None
    return SheetWords(
        title=f"Planting sheet: {_short(reading.request)}",
        heading=_heading(sheet, units),
        fit=headline(told._replace(fits=len(answer.matches), outright=answer.outright)),
        request=reading.request,
        asked=tuple(_asked(reading, told.asked)),
        beside=tuple(_beside(reading, told.tensions, units)),
        legend=_legend(reading, units),
        plants=tuple(_plant(one, spoken, sheet.plan, base, units) for one in sheet.chosen),
        unsure=tuple(_unsure(sheet, base)),
        row=row,
        care=_care(care) if care is not None else None,
        changes=tuple(_changes(sheet, told.json["loosen"], base)) if not sheet.chosen else (),
        cautions=tuple(dict.fromkeys(_cautions(sheet, row, care, base, units))),
        names=tuple(_names(sheet, base, units)),
        sources=tuple(_sources(sheet, row, care, base)),
    )


def _heading(sheet: Sheet, units: Units) -> str:
    count = len(sheet.chosen) + len(sheet.more)
    said = COUNTS[count] if count < len(COUNTS) else f"{count} plants"
    return (
        f"{said} in a row of {say(sheet.plan.goal.run, units)}"
        if isinstance(sheet.plan, Plan)
        else f"{said} for this request"
    )


def _short(text: str) -> str:
    return text if len(text) <= 70 else f"{text[:70].rstrip()}…"


def _asked(reading: Reading, echoes: Sequence[str]) -> Iterator[Asked]:
    met: set[int] = set()
    for condition, echo in zip(reading.conditions, echoes, strict=True):
        yield Asked(strength_word(condition, met), echo, condition.text, condition.note or "")


def _beside(reading: Reading, tensions: Sequence[str], units: Units) -> Iterator[Labelled]:
    """What was asked beside the conditions, what was mended, what contradicts itself, and what was not understood."""
    yield from (("task", text) for text in task_words(reading.task, units))
    if reading.hides is not None:
        yield "to hide", f"{reading.hides.name} (counted as {say(reading.hides.height, units)} high)"
    yield from (("beware", text) for text in (*tensions, *(conflict.text for conflict in reading.conflicts)))
    yield from (("mended", f"{one.wrong} → {one.right}") for one in reading.corrections)
    yield from (("not read", unread_words(unread)) for unread in reading.unread)


def _legend(reading: Reading, units: Units) -> str:
    hides = reading.hides
    dashed = f" The dashed line is the height of what is to be hidden ({hides.name})." if hides else ""
    return (
        f"Each drawing is to a scale of its own, beside a person of {say(PERSON, units)} and a door of {say(DOOR[1], units)}: "
        "the plant as usually set, and at its usual size after 5, 10 and 20 years if nobody prunes it. The bar in it runs from "
        f"the height in poor growth to that in good. Outlines stand for forms and are no portraits.{dashed} {CAVEAT}"
    )


def _plant(
    one: Chosen, spoken: dict[str, Spoken], plan: Plan | Refusal | None, base: Sourced, units: Units
) -> PlantWords:
    told = worded_portrait(one.portrait, base, units)
    common = told["common"][0] if told["common"] else ""
    said = [*_fits(one, spoken.get(told["plant"]), base, units), *_growth(one, units)]
    return PlantWords(
        _mark(one, plan), told["botanical"], common, size_words(told["size"], units) or "size not known", tuple(said)
    )


def _mark(one: Chosen, plan: Plan | Refusal | None) -> str:
    """The letter that stands for it in the row, else its number in the answer."""
    kinds = [kind.plant for kind in plan.kinds] if isinstance(plan, Plan) else []
    if one.plant in kinds:
        return letter(kinds.index(one.plant))
    return f"{one.match.rank}." if one.match is not None else ""


def _fits(one: Chosen, spoken: Spoken | None, base: Sourced, units: Units) -> Iterator[Labelled]:
    """Why it does not fit, or what it needs; then good and bad of it."""
    if one.reasons is not None:
        misses = worded_reasons(one.reasons, base, units)["misses"]
        if misses:
            yield "does not fit", "; ".join(missed(miss, units) for miss in misses)
    if spoken is not None and spoken.to_do:
        yield "needs", "; ".join(spoken.to_do)
    if spoken is not None and spoken.to_check:
        yield "check", f"{', '.join(spoken.to_check)}: not known"
    virtue, drawback, remedy = character(base.resolved(one.plant))
    if virtue:
        yield "for it", virtue
    if drawback:
        yield "against", f"{drawback}; {remedy}" if remedy else drawback


def _growth(one: Chosen, units: Units) -> Iterator[Labelled]:
    height = one.prospect.height
    label = height.course.known.label if height is not None else None
    if height is None:
        yield "growth", "its grown height is not known, so nothing is drawn"
    elif height.passes is not None and label is not None:
        yield "tags", f"say {say_range(*label, units)} high; it {passing_label(height)}"


def _unsure(sheet: Sheet, base: Sourced) -> Iterator[str]:
    """What makes the sizes doubtful, each with its plants."""
    of: dict[str, list[str]] = {}
    for one in sheet.chosen:
        sides = (one.prospect.height, one.prospect.width)
        for code in dict.fromkeys(code for side in sides if side is not None for code in side.basis.doubtful):
            of.setdefault(DOUBTFUL[code], []).append(str(base.plant(one.plant).botanical))
    yield from (f"{joined(names, 'and')}: {text}." for text, names in of.items())


def _changes(sheet: Sheet, loosen: Sequence[Json], base: Sourced) -> Iterator[str]:
    """The small changes that would bring plants in."""
    for one, said in list(zip(sheet.answer.loosen, loosen, strict=True))[:FEW_COMPROMISES]:
        changes = " and ".join(f"{change['from']} → {change['to']}" for change in said["changes"])
        yield f"{changes}: {', '.join(str(base.plant(n).botanical) for n in one.plants[:FEW_GAINED])}"


def _care(care: WordedCare) -> Care:
    months = []
    for year, month, begin, still in months_of(care.calendar):
        begun = sorted((care.said[number] for number in begin), key=lambda one: KINDS.index(one.task.kind))
        going = begun_by([care.said[number] for number in still], year, month)
        begins = tuple(_task(one.task.kind, task_line(one, (year, month))) for one in begun)
        months.append(Month(f"{month_name(month)} {year}", begins, going_on(going)))
    return Care((f"{care.heading}.", counted(care), care.frost, SOUTH), tuple(months), care.unknown)


def _task(kind: str, text: str) -> Labelled:
    """A task behind its kind, which is not said twice."""
    return (kind, text.removeprefix(f"{kind} ")) if text.startswith(f"{kind} ") else (f"{kind}:", text)


def _cautions(sheet: Sheet, row: Json | None, care: WordedCare | None, base: Sourced, units: Units) -> Iterator[str]:
    """Those of the row, or of digging alone; what to mind in cutting; each plant's; then, once, who decides."""
    plan = row["plan"] if row is not None else None
    yield from (concern["text"] for concern in plan["cautions"]) if plan else [DIG]
    if care is not None:
        handling = care.calendar.handling
        yield from care.cautions[1 : 1 + bool(handling.gloves) + bool(handling.clippings)]
    bearers: dict[str, list[str]] = {}
    decides: dict[str, None] = {}
    for name, found in _each_caution(sheet, base):
        for caution in found:
            said = caution_json(caution, units)
            bearers.setdefault(mark(said), []).append(name)
            _, stop, last = said["text"].rpartition(". ")
            decides |= {last: None} if stop else {}
    yield from (f"{joined(names, 'and')}: {text}" for text, names in bearers.items())
    yield from decides


def _each_caution(sheet: Sheet, base: Sourced) -> Iterator[tuple[str, Sequence[Any]]]:
    """Each plant's cautions: those of the site where it is a match, else those of its card."""
    told = {one.plant for one in sheet.chosen}
    for one in sheet.chosen:
        found = one.match.cautions if one.match is not None else one.portrait.cautions
        yield str(base.plant(one.plant).botanical), found
    if isinstance(sheet.plan, Plan):
        for kind in sheet.plan.kinds:
            if kind.plant not in told:
                told.add(kind.plant)
                yield str(base.plant(kind.plant).botanical), kind.cautions


def _names(sheet: Sheet, base: Sourced, units: Units) -> Iterator[str]:
    for one in sheet.chosen:
        for note in one.portrait.notes:
            yield f"{base.plant(one.plant).botanical}: {note_json(note, base, units)['text']}"


def _sources(sheet: Sheet, row: Json | None, care: WordedCare | None, base: Sourced) -> Iterator[str]:
    """Of sizes by publication, of the row, of the care; last the base."""
    of: dict[str, list[str]] = {}
    for one in sheet.chosen:
        name = str(base.plant(one.plant).botanical)
        for text in dict.fromkeys(_of_sizes(one, base)):
            of.setdefault(text, []).append(name)
    yield from (f"{text}: sizes and growth of {joined(names, 'and')}." for text, names in of.items())
    for one in sheet.chosen:
        seen = one.prospect.height.course.known.seen if one.prospect.height else ()
        if seen:
            plural = "s" if len(seen) > 1 else ""
            yield f"{base.plant(one.plant).botanical}: {len(seen)} height{plural} measured at a known age (dots in the plot)."
    if row is not None and row["plan"]:
        yield from (*row["plan"]["assumptions"], *row["plan"]["sources"])
    if care is not None and care.sources:
        yield f"Times of care: {_publishers(care, base)}."
    yield f"Chosen by askplant from {sheet.answer.plants} plants; base of {sheet.answer.built[:10]}."
    yield "The heights of the person and of an inner door are common practice."


def _publishers(care: WordedCare, base: Sourced) -> str:
    """Who published what the calendar rests on; `askplant care` names the publications."""
    calendar = care.calendar
    keys = dict.fromkeys((*calendar.site.frost.sources, *(key for task in calendar.tasks for key in task.sources)))
    found = [source for source in map(base.source, keys) if source is not None]
    return "; ".join(dict.fromkeys(f"{source.publisher.partition(';')[0]} ({source.basis})" for source in found))


def _of_sizes(one: Chosen, base: Sourced) -> Iterable[str]:
    for row in one.portrait.rows:
        if row.trait in SIZED and row.source != "resolved":
            source = base.source(row.source) if row.source else None
            yield f"{published(source)} ({source.basis})" if source is not None else UNSOURCED
