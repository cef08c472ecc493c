"""What a plant's card comes to: what it inherits written out, and one value where sources disagree, with the reason.

Of statements that disagree the most trusted count (opened before observed before recalled before common practice).
Among several of the same trust, numbers take the one in the middle (the lower of two), words the one most sources
share, else the first. Poison is added up instead: sources that speak of other animals do not contradict one another. So are
traits declared `settle = "union"`: a list that says only "wet" does not say that drier ground will not do. Of traits
declared `settle = "joined"` only the most trusted are added up. Of those declared `settle = "highest"`, the most that is
recorded, the highest of the most trusted is taken.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from askplant.base.cards import BLANK, Card, Entry
from askplant.base.traits import Dictionary, Trait
from askplant.base.trust import COMMON_PRACTICE, TRUST
from askplant.base.values import JOIN, NONE_KNOWN, Meaning, poison_parts
from askplant.quantities.lengths import say_range
from askplant.quantities.months import say_months


class Statement(NamedTuple):
    """One entry of a card and what it means."""

    entry: Entry
    meaning: Meaning


class Settled(NamedTuple):
    """One trait of one plant: every statement, the value they come to, its basis, and why where they disagree."""

    statements: tuple[Statement, ...]
    meaning: Meaning
    basis: str
    why: str = ""


Values = dict[str, Settled]


def settle(cards: Iterable[Card], dictionary: Dictionary) -> dict[str, Values]:
    """Each plant's traits by its id, in the dictionary's order; what it inherits is its parent's, not a copy."""
    by_id = {card.id: card for card in cards}
    settled: dict[str, Values] = {}
    for card in by_id.values():
        for ancestor in _line(card, by_id):
            if ancestor.id not in settled:
                inherited = settled[ancestor.parent_id] if ancestor.parent_id else {}
                settled[ancestor.id] = _settle_card(ancestor, inherited, dictionary)
    return {plant: settled[plant] for plant in by_id}


def _line(card: Card, by_id: Mapping[str, Card]) -> list[Card]:
    """The cards it inherits from, the first ancestor first, itself last."""
    line = [card]
    while line[-1].parent_id:
        line.append(by_id[line[-1].parent_id])
    return line[::-1]


def _settle_card(card: Card, inherited: Values, dictionary: Dictionary) -> Values:
    own: dict[str, list[Entry]] = {}
    for entry in card.entries:
        own.setdefault(entry.trait, []).append(entry)
    values = dict(inherited)
    for name, entries in own.items():
        values.pop(name, None)
        if entries[0].text != BLANK:
            values[name] = settle_trait(dictionary.traits[name], entries, dictionary)
    return {name: values[name] for name in dictionary.traits if name in values}


def settle_trait(trait: Trait, entries: Sequence[Entry], dictionary: Dictionary) -> Settled:
    """The value that a plant's statements of one trait come to."""
    statements = tuple(Statement(entry, dictionary.parse(trait.name, entry.text)) for entry in entries)
    if len({statement.meaning for statement in statements}) == 1:
        basis = min((entry.basis for entry in entries), key=lambda basis: TRUST[basis])
        return Settled(statements, statements[0].meaning, basis)
    if trait.type == "poison":
        return _added_up(trait, statements)
    if trait.settle == "union":
        return _united(trait, statements)
    meaning, how = _chosen(trait, statements)
    basis = _most_trusted(statements)[0].entry.basis
    return Settled(statements, meaning, basis, f"{_disagreement(trait, statements)}; took {how}")


def _chosen(trait: Trait, statements: tuple[Statement, ...]) -> tuple[Meaning, str]:
    best = _most_trusted(statements)
    basis = best[0].entry.basis
    of_these = "" if len(best) == len(statements) else f" of the {basis}"
    if len({statement.meaning for statement in best}) == 1:
        return best[0].meaning, f"the {basis} one" if basis != COMMON_PRACTICE else basis
    if trait.settle == "joined":
        return _joined(trait, best), f"the words{of_these} together"
    if trait.settle == "highest":
        return max((one.meaning for one in best), key=lambda meaning: meaning.high or 0.0), f"the highest{of_these}"
    if trait.is_range:
        ordered = sorted(best, key=lambda statement: statement.meaning.middle)
        return ordered[(len(ordered) - 1) // 2].meaning, f"the middle one{of_these}"
    counted = Counter(statement.meaning for statement in best)
    most, times = counted.most_common(1)[0]
    shared = times > 1 and list(counted.values()).count(times) == 1
    return (most, f"what most{of_these} say") if shared else (best[0].meaning, f"the first{of_these}")


def _united(trait: Trait, statements: tuple[Statement, ...]) -> Settled:
    """Every word that any source gives, in the order of the permitted ones."""
    meaning = _joined(trait, statements)
    best = [
        min((TRUST[one.entry.basis], one.entry.basis) for one in statements if word in one.meaning.words)
        for word in meaning.words
    ]
    basis = max(best)[1]
    told = _disagreement(trait, statements).replace(" sources disagree: ", " sources put together: ", 1)
    return Settled(statements, meaning, basis, told)


def _joined(trait: Trait, statements: Iterable[Statement]) -> Meaning:
    """Every word that any of them gives, in the order of the permitted ones."""
    given = {word for statement in statements for word in statement.meaning.words}
    return Meaning(words=tuple(word for word in trait.values if word in given))


def _most_trusted(statements: Sequence[Statement]) -> list[Statement]:
    best = min(TRUST[statement.entry.basis] for statement in statements)
    return [statement for statement in statements if TRUST[statement.entry.basis] == best]


def _disagreement(trait: Trait, statements: Sequence[Statement]) -> str:
    """`2 sources disagree: 5–8 ft (key), 6–10 ft (key)`, with the sources that agree put together."""
    told: dict[Meaning, list[str]] = {}
    for entry, meaning in statements:
        told.setdefault(meaning, []).append(entry.source or entry.basis)
    parts = ", ".join(f"{said(trait, meaning)} ({', '.join(dict.fromkeys(keys))})" for meaning, keys in told.items())
    return f"{len(statements)} sources disagree: {parts}"


def said(trait: Trait, meaning: Meaning) -> str:
    """A value in a few words, lengths in feet and inches."""
    if trait.type in ("length", "rate"):
        return say_range(meaning.low or 0.0, meaning.high or 0.0)
    if trait.is_range:
        low, high = f"{meaning.low:g}", f"{meaning.high:g}"
        return low if low == high else f"{low}–{high}"
    if trait.type == "months":
        return say_months(int(word) for word in meaning.words)
    return ", ".join(meaning.words)


def _added_up(trait: Trait, statements: tuple[Statement, ...]) -> Settled:
    """Every animal that any source warns for; of two that differ on one animal the more trusted, then the graver."""
    worst: dict[str, tuple[tuple[int, int], str, str]] = {}
    for entry, meaning in statements:
        for word in meaning.words:
            who, severity, _ = poison_parts(word)
            grave = trait.severity.index(severity) if severity in trait.severity else -1
            rank = (TRUST[entry.basis], -grave)
            if who not in worst or rank < worst[who][0]:
                worst[who] = (rank, word, entry.basis)
    if len(worst) > 1:
        worst.pop(NONE_KNOWN, None)
    words = tuple(worst[who][1] for who in trait.who if who in worst)
    basis = max((kept[2] for kept in worst.values()), key=lambda basis: TRUST[basis])
    told = JOIN.join(f"{meaning.text} ({entry.source or entry.basis})" for entry, meaning in statements)
    return Settled(statements, Meaning(words=words), basis, f"{len(statements)} sources put together: {told}")
