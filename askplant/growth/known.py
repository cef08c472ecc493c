"""What the base knows of one plant's height or width over time: its sizes, its growth, whose child it is, and measurements."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import Any, NamedTuple, Protocol

from askplant.base.opened import ORIGINS, by_plant

AXES = ("height", "width")
# Years to full size of plants without a lasting woody top; common practice.
YEARS_SOFT = {"perennial": 3.0, "grass": 3.0, "fern": 3.0, "bulb": 2.0, "annual": 0.5, "bamboo": 6.0, "vine": 6.0}
# Kinds that make a vine one without a lasting top of wood, or one that stands by itself.
NO_CLIMBER = frozenset({"perennial", "annual", "shrub", "tree"})
# What a measurement counts where something else had a say in it: words of its place or note, and the share of a free-standing
# plant's that is left. Street trees are held back by their sites (standards of the trade, size at a known age). Common practice.
HELD_BACK = (("street", 0.5), ("exchanged", 0.5), ("uncertain", 0.5))
# The plants of a hedge stand in each other's way, which their height does not mind.
CROWDED = ("hedge", 0.5)
# A plant that was cut says less of how it grows than of how it was kept.
CUT_BACK = 0.25

Range = tuple[float, float]

_NOTHING: Sequence[Any] = (None,) * 11


class Seen(NamedTuple):
    """One measured size: years since planting, metres, what it counts (1 for a free-standing plant), and whose it is:
    measurements of one source at one place are of the same plants.
    """

    age: float
    size: float
    counts: float = 1.0
    whose: str = ""


class Known(NamedTuple):
    """What is known of one axis of one plant, in metres and years, None where nothing is.

    `rate` is the length added in a year, of the height; `reach` what the plant has to grow from the ground to be grown: its
    height, or half its width where that is more. `soft` is the years to full size of a plant without a woody top, once it has
    rooted; `season` is whether it is grown for one season, at least where winter kills it; `habit` is `vine` or `bamboo` for
    those that grow by long shoots or by culms of one season. `stated` holds each source's grown range where they disagree.
    `states` is whether its own card speaks of growth, `parent` the reach of the plant it inherits from, `variegated` whether it
    is variegated and that one is not.
    """

    axis: str
    grown: Range | None
    label: Range | None = None
    old: float | None = None
    rate: Range | None = None
    growth: str | None = None
    soft: float | None = None
    lag: Range | None = None
    reach: float | None = None
    stated: tuple[Range, ...] = ()
    states: bool = True
    parent: float | None = None
    variegated: bool = False
    seen: tuple[Seen, ...] = ()
    habit: str | None = None
    season: bool = False


class Grown(Protocol):
    """What a base must tell of its plants' growth."""

    def judged(self, condition: str) -> Sequence[tuple[list[Any], int]]: ...
    def observations(self, n: int) -> Sequence[Any]: ...
    def __hash__(self) -> int: ...


def known(base: Grown, n: int, axis: str) -> Known:
    """What the base knows of a plant's height or width."""
    heights, widths, origins = _rows(base)
    height, width = heights.get(n, _NOTHING), widths.get(n, _NOTHING)
    tall, wide, parent = origins.get(n, (None, None, None))
    value, stated = (height, tall) if axis == "height" else (width, wide)
    more = {}
    if parent is not None:
        more = {"states": parent[2], "parent": _reach(parent[0], parent[1]), "variegated": parent[3]}
    if stated:
        more["stated"] = tuple(map(_range, stated))
    if observations := base.observations(n):
        more["seen"] = _seen(observations, axis)
    return known_of(axis, value, reach=_reach(height[0], width[0]), **more)


def known_of(axis: str, value: Sequence[Any], **more: Any) -> Known:
    """The same from [grown, label, old, rate, growth, …, kind, form, lag] alone, as a condition of size reads them, and
    `more` fields.
    """
    grown, label, old, rate, growth, _, _, _, kinds, *_ = value
    lag = value[10] if len(value) > 10 else None
    habit = _habit(kinds or ())
    climbs = habit == "vine" and rate is not None
    return Known(
        axis,
        _range(grown) if grown else None,
        _range(label) if label else None,
        old[1] if old else None,
        _range(rate) if rate else None,
        growth,
        soft_years(kinds) if kinds and not climbs else None,
        _range(lag) if lag else None,
        habit=habit,
        season="annual" in (kinds or ()) and "shrub" not in kinds,
        **more,
    )


def _habit(kinds: Iterable[str]) -> str | None:
    if "bamboo" in kinds:
        return "bamboo"
    return "vine" if "vine" in kinds and NO_CLIMBER.isdisjoint(kinds) else None


def soft_years(kinds: Iterable[str]) -> float | None:
    """Years to full size if a plant of these kinds has no lasting woody top, else None."""
    named = set(kinds)
    if "annual" in named and "shrub" not in named:
        return YEARS_SOFT["annual"]
    longest = max((YEARS_SOFT.get(kind, math.inf) for kind in named), default=math.inf)
    return None if longest == math.inf else longest


@lru_cache(maxsize=2)
def _rows(base: Grown) -> tuple[Mapping[int, Sequence[Any]], ...]:
    """The columns of height, width and origin by plant, read once."""
    return tuple(by_plant(base.judged(column)) for column in (*AXES, ORIGINS))


def _reach(height: Sequence[float] | None, width: Sequence[float] | None) -> float | None:
    tall = (height[0] + height[1]) / 2 if height else 0.0
    wide = (width[0] + width[1]) / 4 if width else 0.0
    return tall if tall >= wide and tall else wide or None


def _seen(observations: Sequence[Any], axis: str) -> tuple[Seen, ...]:
    return tuple(
        Seen(one.age, size, _counts(one, axis), f"{one.source} {one.place}")
        for one in observations
        if (size := one.height if axis == "height" else one.width) and one.age > 0
    )


def _counts(one: Any, axis: str) -> float:
    told = f"{one.place} {one.note}".casefold()
    reasons = (*HELD_BACK, CROWDED) if axis == "width" else HELD_BACK
    least = min((share for word, share in reasons if word in told), default=1.0)
    return min(least, CUT_BACK) if one.pruned == "yes" else least


def _range(value: Sequence[float]) -> Range:
    return (value[0], value[1])


def middle(value: Sequence[float]) -> float:
    """The midpoint of a range."""
    return (value[0] + value[1]) / 2
