"""States of a request: back and forward again, off and on again, and the short list."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from askplant.answer.compose import answer
from askplant.base.opened import Base
from askplant.reading.read import read
from askplant.reading.refine import refine
from askplant.reading.refinement import Fresh, Refinement
from askplant.sitting.state import MOST_STATES, Past, Shortlist, State

LINES = (
    "evergreen, zone 7",
    "8 ft",
    "no hollies",
    "never mind the zone",
    "narrower",
    "new: small tree",
    "deer",
    "undo",
    "redo",
)


def told(base: Base, past: Past, line: str) -> Past:
    """The past after a line."""
    if line in ("undo", "redo"):
        return past.undone() if line == "undo" else past.redone()
    now = past.now
    found = refine(now.reading if now else None, line, base)
    assert isinstance(found, Fresh | Refinement)
    return past.then(State(found.reading, line=line) if now is None else now.on_with(found.reading, line))


@settings(deadline=None, max_examples=60)
@given(lines=st.lists(st.sampled_from(LINES), max_size=8))
def test_undo_and_redo_is_where_one_was(real_base: Base, lines: list[str]) -> None:
    """One back and one forward is the same place, and so is one forward and one back, where there is a way to go."""
    past = Past()
    for line in lines:
        past = told(real_base, past, line)
    if past.undone() != past:
        assert past.undone().redone() == past
    if past.redone() != past:
        assert past.redone().undone() == past
    back = past
    while back.undone() != back:
        back = back.undone()
    assert back.now is None


@settings(deadline=None, max_examples=40)
@given(lines=st.lists(st.sampled_from(LINES[:-2]), min_size=1, max_size=4), data=st.data())
def test_off_and_on_again_gives_the_same_answer(real_base: Base, lines: list[str], data: st.DataObject) -> None:
    """A switched condition leaves the request as it was, and the answer too once it is on again."""
    past = Past()
    for line in lines:
        past = told(real_base, past, line)
    state = past.now
    assert state is not None
    if not state.reading.conditions:
        return
    number = data.draw(st.integers(1, len(state.reading.conditions)))
    off = state.switched(number, on=False)
    assert off.reading == state.reading
    assert len(off.asked.conditions) == len(state.reading.conditions) - 1
    again = off.switched(number, on=True)
    assert again.asked == state.asked
    assert answer(again.asked, real_base) == answer(state.asked, real_base)
    assert len(answer(off.asked, real_base).matches) >= len(answer(state.asked, real_base).matches)


def test_a_number_there_is_not(real_base: Base) -> None:
    """IndexError, from 1 to how many there are."""
    state = State(read("evergreen, zone 7", real_base))
    for number in (0, 3, -1):
        with pytest.raises(IndexError):
            state.switched(number, on=False)


def test_what_is_off_stays_off(real_base: Base) -> None:
    """A line that changes something else does not switch it on; one that says it anew does."""
    state = State(read("evergreen, zone 7", real_base)).switched(2, on=False)
    other = refine(state.reading, "8 ft", real_base)
    anew = refine(state.reading, "zone 6", real_base)
    assert isinstance(other, Refinement)
    assert isinstance(anew, Refinement)
    assert [one.trait for one in state.on_with(other.reading, "").asked.conditions] == ["persistence", "height"]
    assert [one.trait for one in state.on_with(anew.reading, "").asked.conditions] == ["persistence", "zone"]


def test_old_states_are_forgotten(real_base: Base) -> None:
    """A day's sitting does not grow without end."""
    past = Past()
    state = State(read("evergreen", real_base))
    for _ in range(MOST_STATES + 20):
        past = past.then(state)
    assert len(past.states) == MOST_STATES
    assert past.now == state


def test_the_short_list() -> None:
    """Kept once, noted, dropped; a note keeps its plant."""
    kept = Shortlist().keep("a").keep("b").keep("a")
    assert kept.ids == ("a", "b")
    noted = kept.noted("b", "by the gate").noted("c", "or here")
    assert [one.note for one in noted.plants] == ["", "by the gate", "or here"]
    assert noted.drop("a").drop("x").ids == ("b", "c")
