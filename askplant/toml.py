"""The small TOML files that people write or mend: settings, settled names, what the columns of a table hold."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from askplant.errors import FileError


def read(path: str | Path, expected: str) -> dict[str, Any]:
    """What a file says, with or without the mark that Windows puts before UTF-8.

    FileError for one that is missing, cannot be read, or is no TOML; `expected` tells what it should be.
    """
    import tomllib  # late: no plain request needs it

    try:
        return tomllib.loads(Path(path).read_bytes().decode("utf-8-sig"))
    except OSError as problem:
        raise FileError(str(path), "", (problem.strerror or "trouble").lower(), expected) from problem
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as problem:
        raise FileError(str(path), "", str(problem), expected) from None
    except RecursionError:
        raise FileError(str(path), "", "brackets within brackets without end", expected) from None
