"""Lengths of a request → a plant's height or width, the room it has, a row's length, or no plant's size.

Thresholds stand at the top; the words that decide (bounds, axes, things with a size of their own) stand in the vocabulary.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from askplant.parsing import Token, Tree
from askplant.quantities import quantity
from askplant.quantities.lengths import FOOT
from askplant.quantities.quantity import Extent
from askplant.reading.before import (
    after_narrow,
    in_space,
    is_told,
    lies_at,
    of_bed,
    of_old_plant,
    of_pot,
    of_site,
    of_thing,
    of_two_pots,
)
from askplant.reading.reading import Condition, Strength, Test

# A row or fence at least this long is a run, not a plant's height, when the number says no axis (common practice, no source).
RUN_FROM = 25 * FOOT
# Who asks for a hedge and has at least this much tells its length, with less the room across it (common practice, no source).
ROW_FROM = 12 * FOOT
# Two lengths both at least this long are a lot or a field, not a plant (common practice, no source).
LOT_FROM = 50 * FOOT
# From this on it is one whatever is asked for (common practice, no source).
RUN_SURELY = 100 * FOOT
# Above this it is neither: how high a place lies, how far the lake is (common practice, no source).
RUN_AT_MOST = 1000 * FOOT
# No plant is asked for above this; a larger number is a number of something else (tallest trees stand near 116 m).
TALLEST = 60.0

# A length said of something thin without a direction is its width up to this, its height above (common practice).
NARROW = 5 * FOOT
# How many tokens before a width said by the height that height may stand.
RATIO_REACH = 6

_BOUNDS = {
    "MAX": "at_most",
    "UPPER": "at_most",
    "MAX_AFTER": "at_most",
    "MIN": "at_least",
    "MIN_AFTER": "at_least",
    "PLUS": "at_least",
    "ABOUT": "about",
}


class Side(NamedTuple):
    """One side of a measure: its extent, what leads and trails it, the axes named."""

    extent: Extent
    marks: tuple[Token, ...]
    axes: tuple[str, ...]
    plus: bool = False

    def has(self, *kinds: str) -> bool:
        return any(mark.type in kinds for mark in self.marks)

    @property
    def test(self) -> Test | None:
        """The bound said, the strictest where several were ("at most about")."""
        said = {_BOUNDS[mark.type] for mark in self.marks if mark.type in _BOUNDS}
        said |= {"at_least"} if self.plus else set()
        order: tuple[Test, ...] = ("at_most", "at_least", "about")
        for test in order:
            if test in said:
                return test
        return None


def sides_of(tree: Tree) -> list[Side]:
    """The sides of one parsed side: two where a second bound follows ("10 ft tall and no more than 4 wide"), one where
    both bound the same ("no less than 30 and no more than 35 feet").
    """
    at = next((n for n, child in enumerate(tree.children) if _is(child, "upper")), None)
    if at is None:
        return [_side(tree.children)]
    upper = tree.children[at]
    assert isinstance(upper, Tree)
    low, high = _side(tree.children[:at]), _side([*upper.children, *tree.children[at + 1 :]])
    wished = any(mark.meaning.get("wish") for mark in high.marks)
    window = _window(low.extent, high.extent)
    ordered = window.low <= window.high
    if not wished and ordered and low.has("MIN") and (not low.axes or low.axes == high.axes or not high.axes):
        marks = tuple(mark for mark in (*low.marks, *high.marks) if mark.type not in _BOUNDS)
        return [Side(window, marks, high.axes or low.axes)]
    if low.has("MIN") and not high.axes:
        high = high._replace(axes=low.axes or ("height",))
    return [low, high]


def _is(child: object, kind: str) -> bool:
    return isinstance(child, Tree) and child.data == kind


def _side(children: Sequence[Any]) -> Side:
    marks: list[Token] = []
    axes: list[str] = []
    found: Extent | None = None
    plus = False
    for child in children:
        if isinstance(child, Token):
            marks += [child] if child.type in _BOUNDS else []
            _axis(child, axes)
            continue
        assert isinstance(child, Tree)
        if child.data == "extent":
            found = quantity.extent(child)
            inner = list(child.tokens())
            plus = any(token.meaning.get("plus") for token in inner)
            # "60 linear feet": the unit itself says that it is a row's.
            marks += [
                Token("RUN", str(token), token.start, token.end, {}) for token in inner if token.meaning.get("row")
            ]
        for token in child.children:
            if isinstance(token, Token) and child.data != "extent":
                marks.append(token)
                _axis(token, axes)
    assert found is not None
    axes += [axis for mark in marks if (axis := mark.meaning.get("axis"))]
    return Side(found, tuple(marks), tuple(dict.fromkeys(axes)), plus)


def _window(low: Extent, high: Extent) -> Extent:
    """From one bound to another: "no less than 30 and no more than 35 feet"; a number without a unit takes the other's."""
    if high.length and not low.length:
        low = _measured(low, high)
    if low.length and not high.length:
        high = _measured(high, low)
    return Extent(low.low, high.high, high.length, high.metric)


def _measured(extent: Extent, other: Extent) -> Extent:
    """A bare number in the unit that another length was said in."""
    factor = other.unit or (1.0 if other.metric else FOOT)
    return Extent(extent.low * factor, extent.high * factor, True, other.metric, factor)


def _axis(token: Token, axes: list[str]) -> None:
    if token.type == "AXIS":
        axes.append(str(token.meaning["axis"]))


def lengths(sides: list[Side], before: Sequence[Token]) -> tuple[str, dict[str, Any]]:
    if not any(side.extent.length for side in sides):
        if len(sides) == 1 and not sides[0].axes:
            told = {"low": sides[0].extent.low, "test": sides[0].test, "nearer": _is_nearer(sides)}
            return "NUMBER", {"n": sides[0].extent.high, **told}
        sides = [side._replace(extent=_in_feet(side.extent)) for side in sides]
    sides = _shared_unit(sides)
    metric = any(side.extent.metric for side in sides)
    if len(sides) == 1 and not sides[0].axes and sides[0].extent.high <= NARROW and after_narrow(before):
        sides = [sides[0]._replace(axes=("width",))]
    bounded = any(side.has("MAX", "MIN", "MAX_AFTER", "MIN_AFTER") for side in sides)
    pots = _is_plot(sides) and of_two_pots(before)
    if not bounded and (of_old_plant(before) or _lies_off(sides, before) or is_told(before) or pots):
        return "STORY", {"length": True}
    if not bounded and (of_thing(before) or (sides[0].axes == ("depth",) and of_pot(before))):
        runs = [side.extent.high for side in sides if "length" in side.axes]
        return (
            ("TASKED", {"run": max(runs), "metric": metric})
            if runs
            else ("STORY", {"object": sides[-1].extent.high, "length": True})
        )
    if len(sides) > 1 and not any(side.axes for side in sides) and min(side.extent.high for side in sides) >= LOT_FROM:
        return "STORY", {"length": True}
    if len(sides) == 1 and sides[0].axes == ("height",) and sides[0].test is None and of_site(before):
        return "STORY", {"object": sides[0].extent.high, "length": True}
    spaced = any(side.has("SPACE") for side in sides) or in_space(before) or (_is_plot(sides) and of_bed(before))
    one = sides[0]
    # "Only got 4 ft" without a direction is room; how high or how long it is would be said.
    scant = any(mark.meaning.get("room") for mark in one.marks) and len(sides) == 1 and one.extent.high < RUN_FROM
    spaced = spaced or (scant and not one.axes and not one.has("RUN", "KEPT"))
    # "For a border, 5 ft or more": a bed is no room of at least so much.
    spaced = spaced and not (len(sides) == 1 and sides[0].test == "at_least")
    if len(sides) == 1 and not sides[0].axes and sides[0].test is None and sides[0].extent.low >= RUN_SURELY:
        if sides[0].extent.high > RUN_AT_MOST:
            return "STORY", {"length": True}
        return "TASKED", {"run": sides[0].extent.high, "metric": metric}
    conditions, run = _conditions(sides, spaced)
    if not conditions:
        return ("TASKED", {"run": run, "metric": metric}) if run else ("STORY", {"length": True})
    plain = (
        len(sides) == 1 and not one.axes and not one.has("GROWN", "KEPT", "LABELLED") and one.test in (None, "about")
    )
    bare = plain and one.extent.low == one.extent.high >= RUN_FROM
    sizes = {"bare": one.extent.high if bare else None, "plain": plain, "had": _had(one) if plain or scant else None}
    nearer = {"n": one.extent.high, "nearer": True} if _is_nearer(sides) else {}
    return "HEIGHT", {"conditions": conditions, "run": run, "metric": metric, **sizes, **nearer}


def _is_nearer(sides: Sequence[Side]) -> bool:
    """Whether a figure says to which end of a range a size is to lie: "between 4 and 6 feet, closer to 4"."""
    return any(mark.meaning.get("nearer") for mark in sides[0].marks)


def _lies_off(sides: Sequence[Side], before: Sequence[Token]) -> bool:
    """Whether a length tells only how far off something lies: "the street is at 4 m"."""
    one = sides[0]
    at = [mark for mark in one.marks if mark.type == "COLD" and str(mark).endswith(" at")]
    return len(sides) == 1 and not one.axes and not one.has("KEPT", "GROWN", "LABELLED") and lies_at([*before, *at])


def _had(side: Side) -> float | None:
    """The length that there is to plant, which is a row's where one is asked for: "20 feet to fill", "only got 20 ft"."""
    to_fill = any(mark.meaning.get("row") for mark in side.marks)
    scant = any(mark.meaning.get("room") for mark in side.marks) and side.extent.high >= ROW_FROM
    return side.extent.high if to_fill or scant else None


def _in_feet(extent: Extent) -> Extent:
    """A bare number beside a unit-less one ("10x4", "10 tall") is feet, as callers of the trade say it."""
    return Extent(extent.low * FOOT, extent.high * FOOT, True)


def _shared_unit(sides: list[Side]) -> list[Side]:
    """A side without a unit takes the other's: `3 x 4 m`, `120 x 80 cm`."""
    said = next((side.extent for side in reversed(sides) if side.extent.length), None)
    if said is None:
        return sides
    return [side if side.extent.length else side._replace(extent=_measured(side.extent, said)) for side in sides]


def _conditions(sides: list[Side], spaced: bool) -> tuple[tuple[Condition, ...], float | None]:
    out: list[Condition] = []
    run: float | None = None
    named = {axis for side in sides for axis in side.axes if not any(other.has("UPPER") for other in sides)}
    unnamed = iter(("width", "width") if "height" in named else ("height", "width", "width"))
    overall = _of_all(sides) if len(sides) > 1 else None
    if {axis for side in sides for axis in side.axes} in (
        {"width", "depth"},
        {"length", "depth"},
        {"length", "width"},
    ) and len(sides) > 1:
        spaced = True
    free = [side.extent.high for side in sides] if spaced and not any("height" in side.axes for side in sides) else []
    if free and min(free) >= RUN_FROM and len(free) > 1:
        return (), None  # a lot, not a bed
    if free:
        return (room(min(free)),), max(free) if max(free) >= RUN_FROM and len(free) > 1 else None
    alone = len(sides) == 1 and not {"height", "both"} & set(sides[0].axes)
    for side in sides:
        if alone and side.extent.low >= RUN_FROM and side.axes and not side.test:
            # Nothing is asked to be 48 ft across in passing: it is the house, the fence or the lot.
            run = side.extent.high
            continue
        axes = _both(side.axes) or (next(unnamed, "width"),)
        if side.has("RUN") or axes == ("length",):
            run = side.extent.high
            continue
        for axis in axes:
            if side.extent.high <= TALLEST:
                out.append(
                    _condition(
                        axis, side, side.test or (overall if overall in ("at_most", "at_least") else None), spaced
                    )
                )
    if any(mark.meaning.get("shearing") for side in sides for mark in side.marks):
        out.append(Condition("shearing", "any_of", ("yes",)))
    if any(condition.strength == "wish" for condition in out) and not any(side.has("UPPER") for side in sides):
        out = [condition._replace(strength="wish") for condition in out]
    return tuple(out), run


def _of_all(sides: list[Side]) -> Test | None:
    """The bound on every side: said before the first ("no more than 10 x 4") or behind the last ("10 x 4 at most")."""
    last = sides[-1]
    behind = last.test if last.has("MAX_AFTER", "MIN_AFTER", "PLUS") or last.plus else None
    return behind or sides[0].test


def _both(axes: tuple[str, ...]) -> tuple[str, ...]:
    return ("height", "width") if "both" in axes else axes


def below(side: Side) -> Condition:
    """A plant's height that stays below something: "no taller than the sill (30 in)"."""
    return Condition("height", "at_most", maximum=side.extent.high, unit="m", basis="grown")


def ratio(token: Token, before: Sequence[Token]) -> Token:
    """A width said by the height just named ("half that across") as a quantity of its own; else the token as it is."""
    named = next((found for found in reversed(before[-RATIO_REACH:]) if found.type == "HEIGHT"), None)
    height = next((found for found in named.meaning["conditions"] if found.trait == "height"), None) if named else None
    if named is None or height is None:
        return token
    n = float(token.meaning["n"])
    low, high = (None if bound is None else bound * n for bound in (height.minimum, height.maximum))
    # Beside a height at most, a width "about the same" is about that much.
    low, test = (high, "about") if low is None else (low, height.test)
    width = height._replace(trait="width", test=test, minimum=low, maximum=high)
    return Token("HEIGHT", str(token), token.start, token.end, {"conditions": (width,), "run": None, "bare": None})


def room(size: float) -> Condition:
    return Condition("width", "at_most", maximum=size, unit="m", basis="grown")


def _condition(axis: str, side: Side, said: Test | None, spaced: bool) -> Condition:
    trait = "height" if axis == "height" else "width"
    low, high = side.extent.low, side.extent.high
    capped = spaced or axis == "depth" or (axis != "height" and any(mark.meaning.get("cap") for mark in side.marks))
    if capped and said in (None, "about"):
        said = "at_most"
    test: Test = said or ("about" if low == high else "within")
    if test == "about" and low != high:
        test = "within"
    strength: Strength = "wish" if any(mark.meaning.get("wish") for mark in side.marks) else "must"
    basis = "held" if side.has("KEPT") else "label" if side.has("LABELLED") else "grown"
    if test == "at_most":
        return Condition(trait, test, maximum=high, unit="m", basis=basis, strength=strength)
    if test == "at_least":
        return Condition(trait, test, minimum=low, unit="m", basis=basis, strength=strength)
    return Condition(trait, test, minimum=low, maximum=high, unit="m", basis=basis, strength=strength)


def _is_plot(sides: Sequence[Side]) -> bool:
    """Whether two lengths are said without a direction or a bound, as those of a bed are: "10 by 10"."""
    return len(sides) > 1 and not any(side.axes or side.test for side in sides)
