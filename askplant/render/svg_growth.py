"""A plant's growth plotted: the usual height in its band, and the usual width, told apart by line and pattern alone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from askplant.growth.known import Seen
from askplant.quantities.lengths import FOOT, INCH, Units, say
from askplant.render import svg
from askplant.render.plot import ticks
from askplant.render.svg import WIDE, Point
from askplant.sheet import LAST, Growing

LEFT, RIGHT, TOP, DEEP, BELOW = 50.0, 80.0, 10.0, 100.0, 34.0
# Below this, m, sizes are plotted in inches or centimetres.
SMALL = 3 * FOOT
TOLD = (0, 5, 10, 15, 20)  # the ages that are told in words
APART = 12.0  # units between the words at the end of two lines


class Level(NamedTuple):
    """A height to compare with: its words and metres."""

    words: str
    at: float


def plotted(
    name: str,
    title: str,
    told: str,
    sides: tuple[Growing, Growing | None],
    seen: Sequence[Seen],
    level: Level | None,
    units: Units,
) -> str:
    """The plot of a height with its band, and of a width where one is known. `told` says the same in words."""
    height, width = sides
    widths = [band.middle for _, band in width.line] if width is not None else []
    tallest = max([band.high for _, band in height.line] + widths + [one.size for one in seen if one.age <= LAST])
    unit, unit_name = _unit(tallest, units)
    marks = ticks(tallest / unit)
    top = marks[-1] * unit

    def at(years: float, size: float) -> Point:
        return Point(LEFT + years / LAST * (WIDE - LEFT - RIGHT), TOP + DEEP * (1 - size / top))

    ground = f"{name}-band"
    low = [at(age, band.low) for age, band in height.line]
    high = [at(age, band.high) for age, band in height.line]
    usual = [at(age, band.middle) for age, band in height.line]
    inside = [svg.element("defs", {}, svg.hatch(ground, 1)), *_axes(marks, unit, unit_name, at(0, 0), at(LAST, 0))]
    inside.append(
        svg.element("g", {"fill": f"url(#{ground})"}, svg.curve([*low, *reversed(high)], "band", closed=True))
    )
    ends = [("good growth", high[-1].y), ("usual height", usual[-1].y), ("poor growth", low[-1].y)]
    inside += [svg.curve(high, "edge"), svg.curve(low, "edge"), svg.curve(usual, "usual")]
    if width is not None:
        wide = [at(age, band.middle) for age, band in width.line]
        inside.append(svg.curve(wide, "width"))
        ends.append(("usual width", wide[-1].y))
    if level is not None and level.at < top:
        inside.append(svg.line(at(0, level.at), at(LAST, level.at), "reach"))
        ends.append((level.words, at(0, level.at).y))
    inside += [_measured(at(one.age, one.size)) for one in seen if one.age <= LAST]
    inside += _named(ends)
    return svg.picture(name, title, told, TOP + DEEP + BELOW, inside)


def _unit(top: float, units: Units) -> tuple[float, str]:
    if units == "metric":
        return (0.01, "cm") if top < SMALL else (1.0, "m")
    return (INCH, "in") if top < SMALL else (FOOT, "ft")


def _axes(marks: Sequence[float], unit: float, name: str, zero: Point, end: Point) -> Iterator[str]:
    for mark in marks:
        y = zero.y - DEEP * mark / marks[-1]
        yield svg.line(Point(zero.x, y), Point(end.x, y), "grid" if mark else "ground")
        yield svg.words(Point(zero.x - 4, y + 4), f"{mark:g}" + (f" {name}" if mark == marks[-1] else ""), "end")
    for year in range(0, LAST + 1, 5):
        x = zero.x + (end.x - zero.x) * year / LAST
        yield svg.line(Point(x, zero.y), Point(x, zero.y + 3), "thin")
        yield svg.words(Point(x, zero.y + 15), f"{year}")
    yield svg.words(Point((zero.x + end.x) / 2, zero.y + 29), "years in the ground")


def _measured(at: Point) -> str:
    return svg.element("circle", {"cx": at.x, "cy": at.y, "r": 3.0, "class": "measured"})


def _named(ends: Sequence[tuple[str, float]]) -> Iterator[str]:
    """The words at the ends of the lines, moved apart where lines end close together."""
    placed = sorted(ends, key=lambda end: end[1])
    ys: list[float] = []
    for _, y in placed:
        ys.append(max(y, ys[-1] + APART) if ys else max(y, 8.0))
    over = max(0.0, ys[-1] - (TOP + DEEP + 2))
    for (text, _), y in zip(placed, _lifted(ys, over), strict=True):
        yield svg.words(Point(WIDE - RIGHT + 5, y + 4), text, "start", kind="soft")


def _lifted(ys: Sequence[float], over: float) -> list[float]:
    """The last ones moved up to end above the axis, and those above them as far as they have to."""
    out = [ys[-1] - over]
    for y in reversed(ys[:-1]):
        out.append(min(y, out[-1] - APART))
    return out[::-1]


def in_words(height: Growing, width: Growing | None, units: Units) -> str:
    """What a plot shows, in words: the usual sizes every five years and where the band ends."""
    told = []
    for axis, side in (("height", height), ("width", width)):
        if side is not None:
            last = side.line[-1][1]
            told.append(
                f"Usual {axis} {_each(side, units)} years; at {LAST}, {say(last.low, units)} in poor growth and "
                f"{say(last.high, units)} in good."
            )
    return " ".join(told)


def _each(side: Growing, units: Units) -> str:
    return ", ".join(f"{say(band.middle, units)} at {age:g}" for age, band in side.line if age in TOLD)
