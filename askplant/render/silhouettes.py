"""Plants to scale, in characters: each as tall and as wide as it grows, beside a person and a door.

A character is about twice as high as it is wide, so a row stands for twice as many metres as a column. Shapes are those of the
card's form, drawn as an outline filled with one sign; what has no known size is named and not drawn.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import ceil, sqrt
from typing import NamedTuple

from askplant.quantities.lengths import Units, say
from askplant.render.screen import Screen, cells, padded

# A grown person, and an ordinary door: 5 ft 7 in; 6 ft 8 in by 3 ft (common practice).
PERSON = (1.7, 0.5)
DOOR = (2.03, 0.91)
MOST_ROWS = 14
GAP = 2  # columns between two
CELL = 2.0  # how many times as high as wide a character is
PLANT, GROUND = "#", "_"

# The share of the width that a plant of a form has at a height (0 the ground, 1 the top).
SHAPES: dict[str, Callable[[float], float]] = {
    "columnar": lambda at: 1.0 if at < 0.85 else 0.6,
    "narrow": lambda at: sqrt(max(0.0, 1 - max(0.0, at - 0.3) ** 2 / 0.5)),
    "upright": lambda at: sqrt(max(0.0, 1 - max(0.0, at - 0.4) ** 2 / 0.38)),
    "pyramidal": lambda at: 1.02 - at,
    "vase": lambda at: 0.25 + 0.75 * sqrt(at),
    "spreading": lambda at: 0.2 if at < 0.25 else sqrt(max(0.0, 1 - ((at - 0.62) / 0.45) ** 2)),
    "weeping": lambda at: 1.0 if at < 0.7 else sqrt(max(0.0, 1 - ((at - 0.7) / 0.32) ** 2)),
    "mounded": lambda at: sqrt(max(0.0, 1 - at**2)),
    "prostrate": lambda at: 1.0,
    "rounded": lambda at: sqrt(max(0.0, 1 - ((at - 0.5) / 0.52) ** 2)),
}
SHAPES |= {"climbing": SHAPES["columnar"]}


class Figure(NamedTuple):
    """What is drawn: its name, height and width in metres (None: not known), and the form of its card."""

    name: str
    height: float | None
    width: float | None
    form: str = "rounded"


def drawn_text(figures: Sequence[Figure], screen: Screen, units: Units) -> str:
    """The plants to scale, as text."""
    return "\n".join(silhouettes(figures, screen, units)) + "\n"


def said_text(figures: Sequence[Figure], screen: Screen, units: Units) -> str:
    """The same in words, for whoever hears the screen: how many times as tall as a person each is."""
    lines = []
    for one in figures:
        if one.height is None:
            lines += screen.fold(f"{one.name}: size not known.")
            continue
        wide = f", {say(one.width, units)} wide" if one.width else ""
        lines += screen.fold(
            f"{one.name}: {say(one.height, units)} tall{wide}, {one.height / PERSON[0]:.1f} times a person."
        )
    return "\n".join(lines) + "\n"


def silhouettes(figures: Sequence[Figure], screen: Screen, units: Units) -> list[str]:
    """The plants on one ground line, as large as the screen lets them be, with their names and heights below."""
    drawn = [figure for figure in figures if figure.height]
    if not drawn:
        return []
    scale = _scale(drawn, screen.width)
    rows = max(_rows(figure.height or 0.0, scale) for figure in drawn)
    rows = max(rows, _rows(DOOR[0], scale))
    blocks = [_person(scale), _door(scale), *(_plant(figure, scale) for figure in drawn)]
    names = ["you", "door", *(chr(ord("A") + number) for number in range(len(drawn)))]
    widths = [max(cells(row) for row in (*block, name)) for block, name in zip(blocks, names, strict=True)]
    lines = []
    for row in range(rows, 0, -1):
        parts = [
            padded(block[-row] if row <= len(block) else "", width) for block, width in zip(blocks, widths, strict=True)
        ]
        lines.append((" " * GAP).join(parts).rstrip())
    lines.append(GROUND * (sum(widths) + GAP * (len(widths) - 1)))
    lines.append((" " * GAP).join(f"{name:^{width}}" for name, width in zip(names, widths, strict=True)).rstrip())
    for number, figure in enumerate(drawn):
        wide = f" × {say(figure.width, units)}" if figure.width else " (width not known: drawn as high as wide)"
        lines += screen.fold(
            f"{figure.name}: {say(figure.height or 0, units)}{wide}", f"{chr(ord('A') + number)}  ", "   "
        )
    lines += [line for figure in figures if not figure.height for line in screen.fold(f"{figure.name}: size not known")]
    return lines


def _scale(figures: Sequence[Figure], width: int) -> float:
    """Metres a row stands for: the tallest in so many rows, and all of them side by side within the width."""
    tallest = max(DOOR[0], *(figure.height or 0.0 for figure in figures))
    wide = PERSON[1] + DOOR[1] + sum(figure.width or figure.height or 0.0 for figure in figures)
    count = len(figures) + 2
    room = max(width - GAP * (count - 1) - 3 * count, 10)
    return max(tallest / MOST_ROWS, wide * CELL / room)


def _rows(height: float, scale: float) -> int:
    return max(1, round(height / scale))


def _columns(width: float, scale: float) -> int:
    return max(1, round(width * CELL / scale))


def _plant(figure: Figure, scale: float) -> list[str]:
    height, columns = _rows(figure.height or 0.0, scale), _columns(figure.width or figure.height or 0.0, scale)
    shape = SHAPES.get(figure.form, SHAPES["rounded"])
    lines = []
    for row in range(height, 0, -1):
        filled = max(1, ceil(columns * shape((row - 0.5) / height) - 0.5))
        filled += (columns - filled) % 2 and filled < columns
        lines.append(f"{PLANT * filled:^{columns}}".rstrip())
    return lines


def _person(scale: float) -> list[str]:
    rows = _rows(PERSON[0], scale)
    return ["o", *("|" for _ in range(rows - 1))] if rows > 1 else ["i"]


def _door(scale: float) -> list[str]:
    rows, columns = _rows(DOOR[0], scale), max(3, _columns(DOOR[1], scale))
    top = "." + "-" * (columns - 2) + "."
    return [top, *("|" + " " * (columns - 2) + "|" for _ in range(rows - 1))]
