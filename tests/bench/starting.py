"""Starting the command against starting Python with the libraries that it reads requests and its base by, and how much memory
both take. (A request of known words, once the base is built, loads neither Lark nor RapidFuzz.)

Each run is a process of a small launcher's: what a process held before it became another counts as that one's memory. All are
compiled once beforehand, as what is installed is.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence

from askplant.base import cache

ROUNDS = 15
ASKED = "evergreen, 10–15 ft, narrow, zone 7, deer-proof, part shade"
PEER = "Python and the libraries"
RUNS: dict[str, Sequence[str]] = {
    PEER: ("-c", "import sqlite3, lark, rapidfuzz"),
    "askplant --help": ("-m", "askplant", "--help"),
    "askplant read": ("-m", "askplant", "read", ASKED),
    "askplant ask": ("-m", "askplant", "ask", ASKED),
    "askplant ask --json": ("-m", "askplant", "ask", "--json", ASKED),
}
# Runs what it is given and prints the processor seconds and the most memory (KB; bytes on a Mac) that it took.
LAUNCHER = """
import os, sys
quiet = [(os.POSIX_SPAWN_OPEN, stream, os.devnull, os.O_WRONLY, 0) for stream in (1, 2)]
process = os.posix_spawn(sys.argv[1], sys.argv[1:], os.environ, file_actions=quiet)
used = os.wait4(process, 0)[2]
print(used.ru_utime + used.ru_stime, used.ru_maxrss)
"""


def lines(rounds: int = ROUNDS) -> Iterator[str]:
    """What to print: the least of several runs, taken turn by turn, as other work only ever adds to a run."""
    if not hasattr(os, "posix_spawn"):
        yield "\nStarting: left out, as this system does not tell what a process took"
        return
    cache.ready()
    with tempfile.TemporaryDirectory() as compiled:
        found = {name: [run(arguments, compiled)] for name, arguments in RUNS.items()}
        for _ in range(rounds):
            for name, arguments in RUNS.items():
                found[name].append(run(arguments, compiled))
    best = {name: min(runs) for name, runs in found.items()}
    yield f"\nStarting: processor time, the least of {rounds} runs, against `{RUNS[PEER][1]}`"
    peer = best[PEER]
    for name, (took, memory) in best.items():
        yield (
            f"  {name}: {took * 1000:.0f} ms, {took / peer[0]:.2f} times; {memory / 1024:.0f} MB,"
            f" {memory / peer[1]:.2f} times"
        )


def run(arguments: Sequence[str], compiled: str) -> tuple[float, float]:
    """Seconds of processor time that a run takes, and the most memory it held in KB."""
    told = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    launched = subprocess.run(
        [sys.executable, "-S", "-c", LAUNCHER, sys.executable, *arguments],
        env=told | {"PYTHONPYCACHEPREFIX": compiled},
        stdout=subprocess.PIPE,
        check=True,
        text=True,
    )
    seconds, memory = map(float, launched.stdout.split())
    return seconds, memory / (1024 if sys.platform == "darwin" else 1)
