"""What stands on the desk: the request with what is switched off, every state before it, and the short list."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from askplant.reading import settling
from askplant.reading.reading import Condition, Reading

# States that can be gone back to; older ones are forgotten.
MOST_STATES = 200


@dataclass(frozen=True, slots=True)
class State:
    """A request, and which of its conditions are switched off. `line` is what was typed last."""

    reading: Reading
    off: frozenset[Condition] = frozenset()
    line: str = ""

    @property
    def asked(self) -> Reading:
        """The request without what is switched off, which is what is answered."""
        if not self.off:
            return self.reading
        kept = tuple(found for found in self.reading.conditions if found not in self.off)
        return self.reading._replace(conditions=kept, conflicts=tuple(settling.conflicts(kept)))

    @property
    def since(self) -> int:
        """Where in the request's text the last line begins; its end where that line was no part of it (`off 3`)."""
        request = self.reading.request
        if request.endswith(self.line):
            return len(request) - len(self.line)
        return 0 if self.line.endswith(request) else len(request)  # "new: …" is longer than the request it begins

    def switched(self, number: int, on: bool) -> State:
        """The same request with one condition, counted from 1, on or off. IndexError for a number there is not."""
        if not 0 < number <= len(self.reading.conditions):
            raise IndexError(number)
        condition = self.reading.conditions[number - 1]
        return replace(self, off=self.off - {condition} if on else self.off | {condition})

    def on_with(self, reading: Reading, line: str) -> State:
        """The state after a line changed the request: what is off stays off, as long as it is asked at all."""
        return State(reading, self.off & frozenset(reading.conditions), line)


@dataclass(frozen=True, slots=True)
class Past:
    """States in order; `at` is the one that counts, those behind it can be gone forward to again."""

    states: tuple[State, ...] = ()
    at: int = -1

    @property
    def now(self) -> State | None:
        """The state that counts; None before anything was asked."""
        return self.states[self.at] if self.states and self.at >= 0 else None

    def then(self, state: State) -> Past:
        """One state further; what had been gone back from is forgotten."""
        kept = (*self.states[: self.at + 1], state)[-MOST_STATES:]
        return Past(kept, len(kept) - 1)

    def undone(self) -> Past:
        """One state back, down to none; the same where there is nothing to go back to."""
        return replace(self, at=self.at - 1) if self.at >= 0 else self

    def redone(self) -> Past:
        """One state forward; the same where there is none."""
        return replace(self, at=self.at + 1) if self.at + 1 < len(self.states) else self


@dataclass(frozen=True, slots=True)
class Kept:
    """A plant of the short list: its id, and what was noted about it."""

    plant: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Shortlist:
    """Plants that were kept, in order."""

    plants: tuple[Kept, ...] = field(default=())

    @property
    def ids(self) -> tuple[str, ...]:
        """The ids of the plants."""
        return tuple(kept.plant for kept in self.plants)

    def keep(self, plant: str) -> Shortlist:
        """With a plant at the end; the same where it is there already."""
        return self if plant in self.ids else Shortlist((*self.plants, Kept(plant)))

    def drop(self, plant: str) -> Shortlist:
        """Without a plant."""
        return Shortlist(tuple(kept for kept in self.plants if kept.plant != plant))

    def noted(self, plant: str, note: str) -> Shortlist:
        """With a note on a plant, which is kept if it was not."""
        with_it = self.keep(plant)
        return Shortlist(tuple(replace(kept, note=note) if kept.plant == plant else kept for kept in with_it.plants))
