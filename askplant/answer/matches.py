"""The matches of an answer, put together when somebody looks at them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from askplant.answer.answer import Match
from askplant.answer.lazily import Lazily
from askplant.answer.rank import Ranked, Ranking

# What makes matches of some places in a row; the first of them has this rank.
Making = Callable[[Sequence[Ranked], int], Sequence[Match]]


class Matches(Lazily[Match]):
    """Every match of a ranking: the first few are made together, and the others once one of them is looked at."""

    def __init__(self, ranking: Ranking, few: int, making: Making) -> None:
        super().__init__()
        self._ranking, self._few, self._making = ranking, few, making

    def __len__(self) -> int:
        return len(self._ranking)

    def _more(self, last: int) -> Iterable[Match]:
        done = len(self._made)
        upto = self._few if last < self._few else len(self)
        return self._making(self._ranking[done:upto], done + 1)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Sequence) and tuple(self) == tuple(other)

    def __repr__(self) -> str:
        return repr(tuple(self))

    __hash__ = None  # type: ignore[assignment]
