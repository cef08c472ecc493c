"""Water by the year: daily, every few days, then weekly; less in the second and third; afterwards by the card's drought class.
Annuals have one year. Plants of dry ground and succulents dry out between, bulbs are watered in.
"""

from __future__ import annotations

from askplant.care import planting, thirds
from askplant.care.facts import Facts
from askplant.care.rules import Rules
from askplant.care.site import CareSite
from askplant.care.task import Drawn
from askplant.care.thirds import Span

# A plant that is set out in fall is watered until the ground freezes, this many thirds after the mean first frost;
# common practice.
FREEZES = 4
DAYS_A_THIRD = 10.15


def drawn(plant: Facts, site: CareSite, rules: Rules, planted: int) -> list[Drawn]:
    """Every watering of one plant."""
    if plant.is_succulent:
        return _succulent(plant, site, rules, planted)
    season = _season(site, rules)
    if planting.blooms_early(plant, rules) and not plant.is_evergreen and not plant.is_annual(site.zone):
        return [_watered_in(site, rules, planted), *_while_green(plant, rules)]
    dry = plant.is_of_dry_ground(rules["water.dry"], site.zone)
    if plant.is_bulb:
        found = [_watered_in(site, rules, planted)]
    else:
        found = _settling(plant, site, rules, planted, ("dry_first", "dry_often") if dry else ("daily", "often"))
    if plant.is_annual(site.zone):
        weekly = rules["water.weekly"]
        left = thirds.without(season, [one.span for one in found])
        return [*found, *(Drawn("water", weekly.name, span, (1, 1), (), weekly.sources) for span in left)]
    rest = _after(found, season)
    if dry:
        rule = rules["water.dry"]
        first, last = rule.fields["seasons"]
        found.append(Drawn("water", rule.name, rest, (first, first), (), rule.sources))
        if last > first:
            found.append(Drawn("water", rule.name, season, (first + 1, last), (), rule.sources))
    for name in ("third",) if dry else ("weekly", "second", "third"):
        rule = rules[f"water.{name}"]
        first, last = rule.fields["seasons"]
        found.append(Drawn("water", rule.name, rest if name == "weekly" else season, (first, last), (), rule.sources))
    later = rules["water.later"]
    if plant.drought is not None:
        found.append(Drawn("water", f"water.{plant.drought}", season, (later.fields["first"], None), (), later.sources))
    freeze = rules["water.before_freeze"]
    span = site.span(freeze)
    if span and plant.is_evergreen and not dry and not plant.is_bulb and not site.frost.free and site.served(freeze):
        found.append(Drawn("water", "water.before_freeze", span, (1, 3), (), freeze.sources))
    return found


def _season(site: CareSite, rules: Rules) -> Span:
    if site.frost.free:
        return Span(0, thirds.YEAR)
    season = site.span(rules["water.season"])
    assert season
    return season


def _after(settling: list[Drawn], season: Span) -> Span:
    """The season from the end of the first weeks on, where these lie at its start; else all of it, which is the next year's."""
    end = (settling[-1].span.last - season.first) % thirds.YEAR if settling else thirds.YEAR
    if end < season.length / 2:
        return Span((season.first + end + 1) % thirds.YEAR, season.length - end - 1)
    return season


def _succulent(plant: Facts, site: CareSite, rules: Rules, planted: int) -> list[Drawn]:
    """Watered in, then in the first season whenever the soil has dried; afterwards by its drought class."""
    rule, later, season = rules["water.succulent"], rules["water.later"], _season(site, rules)
    first, last = rule.fields["seasons"]
    third = planted % thirds.YEAR
    from_planting = Span(third, (season.last - third) % thirds.YEAR + 1)
    found = [Drawn("water", rule.name, from_planting, (first, last), (), rule.sources)]
    if plant.drought is not None:
        found.append(Drawn("water", f"water.{plant.drought}", season, (last + 1, None), (), later.sources))
    return found


def _watered_in(site: CareSite, rules: Rules, planted: int) -> Drawn:
    """A bulb at planting, and as long as the ground is open and dry."""
    rule, third = rules["water.bulb"], planted % thirds.YEAR
    span = Span(third, min(int(rule.fields["length"]), _open(site, third)))
    return Drawn("water", rule.name, span, (1, 1), (), rule.sources, once=True)


def _while_green(plant: Facts, rules: Rules) -> list[Drawn]:
    """A spring bulb from bloom until its leaves have yellowed."""
    rule = rules["water.bulb_spring"]
    runs = thirds.of_months(plant.bloom)
    after = int(rule.fields["after_bloom"])
    return [Drawn("water", rule.name, Span(run.first, run.length + after), (1, None), (), rule.sources) for run in runs]


def _dose(plant: Facts) -> str:
    """How much is said: by the trunk, by the pot, or by the roots of a soft plant."""
    if not plant.is_woody:
        return "soft"
    if "tree" not in plant.kinds:
        return "pot"
    return "trunk" if "shrub" not in plant.kinds else "trunk or pot"


def _settling(plant: Facts, site: CareSite, rules: Rules, planted: int, names: tuple[str, str]) -> list[Drawn]:
    """The weeks after planting, as far as the ground is open."""
    open_until = planted + _open(site, planted % thirds.YEAR)
    words = (_dose(plant),)
    found = []
    for name in names:
        rule = rules[f"water.{name}"]
        first, last = (
            round(weeks * 7 / DAYS_A_THIRD) for weeks in (rule.fields["weeks"][0] - 1, rule.fields["weeks"][1])
        )
        count = min(planted + last, open_until) - planted - first
        if count > 0:
            span = Span((planted + first) % thirds.YEAR, count)
            found.append(Drawn("water", f"water.{name}", span, (1, 1), words, rule.sources, once=True))
    return found


def _open(site: CareSite, third: int) -> int:
    """How many thirds the ground stays open from then on."""
    if site.frost.free:
        return thirds.YEAR
    return (site.edge(("first", FREEZES)) - third) % thirds.YEAR or thirds.YEAR
