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
    """Files to write, which take their places together once all is written and on the disk.

    They are written in a folder beside their places that is called `.NAME.new` after the first of them, so that what a killed
    process left there goes with the next one; the caller sees to it that there is one writer at a time. What goes wrong leaves
    every place as it was. A file that a link points to is replaced, not the link.
    """
    import shutil  # late: it takes its time, and no request needs it

    targets = [Path(os.path.realpath(path)) for path in paths]
    folders = {target.parent: target.parent / f".{targets[0].name}.new" for target in targets}
    try:
        for folder in folders.values():
            shutil.rmtree(folder, ignore_errors=True)
            folder.mkdir()
        new = [folders[target.parent] / target.name for target in targets]
        yield new
        for path, target in zip(new, targets, strict=True):
            with path.open("rb+") as stream:
                os.fsync(stream.fileno())
            os.chmod(path, mode_of(target))
        for path, target in zip(new, targets, strict=True):
            os.replace(path, target)
    finally:
        for folder in folders.values():
            shutil.rmtree(folder, ignore_errors=True)


def mode_of(target: Path) -> int:
    """The permissions of a file that is to be replaced, else those that a new file gets."""
    if target.exists():
        return target.stat().st_mode & 0o777
    umask = os.umask(0)
    os.umask(umask)
    return 0o666 & ~umask
