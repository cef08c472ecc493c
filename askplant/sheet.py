"""A sheet for the owner as plain data: what was asked, the plants chosen, how each grows, the row, and the care of all of them.

Nothing is worded or drawn here; lengths are metres, ages years in the ground.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple, Protocol

from askplant.answer import single
from askplant.answer.answer import Answer, Match
from askplant.answer.single import Portrait, Reasons, Told
from askplant.care import calendar, rules, site
from askplant.care.calendar import When
from askplant.care.task import Calendar
from askplant.growth.course import Band, Course
from askplant.growth.prospect import Prospect, prospect
from askplant.plan.plan import Plan, Refusal
from askplant.verdicts.columns import columns_of

# The ages that are drawn, and the last one that is plotted.
AGES = (0, 5, 10, 20)
LAST = 20
# Points a year of a plotted course.
STEPS = 2
# Plants that a sheet of two pages has room for; common practice.
MOST = 6
USUAL = 3

Line = tuple[tuple[float, Band], ...]


class Sheeted(Told, Protocol):
    """What a sheet needs of a base."""

    def source(self, key: str) -> Any: ...


class Growing(NamedTuple):
    """One axis of a plant: its size at each of AGES, and its course up to LAST."""

    sizes: tuple[Band, ...]
    line: Line


class Chosen(NamedTuple):
    """One plant of the sheet. `match` is its place in the answer; None where it does not fit, and `reasons` say why. A side is
    None where no grown size is known.
    """

    plant: int
    match: Match | None
    reasons: Reasons | None
    portrait: Portrait
    prospect: Prospect
    height: Growing | None
    width: Growing | None
    form: str | None
    tree: bool


class Sheet(NamedTuple):
    """The whole sheet. `plan` is None where no row was asked for, `care` None where the request says nothing of the zone.

    `more` are plants of the row beyond those that the sheet has room for.
    """

    answer: Answer
    chosen: tuple[Chosen, ...]
    plan: Plan | Refusal | None
    care: Calendar | None
    more: tuple[int, ...]


def first(answer: Answer, plan: Plan | Refusal | None = None) -> tuple[int, ...]:
    """The plants that are told where none were named: those of the row, else the best of the answer."""
    if isinstance(plan, Plan):
        return tuple(dict.fromkeys(kind.plant for kind in plan.kinds))
    return tuple(match.plant for match in answer.matches[:USUAL])


def sheet(
    base: Sheeted, answer: Answer, plants: Sequence[int], when: When, plan: Plan | Refusal | None = None
) -> Sheet:
    """The sheet of plants (numbers of the base, at most MOST are told) chosen from an answer, set out at some time."""
    chosen, more = tuple(plants[:MOST]), tuple(plants[MOST:])
    table = rules.shipped()
    here = site.asked_site(answer.reading, table)
    told = tuple(_chosen(base, answer, plant) for plant in chosen)
    care = calendar.calendar(base, plants, here, when, rules=table) if here is not None and plants else None
    return Sheet(answer, told, plan, care, more)


def _chosen(base: Sheeted, answer: Answer, plant: int) -> Chosen:
    match = next((one for one in answer.matches if one.plant == plant), None)
    columns, grows = columns_of(base), prospect(base, plant, LAST)
    forms: Sequence[str] = columns.value("form", plant)[0] or ()
    kinds: Sequence[str] = columns.value("kind", plant)[0] or ()
    return Chosen(
        plant,
        match,
        None if match is not None else single.why(base, answer.reading, plant),
        single.show(base, plant),
        grows,
        _growing(grows.height.course) if grows.height else None,
        _growing(grows.width.course) if grows.width else None,
        forms[0] if forms else None,
        "tree" in kinds and "shrub" not in kinds,
    )


def _growing(course: Course) -> Growing:
    ages = [step / STEPS for step in range(LAST * STEPS + 1)]
    return Growing(tuple(course.at(age) for age in AGES), tuple((age, course.at(age)) for age in ages))
