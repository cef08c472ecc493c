"""How far apart plants stand in a row, and where each one goes. Lengths are metres.

Every plant has its room, a length of the run: a share of its grown width (planning.toml). Two neighbours stand half of
each one's room apart, the first and the last half a room from the ends, so that the rooms add up to the run whatever
the order. In two rows the plants stand in zigzag, each with three quarters of that room along the run.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Protocol

from askplant.quantities.lengths import INCH, Units

# A room is laid out with a tape: in half feet, or tenths of a metre.
STEP: dict[Units, float] = {"us": 6 * INCH, "metric": 0.1}
_HAIR = 1e-9  # lengths that divide evenly do so whatever the last digit


def room(width: tuple[float, float], share: float, units: Units) -> float:
    """The room of a plant of a grown width, to the nearest step of a tape and at least one."""
    step = STEP[units]
    return step * max(1, round((width[0] + width[1]) / 2 * share / step))


def how_many(run: float, apart: float) -> int:
    """Plants of one kind along a run, the end ones half a spacing in."""
    return math.floor(run / apart + _HAIR)


class Grown(Protocol):
    """A plant of a row: its room along the run, and its height and width some years on."""

    @property
    def room(self) -> float: ...
    @property
    def tall(self) -> float: ...
    @property
    def wide(self) -> float: ...


def grows_over(one: Grown, other: Grown, apart: float = 0.0) -> bool:
    """Whether a plant reaches the trunk of a lower and narrower neighbour, in rows so far apart; common practice."""
    between = math.hypot((one.room + other.room) / 2, apart)
    return one.wide / 2 > between and other.tall < one.tall and other.wide < one.wide


def clash(one: Grown, other: Grown, apart: float = 0.0) -> bool:
    """Whether one of two neighbours grows over the other."""
    return grows_over(one, other, apart) or grows_over(other, one, apart)


def centres(rooms: Sequence[float], run: float) -> tuple[float, ...]:
    """Where the plants stand, measured from the start; what the rooms leave over is left open at both ends alike."""
    at = (run - sum(rooms)) / 2
    found = []
    for one in rooms:
        found.append(at + one / 2)
        at += one
    return tuple(found)
