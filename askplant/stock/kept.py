"""The stock list that is set once for a user, and lists kept as they were matched, so that an answer does not wait for it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from askplant import toml, where
from askplant.base.opened import Base
from askplant.errors import FileError, UserError
from askplant.stock.stock import Line, Stock

SETTING = "stock.toml"  # in the user's own folder
FORM = "2"  # raised whenever lines are matched or kept otherwise
MOST_KEPT = 8
_PREFIX = "stock-"


class Setting(NamedTuple):
    """Which list is read, with the files that settle its names and name its columns, and its sheet."""

    file: str
    names: str | None = None
    mapping: str | None = None
    sheet: str | None = None


def setting_file() -> Path:
    """Where the user's setting stands; UserError for a user without a home."""
    folder = where.own_folder()
    if folder is None:
        raise UserError(f"no home folder: name a folder of your own in {where.OWN_VARIABLE}")
    return folder / SETTING


def is_chosen() -> bool:
    """Whether the user has set a list; looks at no more than that."""
    folder = where.own_folder()
    return folder is not None and (folder / SETTING).is_file()


def chosen() -> Setting | None:
    """The list that the user has set, or none. FileError for a setting that cannot be read."""
    if not is_chosen():
        return None
    path, form = setting_file(), "what `askplant stock use FILE` writes"
    told = toml.read(path, form)
    try:
        if all(isinstance(value, str) for value in told.values()):
            return Setting(**told)
    except TypeError:  # a name that no setting has, or no list
        pass
    raise FileError(str(path), "", "no setting of a stock list", form)


def choose(setting: Setting) -> Path:
    """Set a list for the user; the file of the setting."""
    import json

    from askplant import writing

    path = setting_file()
    path.parent.mkdir(parents=True, exist_ok=True)
    absolute = {
        name: value if name == "sheet" else str(Path(value).absolute())
        for name, value in setting._asdict().items()
        if value
    }
    text = "".join(f"{name} = {json.dumps(value, ensure_ascii=False)}\n" for name, value in absolute.items())
    writing.write_all({path: f"# The stock list that every answer takes in (askplant stock use).\n{text}".encode()})
    return path


def forget() -> bool:
    """Take the setting away; whether there was one."""
    path = setting_file()
    there = path.exists()
    path.unlink(missing_ok=True)
    return there


def ready(setting: Setting, base: Base) -> Stock:
    """The list of a setting, as it was matched before where nothing of it has changed."""
    import json

    kept = where.cache_folder() / f"{_PREFIX}{_digest(setting, base)}.json"
    try:
        return _stock(json.loads(kept.read_bytes()))
    except (OSError, ValueError, LookupError, TypeError, AttributeError, RecursionError):
        from askplant import writing  # late, both: they bring along what only a changed list needs
        from askplant.stock.loading import load

        stock = load(setting.file, base, setting.names, setting.mapping, setting.sheet)
    try:
        kept.parent.mkdir(parents=True, exist_ok=True)
        writing.write_all({kept: json.dumps(_plain(stock), ensure_ascii=False).encode()})
        others = sorted(kept.parent.glob(f"{_PREFIX}*.json"), key=lambda path: path.stat().st_mtime, reverse=True)
        for old in others[MOST_KEPT:]:
            old.unlink(missing_ok=True)
    except OSError:  # nothing depends on it but the time the next answer takes
        pass
    return stock


def _digest(setting: Setting, base: Base) -> str:
    """A digest of all that decides how a list is matched."""
    import hashlib

    from askplant.stock.beside import columns_file, names_file
    from askplant.stock.said import WORDS

    parts = [FORM, base.digest, repr(setting)]
    names, mapping = setting.names or names_file(setting.file), setting.mapping or columns_file(setting.file)
    for name in (setting.file, names, mapping):
        try:
            parts.append(hashlib.sha256(Path(name).read_bytes()).hexdigest())
        except OSError:
            parts.append("-")
    for table in ("columns.toml", WORDS):
        parts.append(hashlib.sha256((where.folder("traits") / table).read_bytes()).hexdigest())
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()[:32]


def _plain(stock: Stock) -> dict[str, Any]:
    return {
        "file": stock.file,
        "how": stock.how,
        "columns": stock.columns,
        "notes": stock.notes,
        "lines": [line._asdict() for line in stock.lines],
    }


def _stock(told: Mapping[str, Any]) -> Stock:
    lines = tuple(Line(**{name: _frozen(value) for name, value in one.items()}) for one in told["lines"])
    return Stock(told["file"], lines, told["how"], _frozen(told["columns"]), _frozen(told["notes"]))


def _frozen(value: Any) -> Any:
    return tuple(_frozen(one) for one in value) if isinstance(value, list) else value
