"""Spelling: the one known word that is clearly nearest to an unknown one, or none.

Exact words and ordinary English are never mended; the distance allowed grows with length; two equally near words are none.
Measured on synthetic one-edit typos: no score threshold parts typos from other words, so distance and a word list decide.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

SHORTEST = 4
# Kinds of known words nothing is mended into: words that only join or colour others, and other spellings.
NEVER = frozenset(("cue", "spelling", "misspelt"))
# From this many letters on, two edits are allowed instead of one.
TWO_EDITS_FROM = 8


@dataclass(slots=True)
class Mender:
    """Known words by length, so that one unknown word is held against the few that can be near."""

    known: Mapping[str, str]
    _by_length: dict[int, list[str]] = field(default_factory=dict)
    _mended: dict[str, tuple[str, ...]] = field(default_factory=dict)

    def candidates(self, word: str) -> tuple[str, ...]:
        """The known words at the smallest distance within reach; one only means it is clearly nearest."""
        if word not in self._mended:
            self._mended[word] = self._search(word)
        return self._mended[word]

    def beside(self, word: str, expected: Iterable[str]) -> str | None:
        """The one of a few expected words that is within reach of a strange one, or none."""
        from rapidfuzz.distance import OSA

        reach = _reach(word, word)
        near = {other for other in expected if abs(len(other) - len(word)) <= reach and len(other) >= SHORTEST}
        near = {other for other in near if OSA.distance(word, other, score_cutoff=reach) <= reach}
        return near.pop() if len(near) == 1 else None

    def _search(self, word: str) -> tuple[str, ...]:
        if len(word) < SHORTEST or not word.isalpha():
            return ()
        from rapidfuzz.distance import OSA  # late: only an unknown word needs it

        reach = 2 if len(word) >= TWO_EDITS_FROM else 1
        near: dict[int, list[str]] = defaultdict(list)
        for other in self._within(len(word), reach):
            distance = OSA.distance(word, other, score_cutoff=reach)
            if distance <= _reach(word, other):
                near[distance].append(other)
        return tuple(near[min(near)]) if near else ()

    def _within(self, length: int, reach: int) -> Iterable[str]:
        if not self._by_length:
            for word in sorted(word for word, kind in self.known.items() if kind not in NEVER):
                self._by_length.setdefault(len(word), []).append(word)
        for size in range(max(length - reach, SHORTEST - 1), length + reach + 1):
            yield from self._by_length.get(size, ())


def alike(text: str, choices: Iterable[str], most: int, least: float) -> list[str]:
    """Those of many texts that are written most alike, the nearest first; `least` is the least likeness, of 100."""
    from rapidfuzz import fuzz, process

    return [found for found, _, _ in process.extract(text, list(choices), scorer=fuzz.ratio, limit=most, score_cutoff=least)]


def _reach(word: str, other: str) -> int:
    """How many edits may part two words: two only in long ones that begin alike."""
    return 2 if len(word) >= TWO_EDITS_FROM and word[0] == other[0] else 1
