"""The one evaluator: each condition's judge, called once for each distinct value of the base.

A verdict on a value is true of every plant in that value's bit set, so misses, cares and unknowns of a condition are
unions of bit sets (whole numbers; bit n is plant n).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from typing import Any, NamedTuple, Protocol

from askplant.reading.reading import Condition, Reading, Test
from askplant.verdicts import burdens, classes, ground, hardiness, kinship, safety, scales, seasons, sizes, uses
from askplant.verdicts.logic import negated
from askplant.verdicts.sized import Sized
from askplant.verdicts.verdict import UNKNOWN, Judgement, Site

Judge = Callable[[Condition, Sequence[Any], Site], Judgement]
Column = Sequence[tuple[list[Any], int]]

JUDGES: dict[str, Judge] = {
    "kind": classes.judge_words,
    "group": classes.judge_group,
    "persistence": classes.judge_persistence,
    "leaf_colour": classes.judge_words,
    "fall_colour": classes.judge_fall_colour,
    "size": sizes.judge_size,
    "height": sizes.judge_size,
    "width": sizes.judge_size,
    "form": classes.judge_form,
    "density": scales.judge_grade,
    "roots": scales.judge_grade,
    "suckers": scales.judge_grade,
    "growth": scales.judge_growth,
    "zone": hardiness.judge_zone,
    "heat": hardiness.judge_heat,
    "light": ground.judge_light,
    "moisture": ground.judge_moisture,
    "drought": scales.judge_grade,
    "soil": classes.judge_soil,
    "ph": ground.judge_ph,
    "salt": scales.judge_grade,
    "wind": scales.judge_grade,
    "pollution": scales.judge_grade,
    "juglone": scales.judge_grade,
    "fire": scales.judge_grade,
    "breakage": scales.judge_grade,
    "deer": scales.judge_browsed,
    "rabbit": scales.judge_browsed,
    "flower": classes.judge_flower,
    "flower_colour": classes.judge_flower_colour,
    "winter_interest": seasons.judge_winter_interest,
    "style": classes.judge_words,
    "bloom": seasons.judge_bloom,
    "fragrance": scales.judge_grade,
    "fruit": classes.judge_fruit,
    "pollination": classes.judge_pollination,
    "wildlife": classes.judge_words,
    "native": safety.judge_native,
    "safe_for": safety.judge_safe_for,
    "pollen": scales.judge_grade,
    "longevity": scales.judge_grade,
    "shearing": scales.judge_grade,
    "thorns": scales.judge_grade,
    "litter": scales.judge_litter,
    "invasive": safety.judge_invasive,
    "use": uses.judge_use,
    "care": burdens.judge_care,
    "pests": burdens.judge_pests,
}

# Verdicts of so many conditions on a whole base are kept for the requests that follow.
KEPT = 96
# Judges that need a second column of the base beside the condition's own: the first value of it is appended.
ALSO_READS = {"group": "persistence"}
KIN = {"taxon": kinship.judge_taxon, "like": kinship.judge_like}


class Judged(Protocol):
    """What the evaluator needs of a base."""

    everyone: int

    def judged(self, condition: str) -> Column: ...
    def index(self, plant_id: str) -> int: ...
    def plant(self, n: int) -> Any: ...
    def names_starting(self, first: str) -> Sequence[Any]: ...
    def observations(self, n: int) -> Sequence[Any]: ...
    def __hash__(self) -> int: ...


class Outcome(NamedTuple):
    """One condition held against the whole base: every verdict with its plants, and the plants by verdict."""

    condition: Condition
    verdicts: tuple[tuple[Judgement, int], ...]
    meets: int
    care: int
    unknown: int
    misses: int


class Core(NamedTuple):
    """What of a condition decides a verdict; where it was said and how strongly does not."""

    trait: str
    test: Test
    values: tuple[str | int | float, ...]
    minimum: float | None
    maximum: float | None
    basis: str | None
    than: str | None


def site_of(reading: Reading) -> Site:
    """What a reading says of the site beside its conditions."""
    return Site(reading.task.place, reading.task.by_year)


def judge(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """One condition against one distinct value of the base."""
    found = JUDGES[condition.trait](condition, value, site)
    return negated(found) if condition.test == "none_of" else found


def outcome(condition: Condition, base: Judged, site: Site) -> Outcome:
    """One condition against every plant of the base; what was asked before is not judged again."""
    core = Core(*(getattr(condition, name) for name in Core._fields))
    return _outcome(condition, _judged(core, base, site))


@lru_cache(maxsize=KEPT)
def _judged(core: Core, base: Judged, site: Site) -> tuple[tuple[Judgement, int], ...]:
    return tuple(_pairs(Condition(**core._asdict()), base, site, base.everyone))


def missing(condition: Condition, base: Judged, site: Site, within: int) -> int:
    """The plants of a set that miss a condition; values that none of them has are not judged."""
    return _outcome(condition, _pairs(condition, base, site, within)).misses & within


def _outcome(condition: Condition, pairs: Iterable[tuple[Judgement, int]]) -> Outcome:
    kept = tuple(pairs)
    by_verdict = {"meets": 0, "with care": 0, "unknown": 0, "misses": 0}
    for judgement, bits in kept:
        by_verdict[judgement.verdict] |= bits
    return Outcome(condition, kept, *by_verdict.values())


@lru_cache(maxsize=256)
def values_of(trait: str, base: Judged) -> tuple[tuple[Any, int], ...]:
    """The distinct values a condition's judge reads, with their plants."""
    if JUDGES[trait] is sizes.judge_size:
        return tuple(_sized(trait, base).all())
    own = base.judged(trait)
    other = ALSO_READS.get(trait)
    if other is None:
        return tuple(own)
    crossed = kinship.crossed((own, base.judged(other)), base.everyone)
    return tuple(([*values[0], values[1][0]], bits) for values, bits in crossed)


def apart(condition: Condition, base: Judged, within: int) -> Iterable[tuple[Any, int]]:
    """The values that a condition may have to tell apart however its bounds are moved, with their plants in a set."""
    if JUDGES[condition.trait] is sizes.judge_size:
        return _sized(condition.trait, base).apart(condition, within)
    return values_of(condition.trait, base)


@lru_cache(maxsize=8)
def _sized(trait: str, base: Judged) -> Sized:
    return Sized(trait, base.judged(trait), base)


def _pairs(condition: Condition, base: Judged, site: Site, within: int) -> Iterable[tuple[Judgement, int]]:
    if condition.trait in KIN:
        found = KIN[condition.trait](condition, base)
        return [(negated(one), bits) for one, bits in found] if condition.test == "none_of" else found
    if condition.trait not in JUDGES:  # what no card can tell, as whether it is in stock
        return [(UNKNOWN, base.everyone)]
    if JUDGES[condition.trait] is sizes.judge_size:
        parted = _sized(condition.trait, base).parted(condition, site, within)
        return [(judge(condition, value, site), bits) for value, bits in parted]
    return [(judge(condition, value, site), bits) for value, bits in values_of(condition.trait, base) if bits & within]


def judgement_of(outcome: Outcome, plant: int) -> Judgement:
    """The verdict on one plant."""
    return next(judgement for judgement, bits in outcome.verdicts if bits >> plant & 1)
