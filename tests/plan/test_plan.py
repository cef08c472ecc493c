"""A whole plan over invented plants: no wish missed, no share broken, the run filled, and a clear word where none is possible."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from askplant.answer.compose import answer
from askplant.plan import program
from askplant.plan.compose import plan
from askplant.plan.plan import Options, Plan, Refusal
from askplant.plan.shares import most
from askplant.plan.tables import Shares
from askplant.quantities.lengths import FOOT
from askplant.reading.reading import Condition, Purchase, Reading, Task
from askplant.render.plan import plan_json
from askplant.stock import Line, Offer, Stock

from ..verdicts.invented import InventedBase, feet

SCREEN = Condition("use", "any_of", ("screen",))
TALL = Condition("height", "at_least", minimum=8 * FOOT, unit="m", basis="grown")
SPECIES = (
    "Alba prima", "Alba secunda", "Alba secunda 'Una'", "Bruna prima", "Bruna secunda", "Clara prima", "Dura prima",
    "Dura secunda", "Egra prima", "Flava prima",
)  # fmt: skip
FAMILIES = {
    "Alba": "Onaceae",
    "Bruna": "Onaceae",
    "Clara": "Duaceae",
    "Dura": "Duaceae",
    "Egra": "Triaceae",
    "Flava": "Quaceae",
}


def shrub(**more: Any) -> dict[str, Any]:
    """A dense evergreen that screens, 10 to 12 ft by 5 to 6."""
    usual: dict[str, Any] = {
        "kind": ["shrub"], "persistence": ["evergreen"], "density": ["dense"], "uses": ["screen"], "growth": "fast",
        "height_grown": feet(10, 12), "width_grown": feet(5, 6), "light": ["full sun", "part shade"],
        "moisture": ["average"], "drought": "moderate", "pests": "few", "longevity": "long", "shearing": "yes",
    }  # fmt: skip
    return usual | more


def base_of(plants: dict[str, dict[str, Any]]) -> InventedBase:
    """A base in which every genus has its family."""
    return InventedBase({name: {"family": FAMILIES[name.split()[0]], **traits} for name, traits in plants.items()})


def reading_of(run: float | None = 60 * FOOT, *conditions: Condition, **task: Any) -> Reading:
    return Reading("a screen", (SCREEN, TALL, *conditions), Task(run=run, **task))


def stock_of(offers: Sequence[Offer]) -> Stock:
    """A list of these offers, one a line."""
    lines = [
        Line(row, "", offer.container, offer.price, offer.quantity, "sure", "name", (offer.plant,))
        for row, offer in enumerate(offers, 2)
    ]
    return Stock("list.csv", tuple(lines))


def planned(base: InventedBase, reading: Reading, options: Options | None = None, stock: Stock | None = None) -> Any:
    return plan(answer(reading, base), base, options, stock)


plants = st.fixed_dictionaries(
    {
        "height": st.integers(6, 20),
        "width": st.integers(3, 10),
        "persistence": st.sampled_from(["evergreen", "deciduous", "dies back"]),
        "density": st.sampled_from(["dense", "medium", "open"]),
        "growth": st.sampled_from(["slow", "moderate", "fast"]),
        "light": st.sampled_from([["full sun"], ["part shade"], ["full sun", "part shade"]]),
        "drought": st.sampled_from(["tolerant", "moderate", "sensitive"]),
        "pests": st.sampled_from(["few", "scale"]),
    }
).map(
    lambda given: shrub(
        height_grown=feet(given["height"], given["height"] + 2),
        width_grown=feet(given["width"], given["width"] + 1),
        persistence=[given["persistence"]],
        density=[given["density"]],
        growth=given["growth"],
        light=given["light"],
        drought=given["drought"],
        pests=given["pests"],
    )
)
bases = st.lists(plants, min_size=4, max_size=len(SPECIES)).map(
    lambda found: base_of(dict(zip(SPECIES, found, strict=False)))
)
options = st.builds(
    Options,
    rows=st.sampled_from(["single", "staggered"]),
    spacing=st.sampled_from(["close", "usual", "wide"]),
    shares=st.sampled_from([None, Shares(0.5, 0.5, 1.0), Shares(0.25, 0.5, 0.75)]),
)
runs = st.integers(10, 80).map(lambda number: number * FOOT)
limits = st.lists(
    st.sampled_from(
        [
            Condition("width", "at_most", maximum=8 * FOOT, unit="m", basis="grown"),
            Condition("light", "any_of", ("part shade",)),
            Condition("persistence", "any_of", ("evergreen",)),
        ]
    ),
    max_size=2,
    unique_by=lambda condition: condition.trait,
)


def kin(base: InventedBase, found: Plan) -> tuple[Counter[str], Counter[str], Counter[str]]:
    """How many plants there are of each species, genus and family."""
    species, genera, families = Counter[str](), Counter[str](), Counter[str]()
    for kind in found.kinds:
        one = base.plant(kind.plant)
        species[one.botanical.split(" '")[0]] += kind.number
        genera[one.genus] += kind.number
        families[str(one.family)] += kind.number
    return species, genera, families


@settings(max_examples=40, deadline=None)
@given(base=bases, run=runs, conditions=limits, chosen=options, spot=st.floats(0, 1))
def test_what_holds_of_every_plan(
    base: InventedBase, run: float, conditions: list[Condition], chosen: Options, spot: float
) -> None:
    """Filled within one spacing, no cap broken, no must missed, one position a plant in order, the same each time."""
    reading = reading_of(run, *conditions, spot=spot * run)
    told = answer(reading, base)
    found = plan(told, base, chosen)
    assert plan(told, base, chosen) == found
    if isinstance(found, Refusal):
        return
    matches = {match.plant: match for match in told.matches}
    for kind in found.kinds:
        assert all(
            one.verdict != "misses"
            for one, asked in zip(matches[kind.plant].judgements, reading.conditions, strict=True)
            if asked.strength == "must"
        )
    number = len(found.positions)
    for share, tally in zip(found.shares, kin(base, found), strict=True):
        assert max(tally.values()) <= most(share, number)
    assert 0 <= found.open_ends <= max(kind.room for kind in found.kinds) + 1e-3
    assert sum(kind.number * kind.room for kind in found.kinds) + found.open_ends == pytest.approx(run, abs=2e-3)
    assert Counter(place.kind for place in found.positions) == {n: kind.number for n, kind in enumerate(found.kinds)}
    assert [place.at for place in found.positions] == sorted(place.at for place in found.positions)
    assert all(0 < place.at < run for place in found.positions)
    assert found.kinds[found.best].dependable == max(kind.dependable for kind in found.kinds)


@settings(max_examples=40, deadline=None)
@given(base=bases, run=runs, counts=st.lists(st.integers(0, 6), min_size=10, max_size=10), more=st.integers(1, 4))
def test_more_stock_never_makes_a_plan_worse(base: InventedBase, run: float, counts: list[int], more: int) -> None:
    """With more of everything a plan that was possible stays so, and is worth at least as much."""
    offers = [Offer(n, "#5", 20.0, count) for n, count in zip(range(base.count), counts, strict=False) if count]
    grown = [offer._replace(quantity=offer.quantity + more) for offer in offers]
    grown += [Offer(n, "#5", 20.0, more) for n in range(base.count) if n not in {offer.plant for offer in offers}]
    reading = reading_of(run)
    before = planned(base, reading, stock=stock_of(offers))
    after = planned(base, reading, stock=stock_of(grown))
    if isinstance(before, Plan):
        assert isinstance(after, Plan)
        assert after.objective >= before.objective - 1e-5
        there = {offer.plant: offer.quantity for offer in offers}
        assert all(kind.number <= there[kind.plant] for kind in before.kinds)
        assert before.total == 20.0 * len(before.positions)


def six() -> dict[str, dict[str, Any]]:
    return {
        name: shrub()
        for name in ("Alba prima", "Bruna prima", "Clara prima", "Dura prima", "Egra prima", "Flava prima")
    }


def test_the_most_dependable_stands_at_the_spot() -> None:
    """One plant gives less trouble than the others: it covers the place that matters."""
    some = {name: traits | {"pests": "scale, blight"} for name, traits in six().items()}
    some["Clara prima"] = shrub()
    base = base_of(some)
    found = planned(base, reading_of(spot=20 * FOOT))
    at = [place.at for place in found.positions if base.plant(found.kinds[place.kind].plant).genus == "Clara"]
    assert min(abs(one - 20 * FOOT) for one in at) <= found.kinds[found.best].room / 2 + 1e-6
    assert found.off_spot == 0
    assert base.plant(found.kinds[found.best].plant).genus == "Clara"


def test_what_cannot_screen_is_set_aside() -> None:
    """Open crowns, dying tops, climbers and what stays too low are no screen, though they match."""
    some = six()
    some["Alba secunda"] = shrub(density=["open"])
    some["Bruna secunda"] = shrub(kind=["vine"])
    some["Dura secunda"] = shrub(persistence=["dies back"], kind=["perennial"])
    found = planned(base_of(some), reading_of())
    assert {"open", "climbs", "dies back"} <= dict(found.set_aside).keys()


def test_more_plants_stand_in_two_rows() -> None:
    """A third more, and every other one behind."""
    base = base_of(six())
    one, two = (planned(base, reading_of(), Options(rows=rows)) for rows in ("single", "staggered"))
    assert len(two.positions) == pytest.approx(len(one.positions) * 4 / 3, abs=1.5)
    assert [place.row for place in two.positions] == [n % 2 for n in range(len(two.positions))]
    assert two.apart_rows == pytest.approx(7 * FOOT)


def test_dry_ground_brings_them_closer() -> None:
    """By a quarter on dry soil (growers' guide to 'Green Giant' screens)."""
    base = base_of({name: traits | {"moisture": ["dry"]} for name, traits in six().items()})
    dry = Condition("moisture", "any_of", ("dry",))
    rooms = [planned(base, reading_of(60 * FOOT, *more)).kinds[0].room for more in ((), (dry,))]
    assert rooms[1] == pytest.approx(0.75 * rooms[0], abs=FOOT / 4)


def test_one_kind_where_that_is_asked() -> None:
    """A caller who wants all alike gets it: the shares are lifted."""
    some = {
        name: traits | {"width_grown": feet(width, width)}
        for (name, traits), width in zip(six().items(), range(4, 10), strict=True)
    }
    found = planned(base_of(some), reading_of(61 * FOOT, mixed=False))
    assert len(found.kinds) == 1
    assert found.caps[0] == len(found.positions)
    alone = planned(base_of(dict(list(some.items())[:1])), reading_of(61 * FOOT, mixed=False))
    assert len(alone.kinds) == 1
    assert len(planned(base_of(some), reading_of(mixed=False), Options(shares=Shares(0.34, 0.5, 0.67))).kinds) > 2


def test_a_search_that_was_broken_off_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the solver stops at its limit the row stands, and is not called the best."""
    assert planned(base_of(six()), reading_of()).proved
    monkeypatch.setattr(program, "BRANCHES", 1)
    some = {
        f"{name} {n}": traits | {"width_grown": feet(3.1 + 0.7 * n, 3.4 + 0.7 * n)}
        for n in range(6)
        for name, traits in six().items()
    }
    base, reading = base_of(some), reading_of(73.3 * FOOT)
    found = planned(base, reading)
    assert not found.proved
    told = plan_json(found, reading, base, "us")["plan"]
    assert not told["proved"]
    assert any("broken off" in line for line in told["assumptions"])


def test_a_substitute_is_said() -> None:
    """Where the best is short the nearest by rank stands in, and is named."""
    base = base_of(six())
    free = planned(base, reading_of())
    short = free.kinds[0].plant
    offers = tuple(Offer(n, "#5", None, 1 if n == short else 20) for n in range(base.count))
    found = planned(base, reading_of(), stock=stock_of(offers))
    one = next(one for one in found.substitutes if one.plant == short)
    assert (one.wanted, one.there) == (free.kinds[0].number, 1)
    assert sum(count for _, count in one.instead) == one.wanted - 1


def test_what_outgrows_its_bounds_is_told_with_its_cut() -> None:
    """Asked for 8 to 10 ft of a plant that is 20 ft in twenty years: by how much, and how it is held."""
    tall = Condition("height", "within", minimum=8 * FOOT, maximum=10 * FOOT, unit="m", basis="grown")
    some = {name: traits | {"height_grown": feet(18, 20), "old_wood": ["yes"]} for name, traits in six().items()}
    reading = Reading("a screen", (SCREEN, tall), Task(run=40 * FOOT))
    found = planned(base_of(some), reading)
    over = found.kinds[0].outgrown[0]
    assert over.axis == "height"
    assert over.by == pytest.approx(found.kinds[0].heights[-1].middle - 10 * FOOT)
    assert over.by > 8 * FOOT
    assert over.hold is not None
    assert over.hold.at == pytest.approx(10 * FOOT)


@pytest.mark.parametrize(
    "plants, reading, chosen, code",
    [
        (six(), reading_of(None), Options(), "no run"),
        (six(), reading_of(60 * FOOT, Condition("zone", "any_of", ("1a",)), Condition("kind", "any_of", ("palm",))),
         Options(), "nothing matches"),
        ({"Alba prima": shrub(density=["open"])}, reading_of(), Options(), "none can screen"),
        (dict(list(six().items())[:2]), reading_of(), Options(), "too few kinds"),
        (six(), reading_of(1 * FOOT), Options(), "run too short"),
        (six(), reading_of(1001 * FOOT), Options(), "run too long"),
        (six(), reading_of(60 * FOOT, Condition("width", "at_most", maximum=6 * FOOT, unit="m", basis="grown")),
         Options(rows="staggered"), "too shallow"),
    ],
)  # fmt: skip
def test_why_there_is_no_plan(plants: dict[str, Any], reading: Reading, chosen: Options, code: str) -> None:
    """Each way to fail has its own word."""
    found = planned(base_of(plants), reading, chosen)
    assert isinstance(found, Refusal)
    assert found.code == code


def test_the_share_that_is_named_makes_a_plan_possible() -> None:
    """A refusal for want of kinds names shares under which there is a plan."""
    base = base_of(dict(list(six().items())[:2]))
    refusal = planned(base, reading_of())
    assert refusal.shares is not None
    assert isinstance(planned(base, reading_of(), Options(shares=refusal.shares)), Plan)


def test_a_number_that_is_not_told_sets_no_bound() -> None:
    """A list without numbers is planned as if there were as many as it takes, and nothing is short."""
    base = base_of(six())
    found = planned(base, reading_of(), stock=stock_of([Offer(n, "", None, None) for n in range(base.count)]))
    assert isinstance(found, Plan)
    assert found.substitutes == ()
    assert found.objective == pytest.approx(planned(base, reading_of()).objective)


def test_a_budget_bounds_what_all_cost() -> None:
    """What is planned costs no more; where nothing comes within it, it says what the best would cost."""
    base = base_of(six())
    stock = stock_of([Offer(n, "#5", 20.0 + 3 * n, None) for n in range(base.count)])
    free = planned(base, reading_of(), stock=stock)
    assert planned(base, reading_of(buy=Purchase(total=free.total)), stock=stock).positions == free.positions
    for less in range(1, 80, 6):
        found = planned(base, reading_of(buy=Purchase(total=free.total - less)), stock=stock)
        assert isinstance(found, Refusal) or found.total <= free.total - less
    refused = planned(base, reading_of(buy=Purchase(total=30.0)), stock=stock)
    assert isinstance(refused, Refusal)
    assert (refused.code, refused.amounts) == ("over budget", (30.0, free.total))
    unpriced = planned(base, reading_of(buy=Purchase(total=30.0)))
    said = plan_json(unpriced, reading_of(buy=Purchase(total=30.0)), base, "us")
    assert any("the 30.00 asked are not counted" in text for text in said["plan"]["assumptions"])


def test_a_price_of_each_leaves_out_what_costs_more() -> None:
    """Said of each plant it bounds what is chosen from."""
    base = base_of(six())
    stock = stock_of([Offer(n, "#5", price, 50) for n in range(base.count) for price in (20.0, 60.0)])
    found = planned(base, reading_of(buy=Purchase(price=40.0, each=True)), stock=stock)
    assert {kind.offer.price for kind in found.kinds if kind.offer} == {20.0}


def test_too_small_a_stock() -> None:
    """Three plants of each do not cover 60 ft."""
    base = base_of(six())
    stock = stock_of([Offer(n, "", None, 1) for n in range(base.count)])
    found = planned(base, reading_of(), stock=stock)
    assert isinstance(found, Refusal)
    assert found.code == "stock too small"


@pytest.mark.parametrize(
    "said, about",
    [
        ("along the driveway", "sight"),
        ("overhead wires", "wires"),
        ("near the septic drains", "drains"),
        ("wildfire country", "fire"),
    ],
)
def test_words_raise_cautions(said: str, about: str) -> None:
    """Digging and the property line always; others where the request speaks of them."""
    base = base_of(six())
    plain = {one.about for one in planned(base, reading_of()).concerns}
    assert {"digging", "property line"} <= plain
    assert about not in plain
    reading = reading_of()._replace(request=f"a screen {said}")
    assert about in {one.about for one in planned(base, reading).concerns}


def test_what_only_tolerates_the_bed_is_named() -> None:
    """In full shade a plant of part shade is with care only: it and what to do are told, and no one says it does well."""
    shade = Condition("light", "any_of", ("full shade",))
    some = {name: traits | {"light": ["part shade", "full shade"]} for name, traits in six().items()}
    some["Clara prima"] |= {"light": ["part shade"]}
    base = base_of({name: some[name] for name in ("Alba prima", "Bruna prima", "Clara prima")})
    found = planned(base, reading_of(30 * FOOT, shade), Options(shares=Shares(0.4, 1.0, 1.0)))
    strained = [kind for kind in found.kinds if base.plant(kind.plant).genus == "Clara"]
    assert strained
    assert all(index == 2 and one.verdict == "with care" for index, one in strained[0].cares)
    assert found.bed.light == "full shade"
    assert found.bed.bears == (strained[0].plant,)
    told = plan_json(found, reading_of(30 * FOOT, shade), base, "us")["plan"]
    assert not any("does well in the same bed" in text for text in told["assumptions"])
    assert any("Clara prima only tolerates it" in text for text in told["assumptions"])


def test_the_bed_is_that_in_which_all_do_well() -> None:
    """Where no light was asked the brightest class that suits all is named, not the first by the alphabet."""
    base = base_of({name: traits | {"light": ["full shade", "full sun"]} for name, traits in six().items()})
    found = planned(base, reading_of())
    assert (found.bed.light, found.bed.bears, found.bed.silent) == ("full sun", (), ())


def test_what_a_neighbour_grows_over_is_said() -> None:
    """Where only wide and narrow kinds are to be had, the plan says which shades which, and from when."""
    some = {name: shrub(height_grown=feet(9, 10), width_grown=feet(2, 2)) for name in ("Alba prima", "Clara prima")}
    some |= {name: shrub(height_grown=feet(25, 30), width_grown=feet(28, 30)) for name in ("Dura prima", "Egra prima")}
    base, close = base_of(some), Options(spacing="close", shares=Shares(0.34, 0.5, 0.67))
    found = planned(base, reading_of(60 * FOOT), close)
    assert isinstance(found, Plan)
    genera = {base.plant(kind.plant).genus for kind in found.kinds}
    if genera & {"Alba", "Clara"} and genera & {"Dura", "Egra"}:
        assert found.overgrown
        assert all(0 < one.year <= 10 for one in found.overgrown)
        told = plan_json(found, reading_of(60 * FOOT), base, "us")["plan"]
        assert any("will shade it from about year" in text for text in told["assumptions"])
