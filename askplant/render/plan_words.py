"""The standing words of a plan: cautions that defer to who decides, what was taken for granted, sources, and refusals."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Protocol

from askplant.growth.fit import SET_AT
from askplant.plan.plan import Bed, Concern, Overgrown, Plan, Refusal
from askplant.plan.tables import Shares
from askplant.quantities.lengths import Units, say
from askplant.render.asked import joined
from askplant.stock import Stock

Json = dict[str, Any]


class Titled(Protocol):
    """What a base must tell of a plant."""

    def plant(self, n: int) -> Any: ...


def concern_json(concern: Concern, base: Titled, units: Units) -> Json:
    """A caution of the row in the published form; its last sentence says who decides."""
    lengths = [say(length, units) for length in concern.lengths]
    plants = joined([base.plant(plant).botanical for plant in concern.plants], "and")
    return {"about": concern.about, "text": _CONCERNS[concern.about](lengths, plants)}


def _line(lengths: list[str], _: str) -> str:
    why = "half of the widest mature spread, or agree to trim"
    if len(lengths) > 1:
        why = f"half of the {lengths[1]} that they are kept to; unpruned they want {lengths[2]}"
    return f"Property line: keep the trunks at least {lengths[0]} inside it, {why}. Local hedge and fence rules decide."


def _wires(lengths: list[str], plants: str) -> str:
    tall = f" {plants} grow{'s' if ' and ' not in plants else ''} taller." if plants else ""
    return (
        f"Wires overhead: at most {lengths[0]}, by some utilities {lengths[1]}, of mature height below them.{tall} "
        "Ask the utility; work near wires is for a licensed line-clearance arborist."
    )


def _tall(lengths: list[str], plants: str) -> str:
    return (
        f"{plants} can pass {lengths[0]} in time: look up for wires before you plant. "
        "Ask the utility; work near wires is for a licensed line-clearance arborist."
    )


def _sight(lengths: list[str], _: str) -> str:
    return (
        f"Drives and corners: keep the sight triangle ({lengths[0]} at a drive, {lengths[0]} to {lengths[1]} at a corner, more "
        f"in places) free of anything between {lengths[2]} and {lengths[3]} high. The local code decides."
    )


def _drains(lengths: list[str], plants: str) -> str:
    seek = f" The roots of {plants} seek water." if plants else ""
    return (
        f"Drains, pipes and paving: stay {lengths[0]} or more away, and off a septic field.{seek} "
        "The local code or a licensed professional decides."
    )


def _house(lengths: list[str], _: str) -> str:
    return (
        f"House wall: set the trunks {lengths[0]} or more from it, half the mature width and a foot for air. "
        "For work at a foundation ask a licensed professional."
    )


def _fire(lengths: list[str], plants: str) -> str:
    burns = f" {plants} burn{'s' if ' and ' not in plants else ''} readily." if plants else ""
    return (
        f"Fire: nothing that burns within {lengths[0]} of the house, and no solid evergreen row within {lengths[1]} of it."
        f"{burns} The local fire code or fire district decides."
    )


_CONCERNS: dict[str, Callable[[list[str], str], str]] = {
    "digging": lambda _, __: (
        "Before digging, call the local utility-marking service (811 in the US) and wait for the marks; private lines are not "
        "marked. The utility decides."
    ),
    "property line": _line,
    "wires": _wires,
    "tall": _tall,
    "sight": _sight,
    "drains": _drains,
    "house": _house,
    "fire": _fire,
}


def assumptions(plan: Plan, base: Titled, units: Units) -> list[str]:
    """What the request did not say and the plan took for granted, and what it does not know."""
    goal = plan.goal
    found = []
    if not goal.reach_said:
        found.append(
            f"No height was said: {say(goal.reach, units)}, which hides a person standing, is what it comes to."
        )
    if not goal.spot_said:
        found.append("No spot was said to matter most: the middle was taken.")
    set_at = say(SET_AT, units)
    if goal.by_year is not None:
        found.append(
            f"Years are counted from plants of about {set_at} as usually set; larger ones are sooner, by a few years at most."
        )
    else:
        found.append(f"Years are counted from plants of about {set_at} as usually set.")
    if plan.open_ends > 0.02:
        found.append(
            f"{say(plan.open_ends / 2, units)} is left open at each end: no more rooms of these plants fit the run."
        )
    if goal.budget is not None and plan.stock is None:
        found.append(f"Without a stock list no prices are known: the {goal.budget:.2f} asked are not counted.")
    bare = sum(kind.number for kind in plan.kinds if kind.persistence == "deciduous")
    if bare:
        found.append(f"{bare} of the {len(plan.positions)} drop their leaves: they hide little in winter.")
    if plan.options.rows == "staggered":
        found.append(
            f"The two rows stand {say(plan.apart_rows, units)} apart; distances are along the run, for both rows."
        )
    if goal.dry:
        found.append("The ground is dry: distances are cut by a quarter.")
    if plan.stretches > 1:
        found.append(
            f"So long a row was ordered in {plan.stretches} stretches, each as well as it can be behind the one before: "
            "another order of the whole may be a little better."
        )
    if not plan.proved:
        found.append("The search for the best row was broken off at its limit: there may be a better one.")
    found.append(_bed(plan.bed, base))
    found.append(_shares(plan))
    if plan.same_genus:
        found.append(
            f"{plan.same_genus} times two plants of a genus stand side by side: the counts allow no better order."
        )
    found += [_overgrown(plan, one, base) for one in plan.overgrown]
    return found


def _overgrown(plan: Plan, one: Overgrown, base: Titled) -> str:
    lower, wider = (base.plant(plan.kinds[n].plant).botanical for n in (one.kind, one.by))
    return f"{wider} beside {lower} will shade it from about year {max(1, round(one.year))}: keep it cut back there."


def _bed(bed: Bed, base: Titled) -> str:
    """The bed they share: who only tolerates it, and of whom nothing is known."""
    light = bed.light or "light not known"
    moisture = f"{bed.moisture} moisture" if bed.moisture else "moisture not known"
    water = "; water the whole row in drought" if bed.watered else ""
    if not bed.bears and not bed.silent:
        return f"Every plant of the row does well in the same bed: {light}, {moisture}{water}."
    tails = []
    for plants, one, several in (
        (bed.bears, "only tolerates it", "only tolerate it"),
        (bed.silent, "has a card that does not say", "have cards that do not say"),
    ):
        if plants:
            names = joined([base.plant(plant).botanical for plant in plants], "and")
            tails.append(f"{names} {one if len(plants) == 1 else several}")
    return f"All stand in one bed: {light}, {moisture}{water}. {'; '.join(tails)}."


def _shares(plan: Plan) -> str:
    species, genus, family = plan.caps
    if plan.goal.one_kind and plan.shares.species >= 1:
        return "All of one kind was asked: shares are not capped, and one pest could open the whole screen."
    told = plan.told["shares"]
    percent = ", ".join(f"{100 * share:.0f}%" for share in plan.shares)
    return (
        f"Of {len(plan.positions)} plants at most {species} are of one species, {genus} of one genus, {family} of one family "
        f"({percent}; --share changes it). The rule scaled up for a short row: {told['rule']}; its critics say that "
        f"{told['criticism']} ({told['criticism_source']})."
    )


def sources(plan: Plan) -> list[str]:
    """Where the numbers of the plan come from."""
    shares, spacing = plan.told["shares"], plan.told["spacing"]
    found = [
        f"Shares: {shares['source']}.",
        f"Spacing: {spacing['source']}{'; ' if spacing['check'] else ''}{spacing['check']}.",
        "Growth: Chapman-Richards curves through the cards' sizes; soil, water and care move them.",
        "Weights of the choice: traits/planning.toml, common practice.",
    ]
    if plan.options.rows == "staggered":
        found.insert(2, f"Two rows: {plan.told['rows']['source']}.")
    if plan.goal.dry:
        found.insert(2, f"Dry ground: {plan.told['dry']['source']}.")
    return found


# Why a match cannot stand in a screen, in words.
ASIDE = {
    "climbs": ("climbs and needs a support", "climb and need a support"),
    "dies back": ("dies back in winter", "die back in winter"),
    "weeping": ("weeps, and is not sold for screens", "weep, and are not sold for screens"),
    "wires": ("outgrows what the lines allow", "outgrow what the lines allow"),
    "open": ("is too open to hide anything", "are too open to hide anything"),
    "size unknown": ("has no known size", "have no known size"),
    "too short": ("does not come to the height", "do not come to the height"),
    "too slow": ("comes to it far too late", "come to it far too late"),
    "too wide": ("cannot be held to the depth that two rows leave", "cannot be held to the depth that two rows leave"),
}


def aside_words(set_aside: tuple[tuple[str, int], ...]) -> str:
    """How many matches cannot stand in the screen, and why."""
    return joined([f"{count} {ASIDE[reason][count != 1]}" for reason, count in set_aside], "and")


def refusal_json(refusal: Refusal, units: Units) -> Json:
    """Why no plan is possible and what would make one so."""
    text, change = _REFUSALS[refusal.code](refusal, units)
    told: Json = {"code": refusal.code, "text": f"No plan: {text}", "change": change}
    return told | left_out_json(refusal.stock) if refusal.stock is not None else told


def left_out_json(stock: Stock) -> Json:
    """The lines of a stock list that are no one plant of the base, and the cells that could not be read."""
    return {
        "unmatched": [{"row": one.row, "name": one.name, "nearest": list(one.nearest)} for one in stock.unmatched],
        "not_read": [
            {"row": line.row, "name": line.name, "cells": [f"{heading}: {cell}" for heading, cell in line.wrong]}
            for line in stock.lines
            if line.wrong
        ],
    }


def _none_can_screen(refusal: Refusal, units: Units) -> tuple[str, str]:
    aside = aside_words(refusal.set_aside)
    text = f"of what fits, nothing can stand in a screen of {say(refusal.lengths[0], units)}: {aside}."
    return text, "Ask for a lower height, or for more years."


def _too_few(refusal: Refusal, units: Units) -> tuple[str, str]:
    species, genera, families = refusal.counts
    aside = aside_words(refusal.set_aside)
    text = (
        f"the plants that can stand here are too few for the shares: {species} species of {genera} "
        f"{'genus' if genera == 1 else 'genera'} and {families} {'family' if families == 1 else 'families'}, along "
        f"{say(refusal.lengths[0], units)}{f'; of the others that fit, {aside}' if aside else ''}."
    )
    assert refusal.shares is not None
    return text, f"It would be possible with --share {share_words(refusal.shares)}, or with a wish less."


def share_words(shares: Shares) -> str:
    """Shares as --share takes them."""
    return ",".join(f"{share:g}" for share in shares)


_REFUSALS: dict[str, Callable[[Refusal, Units], tuple[str, str]]] = {
    "no run": lambda _, __: ("no length of row is said.", "Say how long it is, as in: 60 ft screen."),
    "run too long": lambda refusal, units: (
        f"a run of {say(refusal.lengths[0], units)} is longer than the {say(refusal.lengths[1], units)} that one plan can take.",
        "Plan it in stretches, each by itself.",
    ),
    "nothing matches": lambda refusal, _: (
        "nothing fits all that must be.",
        "Ask the same with askplant ask: it says which wish to change." if refusal.loosen else "Ask for less.",
    ),
    "too shallow": lambda refusal, units: (
        f"two rows stand {say(refusal.lengths[0], units)} apart, and the bed is {say(refusal.lengths[1], units)} deep.",
        "Take a single row, or a deeper bed.",
    ),
    "none can screen": _none_can_screen,
    "none in stock": lambda refusal, units: (
        f"nothing in the stock list fits and can stand in a screen of {say(refusal.lengths[0], units)}.",
        "Plan with --stock none to see what would.",
    ),
    "run too short": lambda refusal, units: (
        f"a run of {say(refusal.lengths[0], units)} is shorter than the {say(refusal.lengths[1], units)} that one plant takes.",
        "Ask for a narrower plant with askplant ask.",
    ),
    "too few kinds": _too_few,
    "stock too small": lambda refusal, units: (
        f"what is in stock and fits covers {say(refusal.lengths[1], units)} of the {say(refusal.lengths[0], units)} at most, "
        "less within the shares.",
        "Plan with --stock none to see what to order.",
    ),
    "over budget": lambda refusal, units: (
        f"what is in stock and fits along {say(refusal.lengths[0], units)} costs more than the {refusal.amounts[0]:.2f} asked; "
        f"the best would cost {refusal.amounts[1]:.2f}.",
        "Say a shorter run, or a larger sum.",
    ),
    "no common ground": lambda refusal, units: (
        f"the plants that could stand along {say(refusal.lengths[0], units)} do not share one class of light, moisture and "
        "watering, or do not fill it.",
        "Say the light and the moisture, or loosen a wish.",
    ),
}
