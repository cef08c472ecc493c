"""The one evaluator: each condition's judge, called once for each distinct value of the base.

A verdict on a value is true of every plant in that value's bit set, so misses, cares and unknowns of a condition are
unions of bit sets (whole numbers; bit n is plant n).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import lru_cache
from operator import attrgetter
from typing import Any, NamedTuple, Protocol

from askplant.reading.reading import Condition, Reading, Test
from askplant.stock.stock import Stock
from askplant.verdicts import (
    availability,
    burdens,
    classes,
    ground,
    hardiness,
    kinship,
    safety,
    scales,
    seasons,
    sizes,
    uses,
)
from askplant.verdicts.bundles import Bundles
from askplant.verdicts.logic import negated
from askplant.verdicts.sized import Found, Sized, Sizes
from askplant.verdicts.verdict import UNKNOWN, Judgement, Site, Verdict

Judge = Callable[[Condition, Sequence[Any], Site], Judgement]
Column = Sequence[tuple[list[Any], int]]

JUDGES: dict[str, Judge] = {
    "kind": classes.judge_kind,
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
# Of so many plants the sizes are judged without those of the others.
FEW = 64
# Judges that need a second column of the base beside the condition's own: the first value of it is appended.
ALSO_READS = {"group": "persistence"}
STOCK = "stock"
# What is judged by more of the site than its conditions tell.
SITED = frozenset({"native", "invasive", "size", "height", "width"})
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


class Verdicts:
    """Every judgement on a base with its plants; those on sizes are made when somebody looks at their plants."""

    __slots__ = ("_lots",)

    def __init__(self, lots: Iterable[Lot]) -> None:
        self._lots = Bundles(lots)

    def __iter__(self) -> Iterator[tuple[Judgement, int]]:
        return self.among(-1)

    def among(self, plants: int) -> Iterator[tuple[Judgement, int]]:
        """The judgements on plants of a set, with those of their plants that are in it."""
        for lot in self._lots.of(plants):
            if isinstance(lot.found, Judgement):
                yield lot.found, lot.bits & plants
            else:
                yield from lot.found.among(plants)


class Later:
    """The judgements on plants of several sizes and one verdict, made and kept as they are looked at."""

    __slots__ = ("_condition", "_made", "_site", "_sizes")

    def __init__(self, condition: Condition, site: Site, sizes: Sizes) -> None:
        self._condition, self._site, self._sizes = condition, site, sizes
        self._made: dict[Found, Judgement] = {}

    def among(self, plants: int) -> Iterator[tuple[Judgement, int]]:
        """The judgements on plants of a set, with those of their plants that are in it."""
        for found, bits in self._sizes(plants):
            if found not in self._made:
                self._made[found] = judge(self._condition, found.size, self._site)
            yield self._made[found], bits


class Lot(NamedTuple):
    """Plants of one verdict: the verdict, the plants, and the judgement or how to come by it."""

    verdict: Verdict
    bits: int
    found: Judgement | Later


class Kept(NamedTuple):
    """What is kept of a condition: every judgement, and the plants by verdict."""

    verdicts: Verdicts
    meets: int
    care: int
    unknown: int
    misses: int


class Outcome(NamedTuple):
    """One condition held against the whole base: every judgement with its plants, and the plants by verdict."""

    condition: Condition
    verdicts: Verdicts
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


_CORE = attrgetter(*Core._fields)


def site_of(reading: Reading, stock: Stock | None = None) -> Site:
    """What a reading says beside its conditions, and the stock list there is."""
    return Site(reading.task.place, reading.task.by_year, reading.task.buy, stock)


def judge(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """One condition against one distinct value of the base."""
    found = JUDGES[condition.trait](condition, value, site)
    return negated(found) if condition.test == "none_of" else found


def outcome(condition: Condition, base: Judged, site: Site) -> Outcome:
    """One condition against every plant of the base; what was asked before is not judged again."""
    core = Core(*_CORE(condition))
    if condition.trait != STOCK:  # what was judged for one purchase holds for any other
        site = Site(site.place, site.by_year) if condition.trait in SITED else Site()
    return Outcome(condition, *_kept(core, base, site))


@lru_cache(maxsize=KEPT)
def _kept(core: Core, base: Judged, site: Site) -> Kept:
    lots = list(_lots(Condition(**core._asdict()), base, site, base.everyone))
    return kept(lots)


def kept(lots: Sequence[Lot]) -> Kept:
    """What is kept of judgements that tile the base."""
    return Kept(Verdicts(lots), **_by_verdict(lots))


def forget() -> None:
    """Keep no verdicts of what was asked so far; for measuring what a request takes that nobody has put before."""
    _kept.cache_clear()


def missing(condition: Condition, base: Judged, site: Site, within: int) -> int:
    """The plants of a set that miss a condition; values that none of them has are not judged."""
    return _by_verdict(_lots(condition, base, site, within))["misses"] & within


def _by_verdict(lots: Iterable[Lot]) -> dict[str, int]:
    by_verdict = {"meets": 0, "with care": 0, "unknown": 0, "misses": 0}
    for lot in lots:
        by_verdict[lot.verdict] |= lot.bits
    by_verdict["care"] = by_verdict.pop("with care")
    return by_verdict


@lru_cache(maxsize=256)
def values_of(trait: str, base: Judged) -> tuple[tuple[Any, int], ...]:
    """The distinct values a condition's judge reads, with their plants."""
    if JUDGES[trait] is sizes.judge_size:
        return tuple((found.size, found.bits) for found in _sized(trait, base).all())
    own = base.judged(trait)
    other = ALSO_READS.get(trait)
    if other is None:
        return tuple(own)
    crossed = kinship.crossed((own, base.judged(other)), base.everyone)
    return tuple(([*values[0], values[1][0]], bits) for values, bits in crossed)


def apart(condition: Condition, base: Judged, within: int) -> Iterable[tuple[Any, int]]:
    """The values that a condition may have to tell apart however its bounds are moved, with their plants in a set."""
    if JUDGES[condition.trait] is sizes.judge_size:
        return ((found.size, bits) for found, bits in _sized(condition.trait, base).apart(condition, within))
    return values_of(condition.trait, base)


@lru_cache(maxsize=8)
def _sized(trait: str, base: Judged) -> Sized:
    return Sized(trait, base.judged(trait), base)


def _sizes(trait: str, base: Judged, within: int) -> Sized:
    """The sizes of a base, of a few plants theirs alone: the whole column is laid out when many are asked for."""
    if within.bit_count() > FEW:
        return _sized(trait, base)
    return Sized(trait, [(value, bits & within) for value, bits in base.judged(trait) if bits & within], base)


def _lots(condition: Condition, base: Judged, site: Site, within: int) -> Iterator[Lot]:
    if condition.trait in KIN:
        for found, bits in KIN[condition.trait](condition, base):
            yield _lot(negated(found) if condition.test == "none_of" else found, bits)
    elif condition.trait == STOCK:
        for found, bits in availability.judge_stock(site, base.everyone):
            yield _lot(negated(found) if condition.test == "none_of" else found, bits)
    elif condition.trait not in JUDGES:  # what no card can tell
        yield _lot(UNKNOWN, base.everyone)
    elif JUDGES[condition.trait] is sizes.judge_size:
        for lot in _sizes(condition.trait, base, within).parted(condition, site, within):
            if lot.verdict is None or condition.test == "none_of":
                yield from (_lot(judge(condition, found.size, site), bits) for found, bits in lot.sizes(lot.bits))
            else:
                yield Lot(lot.verdict, lot.bits, Later(condition, site, lot.sizes))
    else:
        for value, bits in values_of(condition.trait, base):
            if bits & within:
                yield _lot(judge(condition, value, site), bits)


def _lot(found: Judgement, bits: int) -> Lot:
    return Lot(found.verdict, bits, found)


def judgement_of(outcome: Outcome, plant: int) -> Judgement:
    """The verdict on one plant."""
    return next(judgement for judgement, _ in outcome.verdicts.among(1 << plant))
