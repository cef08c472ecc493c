"""How many rows a second a batch answers, as a ratio to a plain loop of `ask` in the same run (`-s` shows it).

What is held is loose, so that a busy machine decides nothing: one process is no slower than two thirds of the loop, and several
are never far slower than one.
"""

from __future__ import annotations

import time
from collections.abc import Callable

from askplant.batch import crew
from askplant.batch.composed import Composed
from askplant.batch.crew import Row, Work
from askplant.batch.rows import Telling, answered
from askplant.desk import Desk
from tests.batch.demo import requests

ROWS = 120
BEST = 3


def rows() -> list[Row]:
    """The demo's requests, each once."""
    return [(n, Composed(row[2])) for n, row in enumerate(requests(ROWS))]


def timed(run: Callable[[], object]) -> float:
    """Seconds that it takes."""
    start = time.perf_counter()
    run()
    return time.perf_counter() - start


def test_rows_a_second(capsys: object) -> None:
    """One line for the loop, and one for each number of processes."""
    desk = Desk()
    work = Work(str(desk.base.path), None, Telling(BEST), None)
    asked = [composed for _, composed in rows() if len(composed.text) > 20 and "zzyx" not in composed.text]

    def loop() -> None:
        for composed in asked:
            desk.worded(desk.ask(composed.text, BEST, noted=False))

    loop()  # warm, as every process of a long batch is
    seconds = {"a plain loop of ask": timed(loop) * ROWS / len(asked)}
    expected = [answered(n, composed, desk, work.telling) for n, composed in rows()]
    for workers in (1, 2, 4):
        found: list[object] = []
        run = crew.alone(rows(), work) if workers == 1 else crew.together(rows(), work, workers)
        seconds[f"{workers} process{'es' if workers > 1 else ''}"] = timed(
            lambda run=run, found=found: found.extend(run)
        )  # type: ignore[misc]
        assert found == expected
    base = seconds["a plain loop of ask"]
    for name, taken in seconds.items():
        print(
            f"\n{name}: {ROWS / taken:.0f} rows a second, {base / taken:.2f} times the loop ({crew.cores()} cores)",
            end="",
        )
    assert seconds["1 process"] < 1.5 * base + 1
    assert seconds["2 processes"] < 1.5 * seconds["1 process"] + 5
