"""A plant's growth over the years as JSON and as text: a plot, a table, what it rests on, and what is not known."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from askplant.base.records import Plant
from askplant.growth.course import Band, Span
from askplant.growth.prospect import Basis, Prospect, Side
from askplant.quantities.lengths import FOOT, INCH, Units, say, say_band, say_range
from askplant.render.plot import Line, drawn
from askplant.render.screen import Screen, padded
from askplant.render.understood import labelled

Json = dict[str, Any]

DOUBTFUL = {
    "soft": "it has no lasting woody top, so only its usual years to full size are reckoned with",
    "bamboo": "each culm reaches its height in one season; the years are those until the grove makes full-sized ones",
    "no rate": "no growth is stated, so it is taken to be grown at twenty years",
    "class only": "only the class of its growth is known, not inches a year",
    "parent's rate": "its card is silent on growth: its parent's is taken, in proportion to its size",
    "variegated": "variegated, and taken to grow a fifth slower than its green parent",
    "wide range": "its grown sizes lie far apart",
    "sources disagree": "sources disagree on its grown size",
    "no measurement": "nobody has told of one measured at a known age",
    "few measurements": "few were measured at a known age",
}
KEY = "* usual height   . in poor and in good growth   w usual width   o measured height"
CAVEAT = (
    "Soil, water, shade and climate move all of it; about four in five plants that were measured lie within the ranges."
)
PLOT_ROWS = 18
# Columns of a size with its band in the table.
CELL = 24
# Half a year between the points of a line.
STEPS = 2
# Passing a size later than this, years, is said to be a matter of old age: grown sizes are those of about twenty.
OLD_AGE = 25.0
# Later than this, years, is never for whoever plants it; less than a year is not counted.
LIFETIME, ONE = 100.0, 0.5
# Below this, m, sizes are drawn in inches or centimetres.
SMALL = 3 * FOOT


def prospect_json(told: Prospect, plant: Plant) -> Json:
    """Everything in the published form: lengths in metres, ages in years since planting."""
    sides = {"height": told.height, "width": told.width}
    found: Json = {
        "plant": plant.id,
        "botanical": plant.botanical,
        "common": list(plant.common),
        "unit": "m",
        "years": told.years,
        **{axis: _side_json(side) if side else None for axis, side in sides.items()},
    }
    if told.at is not None:
        at = {axis: _band_json(side.at) if side and side.at else None for axis, side in sides.items()}
        found["at"] = {"age": told.at, **at}
    return found


def _side_json(side: Side) -> Json:
    known, curve = side.course.known, side.course.curve
    return {
        "label": known.label,
        "grown": known.grown,
        "old": known.old,
        "table": [{"age": age, **_band_json(band)} for age, band in side.table],
        "passes_label": span_json(side.passes) if side.passes else None,
        "curve": curve._asdict(),
        "doubt": side.course.doubt._asdict(),
        "rests_on": {
            "growth_per_year": known.rate,
            "growth": known.growth,
            "reckoned_per_year": _rounded(side.basis.rate),
            "grown_at": round(side.basis.grown_at, 1),
            "rooting": round(side.basis.lag, 1),
            "stated": list(known.stated),
            "measured": [{"age": seen.age, "size": seen.size, "counts": seen.counts} for seen in known.seen],
            "doubtful": list(side.basis.doubtful),
        },
    }


def _band_json(band: Band) -> Json:
    return {name: round(size, 3) for name, size in band._asdict().items()}


def span_json(span: Span) -> Json:
    """Years until a size is reached, None where it never is."""
    return {name: None if count is None else round(count, 1) for name, count in span._asdict().items()}


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 3)


def prospect_text(told: Prospect, plant: Plant, screen: Screen, units: Units) -> str:
    """A plant's growth as text."""
    names = f"{plant.botanical} ({', '.join(plant.common)})" if plant.common else plant.botanical
    lines = [screen.styled(line, "bold") for line in screen.fold(names)]
    sides = [side for side in (told.height, told.width) if side]
    if not sides:
        return "\n".join([*lines, "", "Its grown size is not known, so nothing is said of its growth."]) + "\n"
    if told.at is not None:
        lines += [line for side in sides if side.at for line in _at(side, told.at, side.at, screen, units)]
    if told.season:
        lines += ["", *(line for side in sides for line in _season(side, screen, units))]
    else:
        lines += ["", *_plot(told, screen, units), "", *_table(told, units), ""]
    lines += [line for side in sides for line in _label(side, screen, units)]
    lines += [line for side in sides for line in _rests_on(side, screen, units)]
    doubtful = dict.fromkeys(code for side in sides for code in side.basis.doubtful)
    lines += [line for code in doubtful for line in labelled("unsure", DOUBTFUL[code], screen)]
    return "\n".join([*lines, "", *screen.fold(CAVEAT)]) + "\n"


def _at(side: Side, age: float, band: Band, screen: Screen, units: Units) -> list[str]:
    return labelled(side.course.axis, f"{said(band, units)} at {age:g} years", screen)


def said(band: Band, units: Units) -> str:
    """A size with its band."""
    return f"about {say_band(*band, units)}"


def _season(side: Side, screen: Screen, units: Units) -> list[str]:
    """The size of a plant of one season by its end."""
    (_, band), *_ = side.table
    return labelled(side.course.axis, f"{said(band, units)} in its first year; it is grown for one season", screen)


def _plot(told: Prospect, screen: Screen, units: Units) -> Iterator[str]:
    side = told.height or told.width
    assert side is not None
    ages = [step / STEPS for step in range(told.years * STEPS + 1)]
    bands = [side.course.at(age) for age in ages]
    seen = [one for one in side.course.known.seen if one.age <= told.years]
    wide = [told.width.course.at(age).middle for age in ages] if told.width else []
    top = max([band.high for band in bands] + wide + [one.size for one in seen])
    unit, name = _unit(top, units)
    lines: list[Line] = [
        (".", ages, [band.low / unit for band in bands]),
        (".", ages, [band.high / unit for band in bands]),
        *([("w", ages, [size / unit for size in wide])] if wide else []),
        ("*", ages, [band.middle / unit for band in bands]),
    ]
    points = ("o", [one.age for one in seen], [one.size / unit for one in seen])
    yield from (f"  {line}" for line in screen.fold(f"{name}; {KEY}"))
    size = (min(screen.width, 80) - 2, PLOT_ROWS)
    yield from (f"  {line}" for line in drawn(lines, points, (told.years, top / unit), size, "years in the ground"))


def _unit(top: float, units: Units) -> tuple[float, str]:
    if units == "metric":
        return (0.01, "cm") if top < SMALL else (1.0, "m")
    return (INCH, "inches") if top < SMALL else (FOOT, "feet")


def _table(told: Prospect, units: Units) -> Iterator[str]:
    sides = [side for side in (told.height, told.width) if side]
    yield f"  {'years':>5}  {''.join(padded(side.course.axis, CELL) for side in sides)}".rstrip()
    for rows in zip(*(side.table for side in sides), strict=True):
        cells = "".join(padded(_cell(band, units), CELL) for _, band in rows)
        yield f"  {rows[0][0]:>5g}  {cells}".rstrip()


def _cell(band: Band, units: Units) -> str:
    return say_band(*band, units)


def _label(side: Side, screen: Screen, units: Units) -> list[str]:
    label = side.course.known.label
    if label is None or side.passes is None:
        return labelled("tags", f"no {side.course.axis} that tags say is known", screen)
    return labelled("tags", f"say {say_range(*label, units)} {_dimension(side)}: it {passing_label(side)}", screen)


def passing_label(side: Side) -> str:
    """When a plant whose label is known passes the size that it says; of one season whether it may."""
    label, passes = side.course.known.label, side.passes
    assert label is not None
    assert passes is not None
    if not side.course.known.season:
        return passing(passes)
    return "may pass that in good growth" if side.table[0][1].high > label[1] else "does not grow beyond that"


def passing(span: Span) -> str:
    """When it passes a size: `is past that after about 7 years (5–11)`."""
    if span.soonest is None:
        return "does not grow beyond that"
    if span.usual is None or span.usual > OLD_AGE:
        late = " until it is old" if span.usual is not None else ""
        return f"usually stays within that{late}, and in good growth is past it after {years(span.soonest)}"
    return f"is past that after about {about(span)}"


def about(span: Span) -> str:
    """Years with their band: `7 years (5–11, or never)`."""
    assert span.usual is not None
    assert span.soonest is not None
    latest = "never" if span.latest is None or span.latest > LIFETIME else f"{span.latest:.0f}"
    soonest = f"{span.soonest:.0f}" if span.soonest >= ONE else "less than 1"
    if soonest == latest:
        return years(span.usual)
    between = ", or " if latest == "never" else " to " if " " in soonest else "–"
    return f"{years(span.usual)} ({soonest}{between}{latest})"


def years(count: float) -> str:
    """`1 year`, `7 years`."""
    return f"{count:.0f} year{'' if round(count) == 1 else 's'}"


def _dimension(side: Side) -> str:
    return "wide" if side.course.axis == "width" else "tall"


def _rests_on(side: Side, screen: Screen, units: Units) -> list[str]:
    known, basis = side.course.known, side.basis
    assert known.grown is not None
    old = f", old {say(known.old, units)}" if known.old else ""
    parts = [f"grown {say_range(*known.grown, units)}{old}", *_growth(side, basis, units)]
    if known.stated:
        lowest, highest = min(one[0] for one in known.stated), max(one[1] for one in known.stated)
        parts.append(f"sources say {say_range(lowest, highest, units)}")
    parts.append(f"set at {say(side.course.curve.set_at, units)}")
    if basis.lag > 0:
        parts.append(f"{basis.lag:.3g} year{'' if basis.lag == 1 else 's'} of rooting first")
    parts += [f"measured {say(seen.size, units)} at {seen.age:g} years{_counting(seen.counts)}" for seen in known.seen]
    return labelled(side.course.axis, "; ".join(parts), screen)


def _counting(counts: float) -> str:
    return "" if counts >= 1 else f" (counts {counts:.0%}: street, hedge, pruned or doubtful)"


def _growth(side: Side, basis: Basis, units: Units) -> Iterator[str]:
    known = side.course.known
    if known.season:
        yield "full size within its season"
    elif known.soft is not None:
        yield f"full size in about {basis.grown_at:g} year{'' if basis.grown_at == 1 else 's'}"
    elif known.rate is not None and basis.rate is not None:
        yield f"adds {say_range(*known.rate, units)} a year in height"
    elif known.growth:
        yield f"{known.growth} growth"
