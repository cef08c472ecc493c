"""What must hold of every calendar, over the real base and over invented plants."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar as Ics

from askplant.answer.keeping import keep
from askplant.base.opened import Base
from askplant.care import planting, pruning, rules, seasons, site, thirds, winter
from askplant.care.calendar import When, calendar
from askplant.care.facts import Facts, facts
from askplant.care.task import Calendar
from askplant.quantities import zones
from askplant.render.care import worded_care
from askplant.render.care_ics import care_ics
from askplant.render.care_text import care_text
from askplant.render.screen import Screen, cells
from askplant.verdicts.holding import is_topped
from tests.test_schema import faults

RULES = rules.shipped()
STAMP = date(2027, 1, 5)
NOBODY = Facts(
    n=0, botanical="Planta ficta", kinds=frozenset({"shrub"}), group=frozenset(), persistence="deciduous",
    forms=frozenset(), cold=8, shelter=None, warm=None, drought="moderate", flower=None, bloom=(), blooms_on=frozenset(),
    fruit=frozenset(), fruit_months=(), prune_when=None, old_wood=None, deer=None, rabbit=None, breakage=None, pests=(),
    irritant=False, poisonous=False, thorny=False,
)  # fmt: skip


def at(zone: str) -> site.CareSite:
    """A site known by its zone alone."""
    return site.site(zones.index(zone), None, None, RULES)


def drawn(base: Base, plants: list[int], zone: int = 11, start: int = 2027 * 36, years: int = 3) -> Calendar:
    """A calendar over the real base."""
    return calendar(base, plants, site.site(zone, None, None, RULES), When(start), years, RULES)


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_calendars_hold_together(real_base: Base, data: st.DataObject) -> None:
    """Spans within the year, dates from planting on, every plant told, twelve months, text no wider than its screen, JSON of the
    published form, a calendar file that reads back with as many events as tasks, and all of it the same a second time."""
    plants = data.draw(st.lists(st.integers(0, real_base.count - 1), min_size=1, max_size=5, unique=True))
    zone, start = data.draw(st.integers(0, 25)), data.draw(st.integers(2026 * 36, 2029 * 36))
    made = drawn(real_base, plants, zone, start, data.draw(st.integers(1, 5)))
    for task in made.tasks:
        assert 0 <= task.span.first < 36
        assert 1 <= task.span.length <= 36
        assert made.first <= task.begins <= task.ends
        assert task.ends - task.begins < 36
        assert task.times == 1 or task.ends - task.begins + 1 == task.span.length
        assert set(task.plants) <= set(plants)
    said = worded_care(made, real_base, "us")
    assert len(said.json["months"]) == 12
    assert faults("care", said.json) == []
    assert all(cells(line) <= 80 for line in care_text(said, Screen()).splitlines())
    read = Ics.from_ical(care_ics(said, STAMP))
    events = read.walk("VEVENT")
    assert len(events) == len(made.tasks)
    assert len({str(event["uid"]) for event in events}) == len(events)
    again = worded_care(drawn(real_base, plants, zone, start, made.years), real_base, "us")
    assert care_ics(again, STAMP) == care_ics(said, STAMP)
    assert again == said


def test_events_are_whole_days_that_come_again(real_base: Base) -> None:
    """DTSTART and DTEND are days, DTSTAMP the day given, RRULE yearly for what comes every year and counted for what ends."""
    made = drawn(real_base, [real_base.index("thuja-occidentalis-smaragd")])
    for event, task in zip(
        Ics.from_ical(care_ics(worded_care(made, real_base, "us"), STAMP)).walk("VEVENT"), made.tasks, strict=True
    ):
        start, end = event["dtstart"].dt, event["dtend"].dt
        assert (type(start), type(end)) == (date, date)
        assert start == thirds.starts(task.begins)
        assert end == thirds.ends(task.ends) + timedelta(days=1)
        assert event["dtstamp"].dt.date() == STAMP
        assert event["categories"].cats == [task.kind]
        rule = event.get("rrule")
        assert (rule is not None) == (task.times != 1)
        assert rule is None or (rule["freq"], rule.get("count")) == (["YEARLY"], [task.times] if task.times else None)


def test_tasks_of_several_plants_are_one(real_base: Base) -> None:
    """Prune these, leave that until after it blooms."""
    names = ("hydrangea-paniculata", "syringa-vulgaris", "hydrangea-arborescens")
    made = drawn(real_base, [real_base.index(name) for name in names])
    early = [task for task in made.tasks if task.code == "prune.late_winter"]
    assert [len(task.plants) for task in early] == [2]
    assert [n for n, _ in early[0].leave] == [real_base.index("syringa-vulgaris")]
    text = care_text(worded_care(made, real_base, "us"), Screen(200))
    assert "prune Hydrangea paniculata and Hydrangea arborescens" in text
    assert "leave Syringa vulgaris until after it blooms" in text


def test_fewer_years_tell_less(real_base: Base) -> None:
    """One year leaves out the second and the third, never what goes on."""
    plant = [real_base.index("thuja-occidentalis-smaragd")]
    one, three = drawn(real_base, plant, years=1), drawn(real_base, plant, years=3)
    assert set(one.tasks) < set(three.tasks)
    assert {task.seasons for task in set(three.tasks) - set(one.tasks)} == {(2, 2), (3, 3)}


def test_annuals_have_one_season(real_base: Base) -> None:
    """From planting to the frost, all of it once; marigolds after the last frost, pansies before it or in fall."""
    frost = at("6b").frost
    marigold, pansy = (drawn(real_base, [real_base.index(name)]) for name in ("tagetes-patula", "viola-wittrockiana"))
    for made in (marigold, pansy):
        assert all(task.times == 1 for task in made.tasks)
        assert all(task.ends <= 2027 * 36 + frost.first[1] for task in made.tasks)
        watered = {
            moment for task in made.tasks if task.kind == "water" for moment in range(task.begins, task.ends + 1)
        }
        assert watered == set(range(made.first, max(watered) + 1))
        assert max(watered) % 36 >= frost.first[0] - 1
    assert marigold.first % 36 > frost.last[1]
    assert pansy.first % 36 < frost.last[0]
    autumn = drawn(real_base, [real_base.index("viola-wittrockiana")], zones.index("7b"), 2027 * 36 + 21)
    assert autumn.first % 36 in (28, 29)
    assert all(task.times == 1 and task.begins >= autumn.first for task in autumn.tasks)
    assert not [task for task in autumn.tasks if task.kind == "feed"]


def test_what_is_hardy_here_is_no_annual(real_base: Base) -> None:
    """Tulips go in in fall and come again; what only frost kills lives on where there is none of it."""
    tulips = drawn(real_base, [real_base.index("tulipa-gesneriana")])
    assert "planting.fall_bulb" in {task.code for task in tulips.tasks}
    assert any(task.times is None for task in tulips.tasks if task.code == "enjoy.bloom")
    known = facts(real_base, real_base.index("lantana-camara"))
    assert [known.is_annual(zones.index(zone)) for zone in ("6b", "8a", "8b", "10b")] == [True, True, False, False]


TIMES = {
    "after flowering": {"prune.after_bloom", "prune.long_bloom"},
    "late spring": {"prune.late_spring", "prune.candles"},
    "early spring or early summer": {"prune.needled"},
}
# Bamboos are thinned at the time that holding tells, and their runners cut in fall.
CANES = {"prune.canes", "prune.rhizomes"}
HELD_AT = 0.7  # of the grown height


@pytest.mark.parametrize("zone", ["5a", "6b", "8a"])
def test_holding_and_care_tell_one_time(real_base: Base, zone: str) -> None:
    """Of every plant that `hold` tells a time to cut: the calendar cuts it then, and at no other time. What is seldom pruned is
    cut only to hold it.
    """
    compared = 0
    for plant in real_base.plants():
        grown = keep(real_base, plant.n, "height", 1.0).size.grown
        told = keep(real_base, plant.n, "height", HELD_AT * sum(grown) / 2) if grown else None
        if (
            told is None
            or told.takes is None
            or told.reasons[:1] in [(reason,) for reason in NO_CUT]
            or not told.needed
        ):
            continue
        cuts, unknown = pruning.drawn(facts(real_base, plant.n), at(zone), RULES)
        when, codes = told.takes.when, {cut.code for cut in cuts}
        if told.size.prune_when == "seldom":
            assert [one.code for one in unknown] == ["prune.seldom"], plant.botanical
            continue
        compared += 1
        own = {f"prune.{when.removesuffix(' season').replace(' ', '_')}"}
        allowed = CANES if is_topped(told.size) else TIMES.get(when, own)
        assert codes, plant.botanical
        assert codes <= allowed, plant.botanical
    assert compared > 800


NO_CUT = ("kind", "weeping", "shearing", "unsaid")


# ---- invented plants


FACTS = st.builds(
    NOBODY._replace,
    persistence=st.sampled_from(["evergreen", "deciduous", None]),
    group=st.sampled_from([frozenset(), frozenset({"broadleaf evergreen"})]),
    cold=st.one_of(st.none(), st.integers(0, 25)),
    bloom=st.lists(st.integers(1, 12), max_size=5, unique=True).map(lambda months: tuple(sorted(months))),
    blooms_on=st.sampled_from([frozenset({"old"}), frozenset({"new"}), frozenset({"old", "new"}), frozenset()]),
    flower=st.sampled_from(["showy", "inconspicuous", None]),
    prune_when=st.sampled_from([*pruning.RULE_OF, "after flowering", "seldom", None]),
)


@given(FACTS, st.integers(0, 25))
def test_buds_of_last_year_are_spared(plant: Facts, zone: int) -> None:
    """Where the card names no other time, showy flowers of last year's wood are not cut between late summer and bloom."""
    cut = {t for one in pruning.drawn(plant, site.site(zone, None, None, RULES), RULES)[0] for t in one.span.thirds}
    assert not cut & set(range(22, 27))
    unnamed = plant.prune_when in (None, "after flowering")
    if unnamed and plant.blooms_on == {"old"} and plant.flower == "showy" and plant.bloom:
        bloom = max(thirds.of_months(plant.bloom), key=lambda run: run.length)
        before = thirds.span(22, bloom.first - 1)
        assert bloom.first in before or not cut & set(before.thirds)


@given(FACTS, st.integers(0, 25))
def test_planting_keeps_off_frozen_and_hot_ground(plant: Facts, zone: int) -> None:
    """The marginal never in fall; where frost comes none in the depth of winter, none in July."""
    here = site.site(zone, None, None, RULES)
    for rule, span in planting.seasons(plant, here, RULES):
        if plant.hardiness(zone) != "meets":
            assert "fall" not in rule.name
        assert not set(span.thirds) & {19, 20} or zone < zones.index("3a")
        if zone <= zones.index("7b"):
            assert not set(span.thirds) & {0, 1, 2, 3, 35}


@pytest.mark.parametrize(
    "changes, codes",
    [
        ({"cold": 12}, ["winter.cover"]),
        ({"group": frozenset({"broadleaf evergreen"}), "persistence": "evergreen"}, ["winter.screen"]),
        ({"deer": "rarely damaged"}, []),
        ({"deer": "frequently severely damaged"}, ["winter.deer"]),
        ({"botanical": "Tilia ficta", "kinds": frozenset({"tree"})}, ["winter.trunk"]),
        ({"botanical": "Thuja ficta", "group": frozenset({"conifer"}), "forms": frozenset({"columnar"})}, []),
        (
            {"botanical": "Thuja ficta", "group": frozenset({"conifer"}), "forms": frozenset({"columnar"}), "breakage": "weak"},
            ["winter.tie"],
        ),
    ],
)  # fmt: skip
def test_winter(changes: dict[str, object], codes: list[str]) -> None:
    """Cover for the marginal, a screen for broad leaves, ties where breakage is known, fences for what deer eat."""
    plant = NOBODY._replace(**changes)  # type: ignore[arg-type]
    assert [one.code for one in winter.drawn(plant, at("6b"), RULES)] == codes
    assert [one.code for one in winter.drawn(plant, at("11a"), RULES)] == [c for c in codes if c == "winter.deer"]


def test_unknown_values_give_no_task() -> None:
    """No months of bloom, no cut after it; no drought class, no later watering; strange pests, nothing to look for."""
    after = NOBODY._replace(prune_when="after flowering")
    assert pruning.drawn(after, at("6b"), RULES)[0] == []
    assert [one.code for one in pruning.drawn(after, at("6b"), RULES)[1]] == ["prune.unknown"]
    assert [one.code for one in pruning.drawn(NOBODY, at("6b"), RULES)[1]] == ["prune.unknown"]
    found, unknown = seasons.looks(NOBODY._replace(pests=("strange rot", "bagworm in the South")), RULES)
    assert [one.words for one in unknown] == [("strange rot",)]
    assert {one.words[0] for one in found} == {"bagworm"}
    assert [one.code for one in seasons.looks(NOBODY._replace(pests=None), RULES)[1]] == ["pests.unknown"]


def test_the_time_of_the_card_counts() -> None:
    """Over the buds of last year's wood too, with a word of what that costs; where the card is silent, after bloom."""
    plant = NOBODY._replace(blooms_on=frozenset({"old"}), flower="showy", bloom=(4, 5))
    (cut,), _ = pruning.drawn(plant._replace(prune_when="late winter"), at("6b"), RULES)
    assert (cut.code, cut.words) == ("prune.late_winter", ("costs bloom",))
    crop = plant._replace(prune_when="late winter", fruit=frozenset({"edible"}))
    assert pruning.drawn(crop, at("6b"), RULES)[0][0].words == ("costs crop",)
    for unnamed in (None, "after flowering"):
        (cut,), _ = pruning.drawn(plant._replace(prune_when=unnamed), at("6b"), RULES)
        assert (cut.code, cut.words) == ("prune.after_bloom", ())
    (cut,), _ = pruning.drawn(plant._replace(prune_when="late winter", blooms_on=frozenset({"new"})), at("6b"), RULES)
    assert cut.words == ()


def test_succulents_dry_between_waterings(real_base: Base) -> None:
    """No daily water, none every week, and no mulch; herbs are not watered by the inch of trunk."""
    for name in ("agave-parryi", "sempervivum-tectorum"):
        codes = {task.code for task in drawn(real_base, [real_base.index(name)]).tasks}
        assert "water.succulent" in codes
        assert not codes & {"water.daily", "water.often", "water.weekly", "water.second", "mulch.spring"}
    said = worded_care(drawn(real_base, [real_base.index("hosta-plantaginea")]), real_base, "us")
    assert "trunk" not in " ".join(one.text for one in said.said)


def test_rhododendrons_are_not_fed_after_midsummer() -> None:
    """Shortly after flowering, never after mid July, and not at all where nothing is left."""
    for bloom, last in (((5,), 17), ((6,), 19), ((7,), None)):
        plant = NOBODY._replace(botanical="Rhododendron fictum", bloom=bloom)
        fed = [one for one in seasons.drawn(plant, at("6b"), RULES) if one.kind == "feed"]
        assert [one.span.last for one in fed] == ([] if last is None else [last])


def test_fire_blight_asks_for_a_dry_day() -> None:
    """Late winter is the time for blighted wood (Purdue, 2014, opened); in growth only in dry weather (Kansas State, opened)."""
    plant = NOBODY._replace(prune_when="late winter", pests=("fire blight", "scab"))
    (cut,), _ = pruning.drawn(plant, at("6b"), RULES)
    assert "dry day" in cut.words


def test_feeding_only_where_usual() -> None:
    """Roses at bud break, no shrub besides (University of Washington, University of Maryland Extension, opened)."""
    fed = seasons.drawn(NOBODY._replace(botanical="Rosa ficta"), at("6b"), RULES)
    assert [one.code for one in fed if one.kind == "feed"] == ["feed.rose"]
    assert [one for one in seasons.drawn(NOBODY, at("6b"), RULES) if one.kind == "feed"] == []


def test_flower_buds_at_the_edge_of_hardiness_are_covered() -> None:
    """Of those whose buds are known to freeze, on old wood, near their limit; farther south, and on new wood, nothing."""
    bigleaf = NOBODY._replace(botanical="Hydrangea macrophylla", cold=zones.index("6a"), blooms_on=frozenset({"old"}))

    def codes(plant: Facts, zone: str) -> list[str]:
        return [one.code for one in winter.drawn(plant, at(zone), RULES)]

    assert "winter.buds" in codes(bigleaf, "6b")
    assert "winter.buds" not in codes(bigleaf, "8a")
    assert "winter.buds" not in codes(bigleaf._replace(blooms_on=frozenset({"new"})), "6b")
    assert "winter.buds" not in codes(bigleaf._replace(botanical="Planta ficta"), "6b")
