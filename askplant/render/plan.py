"""A plan in words: its published form, and the sentences, cautions and assumptions that all outputs draw from.

The published form of `askplant plan --json` is one object, lengths metres and years after planting:

    reading      the request as read, as in `askplant read --json`
    plan         the plan, or null where none is possible; then `why` says what stands in the way:
                 {"code", "text", "change"}, and with a stock list "unmatched" and "not_read", as below
      says           two or three sentences: how many of what, how far apart, when it closes, when it is tall enough
      run, open_ends, rows ("single" or "staggered"), rows_apart (null in one row), spacing ("close", "usual", "wide"),
      reach, by_year, depth, top
      plants         one for each kind, the most of first: {"key" (a letter), "plant", "botanical", "common", "count",
                     "spacing", "rank", "fit", "worth", "dependable", "persistence", "form", "prune", "reaches",
                     "reach_words", "years": [{"year", "height", "width"}], "unpruned": [{"axis", "bound", "over",
                     "text"}], "with_care": [{"condition", "asked", "how"}], "not_known": [{"condition", "asked"}],
                     "cautions", "container", "price"}
                     a size is {"low", "middle", "high"}, a span {"soonest", "usual", "latest"} with null for never
      positions      in order: {"n", "key", "plant", "at" (from the start), "row" (1 in front, 2 behind)}
      closes, reaches  spans of the whole row
      spot           {"at", "said", "plant", "off"}: the place that matters most, and by how much its plant misses it
      bed            {"light", "moisture", "watered", "bears" (plants that only tolerate it), "silent" (whose cards do not
                     say)}
      shares         {"species", "genus", "family", "most": {…}}: the caps as shares and as numbers of plants
      objective      what the choice made as great as it could, metres of the best screen; `considered` how many plants it
                     chose from, `set_aside` how many matches could not stand in it, by reason
      stock          null, or {"total", "budget", "unpriced", "substitutes": [{"plant", "wanted", "there", "instead"}],
                     "unmatched", "not_read": [{"row", "name", "cells"}]}
      cautions       [{"about", "text"}]; assumptions, sources   sentences
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Protocol

from askplant.plan.growing import Band, Span
from askplant.plan.outlook import LONGEST
from askplant.plan.plan import YEARS, Goal, Kind, Outgrown, Plan, Refusal
from askplant.quantities.lengths import FOOT, INCH, Units, say, say_range
from askplant.reading.reading import Reading, as_json
from askplant.render.advice import advised
from askplant.render.asked import asked, joined
from askplant.render.plan_words import assumptions, concern_json, left_out_json, refusal_json, sources
from askplant.render.warnings import caution_json
from askplant.stock import Stock

Json = dict[str, Any]
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
FEW = 3  # names a listener keeps in mind


class Titled(Protocol):
    """What a base must tell of a plant."""

    def plant(self, n: int) -> Any: ...


def plan_json(found: Plan | Refusal, reading: Reading, base: Titled, units: Units) -> Json:
    """The published form of a plan, or of why there is none."""
    told: Json = {"reading": as_json(reading)}
    if isinstance(found, Refusal):
        return told | {"plan": None, "why": refusal_json(found, units)}
    return told | {"plan": _plan(found, reading, base, units)}


def _plan(plan: Plan, reading: Reading, base: Titled, units: Units) -> Json:
    goal = plan.goal
    echoes = [asked(condition, units) for condition in reading.conditions]
    return {
        "says": says(plan, base, units),
        "run": _m(goal.run),
        "open_ends": _m(plan.open_ends),
        "rows": plan.options.rows,
        "rows_apart": _m(plan.apart_rows) if plan.apart_rows else None,
        "spacing": plan.options.spacing,
        "reach": _m(goal.reach),
        "by_year": goal.by_year,
        "depth": _m(goal.depth),
        "top": _m(goal.top),
        "plants": [_kind(kind, key, goal, echoes, base, units) for key, kind in enumerate(plan.kinds)],
        "positions": [
            {
                "n": n,
                "key": letter(place.kind),
                "plant": base.plant(plan.kinds[place.kind].plant).id,
                "at": _m(place.at),
                "row": place.row + 1,
            }
            for n, place in enumerate(plan.positions, 1)
        ],
        "closes": span_json(plan.closing),
        "reaches": span_json(plan.reaches),
        "spot": {
            "at": _m(goal.spot),
            "said": goal.spot_said,
            "plant": base.plant(plan.kinds[plan.best].plant).id,
            "off": _m(plan.off_spot),
        },
        "bed": plan.bed._asdict()
        | {
            "bears": [base.plant(plant).id for plant in plan.bed.bears],
            "silent": [base.plant(plant).id for plant in plan.bed.silent],
        },
        "shares": plan.shares._asdict() | {"most": dict(zip(plan.shares._fields, plan.caps, strict=True))},
        "objective": round(plan.objective, 4),
        "considered": plan.of,
        "set_aside": dict(plan.set_aside),
        "stock": _stock(plan, plan.stock, base) if plan.stock is not None else None,
        "cautions": [concern_json(concern, base, units) for concern in plan.concerns],
        "assumptions": assumptions(plan, base, units),
        "sources": sources(plan),
    }


def _kind(kind: Kind, key: int, goal: Goal, echoes: Sequence[str], base: Titled, units: Units) -> Json:
    plant = base.plant(kind.plant)
    return {
        "key": letter(key),
        "plant": plant.id,
        "botanical": plant.botanical,
        "common": plant.common[0] if plant.common else None,
        "count": kind.number,
        "spacing": _m(kind.room),
        "rank": kind.rank,
        "fit": kind.fit,
        "worth": kind.worth,
        "dependable": round(kind.dependable, 3),
        "persistence": kind.persistence,
        "form": kind.form,
        "prune": kind.prune_when,
        "reaches": span_json(kind.reaches),
        "reach_words": f"{say(goal.reach, units)} {years_words(kind.reaches)}",
        "years": [
            {"year": year, "height": _band(height), "width": _band(width)}
            for year, height, width in zip(YEARS, kind.heights, kind.widths, strict=True)
        ],
        "unpruned": [
            {
                "axis": one.axis,
                "bound": _m(one.bound),
                "over": _m(one.by),
                "text": outgrown_text(kind, one, goal, units),
            }
            for one in kind.outgrown
        ],
        "with_care": [
            {"condition": n, "asked": echoes[n], "how": advised(judgement.how, units)}
            for n, judgement in kind.cares
            if judgement.how is not None
        ],
        "not_known": [{"condition": n, "asked": echoes[n]} for n in kind.unknowns],
        "cautions": [caution_json(caution, units) for caution in kind.cautions],
        "container": kind.offer.container or None if kind.offer is not None else None,
        "price": kind.offer.price if kind.offer is not None else None,
    }


def _stock(plan: Plan, stock: Stock, base: Titled) -> Json:
    return {
        "total": plan.total,
        "budget": plan.goal.budget,
        "unpriced": plan.unpriced,
        "substitutes": [
            {
                "plant": base.plant(one.plant).id,
                "wanted": one.wanted,
                "there": one.there,
                "instead": [{"plant": base.plant(other).id, "count": count} for other, count in one.instead],
                "text": _substitute(one.plant, one.wanted, one.there, one.instead, base),
            }
            for one in plan.substitutes
        ],
        **left_out_json(stock),
    }


def _substitute(plant: int, wanted: int, there: int, instead: Sequence[tuple[int, int]], base: Titled) -> str:
    are = "none is" if there == 0 else f"only {there} {'is' if there == 1 else 'are'}"
    start = f"{base.plant(plant).botanical}: {wanted} would be best, {are} in stock"
    others = joined([f"{count} {base.plant(other).botanical}" for other, count in instead], "and")
    return (
        f"{start}; {others} stand{'s' if sum(count for _, count in instead) == 1 else ''} in."
        if others
        else f"{start}."
    )


def says(plan: Plan, base: Titled, units: Units) -> list[str]:
    """What is read out: how many of what and how far apart; when it closes and is tall enough; what stands where it matters."""
    goal, number = plan.goal, len(plan.positions)
    rows = "one row" if plan.options.rows == "single" else "two zigzag rows"
    kinds = joined([f"{kind.number} {name_of(kind.plant, base)}" for kind in plan.kinds], "and")
    first = f"Plant {number} in {rows} of {say(goal.run, units)}: {kinds}"
    # In zigzag the next plant of the same row is the next but one.
    step = 1 if plan.options.rows == "single" else 2
    gaps = [other.at - one.at for one, other in zip(plan.positions, plan.positions[step:], strict=False)]
    if gaps:
        first += f"; {say_range(min(gaps), max(gaps), units)} apart along {'the' if step == 1 else 'each'} row"
    cost = f" The plants cost {plan.total:.2f}." if plan.total is not None and not plan.unpriced else ""
    return [f"{first}.{cost}", _when(plan, units), _spot(plan, base, units)]


def _when(plan: Plan, units: Units) -> str:
    """When it closes, when it comes to the height, and where it stands by the year asked for."""
    goal = plan.goal
    closes = f"It closes {years_words(plan.closing)}"
    tall = f"all of it stands {say(goal.reach, units)} {years_words(plan.reaches)}"
    then = [kind.then for kind in plan.kinds if kind.then is not None]
    late = [kind for kind in plan.kinds if kind.reaches.usual is not None and kind.reaches.usual > (goal.by_year or 99)]
    if not then or goal.by_year is None:
        return f"{closes}; {tall}."
    low, high = (half(pick(b.middle for b in then), units) for pick in (min, max))
    by = f"in {goal.by_year:g} years {say_range(low, high, units)}"
    if not late:
        return f"{closes}; {tall}, {by}."
    tail = f" Not all of it is {say(goal.reach, units)} by year {goal.by_year:g}: set the slower ones larger."
    return f"{closes}; {tall}, {by}.{tail}"


def _spot(plan: Plan, base: Titled, units: Units) -> str:
    name = name_of(plan.kinds[plan.best].plant, base)
    at = say(plan.goal.spot, units)
    if plan.off_spot > INCH:
        return f"The most dependable of them, {name}, stands {say(plan.off_spot, units)} from covering {at}."
    where = f"at {at}, where it matters most" if plan.goal.spot_said else f"in the middle, at {at}"
    return f"The most dependable of them, {name}, stands {where}."


def name_of(plant: int, base: Titled) -> str:
    """What a plant is called aloud: its common name, else the botanical one."""
    found = base.plant(plant)
    return str(found.common[0] if found.common else found.botanical)


def letter(n: int) -> str:
    """A, B, … and after Z A2, B2, …"""
    return LETTERS[n % 26] + (str(n // 26 + 1) if n >= 26 else "")


def outgrown_text(kind: Kind, one: Outgrown, goal: Goal, units: Units) -> str:
    """What it will be in twenty years if nobody prunes, and how it is held instead."""
    size = (kind.heights if one.axis == "height" else kind.widths)[-1].middle
    word = ("tall", "high") if one.axis == "height" else ("wide", "deep")
    more = f"{say(one.by, units)} more than the {say(one.bound, units)} {bound_words(one, goal, units)}"
    start = f"{say(size, units)} {word[0]}, {more}"
    if one.hold is None:
        return f"{start}; it does not take being held there"
    often = {1: "one cut", 2: "two cuts"}[one.hold.cuts]
    when = "a year" if one.hold.when in ("seldom", "after flowering") else f"each {one.hold.when}"
    after = ", after flowering" if one.hold.when == "after flowering" else ""
    off = "off each side" if one.axis == "width" else "off the top"
    green = ", never into bare wood" if one.hold.green_only else ""
    return (
        f"{start}; hold it at {say(one.hold.at, units)} with {often} {when}{after}, "
        f"about {say(one.hold.cut, units)} {off}{green}"
    )


def bound_words(one: Outgrown, goal: Goal, units: Units) -> str:
    """Where a bound comes from: it was asked, two rows leave it, or a height or width `about` something allows it."""
    about = goal.about_height if one.axis == "height" else goal.about_width
    if one.axis == "width" and goal.depth is not None and one.bound < goal.depth - INCH:
        return f"that two rows leave of {say(goal.depth, units)}"
    return "asked" if about is None else f"that about {say(about, units)} allows"


def years_words(span: Span) -> str:
    """`in about 9 years (7 to 12)`; what never comes is said."""
    if span.usual is None:
        return f"not within {LONGEST:.0f} years"
    usual = max(1, round(span.usual)) if span.usual > 0 else 0
    if usual == 0:
        return "at once"
    early = round(span.soonest or 0.0)
    late = round(span.latest) if span.latest is not None else None
    if usual > LONGEST:
        return f"not within {LONGEST:.0f} years"
    about = f"in about {usual} {'year' if usual == 1 else 'years'}"
    if late is None:
        return f"{about} ({early} at best; the slowest never)"
    if late > LONGEST:
        return f"{about} ({early} to over {LONGEST:.0f})"
    return about if early == late else f"{about} ({early} to {late})"


def tape(metres: float, units: Units) -> str:
    """A distance to lay out with a tape: feet and inches, or metres to the centimetre."""
    if units == "metric":
        return f"{metres:.2f} m"
    inches = round(metres / INCH)
    feet, rest = divmod(inches, round(FOOT / INCH))
    return f"{feet} ft {rest:>2} in" if rest else f"{feet} ft      "


def half(metres: float, units: Units) -> float:
    """A size as it is spoken of: below 10 ft to the half foot, or the tenth of a metre."""
    step = FOOT / 2 if units == "us" else 0.1
    return metres if metres >= 10 * FOOT else round(metres / step) * step


def near(metres: float, units: Units) -> str:
    """A size in words, as it is spoken of."""
    return say(half(metres, units), units)


def span_json(span: Span) -> Json:
    """A span in the published form."""
    return {name: None if years is None else round(years, 1) for name, years in span._asdict().items()}


def _band(band: Band) -> Json:
    return {name: _m(size) for name, size in band._asdict().items()}


def _m(metres: float | None) -> float | None:
    return None if metres is None else round(metres, 3)
