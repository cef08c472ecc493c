"""Words of the desk that a line says in other words, and words before them that only lead; both of the refining vocabulary."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from askplant.reading.steps import Line
from askplant.reading.vocabulary import STOPS, Vocabulary


def order_in(text: str, vocabulary: Vocabulary) -> tuple[str, str] | None:
    """The word of the desk that a line says in other words, with what it says it of: `put 2 on the list` is to keep 2."""
    line = Line(text, vocabulary)
    head = line.phrase("ORDER", 0) if line.words else None
    said: Any = head[1] if head is not None else {"pointed": 1, "closed": 1}
    first = head[0].end if head is not None else 0
    ends = line.pointed_to(first) if "pointed" in said else None
    if "pointed" in said and ends is None:
        return None
    at, word = ends or len(line.words), said.get("word")
    if "closed" in said:
        at, tail = next(_order_ends(line, ends or first + 1), (at, None))
        if not tail or (ends or at) != at or word not in (None, tail["word"]) or (head is None) != ("pointed" in tail):
            return None
        word = tail["word"]
    elif ends is not None and not line.ends(ends):
        return None
    rest = text[line.words[first].start : line.words[at - 1].end] if first < at else ""
    return str(word), rest.rstrip(" ?.!")


def _order_ends(line: Line, first: int) -> Iterator[tuple[int, Any]]:
    """Where words begin that close a line which says a word of the desk in other words, with their meaning."""
    for at in range(first, len(line.words)):
        found = line.phrase("ORDER_END", at)
        if found is not None and line.ends(found[0].end):
            yield at, found[1]


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
