"""The dictionary: which traits a card may hold, what a request may ask (traits.toml, conditions.toml)."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from askplant.base import tables, values
from askplant.base.records import Asked
from askplant.base.values import Meaning

UNITS = {"length": "m", "rate": "m", "years": "years"}
_RANGES = ("length", "rate", "years", "span")
_WITH_VALUES = ("words", "scale")
# How sources that disagree are settled, where not by trust and the middle: all their words, those of the most trusted, or the
# highest number.
SETTLED = ("union", "joined", "highest")


@dataclass(frozen=True, slots=True)
class Trait:
    """One trait a card may hold: its type, permitted values and meaning."""

    name: str
    type: str
    values: tuple[str, ...] = ()
    one: bool = False
    who: tuple[str, ...] = ()
    severity: tuple[str, ...] = ()
    means: str = ""
    source: str = ""
    settle: str = ""

    @property
    def unit(self) -> str:
        """What its numbers count: m, years, or nothing."""
        return UNITS.get(self.type, "")

    @property
    def is_range(self) -> bool:
        """Whether its values are a low and a high number."""
        return self.type in _RANGES

    @property
    def is_single(self) -> bool:
        """Whether a value is one word of the permitted ones."""
        return self.one or self.type == "scale"


@dataclass(frozen=True, slots=True)
class Dictionary:
    """All declared traits and conditions, in the order of their files. Values are read once each and remembered."""

    traits: dict[str, Trait]
    conditions: dict[str, Asked]
    _read: dict[tuple[str, str], Meaning | str] = field(default_factory=dict, repr=False, compare=False)

    def parse(self, trait: str, text: str) -> Meaning:
        """What a card's text says of a declared trait; ValueError says what was expected."""
        key = (trait, text)
        if key not in self._read:
            self._read[key] = _read_once(self.traits[trait], text)
        known = self._read[key]
        if isinstance(known, str):
            raise ValueError(known)
        return known


def read(folder: Path) -> Dictionary:
    """The dictionary of a traits folder; CardError at the first declaration that does not hold."""
    traits = {table.name: _trait(table) for table in tables.read(folder / "traits.toml", f"{folder.name}/traits.toml")}
    asked = tables.read(folder / "conditions.toml", f"{folder.name}/conditions.toml")
    return Dictionary(traits, {table.name: _asked(table, traits) for table in asked})


def _read_once(trait: Trait, text: str) -> Meaning | str:
    try:
        return values.parse(trait, text)
    except ValueError as problem:
        return str(problem)


def _trait(table: tables.Table) -> Trait:
    kind = table.fields.get("type")
    if kind not in values.TYPES:
        raise table.fault(f"type {kind!r}", f"one of {', '.join(sorted(values.TYPES))}")
    permitted = _listed(table, "values")
    if kind in _WITH_VALUES and not permitted:
        raise table.fault("no permitted values", 'values = ["…"]')
    if kind == "poison" and not (table.fields.get("who") and table.fields.get("severity")):
        raise table.fault("no `who` or no `severity`", 'who = ["…"] and severity = ["…"]')
    return Trait(
        name=table.name,
        type=kind,
        values=permitted,
        one=bool(table.fields.get("one", False)),
        who=_listed(table, "who"),
        severity=_listed(table, "severity"),
        means=str(table.fields.get("means", "")),
        source=str(table.fields.get("source", "")),
        settle=_settle(table),
    )


def _settle(table: tables.Table) -> str:
    how = str(table.fields.get("settle", ""))
    if how not in ("", *SETTLED):
        raise table.fault(f"settle = {how!r}", f"one of {', '.join(SETTLED)}")
    return how


def _asked(table: tables.Table, traits: dict[str, Trait]) -> Asked:
    reads = _listed(table, "reads")
    for name in reads:
        if name not in traits:
            raise table.fault(
                f"reads `{name}`", f"traits that traits.toml declares{values.nearest(name, list(traits))}"
            )
    return Asked(
        name=table.name,
        values=_listed(table, "values"),
        scale=bool(table.fields.get("scale", False)),
        unit=str(table.fields.get("unit", "")),
        reads=reads,
    )


def _listed(table: tables.Table, name: str) -> tuple[Any, ...]:
    listed = table.fields.get(name, [])
    if not isinstance(listed, list):
        raise table.fault(f"`{name}` that is no list", f'{name} = ["…"]')
    return tuple(listed)
