"""The publications that cards cite: `sources/*.toml`, one table a publication."""

from __future__ import annotations

from pathlib import Path

from askplant.base import tables
from askplant.base.records import Source
from askplant.base.trust import BASES
from askplant.errors import CardError

_FIELDS = {"title", "publisher", "year", "url", "basis"}


def read(folder: Path, label: str, found: dict[str, Source]) -> list[CardError]:
    """Adds every source of `folder`/sources to those found before; everything wrong with them, `label` for the folder."""
    faults: list[CardError] = []
    for path in sorted((folder / "sources").glob("*.toml")):
        try:
            listed = tables.read(path, f"{label}/sources/{path.name}")
        except CardError as fault:
            faults.append(fault)
            continue
        for table in listed:
            _take(table, found, faults)
    return faults


def _take(table: tables.Table, found: dict[str, Source], faults: list[CardError]) -> None:
    if table.name in found:
        faults.append(table.fault(f"a second [{table.name}]", "a key that no other file of sources/ has"))
        return
    problems = list(_problems(table))
    faults += problems
    # A faulty source still counts as known, so that its fault is not reported again at every value that cites it.
    fields = {field: str(table.fields.get(field, "")) for field in _FIELDS}
    if fields["basis"] not in BASES:
        fields["basis"] = BASES[-1]
    found[table.name] = Source(table.name, **fields)


def _problems(table: tables.Table) -> list[CardError]:
    problems = []
    if table.fields.get("basis") not in BASES:
        problems.append(
            table.fault(
                f"basis {table.fields.get('basis')!r}", "basis = " + " or ".join(f'"{basis}"' for basis in BASES)
            )
        )
    if not str(table.fields.get("title", "")).strip():
        problems.append(table.fault("no title", 'title = "…"'))
    for field in table.fields.keys() - _FIELDS:
        problems.append(table.fault(f"`{field}`", "title, publisher, year, url and basis only"))
    return problems
