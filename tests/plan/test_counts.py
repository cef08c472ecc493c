"""The counts of a row: the best there are, held against every possibility, and within every bound."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import product

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from askplant.plan import counts as counting
from askplant.plan import program
from askplant.plan.candidates import Candidate
from askplant.plan.counts import HAIR, KIN, WATERING, Prices, bed_of, counts, is_filled, worth_of
from askplant.plan.shares import most
from askplant.plan.tables import Shares

from .invented_rows import candidate, candidates, runs, shares

EACH = Shares(1.0, 1.0, 1.0)
THIRDS = Shares(0.34, 0.5, 0.67)


def keeps(plants: Sequence[Candidate], found: Sequence[int], run: float, caps: Shares) -> bool:
    """Whether counts keep to every bound, written from what is promised and not from how it is found."""
    number = sum(found)
    used = [(one, count) for one, count in zip(plants, found, strict=True) if count]
    if not used or sum(count * one.room for one, count in used) > run + HAIR or not is_filled(plants, found, run):
        return False
    if any(one.limit is not None and count > one.limit for one, count in used):
        return False
    for share, kin in zip(caps, KIN, strict=True):
        tally: Counter[str] = Counter()
        for one, count in used:
            tally[kin(one)] += count
        if max(tally.values()) > most(share, number):
            return False
    for known in ([one.light for one, _ in used if one.light], [one.moisture for one, _ in used if one.moisture]):
        if known and not frozenset.intersection(*known):
            return False
    droughts = {one.drought for one, _ in used} - {None}
    return any(droughts <= suits for suits in WATERING.values())


def every(plants: Sequence[Candidate], run: float) -> Iterator[tuple[int, ...]]:
    """Every way to fill a run, and many that do not."""
    yield from product(*(range(int((run + HAIR) / one.room) + 1) for one in plants))


prices_ = st.sampled_from([Prices(), Prices(0.1), Prices(0.1, 0.7, 0.3), Prices(0.0, 0.2, 2.0, 1.0)])


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(plants=candidates(4), run=runs.filter(lambda run: run < 4), caps=shares, prices=prices_)
def test_no_counts_are_worth_more(
    monkeypatch: pytest.MonkeyPatch, plants: list[Candidate], run: float, caps: Shares, prices: Prices
) -> None:
    """Brute force over all counts finds nothing better, and nothing where nothing was found; rows are long from four on."""
    monkeypatch.setattr(counting, "MANY", 4)
    best = max(
        (worth_of(plants, some, prices) for some in every(plants, run) if keeps(plants, some, run, caps)),
        default=None,
    )
    found = counts(plants, run, caps, prices)
    assert (found is None) == (best is None)
    if found is not None:
        assert worth_of(plants, found, prices) == pytest.approx(best, abs=1e-5)


@settings(max_examples=40, deadline=None)
@given(plants=candidates(12), run=runs, caps=shares)
def test_every_bound_is_kept(plants: list[Candidate], run: float, caps: Shares) -> None:
    """The run is filled within one spacing, no cap is broken, no more is used than is in stock, one bed suits all."""
    found = counts(plants, run, caps)
    assert found is None or keeps(plants, found, run, caps)
    assert counts(plants, run, caps) == found


@settings(max_examples=40, deadline=None)
@given(plants=candidates(7), run=runs, more=st.lists(st.integers(0, 3), min_size=7, max_size=7), news=candidates(3))
def test_more_stock_never_makes_it_worse(
    plants: list[Candidate], run: float, more: list[int], news: list[Candidate]
) -> None:
    """Greater quantities and further plants keep a plan possible, and worth at least as much."""
    before = counts(plants, run, THIRDS, Prices(0.1))
    grown = [
        one._replace(limit=None if one.limit is None else one.limit + n) for one, n in zip(plants, more, strict=False)
    ]
    grown += [one._replace(plant=one.plant + 100, species=f"new {one.species}") for one in news]
    after = counts(grown, run, THIRDS, Prices(0.1))
    if before is not None:
        assert after is not None
        assert worth_of(grown, after, Prices(0.1)) >= worth_of(plants, before, Prices(0.1)) - 1e-5


def test_a_row_of_nine_at_one_spacing() -> None:
    """Ten feet each along 90 ft: nine plants (a garden center's guide), three of each of three kinds."""
    plants = [candidate(n, 10.0) for n in range(3)]
    assert counts(plants, 90.0, THIRDS) == (3, 3, 3)


def test_too_few_kinds_for_the_shares() -> None:
    """Two kinds cannot fill nine places where none may take more than three."""
    assert counts([candidate(0, 10.0), candidate(1, 10.0)], 90.0, THIRDS) is None


def test_the_better_plant_up_to_its_share() -> None:
    """What is worth most is used as often as its share allows."""
    plants = [candidate(0, 1.0, 0.9), *(candidate(n, 1.0, 0.5) for n in range(1, 5))]
    found = counts(plants, 9.0, THIRDS)
    assert found is not None
    assert found[0] == 3


def test_price_turns_the_scale() -> None:
    """Of two alike the cheaper is taken; the price is already in the value."""
    dear, cheap = candidate(0), candidate(1)._replace(value=0.52)
    assert counts([dear, cheap], 4.0, EACH) == (0, 4)


def test_no_bog_plant_beside_one_for_dry_ground() -> None:
    """Plants that share no class of moisture never stand in one row."""
    wet = [candidate(n, moisture=frozenset({"wet"})) for n in range(2)]
    dry = [candidate(n, moisture=frozenset({"dry"})) for n in range(2, 5)]
    found = counts([*wet, *dry], 3.0, Shares(0.34, 1.0, 1.0))
    assert found == (0, 0, 1, 1, 1)
    assert bed_of(dry) == (frozenset(), frozenset({"dry"}), False)


def test_a_run_shorter_than_a_plant() -> None:
    """Nothing fits, and nothing is squeezed in."""
    assert counts([candidate(0, 2.0)], 1.5, EACH) is None
    assert counts([], 1.5, EACH) is None


def test_a_search_that_is_broken_off_keeps_what_it_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """With no branches to look at there are still counts within every bound, the same ones each time."""
    monkeypatch.setattr(program, "BRANCHES", 0)
    plants = [candidate(n, 1.0 + n / 7, 0.5 + n / 31, genus=f"G{n % 5}") for n in range(12)]
    found = counts(plants, 23.4, THIRDS, Prices(0.1))
    assert found is not None
    assert keeps(plants, found, 23.4, THIRDS)
    assert counts(plants, 23.4, THIRDS, Prices(0.1)) == found


def test_no_oddity_in_a_long_row() -> None:
    """Of thirty plants none stands alone of its kind, though one of a narrower kind would fill the last gap."""
    plants = [*(candidate(n, 1.0, 0.9) for n in range(3)), candidate(3, 0.5, 0.95)]
    alone = counts(plants, 30.6, THIRDS, Prices(0.2))
    assert alone is not None
    assert 1 in alone
    found = counts(plants, 30.6, THIRDS, Prices(0.2, 2.0))
    assert found is not None
    assert 1 not in found
    assert keeps(plants, found, 30.6, THIRDS)


def test_kinds_that_clash_stand_in_no_row_where_others_do() -> None:
    """A kind as wide as its neighbour is far is left for one worth a little less."""
    narrow = [candidate(n, 1.0, 0.9, tall=2.0, wide=1.0) for n in range(3)]
    plants = [candidate(9, 1.0, 0.92, tall=5.0, wide=4.0), *narrow]
    assert counts(plants, 9.0, THIRDS, Prices(0.1, 0.0, 2.0)) == (0, 3, 3, 3)
    even = [one._replace(tall=5.0, wide=4.0) for one in narrow]
    found = counts([plants[0], *even], 9.0, THIRDS, Prices(0.1, 0.0, 2.0))
    assert found is not None
    assert found[0] == 3
