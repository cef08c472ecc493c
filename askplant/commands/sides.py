"""Questions at the desk about one side of a plant: what its card says, its care where the zone is known, distances, holding."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING, Any

from askplant import where
from askplant.answer import single
from askplant.answer.keeping import keep
from askplant.answer.years import sizes
from askplant.care import calendar, rules, thirds
from askplant.care.calendar import When
from askplant.care.site import asked_site
from askplant.finding import Found
from askplant.plan.candidates import SOFT
from askplant.plan.spacing import how_many, room
from askplant.plan.tables import Way, planning
from askplant.reading.reading import Reading
from askplant.reading.refinement import Question, Side
from askplant.render.at_desk import sizes_text
from askplant.render.care import worded_care
from askplant.render.care_text import told_once
from askplant.render.facts import offered
from askplant.render.keeping import kept_text
from askplant.render.sided import (
    checked_text,
    clear_text,
    digging_text,
    fact,
    heading,
    said_text,
    sided_text,
    spacing_text,
    unread_lines,
    wires_text,
)
from askplant.render.wording import worded_portrait, worded_reasons
from askplant.verdicts.uses import UNDER_WIRES

if TYPE_CHECKING:
    from askplant.commands.sitting import Sitting

Json = dict[str, Any]
HARMS = frozenset(("poison", "safe_for", "thorns", "invasive"))  # with these the cautions are told
BESIDE = frozenset(("use", "roots"))  # what something asks of the plant that is set beside it
NO_ZONE = "when to do what depends on the zone: say it (zone 6)"
# How plants are set: the purpose that is said, the table of its spacing, the way of it.
Row = tuple[str, str, Way]
CLIPPED: Row = ("for a clipped hedge", "hedge", "usual")
SCREEN: Row = ("for a screen", "screen", "usual")
FREE: Row = ("to stand free", "screen", "wide")
CLIMBING: Row = ("along a fence or trellis", "screen", "usual")
BEDS: tuple[Row, ...] = (("to close over the ground", "bed", "usual"), ("each by itself", "bed", "wide"))
# What is clipped to a face, and what is set to cover rather than to hide.
HEDGED, SCREENS, COVERS = frozenset({"hedge"}), frozenset({"screen", "hedge", "windbreak"}), frozenset({"ground cover"})


def sided(sitting: Sitting, question: Question, plant: int) -> str:
    """The answer about one side of one plant, and the words of the question that were not understood."""
    assert question.side is not None
    answers = {"spacing": _spacing, "clear": _clear, "hold": _hold, "price": _price}
    answer = answers.get(question.side.name)
    said = answer(sitting, question, plant) if answer is not None else _facts(sitting, question.side, plant)
    return heading(sitting.desk.plant(plant), sitting.screen) + said + unread_lines(question.unread, sitting.screen)


def checked(sitting: Sitting, found: Found, reading: Reading) -> str:
    """Whether plants are so, each in a line that can be said."""
    desk = sitting.desk
    asked = {condition.trait for condition in reading.conditions}
    text = ""
    for n in found.plants:
        told = worded_reasons(single.why(desk.base, reading, n, desk.stock), desk.base, desk.units)
        cautions = _cautions(_portrait(sitting, n)) if HARMS & asked else []
        said = checked_text(_name(sitting, n), told, reading.conditions, cautions, sitting.screen)
        text += heading(desk.plant(n), sitting.screen) + said
        if any(UNDER_WIRES in condition.values for condition in reading.conditions):
            text += _wires(sitting, n)
        if "roots" in asked:  # near a wall, a drain: how far off too
            text += _set_off(sitting, n)
    return text


def _portrait(sitting: Sitting, plant: int) -> Json:
    return worded_portrait(single.show(sitting.desk.base, plant), sitting.desk.base, sitting.units)


def _cautions(portrait: Json) -> list[str]:
    return [caution["text"] for caution in portrait["cautions"]]


def _name(sitting: Sitting, plant: int) -> str:
    """The name a caller knows, with a capital, else the botanical one."""
    one = sitting.desk.plant(plant)
    name = str(one.common[0] if one.common else one.botanical)
    return name[:1].upper() + name[1:]


def _facts(sitting: Sitting, side: Side, plant: int) -> str:
    desk, units = sitting.desk, sitting.units
    portrait = _portrait(sitting, plant)
    rows = {trait: [row for row in portrait["values"] if row["trait"] == trait] for trait in side.traits}
    facts = [fact(trait, found, units) for trait, found in rows.items()]
    if side.name == "growth":
        told = sizes_text(sizes(desk.base, plant, None), _name(sitting, plant), "height", sitting.screen, units)
        return told + sided_text(_name(sitting, plant), facts, (), (), sitting.screen)
    cautions = _cautions(portrait) if HARMS & set(side.traits) else []
    return sided_text(_name(sitting, plant), facts, _tasks(sitting, side, plant), cautions, sitting.screen)


def _tasks(sitting: Sitting, side: Side, plant: int) -> list[str]:
    """The tasks of the side's kinds of care, at the site that the request speaks of."""
    if not side.care:
        return []
    now = sitting.past.now
    site = asked_site(now.asked, rules.shipped()) if now is not None else None
    if site is None:
        return [NO_ZONE]
    drawn = calendar.calendar(sitting.desk.base, [plant], site, When(thirds.of_date(date.today())))
    care = worded_care(drawn, sitting.desk.base, sitting.units)
    return [told_once(one) for one in care.said if one.task.kind in side.care]


def _spacing(sitting: Sitting, question: Question, plant: int) -> str:
    table, units = planning(where.folder("traits")), sitting.units
    now = sitting.past.now
    said = now.asked.task.run if now is not None else None
    width, run = sizes(sitting.desk.base, plant, None).width, question.height or said
    rows = _rows(sitting.desk.base.resolved(plant))
    rooms = [
        (purpose, room(width, table.spacing[use].shares[way], units)) for purpose, use, way in rows if width is not None
    ]
    rooms = [("as asked", question.apart), *rooms] if question.apart and rooms else rooms
    counts = [how_many(run, apart) for _, apart in rooms] if run is not None else []
    shares = [table.spacing[use].shares[way] for _, use, way in rows]
    return spacing_text(_name(sitting, plant), width, rooms, run, counts, shares, sitting.screen, units)


def _rows(card: Mapping[str, Any]) -> tuple[Row, ...]:
    """The ways in which such a plant is set: nothing that is never clipped in a clipped hedge."""
    kinds, uses, shearing = (frozenset(card[trait].words if trait in card else ()) for trait in ("kind", "uses", "shearing"))
    if "vine" in kinds:
        return (CLIMBING, *BEDS) if uses & COVERS else (CLIMBING,)
    if (kinds and kinds <= SOFT | {"succulent"}) or (uses & COVERS and not uses & SCREENS):
        return BEDS
    hedge = (CLIPPED,) if uses & HEDGED or "yes" in shearing else ()
    return (*hedge, SCREEN, FREE)


def _clear(sitting: Sitting, question: Question, plant: int) -> str:
    """How far off it is set, and what it is asked to be beside such a thing."""
    said = sitting.desk.read(question.words)
    reading = said._replace(conditions=tuple(one for one in said.conditions if one.trait in BESIDE))
    if not reading.conditions:
        return _set_off(sitting, plant)
    told = worded_reasons(single.why(sitting.desk.base, reading, plant), sitting.desk.base, sitting.units)
    text = checked_text(_name(sitting, plant), told, reading.conditions, [], sitting.screen)
    if any(UNDER_WIRES in condition.values for condition in reading.conditions):
        return text + _wires(sitting, plant)
    digs = digging_text(sitting.screen) if any(condition.trait == "roots" for condition in reading.conditions) else ""
    return text + _set_off(sitting, plant) + digs


def _wires(sitting: Sitting, plant: int) -> str:
    grown = sizes(sitting.desk.base, plant, None)
    return wires_text(_name(sitting, plant), grown.width, grown.old, sitting.screen, sitting.units)


def _set_off(sitting: Sitting, plant: int) -> str:
    base = sitting.desk.base
    old = base.resolved(plant).get("width_old")
    width = sizes(base, plant, None).width
    return clear_text(_name(sitting, plant), width, old.high if old else None, sitting.screen, sitting.units)


def _hold(sitting: Sitting, question: Question, plant: int) -> str:
    if question.height is None:
        return "At which size? For instance: can I keep it at 5 ft\n"
    told = keep(sitting.desk.base, plant, question.axis, question.height)
    return kept_text(told, sitting.desk.plant(plant), sitting.screen, sitting.units)


def _price(sitting: Sitting, _: Question, plant: int) -> str:
    stock = sitting.desk.stock
    offers = stock.of(plant) if stock is not None else ()
    said = f"in stock: {offered(offers)}" if offers else "not in stock"
    return said_text(f"{_name(sitting, plant)}: {said}.", sitting.screen)
