"""Ranks, prices, questions, loosenings, named plants and tensions of answers over small invented bases."""

from __future__ import annotations

from typing import Any

import pytest

from askplant.answer.answer import Answer, Options
from askplant.answer.compose import answer
from askplant.answer.rank import POINTS, points
from askplant.answer.single import compare, show, why
from askplant.quantities.lengths import FOOT
from askplant.reading.reading import Condition, Mention, Reading, Task
from askplant.verdicts.verdict import UNKNOWN, Advice, care, meets, misses

from ..verdicts.conditions import any_of, at_least, none_of, size
from ..verdicts.invented import InventedBase, feet

HEDGE: dict[str, Any] = {
    "kind": ["shrub"],
    "persistence": ["evergreen"],
    "height_grown": feet(8, 12),
    "width_grown": feet(4, 6),
    "uses": ["hedge", "screen"],
    "pests": "few",
    "deer": "rarely damaged",
    "light": ["full sun", "part sun"],
}


def ask(base: InventedBase, *conditions: Condition, **more: Any) -> Answer:
    return answer(Reading("invented", conditions, **more), base, Options(all=True))


def names(base: InventedBase, found: Answer) -> list[str]:
    return [base.botanical[match.plant] for match in found.matches]


def test_meets_is_worth_more_than_care_and_care_more_than_not_knowing() -> None:
    """The table of points keeps the order of the verdicts, whatever the margins."""
    told = [meets(None, 0.0), care(None, Advice("soil.clay"), 1.0), UNKNOWN, misses(None)]
    worth = [points(one) for one in told]
    assert worth == sorted(worth, reverse=True)
    assert points(meets(None, 1.0)) == 1.0
    assert all(low <= high for low, high in POINTS.values())


def test_a_granted_wish_lifts_and_an_unknown_lowers() -> None:
    """Three plants alike but for scent."""
    base = InventedBase(
        {
            "Alba alba": HEDGE | {"fragrance": ["no"]},
            "Blanda blanda": HEDGE,
            "Canora canora": HEDGE | {"fragrance": ["yes"]},
        }
    )
    found = ask(base, any_of("persistence", "evergreen"), any_of("fragrance", "yes", strength="wish"))
    assert names(base, found) == ["Canora canora", "Blanda blanda", "Alba alba"]
    assert found.matches[1].why.unknowns == (1,)
    assert found.matches[2].why.vain == (1,)


def test_a_list_varies() -> None:
    """Of three forms of one species and a stranger that fits nearly as well, the stranger comes second."""
    forms = {f"Alba alba '{name}'": HEDGE for name in ("A", "B", "C")}
    base = InventedBase(forms | {"Zona zona": HEDGE | {"deer": "seldom severely damaged"}})
    found = ask(base, any_of("persistence", "evergreen"), at_least("deer", "seldom severely damaged"))
    assert names(base, found)[1] == "Zona zona"
    assert [match.why.before for match in found.matches] == [0, 0, 1, 2]


def test_what_is_listed_as_invasive_falls_behind() -> None:
    """Elsewhere by a little, where the caller lives by much."""
    base = InventedBase({"Alba alba": HEDGE | {"invasive": "NY: banned"}, "Blanda blanda": HEDGE})
    found = ask(base, any_of("persistence", "evergreen"))
    here = ask(base, any_of("persistence", "evergreen"), task=Task(place="NY"))
    assert names(base, found) == names(base, here) == ["Blanda blanda", "Alba alba"]
    assert here.matches[1].fit < found.matches[1].fit
    assert "invasive" in {caution.about for caution in here.matches[1].cautions}


def test_the_price_of_a_wish() -> None:
    """Plants that one condition alone excludes are counted as its price."""
    base = InventedBase({"Alba alba": HEDGE, "Blanda blanda": HEDGE | {"persistence": ["deciduous"]}})
    found = ask(base, any_of("persistence", "evergreen"), any_of("kind", "shrub"))
    assert [(price.condition, price.misses, price.alone) for price in found.prices] == [(0, 1, 1)]


def test_alternatives_exclude_together() -> None:
    """Evergreen, or at least dense: either will do, and neither has a price alone."""
    base = InventedBase(
        {
            "Alba alba": HEDGE,
            "Blanda blanda": HEDGE | {"persistence": ["deciduous"], "density": ["dense"]},
            "Canora canora": HEDGE | {"persistence": ["deciduous"], "density": ["open"]},
        }
    )
    found = ask(base, any_of("persistence", "evergreen", either=1), any_of("density", "dense", either=1))
    assert names(base, found) == ["Alba alba", "Blanda blanda"]
    assert [(price.condition, price.alone) for price in found.prices] == [(0, 0), (1, 0)]
    assert {miss.condition for miss in found.near[0].misses} == {0, 1}


def test_near_misses_stand_nearest_first() -> None:
    """One miss before two, and of one miss the smaller shortfall."""
    wide = {f"Alba {name}": HEDGE | {"width_grown": feet(most)} for name, most in (("a", 9), ("b", 5), ("c", 6))}
    base = InventedBase(wide | {"Zona zona": HEDGE | {"width_grown": feet(5), "kind": ["vine"]}})
    found = ask(base, size("width", "at_most", None, 4), any_of("kind", "shrub"))
    assert [base.botanical[one.plant] for one in found.near] == ["Alba b", "Alba c", "Alba a", "Zona zona"]
    assert found.near[0].misses[0].judgement.off_by == pytest.approx(FOOT, abs=0.01)


def test_a_loosened_bound_is_the_next_round_one() -> None:
    """5.3 ft wide comes in at 5 ft and a half, said in metres; nothing milder does."""
    base = InventedBase({"Alba alba": HEDGE | {"width_grown": feet(4, 5.3)}})
    found = ask(base, size("width", "at_most", None, 4))
    (change,) = found.loosen[0].changes
    assert change.to is not None
    assert change.to.maximum == pytest.approx(5.5 * FOOT)
    metric = answer(Reading("", (size("width", "at_most", None, 4),), units="metric"), base)
    assert metric.loosen[0].changes[0].to is not None
    assert metric.loosen[0].changes[0].to.maximum == pytest.approx(1.7)


def test_a_bound_is_told_by_its_value_however_far_it_moves() -> None:
    """A 60 ft tree comes in at 60 ft where 3 ft was asked, not at any height."""
    base = InventedBase({"Alba alba": HEDGE | {"height_grown": feet(40, 60)}})
    (change,) = ask(base, size("height", "at_most", None, 3)).loosen[0].changes
    assert change.to is not None
    assert change.to.maximum == pytest.approx(60 * FOOT)


def test_loosening_widens_classes_before_it_gives_up() -> None:
    """Deciduous is added to evergreen, the next deer class is taken, and one of two animals is let go."""
    base = InventedBase(
        {
            "Alba alba": HEDGE | {"persistence": ["deciduous"]},
            "Blanda blanda": HEDGE | {"deer": "frequently severely damaged"},
            "Canora canora": HEDGE | {"poison": [["cats", "mild", "leaves"], ["dogs", "none known", ""]]},
        }
    )
    conditions = (
        any_of("persistence", "evergreen"),
        at_least("deer", "seldom severely damaged"),
        any_of("safe_for", "dogs", "cats"),
    )
    found = ask(base, *conditions)
    to = {change.condition: change.to for one in found.loosen for change in one.changes}
    assert to[0] == any_of("persistence", "evergreen", "deciduous")
    assert to[1] == at_least("deer", "occasionally severely damaged")
    assert to[2] == any_of("safe_for", "dogs")


def test_a_wide_range_of_zones_is_loosened_by_its_cold_end() -> None:
    """Somewhere in 5a to 7b: a plant of 6b comes in for whoever lives in 7a or milder, half a zone being shelter."""
    base = InventedBase({"Alba alba": HEDGE | {"zone_cold": 11, "zone_warm": 18}})
    found = ask(base, any_of("zone", "5a", "5b", "6a", "6b", "7a", "7b"))
    (change,) = found.loosen[0].changes
    assert change.to == any_of("zone", "6a", "6b", "7a", "7b")


def test_a_plant_asked_for_by_name_is_judged_as_named() -> None:
    """A holly? is answered for hollies, whether it is wished or required; what is refused is not brought up."""
    base = InventedBase({"Alba alba": HEDGE, "Zona zona": HEDGE})
    found = ask(base, any_of("taxon", "Zona", strength="wish"), none_of("taxon", "Alba"))
    assert [one.mention.plant for one in found.named] == ["Zona"]
    assert names(base, found) == ["Zona zona"]


def test_when_nothing_matches_something_is_always_offered() -> None:
    """Two wishes that no plant has together are given up together, or one by one."""
    base = InventedBase({"Alba alba": HEDGE | {"persistence": ["deciduous"], "kind": ["tree"]}})
    found = ask(base, any_of("persistence", "evergreen"), any_of("kind", "shrub"), none_of("taxon", "Alba alba"))
    assert not found.matches
    assert len(found.loosen[0].changes) == 3


def test_questions_are_about_what_was_not_said() -> None:
    """Plants that differ in light alone are asked about by hours of sun, unless light was said."""
    base = InventedBase(
        {"Alba alba": HEDGE | {"light": ["full sun"]}, "Blanda blanda": HEDGE | {"light": ["part shade", "full shade"]}}
    )
    found = ask(base, any_of("kind", "shrub"))
    light = next(question for question in found.ask_back if question.trait == "light")
    assert dict(light.splits) == {"six hours or more": 1, "four to six": 2, "two to four": 1, "under two": 1}
    told = ask(base, any_of("light", "full sun", "part shade")).ask_back
    assert told
    assert all(question.trait != "light" for question in told)
    assert ask(InventedBase({"Alba alba": HEDGE}), any_of("kind", "shrub")).ask_back == ()


def test_a_place_that_takes_any_kind_is_asked_about_its_kind() -> None:
    """A hedge is of shrubs, but a bank may be for grass, shrubs or a tree."""
    either: dict[str, Any] = {"uses": ["bank", "hedge"], "light": ["full sun"], "moisture": ["average"]}
    base = InventedBase({"Alba alba": either | {"kind": ["tree"]}, "Blanda blanda": either | {"kind": ["shrub"]}})
    asked = {use: {question.trait for question in ask(base, any_of("use", use)).ask_back} for use in ("bank", "hedge")}
    assert "kind" in asked["bank"]
    assert "kind" not in asked["hedge"]


def test_nobody_is_asked_whether_a_perennial_stays_green() -> None:
    """Of shrubs the same question is asked."""
    kinds: dict[str, Any] = {"kind": ["shrub", "perennial"], "light": ["full sun"]}
    base = InventedBase(
        {"Alba alba": kinds | {"persistence": ["evergreen"]}, "Blanda blanda": kinds | {"persistence": ["deciduous"]}}
    )
    for kind, there in (("shrub", True), ("perennial", False)):
        asked = {question.trait for question in ask(base, any_of("kind", kind)).ask_back}
        assert ("persistence" in asked) == there


def mention(plant: str, role: Any = "considered") -> Mention:
    return Mention(plant, role, plant, (0, 0))


def test_named_plants_are_judged_and_the_best_of_a_name_is_told() -> None:
    """A genus by its best plant, an excluded one by what excludes it, an unknown one as unknown."""
    base = InventedBase(
        {
            "Alba alba": HEDGE | {"persistence": ["deciduous"]},
            "Alba nigra": HEDGE,
            "Zona zona": HEDGE | {"width_grown": feet(9)},
        }
    )
    conditions = (any_of("persistence", "evergreen"), size("width", "at_most", None, 8))
    mentions = (mention("Alba"), mention("zona-zona", "died"), mention("Nowhere tree"))
    found = ask(base, *conditions, named=mentions).named
    assert [None if one.plant is None else base.botanical[one.plant] for one in found] == [
        "Alba nigra",
        "Zona zona",
        None,
    ]
    assert (found[0].bear, found[0].match, found[0].rank) == (2, 1, 1)
    assert [miss.condition for miss in found[1].misses] == [1]
    assert found[2].judgements == ()


def test_wishes_that_pull_against_each_other_are_told() -> None:
    """Twenty fast tall plants and twenty slow small ones: fast and small pull against each other."""
    tall = {f"Alta {n:02}": HEDGE | {"growth": "fast", "height_grown": feet(30, 40)} for n in range(20)}
    low = {f"Brevis {n:02}": HEDGE | {"growth": "slow", "height_grown": feet(2, 3)} for n in range(20)}
    base = InventedBase(tall | low)
    found = ask(base, any_of("growth", "fast"), size("height", "at_most", None, 6))
    (tension,) = found.tensions
    assert (tension.one, tension.other, tension.meet_one, tension.meet_other, tension.meet_both) == (0, 1, 20, 20, 0)


def test_why_tells_every_verdict_of_any_plant() -> None:
    """Matched with its rank, or excluded with what excludes it; the rank is the answer's own."""
    base = InventedBase({"Alba alba": HEDGE, "Blanda blanda": HEDGE | {"persistence": ["deciduous"]}})
    reading = Reading("", (any_of("persistence", "evergreen"), any_of("kind", "shrub")))
    whole = answer(reading, base)
    for plant in range(base.count):
        reasons = why(base, reading, plant)
        match = next((match for match in whole.matches if match.plant == plant), None)
        assert (reasons.rank, reasons.fit) == ((match.rank, match.fit) if match else (None, None))
        assert len(reasons.judgements) == 2
        assert bool(reasons.misses) == (match is None)


def test_plants_side_by_side_differ_first() -> None:
    """What differs stands before what is alike, and a silent card is no value."""
    base = InventedBase({"Alba alba": HEDGE, "Blanda blanda": HEDGE | {"pests": "aphids", "deer": "rarely damaged"}})
    found = compare(base, (0, 1))
    assert [trait.differs for trait in found.traits] == sorted((trait.differs for trait in found.traits), reverse=True)
    assert found.traits[0].trait == "pests"
    assert {row.trait for row in show(base, 0).rows} == set(HEDGE)


def test_so_many_are_shown_as_were_asked_for() -> None:
    """The request's own count wins over the default."""
    base = InventedBase({f"Alba {letter}": HEDGE for letter in "abcdefghijkl"})
    assert ask(base).shown == 8
    assert ask(base, task=Task(count=3)).shown == 3
    assert answer(Reading(""), base, Options(count=5)).shown == 5
