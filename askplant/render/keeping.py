"""A plant held at a size, as JSON and as text: whether that is reasonable and why not, what to cut and when, what it costs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from askplant.answer.keeping import Kept
from askplant.base.records import Plant
from askplant.growth.course import Span
from askplant.quantities.lengths import Units, say
from askplant.quantities.months import say_months
from askplant.render.advice import LOST, lost
from askplant.render.growing import OLD_AGE, about, span_json, years
from askplant.render.screen import Screen
from askplant.render.understood import labelled
from askplant.render.warnings import caution_json
from askplant.verdicts.holding import AFTER_FLOWERING, Hold, Reason, is_topped, most_off

Json = dict[str, Any]

REASONS = {
    "size": "its grown size is not known",
    "kind": "it comes back from the ground to its height every year, or is ruined by cutting: choose a smaller one",
    "weeping": "cutting down ruins a weeping form: choose a smaller one",
    "shearing": "it is not sheared to a face: thin it or cut it back as `care` says, but do not count on holding that size",
    "unsaid": "the base does not say whether it takes being cut: ask the extension office before counting on it",
    "bare": "so far below its grown size the cuts soon reach bare wood, from which it does not grow again",
    "low": "so far below its grown size it has too little left to stay dense and healthy",
    "much": "it would take more than about 3 ft of cutting a year",
    "third": "it would lose more than a third of its top every year",
    "reach": "it is out of reach of a ladder and needs a lift every year",
}
TWO_THIRDS = "it would lose more than two thirds of its top every year"
TOOLS = {
    "ground": "from the ground",
    "pole": "with a long-reach cutter, or from steps",
    "ladder": "from a ladder: have someone hold it, or leave it to a licensed arborist",
    "lift": "from a lift: work for a licensed arborist",
}
NEW_CANES = "new canes once they have leafed out, in early summer; old ones are thinned at the ground in {0}"
RUNS = "It runs: without a root barrier, and rhizomes cut every year, it does not stay in its row. See `care`."
WIRES = "Never cut near wires: call the utility or a licensed arborist."
HIGH = frozenset({"ladder", "lift", "pole"})


def kept_json(told: Kept, plant: Plant, units: Units) -> Json:
    """Everything in the published form, lengths in metres."""
    takes = told.takes
    return {
        "plant": plant.id,
        "botanical": plant.botanical,
        "common": list(plant.common),
        "unit": "m",
        "axis": told.size.axis,
        "at": round(told.at, 3),
        "needed": told.needed,
        "reasonable": not told.reasons,
        "why_not": [{"reason": reason, "text": _reason(told, reason)} for reason in told.reasons],
        "least": None if told.least is None else round(told.least, 3),
        "takes": _takes_json(takes) if takes else None,
        "begins": span_json(told.begins) if told.begins else None,
        "years_down": told.down,
        "cautions": [caution_json(caution, units) for caution in told.cautions],
    }


def _reason(told: Kept, reason: Reason) -> str:
    return TWO_THIRDS if reason == "third" and told.size.is_cut_hard else REASONS[reason]


def _takes_json(takes: Hold) -> Json:
    return {
        "cut": round(takes.cut, 3),
        "share": round(takes.cut / takes.at, 3),
        "cuts": takes.cuts,
        "clips": takes.clips,
        "when": takes.when,
        "green_only": takes.green_only,
        "reach": takes.reach,
        "costs": [{"what": cost, "text": LOST[cost]} for cost in takes.costs],
    }


def kept_text(told: Kept, plant: Plant, screen: Screen, units: Units) -> str:
    """The same as text."""
    wide = told.size.axis == "width"
    size = f"{say(told.at, units)} {'wide' if wide else 'high'}"
    lines = [screen.styled(line, "bold") for line in screen.fold(f"{plant.botanical} at {size}: {_verdict(told)}")]
    for label, text in _told(told, units):
        lines += labelled(label, text, screen)
    for caution in told.cautions:
        lines += labelled("CAUTION", caution_json(caution, units)["text"], screen, "warn")
    if told.runs:
        lines += labelled("CAUTION", RUNS, screen, "warn")
    if told.takes and told.takes.reach in HIGH and not told.reasons and told.needed:
        lines += labelled("CAUTION", WIRES, screen, "warn")
    return "\n".join(lines) + "\n"


def _verdict(told: Kept) -> str:
    if not told.needed:
        return "it does not grow beyond that, and needs no cutting for it"
    if told.seldom:
        return "it usually stays within that, and seldom needs a cut for it"
    if not told.reasons:
        return "can be held there"
    if told.reasons[0] in ("size", "unsaid"):
        return "not known"
    return "not reasonable"


def _told(told: Kept, units: Units) -> Iterator[tuple[str, str]]:
    wide = told.size.axis == "width"
    if told.size.grown is None or not told.needed:
        return
    if told.seldom:
        assert told.begins is not None
        yield "begins", _begins(told.begins, wide)
        return
    yield from (("because", _reason(told, reason)) for reason in told.reasons)
    if told.least is not None:
        yield "least", f"no {'narrower' if wide else 'lower'} than about {say(told.least, units)}"
    takes = told.takes
    if takes is None or (told.reasons and told.reasons[0] in ("kind", "weeping", "shearing", "unsaid")):
        return
    topped = is_topped(told.size)
    yield "cut", _topping(takes, units) if topped else _cut(told, takes, wide, units)
    yield "when", NEW_CANES.format(_when(told, takes)) if topped else _when(told, takes)
    if takes.green_only:
        yield "only", "in green shoots: cut into bare wood it does not grow again"
    if takes.clips > 1:
        yield "clipped", f"a clean face takes {takes.clips} clips a year, each time shoots stand out a hand's length"
    if takes.costs:
        yield "costs", lost(takes.costs) + _instead(told, takes)
    if not wide:
        yield "reach", TOOLS[takes.reach]
    if told.begins is not None:
        yield "begins", _begins(told.begins, wide)
    if told.down and not topped:
        yield "grown", _down(told, takes)


def _cut(told: Kept, takes: Hold, wide: bool, units: Units) -> str:
    climbs = told.size.known.habit == "vine"
    off = "off each side" if wide else "off its long shoots" if climbs else "off the top"
    often = "in one cut" if takes.cuts == 1 else "in two cuts"
    share = "" if wide or climbs else f", {takes.cut / takes.at:.0%} of it (at most {most_off(told.size):.0%} in a year)"
    back = ": back to a low framework, from which it grows again the same summer" if told.size.is_cut_hard else ""
    return f"about {say(takes.cut, units)} {off} a year, {often}{share}{back}"


def _topping(takes: Hold, units: Units) -> str:
    cut = f", about {say(takes.cut, units)}" if takes.cut > 0 else ""
    return f"the top off each new cane{cut}, above a joint; a cane that is topped grows no higher"


def _when(told: Kept, takes: Hold) -> str:
    if takes.when != AFTER_FLOWERING:
        return takes.when
    months = f" ({say_months(told.blooms)})" if told.blooms else ""
    return f"right after flowering{months}, before next year's buds form"


def _instead(told: Kept, takes: Hold) -> str:
    """How to keep the flowers; of a crop nothing, for its fruit goes with a cut after flowering."""
    old = told.size.blooms_on == ("old",) and "edible" not in told.size.fruit
    if old and takes.when != AFTER_FLOWERING and "flower" in takes.costs:
        return ", for it blooms on last year's wood; cut right after flowering to keep the flowers"
    return ""


def _begins(span: Span, wide: bool) -> str:
    if span.usual is None or span.usual > OLD_AGE:
        assert span.soonest is not None
        return f"it usually stays within that; in good growth it is there after {years(span.soonest)}"
    return f"it is so {'wide' if wide else 'high'} after about {about(span)}"


def _down(told: Kept, takes: Hold) -> str:
    if takes.green_only:
        return "begin while it is small: one that has outgrown it cannot be cut back to bare wood"
    if told.size.is_cut_hard:
        return "one that has grown past it is cut down to a low framework in one year"
    return f"one that has grown past it is brought down in {years(told.down)}, at most a third a year"
