"""Cells that no spreadsheet takes for formulas."""

from __future__ import annotations

import re

FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
_NUMBER = re.compile(r"[+-]?\d+([.,]\d+)*")


def safe(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula; numbers stay as they are."""
    return f"'{cell}" if cell.startswith(FORMULA) and not _NUMBER.fullmatch(cell) else cell


def unmarked(cell: str) -> str:
    """A cell without the mark that `safe` sets before it."""
    return cell[1:] if cell.startswith("'") and cell[1:].startswith(FORMULA) else cell
