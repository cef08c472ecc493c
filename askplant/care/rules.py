"""The tables of the care calendar as they stand in traits/: care.toml, care_frost.csv and care_pests.csv."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

from askplant import where
from askplant.base import tables
from askplant.care import thirds
from askplant.care.thirds import Span
from askplant.errors import CardError
from askplant.quantities import quantity, zones

RULES, FROST, PESTS = "care.toml", "care_frost.csv", "care_pests.csv"
FROST_COLUMNS = ("place", "zone", "last_from", "last_to", "first_from", "first_to", "source")
PEST_COLUMNS = ("pest", "taxa", "months", "look_for", "where", "source")
SHORT_YEAR = 2001  # a year without 29 February, in which the days of the tables are read
ENDS = ("last", "first", "safe last", "safe first")
_DAY = re.compile(r"(\d\d)-(\d\d)")

Edge = str | tuple[str, int]


class Rule(NamedTuple):
    """One rule: its table's name, when it begins and ends, the third before which it never begins and after which it never goes
    on, its other fields, the keys of its sources, and when annuals planted by it are over.
    """

    name: str
    start: Edge | None
    end: Edge | None
    since: int | None
    until: int | None
    fields: dict[str, Any]
    sources: tuple[str, ...]
    over: Edge | None = None

    @property
    def taxa(self) -> tuple[str, ...]:
        """The genera and species it is for; none where it is for all."""
        return tuple(self.fields.get("taxa", ()))

    @property
    def zones_to(self) -> int | None:
        """The mildest half-zone it is for, None where it is for all."""
        named = self.fields.get("zones_to")
        return None if named is None else zones.index(named)

    @property
    def zones_from(self) -> int | None:
        """The coldest half-zone it is for, None where it is for all."""
        named = self.fields.get("zones_from")
        return None if named is None else zones.index(named)

    @property
    def regions(self) -> tuple[str, ...]:
        """The states and provinces it is for whatever their zone."""
        return tuple(self.fields.get("regions", ()))

    @property
    def harm(self) -> str:
        """The harm that it keeps away; rules of one harm are told as one."""
        return str(self.fields.get("harm", self.name))


class FrostRow(NamedTuple):
    """Mean frosts of one place or half-zone: thirds of the year, from and to; None where a table does not say."""

    place: str
    zone: int | None
    last: tuple[int, int] | None
    first: tuple[int, int] | None
    source: str


class Pest(NamedTuple):
    """When a pest or disease shows, on which taxa (all where empty), where that was seen, and what is seen."""

    pest: str
    taxa: tuple[str, ...]
    months: tuple[Span, ...]
    look_for: str
    where: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Rules:
    """All tables; `rules` by group and name (`planting.spring`)."""

    rules: dict[str, Rule]
    frost: tuple[FrostRow, ...]
    pests: tuple[Pest, ...]

    def __getitem__(self, name: str) -> Rule:
        return self.rules[name]

    def group(self, name: str) -> tuple[Rule, ...]:
        """The rules of one group, in the order of the file."""
        return tuple(rule for rule in self.rules.values() if rule.name.startswith(f"{name}."))


@lru_cache(maxsize=1)
def shipped() -> Rules:
    """The tables of the trait folder; CardError names file and line of the first fault."""
    return read(where.folder("traits"))


def read(folder: Path) -> Rules:
    """The tables of a folder; CardError names file and line of the first fault."""
    found = {}
    for group in tables.read(folder / RULES, f"{folder.name}/{RULES}"):
        for name, fields in group.fields.items():
            found[f"{group.name}.{name}"] = _rule(group, name, fields)
    frost = tuple(_frost(row, place) for row, place in _rows(folder, FROST, FROST_COLUMNS))
    pests = tuple(_pest(row, place) for row, place in _rows(folder, PESTS, PEST_COLUMNS))
    return Rules(found, frost, pests)


def _rule(group: tables.Table, name: str, fields: Any) -> Rule:
    if not isinstance(fields, dict) or not isinstance(fields.get("source"), list):
        raise group.fault(f"{group.name}.{name} without a list of sources", 'source = [] or source = ["key"]')
    try:
        return rule(f"{group.name}.{name}", fields)
    except ValueError as problem:
        raise group.fault(f"a time in {group.name}.{name}", str(problem)) from None


def rule(name: str, fields: dict[str, Any]) -> Rule:
    """One rule of its fields; ValueError says what a time of it should be."""
    return Rule(
        name,
        _edge(fields.get("from")),
        _edge(fields.get("to")),
        _bound(fields.get("since")),
        _bound(fields.get("until")),
        fields,
        tuple(fields["source"]),
        _edge(fields.get("ends")),
    )


def _bound(said: Any) -> int | None:
    return None if said is None else thirds.of_words(str(said))


def _edge(said: Any) -> Edge | None:
    """A third said outright, or a frost and thirds before or after it."""
    if said is None:
        return None
    if isinstance(said, str):
        thirds.of_words(said)
        return said
    if not (isinstance(said, list) and len(said) == 2 and said[0] in ENDS and isinstance(said[1], int)):
        raise ValueError('a third ("mid August") or a frost and thirds (["last", -3])')
    return (said[0], said[1])


def _rows(folder: Path, name: str, columns: tuple[str, ...]) -> list[tuple[dict[str, str], tuple[str, int]]]:
    """The rows of a table with the file and line of each."""
    label = f"{folder.name}/{name}"
    try:
        text = (folder / name).read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError):
        raise CardError(label, 1, "an unreadable file", "a file that can be read") from None
    reader = csv.DictReader(io.StringIO(text, newline=""))
    if tuple(reader.fieldnames or ()) != columns:
        raise CardError(
            label, 1, f"the columns {', '.join(reader.fieldnames or ())}", f"the columns {', '.join(columns)}"
        )
    rows = []
    for row in reader:
        if None in row or None in row.values():
            raise CardError(label, reader.line_num, f"{len(row)} cells", f"{len(columns)} cells")
        rows.append((row, (label, reader.line_num)))
    return rows


def _frost(row: dict[str, str], place: tuple[str, int]) -> FrostRow:
    try:
        zone = zones.index(row["zone"]) if row["zone"] else None
        ends = [_third(row[column]) for column in FROST_COLUMNS[2:6]]
    except ValueError as problem:
        raise CardError(*place, f"`{','.join(row.values())}`", str(problem)) from None
    return FrostRow(row["place"], zone, _both(ends[0], ends[1]), _both(ends[2], ends[3]), row["source"])


def _third(text: str) -> int | None:
    if not text:
        return None
    found = _DAY.fullmatch(text)
    if not found:
        raise ValueError("a day as month and day (04-21)")
    return thirds.of_date(date(SHORT_YEAR, int(found[1]), int(found[2]))) % thirds.YEAR


def _both(low: int | None, high: int | None) -> tuple[int, int] | None:
    return None if low is None or high is None else (low, high)


def _pest(row: dict[str, str], place: tuple[str, int]) -> Pest:
    try:
        runs = tuple(
            run for part in row["months"].split(",") for run in thirds.of_months(quantity.parse_months(part.strip()))
        )
    except ValueError as problem:
        raise CardError(*place, f"months `{row['months']}`", str(problem)) from None
    return Pest(
        row["pest"], tuple(row["taxa"].split()), runs, row["look_for"], row["where"], tuple(row["source"].split())
    )
