"""Rows answered by a Dask cluster that is there already, in the same way and order as by the processes of one machine.

The base is sent along once, so that the machines of the cluster need askplant and nothing else.
"""

from __future__ import annotations

import os
import tempfile
import uuid
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from askplant import __version__
from askplant.batch.crew import Row, Work, in_order
from askplant.batch.rows import Json, answered
from askplant.desk import Desk
from askplant.errors import AskplantError, UserError

WAIT = 20  # seconds for the scheduler, and for its first worker, to answer


@dataclass(frozen=True, slots=True)
class Sent:
    """What is sent to the cluster once: a name for this run, the work, and the base itself."""

    run: str
    work: Work
    base: bytes


def on_cluster(rows: Iterable[Row], work: Work, address: str) -> Iterator[Json]:
    """Answers given by the workers of a scheduler's address. UserError where it cannot be reached or cannot do it."""
    try:
        from distributed import Client
    except ImportError:
        raise UserError("--cluster needs the optional part: pip install 'askplant[cluster]'") from None
    connect: Any = Client
    try:
        client = connect(address, timeout=WAIT, set_as_default=False)
    except (OSError, ValueError) as problem:
        said = " ".join(str(problem).split()) or type(problem).__name__
        raise UserError(f"--cluster {address}: cannot be reached ({said})") from None
    with client:
        workers = _ready(client, address)
        sent = Sent(uuid.uuid4().hex, work, Path(work.base).read_bytes())
        (shared,) = client.scatter([sent], broadcast=True)
        with client.get_executor(pure=False) as pool:
            try:
                yield from in_order(rows, pool, _portion, workers, shared)
            except Exception as problem:  # whatever befalls the cluster: gone, its workers killed, its program another
                said = " ".join(str(problem).split()) or type(problem).__name__
                raise AskplantError(f"--cluster {address}: {said}") from None


def _ready(client: Any, address: str) -> int:
    """How many threads the cluster has; UserError where it has none, or another askplant."""

    try:
        client.wait_for_workers(1, timeout=WAIT)
    except (TimeoutError, OSError):
        raise UserError(f"--cluster {address}: no worker has come within {WAIT} s") from None
    try:
        versions = set(client.run(_version).values())
    except ImportError:
        raise UserError(f"--cluster {address}: its workers have no askplant") from None
    if versions != {__version__}:
        found = ", ".join(sorted(versions))
        raise UserError(f"--cluster {address}: its workers have askplant {found}; expected {__version__}")
    return sum(client.nthreads().values())


# ---- on a worker

_desks: dict[tuple[str, int], Desk] = {}


def _version() -> str:
    return __version__


def _portion(rows: Sequence[Row], sent: Sent) -> list[Json]:
    desk = _desk(sent)
    return [answered(n, composed, desk, sent.work.telling) for n, composed in rows]


def _desk(sent: Sent) -> Desk:
    """The desk for this run in this thread; the base that was sent is written to a file for it. Desks of other runs go."""
    import threading

    key = (sent.run, threading.get_ident())
    for other in [one for one in _desks if one[0] != sent.run]:
        _desks.pop(other).base.close()
    if key not in _desks:
        folder = Path(tempfile.mkdtemp(prefix="askplant-"))
        path = folder / "base.sqlite"
        path.write_bytes(sent.base)
        _desks[key] = Desk(path, sent.work.units, sent.work.stock)
        if os.name != "nt":  # open files stay readable; nothing is left behind
            path.unlink()
            folder.rmdir()
    return _desks[key]
