"""`askplant traits observe`: a size that somebody measured goes into the observations of the user's own folder."""

from __future__ import annotations

import os
from argparse import Namespace
from collections.abc import Iterator
from datetime import date

from askplant import statuses
from askplant.base import observations, own
from askplant.commands.requests import tidy
from askplant.desk import Desk
from askplant.errors import UserError
from askplant.render.screen import clean

PRUNED = {"yes": "pruned", "no": "not pruned"}


def observe(arguments: Namespace) -> int:
    """Add the measurement, and say what was added and where."""
    if not arguments.names or arguments.age is None or not (arguments.height or arguments.width):
        raise UserError("say the plant, --age YEARS and --height LENGTH (see askplant traits --help)")
    folder = own.folder()
    desk = Desk()
    plant = desk.plant(desk.one(" ".join(tidy(word) for word in arguments.names)))
    cells = _cells(arguments, plant.botanical)
    try:
        observations.observed(cells, {plant.id}, {})
    except observations.WrongCell as problem:
        raise UserError(f"found {problem.found}; expected {problem.expected}") from None
    _not_ahead(cells[observations.DATE])
    spare = () if arguments.date else (observations.DATE,)
    path, line = own.add_observation(folder, cells, spare)
    print("; ".join(_told(cells)))
    print(f"added to {os.fspath(path)}, line {line}")
    return statuses.FITS


def _cells(arguments: Namespace, botanical: str) -> dict[str, str]:
    given = {name: _plain(getattr(arguments, name)) for name in ("age", "height", "width", "place", "pruned", "note")}
    when = _plain(arguments.date) or date.today().isoformat()
    return {"plant": botanical, **given, "source": "", observations.DATE: when}


def _plain(text: str | None) -> str:
    return " ".join(clean(tidy(text or "")).split())


def _not_ahead(when: str) -> None:
    if when > date.today().isoformat()[: len(when)]:
        raise UserError(f"found date `{when}`, which is still to come; expected the day of measuring")


def _told(cells: dict[str, str]) -> Iterator[str]:
    sizes = [f"{cells[side]} {word}" for side, word in (("height", "high"), ("width", "wide")) if cells[side]]
    years = "year" if cells["age"] == "1" else "years"
    yield f"{cells['plant']}, {cells['age']} {years} in the ground: {', '.join(sizes)}"
    yield from (
        text for text in (PRUNED.get(cells["pruned"], ""), cells["place"], cells["date"], cells["note"]) if text
    )
