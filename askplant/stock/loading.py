"""A stock list from its file, with the names that somebody has settled."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from functools import partial
from pathlib import Path

from askplant import toml
from askplant.base.opened import Base
from askplant.errors import FileError
from askplant.sheets import columns as columns_
from askplant.sheets.columns import Column
from askplant.sheets.encodings import ungarbled
from askplant.sheets.read import read
from askplant.sheets.safe import unmarked
from askplant.sheets.sheet import Cell, Sheet, Uncomputed, is_date, text_of
from askplant.stock import cells
from askplant.stock.beside import columns_file, names_file
from askplant.stock.matching import Matcher
from askplant.stock.said import said
from askplant.stock.stock import Line, Stock

SAMPLE = 40  # lines looked at for the column of names, where no heading tells
NAME_ROLES = ("botanical", "common")


def load(
    path: str | Path,
    base: Base,
    names: str | Path | None = None,
    mapping: str | Path | None = None,
    sheet: str | None = None,
) -> Stock:
    """The stock list of a file, matched to a base.

    `names` is the file of settled names, `mapping` that of the columns; without them those beside the list (`FILE.names.toml`,
    `FILE.columns.toml`) where there are any, and columns that no file names are guessed. FileError for a file that cannot be
    read or holds no column of names.
    """
    table = read(str(path), partial(columns_.known, "stock"), sheet)
    settled = settled_names(names if names is not None else names_file(path), must=names is not None)
    matcher = Matcher(base, settled)
    beside = columns_file(path)
    mapping = mapping or (beside if beside.is_file() else None)
    found = columns_.from_file(str(mapping), table, "stock") if mapping else guessed(table, matcher)
    by_role = _by_role(found)
    if not any(role in by_role for role in NAME_ROLES):
        expected = "a column of plant names (a mapping file can name it: --mapping)"
        raise FileError(str(path), "", f"the columns {', '.join(table.headings)}", expected)
    lines = tuple(
        _line(table, row, by_role, matcher) for row in range(len(table.rows)) if _names(table, row, by_role) != ("", "")
    )
    return Stock(
        str(path),
        lines,
        table.how,
        tuple((column.heading, column.role.name) for column in by_role.values()),
        table.notes,
    )


def settled_names(path: str | Path, must: bool = False) -> dict[str, str]:
    """What somebody has settled: names as they are written → names of the base, nothing for a line to be left out."""
    if not must and not os.path.lexists(path):
        return {}
    form = 'lines of the form "name in the list" = "name of a plant"'
    found = toml.read(path, form).get("names", {})
    if not isinstance(found, dict) or not all(isinstance(meant, str) for meant in found.values()):
        raise FileError(str(path), "", "names that are no text", form)
    return dict(found)


def guessed(table: Sheet, matcher: Matcher) -> tuple[Column, ...]:
    """The columns by their headings; names by what they hold where no heading tells."""
    found = columns_.guessed(table.headings, "stock")
    if any(column.role.name in NAME_ROLES for column in found):
        return found
    role = columns_.roles("stock")[0]
    taken = {column.place for column in found}
    tried = {
        place: sum(
            bool(matcher.match(_text(table, row, place)).plants)
            for row in range(min(len(table.rows), SAMPLE))
            if _text(table, row, place)
        )
        for place in range(len(table.headings))
        if place not in taken
    }
    best = max(tried, key=lambda place: tried[place], default=None)
    if best is None or not tried[best]:
        return found
    return (Column(best, table.headings[best], role), *found)


def _by_role(found: Sequence[Column]) -> dict[str, Column]:
    """The column of each role; of several that fit, the one whose whole heading is known, else the first."""
    by_role: dict[str, Column] = {}
    for column in found:
        before = by_role.get(column.role.name)
        if before is None or (columns_.exact(column) and not columns_.exact(before)):
            by_role[column.role.name] = column
    return by_role


def _names(table: Sheet, row: int, by_role: Mapping[str, Column]) -> tuple[str, str]:
    botanical, common = (by_role.get(role) for role in NAME_ROLES)
    return (
        _text(table, row, botanical.place) if botanical else "",
        _text(table, row, common.place) if common else "",
    )


def _text(table: Sheet, row: int, place: int) -> str:
    return " ".join(ungarbled(unmarked(text_of(table.cell(row, place)))).split())


def _line(table: Sheet, row: int, by_role: Mapping[str, Column], matcher: Matcher) -> Line:
    botanical, common = _names(table, row, by_role)
    beside = said(botanical or common)
    written, common = beside.name, said(common).name if botanical and common else ""
    container = (_text(table, row, by_role["container"].place) if "container" in by_role else "") or beside.container
    matched = matcher.match(written, common) if botanical else matcher.match("", written)
    wrong: list[tuple[str, str]] = []

    def cell_of(role: str) -> Cell:
        return table.cell(row, by_role[role].place) if role in by_role else None

    def told(role: str, value: object) -> None:
        cell = cell_of(role)
        if value is None and (text_of(cell).strip() or isinstance(cell, Uncomputed)):
            found = "a formula without a value" if isinstance(cell, Uncomputed) else text_of(cell)
            wrong.append((by_role[role].heading, found))

    price, quantity = cells.price_of(cell_of("price")), cells.quantity_of(cell_of("quantity"))
    sizes = tuple(
        cells.length_of(cell_of(role), by_role[role].unit if role in by_role else "") for role in ("height", "width")
    )
    for role, value in (("price", price), ("quantity", quantity), ("height", sizes[0]), ("width", sizes[1])):
        told(role, value)
    if not text_of(cell_of("price")).strip():
        price = beside.price
    if beside.quantity == 0 or not text_of(cell_of("quantity")).strip():  # sold out, whatever a column says
        quantity = beside.quantity
    if is_date(cell_of("container")):
        wrong.append((by_role["container"].heading, f"the date {text_of(cell_of('container'))}"))
        container = ""
    return Line(
        table.first + row, written if not common or written == common else f"{written} ({common})", container, price, quantity,
        matched.sureness, matched.how, matched.plants, matched.nearest, tuple(wrong), (sizes[0], sizes[1]),
    )  # fmt: skip
