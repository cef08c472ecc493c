"""Which musts pull against each other: many plants meet each of the two, and hardly any meets both."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from askplant.answer.answer import Tension
from askplant.answer.units import Unit, musts
from askplant.verdicts.judge import Outcome

# Two musts pull against each other when chance alone would leave ten times as many plants that meet both; common
# practice.
PULL = 10
# Each of them is met by enough plants for that to be more than chance.
ENOUGH = 10
MOST = 2


def tensions(outcomes: Sequence[Outcome], units: Sequence[Unit], count: int) -> tuple[Tension, ...]:
    """The pairs of musts that pull against each other most, the hardest pull first. What needs care does not meet
    outright.
    """
    single = [unit.conditions[0] for unit in musts(units) if len(unit.conditions) == 1]
    found = []
    for one, other in combinations(single, 2):
        left, right = outcomes[one].meets, outcomes[other].meets
        both = (left & right).bit_count()
        expected = left.bit_count() * right.bit_count() / max(count, 1)
        if min(left.bit_count(), right.bit_count()) >= ENOUGH and both * PULL <= expected:
            found.append((both / expected, Tension(one, other, left.bit_count(), right.bit_count(), both)))
    return tuple(tension for _, tension in sorted(found)[:MOST])
