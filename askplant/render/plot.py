"""Curves drawn in plain characters. The only importer of plotext."""

from __future__ import annotations

import math
from collections.abc import Sequence

import plotext

# The frame in signs that every terminal has.
_PLAIN = str.maketrans({"─": "-", "│": "|", **dict.fromkeys("┌┐└┘├┤┬┴┼", "+")})
MOST_TICKS = 6

Line = tuple[str, Sequence[float], Sequence[float]]


def drawn(
    lines: Sequence[Line], points: Line, top: tuple[float, float], size: tuple[int, int], below: str
) -> list[str]:
    """Lines of ASCII no wider and no more than `size` (columns, rows).

    Each of `lines` is (its sign, years, sizes) and is drawn over those before it, `points` last and unconnected; `top` is where
    the axes of years and of sizes end, `below` stands under the first.
    """
    figure = plotext.figure
    plotext.terminal.limit(False, False)
    figure.clear()
    figure.theme("colorless")
    figure.plot_size(*size)
    for axis, end in zip("xy", top, strict=True):
        at = ticks(end)
        figure.ruler(axis).lim(0, max(end, at[-1])).ticks(at, [f"{tick:g}" for tick in at])
    for sign, xs, ys in lines:
        figure.draw(figure.signal(list(xs), list(ys), marker=sign).lines(True))
    if points[1]:
        figure.draw(figure.signal(list(points[1]), list(points[2]), marker=points[0]))
    figure.label(below, axis="x")
    text: str = figure.build().string(colorless=True)
    figure.clear()
    return [line.rstrip() for line in text.translate(_PLAIN).rstrip("\n").split("\n")]


def ticks(end: float) -> list[float]:
    """Round numbers from 0 to the first that is no less than `end`, at most MOST_TICKS of them."""
    size = 10.0 ** math.floor(math.log10(end))
    step = next(step for step in (size / 10, size / 5, size / 2, size, 2 * size) if end / step <= MOST_TICKS - 1)
    return [step * count for count in range(math.ceil(end / step - 1e-9) + 1)]
