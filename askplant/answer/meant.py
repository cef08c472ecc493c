"""What a request means without saying it: a plant used to the climate of its place, and not the one that is to go.

That moves plants up or down with the weight of a condition; no answer lists it among its conditions, and nothing is kept out.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any, Protocol

from askplant.answer.units import Unit, units_of
from askplant.reading.reading import Condition, Reading
from askplant.verdicts.climate import of_climate
from askplant.verdicts.judge import Outcome, Verdicts, outcome, site_of
from askplant.verdicts.safety import code_of
from askplant.verdicts.verdict import Judgement


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
    return found


@lru_cache(maxsize=16)
def _at_home(place: str, base: Judged) -> Outcome:
    lots: dict[Judgement, int] = {}
    for value, bits in base.judged("native"):
        judgement = of_climate(value[0], place)
        lots[judgement] = lots.get(judgement, 0) | bits
    meets = sum(bits for found, bits in lots.items() if found.verdict == "meets")
    cares = base.everyone & ~meets
    asked = Condition("native", "any_of", (place,))
    return Outcome(asked, Verdicts(lots.items()), meets, cares, 0, 0)
