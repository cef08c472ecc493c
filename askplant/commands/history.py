"""Where the desk keeps what was typed: a folder for this user's state, never the cache, which may be emptied."""

from __future__ import annotations

import os
from pathlib import Path

from askplant import where

STATE_VARIABLE = "ASKPLANT_STATE"  # names the folder outright
FILE = "history"


def history_file() -> Path | None:
    """The file, which need not exist yet; None for a user without a home."""
    chosen = os.environ.get(STATE_VARIABLE)
    if chosen:
        return Path(chosen) / FILE
    kept = where.user_folder("XDG_STATE_HOME", ".local/state")
    return kept and kept / FILE
