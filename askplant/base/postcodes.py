"""A table of postal codes and hardiness zones that the user brings: `postcodes.csv` in the folder of their own plants.

Two columns, `code` and `zone`: five-digit US codes, or the first three characters of Canadian ones, each with its half-zone
or zone (`21201,7b`). Several codes may share a zone; a code stands once.
"""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path

from askplant.errors import CardError
from askplant.quantities import quantity, zones

NAME = "postcodes.csv"
COLUMNS = ("code", "zone")
_CODE = re.compile(r"\d{5}|[A-Z]\d[A-Z]")


def read(own: Path, label: str) -> tuple[dict[str, str], list[CardError]]:
    """Each code with its coldest half-zone, none where the file is missing; and everything wrong with the rows."""
    path, label = own / NAME, f"{label}/{NAME}"
    if not path.exists():
        return {}, []
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except OSError as problem:
        return {}, [CardError(label, 1, (problem.strerror or "trouble").lower(), "a file that can be read")]
    except UnicodeDecodeError as problem:
        return {}, [CardError(label, 1, f"byte {problem.start} that is no UTF-8", "a table in UTF-8")]
    reader = csv.DictReader(io.StringIO(text, newline=""))
    table: dict[str, str] = {}
    faults: list[CardError] = []
    try:
        columns = reader.fieldnames or ()
        if tuple(columns)[:2] != COLUMNS:
            return {}, [CardError(label, 1, f"columns {', '.join(columns) or 'none'}", "columns code, zone")]
        for row in reader:
            try:
                code, zone = _row(row)
                table[code] = zone
            except ValueError as problem:
                found = f"{row.get('code')!r}, {row.get('zone')!r}"
                faults.append(CardError(label, reader.line_num, found, str(problem)))
    except csv.Error as problem:
        faults.append(CardError(label, reader.line_num, str(problem), "a table of two short columns"))
    return table, faults


def _row(row: dict[str, str | None]) -> tuple[str, str]:
    code = (row.get("code") or "").strip().upper().zfill(5 if (row.get("code") or "").strip().isdigit() else 0)
    if not _CODE.fullmatch(code):
        raise ValueError("a five-digit US code, or the first three characters of a Canadian one")
    return code, zones.name(quantity.parse_zone((row.get("zone") or "").strip(), cold=True))
