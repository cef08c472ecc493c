"""What a judge reads of every plant, written and read again."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from askplant.base import columns

VALUES = st.sampled_from([None, "evergreen", ["red", "white"], [1.5, 3.0], [1.5, 3.0, ["a"]], 0.5, True])


@given(st.integers(1, 3).flatmap(lambda wide: st.lists(st.tuples(*[VALUES] * wide), max_size=40)))
def test_each_distinct_tuple_has_its_plants(rows: list[tuple[object, ...]]) -> None:
    """Every plant stands under the values that were written for it, and under no others."""
    traits = [[json.dumps(value) for value in trait] for trait in zip(*rows, strict=True)]
    found = columns.distinct(columns.stored(traits))
    assert len({json.dumps(value) for value, _ in found}) == len(found)
    by_plant = {plant: value for value, bits in found for plant in range(len(rows) + 8) if bits >> plant & 1}
    assert [by_plant[plant] for plant in sorted(by_plant)] == list(map(list, rows))
    assert sum(bits.bit_count() for _, bits in found) == len(rows)


@pytest.mark.parametrize("plants", [[0], [7], [3, 4], [0, 1, 2, 3], [0, 1, 2, 3, 900], list(range(5, 70))])
def test_sets_of_any_size(plants: list[int]) -> None:
    """One plant, a few, many, each in its own form."""
    having = ["1" if plant in plants else "null" for plant in range(max(plants) + 1)]
    bits = {json.dumps(value): some for value, some in columns.distinct(columns.stored([having]))}
    assert bits["[1]"] == sum(1 << plant for plant in plants)
