"""Headless Chromium driven through its DevTools protocol over a pair of pipes: messages are JSON, each ended by a zero byte."""

from __future__ import annotations

import base64
import fcntl
import json
import os
import re
import select
import shutil
import subprocess
import time
from pathlib import Path
from typing import Any, NamedTuple

FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage", "--remote-debugging-pipe",
)  # fmt: skip
NAMES = ("chromium", "chromium-browser", "google-chrome")
PATIENCE = 60.0

# Texts of drawings that leave them or lie over one another, and boxes that reach beyond the window without a way to move them.
LOOK = """(() => {
  const cut = [], wide = [];
  for (const drawing of document.querySelectorAll('svg')) {
    const frame = drawing.viewBox.baseVal, texts = [...drawing.querySelectorAll('text')];
    const boxes = texts.map(text => [text.textContent, text.getBBox()]);
    for (const one of drawing.querySelectorAll('.plant, .thing, .person')) {
      const box = one.getBBox();
      if (box.x < -1 || box.x + box.width > frame.width + 1 || box.y < -1) cut.push(one.getAttribute('class'));
    }
    const [across, down] = [frame.width + 1, frame.height + 2];
    for (const [said, box] of boxes)
      if (box.x < -1 || box.x + box.width > across || box.y < -2 || box.y + box.height > down) cut.push(said);
    for (let i = 0; i < boxes.length; i++) for (let j = 0; j < i; j++) {
      const [one, a] = boxes[i], [other, b] = boxes[j];
      const across = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
      const down = Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y);
      if (across > 1 && down > 4) cut.push(one + ' | ' + other);
    }
  }
  for (const one of document.querySelectorAll('body *')) {
    if (one.closest('svg *')) continue;
    const box = one.getBoundingClientRect();
    if (box.right > innerWidth + 1 && !one.closest('.wide, .long figure')) wide.push(one.tagName + ' ' + one.className);
  }
  return JSON.stringify({scroll: document.documentElement.scrollWidth, cut, wide});
})()"""


class Seen(NamedTuple):
    """A page as it was seen: how wide it is, texts of drawings that are cut or covered, boxes that stick out, console errors and
    every address it asked for.
    """

    scroll: int
    cut: list[str]
    wide: list[str]
    errors: list[str]
    asked: list[str]


def found() -> str | None:
    """The browser of this machine, if it has one."""
    return next(filter(None, map(shutil.which, NAMES)), None)


class Ended(Exception):
    """The browser is no longer there."""


class Browser:
    """One browser for a run of tests."""

    def __init__(self, program: str, profile: Path) -> None:
        there, self._write = _high(os.pipe())
        self._read, back = _high(os.pipe())

        def placed() -> None:
            os.dup2(there, 3)
            os.dup2(back, 4)

        self._said = profile / "said"
        with self._said.open("wb") as said:
            self._process = subprocess.Popen(
                [program, *FLAGS, f"--user-data-dir={profile}", "about:blank"],
                pass_fds=(3, 4),
                preexec_fn=placed,
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=said,
                start_new_session=True,
            )
        os.close(there)
        os.close(back)
        self._rest, self._number, self._events = b"", 0, []  # type: bytes, int, list[dict[str, Any]]
        self._session: str | None = None
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        self._session = self.call("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        for part in ("Page", "Runtime", "Log", "Network"):
            self.call(f"{part}.enable")

    def close(self) -> None:
        """End the browser, and wait for it."""
        os.close(self._write)
        os.close(self._read)
        self._process.terminate()
        self._process.wait(PATIENCE)

    def look(self, page: Path, width: int) -> Seen:
        """Open a page in a window so many pixels wide."""
        self.call("Emulation.setDeviceMetricsOverride", width=width, height=900, deviceScaleFactor=1, mobile=False)
        self._open(page)
        told = json.loads(self.call("Runtime.evaluate", expression=LOOK)["result"]["value"])
        errors = [
            str(one["params"]) for one in self._events if one["method"] in ("Runtime.exceptionThrown", "Log.entryAdded")
        ]
        errors += [str(one["params"]) for one in self._events if one["method"] == "Runtime.consoleAPICalled"]
        asked = [
            one["params"]["request"]["url"] for one in self._events if one["method"] == "Network.requestWillBeSent"
        ]
        return Seen(told["scroll"], told["cut"], told["wide"], errors, asked)

    def pages(self, page: Path) -> int:
        """How many pages it is printed on, on the paper it asks for."""
        self._open(page)
        printed = base64.b64decode(self.call("Page.printToPDF", preferCSSPageSize=True, printBackground=False)["data"])
        return len(re.findall(rb"/Type\s*/Page\b(?!s)", printed))

    def _open(self, page: Path) -> None:
        self._events.clear()
        self.call("Page.navigate", url=page.as_uri())
        self._until(lambda one: one.get("method") == "Page.loadEventFired")

    def call(self, method: str, **given: Any) -> Any:
        """One command, and what comes back."""
        self._number += 1
        number = self._number
        message = {"id": number, "method": method, "params": given}
        if self._session is not None and not method.startswith("Target."):
            message["sessionId"] = self._session
        os.write(self._write, json.dumps(message).encode() + b"\0")
        answer = self._until(lambda one: one.get("id") == number)
        assert "error" not in answer, answer
        return answer["result"]

    def _until(self, wanted: Any) -> dict[str, Any]:
        for one in self._events:
            if wanted(one):
                return one
        end = time.monotonic() + PATIENCE
        while True:
            while b"\0" not in self._rest:
                ready, _, _ = select.select([self._read], [], [], max(0.0, end - time.monotonic()))
                assert ready, "the browser does not answer"
                more = os.read(self._read, 1 << 16)
                if not more:
                    status = self._process.wait(PATIENCE)
                    raise Ended(f"the browser has ended ({status}): {self._said.read_text(errors='replace')[-2000:]}")
                self._rest += more
            first, _, self._rest = self._rest.partition(b"\0")
            one: dict[str, Any] = json.loads(first)
            if "method" in one:
                self._events.append(one)
            if wanted(one):
                return one


def _high(ends: tuple[int, int]) -> tuple[int, int]:
    """The ends of a pipe moved out of the way of 3 and 4."""
    moved = tuple(fcntl.fcntl(end, fcntl.F_DUPFD_CLOEXEC, 10) for end in ends)
    for end in ends:
        os.close(end)
    return moved[0], moved[1]
