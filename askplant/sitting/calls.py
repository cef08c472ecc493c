"""The log of calls: one line a request, appended and never changed, on this machine alone; and what it tells together.

A line holds when, the request as typed, what was understood, the first plants of the answer, and the words not understood.
"""

from __future__ import annotations

import json
import os
import time
from collections import Counter
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any, NamedTuple

FILE = "calls.jsonl"
TOLD_PLANTS = 5  # plants of an answer that are logged

Json = dict[str, Any]


class Call(NamedTuple):
    """One request: when (local time), as typed, its conditions in words, plants that fit, the first ones' ids, words not
    understood, names the base has no plant of, and the condition that shut out most where nothing fitted."""

    at: str
    request: str
    asked: tuple[str, ...]
    fit: int
    plants: tuple[str, ...]
    unread: tuple[str, ...]
    strangers: tuple[str, ...] = ()
    dearest: str | None = None


class Summary(NamedTuple):
    """What callers asked for: how many calls and since when, and counts, the most frequent first."""

    calls: int
    since: str | None
    unread: tuple[tuple[str, int], ...]
    strangers: tuple[tuple[str, int], ...]
    unfitted: tuple[tuple[str, int], ...]
    dearest: tuple[tuple[str, int], ...]
    asked: tuple[tuple[str, int], ...]
    plants: tuple[tuple[str, int], ...]


def now() -> str:
    """The time as calls hold it."""
    return time.strftime("%Y-%m-%dT%H:%M:%S")


def add(path: Path, call: Call) -> None:
    """Append one call in one write, so that two desks do not mix theirs; OSError where it cannot be written."""
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    line = json.dumps(call._asdict(), ensure_ascii=False, separators=(",", ":")) + "\n"
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)
    try:
        os.write(handle, line.encode())
    finally:
        os.close(handle)


def calls(path: Path) -> list[Call]:
    """Every call that can be read; none where there is no log."""
    try:
        lines = path.read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        return []
    return [call for line in lines if (call := _call(line))]


def _call(line: str) -> Call | None:
    try:
        told: Json = json.loads(line)
        asked, plants, unread, strangers = (
            tuple(map(str, told.get(name, ()))) for name in ("asked", "plants", "unread", "strangers")
        )
        dearest = told.get("dearest")
        return Call(
            str(told["at"]), str(told["request"]), asked, int(told["fit"]), plants, unread, strangers,
            None if dearest is None else str(dearest),
        )  # fmt: skip
    except (ValueError, KeyError, TypeError, AttributeError, OverflowError, RecursionError):
        return None


def summary(found: Sequence[Call]) -> Summary:
    """What the calls tell together."""
    nothing = [call for call in found if not call.fit]
    return Summary(
        len(found),
        found[0].at if found else None,
        _counted(word.casefold() for call in found for word in call.unread),
        _counted(name for call in found for name in call.strangers),
        _counted(call.request for call in nothing),
        _counted(call.dearest for call in nothing if call.dearest),
        _counted(one for call in found for one in call.asked),
        _counted(plant for call in found for plant in call.plants[:1]),
    )


def _counted(things: Iterable[str]) -> tuple[tuple[str, int], ...]:
    return tuple(sorted(Counter(things).items(), key=lambda one: (-one[1], one[0])))
