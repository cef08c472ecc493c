"""Strange words of a request: mended where one meaning is clear, kept as they are where not, and what they leave in doubt.

What a word must be by the words beside it comes first (`5 fee`, `part shde`), then the nearest known word, then the one of
several near words that is of a kind with what it is joined to (`pikn or white`). A strange word that may be a bound, a
negation or a unit makes the quantity or wish beside it doubtful: that is left unread rather than read wrongly.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from askplant.folding import fold, stem
from askplant.reading.mending import SHORTEST, Mender
from askplant.reading.vocabulary import ARTICLES, Vocabulary
from askplant.reading.words import Word

# Units a misspelt word behind a number may be.
UNIT_WORDS = ("feet", "foot", "inch", "inches", "meter", "meters", "metre", "metres", "year", "years", "hour", "hours")
# Words for a direction that a misspelt word behind a length may be.
AXIS_WORDS = ("wide", "tall", "high", "deep", "long", "across", "spread", "width", "height")
# What joins two words of one kind.
JOINTS = frozenset(("or", "and", "nor", ",", "/", "to", "into", "until", "through", "&"))
# What may stand between a joint and what it joins.
BETWEEN = ARTICLES | {"one", "maybe", "even", "perhaps", "not"}
# Classes that change what stands behind them, and those that change the quantity in front of them.
LEADING = frozenset("NOT MAX MIN BETWEEN NEUTRAL CORRECTION AXIS".split())
TRAILING = frozenset("NOT AXIS MAX_AFTER MIN_AFTER FT IN METRIC HOURS YEARS NOT_AFTER NEUTRAL_AFTER".split())
# Classes that speak of plants; all traits do.
CONTENT = frozenset("PLANT COLOR MONTH SIZE ANIMAL NUM".split())
# Classes that by themselves say nothing: which of two such words was meant does not matter.
SMALL = frozenset("FILLER SITE".split())
UNITS = frozenset(("FT", "IN", "METRIC"))
# How many words back a phrase may have begun that a strange word goes on with.
PHRASE_REACH = 4


class Spelling:
    """The words with the clear mends made: which word each was, what an unclear one may be, and which neighbours it taints."""

    def __init__(self, words: list[Word]) -> None:
        self.words = words
        self.mended: dict[int, Word] = {}
        self.suggestions: dict[int, str] = {}
        self.leads: set[int] = set()
        self.trails: set[int] = set()


def spelt(words: Sequence[Word], vocabulary: Vocabulary, mender: Callable[[], Mender]) -> Spelling:
    """A request's words with strange ones mended where that is clear."""
    return _Speller(Spelling(list(words)), vocabulary, mender).run()


class _Speller:
    def __init__(self, out: Spelling, vocabulary: Vocabulary, mender: Callable[[], Mender]) -> None:
        self.out, self.vocabulary, self.mender = out, vocabulary, mender

    def run(self) -> Spelling:
        for number, word in enumerate(self.out.words):
            if word.kind == "word" and self.vocabulary.is_strange(word.key):
                self._word(number, word)
        return self.out

    def _word(self, number: int, word: Word) -> None:
        ordinary = self.vocabulary.knows(word.key)
        meant = self._beside(number) if len(word.key) > 2 else None
        if meant is None and not ordinary:
            near = self._near(word)
            meant = self._clear(number, word, near)
            if meant is None and near:
                self._doubt(number, word, near)
        if meant is not None:
            self.out.mended[number] = word
            self.out.words[number] = word._replace(key=self.vocabulary.spelling.get(meant, meant))

    def _near(self, word: Word) -> tuple[str, ...]:
        """The nearest known words; what looks like a plural may be a word cut short (`deciduos`), or a plural itself misspelt."""
        as_typed = fold(word.text)
        for form in dict.fromkeys((as_typed, as_typed.removesuffix("s"))):
            near = self.mender().candidates(form) if form != word.key else ()
            if len(near) == 1:
                return near
        return self.mender().candidates(word.key)

    def _clear(self, number: int, word: Word, near: tuple[str, ...]) -> str | None:
        """The one near word that was clearly meant: the only one, or the only one of a kind with what stands beside."""
        near = tuple(dict.fromkeys(self.vocabulary.spelling.get(other, other) for other in near))
        alike = [other for other in near if self._of_a_kind(number, other)]
        if len(alike) == 1:
            return alike[0]
        if not near or (len(near) > 1 and not all(self._is_small(other) for other in near)):
            return None
        clear = len(word.key) > 2 and any(self.mender().is_clear(form, near[0]) for form in {word.key, fold(word.text)})
        return near[0] if clear else None

    def _is_small(self, word: str) -> bool:
        return bool(self.vocabulary.senses(word)) and self.vocabulary.senses(word) <= SMALL

    def _of_a_kind(self, number: int, other: str) -> bool:
        """Whether a known word is of a kind with one that the strange word is joined to."""
        senses = self._content(other)
        return any(senses & self._content(partner) for partner in self._partners(number))

    def _content(self, word: str) -> set[str]:
        """What a word says of plants by itself; words that only join or bound say nothing."""
        return {sense for sense in self.vocabulary.senses(word) if sense in CONTENT or not sense.isupper()}

    def _partners(self, number: int) -> Iterator[str]:
        words = self.out.words
        for step in (-1, 1):
            at = number + step
            while 0 <= at < len(words) and words[at].key in BETWEEN:
                at += step
            if 0 <= at < len(words) and words[at].key in JOINTS:
                at += step
                while 0 <= at < len(words) and words[at].key in BETWEEN | JOINTS:
                    at += step
                if 0 <= at < len(words):
                    yield words[at].key

    def _doubt(self, number: int, word: Word, near: tuple[str, ...]) -> None:
        self.out.suggestions[number] = near[0]
        if word.capital and number and self.out.words[number - 1].key not in (".", "?", "!", ":"):
            return  # a name, not a slip of the hand
        classes = {sense for other in near for sense in self.vocabulary.senses(other)}
        if classes & LEADING:
            self.out.leads.add(number)
        if classes & TRAILING:
            self.out.trails.add(number)

    def _beside(self, number: int) -> str | None:
        """What a strange word must be by the words beside it: "par shade" is part shade, "5 fee" five feet."""
        words = self.out.words
        before = words[number - 1] if number else None
        after = words[number + 1] if number + 1 < len(words) else None
        if before is not None and self._is_number(before):
            unit = self.mender().unit(words[number].key, UNIT_WORDS)
            if unit is not None:
                return stem(unit)
        if (
            before is not None
            and number > 1
            and (self.vocabulary.senses(before.key) & UNITS or before.key in ("'", '"'))
        ):
            axis = self.mender().beside(words[number].key, AXIS_WORDS)
            if axis is not None:
                return axis
        if after is not None and after.kind == "num":
            zone = self.mender().beside(words[number].key, ("zone", "usda"))
            if zone is not None:
                return zone
        typed = words[number].key
        for start in range(max(number - PHRASE_REACH, 0), number):
            going_on = self.mender().beside(typed, self.vocabulary.going_on(words, start, number))
            if going_on is not None:
                return going_on
        if after is None or after.kind != "word":
            return None
        begun = self.mender().beside(typed, self.vocabulary.before(after.key))
        return begun if begun is not None and self._alone(number, begun) else None

    def _alone(self, number: int, meant: str) -> bool:
        """Whether no other near word says anything: before "that", `trere` may be `tree`, but `there` too."""
        word = self.out.words[number]
        others = [other for other in self._near(word) if other != meant and self.vocabulary.senses(other)]
        return not others and len(word.key) >= SHORTEST and self.mender().is_clear(word.key, meant)

    def _is_number(self, word: Word) -> bool:
        return word.kind == "num" or word.key == "+" or "NUM" in self.vocabulary.senses(word.key)
