"""Times that asking depends on, over a thousand demo cards."""

from __future__ import annotations

import random
import time
from pathlib import Path

import pytest

from askplant.base import cache
from askplant.base.build import build
from askplant.base.opened import Base

from .conftest import lay_out

CARDS, SPECIES = 1000, 200
BUILD_S, OPEN_MS, READY_MS = 5.0, 20.0, 10.0
CONDITIONS = ("persistence", "height", "form", "zone", "deer", "light", "fragrance", "use")
# What all demo species have in common.
ALIKE = """\
    common: demo holly
    kind: shrub, tree
    persistence: evergreen
    family: Aquifoliaceae
    density: dense
    moisture: average, moist
    drought: moderate
    soil: clay, loam
    salt: moderate
    wind: moderate
    bloom: May-June
    fragrance: no
    fruit: showy
    fruit_colour: red
    fruit_months: October-February
    poison: people: mild: fruit; dogs: mild: fruit
    thorns: none
    litter: low
    roots: well-behaved
    uses: screen, hedge
    prune_when: late winter
    shearing: yes
    old_wood: yes
"""


def card(number: int, dice: random.Random) -> str:
    """A demo card; every fifth is a species with all traits, the others are its cultivars with sizes of their own."""
    low = dice.randint(2, 60)
    sizes = (
        f"    height_label: {low}-{low + 2} ft\n    height_grown: {low}-{low + 4} ft [demo-opened]\n"
        f"    height_grown: {low + 1}-{low + 5} ft [demo-recalled]\n    height_old: {low + 9} ft [demo-recalled]\n"
        f"    width_grown: {low // 2 + 1}-{low // 2 + 3} ft [demo-opened]\n"
        f"    form: {dice.choice(['upright', 'rounded', 'columnar'])}\n"
    )
    species = f"Ilex demo{chr(97 + number // 5 // 26 % 26)}{chr(97 + number // 5 % 26)}"
    if number % 5:
        return f"{species} 'Demo {number}'\n    common: demo holly {number}\n{sizes}"
    return f"{species}\n{sizes}{varied(number, dice)}{ALIKE}"


def varied(number: int, dice: random.Random) -> str:
    """Values in which the demo species differ."""
    lines = (
        f"growth: {dice.choice(['slow', 'moderate', 'fast'])}",
        f"growth_per_year: {dice.randint(4, 30)} in",
        f"zone: {dice.randint(2, 6)}a-{dice.randint(7, 10)}b [demo-opened]",
        f"native: NJ, NC, FL, {dice.choice(['GA', 'SC', 'VA'])}",
        f"light: {dice.choice(['full sun', 'full sun, part sun', 'part shade'])}",
        f"ph: 4.5-{dice.randint(6, 8)}",
        f"deer: {dice.choice(['rarely damaged', 'seldom severely damaged'])} [demo-opened]",
        f"pests: few -- demo {number}",
    )
    return "".join(f"    {line}\n" for line in lines)


@pytest.fixture(scope="module")
def many(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A traits folder of a thousand cards."""
    folder = lay_out(tmp_path_factory.mktemp("many"))
    dice = random.Random(1)
    for path in (folder / "plants").iterdir():
        path.unlink()
    (folder / "observations.csv").unlink()
    (folder / "plants" / "ilex.txt").write_text(
        "".join(card(number, dice) for number in range(CARDS)), encoding="utf-8"
    )
    return folder


def test_building_and_opening_are_quick(many: Path, tmp_path: Path) -> None:
    """A thousand cards are built in five seconds, and a question's share of opening is twenty milliseconds."""
    path = tmp_path / "many.sqlite"
    start = time.perf_counter()
    build(path, many, "demo")
    assert time.perf_counter() - start < BUILD_S
    assert min(opening(path) for _ in range(11)) < OPEN_MS


def opening(path: Path) -> float:
    """Milliseconds to open a base, list its ids and fetch the sets of eight conditions."""
    start = time.perf_counter()
    base = Base.open(path)
    assert len(base.ids) == CARDS
    for condition in CONDITIONS:
        assert base.judged(condition)
    base.close()
    return (time.perf_counter() - start) * 1000


def test_a_start_with_nothing_changed_is_quick(many: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The files are looked at, not read."""
    monkeypatch.setattr(cache, "UNSETTLED", -1.0)
    cache.ready(traits=many, cache=tmp_path)

    def starting() -> float:
        start = time.perf_counter()
        cache.ready(traits=many, cache=tmp_path)
        return (time.perf_counter() - start) * 1000

    assert min(starting() for _ in range(11)) < READY_MS
