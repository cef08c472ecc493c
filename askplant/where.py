"""Where things stand: the grammar and the traits that ship with the program, the user's own plants, and built files."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from askplant.errors import FileError

PACKAGE = Path(__file__).parent

# Names the cache folder outright, whatever the platform would say.
CACHE_VARIABLE = "ASKPLANT_CACHE"
# Names the folder of the user's own plants outright.
OWN_VARIABLE = "ASKPLANT_OWN"
# What is read of that folder; all of it may be missing, and whatever else its owner keeps there is left alone.
OWN_PARTS = ("plants", "sources", "observations.csv", "postcodes.csv")


def folder(name: str) -> Path:
    """The folder `grammar` or `traits`: inside the installed package, else beside it in a checkout.

    Inside comes first: a folder beside an installed package may be somebody else's `traits`.
    """
    inside = PACKAGE / "_data" / name
    if inside.is_dir():
        return inside
    checkout = PACKAGE.parent
    if (checkout / "pyproject.toml").is_file() and (checkout / name).is_dir():
        return checkout / name
    raise FileError(str(inside), "", "no such folder", f"the folder {name} that is installed with the program")


def cache_folder() -> Path:
    """The folder for built files; it need not exist yet, nor be writable."""
    chosen = os.environ.get(CACHE_VARIABLE)
    if chosen:
        return Path(chosen)
    if sys.platform == "win32":
        return _base("LOCALAPPDATA", "AppData/Local") / "askplant" / "Cache"
    if sys.platform == "darwin":
        return _base("", "Library/Caches") / "askplant"
    return _base("XDG_CACHE_HOME", ".cache") / "askplant"


def own_folder() -> Path | None:
    """The folder of the user's own plants and observations; it need not exist. None for a user without a home."""
    chosen = os.environ.get(OWN_VARIABLE)
    if chosen:
        return Path(chosen).absolute()
    kept = user_folder("XDG_DATA_HOME", ".local/share")
    return kept and kept / "own"


def user_folder(variable: str, below_home: str) -> Path | None:
    """The platform's folder for what a user keeps in this program: where there is no platform's own way, below the
    folder of an XDG variable, else of home. It need not exist; None for a user without a home.
    """
    if sys.platform == "win32":
        variable, below_home = "LOCALAPPDATA", "AppData/Local"
    elif sys.platform == "darwin":
        variable, below_home = "", "Library/Application Support"
    try:
        return (_absolute(variable) or Path.home() / below_home) / "askplant"
    except RuntimeError:  # no HOME, and nobody of this user id in the password file
        return None


def own_to_read() -> Path | None:
    """The folder of the user's own plants where there is one; FileError for one that is named and cannot be read."""
    folder = own_folder()
    if folder is None or os.access(folder, os.R_OK | os.X_OK):
        return folder
    if os.environ.get(OWN_VARIABLE) and os.path.exists(folder):
        raise FileError(str(folder), "", "no folder that can be read", f"a folder of your own plants in {OWN_VARIABLE}")
    return None


def temporary_folder() -> Path:
    """A folder of this user's own below the system's temporary one, made if need be: in place of a cache folder."""
    import tempfile  # 5 ms with what it brings along; seldom needed

    user = os.getuid() if hasattr(os, "getuid") else os.environ.get("USERNAME", "user")
    own = Path(tempfile.gettempdir()) / f"askplant-{user}"
    try:
        own.mkdir(mode=0o700, exist_ok=True)
        if _is_ours(own):
            return own
    except OSError:
        pass
    return Path(tempfile.mkdtemp(prefix="askplant-"))


def _base(variable: str, below_home: str) -> Path:
    """The folder a variable names, if absolute (XDG Base Directory Specification 0.8), else one below home."""
    named = _absolute(variable)
    if named:
        return named
    try:
        return Path.home() / below_home
    except RuntimeError:  # no HOME, and nobody of this user id in the password file
        return temporary_folder()


def _absolute(variable: str) -> Path | None:
    """The absolute path in a variable; a relative one does not count."""
    named = os.environ.get(variable, "") if variable else ""
    return Path(named) if named and Path(named).is_absolute() else None


def _is_ours(path: Path) -> bool:
    """Whether nobody else can have put files there: a real folder, of this user, closed to others."""
    if not hasattr(os, "getuid"):
        return True
    about = path.lstat()
    return not path.is_symlink() and about.st_uid == os.getuid() and not about.st_mode & 0o022
