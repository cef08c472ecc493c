"""What a key press costs at the desk with more and more plants.

Measured where it is felt: from the key to the screen drawn anew, while the reading of the line so far goes on in its thread.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Iterator
from threading import Event, Thread
from typing import Any

from prompt_toolkit.application import create_app_session
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output import DummyOutput

from askplant.answer.glance import glances
from askplant.commands.live import PAUSE, Live, Now
from askplant.commands.prompt import LineReader
from askplant.desk import Desk as Opened
from askplant.reading.read import read
from tests.bench.many import Many

LINE = "evergreen shrub, zone 7, part shade, deer"
# A key every 50 ms is quick typing; every fourth comes late, so that readings get under way and are cut short.
QUICK, LATE = 0.05, PAUSE + 0.06


class Desk:
    """What following a line needs of a desk."""

    units = None

    def __init__(self, base: Any) -> None:
        self.base, self.plant = base, base.plant


def latencies(base: Any, line: str = LINE) -> tuple[list[float], float]:
    """Seconds from each key of the line to the screen with it, and until the best plants stood there after the last. The line
    ends with deer.
    """
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
            for place, sign in enumerate(line, 1):
                sent[place] = time.perf_counter()
                keys.send_text(sign)
                time.sleep(QUICK if place % 4 else LATE)
            whole.wait(60)
            keys.send_text("\n")

        thread = Thread(target=typing)
        thread.start()
        reader()
        thread.join()
    # Of keys that come together the screen may show the last at once.
    shown = {place: min(at for length, at in drawn.items() if length >= place) for place in sent}
    return [shown[place] - sent[place] for place in sent], min(told) - sent[len(line)]


def lines(counts: list[int]) -> Iterator[str]:
    """What to print."""
    base, first = Opened().base, 0.0
    yield "\nTyping at the desk: from a key to the screen with it, while the line is read and plants are looked for"
    for count in counts:
        many = Many(base, count)
        answered(many)
        keys, best = latencies(many)
        median, worst = statistics.median(keys), sorted(keys)[int(0.95 * len(keys))]
        first = first or median
        yield (
            f"  {count} plants: {1000 * median:.1f} ms in the middle, {1000 * worst:.1f} ms for the slowest of twenty;"
            f" best plants {1000 * best:.0f} ms after the last key; {median / first:.2f} times the first"
        )


def answered(base: Many) -> None:
    """Let a base answer the line as it grows, word by word: in a day's work it has been asked the like before."""
    words = LINE.split(" ")
    for count in range(1, len(words) + 1):
        list(glances(read(" ".join(words[:count]), base), base))
