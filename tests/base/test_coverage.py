"""How much is known: counted over the demo plants, and laid out on any screen."""

from __future__ import annotations

from pathlib import Path

import pytest

from askplant.base.build import build
from askplant.base.coverage import coverage
from askplant.base.opened import Base
from askplant.render.coverage import coverage_json, coverage_text
from askplant.render.screen import Screen, cells


def test_plants_are_counted_by_trait_and_kind(base: Base) -> None:
    """Inherited values count; a dash does not; a plant of two kinds would count for both."""
    found = coverage(base)
    assert (found.plants, found.kinds) == (5, {"tree": 2, "shrub": 3})
    known = {one.trait: one for one in found.traits}
    assert list(known) == list(base.traits())
    assert (known["height_grown"].plants, known["height_grown"].kinds) == (5, {"tree": 2, "shrub": 3})
    assert (known["native"].plants, known["native"].kinds) == (2, {"shrub": 2})
    assert known["salt"].plants == 0


def test_a_value_counts_for_the_basis_it_rests_on(base: Base) -> None:
    """Of sources that disagree the one that was taken, of those that agree the most trusted."""
    known = {one.trait: one for one in coverage(base).traits}
    assert known["height_grown"].bases == {"opened": 5}
    assert known["light"].bases == {"opened": 1, "common practice": 4}
    assert known["poison"].bases == {"recalled": 3}


def test_heights_that_little_is_said_of(folder: Path, tmp_path: Path) -> None:
    """Statements and sources are counted over the three heights; a value without a source is a statement all the same."""
    cards = {
        "Abies one": "height_old: 9 ft [demo-opened]",
        "Abies two": "height_label: 9 ft\n    height_old: 9 ft [demo-opened]",
        "Abies three": "height_grown: 9 ft [demo-opened]\n    height_old: 9 ft [demo-recalled]",
        "Abies zero": "kind: tree",
    }
    text = "".join(f"{name}\n    {lines}\n" for name, lines in cards.items())
    (folder / "plants" / "abies.txt").write_text(text, encoding="utf-8")
    build(tmp_path / "few.sqlite", folder, "demo")
    base = Base.open(tmp_path / "few.sqlite")
    found = coverage(base)
    assert [base.ids[n] for n in found.few_heights] == ["abies-one", "abies-zero"]
    assert [base.ids[n] for n in found.few_sources] == ["abies-one", "abies-two", "abies-zero"]


def test_every_value_is_counted_once(real_base: Base) -> None:
    """The counts are those of the resolved values, plant by plant, and of the statements on each card."""
    found = coverage(real_base)
    values = [real_base.resolved(n) for n in range(real_base.count)]
    assert sum(found.bases.values()) == sum(map(len, values))
    for one in found.traits:
        having = [value[one.trait] for value in values if one.trait in value]
        assert one.plants == len(having)
        assert one.bases == {basis: count for basis in one.bases if (count := sum(v.basis == basis for v in having))}
    few = [
        n
        for n in range(real_base.count)
        if len(
            {row.source for row in real_base.rows(n) if row.trait.startswith("height_") and row.source} - {"resolved"}
        )
        < 2
    ]
    assert list(found.few_sources) == few


@pytest.mark.parametrize("width", [20, 40, 80, 110])
def test_the_table_fits_the_screen(real_base: Base, width: int) -> None:
    """Columns that find no room stand below; every trait has its row in each part, and no line is too long."""
    found = coverage(real_base)
    text = coverage_text(found, Screen(width))
    assert "\x1b" not in text
    if width >= 40:
        assert max(map(cells, text.splitlines())) <= width
    headings = [word for line in text.splitlines() if line.startswith("trait ") for word in line.split()[1:]]
    expected = ["known", "opened", "observed", "recalled", "common", "practice", *found.kinds]
    assert headings == expected
    parts = text.count("\ntrait ")
    assert all(text.count(f"\n{one.trait} ") == parts for one in found.traits)


def test_shares_are_whole_only_where_all_are_there(base: Base) -> None:
    """Rounded down; what nobody knows is nothing, and of no plants there is no share."""
    lines = coverage_text(coverage(base), Screen(110)).splitlines()
    shown = {line.split()[0]: line.split()[1:] for line in lines if line.startswith(("native ", "salt ", "kind "))}
    assert shown["kind"] == ["100", "100"]
    assert shown["native"] == ["0", "66"]
    first = {line.split()[0]: line.split()[1:] for line in reversed(lines) if line.startswith(("native ", "salt "))}
    assert first["native"] == ["40", "0", "0", "0", "100"]
    assert first["salt"] == ["0", "-", "-", "-", "-"]


def test_json_holds_the_shares_and_names_the_plants(base: Base) -> None:
    """From 0 to 1; null where there is nothing to have a share of."""
    told = coverage_json(coverage(base), base)
    assert (told["plants"], told["kinds"], told["few_heights"]) == (5, {"tree": 2, "shrub": 3}, [])
    native = next(one for one in told["traits"] if one["trait"] == "native")
    assert (native["plants"], native["share"], native["kinds"]) == (2, 0.4, {"tree": 0.0, "shrub": 0.6667})
    salt = next(one for one in told["traits"] if one["trait"] == "salt")
    assert set(salt["bases"].values()) == {None}
    assert sum(told["bases"].values()) == pytest.approx(1.0, abs=0.001)
