"""What the columns of a table hold: known headings, guessed roles, and the small file in which a guess is mended.

The headings stand in traits/columns.toml. A mapping file names columns by their
headings, those that are headed alike in the order in which they stand:

    [[column]]
    heading = "Height (ft)"
    role = "height"
    say = "{} ft tall"      # only for requests; `yes` and `no` are said instead of a yes and of a no
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from typing import Any

from askplant import toml, where
from askplant.errors import FileError
from askplant.sheets.sheet import Sheet

UNITS = {
    "ft": "ft", "feet": "ft", "foot": "ft", "in": "in", "inch": "in", "inches": "in", "m": "m", "metres": "m", "meters": "m",
    "cm": "cm", "centimetres": "cm", "centimeters": "cm",
}  # fmt: skip
_WORD = re.compile(r"[^\W_]+")
_KEYS = {"heading": str, "role": str, "say": str, "yes": str, "no": str, "unit": str}


@dataclass(frozen=True, slots=True)
class Role:
    """What a column may hold, as traits/columns.toml describes it."""

    name: str
    headings: tuple[tuple[str, ...], ...] = ()
    say: str = "{}"
    yes: str | None = None
    no: str | None = None
    length: bool = False
    number: bool = False


@dataclass(frozen=True, slots=True)
class Column:
    """One column that is read: its place, its heading, what it holds, and the unit of its bare numbers."""

    place: int
    heading: str
    role: Role
    unit: str = ""


@lru_cache(maxsize=4)
def roles(table: str) -> tuple[Role, ...]:
    """The roles of a table of traits/columns.toml, `request` or `stock`."""
    import tomllib  # late: no plain request needs it

    told = tomllib.loads((where.folder("traits") / "columns.toml").read_text(encoding="utf-8"))[table]
    return tuple(
        Role(name, **(one | {"headings": tuple(_words(heading)[0] for heading in one["headings"])}))
        for name, one in told.items()
    )


def known(table: str, heading: str) -> bool:
    """Whether some role is headed by just this."""
    words, _ = _words(heading)
    return any(words in role.headings for role in roles(table))


def guessed(headings: Sequence[str], table: str) -> tuple[Column, ...]:
    """The columns whose headings are known, or hold a known one: the longest counts."""
    found = []
    for place, heading in enumerate(headings):
        words, unit = _words(heading)
        fits = [(len(one), role) for role in roles(table) for one in role.headings if _within(one, words)]
        if fits:
            role = max(fits, key=lambda fit: fit[0])[1]
            found.append(Column(place, heading, role, unit if role.length else ""))
    return tuple(found)


def exact(column: Column) -> bool:
    """Whether a column's whole heading is a known one."""
    return _words(column.heading)[0] in column.role.headings


def _words(heading: str) -> tuple[tuple[str, ...], str]:
    """The words of a heading, and its unit where the last of several is one."""
    words = tuple(word.casefold() for word in _WORD.findall(heading))
    if len(words) > 1 and words[-1] in UNITS:
        kept = words[:-2] if len(words) > 2 and words[-2] == "in" else words[:-1]
        return kept, UNITS[words[-1]]
    return words, ""


def _within(some: tuple[str, ...], words: tuple[str, ...]) -> bool:
    return any(words[at : at + len(some)] == some for at in range(len(words) - len(some) + 1))


def from_file(path: str, sheet: Sheet, table: str) -> tuple[Column, ...]:
    """The columns that a mapping file names; FileError for one that is not of that form or does not fit the table."""
    by_name = {role.name: role for role in roles(table)}
    listed = toml.read(path, "a mapping as --write-mapping writes it").get("column")
    if not isinstance(listed, list) or not listed or not all(isinstance(one, dict) for one in listed):
        raise FileError(path, "", "no [[column]]", "a mapping as --write-mapping writes it")
    found: list[Column] = []
    for one in listed:
        before = sum(column.heading == one.get("heading") for column in found)
        found.append(_mapped(one, path, sheet, by_name, before))
    return tuple(found)


def _mapped(one: Mapping[str, Any], path: str, sheet: Sheet, by_name: Mapping[str, Role], before: int) -> Column:
    """One column of a mapping; where several are headed alike, the one behind those that were mapped before."""
    for key, value in one.items():
        if key not in _KEYS or not isinstance(value, str):
            raise FileError(path, str(one.get("heading", "")), f"`{key} = {value!r}`", f"text for {', '.join(_KEYS)}")
    heading, name = one.get("heading", ""), one.get("role", "")
    if heading not in sheet.headings:
        raise FileError(path, heading, "no such column", f"one of {', '.join(sheet.headings)}")
    if name not in by_name and "say" not in one:
        raise FileError(path, heading, f"role `{name}`", f"one of {', '.join(by_name)}")
    role = by_name.get(name, Role(name or "own"))
    if "say" in one and one["say"].count("{}") != 1:
        raise FileError(path, heading, f"say `{one['say']}`", "words with one {} for the cell")
    given = {key: one[key] for key in ("say", "yes", "no") if key in one}
    unit = one.get("unit", _words(heading)[1] if role.length else "")
    alike = [place for place, other in enumerate(sheet.headings) if other == heading]
    if before >= len(alike):
        there = f"{len(alike)} column{'s' if len(alike) > 1 else ''} headed so"
        raise FileError(path, heading, f"it {before + 1} times", f"no more than there are columns ({there})")
    return Column(alike[before], heading, replace(role, **given), unit)


def as_toml(columns: Sequence[Column], sheet: Sheet, table: str) -> str:
    """A mapping as a file that can be mended; the columns that are not read stand in it as remarks."""
    lines = [
        f"# How askplant reads the columns of {' '.join(Path(sheet.file).name.split())}. A column that is not here is not read."
    ]
    if table == "request":
        lines.append("# `say` puts a cell into words; they are joined, in this order, to the request of the row.")
    for column in columns:
        lines += ["", "[[column]]", f"heading = {_quoted(column.heading)}", f"role = {_quoted(column.role.name)}"]
        if table == "request":
            lines.append(f"say = {_quoted(column.role.say)}")
            lines += [f"{key} = {_quoted(said)}" for key in ("yes", "no") if (said := getattr(column.role, key))]
        if column.unit:
            lines.append(f"unit = {_quoted(column.unit)}")
    read = {column.place for column in columns}
    spare = [heading for place, heading in enumerate(sheet.headings) if place not in read and heading]
    if spare:
        lines += ["", f"# not read: {' | '.join(' '.join(heading.split()) for heading in spare)}"]
        names = ", ".join(role.name for role in roles(table))
        lines += [f"# roles: {names}"]
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    """Text as TOML writes it; JSON's escapes are among TOML's."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
