"""What the calendar says, as plain data: tasks with their times, what is not known, and the whole."""

from __future__ import annotations

from typing import Literal, NamedTuple

from askplant.care.rules import Rules
from askplant.care.site import CareSite
from askplant.care.thirds import YEAR, Span
from askplant.verdicts.cautions import Caution

Kind = Literal["plant", "water", "prune", "feed", "mulch", "protect", "look for", "enjoy"]
KINDS: tuple[Kind, ...] = ("plant", "water", "prune", "feed", "mulch", "protect", "look for", "enjoy")
# A season that has begun counts as the first where at least this share of it is left; common practice.
ENOUGH_LEFT = 0.5


class Drawn(NamedTuple):
    """A task for one plant before it has its dates: a code and words that the wording knows, when, and in which seasons.

    `seasons` is the first and last time it is due, counted from planting; None where it goes on. `wait` is how many thirds
    after planting it is due at the earliest; `once` marks a task whose span is dated by the planting itself; `never` are harms
    that wait for a cut outside its time, each with when.
    """

    kind: Kind
    code: str
    span: Span
    seasons: tuple[int, int | None] = (1, None)
    words: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    wait: int = 0
    once: bool = False
    never: tuple[tuple[str, Span], ...] = ()


class Task(NamedTuple):
    """A task for one plant or several. `begins` and `ends` are the moments of its first time, both included; `leave` are plants
    that are to be left alone then, each with the third from which it may be cut.
    """

    kind: Kind
    code: str
    plants: tuple[int, ...]
    span: Span
    seasons: tuple[int, int | None]
    begins: int
    ends: int
    words: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    leave: tuple[tuple[int, int], ...] = ()
    never: tuple[tuple[str, Span], ...] = ()

    @property
    def times(self) -> int | None:
        """How many years it comes; None where it goes on."""
        first, last = self.seasons
        return None if last is None else last - first + 1


class Unknown(NamedTuple):
    """What no task could be made of: a code that the wording knows, the plants, and words."""

    code: str
    plants: tuple[int, ...]
    words: tuple[str, ...] = ()


class Handling(NamedTuple):
    """The plants that are pruned in gloves, for thorns or sap, and those whose clippings poison somebody."""

    gloves: tuple[int, ...]
    clippings: tuple[int, ...]


class Calendar(NamedTuple):
    """The calendar of chosen plants: when each is planted (a moment), the tasks by begin, and what is not known.

    `rules` are those it was drawn up by, whose figures the words say; `first` is the moment of the earliest planting; `cautions`
    are those of the plants' cards.
    """

    rules: Rules
    site: CareSite
    plants: tuple[int, ...]
    planted: tuple[int, ...]
    years: int
    tasks: tuple[Task, ...]
    unknown: tuple[Unknown, ...]
    cautions: tuple[tuple[int, tuple[Caution, ...]], ...]
    handling: Handling

    @property
    def first(self) -> int:
        """The moment of the earliest planting."""
        return min(self.planted)


def dated(drawn: Drawn, n: int, planted: int) -> Task:
    """The task of one plant with the dates of its first time, counted from the moment of planting.

    Only a task of a single year begins within a season; one that comes again begins with a whole one.
    """
    if drawn.once:
        begins = planted + (drawn.span.first - planted) % YEAR
        return _task(drawn, n, begins, begins + drawn.span.length - 1)
    from_then = planted + drawn.wait
    begun = from_then - (from_then - drawn.span.first) % YEAR
    left = begun + drawn.span.length - from_then
    first, last = drawn.seasons
    if begun == from_then or (left >= drawn.span.length * ENOUGH_LEFT and first == last):
        begins = begun + YEAR * (first - 1)
    else:
        begins = begun + YEAR * first
    return _task(drawn, n, max(begins, from_then), begins + drawn.span.length - 1)


def _task(drawn: Drawn, n: int, begins: int, ends: int) -> Task:
    return Task(
        drawn.kind,
        drawn.code,
        (n,),
        drawn.span,
        drawn.seasons,
        begins,
        ends,
        drawn.words,
        drawn.sources,
        never=drawn.never,
    )
