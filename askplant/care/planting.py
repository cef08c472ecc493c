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
    if plant.is_bulb and plant.bloom:
        return _of_bulb(plant, site, rules)
    if spring_only(plant, site, rules):
        return ("spring",)
    if not plant.is_woody:
        return ("spring", "fall_herbaceous")
    return ("spring", "fall_evergreen" if plant.is_evergreen else "fall_deciduous")


def _of_bulb(plant: Facts, site: CareSite, rules: Rules) -> tuple[str, ...]:
    if plant.hardiness(site.zone) != "meets":
        return ("tender",)
    if plant.is_one_of(rules["planting.fall_blooming_bulb"].taxa):
        return ("fall_blooming_bulb",)
    return ("fall_bulb",) if blooms_early(plant, rules) else ("spring", "fall_herbaceous")


def blooms_early(plant: Facts, rules: Rules) -> bool:
    """Whether it is a bulb that blooms from late winter to early summer."""
    return plant.is_bulb and bool(plant.bloom) and min(plant.bloom) <= rules["planting.fall_bulb"].fields["blooms_to"]


def spring_only(plant: Facts, site: CareSite, rules: Rules) -> bool:
    """Whether fall planting is a risk: hardiness short, only just enough or unknown, or a plant that roots slowly in cold."""
    spare = plant.spare(site.zone)
    short = plant.hardiness(site.zone) in MARGINAL or (spare is not None and spare < _spare(rules))
    return short or "grass" in plant.kinds or bool(_slow(plant, site, rules))


def _slow(plant: Facts, site: CareSite, rules: Rules) -> tuple[Rule, ...]:
    """The rules by which a plant roots too slowly in the cold of fall here."""
    northern, broadleaf = rules["planting.spring_only"], rules["planting.broadleaf_spring"]
    found = [northern] if site.served(northern) and plant.is_of(northern) else []
    return (*found, *([broadleaf] if site.served(broadleaf) and plant.is_broadleaf_evergreen else []))


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
            bare = _bare(plant, site, rules, rule, third)
            words, sources = (*_why(plant, site), *bare), rule.sources
            if rule.name == "planting.spring":
                sources = (*sources, *(key for slow in _slow(plant, site, rules) for key in slow.sources))
            if bare:
                sources = (*sources, *rules["planting.bare_root"].sources)
            if plant.is_bamboo and plant.runs:
                words, sources = (*words, "barrier"), (*sources, *rules["prune.rhizomes"].sources)
            return [Drawn("plant", rule.name, left, (1, 1), words, sources, once=True)]
    return []


def _why(plant: Facts, site: CareSite) -> tuple[str, ...]:
    """What the wording adds: that it is marginal here."""
    return ("marginal",) if plant.hardiness(site.zone) == "with care" else ()


def _bare(plant: Facts, site: CareSite, rules: Rules, rule: Rule, third: int) -> tuple[str, ...]:
    """What the wording adds of bare roots, which only what drops its leaves is sold with: until when, or that it is too late."""
    if rule.name != "planting.spring" or not plant.is_woody or plant.persistence != "deciduous":
        return ()
    last = rules["planting.bare_root"].end
    assert last is not None
    return ("bare roots",) if third <= site.edge(last) else ("no bare roots",)
