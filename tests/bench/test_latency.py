"""No key at the desk waits for the plants; `python -m tests.bench --only keys` prints what one costs."""

from __future__ import annotations

import statistics

from askplant.base.opened import Base
from tests.bench.keys import answered, latencies
from tests.bench.many import Many, tiles

FEW, MANY = 1_000, 10_000
# Many plants may cost a key so much more than few do.
MOST_TIMES = 3.0
ROUNDS = 2
LINE = "evergreen, zone 7, deer"


def test_the_bench_is_a_base(real_base: Base) -> None:
    """Each plant has one value a column, and the invented ones say so."""
    many = Many(real_base, 5_000)
    assert all(tiles(many, condition) for condition in ("height", "zone", "persistence"))
    assert "invented" in many.plant(4_999).botanical


def test_no_key_waits_for_the_plants(real_base: Base) -> None:
    """A key costs hardly more with ten times the plants: the best of two rounds each, turn by turn."""
    bases = {count: Many(real_base, count) for count in (FEW, MANY)}
    medians: dict[int, list[float]] = {count: [] for count in bases}
    for base in bases.values():
        answered(base)
    for _ in range(ROUNDS):
        for count, base in bases.items():
            medians[count].append(statistics.median(latencies(base, LINE)[0]))
    assert min(medians[MANY]) <= MOST_TIMES * min(medians[FEW])
