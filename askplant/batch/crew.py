"""Rows answered by one process or several, in order: the answers are the same whoever gives them.

A crew is handed rows in portions and hands back their answers in the order of the rows. Each process opens the base by itself,
read-only; a process whose parent is gone ends too.
"""

from __future__ import annotations

import os
import signal
from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from typing import Any, NamedTuple, Protocol

from askplant.batch.composed import Composed
from askplant.batch.rows import Json, Telling, answered
from askplant.desk import Desk
from askplant.errors import AskplantError
from askplant.quantities.lengths import Units
from askplant.stock import Stock

PORTION = 4  # rows handed out at once: few enough that a stopped run loses little
AHEAD = 3  # portions on their way for each process
WORTH = 100  # rows from which on another process pays for its start and for finding out what the first knows already

Row = tuple[int, Composed]


class Work(NamedTuple):
    """What every process needs to know: the file of the base, units, how much is told, and the stock list."""

    base: str
    units: Units | None
    telling: Telling
    stock: Stock | None


class Pool(Protocol):
    """Whoever takes a portion and promises its answers."""

    def submit(self, work: Any, /, *arguments: Any) -> Any: ...


def workers_for(rows: int, wanted: int | None) -> int:
    """How many processes so many rows are worth: as many as there are cores, unless said otherwise."""
    if wanted is not None:
        return max(1, min(wanted, rows))
    return max(1, min(cores(), rows // WORTH))


def cores() -> int:
    """The cores that this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def alone(rows: Iterable[Row], work: Work) -> Iterator[Json]:
    """Answers given by this process itself."""
    desk = _desk(work)
    return (answered(n, composed, desk, work.telling) for n, composed in rows)


def together(rows: Iterable[Row], work: Work, workers: int) -> Iterator[Json]:
    """Answers given by several processes. AskplantError where one of them ends before its time."""
    import multiprocessing
    from concurrent.futures import ProcessPoolExecutor
    from concurrent.futures.process import BrokenProcessPool

    # Spawned on every platform: a forked process would share the open base.
    context = multiprocessing.get_context("spawn")
    pool = ProcessPoolExecutor(workers, context, initializer=_begin, initargs=(work,))
    try:
        yield from in_order(rows, pool, _portion, workers)
    except BrokenProcessPool:
        raise AskplantError("a process that answers rows was ended from outside (too little memory?)") from None
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def in_order(rows: Iterable[Row], pool: Pool, work: Any, workers: int, *more: Any) -> Iterator[Json]:
    """The answers of a pool in the order of the rows, with a few portions always on their way."""
    rows = iter(rows)
    waiting: deque[Any] = deque()
    try:
        while True:
            while len(waiting) < workers * AHEAD and (portion := tuple(islice(rows, PORTION))):
                waiting.append(pool.submit(work, portion, *more))
            if not waiting:
                return
            yield from waiting.popleft().result()
    finally:
        for promised in waiting:
            promised.cancel()


def _desk(work: Work) -> Desk:
    return Desk(work.base, work.units, work.stock)


# ---- in a process of the crew

_mine: dict[str, Any] = {}


def _begin(work: Work) -> None:
    """Make a process ready: Ctrl-C is for the one that hands out rows, and without that one there is nothing to do."""
    import gc
    import multiprocessing
    import threading

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_leave_with, args=(parent,), daemon=True).start()
    gc.set_threshold(50_000)
    _mine["desk"], _mine["telling"] = _desk(work), work.telling


def _leave_with(parent: Any) -> None:
    parent.join()
    os._exit(1)


def _portion(rows: Sequence[Row]) -> list[Json]:
    return [answered(n, composed, _mine["desk"], _mine["telling"]) for n, composed in rows]
