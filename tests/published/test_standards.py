"""The program's zones, heat zones, classes of light, growth and conifer size against the published scales."""

from __future__ import annotations

from itertools import pairwise

import pytest

from askplant.base.opened import Base, Plant
from askplant.growth.course import course
from askplant.growth.known import AXES
from askplant.quantities import zones
from askplant.quantities.lengths import FOOT, INCH
from askplant.reading.read import read
from askplant.reading.reading import Condition, Reading
from askplant.verdicts import hardiness
from askplant.verdicts.scales import GROWTH, judge_growth
from askplant.verdicts.verdict import Site
from tests.published.tables import Agreement, Row, Taxa, number, table

LIGHT = ("full sun", "part sun", "part shade", "full shade")
# Below freezing no site is; what is warmer than this cannot be the lowest of a winter that callers tell as cold.
WARMEST_TOLD_F = 35
TENTH = 0.05


def zones_read(reading: Reading) -> tuple[str, ...]:
    """The half-zones a request asks for."""
    return next((tuple(map(str, c.values)) for c in reading.conditions if c.trait == "zone"), ())


# ---- cold: USDA Plant Hardiness Zone Map legend; the copy that was read is named in usda_zones.csv


@pytest.mark.parametrize(
    "place, row", list(enumerate(table("usda_zones"))), ids=lambda value: str(value) if isinstance(value, int) else ""
)
def test_half_zone_bounds(place: int, row: Row, real_base: Base) -> None:
    name, low, high = row["zone"] + row["half"], float(row["min_f"]), float(row["max_f"])
    assert (zones.index(name), zones.name(place)) == (place, name)
    assert (zones.coldest_f(place), zones.coldest_f(place) + zones.STEP_F) == (low, high)
    # The lower bound lies inside, the upper one in the next; between them every tenth of a degree.
    assert {zones.of_fahrenheit(low + tenth / 10) for tenth in range(50)} == {place}
    assert zones.of_fahrenheit(high) == min(place + 1, zones.COUNT - 1)
    # The printed °C are the °F bounds rounded to a tenth.
    assert float(row["min_c"]) == pytest.approx((low - 32) / 1.8, abs=TENTH + 1e-9)
    assert zones.of_celsius(float(row["min_c"]) + 0.1) == place
    if low < WARMEST_TOLD_F:
        assert zones_read(read(f"zone {name}", real_base)) == (name,)
    if low < 0:
        assert zones_read(read(f"shrub, winters down to {low:g} °F", real_base)) == (name,)


def test_half_zones_are_all_and_in_order() -> None:
    rows = table("usda_zones")
    assert [row["zone"] + row["half"] for row in rows] == [zones.name(number) for number in range(zones.COUNT)]


@pytest.mark.parametrize("row", table("rhs_hardiness"), ids=lambda row: row["rating"])
def test_rhs_rating_is_the_published_zones(row: Row, real_base: Base) -> None:
    """RHS Hardiness Ratings sheet, about 2013; the zones of H5 to H7 are recalled (column usda_equivalent_opened)."""
    published = _zones_of(row["usda_equivalent"])
    assert zones.RHS[row["rating"].lower()] == (published[0], published[-1]), row["source"]
    assert zones_read(read(f"RHS {row['rating']}", real_base)) == tuple(map(zones.name, published))


@pytest.mark.parametrize(
    "row", [row for row in table("rhs_hardiness") if row["min_c"] and row["max_c"]], ids=lambda row: row["rating"]
)
def test_rhs_rating_holds_the_middle_of_its_own_temperatures(row: Row) -> None:
    """The zones named beside a rating must hold the temperatures printed beside it, in the middle of the band at least."""
    low, high = zones.RHS[row["rating"].lower()]
    assert low <= zones.of_celsius((float(row["min_c"]) + float(row["max_c"])) / 2) <= high, row["source"]


def _zones_of(text: str) -> list[int]:
    """`7b/8a`, `10b`, `13` or `1 to 6a` as the numbers of half-zones."""
    ends = text.replace(" to ", "/").split("/")
    first, last = (end if end[-1] in "ab" else end + half for end, half in ((ends[0], "a"), (ends[-1], "b")))
    return list(range(zones.index(first), zones.index(last) + 1))


# ---- heat: Plant Heat-Zone Map, American Horticultural Society, 1997, as copied in ahs_heat_zones.csv


def test_heat_zones(real_base: Base, taxa: Taxa) -> None:
    rows = table("ahs_heat_zones")
    numbers = [int(row["zone"]) for row in rows]
    assert numbers == list(range(1, 13))
    means = real_base.traits()["heat_zone"].means
    assert f"1 = under {_day(rows[0]['days_to'])} day a year above {rows[0]['threshold_f']} °F" in means
    assert f"{numbers[-1]} = over {rows[-1]['days_over']}" in means
    # The zone from which a plant "takes the heat" begins at 90 days (the comment beside HOT).
    assert rows[hardiness.HOT - 1]["days_over"] == "90"
    for number_ in numbers:
        asked = [c for c in read(f"AHS heat zone {number_}", real_base).conditions if c.trait == "heat"]
        assert [c.values for c in asked] == [(number_,)], number_
    known = [taxa.values(plant)["heat_zone"] for plant in real_base.plants() if "heat_zone" in taxa.values(plant)]
    assert all(1 <= (value.low or 0) <= (value.high or 0) <= 12 for value in known)
    assert len(known) > 500


def _day(text: str) -> str:
    return {"1": "one"}[text]


# ---- light: hours of each publication's terms, in light_hours.csv


def test_light_hours_are_read_as_published(real_base: Base) -> None:
    """Hours in the middle of each published class, as the reader classes them, against the publication's own term.

    All publications agree on full sun. Part sun and part shade differ by when, not by how much, so that a term counts as
    agreeing when it or its neighbour among the two is among the classes read; the exact share is told.
    """
    near, exact = Agreement("light hours, or part sun for part shade"), Agreement("light hours, the very term")
    for row in table("light_hours"):
        hours = _middle(number(row["min_hours"]), number(row["max_hours"]))
        if hours is None:
            continue
        read_as = _light_read(real_base, hours)
        told = f"{row['publication']}: {row['term']} {hours:g} h, read as {', '.join(read_as)} ({row['source']})"
        place = LIGHT.index(row["term"])
        exact.add(row["term"] in read_as, told)
        parts = {"part sun", "part shade"}
        near.add(row["term"] in read_as or (row["term"] in parts and bool(parts & set(read_as))), told)
        assert min(abs(LIGHT.index(read) - place) for read in read_as) <= 1, told
        if row["term"] == "full sun":
            assert "full sun" in read_as, told
    near.holds(0.9, rows=25)
    exact.holds(0.75, rows=25)


def test_full_sun_begins_where_all_publications_have_it(real_base: Base) -> None:
    assert real_base.traits()["light"].values == LIGHT
    assert {row["min_hours"] for row in table("light_hours") if row["term"] == "full sun"} == {"6"}
    assert _light_read(real_base, 6) == ("full sun",)
    assert "full sun" not in _light_read(real_base, 5)


def _middle(low: float | None, high: float | None) -> float | None:
    """Hours inside a class; an open class by an hour beyond its bound."""
    if low is None and high is None:
        return None
    if high is None:
        return (low or 0) + 1
    return (low or 0) + (high - (low or 0)) / 2


def _light_read(base: Base, hours: float) -> tuple[str, ...]:
    conditions = read(f"shrub for {hours:g} hours of sun", base).conditions
    return next(tuple(map(str, condition.values)) for condition in conditions if condition.trait == "light")


# ---- growth: inches a year of each publication's classes, in growth_rate_classes.csv


def test_growth_classes(real_base: Base) -> None:
    """Every whole inch of a published class (an open one to twice its bound, at most 48), as the judge classes it."""
    assert real_base.traits()["growth"].values == GROWTH
    inches = Agreement("growth classes, inch by inch")
    rows = [row for row in table("growth_rate_classes") if _grade(row["class"])]
    for row in rows:
        low, high = int(row["min_in_per_year"] or 1), int(row["max_in_per_year"] or 48)
        for inch in range(low, high + 1):
            judged = _judged(inch)
            told = f"{row['publication']}: {row['class']} {inch} in, judged {judged} ({row['source']})"
            assert abs(GROWTH.index(judged) - GROWTH.index(_grade(row["class"]))) <= 1, told
            inches.add(judged == _grade(row["class"]), told)
    inches.holds(0.85, rows=300)


@pytest.mark.parametrize(
    "publication",
    [
        "Melinda Myers garden note (trees and shrubs)",
        "Arbor Day Foundation label scheme",
        "Dirr, Manual of Woody Landscape Plants (Stipes)",
    ],
)
def test_growth_classes_of_the_common_scheme(publication: str) -> None:
    """Slow to 12 inches, moderate 13 to 24, fast from 25: the scheme most publications share, without exception."""
    rows = {row["class"]: row for row in table("growth_rate_classes") if row["publication"] == publication}
    assert rows.keys() == {"slow", "medium", "fast"}
    for word, row in rows.items():
        ends = [int(cell) for cell in (row["min_in_per_year"], row["max_in_per_year"]) if cell]
        assert {_judged(inch) for inch in ends} == {_grade(word)}, row


def _grade(word: str) -> str:
    """Our class of a published one; classes between two of ours have none."""
    return {"slow": "slow", "medium": "moderate", "moderate": "moderate", "fast": "fast", "very fast": "fast"}.get(
        word, ""
    )


def _judged(inch: float) -> str:
    """The class of the one rate of growth for which the judge says yes without care."""
    rate = [inch * INCH, inch * INCH]
    found = [
        word
        for word in GROWTH
        if judge_growth(Condition("growth", "any_of", (word,)), [None, rate], Site()).verdict == "meets"
    ]
    assert len(found) == 1, (inch, found)
    return found[0]


# ---- conifer sizes: American Conifer Society, present page and older leaflet, in conifer_size_classes.csv

VERSIONS = ("ACS current web page", "ACS older leaflet")


@pytest.mark.parametrize("version", VERSIONS)
def test_conifer_classes_are_whole(version: str) -> None:
    """A version's classes follow one another without a gap, in rate and in size."""
    rows = [row for row in table("conifer_size_classes") if row["version"] == version]
    assert [row["class"] for row in rows] == ["miniature", "dwarf", "intermediate", "large"]
    for before, after in pairwise(rows):
        assert before["max_in_per_year"] == after["min_in_per_year"]
        assert before["max_ft_at_10_years"] == after["min_ft_at_10_years"]


@pytest.mark.parametrize("version", VERSIONS)
def test_conifers_keep_class_by_rate_and_by_size(version: str, taxa: Taxa) -> None:
    """The class of a conifer's stated growth, and that of the size our curve gives it at ten years.

    "Rates, not limits": a class either way is no contradiction, more is.
    """
    rows = [row for row in table("conifer_size_classes") if row["version"] == version]
    same, near = (
        Agreement(f"conifers, one class by rate and size ({version})"),
        Agreement(f"conifers, within a class ({version})"),
    )
    for plant in taxa.base.plants():
        values = taxa.values(plant)
        if (
            "conifer" not in taxa.words(plant, "group")
            or not {"growth_per_year", "height_grown", "width_grown"} <= values.keys()
        ):
            continue
        rate = values["growth_per_year"]
        by_rate = _class(rows, "in_per_year", ((rate.low or 0) + (rate.high or 0)) / 2 / INCH)
        size = _at_ten(taxa, plant)
        by_size = _class(rows, "ft_at_10_years", size)
        told = f"{plant.botanical}: class {by_rate} by rate, {by_size} by {size:.1f} ft at ten years"
        same.add(by_rate == by_size, told)
        near.add(abs(by_rate - by_size) <= 1, told)
    same.report()
    near.holds(0.95, rows=100)


def _class(rows: list[Row], unit: str, measured: float) -> int:
    """The number of the class a measure falls in, lowest first."""
    return sum(measured > float(row[f"max_{unit}"]) for row in rows if row[f"max_{unit}"])


def _at_ten(taxa: Taxa, plant: Plant) -> float:
    """Feet at ten years in its larger direction, by the growth curves."""
    found = [course(taxa.base, plant.n, axis) for axis in AXES]
    return max(one.at(10).middle for one in found if one is not None) / FOOT
