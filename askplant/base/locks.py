"""A lock among processes, on a file that is only there to be locked. It goes with the process: a killed one leaves none."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO, Any

# How often a lock that somebody holds is looked after (s).
LOOK = 0.05


@contextmanager
def held(path: Path, wait: float, waiting: Callable[[], None]) -> Iterator[bool]:
    """Holds the lock of a file, which is made if need be; False once it was waited for in vain for `wait` seconds.

    `waiting` is called each time somebody else is found to hold it.
    """
    with path.open("ab") as lock:
        until = time.monotonic() + wait
        got = taken(lock)
        while not got and time.monotonic() < until:
            waiting()
            time.sleep(LOOK)
            got = taken(lock)
        yield got


def taken(lock: IO[Any]) -> bool:
    """Try to take the lock; True too where the file system has no locks."""
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(lock.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except PermissionError:  # how Windows says that somebody holds it
        return sys.platform != "win32"
    except OSError:
        return True
    return True
