"""What a nursery has: its own list, its names matched to plants of the base. `load` reads one."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from askplant.stock.stock import Line, Offer, Stock, Unmatched

if TYPE_CHECKING:
    from askplant.base.opened import Base

__all__ = ["Line", "Offer", "Stock", "Unmatched", "load"]


def load(path: str | Path, base: Base, names: str | Path | None = None, mapping: str | Path | None = None) -> Stock:
    """The stock list of a file, matched to a base; see `loading.load`, which is imported when it is wanted."""
    from askplant.stock.loading import load as load_

    return load_(path, base, names, mapping)
