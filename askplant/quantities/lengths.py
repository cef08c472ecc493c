"""Lengths: metres inside, feet and inches or metric in words."""

from __future__ import annotations

from typing import Literal

Units = Literal["us", "metric"]

# The international foot and inch, exact (Federal Register 24 FR 5348, 1959).
FOOT = 0.3048
INCH = 0.0254
YARD = 0.9144

# Metres in each unit a caller or a card may name; the words that name them stand in the quantity vocabulary.
METRES = {"ft": FOOT, "in": INCH, "yd": YARD, "m": 1.0, "cm": 0.01, "mm": 0.001}

# Below these, a length is said in the smaller unit.
_INCHES_BELOW_FT = 2.0
_CENTIMETRES_BELOW_M = 1.0


def say(metres: float, units: Units = "us") -> str:
    """One length in words: `12 ft`, `18 in`, `3.7 m`, `45 cm`."""
    unit = _unit_for(metres, units)
    return f"{_number(metres, unit)} {unit}"


def say_range(low: float, high: float, units: Units = "us") -> str:
    """A range of lengths in words: `16–20 ft`; both ends in the unit of the higher one."""
    unit = _unit_for(high, units)
    first, last = _number(low, unit), _number(high, unit)
    return f"{first} {unit}" if first == last else f"{first}–{last} {unit}"


def say_band(low: float, middle: float, high: float, units: Units = "us") -> str:
    """A length and its band, all in the unit of the highest: `1.8 ft (1.5–2.2 ft)`."""
    unit = _unit_for(high, units)
    return f"{_number(middle, unit)} {unit} ({say_range(low, high, units)})"


def _unit_for(metres: float, units: Units) -> str:
    if units == "metric":
        return "cm" if metres < _CENTIMETRES_BELOW_M - 1e-9 else "m"
    return "in" if metres / FOOT < _INCHES_BELOW_FT - 1e-6 else "ft"


def _number(metres: float, unit: str) -> str:
    value = metres / METRES[unit]
    places = 0 if unit in ("cm", "in") or value >= 10 else 1
    text = f"{value:.{places}f}"
    return text[:-2] if text.endswith(".0") else text
