"""What the year brings: feeding where it is usual, mulch, bloom and fruit to enjoy, pests and diseases when they show."""

from __future__ import annotations

from askplant.care import thirds
from askplant.care.facts import Facts
from askplant.care.rules import Pest, Rule, Rules
from askplant.care.site import CareSite
from askplant.care.task import Drawn, Unknown
from askplant.care.thirds import Span

# From which season on plants are fed: new ones grow roots first.
FED_FROM = 2
WORTH_FRUIT = frozenset({"showy", "edible"})


def drawn(plant: Facts, site: CareSite, rules: Rules) -> list[Drawn]:
    """Feeding, mulch, bloom and fruit."""
    found = _feeding(plant, site, rules)
    mulch = _mulch(plant, site, rules)
    if mulch is not None and (span := site.span(mulch)):
        first, last = mulch.fields.get("years", (1, None))
        found.append(Drawn("mulch", mulch.name, span, (first, last), (), mulch.sources))
    if plant.flower == "showy":
        found += [Drawn("enjoy", "enjoy.bloom", run) for run in thirds.of_months(plant.bloom)]
    worth = plant.fruit & WORTH_FRUIT
    if worth:
        code = "enjoy.harvest" if "edible" in worth else "enjoy.fruit"
        found += [Drawn("enjoy", code, run) for run in thirds.of_months(plant.fruit_months)]
    return found


def _mulch(plant: Facts, site: CareSite, rules: Rules) -> Rule | None:
    """What a plant is mulched with: bark or leaves round wood and soft plants, gravel where wet mulch would rot the crown."""
    if plant.is_annual(site.zone) or plant.is_bulb:
        return None
    if plant.is_succulent or plant.is_of_dry_ground(rules["water.dry"], site.zone):
        return rules["mulch.gravel"]
    if plant.is_bamboo:
        return rules["mulch.canes"]
    if plant.is_laid_low:
        return rules["mulch.closing"]
    return rules["mulch.spring" if plant.is_woody and plant.has_top_in_winter else "mulch.crown"]


def _feeding(plant: Facts, site: CareSite, rules: Rules) -> list[Drawn]:
    found = []
    for rule in rules.group("feed"):
        annuals = "annual" in rule.fields.get("kinds", ())
        in_summer = plant.is_annual(site.zone) and not plant.is_of(rules["planting.cool_spring"])
        if not (rule.taxa and plant.is_of(rule)) and not (annuals and in_summer):
            continue
        after = rule.fields.get("after_bloom")
        bloom = thirds.of_months(plant.bloom)
        span: Span | None = None
        if after is None:
            span = site.span(rule)
        elif bloom:
            start = (bloom[0].last + 1) % thirds.YEAR
            end = start + int(after) - 1
            span = thirds.bounded(start, end if rule.until is None else min(end, rule.until))
        if span:
            first = 1 if annuals else FED_FROM
            found.append(Drawn("feed", rule.name, span, (first, None), (), rule.sources))
    return found


def looks(plant: Facts, rules: Rules) -> tuple[list[Drawn], list[Unknown]]:
    """What to look for when; pests whose months no row of the table gives are told as not known."""
    if plant.pests is None:
        return [], [Unknown("pests.unknown", (plant.n,))]
    found, unknown = [], []
    for pest in plant.pests:
        rows = [row for row in rules.pests if _is(pest, row) and (not row.taxa or plant.is_one_of(row.taxa))]
        if not rows:
            unknown.append(Unknown("pests.months", (plant.n,), (pest,)))
        for row in rows:
            for run in row.months:
                found.append(Drawn("look for", "look.pest", run, (1, None), _told(row), row.sources))
    return found, unknown


def _is(pest: str, row: Pest) -> bool:
    """Whether a card means the pest of a row; it may add where or when ("bagworm in humid country")."""
    return pest.lower() == row.pest.lower() or pest.lower().startswith(f"{row.pest.lower()} ")


def _told(row: Pest) -> tuple[str, ...]:
    return row.pest, row.look_for, row.where
