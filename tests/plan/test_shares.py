"""Shares of species, genus and family: a published rule scaled to short rows."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from askplant.errors import UserError
from askplant.plan.shares import most, parsed
from askplant.plan.tables import Shares


def test_ten_twenty_thirty() -> None:
    """Santamour 1990: of a hundred trees at most 10 of a species, 20 of a genus, 30 of a family."""
    assert [most(share, 100) for share in (0.1, 0.2, 0.3)] == [10, 20, 30]


def test_a_tenth_of_a_short_row_is_one_plant() -> None:
    """In a row of fewer than ten the tenth is below one plant, and is taken as one."""
    assert most(0.1, 9) == 1


@given(share=st.floats(0.01, 1.0), plants=st.integers(1, 200))
def test_a_cap_is_the_share_or_one_plant(share: float, plants: int) -> None:
    """Never under one, else never over the share, and a longer row never allows fewer."""
    cap = most(share, plants)
    assert cap == 1 or cap <= share * plants + 1e-6
    assert most(share, plants + 1) >= cap >= 1


@pytest.mark.parametrize("text", ["0.25,0.5,0.75", "25%,50%,75%", "1/4, 1/2, 3/4"])
def test_shares_are_read(text: str) -> None:
    """As fractions, per cent or ratios."""
    assert parsed(text) == Shares(0.25, 0.5, 0.75)


@pytest.mark.parametrize("text", ["", "0.5", "0.5,0.5", "a,b,c", "0,0.5,0.5", "2,0.5,0.5", "1/0,1,1", "nan,1,1"])
def test_what_is_no_share_is_refused(text: str) -> None:
    """With what was expected."""
    with pytest.raises(UserError, match=r"three shares from 0 to 1"):
        parsed(text)
