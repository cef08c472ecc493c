"""What a request means without saying it: a plant used to the climate of its place, and not the one that is to go but one of
its kind.

That moves plants up or down with the weight of a condition; no answer lists it among its conditions, and nothing is kept out.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any, Protocol

from askplant.answer.units import Unit, units_of
from askplant.reading.reading import Condition, Reading
from askplant.verdicts.climate import of_climate
from askplant.verdicts.judge import Lot, Outcome, kept, outcome, site_of
from askplant.verdicts.kinship import called
from askplant.verdicts.safety import code_of
from askplant.verdicts.verdict import Judgement

# What tells the kind that is wanted in place of another plant, or the work it is to do.
TELLS_KIND = frozenset({"kind", "group", "use", "like", "taxon"})


class Judged(Protocol):
    """What a base must tell for unsaid wishes."""

    everyone: int

    def judged(self, condition: str) -> Sequence[tuple[list[Any], int]]: ...
    def index(self, plant_id: str) -> int: ...
    def plant(self, n: int) -> Any: ...
    def names_starting(self, first: str) -> Sequence[Any]: ...
    def observations(self, n: int) -> Sequence[Any]: ...
    def __hash__(self) -> int: ...


def with_meant(
    reading: Reading, outcomes: Sequence[Outcome], base: Judged
) -> tuple[tuple[Outcome, ...], tuple[Unit, ...]]:
    """The outcomes of a request with those of its unsaid wishes behind them, and the units of all."""
    all_of_them = (*outcomes, *_meant(reading, base))
    return all_of_them, units_of(all_of_them)


def _meant(reading: Reading, base: Judged) -> list[Outcome]:
    found = []
    place = code_of(reading.task.place)
    if place is not None:
        found.append(_at_home(place, base))
    to_go = tuple(mention.plant for mention in reading.named if mention.role == "to be replaced")
    if to_go:
        found.append(outcome(Condition("taxon", "none_of", to_go), base, site_of(reading)))
    kinds = _kinds(to_go, base)
    if kinds and not any(condition.trait in TELLS_KIND for condition in reading.conditions):
        found.append(outcome(Condition("kind", "any_of", kinds), base, site_of(reading)))
    return found


def _kinds(names: Sequence[str], base: Judged) -> tuple[str, ...]:
    """What the plants of these names mainly are, as far as the base knows them."""
    plants = {plant for name in names for plant in called(base, name)[:1]}
    kinds = {value[0][0] for value, bits in base.judged("kind") if value[0] for plant in plants if bits >> plant & 1}
    return tuple(sorted(kinds))


@lru_cache(maxsize=16)
def _at_home(place: str, base: Judged) -> Outcome:
    lots: dict[Judgement, int] = {}
    for value, bits in base.judged("native"):
        judgement = of_climate(value[0], place)
        lots[judgement] = lots.get(judgement, 0) | bits
    told = [Lot(found.verdict, bits, found) for found, bits in lots.items()]
    return Outcome(Condition("native", "any_of", (place,)), *kept(told))
