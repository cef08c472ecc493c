"""Sizes that a request means without asking for them: what is to be hidden, and how far a small plant may go on growing.

Both only move a plant up or down; neither lets one in or keeps one out. Lengths are metres; common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

from askplant.growth.known import middle
from askplant.reading.reading import Condition, Reading
from askplant.verdicts.uses import ROOMY

# Where a small plant is asked for, one whose old size is more than so many times the bound pays, from the second on in full.
OLD_FROM, OLD_FULL = 1.5, 3.0


def to_hide(reading: Reading) -> float | None:
    """The height of what a screen is to hide; None where none is known, or a height of the plants is asked for."""
    asked = any(found.trait in ("height", "size") for found in reading.conditions)
    return reading.hides.height if reading.hides is not None and not asked else None


def hiding(grown: Sequence[float] | None, hidden: float) -> float | None:
    """How near to what it is to hide a grown height lies, 0 to 1: 1 from just that to about twice; None where none is known."""
    if not grown:
        return None
    times = middle((grown[0], grown[1])) / hidden
    return min(1.0, times, ROOMY / times)


def small_bound(conditions: Sequence[Condition]) -> float | None:
    """The least bound of the size word `small` where it is asked for; None where it is not."""
    asked = (found for found in conditions if found.trait == "size" and "small" in found.values)
    return min((found.maximum for found in asked if found.test == "any_of" and found.maximum), default=None)


def outgrowing(old: Sequence[float] | None, bound: float) -> float:
    """How far beyond the bound of a small plant an old size lies, 0 (hardly, or not known) to 1 (several times)."""
    if not old:
        return 0.0
    return min(1.0, max(0.0, (old[1] / bound - OLD_FROM) / (OLD_FULL - OLD_FROM)))
