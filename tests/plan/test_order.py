"""The order of a row: of least cost, held against every order, and free of what can be avoided."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from askplant.plan.order import STRETCH, Sort, cost, off_spot, ordered, places, stretches

sorts = st.lists(
    st.tuples(st.integers(0, 2), st.integers(4, 9), st.integers(0, 4), st.integers(1, 3), st.floats(1, 6)),
    min_size=1,
    max_size=4,
).map(
    lambda found: [
        Sort(n, f"G{genus}", steps * 0.1524, dependable / 4, number, size, size / 2)
        for n, (genus, steps, dependable, number, size) in enumerate(found)
    ]
)


def expanded(some: list[Sort]) -> list[int]:
    return [kind for kind, sort in enumerate(some) for _ in range(sort.number)]


def best_of(some: list[Sort]) -> int:
    return max(range(len(some)), key=lambda kind: some[kind].dependable)


@settings(max_examples=40, deadline=None)
@given(
    some=sorts.filter(lambda found: sum(sort.number for sort in found) <= 7),
    share=st.floats(0, 1),
    longest=st.integers(1, 2),
)
def test_no_order_costs_less(some: list[Sort], share: float, longest: int) -> None:
    """Brute force over all orders, with the spot's plant at the same place, finds none that costs less."""
    best, spot = best_of(some), share * sum(sort.room * sort.number for sort in some)
    found = ordered(some, best, spot, longest)
    every = set(permutations(expanded(some)))
    least = min(cost(some, order, found.place, spot, longest) for order in every if order[found.place] == best)
    assert found.cost == pytest.approx(least, abs=1e-5)
    assert found.order[found.place] == best


@settings(max_examples=40, deadline=None)
@given(some=sorts.filter(lambda found: sum(sort.number for sort in found) <= 7), share=st.floats(0, 1))
def test_the_spot_is_covered_where_any_order_covers_it(some: list[Sort], share: float) -> None:
    """The most dependable plant covers the spot that matters most, or stands as near as an order lets it, to a hand's breadth."""
    best, spot = best_of(some), share * sum(sort.room * sort.number for sort in some)
    found = ordered(some, best, spot, 99)
    every = set(permutations(expanded(some)))
    nearest = min(
        off_spot(some, order, place, spot) for order in every for place, kind in enumerate(order) if kind == best
    )
    assert found.off <= nearest + 0.1


@settings(max_examples=40, deadline=None)
@given(some=sorts)
def test_every_plant_stands_somewhere(some: list[Sort]) -> None:
    """An order sets as many of each as were counted, the same ones each time."""
    found = ordered(some, 0, 1.0, 2)
    assert Counter(found.order) == Counter(expanded(some))
    assert ordered(some, 0, 1.0, 2) == found


def test_no_two_of_a_genus_side_by_side_where_it_can_be_avoided() -> None:
    """No genus over half of the row: none stands beside its own."""
    some = [Sort(0, "Ilex", 1.0, 0.5, 3), Sort(1, "Ilex", 1.5, 0.4, 2), Sort(2, "Thuja", 2.0, 0.9, 5)]
    found = ordered(some, 2, 5.0, 2)
    assert all(some[one].genus != some[other].genus for one, other in pairwise(found.order))


def test_the_same_plant_at_most_twice_in_a_row() -> None:
    """Six of one and three of another: no three alike side by side, as one between each two suffices."""
    some = [Sort(0, "Ilex", 1.0, 0.5, 6), Sort(1, "Thuja", 1.0, 0.9, 3)]
    found = ordered(some, 1, 4.5, 2)
    assert all(len(set(found.order[n : n + 3])) > 1 for n in range(7))


def test_places_begin_where_the_spot_falls() -> None:
    """In an even mix of ten plants along 10 m, 2 m from the start is the second or third."""
    assert places([Sort(0, "A", 1.0, 0.5, 10)], 2.0)[:2] == [1, 2]


@settings(max_examples=4, deadline=None)
@given(numbers=st.lists(st.integers(1, 30), min_size=4, max_size=5), share=st.floats(0, 1), best=st.integers(0, 3))
def test_a_long_row_is_ordered_in_stretches(numbers: list[int], share: float, best: int) -> None:
    """All plants stand, the most dependable one near the spot, and no more alike side by side than one stretch would have."""
    some = [Sort(n, f"G{n}", 1.0 + n / 4, 0.9 if n == best else 0.5, number) for n, number in enumerate(numbers)]
    spot = share * sum(sort.room * sort.number for sort in some)
    found = ordered(some, best, spot, 2)
    assert Counter(found.order) == Counter(expanded(some))
    assert found.order[found.place] == best
    assert found.off == off_spot(some, found.order, found.place, spot)
    # Where the spot falls in a stretch without one, the plant comes over from the next; otherwise it covers the spot.
    assert found.off < 1.0 + 1e-6 or numbers[best] < 2 * stretches(sum(numbers))
    if max(numbers) <= sum(numbers) / 2 and sum(numbers) > STRETCH:
        assert all(len(set(found.order[n : n + 3])) > 1 for n in range(len(found.order) - 2))


def test_what_would_be_grown_over_stands_apart() -> None:
    """A narrow kind is parted from a wide one by a third that clashes with neither, where there are enough of it."""
    some = [
        Sort(0, "A", 1.0, 0.9, 3, 2.0, 1.0),
        Sort(1, "B", 1.0, 0.5, 3, 6.0, 2.5),
        Sort(2, "C", 1.0, 0.5, 3, 6.0, 1.8),
    ]
    found = ordered(some, 0, 4.5, 2)
    assert all({one, other} != {0, 1} for one, other in pairwise(found.order))
