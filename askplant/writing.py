"""Files that appear whole or not at all, whatever happens while they are written."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path


def write_all(contents: Mapping[Path, bytes]) -> None:
    """Write several files: none is touched before all of them are on the disk beside their places.

    OSError leaves everything as it was. A file that a link points to is replaced, not the link.
    """
    written: list[tuple[str, Path]] = []
    try:
        for path, data in contents.items():
            target = Path(os.path.realpath(path))
            handle, new = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent)
            written.append((new, target))
            with open(handle, "wb") as stream:
                stream.write(data)
                stream.flush()
                os.fsync(stream.fileno())
            os.chmod(new, mode_of(target))
        for new, target in written:
            os.replace(new, target)
    except BaseException:
        for new, _ in written:
            Path(new).unlink(missing_ok=True)
        raise


@contextmanager
def whole(paths: Sequence[Path]) -> Iterator[list[Path]]:
    """Files to write beside their places, which take those places together once all is written and on the disk.

    What goes wrong leaves every place as it was. A file that a link points to is replaced, not the link.
    """
    targets = [Path(os.path.realpath(path)) for path in paths]
    new: list[Path] = []
    try:
        for target in targets:
            handle, made = tempfile.mkstemp(prefix=f".{target.name}.", suffix=target.suffix, dir=target.parent)
            os.close(handle)
            new.append(Path(made))
        yield new
        for path, target in zip(new, targets, strict=True):
            with path.open("rb+") as stream:
                os.fsync(stream.fileno())
            os.chmod(path, mode_of(target))
        for path, target in zip(new, targets, strict=True):
            os.replace(path, target)
    except BaseException:
        for path in new:
            path.unlink(missing_ok=True)
        raise


def mode_of(target: Path) -> int:
    """The permissions of a file that is to be replaced, else those that a new file gets."""
    if target.exists():
        return target.stat().st_mode & 0o777
    umask = os.umask(0)
    os.umask(umask)
    return 0o666 & ~umask
