"""Whether the file of a base is whole, as it was built, and still the same. The file is read without locks."""

from __future__ import annotations

import os
from binascii import crc32
from pathlib import Path

from askplant.errors import BaseError

_MAGIC = b"SQLite format 3\0"
# Where the seal stands, the CRC-32 of all other bytes: SQLite leaves these four to programs (`user_version`), and has no
# sums of its own, so that a flipped bit of a value would pass for another value.
_PLACE = slice(60, 64)


def put(path: Path) -> None:
    """Seal a new base, and wait until all of it is on the disk. OSError where it cannot be written."""
    with path.open("r+b") as stream:
        total = _sum(stream.read())
        stream.seek(_PLACE.start)
        stream.write(total)
        stream.flush()
        os.fsync(stream.fileno())


def holds(path: Path) -> bool:
    """Whether the file is to the bit as it was sealed; reads all of it (20 ms for 35 MB)."""
    try:
        data = path.read_bytes()
    except OSError:
        return False
    return data[_PLACE] == _sum(data)


def _sum(data: bytes) -> bytes:
    return crc32(data[_PLACE.stop :], crc32(bytes(4), crc32(data[: _PLACE.start]))).to_bytes(4, "big")


def state(path: Path) -> tuple[int, int, int]:
    """Which file stands there, its length, and when it was written; zeros where there is none."""
    try:
        found = os.stat(path)
    except OSError:
        return 0, 0, 0
    return found.st_ino, found.st_size, found.st_mtime_ns


def whole(path: Path) -> None:
    """BaseError unless the file is SQLite and as long as its header says (bytes 16-17 and 28-31 of the format)."""
    try:
        with path.open("rb") as stream:
            head = stream.read(100)
            length = stream.seek(0, 2)
    except OSError as problem:
        raise BaseError(f"{path}: {(problem.strerror or 'unreadable').lower()}") from None
    page = int.from_bytes(head[16:18], "big")
    expected = (65536 if page == 1 else page) * int.from_bytes(head[28:32], "big")
    if not head.startswith(_MAGIC):
        raise BaseError(f"{path}: not a built base")
    if length != expected:
        raise BaseError(f"{path}: damaged ({length} bytes long, its header says {expected})")
