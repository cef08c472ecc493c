"""Drawings as inline SVG: elements with every text escaped, a scale, the outlines of plants, and fills told apart by pattern.

Nothing rests on colour: plants differ by their letter and pattern, lines by their dashes. Sizes drawn stand on the elements as
`data-` attributes in metres.
"""

from __future__ import annotations

import html
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from askplant.render.screen import clean

# Colours of the drawings, the same as the page's (sheet.css); each is held to the contrast of WCAG 2 by a test.
INK, SOFT, LEAF, PAPER = "#1c1f1a", "#55594f", "#dfe6d8", "#ffffff"
# A drawing is so many units wide; on a phone a unit is about a pixel, so that its letters stay legible.
WIDE = 340.0
LETTERS = 11.5
# Marks of the plants of a row, in the order of its kinds: lines in a square of 8, None for plain.
HATCHES = (
    None,
    "M0 8 8 0M-2 2 2 -2M6 10 10 6",
    "M0 4H8",
    "M4 0V8",
    "M0 0 8 8M-2 6 2 10M6 -2 10 2",
    "M0 4H8M4 0V8",
)
# Outlines in a box one wide and one high, from the ground at (0, 0) to the top at (0, 1); x runs from -0.5 to 0.5.
_CONE = ((-0.5, 0.0), (-0.36, 0.36), (-0.16, 0.78), (0.0, 1.0), (0.16, 0.78), (0.36, 0.36), (0.5, 0.0))
_COLUMN = ((-0.42, 0.0), (-0.5, 0.3), (-0.46, 0.75), (-0.25, 0.96), (0.0, 1.0))
_ROUND = ((-0.3, 0.0), (-0.48, 0.25), (-0.5, 0.55), (-0.36, 0.87), (0.0, 1.0))
_MOUND = ((-0.5, 0.0), (-0.48, 0.4), (-0.36, 0.76), (-0.18, 0.95), (0.0, 1.0))
_VASE = ((-0.12, 0.0), (-0.32, 0.45), (-0.5, 0.8), (-0.34, 0.97), (0.0, 1.0))
_WEEPING = ((-0.4, 0.0), (-0.5, 0.22), (-0.46, 0.66), (-0.26, 0.94), (0.0, 1.0))
_OUTLINES = {
    "pyramidal": _CONE,
    "columnar": _COLUMN,
    "upright": _COLUMN,
    "climbing": _COLUMN,
    "rounded": _ROUND,
    "mounded": _MOUND,
    "spreading": _MOUND,
    "prostrate": _MOUND,
    "vase": _VASE,
    "weeping": _WEEPING,
}
# Forms of which a tree shows a trunk, and the share of its height below the crown; common practice.
_CROWNED, _TRUNK = frozenset({"rounded", "vase", "spreading", "mounded", None}), 0.16

Attribute = str | float | int
Given = dict[str, Attribute | None]


class Point(NamedTuple):
    """A place in a drawing: across from the left, down from the top."""

    x: float
    y: float


def text_of(text: str) -> str:
    """Any text as it may stand in a page: no control characters, nothing that could be taken for markup."""
    return html.escape(clean(text), quote=True)


def element(name: str, attributes: Mapping[str, Attribute | None], *inside: str) -> str:
    """One element; attributes that are None are left out, texts inside must be escaped already."""
    said = "".join(f' {key}="{_said(value)}"' for key, value in attributes.items() if value is not None)
    return f"<{name}{said}>{''.join(inside)}</{name}>"


def _said(value: Attribute) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".") if isinstance(value, float) else text_of(str(value))


def picture(name: str, title: str, told: str, height: float, inside: Iterable[str], wide: float = WIDE) -> str:
    """A whole drawing `wide` units wide, with a title and a description for who cannot see it. `name` is unique in the page."""
    return element(
        "svg",
        {
            "viewBox": f"0 0 {wide:g} {height:.0f}",
            "role": "img",
            "aria-labelledby": f"{name}-title {name}-told",
            "class": "drawing",
        },
        element("title", {"id": f"{name}-title"}, text_of(title)),
        element("desc", {"id": f"{name}-told"}, text_of(told)),
        *inside,
    )


def words(at: Point, text: str, anchor: str = "middle", kind: str | None = None, size: float = LETTERS) -> str:
    """A text whose baseline starts, has its middle or ends at a point; `kind` is one of the classes of sheet.css."""
    given: Given = {"x": at.x, "y": at.y, "text-anchor": anchor, "font-size": size, "class": kind}
    return element("text", given, text_of(text))


def line(start: Point, end: Point, kind: str = "thin") -> str:
    """A straight line; `kind` is one of the classes of sheet.css."""
    return element("line", {"x1": start.x, "y1": start.y, "x2": end.x, "y2": end.y, "class": kind})


def curve(points: Sequence[Point], kind: str, closed: bool = False) -> str:
    """A line through points, or the area they enclose."""
    path = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points) + ("Z" if closed else "")
    return element("path", {"d": path, "class": kind})


def box(left: float, top: float, wide: float, high: float, **more: Attribute) -> str:
    """A rectangle."""
    given: Given = {"x": left, "y": top, "width": wide, "height": high}
    return element("rect", {**given, **more})


def hatch(name: str, n: int) -> str:
    """The definition of the fill of the nth kind."""
    path = HATCHES[n % len(HATCHES)]
    marks = element("path", {"d": path, "class": "hatch"}) if path else ""
    ground = box(0.0, 0.0, 8.0, 8.0, fill=LEAF)
    return element("pattern", {"id": name, "width": 8, "height": 8, "patternUnits": "userSpaceOnUse"}, ground, marks)


def person(ground: Point, high: float) -> str:
    """A person standing, `high` units high, a third of that wide."""
    head = high * 0.075
    body = [
        (-0.03, 0.0),
        (-0.1, 0.48),
        (-0.14, 0.78),
        (-0.06, 0.84),
        (0.06, 0.84),
        (0.14, 0.78),
        (0.1, 0.48),
        (0.03, 0.0),
    ]
    outline = [Point(ground.x + x * high, ground.y - y * high) for x, y in body]
    top = element("circle", {"cx": ground.x, "cy": ground.y - high + head, "r": head, "class": "person"})
    return top + curve(outline, "person", closed=True)


def door(left: Point, wide: float, high: float) -> str:
    """A door of so many units, with its handle."""
    frame = box(left.x, left.y - high, wide, high, **{"class": "door"})
    handle: Given = {
        "cx": left.x + wide * 0.82,
        "cy": left.y - high * 0.46,
        "r": max(wide * 0.05, 0.6),
        "class": "person",
    }
    return frame + element("circle", handle)


def plant(
    ground: Point, size: tuple[float, float], form: str | None, tree: bool, fill: str, metres: tuple[float, float]
) -> str:
    """The outline of a plant standing at a point: (height, width) in units, the same in metres on the element."""
    high, wide = size
    half = _OUTLINES.get(form or "", _ROUND)
    whole = half if half[-1][0] > 0 else (*half, *((-x, y) for x, y in reversed(half[:-1])))
    bare = _TRUNK if tree and form in _CROWNED else 0.0
    points = [Point(ground.x + x * wide, ground.y - (bare + y * (1 - bare)) * high) for x, y in whole]
    trunk = ""
    if bare:
        thick = max(high * 0.05, 1.2)
        trunk = box(
            ground.x - thick / 2, ground.y - high * (bare + 0.06), thick, high * (bare + 0.06), **{"class": "trunk"}
        )
    shown: Given = {"d": _smooth(points), "class": "plant", "fill": fill}
    return trunk + element("path", {**shown, "data-height": f"{metres[0]:.3f}", "data-width": f"{metres[1]:.3f}"})


def _smooth(points: Sequence[Point]) -> str:
    """A closed outline: rounded through its points, straight along the ground."""
    path = f"M{points[0].x:.1f} {points[0].y:.1f}"
    for place in range(len(points) - 1):
        before, one, other = points[max(place - 1, 0)], points[place], points[place + 1]
        after = points[min(place + 2, len(points) - 1)]
        first = Point(one.x + (other.x - before.x) / 6, one.y + (other.y - before.y) / 6)
        second = Point(other.x - (after.x - one.x) / 6, other.y - (after.y - one.y) / 6)
        path += f"C{first.x:.1f} {first.y:.1f} {second.x:.1f} {second.y:.1f} {other.x:.1f} {other.y:.1f}"
    return path + "Z"
