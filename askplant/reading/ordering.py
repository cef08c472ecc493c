"""Words of the desk that a line says in other words, and words before them that only lead; both of the refining vocabulary."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from askplant.reading.steps import Line
from askplant.reading.vocabulary import STOPS, Vocabulary


def order_in(text: str, vocabulary: Vocabulary) -> tuple[str, str] | None:
    """The word of the desk that a line says in other words, with what it says it of: `put 2 on the list` is to keep 2."""
    line = Line(text, vocabulary)
    head, (tail, closing) = line.phrase("ORDER", 0), _order_end(line)
    if head is None:  # "the second is fine"
        fits = "pointed" in closing and line.pointed_to(0) == tail
        return (str(closing["word"]), _part(line, 0, tail)) if fits else None
    first, end, said = head[0].end, len(line.words), head[1]
    if "pointed" in said:  # "I like the second"
        end = line.pointed_to(first) or 0
        if not end or not line.ends(end):
            return None
    elif "closed" in said:  # "put 2 on the list"
        end = tail
        if closing.get("word") != said["word"] or "pointed" in closing or first >= end:
            return None
    return str(said["word"]), _part(line, first, end)


def _order_end(line: Line) -> tuple[int, Any]:
    """Where the words begin that close a line which says a word of the desk in other words, and their meaning."""
    for at in reversed(range(1, len(line.words))):  # from the end on: "that" of "that on the list" is no part of it
        found = line.phrase("ORDER_END", at)
        if found is not None and line.ends(found[0].end):
            return at, found[1]
    return len(line.words), {}


def _part(line: Line, first: int, end: int) -> str:
    """The text of some words of a line."""
    return line.text[line.words[first].start : line.words[end - 1].end].rstrip(" ?.!") if first < end else ""


def without_leads(text: str, vocabulary: Vocabulary, kinds: Sequence[str], marks: Sequence[str] = ("idle",)) -> str:
    """A line from behind the words that only lead: phrases of some classes that the vocabulary marks so ("um", "ok,", "and")."""
    line = Line(text, vocabulary)
    at = 0
    while at < len(line.words):
        found = (line.phrase(kind, at) for kind in kinds)
        led = next((match.end for match, said in filter(None, found) if any(mark in said for mark in marks)), None)
        if led is None and (at == 0 or line.words[at].key not in STOPS):
            return text[line.words[at].start :]
        at = led or at + 1
    return text
