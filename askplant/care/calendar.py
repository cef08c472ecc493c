"""The care calendar of chosen plants: each one's tasks drawn up, dated from its planting, and those of several merged."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from askplant.care import planting, pruning, seasons, thirds, watering, winter
from askplant.care.facts import Carded, Facts, facts
from askplant.care.rules import Rules, shipped
from askplant.care.site import CareSite
from askplant.care.task import KINDS, Calendar, Drawn, Handling, Task, Unknown, dated
from askplant.care.thirds import Span
from askplant.verdicts.cautions import READS, Caution, cautions
from askplant.verdicts.columns import columns_of


class When(NamedTuple):
    """When the plants are, or were, set out: in one of so many thirds from a moment on."""

    first: int
    length: int = thirds.YEAR

    @property
    def moments(self) -> Sequence[int]:
        """The moments that are meant."""
        return range(self.first, self.first + self.length)


def calendar(
    base: Carded, plants: Sequence[int], site: CareSite, when: When, years: int = 3, rules: Rules | None = None
) -> Calendar:
    """The calendar of plants (numbers of a base) at a site, for `years` (1 or more) after planting and what goes on after that.

    Plants are set out together where some moment of `when` suits all of them, else each at its own first suitable one.
    Pure: equal arguments give equal calendars.
    """
    rules = rules or shipped()
    chosen = [facts(base, n) for n in dict.fromkeys(plants)]
    allowed = [[span for _, span in planting.seasons(plant, site, rules)] for plant in chosen]
    planted = _planted(allowed, when)
    tasks: list[Task] = []
    unknown: list[Unknown] = []
    for plant, spans, moment in zip(chosen, allowed, planted, strict=True):
        drawn, missing = _of_plant(plant, site, rules, moment)
        tasks += [dated(one, plant.n, moment) for one in drawn if _told(one, years)]
        unknown += [*_of_hardiness(plant, site), *_of_planting(plant, spans, moment), *missing]
    merged = _left_alone(_merged(tasks), tasks)
    ordered = sorted(merged, key=lambda task: (task.begins, KINDS.index(task.kind), task.seasons[0], task.plants))
    numbers = tuple(plant.n for plant in chosen)
    warned = tuple((n, _cautions(base, n)) for n in numbers)
    handled = Handling(
        tuple(plant.n for plant in chosen if plant.thorny or plant.irritant),
        tuple(plant.n for plant in chosen if plant.poisonous),
    )
    return Calendar(rules, site, numbers, tuple(planted), years, tuple(ordered), _joined(unknown), warned, handled)


def _planted(allowed: Sequence[Sequence[Span]], when: When) -> list[int]:
    common = next((moment for moment in when.moments if all(planting.fits(spans, moment) for spans in allowed)), None)
    if common is not None:
        return [common] * len(allowed)
    return [planting.start(spans, when.moments) for spans in allowed]


def _of_plant(plant: Facts, site: CareSite, rules: Rules, planted: int) -> tuple[list[Drawn], list[Unknown]]:
    pruned, uncut = pruning.drawn(plant, site, rules)
    seen, unseen = seasons.looks(plant, rules)
    drawn = [
        *planting.drawn(plant, site, rules, planted),
        *watering.drawn(plant, site, rules, planted),
        *pruned,
        *winter.drawn(plant, site, rules),
        *seasons.drawn(plant, site, rules),
        *seen,
    ]
    if plant.is_annual(site.zone):
        lived = planting.life(plant, site, rules, planted)
        drawn = [part for one in drawn for part in _while_it_lives(one, planted, lived)]
    drawn += winter.lifted(plant, site, rules)
    return drawn, [*uncut, *unseen, *_of_traits(plant, site)]


def _while_it_lives(drawn: Drawn, planted: int, lived: int) -> list[Drawn]:
    """What falls into the one season of an annual, once."""
    alive = {(planted + step) % thirds.YEAR for step in range(lived)}
    kept = thirds.runs(third for third in drawn.span.thirds if third in alive)
    return [drawn._replace(span=span, seasons=(1, 1)) for span in kept if drawn.seasons[0] == 1 or drawn.kind == "feed"]


def _of_hardiness(plant: Facts, site: CareSite) -> list[Unknown]:
    verdict = plant.hardiness(site.zone)
    if plant.is_annual(site.zone):
        return []
    if plant.warm is not None and site.zone > plant.warm:
        return [Unknown("zone.warm", (plant.n,))]
    if verdict == "meets":
        return []
    return [Unknown({"misses": "zone.misses", "with care": "zone.marginal"}.get(verdict, "zone.unknown"), (plant.n,))]


def _of_planting(plant: Facts, spans: Sequence[Span], moment: int) -> list[Unknown]:
    """That a plant was to be set out, or was, at a time that is none of its planting seasons."""
    if planting.fits(spans, moment):
        return []
    return [Unknown("planting.out_of_season", (plant.n,), tuple(thirds.say_span(span) for span in spans))]


def _of_traits(plant: Facts, site: CareSite) -> list[Unknown]:
    found = []
    if plant.drought is None and not plant.is_annual(site.zone):
        found.append(Unknown("drought.unknown", (plant.n,)))
    if plant.deer is None:
        found.append(Unknown("deer.unknown", (plant.n,)))
    if plant.flower == "showy" and not plant.bloom:
        found.append(Unknown("bloom.unknown", (plant.n,)))
    return found


def _told(drawn: Drawn, years: int) -> bool:
    """Whether a task falls into the years asked for, or goes on after them."""
    first, last = drawn.seasons
    return first <= years or last is None


def _merged(tasks: Iterable[Task]) -> list[Task]:
    """Tasks that differ in nothing but the plant, as one."""
    bearers: dict[Task, list[int]] = {}
    for task in tasks:
        kept = bearers.setdefault(task._replace(plants=()), [])
        if task.plants[0] not in kept:
            kept.append(task.plants[0])
    return [task._replace(plants=tuple(numbers)) for task, numbers in bearers.items()]


def _left_alone(merged: Iterable[Task], every: Sequence[Task]) -> list[Task]:
    """A cut before spring names the plants that are to be left until they have bloomed."""
    waiting = tuple(
        dict.fromkeys((task.plants[0], task.span.first) for task in every if task.code == "prune.after_bloom")
    )
    early = ("prune.late_winter", "prune.early_spring")
    return [task._replace(leave=waiting) if task.code in early else task for task in merged]


def _joined(unknown: Iterable[Unknown]) -> tuple[Unknown, ...]:
    """What is not known, the same of several plants as one."""
    bearers: dict[tuple[str, tuple[str, ...]], list[int]] = {}
    for one in unknown:
        bearers.setdefault((one.code, one.words), []).extend(one.plants)
    return tuple(Unknown(code, tuple(dict.fromkeys(plants)), words) for (code, words), plants in bearers.items())


def _cautions(base: Carded, n: int) -> tuple[Caution, ...]:
    return cautions(columns_of(base).values(READS, n), None)
