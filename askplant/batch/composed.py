"""The request of a row: one cell, or several put together by their columns' words; and what stands in the way."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from askplant.errors import FileError
from askplant.sheets.columns import Column, exact, guessed, roles
from askplant.sheets.safe import unmarked
from askplant.sheets.sheet import Cell, Sheet, Uncomputed, is_date, letters, text_of

YES = frozenset(("yes", "y", "x", "true", "1", "✓", "✔"))
NO = frozenset(("no", "n", "false", "0", "-", "–", "—", "none", "n/a", "na", "any", "no preference"))
_BARE = re.compile(r"[\d.,½¼¾/ ]+((-|–|—|to)[\d.,½¼¾/ ]+)?")
JOINT = "; "  # ends whatever a cell says, so that a no in one cell reaches into none that follows


class Composed(NamedTuple):
    """The request of a row, or why there is none."""

    text: str
    trouble: str = ""


def columns_of(sheet: Sheet, named: str | None) -> tuple[Column, ...]:
    """The columns that make the request: the one named, else those whose headings are known, else the wordiest.

    FileError where no column has that name. Beside a column of whole requests, notes are the nursery's own.
    """
    whole = roles("request")[0]
    if named is not None:
        folded = [heading.casefold() for heading in sheet.headings]
        if named.casefold() not in folded:
            columns = f"the columns {', '.join(sheet.headings)}"
            raise FileError(sheet.file, "", columns, f"a column named {named}")
        place = folded.index(named.casefold())
        return (Column(place, sheet.headings[place], whole),)
    found = guessed(sheet.headings, "request")
    requests = [column for column in found if column.role.name == "request"]
    if requests:
        asked = next((column for column in requests if exact(column)), requests[0])
        others = [column for column in found if column.role.name not in ("request", "notes") and exact(column)]
        return (asked, *others)
    if any(column.role.name != "notes" for column in found) and len(found) > 1:
        return found
    if found:
        return found[:1]
    place = _wordiest(sheet)
    return (Column(place, sheet.headings[place] if place < len(sheet.headings) else "", whole),)


def _wordiest(sheet: Sheet) -> int:
    """The column with most text in it."""
    width = max(len(sheet.headings), 1)
    lengths = [
        sum(len(text_of(row[n])) for row in sheet.rows if n < len(row) and isinstance(row[n], str))
        for n in range(width)
    ]
    return lengths.index(max(lengths))


def composed(sheet: Sheet, row: int, columns: Sequence[Column]) -> Composed:
    """The request of a row. What a spreadsheet may have changed is said, never guessed at."""
    cells = sheet.rows[row]
    if len(cells) > len(sheet.headings) and any(text_of(cell) for cell in cells[len(sheet.headings) :]):
        return Composed("", f"{len(cells)} cells where the headings are {len(sheet.headings)}")
    parts = []
    for column in columns:
        cell = sheet.cell(row, column.place)
        if cell is None or cell == "":
            continue
        if trouble := _trouble(cell, column):
            return Composed("", f"{letters(column.place)}{sheet.first + row} ({column.heading}): {trouble}")
        parts.append(_said(cell, column))
    return Composed(JOINT.join(part for part in parts if part))


def _trouble(cell: Cell, column: Column) -> str:
    if isinstance(cell, Uncomputed) and cell.error:
        return f"{cell.error}, an error that a formula came to; mend it in a spreadsheet"
    if isinstance(cell, Uncomputed):
        return "a formula that no spreadsheet has worked out; open the table in one and save it"
    number = column.role.number or column.role.name == "request"
    if is_date(cell) and (number or not isinstance(cell, str)):
        return f"the date {text_of(cell)}, which a spreadsheet may have made of a range or a number; write it as text"
    return ""


def _said(cell: Cell, column: Column) -> str:
    text = " ".join(unmarked(text_of(cell)).split())
    role, folded = column.role, text.casefold()
    if role.name == "request":
        return text
    if folded in YES and role.yes is not None:
        return role.yes
    if folded in NO:
        return role.no or ""
    if column.unit and _BARE.fullmatch(text):
        text = f"{text} {column.unit}"
    told = role.say.replace("{}", "").casefold().split()
    if told and all(word in folded.split() for word in told):
        return text
    return role.say.replace("{}", text)
