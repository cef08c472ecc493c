"""The tables of the care calendar: whole, with sources that exist, faults named by file and line."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from askplant import where
from askplant.base.opened import Base
from askplant.care import rules, site, thirds
from askplant.errors import CardError
from askplant.quantities import zones
from askplant.render.care_words import SAYS

RULES = rules.shipped()


def test_every_source_is_listed(real_base: Base) -> None:
    """Each key of the three tables stands in sources/."""
    keys = [key for rule in RULES.rules.values() for key in rule.sources]
    keys += [row.source for row in RULES.frost if row.source] + [key for pest in RULES.pests for key in pest.sources]
    assert [key for key in keys if real_base.source(key) is None] == []


def test_every_place_and_pest_has_a_source() -> None:
    """A row without one could not be told from a guess; only the zones rest on common practice."""
    assert all(row.source for row in RULES.frost if row.place)
    assert all(pest.sources and pest.look_for and pest.where and pest.months for pest in RULES.pests)


def test_every_rule_says_what_it_means() -> None:
    """For whoever mends it."""
    assert [rule.name for rule in RULES.rules.values() if not rule.fields.get("means")] == []


@pytest.mark.parametrize("zone", range(zones.COUNT))
def test_every_zone_has_its_year(zone: int) -> None:
    """In every half-zone every rule has a time within the year, or none; and last frost comes before the first."""
    here = site.site(zone, None, None, RULES)
    assert here.frost.last[1] < here.frost.first[0]
    for rule in RULES.rules.values():
        if rule.start is not None:
            span = here.span(rule)
            assert span is None or (0 <= span.first < 36 and 1 <= span.length <= 36), rule.name


def test_a_place_counts_before_its_zone() -> None:
    """Durham's own dates; a state's in common with the zone; both where they have nothing in common."""
    durham = site.site(zones.index("7b"), "Durham, NC", "NC", RULES).frost
    assert [thirds.say(third) for third in (*durham.last, *durham.first)] == ["mid April"] * 2 + ["late October"] * 2
    idaho = site.site(zones.index("8a"), None, "ID", RULES).frost
    assert idaho.last == (7, 12)
    assert site.site(zones.index("11a"), None, None, RULES).frost.free


def test_every_code_has_its_words() -> None:
    """A rule that becomes a task of its own is worded."""
    told = ("planting", "feed", "winter", "growth", "mulch")
    apart = {"planting.spring_only", "planting.broadleaf_spring", "planting.spare", "planting.bare_root"}
    silent = apart | {"winter.season"}
    names = {name for name in RULES.rules if name.split(".")[0] in told} - silent
    assert names <= SAYS.keys()


@pytest.mark.parametrize(
    "name, old, new, message",
    [
        (rules.RULES, 'from = "mid August"', 'from = "August"', r"care.toml:\d+: found a time in never.late_summer; .*"),
        (rules.RULES, '["last", -6]', '["thaw", -6]', r"care.toml:\d+: found a time in prune.late_winter; .*"),
        (rules.RULES, "zones_to", "zones_to = ]\nx", r"care.toml:\d+: found .*; expected TOML"),
        (rules.FROST, "04-22", "22 April", r"care_frost.csv:\d+: .*expected a day as month and day .*"),
        (rules.FROST, ",6b,", ",14c,", r"care_frost.csv:\d+: .*expected a half-zone from 1a to 13b"),
        (rules.PESTS, '"June"', '"Juno"', r"care_pests.csv:\d+: found months `Juno`; .*"),
        (rules.PESTS, "pest,taxa", "pest,taxon", r"care_pests.csv:1: found the columns .*"),
    ],
)  # fmt: skip
def test_faults_are_named(tmp_path: Path, name: str, old: str, new: str, message: str) -> None:
    """File, line, what was found and what was expected."""
    for table in (rules.RULES, rules.FROST, rules.PESTS):
        shutil.copy(where.folder("traits") / table, tmp_path / table)
    text = (tmp_path / name).read_text(encoding="utf-8")
    assert old in text
    (tmp_path / name).write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(CardError, match=message):
        rules.read(tmp_path)
