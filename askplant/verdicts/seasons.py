"""When it flowers, and what there is to look at in winter."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from askplant.quantities.months import SEASONS
from askplant.reading.reading import Condition
from askplant.verdicts.classes import one_of
from askplant.verdicts.verdict import UNKNOWN, Advice, Fact, Judgement, Site, care, meets, misses, words

# Who asks for so many months wants flowers all that time, not in any month of it; few kinds keep on for longer than a third
# of it. Common practice.
LONG, KEEPS_ON = 9, 1 / 3


def months_of(values: Iterable[str | int | float]) -> frozenset[int]:
    """The months that months and seasons name."""
    out: set[int] = set()
    for value in values:
        out |= set(SEASONS[str(value)]) if str(value) in SEASONS else {int(value)}
    return frozenset(out)


def judge_bloom(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Months of bloom, against [months, flower]. A month early or late is a matter of the place: bloom shifts by
    weeks with it. Flowers that nobody notices are no bloom to look at.
    """
    if one_of(value[1]) == "none":
        return misses(words("no flowers"))
    if value[0] is None:
        return UNKNOWN
    asked, blooms = months_of(condition.values), set(value[0])
    has = Fact("months", tuple(sorted(blooms)))
    if asked & blooms and one_of(value[1]) == "inconspicuous" and condition.test != "none_of":
        return care(has, Advice("bloom.unseen"))
    share = len(asked & blooms) / len(asked)
    if len(asked) >= LONG and 0 < share < KEEPS_ON and condition.test != "none_of":
        return care(has, Advice("bloom.short"), share / KEEPS_ON)
    if asked & blooms:
        return meets(has, share)
    near = {(month + step - 1) % 12 + 1 for month in blooms for step in (-1, 1)}
    return care(has, Advice("bloom.near")) if asked & near else misses(has)


def judge_winter_interest(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Something to look at in winter, against [text, persistence]: where the card is silent, an evergreen leaf is
    something.
    """
    if value[0]:
        return misses(words("no")) if value[0].strip().lower() == "no" else meets(Fact("text", (value[0],)))
    return meets(words("evergreen"), 0.5) if one_of(value[1]) == "evergreen" else UNKNOWN
