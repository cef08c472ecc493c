"""A row of plants seen from the front, drawn in characters to scale beside a person.

A character cell is taken to be twice as high as wide. Every plant is filled with its own letter, so that nothing rests on
colour.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

# Characters about twice as high as wide, as terminals have them.
CELL = 2.0
MOST_ROWS = 12
# A person to compare with, m; common practice.
PERSON = 1.7
GUTTER = 8  # columns left of the row, for the person and the height asked
# Outlines by form: cones, domes, and the rest as upright blocks with softened shoulders.
CONES = frozenset({"pyramidal"})
DOMES = frozenset({"rounded", "mounded", "spreading", "vase", "weeping", "prostrate"})
SHOULDER, SLOPE = 0.75, 0.85


class Figure(NamedTuple):
    """One plant as drawn: its letter, where its trunk stands, how high and wide it is (metres), and its form."""

    letter: str
    at: float
    height: float
    width: float
    form: str | None


class Scale(NamedTuple):
    """Metres in a column and in a row, and how many columns the run takes."""

    across: float
    up: float
    columns: int


def scale_for(run: float, tallest: float, columns: int) -> Scale:
    """The greatest scale at which a run fits into the columns and its tallest plant into the rows of one drawing."""
    room = max(columns - GUTTER, 10)
    across = max(run / room, tallest / (MOST_ROWS * CELL))
    return Scale(across, across * CELL, max(1, round(run / across)))


def drawn(figures: Sequence[Figure], scale: Scale, reach: float | None, mark: str) -> list[str]:
    """The drawing, top line first, with a ground line. `reach` is a height to show as a dashed line, named by `mark`."""
    tallest = max([PERSON, reach or 0.0, *(figure.height for figure in figures)])
    rows = max(1, math.ceil(tallest / scale.up - 0.5))
    grid = [[" "] * scale.columns for _ in range(rows)]
    for column in range(scale.columns):
        letter, height = _at((column + 0.5) * scale.across, figures)
        for row in range(_cells(height, scale)):
            grid[row][column] = letter
    for figure in figures:  # the smallest plant leaves a trace
        column = min(scale.columns - 1, int(figure.at / scale.across))
        if grid[0][column] == " ":
            grid[0][column] = figure.letter.lower()
    at = max(0, _cells(reach, scale) - 1) if reach is not None else -1
    lines = []
    for row in reversed(range(rows)):
        cells = "".join("-" if row == at and cell == " " else cell for cell in grid[row])
        lead = f"{mark if row == at else '':<{GUTTER - 3}}{_person(row, scale)}"
        lines.append(f"{lead:<{GUTTER}}{cells}".rstrip())
    while lines and not lines[0]:
        del lines[0]
    return [*lines, " " * GUTTER + "=" * scale.columns]


def ruled(run: float, scale: Scale, step: float, unit: float) -> str:
    """Distances from the start, below the ground line: a number every `step` metres, in units of so many metres."""
    line = [" "] * (GUTTER + scale.columns + 8)
    for n in range(int(run / step + 1e-6) + 1):
        text = f"{n * step / unit:g}"
        column = GUTTER + min(round(n * step / scale.across), scale.columns) - (len(text) - 1 if n else 0)
        line[column : column + len(text)] = text
    return "".join(line).rstrip()


def pointed(at: float, scale: Scale, text: str) -> str:
    """A mark under the ruler at a distance from the start, with a word beside it."""
    column = GUTTER + min(scale.columns - 1, int(at / scale.across))
    room = column - len(text) - 1
    return f"{' ' * room}{text} ^" if room >= GUTTER else f"{' ' * column}^ {text}"


def _at(place: float, figures: Sequence[Figure]) -> tuple[str, float]:
    """The plant that is highest at a place along the run, and how high it is there."""
    found = (" ", 0.0)
    for figure in figures:
        height = figure.height * _outline(abs(place - figure.at) / max(figure.width / 2, 1e-6), figure.form)
        if height > found[1]:
            found = (figure.letter, height)
    return found


def _outline(out: float, form: str | None) -> float:
    """The share of its height that a plant has so far out, from 0 at its trunk to 1 at its edge."""
    if out >= 1:
        return 0.0
    if form in CONES:
        return 1 - out * SLOPE
    if form in DOMES:
        return math.sqrt(1 - out * out)
    return 1.0 if out <= SHOULDER else SLOPE


def _cells(height: float, scale: Scale) -> int:
    """Rows that a height fills: those it reaches the middle of."""
    return max(0, math.floor(height / scale.up + 0.5))


def _person(row: int, scale: Scale) -> str:
    rows = max(1, _cells(PERSON, scale))
    if row >= rows:
        return ""
    if rows == 1:
        return "i"
    return "o" if row == rows - 1 else "|"
