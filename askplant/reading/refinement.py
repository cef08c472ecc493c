"""What one line did to the request before it, or asks about a plant: plain, frozen values and nothing that computes."""

from __future__ import annotations

from typing import Literal, NamedTuple

from askplant.reading.reading import Condition, Reading, Task

# Why a line was taken as it was; `render/refined.py` says each in words.
Rule = Literal[
    "first",  # nothing was asked before
    "said",  # it says that it is a new request
    "long",  # it is as long as only a whole request is
    "whole",  # it has wishes enough for a request, and names what is wanted or says again what was asked
    "changes",  # it has words that speak of the request before
    "short",  # it is short, so it changes the request before
    "chosen",  # somebody said how it is to be taken
]
Kind = Literal["added", "changed", "dropped"]
Ask = Literal["why", "tell", "check", "size", "when", "about", "more", "undo"]
Axis = Literal["height", "width"]


class Spoken(NamedTuple):
    """A plant as a line speaks of it: its place in the last answer (from 1; -1 the last; 0 all that are shown), or a name;
    neither: `it`."""

    number: int | None = None
    name: str | None = None


IT = Spoken()
SHOWN = Spoken(number=0)


class Side(NamedTuple):
    """One side of a plant that may be asked about (`water`): the traits of the card that tell of it, and the kinds of care."""

    name: str
    traits: tuple[str, ...] = ()
    care: tuple[str, ...] = ()


class Change(NamedTuple):
    """One condition before and after a line: None before what was added, None after what was dropped."""

    kind: Kind
    before: Condition | None
    after: Condition | None


class Missed(NamedTuple):
    """Words of a line that changed nothing: of something that is not asked, is no plant that is shown, or goes no further."""

    text: str
    why: Literal["not asked", "not shown", "no further"]


class Question(NamedTuple):
    """A question that leaves the request as it is.

    `years` from planting, `height` and `apart` in metres, where the line names them; `words` is what the plant is asked to be
    ("evergreen", "safe for dogs"), `side` what is asked about it, `unread` words of such a question that were not understood.
    """

    ask: Ask
    plant: Spoken = IT
    axis: Axis = "height"
    years: float | None = None
    height: float | None = None
    apart: float | None = None
    words: str = ""
    side: Side | None = None
    unread: tuple[str, ...] = ()


class Refinement(NamedTuple):
    """A line taken as a change of the request before it: the request as it is now, and what became different.

    `task` is the task before where the line changed it.
    """

    reading: Reading
    changes: tuple[Change, ...]
    rule: Rule
    task: Task | None = None
    missed: tuple[Missed, ...] = ()


class Fresh(NamedTuple):
    """A line taken as a request of its own."""

    reading: Reading
    rule: Rule


Taken = Refinement | Fresh | Question
