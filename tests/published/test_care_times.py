"""The times the care calendar gives, against published times to prune, to plant and to water.

The source of each pruning row stands in pruning_timing.csv; those of the worked examples beside them.
"""

from __future__ import annotations

from datetime import date

import pytest

from askplant.base.opened import Plant
from askplant.care import planting, pruning, rules, site, thirds
from askplant.care.calendar import When, calendar
from askplant.care.facts import facts
from askplant.care.task import Task
from askplant.quantities import zones
from tests.published.tables import Agreement, Taxa, table

RULES = rules.shipped()
HERE = site.site(zones.index("6b"), None, None, RULES)
WINTER = {11, 12, 1, 2, 3, 4}
SPRING = {3, 4, 5, 6}
# What each printed time allows, in months at zone 6b; None where the plant's own bloom decides or no time is printed.
ALLOWED = {
    "late winter": WINTER,
    "late winter, hard": WINTER,
    "late winter to early spring": WINTER,
    "late winter, before spring growth": WINTER,
    "late winter or early spring, dormant": WINTER,
    "late fall or early spring": WINTER,
    "winter, before spring growth": WINTER,
    "winter, dormant": WINTER,
    "early spring or when dormant": WINTER,
    "dormant season only (oak wilt)": WINTER,
    "late spring": {4, 5, 6},
    "early spring to mid June": SPRING,
    "summer, when sap is slow": {5, 6, 7, 8},
}
AFTER = {
    "after flowering",
    "after flowering, late spring or summer",
    "within two weeks after flowering",
    "right after flowering",
    "spring, after bloom",
}


def cuts(taxa: Taxa, plant: Plant) -> list[thirds.Span]:
    """The times at which the calendar has a plant cut in zone 6b."""
    drawn, _ = pruning.drawn(facts(taxa.base, plant.n), HERE, RULES)
    return [one.span for one in drawn]


def test_times_to_prune(taxa: Taxa) -> None:
    """Rows that print a time: every cut lies within it, or the plant is not cut by the calendar at all."""
    agreement = Agreement("care: printed months to prune")
    for row in table("pruning_timing"):
        allowed = ALLOWED.get(row["when"])
        if allowed is not None:
            agreement.add_row(
                taxa,
                row,
                "taxon",
                lambda plant, allowed=allowed: _within(cuts(taxa, plant), allowed),  # type: ignore[misc]
            )
    agreement.holds(0.85, rows=55)


def _within(spans: list[thirds.Span], months: set[int]) -> bool | None:
    return all(set(span.months) <= months for span in spans) if spans else None


def test_after_flowering(taxa: Taxa) -> None:
    """Rows that print after flowering: the calendar cuts no earlier than the main bloom's end, nor past mid August."""
    agreement = Agreement("care: after flowering")
    for row in table("pruning_timing"):
        if row["when"] in AFTER:
            agreement.add_row(taxa, row, "taxon", lambda plant: _after(taxa, plant))
    agreement.holds(0.85, rows=60)


def _after(taxa: Taxa, plant: Plant) -> bool | None:
    known = facts(taxa.base, plant.n)
    spans = cuts(taxa, plant)
    if not spans or not known.bloom:
        return None
    bloom = max(thirds.of_months(known.bloom), key=lambda run: run.length)
    return all((span.first - bloom.last) % thirds.YEAR <= 6 for span in spans)


@pytest.mark.parametrize("zone", ["4a", "5b", "6b", "7a", "8a", "9b", "11a"])
def test_nothing_is_cut_when_a_source_says_not(taxa: Taxa, zone: str) -> None:
    """No cut of any plant, in any zone: oaks and elms from April through October (Illinois 2016, opened: April to October; a
    Wisconsin column, opened: not from April to November), oaks of the South from February on (Texas A&M Forest Service, as told
    at abc13.com, opened: February through June), bleeders before they are in leaf (Illinois), any woody plant from mid
    August to late September (University of Georgia, opened: not from mid August to leaf fall), and flowers or berries of last
    year's wood between late summer and bloom, where the card names no other time.
    """
    here = site.site(zones.index(zone), None, None, RULES)
    for plant in taxa.base.plants():
        known = facts(taxa.base, plant.n)
        drawn, _ = pruning.drawn(known, here, RULES)
        cut = {third for one in drawn if one.code != "prune.rhizomes" for third in one.span.thirds}
        if known.is_woody:
            assert not cut & set(range(22, 27)), plant.botanical
        if plant.genus in ("Quercus", "Ulmus"):
            assert not cut & set(range(9, 30)), plant.botanical
        if plant.genus == "Quercus" and here.zone >= zones.index("7b"):
            assert not cut & set(range(3, 18)), plant.botanical
        if plant.genus in ("Acer", "Betula", "Juglans"):
            assert not cut & {(here.frost.last[0] + step) % 36 for step in (-3, -2, -1, 0, 1)}, plant.botanical
        unnamed = known.prune_when in (None, "after flowering")
        if unnamed and known.blooms_on == {"old"} and known.shows and known.bloom and not known.is_conifer:
            bloom = max(thirds.of_months(known.bloom), key=lambda run: run.length)
            before = thirds.span(22, bloom.first - 1)
            assert bloom.first in before or not cut & set(before.thirds), plant.botanical


@pytest.mark.parametrize("zone", ["5a", "6b", "7b"])
@pytest.mark.parametrize(
    "name",
    [
        "Malus domestica",
        "Pyrus communis",
        "Prunus domestica",
        "Prunus persica",
        "Vaccinium corymbosum",
        "Rubus fruticosus",
    ],
)
def test_fruit_crops_are_cut_at_rest(taxa: Taxa, name: str, zone: str) -> None:
    """January to early March in the Northeast, stone fruit up to early bloom (Rutgers University, opened); on 1 March in Utah,
    still at rest (Utah State University Extension, opened); blueberries January to early March in Oregon, cane berries at rest
    (Oregon State University Extension, opened). None after the last frost, and each says what it costs.
    """
    plant, here = taxa.one(name), site.site(zones.index(zone), None, None, RULES)
    assert plant
    drawn, _ = pruning.drawn(facts(taxa.base, plant.n), here, RULES)
    assert len(drawn) == 1
    assert drawn[0].span.last <= here.frost.last[1]
    assert "costs crop" in drawn[0].words
    assert ("dry day" in drawn[0].words) == (name in ("Malus domestica", "Pyrus communis"))


@pytest.mark.parametrize("name", ["Ilex verticillata", "Cornus sericea", "Cornus alba"])
def test_stems_and_berries_of_winter(taxa: Taxa, name: str) -> None:
    """At the end of winter, as their cards say, not in June among the berries (common practice)."""
    plant = taxa.one(name)
    assert plant
    (cut,), _ = pruning.drawn(facts(taxa.base, plant.n), HERE, RULES)
    assert set(cut.span.months) <= {2, 3, 4}


def test_conifers_by_kind(taxa: Taxa) -> None:
    """Pines in late spring, spruce, fir, hemlock, arborvitae and juniper from early spring to mid June, none of them past the
    green, which a yew stands (Pruning Evergreens in the Landscape, University of New Hampshire Extension, opened)."""
    for name in ("Pinus strobus", "Picea abies", "Tsuga canadensis", "Thuja occidentalis", "Taxus × media"):
        plant = taxa.one(name)
        assert plant
        drawn, _ = pruning.drawn(facts(taxa.base, plant.n), HERE, RULES)
        assert len(drawn) == 1
        assert set(drawn[0].span.months) <= {3, 4, 5, 6}
        assert (drawn[0].code == "prune.candles") == (plant.genus == "Pinus")
        assert ("green only" in drawn[0].words) == (plant.genus != "Taxus")


# ---- planting


def test_fall_planting_in_iowa(taxa: Taxa) -> None:
    """Evergreens by early October, deciduous trees up to early or mid November (Planting Trees in Late Summer/Early Fall, Iowa
    State University, 2011, opened); Chicago Botanic Garden (opened): evergreens no later than 1 October.
    """
    iowa = site.site(zones.index("5a"), None, "IA", RULES)
    spruce, maple = taxa.one("Picea abies"), taxa.one("Acer saccharum")
    assert spruce
    assert maple
    (_, spring), (_, fall) = planting.seasons(facts(taxa.base, spruce.n), iowa, RULES)
    assert fall.last <= thirds.of_words("early October")
    assert {4, 5} <= set(spring.months) <= {3, 4, 5, 6}
    (_, _), (_, fall) = planting.seasons(facts(taxa.base, maple.n), iowa, RULES)
    assert thirds.of_words("late October") <= fall.last <= thirds.of_words("mid November")


@pytest.mark.parametrize("name", ["Magnolia stellata", "Cercis canadensis", "Cornus kousa", "Acer palmatum"])
def test_marginal_trees_of_chicago_in_spring(taxa: Taxa, name: str) -> None:
    """Best planted in spring (Planting Trees and Shrubs in Fall, Chicago Botanic Garden, opened)."""
    plant = taxa.one(name)
    assert plant
    chicago = site.site(zones.index("6a"), "Chicago, IL", "IL", RULES)
    assert [rule.name for rule, _ in planting.seasons(facts(taxa.base, plant.n), chicago, RULES)] == ["planting.spring"]


def test_marginal_plants_are_never_planted_in_fall(taxa: Taxa) -> None:
    """Hardy only in shelter, one half-zone short, or not known to be hardy: spring, so that roots have a season (common
    practice; a Virginia grower stops setting Leyland cypress after mid October).
    """
    for name in ("4b", "6b", "7b", "8b"):
        here = site.site(zones.index(name), None, None, RULES)
        for plant in taxa.base.plants():
            known = facts(taxa.base, plant.n)
            if known.hardiness(here.zone) != "meets" and not known.kinds & {"annual", "bulb", "palm"}:
                assert all("fall" not in rule.name for rule, _ in planting.seasons(known, here, RULES)), plant.botanical


# ---- water


def _waters(taxa: Taxa, name: str, start: date) -> dict[str, Task]:
    plant = taxa.one(name)
    assert plant
    drawn = calendar(taxa.base, [plant.n], HERE, When(thirds.of_date(start), 3), 3, RULES)
    return {task.code: task for task in drawn.tasks if task.kind == "water"}


def test_watering_of_minnesota(taxa: Taxa) -> None:
    """Weeks 1 and 2 daily, 3 to 12 every two or three days, then weekly (Watering newly planted trees and shrubs, University of
    Minnesota Extension, opened); new trees are watched for the first three years (City of Fayetteville, Arkansas, opened)."""
    water = _waters(taxa, "Acer saccharum", date(2027, 4, 1))
    assert thirds.starts(water["water.daily"].begins) == date(2027, 4, 1)
    days = (thirds.ends(water["water.often"].ends) - date(2027, 4, 1)).days
    assert 12 * 7 - 5 <= days <= 12 * 7 + 5
    assert [water[f"water.{name}"].seasons for name in ("weekly", "second", "third")] == [(1, 1), (2, 2), (3, 3)]
    assert thirds.starts(water["water.second"].begins).year == 2028
    assert water["water.weekly"].span.first == (water["water.often"].span.last + 1) % 36
    (later,) = (task for task in water.values() if task.seasons[1] is None)
    assert later.seasons == (4, None)


def test_a_fall_planting_has_its_first_summer_next_year(taxa: Taxa) -> None:
    """What is set out in October is watered until the ground freezes, and weekly from the next spring on."""
    water = _waters(taxa, "Acer saccharum", date(2027, 10, 1))
    assert thirds.starts(water["water.weekly"].begins).year == 2028
    assert thirds.ends(water["water.often"].ends) < date(2027, 12, 1)


# ---- frosts


MOUNTAINS = ("CO", "ID", "MT")  # where frost goes on long after the winter's worst, whatever the zone


def test_the_frosts_of_zones_hold_those_of_places() -> None:
    """The common practice of each half-zone takes in the published means of the places in it (half-zones recalled)."""
    of_zone = {row.zone: row for row in RULES.frost if not row.place}
    for row in RULES.frost:
        if not row.place or row.place.endswith(MOUNTAINS) or row.place in ("Transou, NC", "Lancaster County, PA"):
            continue
        for own, whole in ((row.last, of_zone[row.zone].last), (row.first, of_zone[row.zone].first)):
            if own:
                assert whole
                assert whole[0] - 1 <= own[0] <= whole[1] + 1, row
