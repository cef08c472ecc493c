"""Winter: cover for the marginal, a screen for broadleaf evergreens, ties against snow, trunk guards, deer and rabbits."""

from __future__ import annotations

from askplant.care.facts import Facts
from askplant.care.rules import Rule, Rules
from askplant.care.site import CareSite
from askplant.care.task import Drawn

LAID_LOW = frozenset({"prostrate", "spreading", "mounded"})


def drawn(plant: Facts, site: CareSite, rules: Rules) -> list[Drawn]:
    """What one plant needs against winter here; nothing of cold where there is no frost."""
    if plant.is_annual(site.zone):
        return []
    found = [] if site.frost.free else _cold(plant, site, rules)
    for animal, said in (("deer", plant.deer), ("rabbit", plant.rabbit)):
        rule = rules[f"winter.{animal}"]
        if said in rule.fields["classes"]:
            found.append(_task(rule, site, rules, (1, None)))
    return found


def _cold(plant: Facts, site: CareSite, rules: Rules) -> list[Drawn]:
    found = []
    marginal = plant.hardiness(site.zone) == "with care"
    screen, tie, trunk = rules["winter.screen"], rules["winter.tie"], rules["winter.trunk"]
    if marginal:
        found.append(_task(rules["winter.cover"], site, rules))
    elif plant.is_broadleaf_evergreen and site.served(screen):
        found.append(_task(screen, site, rules))
    if site.served(tie) and _splays(plant, tie):
        found.append(_task(tie, site, rules, (1, None)))
    if site.served(trunk) and "tree" in plant.kinds and not plant.is_evergreen and plant.is_of(trunk):
        found.append(_task(trunk, site, rules))
    return found


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
