"""Every value of care.toml counts: each is read, and a sentence that says a figure follows it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import product
from typing import Any

import pytest

from askplant.base.opened import Base
from askplant.care import rules, site
from askplant.care.calendar import When, calendar
from askplant.care.rules import Rules
from askplant.care.task import Calendar
from askplant.quantities import zones
from askplant.quantities.lengths import Units
from askplant.render.care import worded_care

RULES = rules.shipped()
# One of each kind and way of living that a rule speaks of.
PLANTS = (
    "Acer saccharum", "Acer palmatum", "Quercus rubra", "Quercus virginiana", "Ulmus parvifolia", "Betula nigra",
    "Malus domestica", "Prunus persica", "Vaccinium corymbosum", "Syringa vulgaris", "Hydrangea paniculata",
    "Rosa rugosa", "Rhododendron catawbiense", "Buxus sempervirens", "Kalmia latifolia", "Ilex opaca",
    "Prunus laurocerasus", "Cornus kousa", "Thuja occidentalis", "Juniperus virginiana", "Pinus strobus",
    "Taxus × media", "Carpinus betulus", "Fagus sylvatica", "Lonicera periclymenum", "Wisteria sinensis",
    "Vinca minor", "Lavandula angustifolia", "Artemisia schmidtiana", "Penstemon strictus", "Salvia yangii",
    "Salvia rosmarinus", "Santolina chamaecyparissus", "Leucophyllum frutescens", "Larrea tridentata",
    "Purshia tridentata", "Cercocarpus montanus", "Purshia stansburiana", "Viburnum acerifolium",
    "Ceanothus thyrsiflorus", "Tulipa clusiana", "Asclepias tuberosa", "Achillea millefolium", "Pinus banksiana",
    "Hosta plantaginea", "Astilbe chinensis", "Heuchera villosa", "Helleborus × hybridus", "Miscanthus sinensis",
    "Dryopteris marginalis", "Phyllostachys nigra", "Fargesia rufa", "Opuntia humifusa", "Yucca filamentosa",
    "Agave parryi", "Agave americana", "Tulipa × gesneriana", "Colchicum autumnale", "Lycoris radiata",
    "Cyclamen hederifolium", "Lilium Oriental Group", "Lilium Asiatic Group", "Dahlia × hortensis", "Tagetes patula",
    "Viola × wittrockiana", "Antirrhinum majus", "Lobularia maritima", "Papaver nudicaule", "Petroselinum crispum",
    "Trachycarpus fortunei", "Hydrangea macrophylla",
)  # fmt: skip
SITES = ("4a", "6b", "8b", "9b", "10b")
STARTS = (2027 * 36, 2027 * 36 + 14, 2027 * 36 + 25)
SYSTEMS: tuple[Units, ...] = ("us", "metric")
# What sentences say of a rule, and the rules that say it without a task of their own.
FIGURES = ("depth", "rise", "weeks", "days", "times", "amount", "gallons", "pot")
FEW = 8  # calendars that hold a task are enough to see its sentence change
# Read when the tables are, or by whoever mends them.
OF_THE_TABLE = {"source", "means", "from", "to", "since", "until", "ends"}
Case = tuple[int, str, int]


def numbers(base: Base) -> list[int]:
    """The plants by number."""
    found = {plant.botanical: plant.n for plant in base.plants()}
    return [found[name] for name in PLANTS]


def made(base: Base, case: Case, table: Rules) -> Calendar:
    """The calendar of a case by some tables."""
    plant, zone, start = case
    return calendar(base, [plant], site.site(zones.index(zone), None, None, table), When(start), 5, table)


@lru_cache(maxsize=1)
def usual(base: Base) -> Mapping[Case, Calendar]:
    """The calendar of each case by the tables as they are; the times of planting taken by turns."""
    cases = [
        (plant, zone, STARTS[(n + at) % len(STARTS)])
        for (n, plant), (at, zone) in product(enumerate(numbers(base)), enumerate(SITES))
    ]
    return {case: made(base, case, RULES) for case in cases}


class Watched(dict[str, Any]):
    """The fields of a rule, which note what is read of them."""

    def __init__(self, fields: Mapping[str, Any]) -> None:
        super().__init__(fields)
        self.read: set[str] = set()

    def __getitem__(self, key: str) -> Any:
        self.read.add(key)
        return super().__getitem__(key)

    def get(self, key: str, default: Any = None) -> Any:
        """The same with a default."""
        self.read.add(key)
        return super().get(key, default)


def test_every_value_is_read(real_base: Base) -> None:
    """No knob that nothing reads, and no rule that nothing comes of: over plants of every kind."""
    watched = {name: Watched(rule.fields) for name, rule in RULES.rules.items()}
    table = Rules(
        {name: rule._replace(fields=watched[name]) for name, rule in RULES.rules.items()}, RULES.frost, RULES.pests
    )
    for case in usual(real_base):
        worded_care(made(real_base, case, table), real_base, "us")
    idle = [
        f"{name}: {key}"
        for name, fields in watched.items()
        for key in fields.keys() - fields.read - OF_THE_TABLE - set(FIGURES)
    ]
    assert idle == []


def test_every_rule_comes_to_something(real_base: Base) -> None:
    """Each rule of the groups that are tasks is the task of some plant."""
    codes = {task.code for drawn in usual(real_base).values() for task in drawn.tasks}
    cut_as_another = {"prune.grass", "prune.fruit", "prune.wait"}
    bounds = {
        "planting.spring_only",
        "planting.broadleaf_spring",
        "planting.spare",
        "planting.bare_root",
        "winter.season",
    }
    shared = {"water.season", "water.later"}
    silent = {name for name in RULES.rules if name.startswith("never.")} | cut_as_another | bounds | shared
    assert RULES.rules.keys() - silent - codes == set()


def changes(value: Any) -> Iterator[Any]:
    """The value with one number of it changed, or another word in its place."""
    if isinstance(value, list):
        yield from ([*value[:n], value[n] + 1, *value[n + 1 :]] for n in range(len(value)))
    elif value.endswith(" in"):
        low, _, high = value.removesuffix(" in").partition("-")
        yield f"{low}-{int(high or low) + 4} in"
    else:
        yield "half"


KNOBS = [
    (name, key, value)
    for name, rule in RULES.rules.items()
    for key, was in rule.fields.items()
    if key in FIGURES
    for value in changes(was)
]
TOLD_BY = {
    "water.later": {"water.sensitive", "water.moderate"},
    "prune.rhizomes": {"prune.rhizomes", "planting.spring"},
    "water.daily": {"water.daily", "water.often", "water.dry_first", "water.dry_often"},
}


@pytest.mark.parametrize("name, key, value", KNOBS)
def test_sentences_follow_the_figures(real_base: Base, name: str, key: str, value: Any) -> None:
    """Each number of the table changed by itself changes what a calendar says, in either system."""
    table = Rules({**RULES.rules, name: rules.rule(name, {**RULES[name].fields, key: value})}, RULES.frost, RULES.pests)
    told_by = TOLD_BY.get(name, {name})
    for units in SYSTEMS:
        assert any(
            [one.text for one in worded_care(made(real_base, case, table), real_base, units).said]
            != [one.text for one in worded_care(drawn, real_base, units).said]
            for case, drawn in _telling(real_base, told_by)
        ), units


def _telling(base: Base, codes: set[str]) -> Iterator[tuple[Case, Calendar]]:
    """A few calendars of each code."""
    for code in sorted(codes):
        held = [(case, drawn) for case, drawn in usual(base).items() if code in {task.code for task in drawn.tasks}]
        yield from [one for one in held if base.plant(one[0][0]).genus == "Phyllostachys"][:1]
        yield from held[:FEW]
