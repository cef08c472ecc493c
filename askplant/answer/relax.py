"""The mildest change of one condition that would let one value in.

    a bound          moves to the next round number that lets the plant in
    zones            the coldest ones of a wide range are left out, for a caller who lives in its milder part
    classes in order the next class down; else the plant's own class is added to those asked for
    anything else    is given up

Each change only widens: whatever fitted the condition fits the changed one. What the site is (its zone, soil, light)
costs more to change than what is wished, and giving a wish up costs more than widening it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import Any, NamedTuple

from askplant.quantities import zones
from askplant.quantities.lengths import FOOT, Units
from askplant.reading.reading import BROWSED, Condition
from askplant.verdicts.holding import Size
from askplant.verdicts.judge import judge
from askplant.verdicts.sizes import axis_of, bounds_of, needed, size_of
from askplant.verdicts.verdict import Site

# What a change costs beside how far it goes.
WIDEN, GIVE_UP = 0.5, 1.0
# A bound is told by the value it must take, however far that is: it is given up only where no value helps.
GIVE_UP_BOUND = 1000.0
SITE = 1.0
SITE_TRAITS = frozenset(
    {"zone", "light", "moisture", "soil", "ph", "deer", "rabbit", "salt", "wind", "juglone", "heat", "native"}
)
LENGTHS = frozenset({"height", "width", "size"})
# Round numbers: half feet to 6 ft and whole ones beyond; tenths of a metre to 2 m and quarters beyond.
STEPS = {"us": ((6 * FOOT, FOOT / 2), (math.inf, FOOT)), "metric": ((2.0, 0.1), (math.inf, 0.25))}
_TRIES = 60


# A change is made only when what it costs is worth trying it.
Changed = Callable[[], Condition]


class Relaxed(NamedTuple):
    """A changed condition (None: given up) and what the change costs; costs compare changes, no more."""

    to: Condition | None
    cost: float


def relaxed(condition: Condition, value: Sequence[Any], site: Site, units: Units, most: float = math.inf) -> Relaxed:
    """The mildest change under which a plant with this value is no longer excluded; changes that cost more than `most` are
    not tried.
    """
    extra = SITE if condition.trait in SITE_TRAITS else 0.0
    for changed, cost in _candidates(condition, value, units):
        if cost + extra > most:  # and so do those that come after it
            break
        candidate = changed()
        if judge(candidate, value, site).verdict != "misses":
            return Relaxed(candidate, cost + extra)
    return Relaxed(None, given_up(condition))


def given_up(condition: Condition) -> float:
    """What it costs to give a condition up."""
    site = SITE if condition.trait in SITE_TRAITS else 0.0
    return site + (GIVE_UP_BOUND if condition.trait in LENGTHS and condition.test != "none_of" else GIVE_UP)


def _candidates(condition: Condition, value: Sequence[Any], units: Units) -> Iterator[tuple[Changed, float]]:
    if condition.trait in LENGTHS and condition.test != "none_of":
        yield from _moved(condition, value, units)
    elif condition.trait in ("deer", "rabbit") and condition.test in ("any_of", "at_least"):
        lowest = min(BROWSED.index(str(asked)) for asked in condition.values)
        for step in range(1, lowest + 1):
            yield partial(condition._replace, values=(BROWSED[lowest - step],)), WIDEN * step
    elif condition.trait == "zone" and condition.test != "none_of":
        coldest_first = sorted(condition.values, key=lambda name: zones.index(str(name)))
        for step in range(1, len(coldest_first)):
            yield partial(condition._replace, values=tuple(coldest_first[step:])), WIDEN * step / len(coldest_first)
    elif condition.test == "none_of" or condition.trait == "safe_for":
        yield from _fewer(condition)
    elif condition.test == "any_of":
        for word in _own_words(condition, value):
            yield partial(condition._replace, values=(*condition.values, word)), WIDEN


def _fewer(condition: Condition) -> Iterator[tuple[Changed, float]]:
    """One of several values no longer barred, or no longer to be safe for."""
    if len(condition.values) > 1:
        for out in condition.values:
            yield partial(condition._replace, values=tuple(kept for kept in condition.values if kept != out)), WIDEN


# Traits whose values a request can name one by one, and whose own words stand first in what their judge reads.
WORDED = frozenset(
    {"kind", "group", "persistence", "leaf_colour", "fall_colour", "form", "growth", "light", "moisture", "soil"}
    | {"flower_colour", "bloom", "wildlife", "style"}
)


def _own_words(condition: Condition, value: Sequence[Any]) -> Iterator[Any]:
    if condition.trait not in WORDED or not value[0]:
        return
    own = value[0] if isinstance(value[0], list) else [value[0]]
    yield from (word for word in own if word not in condition.values)


def _moved(condition: Condition, value: Sequence[Any], units: Units) -> Iterator[tuple[Changed, float]]:
    """The bounds moved to what the plant needs, then on by round steps until the judge lets it in."""
    size = value if isinstance(value, Size) else size_of(axis_of(condition.trait), value)
    if condition.basis == "label" and size.label is not None:
        size = size.as_sold()
    if size.grown is None:
        return
    bounds = bounds_of(condition)
    low, high = needed(size, bounds)
    if condition.test == "about":
        condition = condition._replace(test="within", minimum=bounds.low, maximum=bounds.high)
    for _ in range(_TRIES):
        low_at = _round(low, units, down=True) if low is not None and low != bounds.low else bounds.low
        high_at = _round(high, units, down=False) if high is not None and high != bounds.high else bounds.high
        cost = _stretch(bounds.low, low_at) + _stretch(bounds.high, high_at)
        yield partial(_bounded, condition, low_at, high_at), cost
        low = low_at - FOOT / 4 if low_at is not None and low_at != bounds.low and low_at > FOOT else low
        high = high_at + FOOT / 4 if high_at is not None and high_at != bounds.high else high


def _bounded(condition: Condition, low: float | None, high: float | None) -> Condition:
    if condition.test == "at_most":
        return condition._replace(minimum=None, maximum=high)
    if condition.test == "at_least":
        return condition._replace(minimum=low, maximum=None)
    return condition._replace(minimum=low, maximum=high)


def _stretch(old: float | None, new: float | None) -> float:
    if old is None or new is None:
        return 0.0
    return abs(new - old) / max(old, 0.1)


def _round(metres: float, units: Units, down: bool) -> float:
    step = next(step for most, step in STEPS[units] if metres <= most)
    # A hair's breadth: 3.048 m is 10 ft, not a reason to go on to 11.
    count = math.floor(metres / step + 1e-6) if down else math.ceil(metres / step - 1e-6)
    return max(count, 0) * step
