"""The names of a base as a stock list may write them: each plant's own words, and what a strange word may stand for."""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from askplant.base.opened import Base
from askplant.base.records import Plant
from askplant.reading.mending import Mender, differ_by_one
from askplant.stock.said import Word, trade, words_in

Words = tuple[str, ...]
RANKED = 2  # words of a species; more have a variety behind it

# What a word costs that is not written as the base writes it. Only the order counts: an ending, a word cut short, a slip.
ENDING, SHORT, SLIP = 1, 2, 4
SHORTEST_ENDING = 5  # letters of a word whose Latin ending may differ
SHORTEST_SLIP = 5  # letters of a word in which a slip is mended
SHORTEST_JOINED = 8  # letters of a name in which a slip is mended where its blanks stand elsewhere too
LONGEST_ENDING = 4
LONGEST_PLAIN = 4  # letters of a word that is cut short without a full stop
_ENDINGS = ("orum", "ius", "ii", "us", "um", "is", "ei", "es", "a", "e", "i", "y")


class Names(NamedTuple):
    """The words of one plant.

    `genera` are its genus and those of its synonyms, `species` the words between genus and epithet in any of these names,
    `epithets` its epithets, `latin` its full names without an epithet, `common` its other names. `own` are all words of its
    names and of those it inherits from, `above` the common names of the latter. `forms` are the words that may tell a form of it:
    those of all epithets of its genus, and of the common names of what inherits from it.
    """

    genera: frozenset[str]
    species: frozenset[str]
    epithets: tuple[Words, ...]
    latin: tuple[Words, ...]
    common: tuple[Words, ...]
    own: frozenset[str]
    above: tuple[Words, ...] = ()
    forms: frozenset[str] = frozenset()


class Known:
    """All names of a base, looked up by words."""

    def __init__(self, base: Base) -> None:
        self._base = base
        self.names = [_names(plant) for plant in base.plants()]
        for plant in base.plants():
            self.names[plant.n] = self._inherited(plant)
        self.by_genus: dict[str, set[int]] = defaultdict(set)
        self.by_kind: dict[str, set[int]] = defaultdict(set)
        kinds: dict[str, set[str]] = defaultdict(set)
        genera: dict[str, frozenset[str]] = {}  # a name that one plant of a genus once had is used for all of them
        for plant, names in zip(base.plants(), self.names, strict=True):
            genera[plant.genus] = genera.get(plant.genus, frozenset()) | names.genera
        for plant in base.plants():
            if plant.epithet is not None:
                self.names[plant.n] = self.names[plant.n]._replace(genera=genera[plant.genus])
        for plant, names in zip(base.plants(), self.names, strict=True):
            for genus in names.genera:
                self.by_genus[genus].add(plant.n)
            kinds[plant.genus] |= {name[-1] for name in map(keys, plant.common) if name}
        self.kinds = {genus: frozenset(words) for genus, words in kinds.items()}
        for plant in base.plants():
            for kind in kinds[plant.genus]:
                self.by_kind[kind].add(plant.n)
        self._tell_forms()
        self.species: dict[str, frozenset[str]] = {}
        for plant, names in zip(base.plants(), self.names, strict=True):
            self.species[plant.genus] = self.species.get(plant.genus, frozenset()) | names.species
        self._words = sorted({word for names in self.names for word in names.own})
        self._endings: dict[str, set[str]] = defaultdict(set)
        for word in self._words:
            self._endings[without_ending(word)].add(word)
        self._known = frozenset(self._words)
        self._mender = Mender(dict.fromkeys(self._words, "name"), base.any_ordinary)
        self._meant: dict[Word, dict[str, int]] = {}

    def _inherited(self, plant: Plant) -> Names:
        names, parent = self.names[plant.n], plant.parent
        while parent is not None:
            above = self.names[parent]
            names = names._replace(own=names.own | above.own, above=names.above + above.common)
            parent = self._base.plant(parent).parent
        return names

    def _tell_forms(self) -> None:
        of_genus: dict[str, frozenset[str]] = {}
        below: dict[int, set[str]] = defaultdict(set)
        for plant in self._base.plants():
            names, parent = self.names[plant.n], plant.parent
            before = of_genus.get(plant.genus, frozenset())
            of_genus[plant.genus] = before.union(*names.epithets, *map(keys, plant.heard))
            while parent is not None:
                below[parent].update(*names.common)
                parent = self._base.plant(parent).parent
        for plant in self._base.plants():
            forms = of_genus[plant.genus]
            if plant.n in below:
                forms |= below[plant.n]
            self.names[plant.n] = self.names[plant.n]._replace(forms=forms)

    def meant(self, word: Word) -> dict[str, int]:
        """The words of the base that a word of a list may stand for, and what each costs."""
        if word not in self._meant:
            self._meant[word] = self._meanings(word)
        return self._meant[word]

    def _meanings(self, word: Word) -> dict[str, int]:
        if word.key in trade().mixed:  # `misc.` is short for no name
            return {word.key: 0}
        found: dict[str, int] = {}
        if len(word.key) >= SHORTEST_SLIP and word.key not in self._known and not self._base.is_ordinary(word.key):
            found |= dict.fromkeys(self._mender.candidates(word.key), SLIP)
        plainly = 1 < len(word.key) <= LONGEST_PLAIN and word.key not in self._known
        if not word.number and (word.cut or plainly):
            found |= dict.fromkeys(self._beginning(word.key), SHORT)
        found |= dict.fromkeys(self._endings.get(without_ending(word.key), ()), ENDING)
        for full in trade().short.get(word.key, ()):
            found[full] = ENDING
        if word.key in self._known:
            found[word.key] = 0
        return found

    def _beginning(self, start: str) -> Iterator[str]:
        place = bisect_left(self._words, start)
        while place < len(self._words) and self._words[place].startswith(start):
            yield self._words[place]
            place += 1


def parted_elsewhere(one: str, count: int, own: Words) -> int | None:
    """What it costs to take the letters of some words for those of other words: nothing, an ending, or one slip.

    A slip is only mended where the blanks stand elsewhere too: between names of as many words one letter makes a difference.
    """
    other, bare = _letters(own)
    if one == other:
        return 0
    if one[:1] != other[:1] or abs(len(one) - len(other)) > LONGEST_ENDING:
        return None
    if without_ending(one) == bare:
        return ENDING
    return SLIP if count != len(own) and len(one) >= SHORTEST_JOINED and differ_by_one(one, other) else None


@lru_cache(maxsize=16384)
def _letters(own: Words) -> tuple[str, str]:
    """The letters of a name without blanks, with its ending and without."""
    letters = "".join(own)
    return letters, without_ending(letters)


@lru_cache(maxsize=65536)
def without_ending(word: str) -> str:
    """A word without a Latin ending, in which cases, genders and a doubled i differ."""
    if len(word) >= SHORTEST_ENDING:
        for ending in _ENDINGS:
            if word.endswith(ending) and not word.endswith("ss"):
                return word[: -len(ending)]
    return word


def is_plain(epithet: Words) -> bool:
    """Whether an epithet may belong to several kinds of a genus, as `Nana` does."""
    return len(epithet) == 1 and without_ending(epithet[0]) in _plain()


@lru_cache(maxsize=1)
def _plain() -> frozenset[str]:
    return frozenset(map(without_ending, trade().plain_epithet))


def keys(name: str) -> Words:
    """The folded words of a name of the base."""
    return tuple(word.key for word in words_in(name))


def _names(plant: Plant) -> Names:
    genera, species, epithets, latin = set(), set(), [], []
    for full in (plant.botanical, *plant.synonyms):
        before, quote, behind = full.partition(" '")
        words = keys(before)
        if not words:
            continue
        genera.add(words[0])
        species |= set(words[1:])
        if quote:
            epithets.append(keys(behind.rsplit("'", 1)[0]))
        else:
            latin.append(words)
    if plant.epithet is None:
        latin += [(words[0], words[-1]) for words in latin if len(words) > RANKED and not is_plain(words[-1:])]
    called = [keys(name) for name in (*plant.common, *plant.heard)]
    called += [name[:-1] for name in called if len(name) > RANKED and name[-1] in trade().left_out]
    common = tuple(dict.fromkeys(called))
    own = {*genera, *species, *(word for name in (*epithets, *common) for word in name)}
    return Names(
        frozenset(genera),
        frozenset(species),
        tuple(dict.fromkeys(epithets)),
        tuple(dict.fromkeys(latin)),
        common,
        frozenset(own),
    )
