"""Distances and numbers of plants in a row, as published, and what must hold of every layout."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from askplant import where
from askplant.plan.spacing import STEP, centres, how_many, room
from askplant.plan.tables import planning
from askplant.quantities.lengths import FOOT

from ..published.tables import number, table

TABLE = planning(where.folder("traits"))


def test_a_published_row_ends_half_a_spacing_in() -> None:
    """A garden center's guide: 90 ft at 10 ft takes 9, the first and the last 5 ft from the ends."""
    assert how_many(90 * FOOT, 10 * FOOT) == 9
    places = centres([10 * FOOT] * 9, 90 * FOOT)
    assert places[0] == pytest.approx(5 * FOOT)
    assert places[-1] == pytest.approx(85 * FOOT)


def test_the_shares_of_width_are_published_ones() -> None:
    """Half (contractor, rec.gardens 2006) to the whole of the width for screens; a quarter for the closest hedge."""
    assert TABLE.spacing["screen"].shares == {"close": 0.5, "usual": 0.6, "wide": 1.0}
    assert TABLE.spacing["hedge"].shares == {"close": 0.25, "usual": 0.5, "wide": 0.6}
    contractor = next(row for row in table("screen_spacing") if row["publication"].startswith("Landscape contractor"))
    assert number(contractor["max_fraction_of_width"]) == TABLE.spacing["screen"].shares["close"]


def test_the_measured_hedge_lies_between_close_and_wide() -> None:
    """'Green Giant' at 6.5 ft of 8 ft after ten years (US National Arboretum): 0.81 of its width."""
    measured = next(row for row in table("screen_spacing") if row["publication"].startswith("US National Arboretum"))
    share = number(measured["min_fraction_of_width"])
    assert share == pytest.approx(6.5 / 8, abs=0.01)
    assert TABLE.spacing["screen"].shares["usual"] < share < TABLE.spacing["screen"].shares["wide"]


def test_two_rows_take_a_third_more() -> None:
    """A third more plants in zigzag (hedge chart); 15 ft in each row where a single row has 10 (a garden center's guide)."""
    along = TABLE.rows["screen"].along
    assert 90 / (10 * along) == pytest.approx(9 * 4 / 3)
    assert 2 * 10 * along == 15


def test_rows_are_as_far_apart_as_published() -> None:
    """6 to 8 ft in a dense twin row (USDA NRCS Arizona practice 380, 1990); 1.5 ft in a double hedge (RHS, recalled)."""
    apart = TABLE.rows["screen"].apart
    assert [round(apart[way] / FOOT, 3) for way in ("close", "usual", "wide")] == [6, 7, 8]
    assert TABLE.rows["hedge"].apart["usual"] == pytest.approx(1.5 * FOOT)


@pytest.mark.parametrize("units", ["us", "metric"])
@given(low=st.floats(0.2, 10), more=st.floats(0, 5), share=st.floats(0.2, 1.0))
def test_a_room_is_the_share_to_half_a_step(units: str, low: float, more: float, share: float) -> None:
    """Rounding to what a tape shows moves a room by half a step at most, except that no room is nothing."""
    step = STEP[units]  # type: ignore[index]
    found = room((low, low + more), share, units)  # type: ignore[arg-type]
    exact = (low + more / 2) * share
    assert found == pytest.approx(step * round(found / step))
    assert found >= step
    assert abs(found - max(exact, step)) <= step / 2 + 1e-9


@given(rooms=st.lists(st.floats(0.3, 4), min_size=1, max_size=20), left=st.floats(0, 2))
def test_plants_stand_half_their_rooms_apart(rooms: list[float], left: float) -> None:
    """Neighbours stand half of each one's room apart, the ends half a room in, and what is left over is left at both ends."""
    run = sum(rooms) + left
    at = centres(rooms, run)
    for one, other, here, there in zip(at, at[1:], rooms, rooms[1:], strict=False):
        assert other - one == pytest.approx((here + there) / 2)
    assert at[0] - rooms[0] / 2 == pytest.approx(left / 2)
    assert run - at[-1] - rooms[-1] / 2 == pytest.approx(left / 2)
