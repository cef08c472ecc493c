"""A desk in a pseudo-terminal: keys go in, and the screen is read as whoever sits there sees it."""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path
from types import TracebackType
from typing import Any

import pexpect
import pyte

from askplant.desk import Desk

PATIENCE = 30.0  # seconds; the machine may be busy
LOOK = 0.05


class Terminal:
    """One run of the program at a terminal. `shows` waits until the screen holds a text."""

    def __init__(
        self, desk: Desk, state: Path, *arguments: str, columns: int = 80, rows: int = 24, **variables: str
    ) -> None:
        environment = {
            **os.environ,
            "TERM": "xterm-256color",
            "ASKPLANT_STATE": str(state),
        }
        for name in ("NO_COLOR", "COLUMNS", "LINES"):
            environment.pop(name, None)
        command = ["-m", "askplant", *arguments, "--base", str(desk.base.path)]
        self.child: Any = pexpect.spawn(
            sys.executable, command, env={**environment, **variables}, dimensions=(rows, columns), timeout=PATIENCE
        )
        self.child.delaybeforesend = None
        self.screen = pyte.HistoryScreen(columns, rows, history=2000)
        self.screen.write_process_input = self.child.send  # the terminal answers where its cursor is
        self.stream = pyte.ByteStream(self.screen)
        self.raw = b""

    def __enter__(self) -> Terminal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, value: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.child.close(force=True)

    def type(self, text: str) -> None:
        """Keys, one after the other."""
        self.child.send(text)

    def line(self, text: str) -> None:
        """A line and Enter, as somebody types it: Enter once the line stands there."""
        self.type(text)
        self.shows(text.split(",")[-1].strip()[-20:])
        self.type("\r")

    def paste(self, text: str) -> None:
        """A text pasted as terminals do it."""
        self.type(f"\x1b[200~{text}\x1b[201~")

    def look(self) -> str:
        """The screen now."""
        self._read()
        return "\n".join(line.rstrip() for line in self.screen.display)

    def shows(self, text: str, patience: float = PATIENCE) -> str:
        """The screen once it holds the text."""
        until = time.monotonic() + patience
        while time.monotonic() < until:
            shown = self.look()
            if text in shown:
                return shown
            time.sleep(LOOK)
        raise AssertionError(f"{text!r} is not on the screen:\n{self.look()}")

    def told(self, text: str) -> str:
        """Everything shown so far once it holds the text, whatever has scrolled away."""
        until = time.monotonic() + PATIENCE
        while time.monotonic() < until:
            shown = self.everything()
            if text in shown:
                return shown
            time.sleep(LOOK)
        raise AssertionError(f"{text!r} was not shown:\n{self.everything()}")

    def everything(self) -> str:
        """What has scrolled away and what is on the screen."""
        self._read()
        gone = ["".join(row[column].data for column in range(self.screen.columns)) for row in self.screen.history.top]
        return "\n".join(line.rstrip() for line in [*gone, *self.screen.display])

    def resize(self, columns: int, rows: int) -> None:
        """The window pulled to another size."""
        self.child.setwinsize(rows, columns)
        self.screen.resize(rows, columns)

    def ended(self) -> int:
        """The exit status once the program has ended."""
        self.child.expect(pexpect.EOF)
        self.child.wait()
        return int(self.child.exitstatus if self.child.exitstatus is not None else -self.child.signalstatus)

    def _read(self) -> None:
        while True:
            try:
                part = self.child.read_nonblocking(65536, timeout=0.02)
            except (pexpect.TIMEOUT, pexpect.EOF):
                return
            self.raw += part
            self.stream.feed(part)
