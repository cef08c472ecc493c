"""When to prune: by the card's time, by bloom and the wood it blooms on, and never when a source says not.

The time that a card names counts, with a word of what it costs. Where it is silent: flowers on last year's wood after bloom,
flowers on the wood of the year in late winter. Conifers by kind. From every time the times of harm are taken: mid August to leaf
fall, oak wilt, elm disease, the bleeders' spring.
"""

from __future__ import annotations

from askplant.care import planting, thirds
from askplant.care.facts import Facts
from askplant.care.rules import Edge, Rule, Rules
from askplant.care.site import CareSite
from askplant.care.task import Drawn, Unknown
from askplant.care.thirds import Span
from askplant.verdicts.holding import AFTER_FLOWERING, SELDOM, usual_time

# Where the card says when, the rule of that time; after flowering and seldom are dealt with apart.
RULE_OF = {
    "late winter": "prune.late_winter",
    "early spring": "prune.early_spring",
    "late spring": "prune.late_spring",
    "early spring or early summer": "prune.needled",
    "summer": "prune.summer",
    "dormant season": "prune.dormant",
}
CANDLES = ("Pinus",)
AT_REST = frozenset({"prune.late_winter", "prune.early_spring", "prune.dormant"})


def drawn(plant: Facts, site: CareSite, rules: Rules) -> tuple[list[Drawn], list[Unknown]]:
    """The pruning of one plant, and what is not known or leaves no time for it."""
    if plant.is_annual(site.zone):
        return [], []
    if plant.is_bulb:
        return _leaves(plant, rules), []
    if plant.prune_when == SELDOM:
        return [], [Unknown("prune.seldom", (plant.n,))]
    rule, usual = _usual(plant, site, rules)
    if rule is None or usual is None:
        return [], [Unknown("prune.unknown", (plant.n,))]
    left = thirds.without(usual, forbidden(plant, site, rules))
    if not left:
        rule, left = _otherwise(plant, site, rules, rule)
    if not left:
        return [], [Unknown("prune.no_time", (plant.n,), (thirds.say_span(usual),))]
    banned = bans(plant, site, rules)
    crop = rules["prune.fruit"].sources if "edible" in plant.fruit and rule.name in AT_REST else ()
    sources = tuple(dict.fromkeys((*rule.sources, *crop, *(key for ban in banned for key in ban.sources))))
    wait = int(rules["prune.wait"].fields["thirds"])
    never = _never(banned, site)
    code, words = _code(plant, rule), _words(plant, rules, never)
    return [
        *(
            Drawn("prune", code, span, (1, None), (*words, *_cost(plant, span, rules)), sources, wait, never=never)
            for span in left
        ),
        *_rhizomes(plant, site, rules),
    ], []


def _leaves(plant: Facts, rules: Rules) -> list[Drawn]:
    """The leaves of a bulb that dies back in summer, which feed it until they yellow."""
    if not planting.blooms_early(plant, rules) or plant.has_top_in_winter:
        return []
    rule = rules["prune.bulb"]
    runs, count = thirds.of_months(plant.bloom), int(rule.fields["thirds"])
    ends = _main(runs).last + 1
    return [Drawn("prune", rule.name, Span(ends % thirds.YEAR, count), (1, None), (), rule.sources)]


def _rhizomes(plant: Facts, site: CareSite, rules: Rules) -> list[Drawn]:
    """The runners of a bamboo, cut every year from the first on."""
    rule = rules["prune.rhizomes"]
    span = site.span(rule)
    if not (plant.is_bamboo and plant.runs and span):
        return []
    return [Drawn("prune", rule.name, span, (1, None), (), rule.sources)]


def _otherwise(plant: Facts, site: CareSite, rules: Rules, usual: Rule) -> tuple[Rule, tuple[Span, ...]]:
    """Another time where the usual one is all forbidden: bleeders in full leaf; flowers of the year's wood in late winter; what
    blooms again until fall after its first bloom.
    """
    bloom = thirds.of_months(plant.bloom)
    if len(bloom) > 1 and _waits_for_bloom(plant):
        after = Span((bloom[0].last + 1) % thirds.YEAR, int(usual.fields.get("thirds", 1)))
        return usual, thirds.without(after, forbidden(plant, site, rules))
    if plant.is_of(rules["never.bleeding"]):
        rule = rules["prune.summer"]
    elif plant.blooms_on == {"new"}:
        rule = rules["prune.late_winter"]
    else:
        return usual, ()
    span = site.span(rule)
    return rule, thirds.without(span, forbidden(plant, site, rules)) if span else ()


def _usual(plant: Facts, site: CareSite, rules: Rules) -> tuple[Rule | None, Span | None]:
    """The rule of a plant's time, and when that is here."""
    if _waits_for_bloom(plant):
        rule = rules["prune.long_bloom" if _blooms_past(plant, rules) else "prune.after_bloom"]
        bloom = thirds.of_months(plant.bloom)
        if not bloom:
            return None, None
        if rule.start is not None:
            return rule, site.span(rule)
        return rule, Span((_main(bloom).last + 1) % thirds.YEAR, int(rule.fields["thirds"]))
    if _is_cut_down(plant):
        rule = rules["prune.grass"]
        return (rule, site.span(rule)) if plant.prune_when or "grass" in plant.kinds else (None, None)
    name = RULE_OF.get(_time(plant) or "") or _by_wood(plant)
    return (rules[name], site.span(rules[name])) if name else (None, None)


def _is_cut_down(plant: Facts) -> bool:
    """Whether its top is cut down before new growth; pads that are cut in late spring stay."""
    return not plant.is_woody and plant.prune_when != "late spring"


def _waits_for_bloom(plant: Facts) -> bool:
    """Whether it is cut after bloom: its card says so, or says nothing and its buds are on the wood."""
    return _time(plant) == AFTER_FLOWERING and (plant.is_woody or _has_buds(plant))


def _time(plant: Facts) -> str | None:
    """The usual time in the words of the cards, as it is told of holding too."""
    return usual_time(plant.prune_when, plant.blooms_on, plant.shows and not plant.is_conifer)


def _spares_buds(plant: Facts) -> bool:
    """Whether buds are on the wood and no other time than that after bloom is named."""
    return _has_buds(plant) and _waits_for_bloom(plant)


def _has_buds(plant: Facts) -> bool:
    """Whether cutting before bloom costs what shows on last year's wood: flowers, or the fruit that comes of them."""
    return plant.blooms_on == {"old"} and plant.shows and not plant.is_conifer and bool(plant.bloom)


def _cost(plant: Facts, cut: Span, rules: Rules) -> tuple[str, ...]:
    """What the wording adds of a cut at the card's time that falls between late summer, when buds form, and the end of bloom."""
    if not _has_buds(plant) or _waits_for_bloom(plant):
        return ()
    bloom = _main(thirds.of_months(plant.bloom))
    before = thirds.span(_third(rules["never.late_summer"].start), bloom.first - 1)
    if {*before.thirds, *bloom.thirds}.isdisjoint(cut.thirds):
        return ()
    if "edible" in plant.fruit:
        return ("costs crop",)
    return ("costs bloom" if plant.flower == "showy" else "costs fruit",)


def _blooms_past(plant: Facts, rules: Rules) -> bool:
    """Whether flowers of last year's wood, begun by midsummer, go on until cutting would take the buds of the next."""
    if not _spares_buds(plant):
        return False
    cut = thirds.span(_third(rules["prune.long_bloom"].start), _third(rules["never.late_summer"].start))
    bloom = _main(thirds.of_months(plant.bloom))
    return set(cut.thirds) <= set(bloom.thirds)


def _third(at: Edge | None) -> int:
    assert isinstance(at, str)
    return thirds.of_words(at)


def _by_wood(plant: Facts) -> str | None:
    """Where the card names no time: new wood in late winter; nothing is guessed beyond that."""
    return "prune.late_winter" if plant.blooms_on == {"new"} else None


def _main(bloom: tuple[Span, ...]) -> Span:
    """The longest run of bloom, the first of equals: a second flush in fall does not move the time to cut."""
    return max(bloom, key=lambda run: run.length)


def forbidden(plant: Facts, site: CareSite, rules: Rules) -> tuple[Span, ...]:
    """The times at which a plant is not cut here."""
    spans = [span for rule in bans(plant, site, rules) if (span := _span(rule, site)) is not None]
    if _spares_buds(plant):
        stop = rules["never.late_summer"]
        assert stop.start is not None
        before = _main(thirds.of_months(plant.bloom)).first - 1
        spans.append(thirds.span(site.edge(stop.start), before))
        spans.extend(() if _blooms_past(plant, rules) else thirds.of_months(plant.bloom))
    return tuple(spans)


def bans(plant: Facts, site: CareSite, rules: Rules) -> tuple[Rule, ...]:
    """The rules that say when this plant is not cut here; for soft tops there are none."""
    if not plant.is_woody:
        return ()
    named = [rule for rule in rules.group("never") if rule.taxa and plant.is_of(rule) and site.served(rule)]
    blighted = [rules["never.fire_blight"]] if _has_blight(plant, rules) else []
    return (rules["never.late_summer"], *named, *blighted)


def _span(rule: Rule, site: CareSite) -> Span | None:
    return site.span(rule) if rule.start is not None else None


def _has_blight(plant: Facts, rules: Rules) -> bool:
    named = tuple(rules["never.fire_blight"].fields["pests"])
    return any(pest.lower().startswith(named) for pest in plant.pests or ())


def _code(plant: Facts, rule: Rule) -> str:
    if _is_cut_down(plant):
        return "prune.tidy" if plant.is_evergreen else "prune.cut_back"
    if plant.is_bamboo:
        return "prune.canes"
    if plant.is_succulent:
        return "prune.stalks" if rule.name == "prune.after_bloom" else "prune.pads"
    if rule.name == "prune.late_spring" and plant.is_one_of(CANDLES):
        return "prune.candles"
    return rule.name


def _words(plant: Facts, rules: Rules, never: tuple[tuple[str, Span], ...]) -> tuple[str, ...]:
    """What the wording adds: green wood only, a dry day, the harms that the time keeps away."""
    found = ["green only"] if plant.old_wood == "no" and plant.is_woody else []
    found += ["dry day"] if _has_blight(plant, rules) else []
    return (*found, *(harm for harm, _ in never))


def _never(banned: tuple[Rule, ...], site: CareSite) -> tuple[tuple[str, Span], ...]:
    """The harms of this kind of plant, each with its times here; rules of one harm together."""
    times: dict[str, set[int]] = {}
    for rule in banned:
        if rule.taxa and (span := _span(rule, site)):
            times.setdefault(rule.harm, set()).update(span.thirds)
    return tuple((harm, run) for harm, found in times.items() for run in thirds.runs(found))
