"""The small files beside a stock list that belong to it."""

from __future__ import annotations

from pathlib import Path

NAMES, COLUMNS = ".names.toml", ".columns.toml"


def names_file(path: str | Path) -> Path:
    """Where the settled names of a list stand unless another file is named."""
    return Path(f"{path}{NAMES}")


def columns_file(path: str | Path) -> Path:
    """Where the mapping of a list's columns stands unless another file is named."""
    return Path(f"{path}{COLUMNS}")
