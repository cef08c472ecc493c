"""Holding a plant below its grown size with the shears: can it be done, how much is cut a year, when, how often, at what cost.

Every bound here is monotone: what can be held at a size can be held at any greater one, with no more cutting, so that
loosening what is asked never loses a plant.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import lru_cache
from typing import Literal, NamedTuple

from askplant.growth.fit import fitted
from askplant.growth.known import Known, Range, middle

# A plant is held at no less than this share of the middle of its grown range, by how it takes clipping and whether it
# breaks from bare wood: hornbeam and yew make low hedges of tall trees, a conifer cut past the green stays bare.
# Common practice; on bare wood, Pruning Evergreens in the Landscape, University of New Hampshire Extension.
LEAST_SHARE = {("yes", "yes"): 0.3, ("yes", None): 0.4, ("yes", "no"): 0.5}
LEAST_SHARE_LIGHT = 2 / 3
# A cane of bamboo makes its height in one season and grows no higher once it is topped, so that no yearly cut bounds what can be
# held; below half of its height too little leaf is left on it. Common practice.
LEAST_SHARE_BAMBOO = 0.5
# A fast shrub that blooms on the year's shoots and breaks from old wood is cut to a low framework every late winter and grows
# back from it the same summer: such a one is held from half of its height on, and up to two thirds of it come off at a time.
# Common practice, no source.
LEAST_SHARE_HARD, MOST_HARD = 0.5, 2 / 3
# At most a third of the top comes off in a year (Ohio State Extension column; Clemson says 30 %, the tree standard
# A300 a quarter).
MOST_OF_TOP = 1 / 3
# More than this a year is no hedge but a struggle, m (3 ft); common practice.
MOST_A_YEAR = 0.92
# Cut above this, m (18 in), takes a second cut in the same summer; common practice.
ONE_CUT = 0.46
# A clipped face looks ragged once its shoots stand so far out, m (8 in), and nobody clips more often than this; common practice.
RAGGED, MOST_CLIPS = 0.2, 6
# Up to these heights, m, it is cut from the ground with shears (7 ft), with a long-reach cutter (12 ft), from a ladder (16 ft);
# higher needs a lift. Common practice.
REACHES = ((2.13, "ground"), (3.66, "pole"), (4.9, "ladder"))
REACH = REACHES[-1][0]
# Cutting down does not hold these: they come back to their height every year, or are ruined.
NOT_CUT_KINDS = frozenset({"perennial", "grass", "fern", "bulb", "annual", "palm", "succulent"})
NOT_CUT_FORMS = frozenset({"weeping"})
# When to cut what the card gives no time for, by the wood it blooms on: old wood right after bloom, new wood in late winter
# (Pruning ornamental plants in the landscape, University of Georgia Extension).
TIMES = {"old": "after flowering", "new": "late winter"}
USUAL_TIME = "late winter"
SELDOM, AFTER_FLOWERING = "seldom", "after flowering"
# Cut at these times, a plant that blooms on old wood loses the flowers of that year: their buds are on it (same bulletin).
BEFORE_BLOOM = frozenset({"late winter", "early spring", "dormant season", "early spring or early summer"})
# Cut at these times, a plant that blooms on the year's shoots loses its flowers, or many of them.
IN_GROWTH = frozenset({"summer", "late spring"})
FLOWERS, FRUITS = frozenset({"showy"}), frozenset({"showy", "edible"})
_STEPS = 14

Cost = Literal["flower", "some flower", "fruit"]
Reason = Literal["size", "kind", "weeping", "shearing", "unsaid", "bare", "low", "much", "third", "reach"]


class Size(NamedTuple):
    """What the base knows of one plant's height (or width), and of what cutting does to it, as the card has it."""

    known: Known
    shearing: str | None
    old_wood: str | None
    prune_when: str | None
    kinds: tuple[str, ...]
    forms: tuple[str, ...]
    blooms_on: tuple[str, ...] = ()
    flower: tuple[str, ...] = ()
    fruit: tuple[str, ...] = ()

    @property
    def axis(self) -> str:
        """`height` or `width`."""
        return self.known.axis

    @property
    def grown(self) -> Range | None:
        """The grown range in metres."""
        return self.known.grown

    @property
    def label(self) -> Range | None:
        """What tags say, in metres."""
        return self.known.label

    @property
    def old(self) -> float | None:
        """The old size in metres."""
        return self.known.old

    @property
    def share(self) -> float | None:
        """The least share of its grown size that it can be held at by its habit; None if it does not take that."""
        return share_of(self.shearing, self.old_wood, self.kinds, self.forms, self.is_cut_hard)

    @property
    def is_cut_hard(self) -> bool:
        """Whether it is one that is cut to a low framework every year."""
        return is_cut_hard(self.kinds, self.known.growth, self.blooms_on, self.old_wood, self.prune_when)

    def as_sold(self) -> Size:
        """The same plant taken at the size that tags say, uncut."""
        return self._replace(known=self.known._replace(grown=self.label), shearing=None)


class Hold(NamedTuple):
    """How a plant is held: at a size in metres, with so much cut a year, in one cut or two (`cuts`), or so many clips for a clean
    face; when; whether only green shoots may be cut; what it is reached with; and what the cutting costs.
    """

    at: float
    cut: float
    cuts: int
    clips: int
    when: str
    green_only: bool
    reach: str
    costs: tuple[Cost, ...]


def is_cut_hard(
    kinds: Iterable[str], growth: str | None, blooms_on: Iterable[str], old_wood: str | None, prune_when: str | None
) -> bool:
    """Whether it is one that is cut to a low framework every year, and grows back from it."""
    regrows = growth == "fast" and old_wood == "yes" and set(blooms_on) == {"new"}
    return regrows and "shrub" in kinds and prune_when in BEFORE_BLOOM


def share_of(
    shearing: str | None, old_wood: str | None, kinds: Iterable[str], forms: Iterable[str], hard: bool = False
) -> float | None:
    """The least share of its grown size that a plant of such habit can be held at; None if it does not take that."""
    if not NOT_CUT_KINDS.isdisjoint(kinds) or not NOT_CUT_FORMS.isdisjoint(forms):
        return None
    least = LEAST_SHARE_LIGHT if shearing == "light" else LEAST_SHARE.get((shearing or "", old_wood))
    if hard and least is not None:
        least = min(least, LEAST_SHARE_HARD)
    return least if least is None or "bamboo" not in kinds else min(least, LEAST_SHARE_BAMBOO)


def most_off(size: Size) -> float:
    """The share of its top that may come off in a year."""
    return MOST_HARD if size.is_cut_hard else MOST_OF_TOP


def least(size: Size) -> float | None:
    """The smallest size in metres at which it can reasonably be held; None if it does not take that, or only out of reach."""
    share = size.share
    if size.grown is None or share is None:
        return None
    smallest = _least(size.known, share, most_off(size))
    return None if size.axis == "height" and smallest > REACH else smallest


def hold(size: Size, at: float) -> Hold | None:
    """How it is held at a size, or lower where a ladder ends; None if that is not reasonable."""
    within_reach = min(at, REACH) if size.axis == "height" else at
    return held(size, within_reach) if can_hold(size, within_reach) else None


def can_hold(size: Size, at: float) -> bool:
    """Whether it is reasonable to hold it at a size that can be reached."""
    share = size.share
    # Two looks that say no for most plants, before the smallest size is searched for.
    if size.grown is None or share is None or share * middle(size.grown) > at or not _reasonable(size.known, at, most_off(size)):
        return False
    smallest = least(size)
    return smallest is not None and smallest <= at


def held(size: Size, at: float) -> Hold:
    """What holding at a size would take, reasonable or not."""
    cut = yearly_cut(size, at)
    at_once = is_topped(size) or size.is_cut_hard
    cuts = 1 if cut <= ONE_CUT or at_once else 2
    when = when_to_cut(size)
    reach = next((tool for most, tool in REACHES if at <= most), "lift") if size.axis == "height" else "ground"
    return Hold(at, cut, cuts, 1 if at_once else clips(cut), when, size.old_wood == "no", reach, costs(size, when, cuts))


def why_not(size: Size, at: float) -> tuple[Reason, ...]:
    """Why it is not reasonable to hold it at a size, most telling first; nothing where it is."""
    if size.grown is None:
        return ("size",)
    if not NOT_CUT_KINDS.isdisjoint(size.kinds):
        return ("kind",)
    if not NOT_CUT_FORMS.isdisjoint(size.forms):
        return ("weeping",)
    share = size.share
    if share is None:
        return ("unsaid",) if size.shearing is None else ("shearing",)
    found: list[Reason] = []
    if at < share * middle(size.grown):
        found.append("bare" if size.old_wood == "no" else "low")
    cut = yearly_cut(size, at)
    if cut > MOST_A_YEAR and not is_topped(size):
        found.append("much")
    if cut > at * most_off(size) and not is_topped(size):
        found.append("third")
    if size.axis == "height" and at > REACH:
        found.append("reach")
    return tuple(found)


def is_topped(size: Size) -> bool:
    """Whether it is held by topping each new cane once: the height of a bamboo."""
    return _is_topped(size.known)


def _is_topped(known: Known) -> bool:
    return known.habit == "bamboo" and known.axis == "height"


def when_to_cut(size: Size) -> str:
    """The card's own time, else the one that the wood it blooms on asks for."""
    shows = not FLOWERS.isdisjoint(size.flower) or "showy" in size.fruit
    return usual_time(size.prune_when, size.blooms_on, shows) or USUAL_TIME


def usual_time(prune_when: str | None, blooms_on: Iterable[str], shows: bool) -> str | None:
    """The card's own time to cut, else that of the wood whose flowers (or the fruit of them) show; None where neither says one.
    The care calendar takes the same, and from it what is forbidden where the plant stands.
    """
    if prune_when and prune_when != SELDOM:
        return prune_when
    wood = tuple(blooms_on)
    return TIMES[wood[0]] if len(wood) == 1 and shows else None


def costs(size: Size, when: str, cuts: int) -> tuple[Cost, ...]:
    """What of flower and fruit cutting at a time takes: fruit goes with the flower, and with what is cut after it."""
    blooms, lost = set(size.blooms_on), list[Cost]()
    flowers = not FLOWERS.isdisjoint(size.flower)
    gone = (blooms == {"old"} and when in BEFORE_BLOOM) or (blooms == {"new"} and when in IN_GROWTH)
    part = len(blooms) == 2 or (blooms == {"new"} and cuts > 1)
    if flowers and (gone or part):
        lost.append("flower" if gone else "some flower")
    if not FRUITS.isdisjoint(size.fruit) and (gone or when == AFTER_FLOWERING or when in IN_GROWTH):
        lost.append("fruit")
    return tuple(lost)


def clips(cut: float) -> int:
    """How often in a year a face has to be clipped to look clipped, where so much grows out of it."""
    return min(MOST_CLIPS, max(1, math.ceil(cut / RAGGED - 1e-9)))


def years_down(size: float, at: float) -> int:
    """How many years it takes to bring a plant of a size down to another, a third of the top a year."""
    if size <= at:
        return 0
    return math.ceil(math.log(at / size) / math.log(1 - MOST_OF_TOP) - 1e-9)


def yearly_cut(size: Size, at: float) -> float:
    """Length in metres that has to come off in a year: off the top for a height, off each side for a width."""
    return _cut(size.known, at)


def _cut(known: Known, at: float) -> float:
    curve = fitted(known)
    assert curve is not None
    if _is_topped(known):
        return max(0.0, curve.grown - at)
    cut = curve.yearly(at) if known.axis == "height" else curve.yearly(at) / 2
    # A vine is measured by its support, where its curve says little: no more comes off than grows in a year.
    return min(cut, known.rate[1]) if known.habit == "vine" and known.rate is not None else cut


def _reasonable(known: Known, at: float, most: float) -> bool:
    return _is_topped(known) or _cut(known, at) <= min(MOST_A_YEAR, at * most)


@lru_cache(maxsize=8192)
def _least(known: Known, share: float, most: float) -> float:
    """Bisected: the yearly cut falls and the share of the top that may come off rises with the size held."""
    curve = fitted(known)
    assert curve is not None
    assert known.grown is not None
    low = share * middle(known.grown)
    if _reasonable(known, low, most):
        return low
    high = max(curve.top, low)  # at its top nothing is to cut
    for _ in range(_STEPS):
        between = (low + high) / 2
        low, high = (low, between) if _reasonable(known, between, most) else (between, high)
    return high
