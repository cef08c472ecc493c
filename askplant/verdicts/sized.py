"""The sizes of a base laid out by grown range, so that a condition on them is judged once for all plants it cannot tell apart.

Of the many traits that a size condition reads, most bear on nothing but cutting: whether a plant fits, and by how much it does
not, its grown range alone decides. So plants of one range are parted only where the judge would look further: at the old size of
one that may still come there, at all of one that may be held. How low a plant can be held is kept, whatever is asked after.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from itertools import takewhile
from operator import attrgetter
from typing import Any, NamedTuple

from askplant.base.opened import members
from askplant.growth.known import Grown, Known, Range, known, middle
from askplant.reading.reading import Condition
from askplant.verdicts.bundles import Bundles, union
from askplant.verdicts.holding import REACH, Size, can_hold, is_cut_hard, least, share_of
from askplant.verdicts.sizes import TOLERANCE, axis_of, bounds_of, comes_by, fits, one, several, size_of, too_big
from askplant.verdicts.verdict import Site, Verdict


class Found:
    """One size, its plants, and how low they can be held."""

    __slots__ = ("_least", "_too_low", "bits", "size")

    def __init__(self, size: Size, bits: int) -> None:
        self.size, self.bits = size, bits
        self._least: float | None = None
        self._too_low = 0.0

    def can_be_held(self, at: float) -> bool:
        """Whether it is reasonable to hold them at so many metres; the least that is, is looked for where some of it is."""
        if self._least is not None:
            return self._least <= at
        if at <= self._too_low:
            return False
        if not can_hold(self.size, at):
            self._too_low = at
            return False
        self._least = least(self.size)
        return True


Sizes = Callable[[int], Iterable[tuple[Found, int]]]


class Lot(NamedTuple):
    """Plants on which a condition has one verdict (None: it has to be judged), and what gives the sizes of those in a set."""

    verdict: Verdict | None
    bits: int
    sizes: Sizes


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
            self._sizes += [Found(size_of(self._axis, self.value, found), some) for found, some in growing.items()]
        return self._sizes

    def any(self) -> Found:
        """One of them, for what all have in common."""
        return self.sizes()[0]


class Group:
    """The plants of one range, and the layers in it."""

    __slots__ = ("_lowest_first", "bits", "layers", "range")

    def __init__(self, range_: Range | None, layers: Sequence[Layer]) -> None:
        self.range, self.layers, self.bits = range_, layers, union(layers)
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
        self._grown = Bundles(_grouped((layer.value[0], layer) for layer in self._layers))
        self._labelled: Bundles[Group] | None = None

    def all(self) -> Iterator[Found]:
        """Every size with its plants."""
        for layer in self._layers:
            yield from layer.sizes()

    def parted(self, condition: Condition, site: Site, within: int) -> Iterator[Lot]:
        """The lots of plants that the condition judges alike; they tile the set `within`, or more."""
        asked = _Asked(condition, site)
        for group in self._groups(condition).of(within):
            yield from _lots(group, asked, within)

    def apart(self, condition: Condition, within: int) -> Iterator[tuple[Found, int]]:
        """The sizes that may have to be told apart where bounds still move, with their plants, some of them in the set: of one
        range and old size those that cannot be held are alike.
        """
        on_label = condition.basis == "label"
        for group in self._groups(condition).of(within):
            layers = list(_within(group.lowest_first(), within))
            plain = [layer for layer in layers if on_label or layer.floor == math.inf]
            yield from ((some[0].any(), union(some)) for some in _by_old(plain))
            for layer in layers:
                if not on_label and layer.floor < math.inf:
                    yield from ((found, found.bits) for found in layer.sizes())

    def _groups(self, condition: Condition) -> Bundles[Group]:
        """By grown range, or by what tags say where they say anything; the others apart, as their grown size is judged."""
        if condition.basis != "label":
            return self._grown
        if self._labelled is None:
            silent = _grouped((layer.value[0], layer) for layer in self._layers if not layer.value[1])
            told = _grouped((layer.value[1], layer) for layer in self._layers if layer.value[1])
            self._labelled = Bundles((*told, *silent))
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
        yield _alike("unknown", group.bits, first)
    elif asked.timed and not as_sold:
        for layer in _within(group.layers, within):
            yield from (Lot(None, found.bits, partial(_each, Bundles((found,)))) for found in layer.sizes())
    elif fits(group.range, bounds):
        yield _alike("meets", group.bits, first)
    elif bounds.high is not None and too_big(group.range, bounds):
        yield from _held_or_not(group, asked, as_sold, within)
    elif bounds.low is not None and comes_by(group.range, math.inf, bounds.low):
        for layers in _by_old(_within(group.layers, within)):
            comes = comes_by(group.range, layers[0].old, bounds.low)
            yield _alike("with care" if comes else "misses", union(layers), layers[0])
    else:
        yield _alike("misses", group.bits, first)


def _held_or_not(group: Group, asked: _Asked, as_sold: bool, within: int) -> Iterator[Lot]:
    """The plants that can be held, and those that cannot."""
    low: Iterable[Layer] = ()
    if asked.low_enough and not as_sold:  # as tags have it, nothing is cut
        low = takewhile(lambda layer: layer.floor <= asked.at, group.lowest_first())
        low = low if group.bits & ~within == 0 else _within(low, within)
    held = Bundles(found for layer in low for found in layer.sizes() if found.can_be_held(asked.at))
    if held.bits:
        yield Lot(asked.held, held.bits, partial(_each, held))
    if rest := group.bits & ~held.bits:
        yield Lot("misses", rest, partial(_loser, group, rest))


def _alike(verdict: Verdict, bits: int, layer: Layer) -> Lot:
    """A lot of plants that any plant of a layer speaks for."""
    return Lot(verdict, bits, lambda plants: ((layer.any(), bits & plants),))


def _each(held: Bundles[Found], plants: int) -> Iterator[tuple[Found, int]]:
    return ((found, found.bits & plants) for found in held.of(plants))


def _loser(group: Group, rest: int, plants: int) -> Iterator[tuple[Found, int]]:
    """One that cannot be held speaks for all that cannot."""
    speaks = next(found for layer in reversed(group.lowest_first()) for found in layer.sizes() if found.bits & rest)
    yield speaks, rest & plants


def _by_old(layers: Iterable[Layer]) -> Iterable[Sequence[Layer]]:
    by_old: dict[float | None, list[Layer]] = {}
    for layer in layers:
        by_old.setdefault(layer.old, []).append(layer)
    return by_old.values()


def _within(layers: Iterable[Layer], within: int) -> Iterator[Layer]:
    return (layer for layer in layers if layer.bits & within)
