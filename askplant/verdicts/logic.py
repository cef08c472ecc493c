"""Yes, no, unknown and "with care", combined.

best    one of several has to hold       (any of the values asked for; alternatives)
worst   every one of them has to hold    (safe for dogs and cats)
negated the value is not wanted
"""

from __future__ import annotations

from collections.abc import Iterable

from askplant.verdicts.verdict import ORDER, Judgement


def _rank(judgement: Judgement) -> tuple[int, float]:
    return ORDER[judgement.verdict], judgement.margin


def best(judgements: Iterable[Judgement]) -> Judgement:
    """The kindest of several; the first of equals."""
    return max(judgements, key=_rank)


def worst(judgements: Iterable[Judgement]) -> Judgement:
    """The hardest of several; the first of equals."""
    return min(judgements, key=_rank)


def negated(judgement: Judgement) -> Judgement:
    """The verdict on "not that": what is only near it is not it, and what is not known stays not known."""
    if judgement.verdict == "unknown":
        return judgement
    if judgement.verdict == "meets":
        return Judgement("misses", judgement.has, None, -1.0)
    return Judgement("meets", judgement.has, None, 1.0)
