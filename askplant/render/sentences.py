"""The sentences of an answer: why a plant stands where it stands, what is said of a plant the caller named, what is
asked back.
"""

from __future__ import annotations

from collections.abc import Sequence

from askplant.answer.answer import Answer, Match, Named, Question, Tension
from askplant.quantities.lengths import Units
from askplant.render.advice import advised
from askplant.render.asked import joined
from askplant.render.facts import stated
from askplant.verdicts.verdict import Judgement

QUESTIONS = {
    "zone": "Where is it, or in which hardiness zone?",
    "light": "How many hours of direct sun does the spot get?",
    "moisture": "Does water stand there after rain?",
    "deer": "Do deer come through?",
    "drought": "Can it be watered after the first two summers?",
    "safe_for": "Will small children, dogs or cats be around it?",
    "persistence": "Must it stay green in winter?",
    "kind": "Is it to be a tree, a shrub or a perennial?",
    "salt": "Is it near a salted road or the sea?",
    "soil": "Is the soil heavy clay?",
    "width": "How wide may it get?",
    "height": "How tall may it get without pruning?",
}
# How a mention is taken up, by the part the plant played.
TAKEN_UP = {
    "considered": "",
    "seen": ", which you have there or saw,",
    "died": ", which died,",
    "to be replaced": ", which is to go,",
}
# A plant that is this dependable (0 to 1) is said to ask for little.
ASKS_LITTLE = 0.85
# More conditions than this are counted in a sentence, not told.
TOLD = 2


def why_here(match: Match, echoes: Sequence[str]) -> str:
    """One sentence: what put a match at its rank. `echoes` are the conditions in words."""
    why = match.why
    parts = [_met(why.musts_met, why.musts, "requirement"), _met(why.wishes_met, why.wishes, "wish")]
    parts = [" and ".join(part for part in parts if part)]
    parts += [
        _of("with care:", why.cares, echoes),
        _of("not known:", why.unknowns, echoes),
        _of("without:", why.vain, echoes),
    ]
    if not why.cares and not why.unknowns and not why.vain and why.best and why.musts + why.wishes > 1:
        parts.append(_of("with ease:", why.best, echoes))
    if why.before:
        parts.append(
            f"{why.before} of its species {'stands' if why.before == 1 else 'stand'} above it, and a list should vary"
        )
    if why.listed:
        parts.append("listed as invasive in places")
    if why.away:
        parts.append("wild in other climates than that of the place")
    if why.dependable >= ASKS_LITTLE:
        parts.append("asks for little")
    said = "; ".join(part for part in parts if part)
    return (
        f"{said[:1].upper()}{said[1:]}."
        if said
        else "Placed by how little trouble it gives, for nothing asked sets plants apart."
    )


def _met(met: int, count: int, what: str) -> str:
    if not count or (what == "wish" and not met):
        return ""
    many = {"wish": "wishes"}.get(what, f"{what}s") if count > 1 else what
    if met == count:
        return f"meets {'the' if count == 1 else 'both' if count == 2 else f'all {count}'} {many}"
    return f"meets {met} of {count} {many} outright"


def _of(start: str, indexes: Sequence[int], echoes: Sequence[str]) -> str:
    if not indexes:
        return ""
    told = [echoes[index] for index in indexes[:TOLD]]
    if len(indexes) > TOLD:
        told.append(f"{len(indexes) - TOLD} more")
    return f"{start} {joined(told, 'and')}"


def of_named(named: Named, answer: Answer, title: str, echoes: Sequence[str], units: Units) -> str:
    """One sentence on a plant the caller named: why it would or would not do here."""
    if named.plant is None:
        return f"{named.mention.plant} is not in the base, so nothing is said of it."
    subject = f"{title}{TAKEN_UP[named.mention.role]}"
    if named.bear > 1:
        bearing = f"Of {named.bear} plants called {named.mention.plant}, {_how_many(named.match)} would do"
        subject = f"{bearing}; the nearest, {title},"
    if named.rank is None:
        reasons = [f"{echoes[miss.condition]} ({_found(miss.judgement, units)})" for miss in named.misses]
        told = reasons[:TOLD] + ([f"{len(reasons) - TOLD} more"] if len(reasons) > TOLD else [])
        return f"{subject} would not do here: it misses {joined(told, 'and')}."
    cares = [advised(found.how, units) for found in named.judgements if found.verdict == "with care" and found.how]
    care = f", with care: {cares[0]}" if cares else ""
    return f"{subject} would do here (number {named.rank} of {len(answer.matches)}){care}."


def _how_many(count: int) -> str:
    return "none" if count == 0 else str(count)


def _found(judgement: Judgement, units: Units) -> str:
    return stated(judgement.has, units) or "not so"


def question_json(question: Question) -> dict[str, object]:
    """A question in the published form."""
    return {"trait": question.trait, "question": QUESTIONS[question.code], "splits": dict(question.splits)}


def of_tension(tension: Tension, conditions: Sequence[str], count: int) -> str:
    """One sentence on two wishes that pull against each other."""
    one, other = conditions[tension.one], conditions[tension.other]
    both = f"only {tension.meet_both}" if tension.meet_both else "none"
    return (
        f"{one} and {other} pull against each other: of {count} plants {tension.meet_one} meet the first and "
        f"{tension.meet_other} the second, {both} both."
    )
