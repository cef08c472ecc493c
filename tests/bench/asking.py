"""A full answer against the bare lists of matches that other tools give, over bases of many plants.

An answer is taken as if nobody had put the request before, so that every condition is judged, and as it comes when verdicts are
kept. Both hold verdicts on every plant, counts, near misses, compromises, questions and the first plants, ranked.
"""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from askplant.answer.answer import Answer, Options
from askplant.answer.compose import answer
from askplant.desk import Desk
from askplant.reading.read import read
from askplant.verdicts import judge
from tests.bench import peers
from tests.bench.many import Many

ROUNDS = 5


def measured(work: Callable[[], object], rounds: int = ROUNDS) -> float:
    """The least processor time in seconds that some work takes, over all threads, after one time that does not count: other work
    on the machine only ever adds to it.
    """
    work()
    return min(_once(work) for _ in range(rounds))


def _once(work: Callable[[], object]) -> float:
    start = time.process_time()
    work()
    return time.process_time() - start


def lines(counts: list[int]) -> Iterator[str]:
    """What to print, base by base."""
    desk = Desk()
    with tempfile.TemporaryDirectory() as place:
        for count in counts:
            yield f"\n{count} plants, made of the real cards"
            yield from one_base(Many(desk.base, count), Path(place) / f"flat-{count}.sqlite")


def one_base(base: Many, flat: Path) -> Iterator[str]:
    """The ratios of one base."""
    peers.table(base, flat)
    asks = {}
    for name, begin in peers.PEERS.items():
        try:
            asks[name] = begin(flat)
        except ImportError:
            yield f"  {name}: not installed, left out (pip install -e '.[bench]')"
    for question in peers.QUESTIONS:
        reading = read(question.request, base)

        def again(reading=reading) -> Answer:  # type: ignore[no-untyped-def]
            found = answer(reading, base, Options(noted=False))
            _ = found.matches[: found.shown]  # they are put together when they are looked at
            return found

        def fresh(again=again) -> None:  # type: ignore[no-untyped-def]
            judge.forget()
            again()

        own, known, found = measured(fresh), measured(again), again()
        ours = {base.plant(match.plant).botanical for match in found.matches}
        yield f"  {question.request}"
        yield (
            f"    askplant: {own * 1000:.2f} ms, asked again {known * 1000:.2f} ms; {len(found.matches)} fit,"
            f" {found.excluded_total} excluded with reasons"
        )
        for name, ask in asks.items():
            took = measured(lambda ask=ask, question=question: ask(question))
            rows = ask(question)
            yield (
                f"    {name}: {took * 1000:.2f} ms, {len(rows)} rows of which {len(ours & set(rows))} are among the matches;"
                f" the full answer takes {own / took:.1f} times that, asked again"
                f" {known / took:.1f} times"
            )
