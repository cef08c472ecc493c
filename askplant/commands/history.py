"""Where the desk keeps what was typed: a folder for this user's state, never the cache, which may be emptied."""

from __future__ import annotations

import os
import sys
from pathlib import Path

STATE_VARIABLE = "ASKPLANT_STATE"  # names the folder outright
FILE = "history"


def history_file() -> Path | None:
    """The file, which need not exist yet; None for a user without a home."""
    chosen = os.environ.get(STATE_VARIABLE)
    if chosen:
        return Path(chosen) / FILE
    variable, below = _platform()
    named = os.environ.get(variable, "") if variable else ""
    if named and Path(named).is_absolute():
        return Path(named) / "askplant" / FILE
    try:
        return Path.home() / below / "askplant" / FILE
    except RuntimeError:
        return None


def _platform() -> tuple[str, str]:
    """The variable that names the folder of all programs' state, and where below home it is without it."""
    if sys.platform == "win32":
        return "LOCALAPPDATA", "AppData/Local"
    if sys.platform == "darwin":
        return "", "Library/Application Support"
    return "XDG_STATE_HOME", ".local/state"
