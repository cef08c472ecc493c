"""How long a plan takes, as a ratio to a peer in the same run, so that a slow machine decides nothing.

The time is told (`-s` shows it); what is held is that the exact choice is far quicker than looking at every possibility, and
worth no less than a choice by greed.
"""

from __future__ import annotations

import random
import time
from collections import Counter
from collections.abc import Sequence

from askplant.plan.candidates import Candidate
from askplant.plan.counts import HAIR, KIN, Prices, counts, worth_of
from askplant.plan.order import STRETCH, Sort, ordered
from askplant.plan.shares import most
from askplant.plan.tables import Shares
from tests.plan.invented_rows import STEP, candidate
from tests.plan.test_counts import every, keeps

CAPS = Shares(0.34, 0.5, 0.67)
RUN = 100 * 0.3048
CANDIDATES = 40


def field(seed: int, number: int) -> list[Candidate]:
    """Plants of some genera and families, of rooms from 3 to 12 ft, with what they are worth."""
    dice = random.Random(seed)
    return [
        candidate(
            n,
            STEP * dice.randint(6, 24),
            round(dice.uniform(0.4, 1.0), 4),
            genus=f"G{dice.randrange(15)}",
            species=f"S{dice.randrange(30)}",
            family=f"F{dice.randrange(10)}",
            dependable=dice.random(),
        )
        for n in range(number)
    ]


def greedy(plants: Sequence[Candidate], run: float, caps: Shares) -> tuple[int, ...]:
    """The best plant a metre that fits and keeps to the shares of the number of plants it ends with, again and again."""
    longest = int(run / min(one.room for one in plants))
    best: tuple[int, ...] = (0,) * len(plants)
    for number in range(1, longest + 1):
        found, left, tally = [0] * len(plants), run, Counter[str]()
        for _ in range(number):
            fitting = [
                n
                for n, one in enumerate(plants)
                if one.room <= left + HAIR
                and all(tally[kin(one)] < most(share, number) for share, kin in zip(caps, KIN, strict=True))
            ]
            if not fitting:
                break
            taken = max(fitting, key=lambda n: plants[n].value / plants[n].room)
            found[taken] += 1
            left -= plants[taken].room
            tally.update(kin(plants[taken]) for kin in KIN)
        if keeps(plants, found, run, caps) and worth_of(plants, found) > worth_of(plants, best):
            best = tuple(found)
    return best


def test_a_long_row_of_forty_candidates() -> None:
    """A hundred feet: exact counts are worth more than those of greed, and the order comes after them."""
    exact_time = order_time = 0.0
    gained = []
    for seed in range(3):
        plants = field(seed, CANDIDATES)
        start = time.perf_counter()
        found = counts(plants, RUN, CAPS, Prices(0.2))
        exact_time += time.perf_counter() - start
        assert found is not None
        assert keeps(plants, found, RUN, CAPS)
        sorts = [
            Sort(one.plant, one.genus, one.room, one.dependable, n) for one, n in zip(plants, found, strict=True) if n
        ]
        start = time.perf_counter()
        ordered(sorts, max(range(len(sorts)), key=lambda n: sorts[n].dependable), 6.0, 2)
        order_time += time.perf_counter() - start
        gained.append(worth_of(plants, found, Prices(0.2)) / worth_of(plants, greedy(plants, RUN, CAPS), Prices(0.2)))
    print(f"\n100 ft of {CANDIDATES} candidates: counts {exact_time / 3:.2f} s, order {order_time / 3:.2f} s, ", end="")
    print(f"worth {min(gained):.3f} to {max(gained):.3f} times that of greed")
    assert min(gained) >= 1 - 1e-6


def test_the_order_of_a_thousand_feet() -> None:
    """Ordering grows with the length: ten stretches take no more than some thirty times one."""
    some = [Sort(n, f"G{n}", 1.0 + n / 4, n / 4, STRETCH // 4) for n in range(4)]
    long = [sort._replace(number=10 * sort.number) for sort in some]
    taken = []
    for sorts in (some, long):
        start = time.perf_counter()
        ordered(sorts, 3, 5.0, 2)
        taken.append(time.perf_counter() - start)
    print(f"\n{STRETCH} plants ordered in {taken[0]:.2f} s, {10 * STRETCH} in {taken[1]:.2f} s")
    assert taken[1] < 30 * taken[0] + 1


def test_looking_at_everything_takes_longer() -> None:
    """Already for six candidates along 40 ft brute force takes many times as long, and finds nothing better."""
    plants = field(7, 6)
    counts(plants, 5.0, CAPS)  # the solver is loaded by then
    start = time.perf_counter()
    found = counts(plants, 40 * 0.3048, CAPS)
    exact = time.perf_counter() - start
    start = time.perf_counter()
    best = max(
        (worth_of(plants, some) for some in every(plants, 40 * 0.3048) if keeps(plants, some, 40 * 0.3048, CAPS)),
        default=None,
    )
    brute = time.perf_counter() - start
    print(f"\n40 ft of 6 candidates: exact {exact:.3f} s, brute force {brute:.2f} s, {brute / exact:.0f} times as long")
    assert (found is None) == (best is None)
    if found is not None and best is not None:
        assert worth_of(plants, found) >= best - 1e-5
    assert brute > exact
