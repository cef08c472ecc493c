"""When to plant: spring for what is tender or at the cold end of its range, also fall for what is fully hardy; never into frozen
or hot ground.
"""

from __future__ import annotations

from collections.abc import Sequence

from askplant.care import thirds
from askplant.care.facts import Facts
from askplant.care.rules import Rule, Rules
from askplant.care.site import CareSite
from askplant.care.task import Drawn
from askplant.care.thirds import Span

# Bulbs that bloom up to this month are planted in fall, later ones in spring; common practice.
FALL_BULB = 6
MARGINAL = ("with care", "unknown", "misses")


def seasons(plant: Facts, site: CareSite, rules: Rules) -> tuple[tuple[Rule, Span], ...]:
    """The planting seasons of a plant here, spring first, each with its rule."""
    named = [f"planting.{name}" for name in _names(plant, site, rules)]
    spans = [(rules[name], site.span(rules[name])) for name in named]
    return tuple((rule, span) for rule, span in spans if span)


def _names(plant: Facts, site: CareSite, rules: Rules) -> tuple[str, ...]:
    if "palm" in plant.kinds:
        return ("palm",)
    if plant.is_annual(site.zone):
        if not plant.is_of(rules["planting.cool_spring"]):
            return ("tender",)
        return ("frost_free",) if site.frost.free else ("cool_spring", "cool_fall")
    if site.frost.free:
        return ("frost_free",)
    if "bulb" in plant.kinds and plant.bloom:
        hardy = plant.hardiness(site.zone) == "meets"
        return ("fall_bulb",) if hardy and min(plant.bloom) <= FALL_BULB else ("tender",)
    if spring_only(plant, site, rules):
        return ("spring",)
    if not plant.is_woody:
        return ("spring", "fall_herbaceous")
    return ("spring", "fall_evergreen" if plant.is_evergreen else "fall_deciduous")


def spring_only(plant: Facts, site: CareSite, rules: Rules) -> bool:
    """Whether fall planting is a risk: hardiness short, only just enough or unknown, or a plant that roots slowly in cold."""
    spare = plant.spare(site.zone)
    short = plant.hardiness(site.zone) in MARGINAL or (spare is not None and spare < _spare(rules))
    northern = rules["planting.spring_only"]
    broadleaf = rules["planting.broadleaf_spring"]
    return (
        short
        or "grass" in plant.kinds
        or (site.served(northern) and plant.is_of(northern))
        or (site.served(broadleaf) and plant.is_broadleaf_evergreen)
    )


def _spare(rules: Rules) -> int:
    return int(rules["planting.spare"].fields["half_zones"])


def start(allowed: Sequence[Span], wanted: Sequence[int]) -> int:
    """The first of the wanted moments that falls into a planting season; the first of all where none does."""
    return next((moment for moment in wanted if fits(allowed, moment)), wanted[0])


def fits(allowed: Sequence[Span], moment: int) -> bool:
    """Whether a moment falls into a planting season."""
    return any(moment % thirds.YEAR in span for span in allowed)


def life(plant: Facts, site: CareSite, rules: Rules, planted: int) -> int:
    """For how many thirds an annual set out at a moment lives."""
    third = planted % thirds.YEAR
    taken = next((rule for rule, span in seasons(plant, site, rules) if third in span), rules["planting.tender"])
    assert taken.over is not None
    return (site.edge(taken.over) - third) % thirds.YEAR or thirds.YEAR


def drawn(plant: Facts, site: CareSite, rules: Rules, planted: int) -> list[Drawn]:
    """The task of planting in the season that was taken; none where that moment is out of season."""
    third = planted % thirds.YEAR
    for rule, span in seasons(plant, site, rules):
        if third in span:
            left = Span(third, (span.first + span.length - third - 1) % thirds.YEAR + 1)
            bare = () if "fall" in rule.name or not plant.is_woody else rules["planting.bare_root"].sources
            return [Drawn("plant", rule.name, left, (1, 1), _why(plant, site), (*rule.sources, *bare), once=True)]
    return []


def _why(plant: Facts, site: CareSite) -> tuple[str, ...]:
    """What the wording adds: that it is marginal here."""
    return ("marginal",) if plant.hardiness(site.zone) == "with care" else ()
