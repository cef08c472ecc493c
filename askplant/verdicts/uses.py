"""What it is to be planted for: the trade's stated uses first, else what its size and habit allow.

A use that the card states meets. One that it does not state is derived only where size, leaf and habit leave little
doubt, and says so; common practice unless a source stands beside the bound. Lengths are metres.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

from askplant.quantities.lengths import FOOT
from askplant.reading.reading import Condition
from askplant.verdicts.classes import one_of
from askplant.verdicts.logic import best
from askplant.verdicts.verdict import UNKNOWN, Advice, Fact, Judgement, Site, care, meets, misses

# Eye level of someone seated behind it: lower hides little, and below the knee nothing.
SCREEN_LEAST, SCREEN_LOW = 5 * FOOT, 2 * FOOT
# A screen is wanted so tall at least: up to so many times the height it grows there and is left, beyond it is held. Common
# practice.
ROOMY = 2.0
# Shelter reaches ten times the height and more (Windbreak Benefits and Design, Utah State University Extension
# NR/FF/005).
WINDBREAK_LEAST = 10 * FOOT
# Below a window sill, and below the eaves.
FOUNDATION_MOST, FOUNDATION_KEPT = 6 * FOOT, 10 * FOOT
CONTAINER_MOST, CONTAINER_TREE_MOST = 5 * FOOT, 10 * FOOT
COVER_MOST, COVER_NEARLY = 2 * FOOT, 3 * FOOT
BANK_MOST = 6 * FOOT
# The ground under bulbs that lose their leaves is bare for half the year, whatever spreads there. Common practice.
COVERING = frozenset({"ground cover", "bank"})
# What stands taller holds the ground, and can be seen beneath; common practice.
TALL_COVER = 0.2
FILLS_IN = 0.2
# Room for a chair beneath, and for a roof's worth of shade.
SHADE_LEAST, SHADE_SMALL = 25 * FOOT, 15 * FOOT
# Under wires: at most 20 ft (Berkeley Electric), or 25 ft (Vermont Urban and Community Forestry), of mature height.
WIRES_MOST, WIRES_SOME = 20 * FOOT, 25 * FOOT
UNDER_WIRES = "under wires"
BORDER_MOST = 10 * FOOT
SPECIMEN_LEAST = 4 * FOOT
DERIVED = 0.4
# A column casts a stripe of shade, and a cone in leaf all year stands with its branches on the ground. Common practice.
COLUMNAR, PYRAMIDAL = "columnar", "pyramidal"
# It hangs: what stands behind shows beside and below it, whatever its leaf. Common practice.
WEEPING, HIDING = "weeping", frozenset({"screen", "hedge", "windbreak"})


class Habit(NamedTuple):
    """What the judge of a use reads: [uses, grown height, persistence, density, kind, roots, form, old height]."""

    uses: frozenset[str]
    low: float | None
    high: float | None
    leafy: bool
    density: str | None
    kinds: frozenset[str]
    roots: str | None
    forms: frozenset[str] = frozenset()
    old: float | None = None

    @property
    def weeping(self) -> bool:
        return WEEPING in self.forms


def judge_use(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Any of the uses asked for, against what a Habit holds."""
    habit = _habit(value)
    return best(_for_use(str(asked), habit, value[0] is None) for asked in condition.values)


def _habit(value: Sequence[Any]) -> Habit:
    uses, height, persistence, density, kinds, roots = value[:6]
    low, high = height or (None, None)
    leafy = one_of(persistence) in ("evergreen", "semi-evergreen")
    forms = frozenset(value[6] or ()) if len(value) > 6 else frozenset()
    old = value[7][1] if len(value) > 7 and value[7] else None
    kind, root = frozenset(kinds or ()), one_of(roots)
    return Habit(frozenset(uses or ()), low, high, leafy, one_of(density), kind, root, forms, old)


def _for_use(asked: str, habit: Habit, unstated: bool) -> Judgement:
    if asked == UNDER_WIRES:
        return _under_wires(habit)
    if asked in habit.uses and asked in COVERING and "bulb" in habit.kinds and not habit.leafy:
        return care(Fact("use", (asked,)), Advice("use.cover_bulb"), DERIVED)
    if asked in habit.uses and asked in HIDING and "vine" in habit.kinds:
        return _with_care("vine_screen", "vine")
    if asked in habit.uses:
        return _low_screen(habit) if asked == "screen" else meets(Fact("use", (asked,)), _suits(asked, habit))
    derived = BY_HABIT[asked](habit) if asked in BY_HABIT and habit.high is not None else None
    if derived is not None and asked in HIDING and habit.weeping and not habit.uses & HIDING:
        return _with_care("weeping_screen", WEEPING)
    if derived is not None:
        return derived
    return UNKNOWN if unstated else misses(_stated(habit))


def _stated(habit: Habit) -> Fact | None:
    return Fact("uses", tuple(sorted(habit.uses))) if habit.uses else None


def _derived(*what: str) -> Judgement:
    return meets(Fact("derived", what), DERIVED)


def _with_care(code: str, *what: str, lengths: tuple[float, ...] = ()) -> Judgement:
    return care(Fact("derived", what), Advice(f"use.{code}", lengths), DERIVED)


def _under_wires(habit: Habit) -> Judgement:
    """Stated or not, the grown height decides; what goes on into the wires when it is old is never fit as it is."""
    if habit.high is None:
        return meets(Fact("use", (UNDER_WIRES,)), DERIVED) if UNDER_WIRES in habit.uses else UNKNOWN
    has = Fact("size", ("height", "grown", habit.low, habit.high))
    if habit.high <= WIRES_MOST + 0.01:
        if habit.old is not None and habit.old > WIRES_SOME + 0.01:
            return care(has, Advice("use.wires_old", (habit.old,)))
        return meets(has)
    if habit.high <= WIRES_SOME + 0.01 or UNDER_WIRES in habit.uses:
        return care(has, Advice("use.wires", (WIRES_MOST,)))
    return misses(has, habit.high / WIRES_SOME - 1, round(habit.high - WIRES_SOME, 2), "m")


def _low_screen(habit: Habit) -> Judgement:
    if habit.high is not None and habit.high < SCREEN_LEAST:
        return care(
            Fact("size", ("height", "grown", habit.low, habit.high)), Advice("use.low_screen", (habit.high,)), DERIVED
        )
    return meets(Fact("use", ("screen",)), _suits("screen", habit))


def _suits(asked: str, habit: Habit) -> float:
    """How well it does what a use is for, as a margin: of what hides, leaf in winter and density count half each; what covers
    the ground does so while it is low; along a house stand shrubs, and what dies back or creeps fills in between them.
    """
    if asked == "foundation":
        return 1.0 if "shrub" in habit.kinds else FILLS_IN
    if asked in COVERING:
        low = BANK_MOST if asked == "bank" else COVER_NEARLY
        return TALL_COVER if habit.high is not None and habit.high > low else 1.0
    if asked not in HIDING:
        return 1.0
    return 0.5 * habit.leafy + {"dense": 0.5, "medium": 0.25}.get(habit.density or "", 0.0)


def _screen(habit: Habit) -> Judgement | None:
    assert habit.high is not None
    if "vine" in habit.kinds:
        return _with_care("vine_screen", "vine")
    if habit.high < SCREEN_LEAST:
        hides = habit.leafy and habit.density != "open" and habit.high >= SCREEN_LOW
        return _low_screen(habit) if hides else None
    if habit.uses & {"hedge", "windbreak"}:
        return _derived("hedge") if habit.leafy else _with_care("bare_screen", "hedge")
    if habit.density == "dense":
        return _derived("dense evergreen") if habit.leafy else _with_care("bare_screen", "dense")
    return _with_care("thin_screen", "evergreen") if habit.leafy and habit.density == "medium" else None


def _hedge(habit: Habit) -> Judgement | None:
    if "screen" in habit.uses or (habit.density == "dense" and "shrub" in habit.kinds):
        return _with_care("loose_hedge", "screen" if "screen" in habit.uses else "dense")
    return None


def _windbreak(habit: Habit) -> Judgement | None:
    assert habit.high is not None
    if habit.uses & {"screen", "hedge"} and habit.high >= WINDBREAK_LEAST and habit.density != "open":
        return _with_care("windbreak", "screen")
    return None


def _foundation(habit: Habit) -> Judgement | None:
    assert habit.high is not None
    if habit.kinds & {"tree", "vine"} and not habit.kinds & {"shrub"}:
        return None
    if habit.high <= FOUNDATION_MOST:
        return _derived("low enough")
    return _with_care("foundation", "size", lengths=(habit.high,)) if habit.high <= FOUNDATION_KEPT else None


def _specimen(habit: Habit) -> Judgement | None:
    assert habit.high is not None
    if habit.kinds & {"tree", "palm"}:
        return _derived("tree")
    return _with_care("specimen", "size") if habit.high >= SPECIMEN_LEAST else _with_care("group", "size")


def _container(habit: Habit) -> Judgement | None:
    assert habit.high is not None
    most = CONTAINER_TREE_MOST if "tree" in habit.kinds else CONTAINER_MOST
    return _with_care("container", "size") if habit.high <= most else None


def _cover(habit: Habit) -> Judgement | None:
    assert habit.high is not None
    if habit.kinds & {"tree", "bulb"} or habit.high > COVER_NEARLY:  # bulbs are gone for most of the year
        return None
    return _with_care("cover", "size") if habit.high <= COVER_MOST else None


def _bank(habit: Habit) -> Judgement | None:
    assert habit.high is not None
    if "ground cover" in habit.uses:
        return _derived("ground cover")
    return _with_care("bank", "size") if habit.kinds & {"shrub", "grass", "vine"} and habit.high <= BANK_MOST else None


def _street(habit: Habit) -> Judgement | None:
    return _with_care("street", "shade tree") if "shade" in habit.uses and habit.roots != "aggressive" else None


def _shade(habit: Habit) -> Judgement | None:
    assert habit.high is not None
    if "tree" not in habit.kinds or COLUMNAR in habit.forms:
        return None
    if habit.leafy and habit.forms == {PYRAMIDAL}:
        return _with_care("limbed_shade", "tall tree") if habit.high >= SHADE_SMALL else None
    if habit.high >= SHADE_LEAST:
        return _derived("tall tree")
    return _with_care("small_shade", "size", lengths=(habit.high,)) if habit.high >= SHADE_SMALL else None


def _trellis(habit: Habit) -> Judgement | None:
    return _derived("vine") if "vine" in habit.kinds else None


def _border(habit: Habit) -> Judgement | None:
    assert habit.high is not None
    soft = habit.kinds & {"shrub", "perennial", "grass", "fern", "bulb", "annual", "succulent"}
    return _derived("size") if soft and habit.high <= BORDER_MOST else None


def _poolside(habit: Habit) -> Judgement | None:
    if habit.roots == "well-behaved":
        return _with_care("pool_litter", "well-behaved roots")
    return _with_care("pool_roots", "moderate roots") if habit.roots == "moderate" else None


BY_HABIT: dict[str, Callable[[Habit], Judgement | None]] = {
    "screen": _screen,
    "hedge": _hedge,
    "windbreak": _windbreak,
    "foundation": _foundation,
    "specimen": _specimen,
    "container": _container,
    "ground cover": _cover,
    "bank": _bank,
    "street": _street,
    "shade": _shade,
    "trellis": _trellis,
    "border": _border,
    "poolside": _poolside,
}
