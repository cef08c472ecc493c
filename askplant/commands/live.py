"""What a line comes to while it is still typed: read and counted in a thread of its own, a short while after the last key.

A key that comes sooner makes what was begun void: it is given up between two conditions, and never shown. The one who types
only ever reads a stored value, so no key waits for the reading.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from threading import Condition, Lock, Thread
from typing import NamedTuple

from askplant.answer.glance import Stopped, glances
from askplant.commands.orders import help_of, order_of
from askplant.desk import Desk
from askplant.quantities.lengths import say_range
from askplant.reading.reading import Reading
from askplant.reading.refine import refine, refiner
from askplant.reading.refinement import Fresh, Question
from askplant.reading.vocabulary import Vocabulary
from askplant.render.glanced import Line, glanced, plain_line
from askplant.sitting.state import State
from askplant.verdicts.columns import columns_of

PAUSE = 0.08  # seconds after the last key
SWITCH = 0.001  # seconds after which Python lets the other thread have its turn; the usual 5 ms would be felt in a key
LONGEST = 2000  # characters; a longer text is read when it is sent


class Now(NamedTuple):
    """What a typed line is read against: the state of the request, the plants that were shown, and the one spoken of last."""

    state: State | None
    shown: tuple[str, ...]
    it: str | None = None  # the plant spoken of last


class Live:
    """Follows what is typed. `changed` is called from the thread when there are new lines to show, `width` columns wide."""

    def __init__(
        self, desk: Desk, now: Callable[[], Now], changed: Callable[[], None], width: Callable[[], int] = lambda: 80
    ) -> None:
        self._desk, self._now, self._changed, self._width = desk, now, changed, width
        self.lines: tuple[Line, ...] = ()
        self._busy = Lock()  # held while the base is in use
        self._asked = Condition()
        self._text: str | None = None
        self._turn = 0  # one more with each key
        self._thread: Thread | None = None

    def typed(self, text: str) -> None:
        """The line as it is now; what was begun for an earlier one is given up."""
        if self._thread is None:
            sys.setswitchinterval(SWITCH)
            self._thread = Thread(target=self._follow, name="reading", daemon=True)
            self._thread.start()
        with self._asked:
            self._turn += 1
            self._text = text
            self._asked.notify()
        if not text.strip():
            self.lines = ()

    def stop(self) -> None:
        """Give up what was begun and wait until it lets go of the base; for the moment a line is sent."""
        with self._asked:
            self._turn += 1
            self._text = None
        self.lines = ()
        with self._busy:
            pass

    def _follow(self) -> None:
        while True:
            text, turn = self._next()
            try:
                with self._busy:
                    self._read(text, turn)
            except Stopped:
                continue
            except Exception:  # whatever is wrong with the line is said when it is sent
                self._show((), turn)

    def _next(self) -> tuple[str, int]:
        """The text after a pause in typing, and the turn it belongs to."""
        with self._asked:
            while True:
                while self._text is None:
                    self._asked.wait()
                turn = self._turn
                self._asked.wait(PAUSE)
                if turn == self._turn and self._text is not None:
                    text, self._text = self._text, None
                    return text, turn

    def _read(self, text: str, turn: int) -> None:
        if not text.strip() or len(text) > LONGEST:
            return self._show((), turn)
        told = order_told(text, refiner(self._desk.base).reader.vocabulary)
        if told is not None:
            return self._show((plain_line(told, self._width()),), turn)
        now = self._now()
        last = now.state.reading if now.state is not None else None
        taken = refine(last, text.strip(), self._desk.base, now.shown, it=now.it)
        if isinstance(taken, Question):
            return self._show(tuple(glanced(text.strip(), taken, None, self._name, self._width())), turn)
        asked = self._asked_of(taken.reading, now.state, isinstance(taken, Fresh))
        for glance in glances(asked, self._desk.base, lambda: self._turn != turn):
            self._show(tuple(glanced(text.strip(), taken, glance, self._name, self._width())), turn)
        return None

    @staticmethod
    def _asked_of(reading: Reading, state: State | None, fresh: bool) -> Reading:
        return reading if fresh or state is None else state.on_with(reading, "").asked

    def _name(self, plant: int) -> str:
        """The name a caller knows, else the botanical one, with the height as grown."""
        found = self._desk.plant(plant)
        grown = columns_of(self._desk.base).value("height", plant)[0]
        units = self._desk.units or "us"
        size = f" {say_range(grown[0], grown[1], units)}" if grown else ""
        return f"{found.common[0] if found.common else found.botanical}{size}"

    def _show(self, lines: tuple[Line, ...], turn: int) -> None:
        if turn == self._turn:
            self.lines = lines
            self._changed()


def order_told(text: str, vocabulary: Vocabulary) -> str | None:
    """What a word of the desk does, once it stands there by itself; None for whatever may be a request."""
    order = order_of(text, vocabulary)
    if order is None or (
        order.rest and order.word not in ("save", "open", "export", "note", "keep", "off", "on", "compare")
    ):
        return None
    if order.rest and not any(sign.isdecimal() for sign in order.rest) and order.word in ("keep", "off", "on", "open"):
        return None
    return help_of(order.word)
