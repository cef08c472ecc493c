"""The picture of a row: to scale, within its columns, and every plant to be seen."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from askplant.quantities.lengths import FOOT
from askplant.render.elevation import CELL, GUTTER, MOST_ROWS, Figure, drawn, pointed, ruled, scale_for

figures = st.lists(
    st.builds(
        Figure,
        st.sampled_from("ABC"),
        st.floats(0.1, 19.9),
        st.floats(0.1, 12),
        st.floats(0.1, 6),
        st.sampled_from([None, "pyramidal", "rounded", "columnar"]),
    ),
    min_size=1,
    max_size=12,
)


@given(some=figures, columns=st.integers(30, 110), reach=st.none() | st.floats(0.5, 6))
def test_a_picture_fits_and_shows_somebody(some: list[Figure], columns: int, reach: float | None) -> None:
    """No line is wider than the columns, none higher than allowed, and some plant is on the ground line."""
    scale = scale_for(20.0, max(figure.height for figure in some), columns)
    lines = drawn(some, scale, reach, "8ft")
    assert max(map(len, lines)) <= columns
    assert len(lines) <= MOST_ROWS + 3 or reach
    assert set(lines[-2][GUTTER:].upper()) & set("ABC")


def test_one_scale_both_ways() -> None:
    """A plant of 10 ft by 10 ft is half as many rows high as columns wide, for a character is twice as high as wide."""
    scale = scale_for(60 * FOOT, 10 * FOOT, 68)
    assert scale.up == CELL * scale.across
    body = [
        line[GUTTER:] for line in drawn([Figure("A", 30 * FOOT, 10 * FOOT, 10 * FOOT, "columnar")], scale, None, "")
    ][:-1]
    rows, columns = sum("A" in line for line in body), max(line.count("A") for line in body)
    assert columns == pytest.approx(2 * rows, abs=1)


def test_the_ruler_counts_feet() -> None:
    """A number every ten feet, each ending where it measures, and a mark at the spot."""
    scale = scale_for(60 * FOOT, 3.0, 68)
    line = ruled(60 * FOOT, scale, 10 * FOOT, FOOT)
    assert line.split() == ["0", "10", "20", "30", "40", "50", "60"]
    assert pointed(20 * FOOT, scale, "the spot").index("^") == pytest.approx(line.index("20") + 1, abs=1)
