"""Things that each hold for a set of plants, in bundles: those of a few plants are found without looking at all of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import reduce
from operator import or_
from typing import Generic, Protocol, TypeVar

# About the root of how many distinct sizes a large base has.
MANY = 32


class Holding(Protocol):
    """Anything that holds for plants."""

    @property
    def bits(self) -> int:
        """The plants; bit n is plant n."""


T = TypeVar("T", bound=Holding)


def union(things: Iterable[Holding]) -> int:
    """The plants that any of them holds for."""
    return reduce(or_, (one.bits for one in things), 0)


class Bundles(Generic[T]):
    """A fixed sequence of such things; `bits` are the plants that any of them holds for."""

    __slots__ = ("_bundles", "bits")

    def __init__(self, things: Iterable[T]) -> None:
        all_ = tuple(things)
        parts = [all_[first : first + MANY] for first in range(0, len(all_), MANY)]
        self._bundles = tuple((union(part), part) for part in parts)
        self.bits = reduce(or_, (bits for bits, _ in self._bundles), 0)

    def of(self, plants: int) -> Iterator[T]:
        """Those that hold for any of these plants, in order."""
        for bits, part in self._bundles:
            if bits & plants:
                yield from (one for one in part if one.bits & plants)
