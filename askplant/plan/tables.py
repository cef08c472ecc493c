"""What a plan goes by, read from traits/planning.toml, where a user may change it; every fault as file and line."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any, Literal, NamedTuple

from askplant.base import tables
from askplant.base.tables import Table
from askplant.errors import FileError
from askplant.quantities.lengths import METRES

Way = Literal["close", "usual", "wide"]
WAYS: tuple[Way, ...] = ("close", "usual", "wide")
FILE = "planning.toml"
CAUTIONS = ("wires", "sight", "drains", "house", "fire")


class Shares(NamedTuple):
    """The most of a row's plants that one species, one genus and one family may be, each above 0 and at most 1."""

    species: float
    genus: float
    family: float
SPACED = ("screen", "hedge", "bed")


class Spacing(NamedTuple):
    """Distance as a share of the middle of the grown width, for each way of spacing, and where that comes from."""

    shares: dict[Way, float]
    source: str


class Rows(NamedTuple):
    """Two rows in zigzag: `along` is the distance along the run as a share of a single row's, `apart` that between the
    rows in metres for each way of spacing.
    """

    along: float
    apart: dict[Way, float]
    source: str


class Worth(NamedTuple):
    """The weights of what makes a plant worth its length of the row, and what is taken off: for a price, for each kind, for
    a plant that stands the winter, the ground or the wires with care only, for a kind of too few plants, for two kinds that do
    not stand well side by side.
    """

    fit: float
    dependable: float
    ease: float
    hides: float
    soon: float
    price: float
    kind: float
    tender: float
    ground: float
    wires: float
    odd: float
    clash: float


class Planning(NamedTuple):
    """The whole table. `spacing` and `rows` are by use, screen or hedge, `spacing` for beds too; `words` are the words that
    raise each caution; `told` holds sources and criticism by table.
    """

    shares: Shares
    spacing: dict[str, Spacing]
    dry: float
    rows: dict[str, Rows]
    worth: Worth
    longest: int
    words: dict[str, tuple[str, ...]]
    told: dict[str, dict[str, str]]


@lru_cache(maxsize=4)
def planning(folder: Path) -> Planning:
    """The planning table of a folder of traits. CardError for what is not as declared, FileError for a missing table."""
    label = f"{folder.name}/{FILE}"
    found = {table.name: table for table in tables.read(folder / FILE, label)}
    for name in ("shares", "spacing", "rows", "worth", "runs", "cautions"):
        if name not in found:
            raise FileError(label, "", f"no table [{name}]", "all tables of a plan")
    shares, spacing, rows = found["shares"], found["spacing"], found["rows"]
    return Planning(
        Shares(*(_share(shares, shares.fields, key) for key in Shares._fields)),
        {use: _spacing(spacing, _sub(spacing, use)) for use in SPACED},
        _share(spacing, _sub(spacing, "dry"), "share"),
        {use: _rows(rows, _sub(rows, use)) for use in ("screen", "hedge")},
        Worth(*(_number(found["worth"], found["worth"].fields, key) for key in Worth._fields)),
        int(_number(found["runs"], found["runs"].fields, "most")),
        {about: _words(found["cautions"], _sub(found["cautions"], about)) for about in CAUTIONS},
        {
            "shares": {
                key: str(shares.fields.get(key, "")) for key in ("rule", "source", "criticism", "criticism_source")
            },
            **{
                f"spacing.{use}": {key: str(_sub(spacing, use).get(key, "")) for key in ("source", "check")}
                for use in SPACED
            },
            "dry": {"source": str(_sub(spacing, "dry").get("source", ""))},
        },
    )


def _spacing(table: Table, fields: dict[str, Any]) -> Spacing:
    shares: dict[Way, float] = {way: _number(table, fields, way) for way in WAYS}
    if not shares["close"] <= shares["usual"] <= shares["wide"]:
        raise table.fault("distances out of order", "close at most usual, usual at most wide")
    return Spacing(shares, str(fields.get("source", "")))


def _rows(table: Table, fields: dict[str, Any]) -> Rows:
    apart: dict[Way, float] = {way: _length(table, fields, way) for way in WAYS}
    return Rows(_share(table, fields, "along"), apart, str(fields.get("source", "")))


def _sub(table: Table, name: str) -> dict[str, Any]:
    fields = table.fields.get(name)
    if not isinstance(fields, dict):
        raise table.fault(f"no [{table.name}.{name}]", "a table of that name")
    return fields


def _number(table: Table, fields: dict[str, Any], key: str) -> float:
    value = fields.get(key)
    if isinstance(value, bool) or not isinstance(value, (int, float)) or value < 0:
        raise table.fault(f"`{key} = {value}`", "a number from 0 on")
    return float(value)


def _share(table: Table, fields: dict[str, Any], key: str) -> float:
    value = _number(table, fields, key)
    if not 0 < value <= 1:
        raise table.fault(f"`{key} = {value:g}`", "a share above 0 and at most 1")
    return value


def _length(table: Table, fields: dict[str, Any], key: str) -> float:
    number, _, unit = str(fields.get(key, "")).partition(" ")
    try:
        return float(number) * METRES[unit]
    except (ValueError, KeyError):
        raise table.fault(f"`{key} = {fields.get(key)}`", 'a length with its unit ("6 ft", "45 cm")') from None


def _words(table: Table, fields: dict[str, Any]) -> tuple[str, ...]:
    words = str(fields.get("words", ""))
    return tuple(word.strip() for word in words.split(",") if word.strip())
