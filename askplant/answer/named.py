"""The plants the caller brought up, each judged before anything else is offered."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum

from askplant.answer.answer import Named
from askplant.answer.exclude import gap, misses_of
from askplant.answer.rank import Ranking
from askplant.answer.units import Unit, musts
from askplant.reading.reading import Condition, Mention
from askplant.verdicts import kinship
from askplant.verdicts.judge import Judged, Outcome, judgement_of


def named(
    mentions: Sequence[Mention],
    base: Judged,
    outcomes: Sequence[Outcome],
    units: Sequence[Unit],
    matches: int,
    ranking: Ranking,
) -> tuple[Named, ...]:
    """Every mention, and every plant asked for by name, in the order said, with the plant of its name that does best."""
    asked = [mention for outcome in outcomes for mention in _asked_for(outcome.condition)]
    said = {mention.plant: mention for mention in (*asked, *mentions)}
    ordered = sorted(said.values(), key=lambda mention: mention.at)
    return tuple(_named(mention, base, outcomes, units, matches, ranking) for mention in ordered)


def _asked_for(condition: Condition) -> list[Mention]:
    """The plants that a condition names as wanted."""
    if condition.trait != "taxon" or condition.test == "none_of":
        return []
    return [Mention(str(name), "considered", condition.text, condition.at) for name in condition.values]


def _named(
    mention: Mention,
    base: Judged,
    outcomes: Sequence[Outcome],
    units: Sequence[Unit],
    matches: int,
    ranking: Ranking,
) -> Named:
    bearing = kinship.called(base, mention.plant)
    if not bearing:
        return Named(mention, None, (), (), 0, 0, None)
    ranks = {plant: ranking.rank(plant) or 0 for plant in bearing if matches >> plant & 1}
    best = (
        min(ranks, key=ranks.__getitem__)
        if ranks
        else min(bearing, key=lambda plant: _distance(plant, outcomes, units))
    )
    return Named(
        mention,
        best,
        tuple(judgement_of(outcome, best) for outcome in outcomes),
        misses_of(best, outcomes, units),
        len(bearing),
        len(ranks),
        ranks.get(best),
    )


def _distance(plant: int, outcomes: Sequence[Outcome], units: Sequence[Unit]) -> tuple[int, float, int]:
    """Musts missed, then how far, then the number: the nearest first."""
    missed = [unit for unit in musts(units) if unit.misses >> plant & 1]
    far = fsum(gap([judgement_of(outcomes[index], plant) for index in unit.conditions]) for unit in missed)
    return len(missed), far, plant
