"""Thirds of a month: spans within the year, days and words that fit together."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from askplant.care import thirds
from askplant.care.thirds import Span

SPANS = st.builds(Span, st.integers(0, 35), st.integers(1, 36))


@given(st.dates(date(1900, 1, 1), date(2200, 12, 31)))
def test_every_day_lies_in_its_third(day: date) -> None:
    """And the thirds tile the days without a gap."""
    moment = thirds.of_date(day)
    assert thirds.starts(moment) <= day <= thirds.ends(moment)
    assert thirds.ends(moment) + timedelta(days=1) == thirds.starts(moment + 1)


@given(SPANS, st.lists(SPANS, max_size=3))
def test_without_leaves_just_the_rest(one: Span, others: list[Span]) -> None:
    """What is left of a span and what was taken from it are all of it and have nothing in common."""
    left = {third for span in thirds.without(one, others) for third in span.thirds}
    taken = {third for other in others for third in other.thirds}
    assert left == set(one.thirds) - taken


@given(SPANS)
def test_spans_lie_within_the_year(one: Span) -> None:
    """A span has as many thirds as it says, all of them of one year, and it knows them as its own."""
    assert len(set(one.thirds)) == one.length
    assert all(0 <= third < 36 and third in one for third in one.thirds)
    assert set(one.months) <= set(range(1, 13))
    assert thirds.span(one.first, one.last) == one


@pytest.mark.parametrize(
    "span, said",
    [
        (Span(8, 6), "late March to mid May"),
        (Span(12, 3), "May"),
        (Span(30, 18), "November to April"),
        (Span(0, 36), "all year"),
        (Span(4, 1), "mid February"),
    ],
)
def test_in_words(span: Span, said: str) -> None:
    """Whole months by name, others by their third."""
    assert thirds.say_span(span) == said


@given(st.integers(0, 35))
def test_words_read_back(third: int) -> None:
    """A third in words is that third."""
    assert thirds.of_words(thirds.say(third)) == third


@pytest.mark.parametrize("text", ["August", "mid", "mid spring", "first May", ""])
def test_other_words_are_refused(text: str) -> None:
    """Nothing is guessed."""
    with pytest.raises(ValueError, match="a third of a month"):
        thirds.of_words(text)
