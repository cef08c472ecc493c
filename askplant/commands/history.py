"""Where the desk keeps what was typed: a folder for this user's state, never the cache, which may be emptied."""

from __future__ import annotations

import os
from pathlib import Path

from askplant import toml, where
from askplant.errors import FileError
from askplant.sitting import calls, journal

STATE_VARIABLE = "ASKPLANT_STATE"  # names the folder outright
LOG_VARIABLE = "ASKPLANT_LOG"  # `off` logs no calls
FILE = "history"
# The user's settings of the desk, in the folder of their own plants.
SETTINGS = "desk.toml"
OFF = ("off", "no", "0", "false")


def state_folder() -> Path | None:
    """The folder, which need not exist yet; None for a user without a home."""
    chosen = os.environ.get(STATE_VARIABLE)
    return Path(chosen) if chosen else where.user_folder("XDG_STATE_HOME", ".local/state")


def history_file() -> Path | None:
    """Lines as they were typed."""
    folder = state_folder()
    return folder and folder / FILE


def sittings_folder() -> Path | None:
    """One journal a sitting."""
    folder = state_folder()
    return folder and folder / journal.FOLDER


def log_file() -> Path | None:
    """The log of calls, whether it is written or not."""
    folder = state_folder()
    return folder and folder / calls.FILE


def is_logging() -> bool:
    """Whether calls are logged: the variable first, then `log = false` in the user's desk.toml; they are unless said."""
    said = os.environ.get(LOG_VARIABLE, "").casefold()
    if said:
        return said not in OFF
    own = where.own_folder()
    path = own / SETTINGS if own is not None else None
    if path is None or not path.is_file():
        return True
    told = toml.read(path, "a TOML file, as `log = false`")
    if not isinstance(told.get("log", True), bool):
        raise FileError(str(path), "", f"log = {told['log']!r}", "log = true or log = false")
    return bool(told.get("log", True))
