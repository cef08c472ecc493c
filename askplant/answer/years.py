"""How big a plant is after so many years, and when it reaches a height: the one place that asks for a growth curve.

Another way of reckoning growth is put in here and nowhere else.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from askplant.growth.course import course

Band = tuple[float, float]  # metres: the least and the most it is reckoned to be

# Years that are told where a question names none.
TOLD = (3.0, 5.0, 10.0, 20.0)


class Sizes(NamedTuple):
    """Heights and widths at some years in the ground, with what the card says: ranges, oldest size in metres; None where it is
    silent."""

    plant: int
    heights: tuple[tuple[float, Band], ...]
    widths: tuple[tuple[float, Band], ...]
    grown: tuple[float, float] | None
    width: tuple[float, float] | None
    old: float | None


class Reached(NamedTuple):
    """When a plant reaches a height: `years` in the ground, None where it never does or nothing is known of its growth."""

    plant: int
    height: float
    years: float | None
    known: bool


def sizes(base: Any, plant: int, years: float | None) -> Sizes:
    """A plant's height and width after so many years, or after a few telling ones."""
    card = base.resolved(plant)
    asked = (years,) if years is not None else TOLD
    heights, widths = (_at_years(base, plant, axis, asked) for axis in ("height", "width"))
    old = card.get("height_old")
    return Sizes(
        plant, heights, widths, _range(card, "height_grown"), _range(card, "width_grown"), old.high if old else None
    )


def reached(base: Any, plant: int, height: float) -> Reached:
    """The years until a plant is so tall."""
    curve = course(base, plant, "height")
    return Reached(plant, height, curve.years_to(height).usual if curve is not None else None, curve is not None)


def _at_years(base: Any, plant: int, axis: str, asked: Sequence[float]) -> tuple[tuple[float, Band], ...]:
    curve = course(base, plant, axis)
    bands = [(year, curve.at(year)) for year in asked] if curve is not None else []
    return tuple((year, (band.low, band.high)) for year, band in bands)


def _range(card: Any, trait: str) -> tuple[float, float] | None:
    value = card.get(trait)
    return (value.low, value.high) if value is not None and value.low is not None else None
