"""The matches of an answer, put together when somebody looks at them: of many that fit few are shown."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import overload

from askplant.answer.answer import Match
from askplant.answer.rank import Ranked, Ranking

# What makes matches of some places in a row; the first of them has this rank.
Making = Callable[[Sequence[Ranked], int], Sequence[Match]]


class Matches(Sequence[Match]):
    """Every match of a ranking: the first few are made together, and the others once one of them is looked at."""

    def __init__(self, ranking: Ranking, few: int, making: Making) -> None:
        self._ranking, self._few, self._making = ranking, few, making
        self._made: list[Match] = []

    def __len__(self) -> int:
        return len(self._ranking)

    @overload
    def __getitem__(self, place: int) -> Match: ...
    @overload
    def __getitem__(self, place: slice) -> Sequence[Match]: ...
    def __getitem__(self, place: int | slice) -> Match | Sequence[Match]:
        wanted = range(len(self))[place]
        last = max(wanted, default=-1) if isinstance(wanted, range) else wanted
        while last >= (done := len(self._made)):
            upto = self._few if last < self._few else len(self)
            self._made += self._making(self._ranking[done:upto], done + 1)
        return tuple(self._made[place]) if isinstance(place, slice) else self._made[place]

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Sequence) and tuple(self) == tuple(other)

    def __repr__(self) -> str:
        return repr(tuple(self))

    __hash__ = None  # type: ignore[assignment]
