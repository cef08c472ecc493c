"""The plants a name stands for: an id, a botanical name, a synonym, or any name callers use, mended as in a request."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from itertools import islice, product
from typing import NamedTuple

from askplant.base.names import words_of
from askplant.base.opened import Base, Name
from askplant.errors import UnknownPlant
from askplant.reading.mending import Mender, alike

MOST_NEAREST = 3  # names suggested for one that nobody bears
LEAST_ALIKE = 60.0  # of 100, how alike a name must be to be suggested: letters in common and in order, of all letters
MOST_TRIED = 200  # ways of mending a name of several unknown words


class Found(NamedTuple):
    """The name as the base writes it, the plants that bear it, and whether letters had to be mended."""

    shown: str
    plants: tuple[int, ...]
    mended: bool = False


def find(text: str, base: Base) -> Found:
    """The plants of a name; a species alone where the name is a species'. UnknownPlant for a name nobody bears."""
    found = sought(text, base)
    if found is None:
        raise UnknownPlant(text, nearest(text, base))
    return found


def meant(name: str, found: Found, base: Base) -> Found:
    """Of several plants of a name the one that is meant by it, as a seller takes it: the only species among them, or the only
    species that is called just so ("lilac"). Where none is, all of them, those first whose first name it is.
    """
    if len(found.plants) == 1:
        return found
    words = words_of(name)
    wild = [n for n in found.plants if base.plant(n).epithet is None]
    named = [n for n in wild if words in map(words_of, base.plant(n).common)]
    for some in (wild, named):
        if len(some) == 1:
            return found._replace(plants=tuple(some))
    return found._replace(plants=tuple(sorted(found.plants, key=lambda n: _called(words, n, base))))


def _called(words: tuple[str, ...], n: int, base: Base) -> tuple[int, bool]:
    """How a plant bears a name: first of its names, among them, or in part; species before cultivars."""
    plant = base.plant(n)
    names = [words_of(name) for name in plant.common]
    return (0 if names[:1] == [words] else 1 if words in names else 2), plant.epithet is not None


def sought(text: str, base: Base) -> Found | None:
    """As `find`, but None for a name nobody bears, without looking for those that come close."""
    exact = _by_id(text, base)
    if exact is not None:
        return Found(base.plant(exact).botanical, (exact,))
    words = words_of(text)
    name = _borne(words, base)
    if name:
        return _found(name, base, mended=name.kind == "misspelt")
    mended = _mended(words, base)
    if len({near.plants for near in mended}) == 1:
        return _found(mended[0], base, mended=True)
    closed_up = _closed_up(words, base)
    if closed_up:
        return _found(closed_up, base, mended=True)
    return None


def nearest(text: str, base: Base) -> tuple[str, ...]:
    """The names that come closest to one that nobody bears, nearest first."""
    words = words_of(text)
    return _shown(_mended(words, base)) or _alike(words, base)


def _by_id(text: str, base: Base) -> int | None:
    try:
        return base.index(text)
    except UnknownPlant:
        return None


def _borne(words: tuple[str, ...], base: Base) -> Name | None:
    known = base.names_starting(words[0]) if words else ()
    return next((name for name in known if name.words == words), None)


def _found(name: Name, base: Base, mended: bool) -> Found:
    """A species' name stands for the species itself, not for its cultivars; a genus for all its plants."""
    first, *others = name.plants
    genus = name.words == words_of(base.plant(first).genus)
    if not genus and all(_descends(n, first, base) for n in others):
        return Found(base.plant(first).botanical, (first,), mended)
    return Found(name.shown, name.plants, mended)


def _descends(n: int, ancestor: int, base: Base) -> bool:
    parent = base.plant(n).parent
    while parent is not None and parent != ancestor:
        parent = base.plant(parent).parent
    return parent == ancestor


def _mended(words: tuple[str, ...], base: Base) -> list[Name]:
    """The names that come of putting the nearest known word in each unknown one's place."""
    known = base.known_words()
    mender = _mender(base)
    choices = [(word,) if word in known else mender.candidates(word) for word in words]
    tried = islice(product(*choices), MOST_TRIED)
    return [name for name in (_borne(candidate, base) for candidate in tried) if name]


def _closed_up(words: tuple[str, ...], base: Base) -> Name | None:
    """The name of the same letters whose words are parted elsewhere: `skypencil`."""
    return _by_letters(base).get("".join(words)) if words else None


def _alike(words: tuple[str, ...], base: Base) -> tuple[str, ...]:
    """Names written nearly the same, nearest first."""
    by_words = _by_words(base)
    return _shown([by_words[key] for key in alike(" ".join(words), by_words, MOST_NEAREST, LEAST_ALIKE)])


@lru_cache(maxsize=2)
def _by_letters(base: Base) -> dict[str, Name]:
    """Every name by its letters without blanks; of those with the same the first."""
    return {"".join(name.words): name for name in reversed(base.names())}


@lru_cache(maxsize=2)
def _by_words(base: Base) -> dict[str, Name]:
    return {" ".join(name.words): name for name in base.names()}


@lru_cache(maxsize=2)
def _mender(base: Base) -> Mender:
    return Mender(base.known_words(), base.any_ordinary)


def _shown(names: Iterable[Name]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name.shown for name in names))[:MOST_NEAREST]
