"""A batch of ever more rows through the installed command: rows a second and the most memory of all its processes; and one
of as many rows that is killed again and again.
"""

from __future__ import annotations

import csv
import os
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

import psutil

from tests.batch import varied

ROWS = (1_250, 2_500, 5_000, 10_000)
WORKERS = (1, 2)
EACH = 0.1  # seconds between two looks at the memory
KILLS = (0.2, 0.4, 0.6, 0.8)  # of the rows, in turn a process that answers and the command itself


class Run(NamedTuple):
    """What a batch took: seconds, and bytes of all processes together at their most."""

    seconds: float
    memory: int


def begun(folder: Path, rows: int, out: str, *options: str) -> subprocess.Popen[str]:
    """The installed command over a table of so many rows."""
    table = folder / f"in{rows}.csv"
    if not table.exists():
        varied.table(table, rows)
    command = [str(Path(sys.executable).with_name("askplant")), "batch", table.name, out, *options]
    return subprocess.Popen(command, cwd=folder, stderr=subprocess.PIPE, text=True)


def measured(folder: Path, rows: int, out: str, *options: str) -> Run:
    """A batch from start to end."""
    start, most = time.monotonic(), 0
    running = begun(folder, rows, out, *options)
    watched = psutil.Process(running.pid)
    while running.poll() is None:
        with suppress(psutil.Error):
            most = max(most, sum(one.memory_info().rss for one in [watched, *watched.children(recursive=True)]))
        time.sleep(EACH)
    said = running.communicate()[1]
    assert running.returncode == 0, said
    return Run(time.monotonic() - start, most)


def killed(folder: Path, rows: int, out: str) -> list[str]:
    """A batch that is killed where KILLS say and gone on with each time, until it is done; what each run said last."""
    journal = folder / f"{out}.journal"
    lasts = []
    for number, part in enumerate((*KILLS, None)):
        running = begun(folder, rows, out, "--workers", "2", *(["--resume"] if number else []))
        while part is not None and running.poll() is None:
            done = journal.read_bytes().count(b"\n") - 1 if journal.exists() else 0
            workers = [one for one in psutil.Process(running.pid).children() if "spawn_main" in " ".join(one.cmdline())]
            if done >= part * rows and workers:
                os.kill(running.pid if number % 2 else workers[0].pid, signal.SIGKILL)
                break
            time.sleep(EACH)
        said = running.communicate()[1]
        assert (running.returncode == 0) is (part is None), said
        assert (folder / out).exists() is (part is None)
        lasts.append(said.strip().splitlines()[-1])
    return lasts


def lines(counts: tuple[int, ...] = ROWS) -> Iterator[str]:
    """What to print."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        measured(folder, 10, "first.csv")  # the base is built by then
        for workers in WORKERS:
            runs = {}
            for rows in counts:
                runs[rows] = run = measured(folder, rows, f"out{rows}-{workers}.csv", "--workers", str(workers))
                yield (
                    f"  {rows} rows, {workers} answering: {run.seconds:.1f} s, {rows / run.seconds:.0f} rows a second,"
                    f" {run.memory / 1e6:.0f} MB at most"
                )
            first, last = runs[counts[0]], runs[counts[-1]]
            more = counts[-1] / counts[0]
            yield (
                f"  {more:.0f} times the rows: {last.seconds / first.seconds:.1f} times the time,"
                f" {last.memory / first.memory:.2f} times the memory"
            )
        most = counts[-1]
        for last_said in killed(folder, most, "killed.csv"):
            yield f"  killed: {last_said}"
        whole = (folder / f"out{most}-1.csv").read_bytes()
        alike = (folder / f"out{most}-2.csv").read_bytes() == (folder / "killed.csv").read_bytes() == whole
        with (folder / "killed.csv").open(encoding="utf-8-sig", newline="") as stream:
            jobs = [row["job"] for row in csv.DictReader(stream)]
        kept = jobs == [row[0] for row in varied.requests(most)]
        yield f"  one process, two, and {len(KILLS)} kills: {'the same bytes' if alike else 'NOT the same'}"
        yield f"  each row once and in its place: {'yes' if kept else 'NO'}"
