"""Winter: cover for the marginal, a screen for broadleaf evergreens, ties against snow, trunk guards, deer and rabbits."""

from __future__ import annotations

from askplant.care import planting
from askplant.care.facts import Facts
from askplant.care.rules import Rule, Rules
from askplant.care.site import CareSite
from askplant.care.task import Drawn

# What lies so, or so low, that snow does not splay it.
LAID_LOW = frozenset({"prostrate", "spreading", "mounded"})


def drawn(plant: Facts, site: CareSite, rules: Rules) -> list[Drawn]:
    """What one plant needs against winter here; nothing of cold where there is no frost."""
    if plant.is_annual(site.zone):
        return []
    found = [] if site.frost.free else _cold(plant, site, rules)
    for animal, said in (("deer", plant.deer), ("rabbit", plant.rabbit)):
        rule = rules[f"{'winter' if plant.has_top_in_winter else 'growth'}.{animal}"]
        if said in rule.fields["classes"]:
            task = _task(rule, site, rules, (1, None))
            early = planting.blooms_early(plant, rules) and not plant.has_top_in_winter
            up = site.span(rules["growth.rabbit"]) if early else None
            found.append(task._replace(span=up) if up else task)
    return found


def lifted(plant: Facts, site: CareSite, rules: Rules) -> list[Drawn]:
    """A bulb that winter kills in the ground is dug up; that ends its season."""
    rule = rules["winter.lift"]
    tender = plant.is_annual(site.zone) or plant.hardiness(site.zone) == "misses"
    if not (plant.is_bulb and tender) or site.frost.free:
        return []
    return [_task(rule, site, rules, (1, 1 if plant.is_annual(site.zone) else None))]


def _cold(plant: Facts, site: CareSite, rules: Rules) -> list[Drawn]:
    found = []
    hardiness = plant.hardiness(site.zone)
    if hardiness == "misses":
        return []  # nothing brings it through
    tie, trunk = rules["winter.tie"], rules["winter.trunk"]
    if hardiness == "with care":
        found.append(_task(_cover(plant, site, rules), site, rules))
    if _buds_freeze(plant, site, rules):
        found.append(_task(rules["winter.buds"], site, rules, (1, None)))
    elif hardiness != "with care" and _dries_out(plant, site, rules):
        found.append(_task(rules["winter.screen"], site, rules))
    if site.served(tie) and _splays(plant, tie):
        found.append(_task(tie, site, rules, (1, None)))
    if site.served(trunk) and "tree" in plant.kinds and not plant.is_evergreen and plant.is_of(trunk):
        found.append(_task(trunk, site, rules))
    return found


def _cover(plant: Facts, site: CareSite, rules: Rules) -> Rule:
    """What brings a marginal plant through: a frame is for upright wood, mulch for roots that stand it."""
    if plant.is_succulent or plant.is_of_dry_ground(rules["water.dry"], site.zone):
        return rules["winter.boughs"]
    upright = plant.is_woody and plant.has_top_in_winter and not plant.is_laid_low and not plant.is_bamboo
    return rules["winter.cover" if upright else "winter.mound"]


def _dries_out(plant: Facts, site: CareSite, rules: Rules) -> bool:
    """Whether it is upright wood with broad leaves in winter, near the cold end of its range, and of no dry ground."""
    rule, spare = rules["winter.screen"], plant.spare(site.zone)
    stands = not (plant.is_laid_low or plant.is_bamboo or plant.is_succulent or "vine" in plant.kinds)
    return (
        plant.is_broadleaf_evergreen
        and stands
        and site.served(rule)
        and (spare is None or spare <= rule.fields["spare"])
        and not plant.is_of_dry_ground(rules["water.dry"], site.zone)
    )


def _buds_freeze(plant: Facts, site: CareSite, rules: Rules) -> bool:
    """Whether the flower buds stand through winter on its wood, near the cold end of what the plant outlives."""
    rule, spare = rules["winter.buds"], plant.spare(site.zone)
    return "old" in plant.blooms_on and plant.is_of(rule) and spare is not None and spare <= rule.fields["spare"]


def _splays(plant: Facts, rule: Rule) -> bool:
    """Whether snow is known to break a conifer of those that often have several leaders."""
    upright = bool(plant.forms & set(rule.fields["forms"])) and not plant.forms & LAID_LOW
    return plant.is_conifer and plant.is_of(rule) and upright and plant.breakage in rule.fields["breakage"]


def _task(rule: Rule, site: CareSite, rules: Rules, seasons: tuple[int, int | None] | None = None) -> Drawn:
    """The task of a rule in its own time, else in the winter season."""
    span = site.span(rule if rule.start is not None else rules["winter.season"])
    assert span
    first, last = seasons or rule.fields["years"]
    return Drawn("protect", rule.name, span, (first, last), (), rule.sources)
