"""The short list at the desk: kept, dropped, noted, compared side by side and to scale, written to a file."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from askplant.answer import single
from askplant.commands import exporting
from askplant.commands.asking import found, shown_at
from askplant.commands.orders import numbers, parted
from askplant.errors import UserError
from askplant.finding import meant
from askplant.reading.refine import refiner
from askplant.render.at_desk import compared_text
from askplant.render.shortlist import list_text
from askplant.render.silhouettes import Figure, drawn_text, said_text
from askplant.render.wording import worded_comparison

if TYPE_CHECKING:
    from askplant.commands.sitting import Sitting

NOT_ON_IT = "That is not on the short list. To take a wish back: off 3, never mind the deer."
TWO = "Two plants at least: keep 1, keep 2, then compare; or compare 1 3.\n"
FEW = 3  # plants told of a name that several bear


def keep(sitting: Sitting, rest: str) -> str | None:
    """Put plants on the list; None where what follows is no plant."""
    plants = _plants(sitting, rest)
    if plants is None:
        return None
    for plant in plants:
        sitting.shortlist = sitting.shortlist.keep(sitting.desk.plant(plant).id)
    sitting.it = plants[-1]
    return _listed(sitting, f"kept: {', '.join(sitting.desk.plant(plant).botanical for plant in plants)}")


def drop(sitting: Sitting, rest: str) -> str | None:
    """Take plants off the list; None for plants that are not on it, which a caller may want left out."""
    plants = _plants(sitting, rest)
    if plants is None:
        return None
    ids = [sitting.desk.plant(plant).id for plant in plants]
    gone = [one for one in ids if one in sitting.shortlist.ids]
    if not gone:
        return "\n".join(sitting.screen.fold(NOT_ON_IT)) + "\n" if numbers(rest) is not None else None
    for plant_id in gone:
        sitting.shortlist = sitting.shortlist.drop(plant_id)
    return _listed(sitting, f"dropped: {', '.join(map(sitting.desk.title, gone))}")


def note(sitting: Sitting, rest: str) -> str | None:
    """Write something beside a plant: `note 2 for the corner`, `note inkberry: for the corner`."""
    first, _, text = rest.partition(" ")
    if ":" in rest and not first.isdecimal():
        first, _, text = rest.partition(":")
    one = found(sitting, first.strip().rstrip(":"))
    if one is None or not text.strip():
        return None
    plant = sitting.desk.plant(one.plants[0])
    sitting.shortlist = sitting.shortlist.noted(plant.id, text.strip())
    return _listed(sitting, f"noted on {plant.botanical}: {text.strip()}")


def listed(sitting: Sitting) -> str:
    """The list, each plant held against the request as it is now; numbers are its own from here on."""
    sitting.listing = True
    entries = exporting.entries(sitting.desk, sitting.shortlist, sitting.past.now)
    return list_text(entries, sitting.screen, sitting.units)


def compare(sitting: Sitting, rest: str) -> str | None:
    """Plants side by side, those of the list where none is named: to scale first, then where they differ."""
    base, ids = sitting.desk.base, sitting.shortlist.ids
    plants = _plants(sitting, rest) if rest else [base.index(one) for one in ids if one in base.ids]
    if plants is None:
        return None
    plants = list(dict.fromkeys(plants))
    if len(plants) < 2:
        return TWO
    told = worded_comparison(single.compare(base, plants), base, sitting.units)
    set_out = said_text if sitting.plain else drawn_text
    drawn = set_out([_figure(sitting, plant) for plant in plants], sitting.screen, sitting.units)
    now = sitting.past.now
    asked = {found.trait for found in now.asked.conditions} if now is not None else set()
    return compared_text(told, asked | {"height", "width"}, drawn, sitting.screen)


def export(sitting: Sitting, rest: str) -> str | None:
    """Write the list to a file of the kind that its ending names."""
    path = Path(rest).expanduser()
    if not path.suffix or (" " in rest and not path.parent.is_dir()):
        return None
    reference = sitting.journal.reference
    exporting.export(path, sitting.desk, sitting.shortlist, sitting.past.now, reference, sitting.units)
    count = len(sitting.shortlist.plants)
    return f"{count} {'plant' if count == 1 else 'plants'} written to {path}\n"


def _plants(sitting: Sitting, text: str) -> list[int] | None:
    """The plants of a list of numbers and names; None where some of it is no plant."""
    row = refiner(sitting.desk.base).questions.row(text)
    if row:
        return [plant for one in row for plant in shown_at(sitting, one).plants]
    out: list[int] = []
    for part in parted(text):
        one = found(sitting, part)
        if one is None:
            return None
        one = meant(part, one, sitting.desk.base)
        if len(one.plants) > 1:
            few = ", ".join(sitting.desk.plant(n).botanical for n in one.plants[:FEW])
            raise UserError(f"{one.shown} is the name of {len(one.plants)} plants, such as {few}: name one of them")
        out.append(one.plants[0])
    return out or None


def _listed(sitting: Sitting, said: str) -> str:
    sitting.keep_entry("shortlist", plants=[[kept.plant, kept.note] for kept in sitting.shortlist.plants])
    count = len(sitting.shortlist.plants)
    many = f"{count} on the short list: list, compare, export list.md" if count else "The short list is empty."
    return "\n".join([*sitting.screen.fold(said), *sitting.screen.fold(many)]) + "\n"


def _figure(sitting: Sitting, plant: int) -> Figure:
    card = sitting.desk.base.resolved(plant)
    height, width = card.get("height_grown"), card.get("width_grown")
    form = card["form"].words[0] if "form" in card and card["form"].words else "rounded"
    name = sitting.desk.plant(plant).botanical
    return Figure(name, height.high if height else None, width.high if width else None, form)
