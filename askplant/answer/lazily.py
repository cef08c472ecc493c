"""A sequence whose items are made when somebody looks at them, always in order: of many that there are few are shown."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Iterable, Sequence
from typing import Generic, TypeVar, overload

Item = TypeVar("Item")


class Lazily(Sequence[Item], Generic[Item]):
    """Items in order, the first ones made. A subclass knows how many there are, and makes the next."""

    def __init__(self) -> None:
        self._made: list[Item] = []

    @abstractmethod
    def _more(self, last: int) -> Iterable[Item]:
        """The next item or items, behind those that are made; `last` is the last place that is looked at."""

    @overload
    def __getitem__(self, place: int) -> Item: ...
    @overload
    def __getitem__(self, place: slice) -> Sequence[Item]: ...
    def __getitem__(self, place: int | slice) -> Item | Sequence[Item]:
        wanted = range(len(self))[place]
        last = max(wanted, default=-1) if isinstance(wanted, range) else wanted
        while last >= len(self._made):
            self._made += self._more(last)
        return tuple(self._made[place]) if isinstance(place, slice) else self._made[place]
