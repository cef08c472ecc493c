"""The TOML files of traits/: read with the line each table stands on, every fault as file and line."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from askplant.errors import CardError

_AT_LINE = re.compile(r"\(at line (\d+), column \d+\)")
_HEAD = re.compile(r"\s*\[([^\[\]]+)\]")


@dataclass(frozen=True, slots=True)
class Table:
    """One `[name]` of a file, with the file and line of its head."""

    name: str
    file: str
    line: int
    fields: dict[str, Any]

    def fault(self, found: str, expected: str) -> CardError:
        """What is wrong with this table."""
        return CardError(self.file, self.line, found, expected)


def read(path: Path, label: str) -> list[Table]:
    """The tables of a file in order; `label` names it in faults. CardError if it cannot be read as TOML."""
    text = _text(path, label)
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as problem:
        raise _not_toml(problem, label, text) from None
    except RecursionError:
        raise CardError(label, 1, "brackets within brackets without end", "TOML") from None
    lines = _heads(text)
    tables = []
    for name, fields in data.items():
        if not isinstance(fields, dict):
            raise CardError(label, 1, f"`{name} = …` outside any table", "a [name] before it")
        tables.append(Table(name, label, lines.get(name, 1), fields))
    return tables


def _text(path: Path, label: str) -> str:
    try:
        data = path.read_bytes()
        return data.decode("utf-8-sig")
    except OSError as problem:
        raise CardError(label, 1, problem.strerror or "an unreadable file", "a file that can be read") from None
    except UnicodeDecodeError as problem:
        line = problem.object[: problem.start].count(b"\n") + 1
        raise CardError(label, line, f"byte 0x{problem.object[problem.start]:02X}", "UTF-8 text") from None


def _not_toml(problem: tomllib.TOMLDecodeError, label: str, text: str) -> CardError:
    place = _AT_LINE.search(str(problem))
    line = int(place[1]) if place else text.count("\n") + 1
    return CardError(label, line, _AT_LINE.sub("", str(problem)).strip().lower(), "TOML")


def _heads(text: str) -> dict[str, int]:
    """The line of every table's head, by its name without quotes."""
    heads: dict[str, int] = {}
    for number, line in enumerate(text.splitlines(), 1):
        match = _HEAD.match(line)
        if match:
            heads.setdefault(match[1].strip().strip("\"'"), number)
    return heads
