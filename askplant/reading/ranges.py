"""Figures that speak of a size said before them: the end of a range it is to lie at, or how much more would do too."""

from __future__ import annotations

from typing import TYPE_CHECKING

from askplant.quantities.lengths import FOOT
from askplant.reading.elements import Element

if TYPE_CHECKING:
    from askplant.reading.conditions import Maker

# What two figures may differ by and still be the same one in two units, in metres.
ROUNDING = 0.01
# A figure that widens a size is at most so many times it; a larger one is a figure of something else (common practice).
MOST_MORE = 2.0


def adjusted(maker: Maker, element: Element) -> bool:
    """Whether a figure only says more of the size just before it, which then holds that too."""
    if element.core.type not in ("NUMBER", "HEIGHT"):
        return False
    return _narrowed(maker, element) if element.core.meaning.get("nearer") else _widened(maker, element)


def _narrowed(maker: Maker, element: Element) -> bool:
    """`Between 4 and 6 feet, closer to 4`: the half of the range that the figure lies in is kept."""
    if not maker.sources or maker.sources[-1][0].test != "within":
        return False
    found, owner = maker.sources[-1]
    if found.minimum is None or found.maximum is None:
        return False
    n = float(element.core.meaning["n"])
    lies = [size for size in (n, n * FOOT) if found.minimum - ROUNDING <= size <= found.maximum + ROUNDING]
    if not lies:
        return False
    middle = (found.minimum + found.maximum) / 2
    low, high = (found.minimum, middle) if lies[-1] <= middle else (middle, found.maximum)
    maker.sources[-1] = (found._replace(minimum=low, maximum=high, more=(*found.more, _place(element))), owner)
    return True


def _widened(maker: Maker, element: Element) -> bool:
    """`6 ft, but 8 is ok`: what would do too is let in."""
    if not element.neutral or not maker.sources or maker.sources[-1][0].trait not in ("height", "width"):
        return False
    found, owner = maker.sources[-1]
    size = _size(element)
    if found.maximum is None or size is None or not found.maximum < size <= found.maximum * MOST_MORE:
        return False
    test = "at_most" if found.test == "at_most" else "within"
    maker.sources[-1] = (found._replace(test=test, maximum=size, more=(*found.more, _place(element))), owner)  # type: ignore[arg-type]
    return True


def _size(element: Element) -> float | None:
    """The size that a figure says in metres; a bare one is feet."""
    if element.core.type == "NUMBER":
        return float(element.core.meaning["n"]) * FOOT
    said = element.core.meaning.get("conditions", ())
    return said[0].maximum if said else None


def _place(element: Element) -> tuple[int, int]:
    return (element.core.start, element.core.end)
