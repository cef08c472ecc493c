"""Months and seasons of the northern hemisphere."""

from __future__ import annotations

from collections.abc import Iterable

NAMES = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)

# Meteorological seasons (common practice; the same three-month quarters as the WMO's).
SEASONS = {"winter": (12, 1, 2), "spring": (3, 4, 5), "summer": (6, 7, 8), "fall": (9, 10, 11)}

_BY_NAME = {name.lower(): number for number, name in enumerate(NAMES, 1)}
_BY_NAME |= {name[:3].lower(): number for number, name in enumerate(NAMES, 1)} | {"sept": 9}
_SEASON_WORDS = {"autumn": "fall", **{season: season for season in SEASONS}}


def of_word(word: str) -> tuple[int, ...] | None:
    """The months a word names: one for a month, three for a season, none for any other word."""
    folded = word.lower().rstrip(".")
    if folded in _BY_NAME:
        return (_BY_NAME[folded],)
    season = _SEASON_WORDS.get(folded)
    return SEASONS[season] if season else None


def through(first: Iterable[int], last: Iterable[int]) -> frozenset[int]:
    """Every month from the start of one stretch to the end of another, over the new year where need be."""
    start, end = next(iter(first)), tuple(last)[-1]
    return frozenset((start - 1 + step) % 12 + 1 for step in range((end - start) % 12 + 1))


def part(months: tuple[int, ...], which: str) -> tuple[int, ...]:
    """Early, mid or late part of a season (a month of it); a single month is left as it is."""
    if len(months) != 3:
        return months
    return {"early": months[:1], "mid": months[1:2], "late": months[2:]}[which]


def say_months(months: Iterable[int]) -> str:
    """Months in words, runs joined: `May–June`, `November–February`, `April, June`."""
    present = set(months)
    if len(present) >= 12:
        return "all year"
    starts = [month for month in sorted(present) if (month - 2) % 12 + 1 not in present]
    return ", ".join(_say_run(start, present) for start in starts)


def _say_run(start: int, present: set[int]) -> str:
    end = start
    while end % 12 + 1 in present:
        end = end % 12 + 1
    return NAMES[start - 1] if start == end else f"{NAMES[start - 1]}–{NAMES[end - 1]}"
