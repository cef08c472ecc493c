"""Holding a plant below its grown size with the shears: can it be done, how much is cut a year, when and how often.

Every bound here is monotone: what can be held at a size can be held at any greater one, so that loosening what is
asked never loses a plant.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from askplant.verdicts.growth import fitted

# A plant is held at no less than this share of the middle of its grown range, by how it takes clipping and whether it
# breaks from bare wood: hornbeam and yew make low hedges of tall trees, a conifer cut past the green stays bare.
# Common practice; on bare wood, Pruning Evergreens in the Landscape, University of New Hampshire Extension.
LEAST_SHARE = {("yes", "yes"): 0.3, ("yes", None): 0.4, ("yes", "no"): 0.5}
LEAST_SHARE_LIGHT = 0.67
# At most a third of the top comes off in a year (Ohio State Extension column; Clemson says 30 %, the tree standard
# A300 a quarter).
MOST_OF_TOP = 1 / 3
# More than this a year is no hedge but a struggle, m (3 ft); common practice.
MOST_A_YEAR = 0.92
# Cut above this, m (18 in), takes a second cut in the same summer; common practice.
ONE_CUT = 0.46
# What a person holds from a ladder, m (16 ft); higher needs a lift. Common practice.
REACH = 4.9
# Cutting down does not hold these: they come back to their height every year, or are ruined.
NOT_CUT_KINDS = frozenset({"perennial", "grass", "fern", "bulb", "annual", "palm", "succulent"})
NOT_CUT_FORMS = frozenset({"weeping"})
# Where the card does not say when to cut.
USUAL_TIME = "late winter"
_STEPS = 14


class Size(NamedTuple):
    """What the base knows of one plant's height (or width): ranges in metres, the rest as the card has it.

    `soft` is the years to full size of a plant without a lasting woody top.
    """

    axis: str
    grown: tuple[float, float] | None
    label: tuple[float, float] | None
    old: float | None
    rate: float | None
    growth: str | None
    shearing: str | None
    old_wood: str | None
    prune_when: str | None
    kinds: tuple[str, ...]
    forms: tuple[str, ...]
    soft: float | None = None

    @property
    def share(self) -> float | None:
        """The least share of its grown size that it can be held at by its habit; None if it does not take that."""
        if not NOT_CUT_KINDS.isdisjoint(self.kinds) or not NOT_CUT_FORMS.isdisjoint(self.forms):
            return None
        return LEAST_SHARE_LIGHT if self.shearing == "light" else LEAST_SHARE.get((self.shearing or "", self.old_wood))


class Hold(NamedTuple):
    """How a plant is held: at a size in metres, with so much cut a year, in one cut or two, at that time of year."""

    at: float
    cut: float
    cuts: int
    when: str
    green_only: bool


def least(size: Size) -> float | None:
    """The smallest size in metres at which it can reasonably be held; None if it does not take that, or only out of reach."""
    share = size.share
    if size.grown is None or share is None:
        return None
    smallest = _least(size.axis, size.grown, size.old, size.rate, size.growth, share, size.soft)
    return None if size.axis == "height" and smallest > REACH else smallest


def hold(size: Size, at: float) -> Hold | None:
    """How it is held at a size, or lower where a ladder ends; None if that is not reasonable."""
    smallest = least(size)
    within_reach = min(at, REACH) if size.axis == "height" else at
    if smallest is None or smallest > within_reach:
        return None
    cut = yearly_cut(size, within_reach)
    cuts = 1 if cut <= ONE_CUT else 2
    return Hold(within_reach, cut, cuts, size.prune_when or USUAL_TIME, size.old_wood == "no")


def yearly_cut(size: Size, at: float) -> float:
    """Length in metres that has to come off in a year: off the top for a height, off each side for a width."""
    assert size.grown is not None
    return _cut(size.axis, size.grown, size.old, size.rate, size.growth, size.soft, at)


def _cut(
    axis: str,
    grown: tuple[float, float],
    old: float | None,
    rate: float | None,
    growth: str | None,
    soft: float | None,
    at: float,
) -> float:
    # Card rates are of height: a width widens as its own grown range says.
    curve = fitted(grown, old, rate, growth, soft) if axis == "height" else fitted(grown, old, None, growth, soft)
    return curve.yearly(at) if axis == "height" else curve.yearly(at) / 2


@lru_cache(maxsize=8192)
def _least(
    axis: str,
    grown: tuple[float, float],
    old: float | None,
    rate: float | None,
    growth: str | None,
    share: float,
    soft: float | None,
) -> float:
    """Bisected: the yearly cut falls and the third of the top rises with the size held."""

    def reasonable(at: float) -> bool:
        return _cut(axis, grown, old, rate, growth, soft, at) <= min(MOST_A_YEAR, at * MOST_OF_TOP)

    low = share * (grown[0] + grown[1]) / 2
    if reasonable(low):
        return low
    high = max(grown[1], low)
    for _ in range(_STEPS):
        middle = (low + high) / 2
        low, high = (low, middle) if reasonable(middle) else (middle, high)
    return high
