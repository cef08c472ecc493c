"""Starting the command against starting Python with the libraries that asking needs, and how much memory both take."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence

from askplant.base import cache

ROUNDS = 9
ASKED = "evergreen, 10–15 ft, narrow, zone 7, deer-proof, part shade"
LIBRARIES = "import argparse, json, sqlite3, lark"
RUNS: dict[str, Sequence[str]] = {
    "bare Python": ("-c", "pass"),
    "Python and the libraries": ("-c", LIBRARIES),
    "askplant --help": ("-m", "askplant", "--help"),
    "askplant read": ("-m", "askplant", "read", ASKED),
    "askplant ask": ("-m", "askplant", "ask", ASKED),
    "askplant ask --json": ("-m", "askplant", "ask", "--json", ASKED),
}


def lines(rounds: int = ROUNDS) -> Iterator[str]:
    """What to print. The quickest of several runs counts, turn by turn, as other work only ever adds to a run."""
    cache.ready()
    best = {name: (float("inf"), 0) for name in RUNS}
    for _ in range(rounds):
        for name, arguments in RUNS.items():
            took, memory = run(arguments)
            best[name] = (min(best[name][0], took), memory)
    yield f"\nStarting: the quickest of {rounds} runs, against Python with the libraries that asking imports"
    base = best["Python and the libraries"]
    for name, (took, memory) in best.items():
        more = f", {memory / 1024:.0f} MB" if memory else ""
        yield f"  {name}: {took * 1000:.0f} ms, {took / base[0]:.1f} times{more}"


def run(arguments: Sequence[str]) -> tuple[float, int]:
    """Seconds that a run takes, and the most memory it held in KB (0 where the system does not tell)."""
    start = time.perf_counter()
    process = subprocess.Popen([sys.executable, *arguments], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    if not hasattr(os, "wait4"):
        process.wait()
        return time.perf_counter() - start, 0
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    return time.perf_counter() - start, used.ru_maxrss // (1024 if sys.platform == "darwin" else 1)
