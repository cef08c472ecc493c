"""A full answer against the bare lists of matches that other tools give, over invented bases."""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from askplant.answer.answer import Options
from askplant.answer.compose import answer
from askplant.base.opened import Base
from askplant.reading.read import read
from askplant.verdicts import judge
from tests.bench import invented, peers

ROUNDS = 7


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
    with tempfile.TemporaryDirectory() as place:
        for count in counts:
            path, built = invented.base(Path(place), count)
            yield f"\n{count} invented plants: base built in {built:.1f} s, {path.stat().st_size / 1e6:.0f} MB"
            yield from one_base(path, Path(place))
            path.unlink()


def one_base(path: Path, place: Path) -> Iterator[str]:
    """The ratios of one base."""
    base = Base.open(path)
    flat = place / f"{path.stem}-flat.sqlite"
    peers.table(base, flat)
    asks = {}
    for name, begin in peers.PEERS.items():
        try:
            asks[name] = begin(flat)
        except ImportError:
            yield f"  {name}: not installed, left out (pip install -e '.[bench]')"
    for question in peers.QUESTIONS:
        reading = read(question.request, base)

        def fresh(reading=reading) -> None:  # type: ignore[no-untyped-def]
            judge.forget()
            answer(reading, base, Options(noted=False))

        own = measured(fresh)
        again = measured(lambda reading=reading: answer(reading, base, Options(noted=False)))
        found = answer(reading, base, Options(noted=False))
        ours = {base.plant(match.plant).botanical for match in found.matches}
        yield f"  {question.request}"
        yield (
            f"    askplant: {own * 1000:.2f} ms, asked again {again * 1000:.2f} ms; {len(found.matches)} fit,"
            f" {found.excluded_total} excluded with reasons"
        )
        for name, ask in asks.items():
            took = measured(lambda ask=ask, question=question: ask(question))
            rows = ask(question)
            yield (
                f"    {name}: {took * 1000:.2f} ms, {len(rows)} rows of which {len(ours & set(rows))} are among the matches;"
                f" the full answer takes {own / took:.1f} times that"
            )
    base.close()
    flat.unlink()


def of_file(path: str) -> Iterator[str]:
    """The ratios of a base that stands already."""
    with tempfile.TemporaryDirectory() as place:
        yield from one_base(Path(path), Path(place))
