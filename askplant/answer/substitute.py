"""What stands in for a match that is not in stock: the nearest of the matches that are, and how it differs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, NamedTuple

from askplant.answer.answer import Difference, Substitute
from askplant.answer.rank import kin_of
from askplant.verdicts.columns import Columns, columns_of

# How far apart two plants are: kin, then what the eye sees of them; common practice. Sizes count by the logarithm of how many
# times one is the other.
OTHER_SPECIES, OTHER_GENUS, OTHER_FAMILY = 0.3, 0.5, 0.3
OTHER_WORDS = {"kind": 1.0, "persistence": 1.0, "form": 0.5, "flower_colour": 0.3}
SIZE_UNKNOWN = 0.7
# A size is told as different from a fifth on, and so many differences are told.
DIFFERS, TOLD = 1.2, 5
AXES = ("height", "width")


class Seen(NamedTuple):
    """What is compared of a plant."""

    kin: tuple[str | None, str, str]
    sizes: tuple[tuple[float, float] | None, ...]
    words: tuple[frozenset[str] | None, ...]


def substitute(base: Any, plant: int, among: Sequence[int]) -> Substitute | None:
    """The plant among these (in order of rank) that is most like one, and how it differs; None where there are none."""
    if not among:
        return None
    columns = columns_of(base)
    wanted = _seen(base, columns, plant)
    best = min(among, key=lambda other: _distance(wanted, _seen(base, columns, other)))
    return Substitute(best, _differences(wanted, _seen(base, columns, best)))


def _seen(base: Any, columns: Columns, n: int) -> Seen:
    plant = base.plant(n)
    genus, species = kin_of(plant)
    sizes = tuple(columns.value(axis, n)[0] or columns.value(axis, n)[1] for axis in AXES)
    words = tuple(_words(columns.value(trait, n)[0]) for trait in OTHER_WORDS)
    return Seen((plant.family, genus, species), tuple((one[0], one[1]) if one else None for one in sizes), words)


def _words(value: Any) -> frozenset[str] | None:
    return frozenset((value,) if isinstance(value, str) else value) if value else None


def _distance(one: Seen, other: Seen) -> float:
    weights = (OTHER_FAMILY, OTHER_GENUS, OTHER_SPECIES)
    far = sum(weight for weight, mine, its in zip(weights, one.kin, other.kin, strict=True) if mine != its)
    for mine, its in zip(one.sizes, other.sizes, strict=True):
        far += abs(math.log(sum(its) / sum(mine))) if mine and its else SIZE_UNKNOWN
    for weight, mine_, its_ in zip(OTHER_WORDS.values(), one.words, other.words, strict=True):
        far += weight * (0.5 if not mine_ or not its_ else 0.0 if mine_ & its_ else 1.0)
    return round(far, 6)


def _differences(one: Seen, other: Seen) -> tuple[Difference, ...]:
    found = [
        Difference(axis, its, mine)
        for axis, mine, its in zip(AXES, one.sizes, other.sizes, strict=True)
        if mine and its and max(sum(its), sum(mine)) >= DIFFERS * min(sum(its), sum(mine))
    ]
    found += [
        Difference(trait, tuple(sorted(its)), tuple(sorted(mine)))
        for trait, mine, its in zip(OTHER_WORDS, one.words, other.words, strict=True)
        if mine and its and not mine & its
    ]
    return tuple(found[:TOLD])
