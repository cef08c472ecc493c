"""What a key press costs at the desk with 1,000, 10,000 and 100,000 plants.

Measured where it is felt: from the key to the screen drawn anew, while the reading of the line so far goes on in its thread.
Milliseconds are printed (`pytest tests/bench -s`); what is asserted is their ratio, which no slow machine moves.
"""

from __future__ import annotations

import statistics
import time
from threading import Event, Thread
from typing import Any

import pytest
from prompt_toolkit.application import create_app_session
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output import DummyOutput

from askplant.base.opened import Base
from askplant.commands.live import PAUSE, Live, Now
from askplant.commands.prompt import LineReader
from tests.bench.many import Many, tiles

LINE = "evergreen shrub, zone 7, part shade, deer"
SIZES = (1_000, 10_000, 100_000)
# A key every 50 ms is quick typing; every fourth comes late, so that readings get under way and are cut short.
QUICK, LATE = 0.05, PAUSE + 0.06
# Many plants may cost a key so much more than few do.
MOST_TIMES = 3.0
FELT = 0.030  # seconds


class Desk:
    """What following a line needs of a desk."""

    units = None

    def __init__(self, base: Any) -> None:
        self.base, self.plant = base, base.plant


def latencies(base: Any) -> tuple[list[float], float]:
    """Seconds from each key of the line to the screen with it, and until the best plants stood there after the last."""
    drawn: dict[int, float] = {}
    sent: dict[int, float] = {}
    told: list[float] = []
    whole = Event()
    with create_pipe_input() as keys, create_app_session(input=keys, output=DummyOutput()):
        live = Live(Desk(base), lambda: Now(None, ()), lambda: reader.redraw())  # type: ignore[arg-type]
        reader = LineReader(["evergreen", "Ilex glabra"], None, live.typed, lambda: live.lines)

        def after(application: Any) -> None:
            text = application.current_buffer.text
            drawn.setdefault(len(text), time.perf_counter())
            if len(live.lines) == 4 and "deer" in live.lines[1][0][1] and live.lines[3][0][1]:
                told.append(time.perf_counter())
                whole.set()

        reader.application.after_render += after

        def typing() -> None:
            time.sleep(0.3)
            for place, sign in enumerate(LINE, 1):
                sent[place] = time.perf_counter()
                keys.send_text(sign)
                time.sleep(QUICK if place % 4 else LATE)
            whole.wait(60)
            keys.send_text("\n")

        thread = Thread(target=typing)
        thread.start()
        reader()
        thread.join()
    return [drawn[place] - sent[place] for place in sent], min(told) - sent[len(LINE)]


@pytest.fixture(scope="module")
def measured(real_base: Base) -> dict[int, tuple[list[float], float]]:
    """The latencies by number of plants, each measured once the base has answered before, as in a day's work."""
    out = {}
    for count in SIZES:
        base = Many(real_base, count)
        latencies(base)
        out[count] = latencies(base)
    return out


def test_the_bench_is_a_base(real_base: Base) -> None:
    """Each plant has one value a column, and the invented ones say so."""
    many = Many(real_base, 5_000)
    assert all(tiles(many, condition) for condition in ("height", "zone", "persistence"))
    assert "invented" in many.plant(4_999).botanical


def test_no_key_waits_for_the_plants(measured: dict[int, tuple[list[float], float]]) -> None:
    """A key costs hardly more with a hundred times the plants, and with ten thousand it is not felt."""
    medians = {count: statistics.median(keys) for count, (keys, _) in measured.items()}
    for count, (keys, best) in measured.items():
        worst = sorted(keys)[int(0.95 * len(keys))]
        print(
            f"\n{count:>7} plants: a key {1000 * medians[count]:.1f} ms in the middle, {1000 * worst:.1f} ms for the slowest "
            f"of twenty; best plants {1000 * best:.0f} ms after the last key; {medians[count] / medians[SIZES[0]]:.2f} times"
        )
    assert medians[SIZES[-1]] <= MOST_TIMES * medians[SIZES[0]]
    assert medians[10_000] < FELT
