"""USDA hardiness half-zones as whole numbers: 1a is 0, 13b is 25.

Source of the bounds: USDA Plant Hardiness Zone Map, USDA-ARS, 2023: half-zone n runs from -60 + 5n °F, its lower bound inside.
RHS ratings: RHS Hardiness Ratings, Royal Horticultural Society, about 2013.
"""

from __future__ import annotations

import math

COUNT = 26
COLDEST_F = -60.0
STEP_F = 5.0

# The USDA half-zones whose winters a plant of each RHS rating stands, coldest first (sheet of 2013; H5 to H7 recalled).
RHS = {
    "h1a": (24, 25),
    "h1b": (22, 23),
    "h1c": (20, 21),
    "h2": (19, 19),
    "h3": (17, 18),
    "h4": (15, 16),
    "h5": (13, 14),
    "h6": (11, 12),
    "h7": (0, 10),
}


def index(name: str) -> int:
    """The number of a half-zone: `7a` is 12. ValueError if there is no such half-zone."""
    text = name.strip().lower()
    if len(text) < 2 or text[-1] not in "ab" or not text[:-1].isdigit() or not 1 <= int(text[:-1]) <= 13:
        raise ValueError("a half-zone from 1a to 13b")
    return (int(text[:-1]) - 1) * 2 + (text[-1] == "b")


def name(number: int) -> str:
    """The half-zone of a number: 12 is `7a`."""
    if not 0 <= number < COUNT:
        raise ValueError("a number from 0 (1a) to 25 (13b)")
    return f"{number // 2 + 1}{'ab'[number % 2]}"


def coldest_f(number: int) -> float:
    """Lower bound of a half-zone, °F."""
    return COLDEST_F + STEP_F * number


def of_fahrenheit(degrees: float) -> int:
    """The half-zone whose winters go down to a temperature in °F; a value on a bound is the milder half-zone's."""
    return min(max(math.floor((degrees - COLDEST_F) / STEP_F), 0), COUNT - 1)


def of_celsius(degrees: float) -> int:
    """The half-zone whose winters go down to a temperature in °C (rounded to a tenth, as the published bounds are)."""
    return of_fahrenheit(round(degrees * 9 / 5 + 32, 1))


def halves(whole: int) -> tuple[int, int]:
    """Both halves of a whole zone, colder first."""
    if not 1 <= whole <= 13:
        raise ValueError("a zone from 1 to 13")
    return (whole - 1) * 2, (whole - 1) * 2 + 1
