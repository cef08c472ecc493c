"""OUT from the answers: CSV, XLSX or JSON lines by its ending. It appears whole or not at all, and the tables of details with
it: as sheets of a workbook, else as files beside it.
"""

from __future__ import annotations

import csv
import json
import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import ExitStack
from pathlib import Path
from typing import Any

from askplant.batch.details import EXCLUDED, MATCHES, TOTALS, Names, Totals, excluded_of, matches_of
from askplant.batch.rows import Json, Telling
from askplant.errors import FileError, WritingError
from askplant.sheets.safe import safe
from askplant.sheets.sheet import Cell, Row, Sheet, Uncomputed, text_of
from askplant.writing import whole

ENDINGS = {
    ".csv": "csv",
    ".tsv": "csv",
    ".txt": "csv",
    ".xlsx": "xlsx",
    ".jsonl": "jsonl",
    ".ndjson": "jsonl",
    ".json": "jsonl",
}
DETAILS = {"matches": MATCHES, "excluded": EXCLUDED, "totals": TOTALS}
PARTS = {
    "plant": "botanical",
    "common": "common",
    "size": "size",
    "needs": "needs",
    "cautions": "cautions",
    "name notes": "names",
}
STOCK = {"stock": "stock"}

Add = Callable[[Sequence[Cell]], None]


def kind_of(out: str) -> str:
    """What is written: csv, xlsx or jsonl. FileError for another ending, or a place where no file can be."""
    suffix = Path(out).suffix.casefold()
    if Path(out).exists() and not Path(os.path.realpath(out)).is_file():
        raise FileError(out, "", "something that is no ordinary file", "the name of a file to write")
    if suffix not in ENDINGS:
        raise FileError(out, "", f"the ending {suffix or 'of no kind'}", f"one of {' '.join(dict.fromkeys(ENDINGS))}")
    return ENDINGS[suffix]


def files_of(out: str, details: bool) -> list[Path]:
    """Every file that is written: OUT, and those of details beside it."""
    path, kind = Path(out), kind_of(out)
    if not details or kind == "xlsx":
        return [path]
    names = ("totals",) if kind == "jsonl" else DETAILS
    return [path, *(path.with_name(f"{path.stem}.{name}{path.suffix}") for name in names)]


def write(out: str, sheet: Sheet, answers: Iterable[Json], telling: Telling, stock: bool, names: Names) -> None:
    """Write OUT and what belongs to it. WritingError where that cannot be; every file is then as it was before."""
    writers = {"csv": _csv, "xlsx": _xlsx, "jsonl": _jsonl}
    try:
        with whole(files_of(out, telling.details)) as new:
            writers[kind_of(out)](new, sheet, answers, telling, stock, names)
    except OSError as problem:
        raise WritingError(
            f"{out}: {(problem.strerror or str(problem)).lower()}; the answered rows are kept"
        ) from problem


def added(headings: Sequence[str], best: int, stock: bool) -> list[str]:
    """The headings that are put behind those of the table, set apart from columns of the same name."""
    parts = [*PARTS, *(STOCK if stock else {})]
    plants = [f"{part} {n}" for n in range(1, best + 1) for part in parts]
    taken = set(headings)
    names = ["understood", "not understood", *plants, "nearest misses", "status", "why"]
    return [f"{name} (askplant)" if name in taken else name for name in names]


def cells_of(answer: Json, best: int, stock: bool) -> list[Cell]:
    """The cells of an answer, in the order of `added`."""
    keys = [*PARTS.values(), *(STOCK.values() if stock else ())]
    plants: list[Json] = [*answer["plants"], *({} for _ in range(best - len(answer["plants"])))]
    told = [plant.get(key, "") for plant in plants[:best] for key in keys]
    return [answer["understood"], answer["unread"], *told, "; ".join(answer["near"]), answer["status"], answer["why"]]


def _kept(row: Row, sheet: Sheet) -> Row:
    """A row's own cells in the width of the headings; what is too long stays in the last cell."""
    width = len(sheet.headings)
    if len(row) <= width:
        return (*row, *(None for _ in range(width - len(row))))
    return (*row[: width - 1], sheet.delimiter.join(text_of(cell) for cell in row[width - 1 :]).rstrip(sheet.delimiter))


def _tables(
    adders: dict[str, Add], sheet: Sheet, answers: Iterable[Json], telling: Telling, stock: bool, names: Names
) -> None:
    """Every row of every table, handed to whoever writes it."""
    totals = Totals()
    for answer in answers:
        n = answer["n"]
        adders["answers"]((*_kept(sheet.rows[n], sheet), *cells_of(answer, telling.best, stock)))
        if telling.details:
            totals.add(answer)
            _each(matches_of(answer, sheet.first + n, names), adders["matches"])
            _each(excluded_of(answer, sheet.first + n, names), adders["excluded"])
    if telling.details:
        _each(totals.rows(names), adders["totals"])


def _each(rows: Iterator[Sequence[Cell]], add: Add) -> None:
    for row in rows:
        add(row)


def _csv(
    new: Sequence[Path], sheet: Sheet, answers: Iterable[Json], telling: Telling, stock: bool, names: Names
) -> None:
    """UTF-8 with a mark at the start, by which spreadsheets know it; parted as the table was."""
    delimiter = "\t" if new[0].suffix.casefold() == ".tsv" else sheet.delimiter
    with ExitStack() as open_files:

        def table(path: Path, headings: Sequence[str]) -> Add:
            stream = open_files.enter_context(open(path, "w", encoding="utf-8-sig", newline=""))
            writer = csv.writer(stream, delimiter=delimiter)

            def add(cells: Sequence[Cell]) -> None:
                writer.writerow([_plain(cell) for cell in cells])

            for row in sheet.above if path is new[0] else ():
                add(row)
            add(headings)
            return add

        headings = [*sheet.headings, *added(sheet.headings, telling.best, stock)]
        adders = {"answers": table(new[0], headings)}
        adders |= {name: table(path, DETAILS[name]) for name, path in zip(DETAILS, new[1:], strict=False)}
        _tables(adders, sheet, answers, telling, stock, names)


def _plain(cell: Cell) -> str:
    """A cell as spreadsheets write it into CSV."""
    if isinstance(cell, bool):
        return "TRUE" if cell else "FALSE"
    return safe(cell) if isinstance(cell, str) else text_of(cell)


def _xlsx(
    new: Sequence[Path], sheet: Sheet, answers: Iterable[Json], telling: Telling, stock: bool, names: Names
) -> None:
    from askplant.sheets.book import Book

    with Book(new[0]) as book:
        headings = [*sheet.headings, *added(sheet.headings, telling.best, stock)]
        adders: dict[str, Add] = {"answers": book.sheet("answers", headings, sheet.above).add}
        if telling.details:
            adders |= {name: book.sheet(name, columns).add for name, columns in DETAILS.items()}
        _tables(adders, sheet, answers, telling, stock, names)


def _jsonl(
    new: Sequence[Path], sheet: Sheet, answers: Iterable[Json], telling: Telling, stock: bool, names: Names
) -> None:
    keys = _keys(sheet.headings)
    totals = Totals()
    with open(new[0], "w", encoding="utf-8") as stream:
        for answer in answers:
            totals.add(answer)
            told = _object(answer, sheet, keys, telling, stock, names)
            stream.write(json.dumps(told, ensure_ascii=False, allow_nan=False) + "\n")
    if telling.details:
        with open(new[1], "w", encoding="utf-8") as stream:
            for row in totals.rows(names):
                told = {key: cell for key, cell in zip(TOTALS, map(_value, row), strict=True) if cell is not None}
                stream.write(json.dumps(told, ensure_ascii=False) + "\n")


def _object(answer: Json, sheet: Sheet, keys: Sequence[str], telling: Telling, stock: bool, names: Names) -> Json:
    n = answer["n"]
    told: Json = {
        "row": sheet.first + n,
        "columns": dict(zip(keys, map(_value, _kept(sheet.rows[n], sheet)), strict=True)),
        "status": answer["status"],
        "why": answer["why"],
        "understood": answer["understood"],
        "not_understood": answer["unread"],
        "plants": [
            {key: value for key, value in plant.items() if stock or key != "stock"} for plant in answer["plants"]
        ],
        "nearest_misses": answer["near"],
    }
    if telling.details:
        told["matches"] = [_named(row, MATCHES) for row in matches_of(answer, n, names)]
        told["excluded"] = [_named(row, EXCLUDED) for row in excluded_of(answer, n, names)]
    return told


def _named(row: Sequence[Cell], headings: Sequence[str]) -> Json:
    return {key: _value(cell) for key, cell in zip(headings[1:], row[1:], strict=True)}


def _keys(headings: Sequence[str]) -> list[str]:
    """The headings as keys, each once."""
    keys: list[str] = []
    for heading in headings:
        same = sum(key == heading or key.startswith(f"{heading} (") for key in keys)
        keys.append(f"{heading} ({same + 1})" if same else heading)
    return keys


def _value(cell: Cell) -> Any:
    """A cell as JSON has it; dates as text."""
    if cell is None or cell == Uncomputed():
        return None
    if isinstance(cell, float):
        return int(cell) if cell == int(cell) else cell
    return cell if isinstance(cell, (str, bool)) else text_of(cell)
