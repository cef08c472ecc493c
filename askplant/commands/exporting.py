"""The short list written to a file of the kind that the name's ending says: a list, a table, or the sheet for the owner. The file
appears whole or not at all.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from askplant.answer import single
from askplant.commands.sheet import page_of
from askplant.desk import Desk
from askplant.errors import UserError
from askplant.quantities.lengths import Units
from askplant.reading.reading import as_json as reading_json
from askplant.render.refined import said_of
from askplant.render.shortlist import Cell, as_json, markdown, rows
from askplant.render.text import missed
from askplant.render.wording import worded_portrait, worded_reasons
from askplant.sheet import MOST
from askplant.sheets.book import Book
from askplant.sheets.safe import safe
from askplant.sitting.state import Shortlist, State
from askplant.writing import whole, write_all

Json = dict[str, Any]


class Sheet(NamedTuple):
    """What is written: the entries, the request they are held against, what the sitting is called, and the desk."""

    entries: Sequence[Json]
    state: State | None
    reference: str | None
    units: Units
    desk: Desk


def _markdown(path: Path, sheet: Sheet) -> None:
    reading = sheet.state.asked if sheet.state is not None else None
    asked = [said_of(found, sheet.units) for found in reading.conditions] if reading is not None else []
    write_all({path: markdown(sheet.entries, asked, sheet.reference, sheet.units).encode()})


def _csv(path: Path, sheet: Sheet) -> None:
    text = io.StringIO(newline="")
    csv.writer(text).writerows([_text(cell) for cell in row] for row in rows(sheet.entries, sheet.units))
    # With a mark at the start, by which spreadsheets know UTF-8.
    write_all({path: text.getvalue().encode("utf-8-sig")})


def _text(cell: Cell) -> str:
    return "" if cell is None else safe(cell) if isinstance(cell, str) else f"{cell:g}"


def _xlsx(path: Path, sheet: Sheet) -> None:
    headings, *found = rows(sheet.entries, sheet.units)
    with whole([path]) as (new,), Book(new) as book:
        page = book.sheet("short list", [str(heading) for heading in headings])
        for row in found:
            page.add(row)


def _html(path: Path, sheet: Sheet) -> None:
    ids = sheet.desk.base.ids
    plants = [ids.index(one["plant"]) for one in sheet.entries if one["plant"] in ids]
    if not 0 < len(plants) <= MOST:
        raise UserError(f"found {len(plants)} plants on the short list; expected 1 to {MOST}, which a sheet has room for")
    asked = sheet.state.asked if sheet.state is not None else sheet.desk.read("")
    page = page_of(sheet.desk, sheet.desk.answer(asked, noted=False), plants)
    write_all({path: page.encode()})


def _json(path: Path, sheet: Sheet) -> None:
    request = reading_json(sheet.state.asked) if sheet.state is not None else None
    write_all({path: as_json(sheet.entries, request, sheet.reference).encode()})


# The kinds of file by the name's ending; another kind is one more entry.
WRITERS: dict[str, Callable[[Path, Sheet], None]] = {
    ".md": _markdown,
    ".csv": _csv,
    ".xlsx": _xlsx,
    ".json": _json,
    ".html": _html,
}


def export(
    path: Path, desk: Desk, shortlist: Shortlist, state: State | None, reference: str | None, units: Units
) -> None:
    """Write the short list; UserError for an ending that is none of ours or a place that cannot be written."""
    write = WRITERS.get(path.suffix.casefold())
    if write is None:
        raise UserError(f"found ending `{path.suffix}`; expected {', '.join(WRITERS)}")
    try:
        write(path, Sheet(entries(desk, shortlist, state), state, reference, units, desk))
    except OSError as problem:
        raise UserError(
            f"{path}: {(problem.strerror or 'trouble').lower()}; expected a place that can be written"
        ) from None


def entries(desk: Desk, shortlist: Shortlist, state: State | None) -> list[Json]:
    """Each kept plant with its sizes, cautions, note, and what the request says of it now; one whose card is gone says so."""
    return [_entry(desk, kept.plant, kept.note, state) for kept in shortlist.plants]


def _entry(desk: Desk, plant_id: str, note: str, state: State | None) -> Json:
    if plant_id not in desk.base.ids:
        gone = {"label": None, "grown": None, "old": None}
        size = {"height": gone, "width": gone, "unit": "m"}
        named: Json = {
            "plant": plant_id,
            "botanical": plant_id,
            "common": [],
            "size": size,
            "note": note,
            "cautions": [],
        }
        return named | {"fits": False, "rank": None, "of": 0, "misses": ["its card is no longer in the base"]}
    n = desk.base.index(plant_id)
    told = worded_portrait(single.show(desk.base, n), desk.base, desk.units or "us")
    entry = {key: told[key] for key in ("plant", "botanical", "common", "size")}
    entry |= {"note": note, "cautions": [caution["text"] for caution in told["cautions"]]}
    if state is None:
        return entry | {"fits": None, "rank": None, "of": 0, "misses": []}
    units = desk.units or state.reading.units
    why = worded_reasons(single.why(desk.base, state.asked, n), desk.base, desk.units)
    misses = [missed(miss, units) for miss in why["misses"]]
    return entry | {"fits": why["matches"], "rank": why["rank"], "of": why["of"], "misses": misses}
