"""Spelling: the one known word that is clearly nearest to an unknown one, or none.

Exact words and ordinary English are never mended; the distance allowed grows with length; two equally near words are none.
Two letters changed places are the likeliest slip of a hand, so such a word comes before others at the same distance.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from askplant.folding import stem

SHORTEST = 4
# The shortest word that a letter left out or two changed places may have made; anything else of this length is a code.
SHORTEST_SLIP = 2
# Known words that nothing is mended into: names that are known to be wrong.
NEVER = frozenset(("misspelt",))
LETTERS = "abcdefghijklmnopqrstuvwxyz"
# From this many letters on, two edits are allowed instead of one.
TWO_EDITS_FROM = 8


class Mender:
    """Known words by length, so that one unknown word is held against the few that can be near."""

    def __init__(self, known: Mapping[str, str], ordinary: Callable[[Iterable[str]], bool]) -> None:
        self.known, self.ordinary = known, ordinary
        self._by_length: dict[int, list[str]] = {}
        self._mended: dict[str, tuple[str, ...]] = {}

    def candidates(self, word: str) -> tuple[str, ...]:
        """The known words a strange one most likely stands for; one only means it is clearly nearest."""
        if word not in self._mended:
            self._mended[word] = self._search(word)
        return self._mended[word]

    def beside(self, word: str, expected: Iterable[str]) -> str | None:
        """The one of a few expected words that is within reach of a strange one, or none."""
        from rapidfuzz.distance import OSA

        reach = _reach(word, word)
        near = {other for other in expected if len(other) >= SHORTEST - 1 and abs(len(other) - len(word)) <= reach}
        near = {other for other in near if OSA.distance(word, other, score_cutoff=reach) <= reach}
        if len(word) < SHORTEST:
            near = {other for other in near if len(word) > SHORTEST_SLIP and _is_slip(word, other)}
        slips = {other for other in near if is_swap(word, other)} or near
        return slips.pop() if len(slips) == 1 else None

    def unit(self, word: str, units: Sequence[str]) -> str | None:
        """The unit within one edit of a strange word behind a number; of a singular and its plural, either."""
        from rapidfuzz.distance import OSA

        near = [unit for unit in units if OSA.distance(word, unit, score_cutoff=1) <= 1]
        return near[0] if len({stem(unit) for unit in near}) == 1 else None

    def is_clear(self, word: str, meant: str) -> bool:
        """Whether no word of ordinary English is a likelier meaning of a strange word than the known one."""
        if self.ordinary(other for other in _swapped(word) if other != meant):
            return False
        if is_swap(word, meant):
            return True
        near = abs(len(word) - len(meant)) <= 1 and differ_by_one(word, meant)
        return near or not self.ordinary(other for other in map(stem, _one_edit(word)) if other != meant)

    def _search(self, word: str) -> tuple[str, ...]:
        if len(word) < SHORTEST_SLIP or not word.isalpha():
            return ()
        from rapidfuzz.distance import OSA  # late: only an unknown word needs it

        reach = 2 if len(word) >= TWO_EDITS_FROM else 1
        near: dict[float, list[str]] = {}
        for other in self._within(len(word), reach):
            distance = OSA.distance(word, other, score_cutoff=reach)
            if distance <= _reach(word, other) and (len(word) >= SHORTEST or _is_slip(word, other)):
                near.setdefault(0.5 if is_swap(word, other) else distance, []).append(other)
        return tuple(near[min(near)]) if near else ()

    def _within(self, length: int, reach: int) -> Iterable[str]:
        if not self._by_length:
            for word in sorted(word for word, kind in self.known.items() if kind not in NEVER):
                self._by_length.setdefault(len(word), []).append(word)
        for size in range(max(length - reach, SHORTEST_SLIP), length + reach + 1):
            yield from self._by_length.get(size, ())


def alike(text: str, choices: Iterable[str], most: int, least: float) -> list[str]:
    """Those of many texts that are written most alike, the nearest first; `least` is the least likeness, of 100."""
    from rapidfuzz import fuzz, process

    return [
        found for found, _, _ in process.extract(text, list(choices), scorer=fuzz.ratio, limit=most, score_cutoff=least)
    ]


def is_swap(word: str, other: str) -> bool:
    """Whether two neighbouring letters have changed places, and nothing else is different."""
    if len(word) != len(other):
        return False
    apart = [at for at, (one, two) in enumerate(zip(word, other, strict=True)) if one != two]
    return (
        len(apart) == 2
        and apart[1] == apart[0] + 1
        and word[apart[0]] == other[apart[1]]
        and word[apart[1]] == other[apart[0]]
    )


def _is_slip(word: str, other: str) -> bool:
    """Whether a short word is another with a letter left out or two changed places."""
    return len(other) == len(word) + 1 or is_swap(word, other)


def differ_by_one(word: str, other: str) -> bool:
    """Whether one letter more, fewer or other, or two changed places, is all that parts two words."""
    from rapidfuzz.distance import OSA

    return OSA.distance(word, other, score_cutoff=1) <= 1


def _swapped(word: str) -> Iterator[str]:
    """Every word with two neighbouring letters of this one changed round."""
    for at in range(len(word) - 1):
        yield stem(word[:at] + word[at + 1] + word[at] + word[at + 2 :])


def _one_edit(word: str) -> Iterator[str]:
    """Every word that one letter more, fewer or other makes of this one."""
    for at in range(len(word) + 1):
        if at < len(word):
            yield word[:at] + word[at + 1 :]
        for letter in LETTERS:
            yield word[:at] + letter + word[at:]
            if at < len(word):
                yield word[:at] + letter + word[at + 1 :]


def _reach(word: str, other: str) -> int:
    """How many edits may part two words: two only in long ones that begin alike."""
    return 2 if len(word) >= TWO_EDITS_FROM and word[0] == other[0] else 1
