"""A planned row from the front and from above, to one scale, every plant with the letter and the pattern of its kind."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from askplant.plan.plan import YEARS, Plan
from askplant.quantities.lengths import FOOT, Units, say
from askplant.render import svg
from askplant.render.elevation import PERSON
from askplant.render.plan import letter
from askplant.render.svg import WIDE, Point

LEAD, TAIL = 34.0, 8.0  # units left of the row, for the person and the height asked, and right of it
TALL, TOP, BELOW = 100.0, 8.0, 30.0
# A row of more plants than this is drawn twice as wide: on a phone it is moved sideways, on paper it takes the whole width.
MANY = 20
# Letters too small to read are left out: the pattern and the table still tell the kinds apart.
LEAST_LETTER = 5.5
RULE: dict[Units, tuple[float, float, str]] = {"us": (10 * FOOT, FOOT, "ft"), "metric": (5.0, 1.0, "m")}


class Scale(NamedTuple):
    """Units in a metre, where the ground lies, and the metres by which a crown reaches beyond the row."""

    unit: float
    ground: float
    over: float

    def at(self, along: float) -> float:
        """Where a distance from the start lies."""
        return LEAD + (along + self.over) * self.unit


def wide_of(plan: Plan) -> float:
    """How wide a row is drawn."""
    return WIDE * 2 if len(plan.positions) > MANY else WIDE


def front(name: str, title: str, plan: Plan, year: int, units: Units) -> str:
    """The row from the front in one of YEARS."""
    n = YEARS.index(year)
    tallest = max([PERSON, plan.goal.reach, *(kind.heights[n].middle for kind in plan.kinds)])
    over = _over(plan, n)
    unit = min((wide_of(plan) - LEAD - TAIL) / (plan.goal.run + 2 * over), TALL / tallest)
    scale = Scale(unit, TOP + tallest * unit, over)
    inside = [_hatches(name, plan), *_reach(plan, scale, units)]
    inside.append(svg.person(Point(LEAD / 2, scale.ground), PERSON * unit))
    letters: list[str] = []
    for place in sorted(plan.positions, key=lambda place: -place.row):
        kind = plan.kinds[place.kind]
        size, at = (kind.heights[n].middle, kind.widths[n].middle), Point(scale.at(place.at), scale.ground)
        drawn = (size[0] * unit, size[1] * unit)
        inside.append(svg.plant(at, drawn, kind.form, False, f"url(#{name}-{place.kind})", size))
        letters += _letter(Point(at.x, scale.ground - min(drawn[0] * 0.4, 16)), place.kind, _room(plan, unit))
    inside += letters
    inside += [
        svg.line(Point(0, scale.ground), Point(wide_of(plan), scale.ground), "ground"),
        *_rule(plan, scale, units),
    ]
    return svg.picture(name, title, front_told(plan, year, units), scale.ground + BELOW, inside, wide_of(plan))


def front_told(plan: Plan, year: int, units: Units) -> str:
    """What the row is from the front, in words."""
    n = YEARS.index(year)
    each = "; ".join(
        f"{letter(k)} {say(kind.heights[n].middle, units)} high, {say(kind.widths[n].middle, units)} wide"
        for k, kind in enumerate(plan.kinds)
    )
    order = " ".join(letter(place.kind) for place in plan.positions)
    lead = f"A row of {say(plan.goal.run, units)} beside a person of {say(PERSON, units)}"
    return f"{lead}. {each}. In order from the start: {order}."


def above(name: str, title: str, plan: Plan, year: int, units: Units) -> str:
    """The row from above in one of YEARS: each plant as wide as it is then, numbered from the start."""
    n = YEARS.index(year)
    over = _over(plan, n)
    unit = (wide_of(plan) - LEAD - TAIL) / (plan.goal.run + 2 * over)
    widest = max(kind.widths[n].middle for kind in plan.kinds) * unit
    back = plan.apart_rows * unit
    top = TOP + 8
    scale = Scale(unit, top + widest + back, over)
    front_line = top + back + widest / 2
    inside = [_hatches(name, plan), *_bed(plan, scale, front_line)]
    size = min(9.0, _room(plan, unit) * 0.62)
    marks: list[str] = []
    for number, place in enumerate(plan.positions, 1):
        wide = plan.kinds[place.kind].widths[n].middle
        at = Point(scale.at(place.at), front_line - place.row * back)
        ring: svg.Given = {
            "cx": at.x,
            "cy": at.y,
            "r": wide * unit / 2,
            "class": "plant",
            "fill": f"url(#{name}-{place.kind})",
        }
        inside.append(svg.element("circle", {**ring, "data-at": f"{place.at:.3f}", "data-width": f"{wide:.3f}"}))
        marks += _letter(Point(at.x, at.y + 4), place.kind, _room(plan, unit))
        if size >= LEAST_LETTER:
            marks.append(svg.words(Point(at.x, TOP), f"{number}", kind="soft", size=size))
    inside += marks
    inside += _rule(plan, scale, units)
    return svg.picture(name, title, above_told(plan, units), scale.ground + BELOW, inside, wide_of(plan))


def above_told(plan: Plan, units: Units) -> str:
    """Where the plants stand, in words."""
    each = ", ".join(f"{letter(place.kind)} at {say(place.at, units)}" for place in plan.positions)
    return f"Distances of the trunks from the start of the row: {each}."


def _over(plan: Plan, n: int) -> float:
    """The metres by which the crowns reach beyond the ends of the row."""
    halves = ((place.at, plan.kinds[place.kind].widths[n].middle / 2) for place in plan.positions)
    return max(max(half - at, at + half - plan.goal.run, 0.0) for at, half in halves)


def _hatches(name: str, plan: Plan) -> str:
    return svg.element("defs", {}, *(svg.hatch(f"{name}-{k}", k) for k in range(len(plan.kinds))))


def _room(plan: Plan, unit: float) -> float:
    """The units that one plant has along the row, as the eye sees them."""
    return plan.goal.run / max(len(plan.positions), 1) * unit


def _letter(at: Point, kind: int, room: float) -> Iterator[str]:
    size = min(11.0, room * 0.8)
    if size >= LEAST_LETTER:
        yield svg.words(at, letter(kind), size=size, kind="letter")


def _reach(plan: Plan, scale: Scale, units: Units) -> Iterator[str]:
    """The height to come to, as a dashed line with its size."""
    y = scale.ground - plan.goal.reach * scale.unit
    yield svg.line(Point(LEAD - 4, y), Point(wide_of(plan), y), "reach")
    yield svg.words(Point(0, y + 4), say(plan.goal.reach, units), "start", size=10.0, kind="soft")


def _bed(plan: Plan, scale: Scale, middle: float) -> Iterator[str]:
    """The line of the trunks, and the place that matters most."""
    yield svg.line(Point(scale.at(0), middle), Point(scale.at(plan.goal.run), middle), "thin")
    x = scale.at(plan.goal.spot)
    corners = [Point(x, scale.ground + 1), Point(x - 4, scale.ground + 8), Point(x + 4, scale.ground + 8)]
    yield svg.curve(corners, "person", closed=True)


def _rule(plan: Plan, scale: Scale, units: Units) -> Iterator[str]:
    step, unit, name = RULE[units]
    while step * scale.unit < 24:
        step *= 2
    y = scale.ground + 10
    yield svg.line(Point(scale.at(0), y), Point(scale.at(plan.goal.run), y), "thin")
    marks: Sequence[float] = [n * step for n in range(int(plan.goal.run / step + 1e-6) + 1)]
    for mark in marks:
        yield svg.line(Point(scale.at(mark), y), Point(scale.at(mark), y + 4), "thin")
        last = mark == marks[-1]
        at = Point(min(scale.at(mark) + 12, wide_of(plan)) if last else scale.at(mark), y + 16)
        yield svg.words(at, f"{mark / unit:g} {name}" if last else f"{mark / unit:g}", "end" if last else "middle")
