"""Short forms of readings, so that a test shows what it expects in a line."""

from __future__ import annotations

from askplant.reading.reading import Condition, Reading, Span


def told(condition: Condition) -> str:
    """`trait test values or bounds [wish]`, lengths in metres to the centimetre."""
    parts = [condition.trait, condition.test, *map(str, condition.values)]
    if not condition.values and (condition.minimum is not None or condition.maximum is not None):
        ends = [f"{end:.2f}" if end is not None else "" for end in (condition.minimum, condition.maximum)]
        parts.append("..".join(ends))
    if condition.strength == "wish":
        parts.append("wish")
    return " ".join(parts)


def meanings(reading: Reading) -> set[str]:
    """What a reading asks, without places and words."""
    return {told(condition) for condition in reading.conditions}


def spans(reading: Reading) -> list[Span]:
    """Every stretch of the request that the reading accounts for."""
    found = [*reading.filler, *reading.task.spans]
    found += [span for condition in reading.conditions for span in (condition.at, *condition.more)]
    found += [part.at for part in (*reading.unread, *reading.named, *reading.corrections)]
    return found


def uncovered(reading: Reading) -> list[str]:
    """Words and numbers of the request that no part of the reading accounts for."""
    from askplant.quantities.scan import lexemes

    found = spans(reading)
    return [
        lexeme.text
        for lexeme in lexemes(reading.request)
        if lexeme.kind in ("word", "num")
        and not any(start <= lexeme.start and lexeme.end <= end for start, end in found)
    ]
