"""The sizes of a base laid out by grown range, so that a condition on them is judged once for all plants it cannot tell apart.

Of the many traits that a size condition reads, most bear on nothing but cutting: whether a plant fits, and by how much it does
not, its grown range alone decides. So plants of one range are parted only where the judge would look further: at the old size of
one that may still come there, at all of one that may be held.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from operator import attrgetter
from typing import Any, NamedTuple

from askplant.base.opened import members
from askplant.growth.known import Grown, Known, Range, known, middle
from askplant.reading.reading import Condition
from askplant.verdicts.holding import REACH, Size, can_hold, is_cut_hard, share_of
from askplant.verdicts.sizes import TOLERANCE, axis_of, bounds_of, comes_by, fits, one, several, size_of, too_big
from askplant.verdicts.verdict import Site, Verdict

Found = tuple[Size, int]


class Lot(NamedTuple):
    """Plants that a condition judges alike: what gives one of their sizes, the plants, and the verdict, None where it has to be
    judged.
    """

    size: Callable[[], Size]
    bits: int
    verdict: Verdict | None = None


class Layer:
    """The plants of one distinct tuple of values; what they are judged by is looked up when it is asked for."""

    __slots__ = ("_axis", "_base", "_floor", "_sizes", "bits", "old", "value")

    def __init__(self, axis: str, value: Sequence[Any], bits: int, base: Grown) -> None:
        self._axis, self._base, self._sizes = axis, base, list[Found]()
        self.value, self.bits = value, bits
        self.old: float | None = value[2][1] if value[2] else None
        self._floor: float | None = None

    @property
    def floor(self) -> float:
        """No plant of these values can be held lower than this, m; without end where it cannot be held at all."""
        if self._floor is None:
            self._floor = _floor(self.value)
        return self._floor

    def sizes(self) -> Sequence[Found]:
        """Its sizes with their plants, parted where plants of one tuple grow differently."""
        if not self._sizes:
            growing: dict[Known, int] = {}
            for n in members(self.bits):
                found = known(self._base, n, self._axis)
                growing[found] = growing.get(found, 0) | 1 << n
            self._sizes += [(size_of(self._axis, self.value, found), some) for found, some in growing.items()]
        return self._sizes

    def any(self) -> Size:
        """One of them, for what all have in common."""
        return self.sizes()[0][0]


class Group:
    """The plants of one range, and the layers in it."""

    __slots__ = ("_lowest_first", "bits", "layers", "range")

    def __init__(self, range_: Range | None, layers: Sequence[Layer]) -> None:
        self.range, self.layers, self.bits = range_, layers, _union(layers)
        self._lowest_first: list[Layer] | None = None

    def lowest_first(self) -> Sequence[Layer]:
        """The layers, those that can be held lowest first."""
        if self._lowest_first is None:
            self._lowest_first = sorted(self.layers, key=attrgetter("floor"))
        return self._lowest_first


class Sized:
    """A column of sizes of one base."""

    def __init__(self, trait: str, column: Sequence[tuple[Sequence[Any], int]], base: Grown) -> None:
        axis = axis_of(trait)
        self._layers = tuple(Layer(axis, value, bits, base) for value, bits in column)
        self._grown = _grouped((layer.value[0], layer) for layer in self._layers)
        self._labelled: tuple[Group, ...] | None = None

    def all(self) -> Iterator[Found]:
        """Every size with its plants."""
        for layer in self._layers:
            yield from layer.sizes()

    def parted(self, condition: Condition, site: Site, within: int) -> Iterator[Lot]:
        """The lots of plants that the condition judges alike; they tile the set `within`, or more."""
        asked = _Asked(condition, site)
        for group in self._by_label() if condition.basis == "label" else self._grown:
            if group.bits & within:
                yield from _lots(group, asked, within)

    def apart(self, condition: Condition, within: int) -> Iterator[Found]:
        """The same where bounds may still move: plants of one range and old size that cannot be held are alike."""
        on_label = condition.basis == "label"
        for group in self._by_label() if on_label else self._grown:
            if not group.bits & within:
                continue
            layers = list(_within(group.lowest_first(), within))
            plain = [layer for layer in layers if on_label or layer.floor == math.inf]
            yield from ((layer.any(), bits) for layer, bits in _by_old(plain, within))
            for layer in layers:
                if not on_label and layer.floor < math.inf:
                    yield from layer.sizes()

    def _by_label(self) -> tuple[Group, ...]:
        """By what tags say, where they say anything; those without it apart, as their grown size is judged."""
        if self._labelled is None:
            silent = _grouped((layer.value[0], layer) for layer in self._layers if not layer.value[1])
            told = _grouped((layer.value[1], layer) for layer in self._layers if layer.value[1])
            self._labelled = (*told, *silent)
        return self._labelled


def _grouped(layers: Iterable[tuple[Sequence[float] | None, Layer]]) -> tuple[Group, ...]:
    by_range: dict[Range | None, list[Layer]] = {}
    for range_, layer in layers:
        by_range.setdefault((range_[0], range_[1]) if range_ else None, []).append(layer)
    return tuple(Group(range_, some) for range_, some in by_range.items())


def _floor(value: Sequence[Any]) -> float:
    grown, growth, shearing, old_wood, kinds, forms = value[0], value[4], value[5], one(value[6]), value[8], value[9]
    hard = is_cut_hard(kinds or (), growth, several(value[11]), old_wood, one(value[7])) if len(value) > 11 else False
    share = share_of(shearing, old_wood, kinds or (), forms or (), hard)
    return share * middle(grown) if grown and share is not None else math.inf


class _Asked:
    """What a condition asks, made ready: whether plants are judged one by one for the years they have, and what may be held."""

    def __init__(self, condition: Condition, site: Site) -> None:
        self.bounds = bounds_of(condition)
        self.label = condition.basis == "label"
        self.nothing = self.bounds.low is None and self.bounds.high is None
        axis = axis_of(condition.trait)
        self.timed = site.by_year is not None and self.bounds.low is not None and axis == "height"
        high = self.bounds.high + TOLERANCE if self.bounds.high is not None else math.inf
        self.at = min(high, REACH) if axis == "height" else high
        self.low_enough = self.bounds.low is None or self.at >= self.bounds.low - TOLERANCE
        self.held: Verdict = "meets" if condition.basis == "held" else "with care"


def _lots(group: Group, asked: _Asked, within: int) -> Iterator[Lot]:
    bounds, first = asked.bounds, group.layers[0]
    as_sold = asked.label and bool(first.value[1])
    if group.range is None or (asked.nothing and not as_sold):
        yield Lot(first.any, group.bits, "unknown")
    elif asked.timed and not as_sold:
        yield from (Lot(_that(size), bits) for layer in _within(group.layers, within) for size, bits in layer.sizes())
    elif fits(group.range, bounds):
        yield Lot(first.any, group.bits, "meets")
    elif bounds.high is not None and too_big(group.range, bounds):
        yield from _held_or_not(group, asked, as_sold, within)
    elif bounds.low is not None and comes_by(group.range, math.inf, bounds.low):
        for layer, bits in _by_old(group.layers, within):
            comes = comes_by(group.range, layer.old, bounds.low)
            yield Lot(layer.any, bits, "with care" if comes else "misses")
    else:
        yield Lot(first.any, group.bits, "misses")


def _held_or_not(group: Group, asked: _Asked, as_sold: bool, within: int) -> Iterator[Lot]:
    """Each plant that can be held by itself, and all those that cannot together."""
    out, rest = 0, group.bits
    if asked.low_enough and not as_sold:  # as tags have it, nothing is cut
        for layer in group.lowest_first():
            if layer.floor > asked.at:
                break
            if layer.bits & within:
                for size, bits in layer.sizes():
                    if can_hold(size, asked.at):
                        yield Lot(_that(size), bits, asked.held)
                        out |= bits
    if rest & ~out:
        yield Lot(partial(_loser, group, out), rest & ~out, "misses")


def _loser(group: Group, out: int) -> Size:
    return next(size for layer in reversed(group.lowest_first()) for size, bits in layer.sizes() if bits & ~out)


def _that(size: Size) -> Callable[[], Size]:
    return lambda: size


def _by_old(layers: Sequence[Layer], within: int) -> Iterator[tuple[Layer, int]]:
    by_old: dict[float | None, list[Layer]] = {}
    for layer in _within(layers, within):
        by_old.setdefault(layer.old, []).append(layer)
    for some in by_old.values():
        yield some[0], _union(some)


def _within(layers: Sequence[Layer], within: int) -> Iterator[Layer]:
    return (layer for layer in layers if layer.bits & within)


def _union(layers: Sequence[Layer]) -> int:
    bits = 0
    for layer in layers:
        bits |= layer.bits
    return bits
