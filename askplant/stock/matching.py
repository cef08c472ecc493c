"""Names as a nursery writes them → plants of the base: sure, doubtful, or none.

A name is sure where the base has it, or where its spelling is mended to the one plant that is clearly meant. It is doubtful
where words are cut short, where its cultivar is not in the base but its species is, or where several plants bear it. A doubtful
line counts for nothing until somebody has settled it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from askplant.base.botanical import RANKS
from askplant.base.names import words_of
from askplant.base.opened import Base
from askplant.finding import nearest, sought
from askplant.stock.stock import Sureness

FEW = 3  # plants told of a name that several bear
SHORTEST = 2  # letters of a word that is cut short, behind a genus that is written out
# What stands in a name and names nothing: marks of trade and patent, and who may propagate it.
_MARKS = re.compile(
    r"[®™©℠]|\((?:r|tm|pp[^()]*|pbr|usppaf)\)|\bpp\s?#?\s?\d[\d,]*(?:\s?af)?\b|\bcpbr\s?#?\d*|\buspp?\w*\s?#?\d*|\bppaf\b|\bpbr\b",
    re.IGNORECASE,
)
_BRACKETED = re.compile(r"\([^()]*\)|\[[^\[\]]*\]")
_QUOTED = re.compile(r"['‘’\"“”](?P<epithet>[^'‘’\"“”]{2,})['‘’\"“”]")


class Matched(NamedTuple):
    """What a name stands for: how sure, by what (a code), the plants, and names that come close where it is none."""

    sureness: Sureness
    how: str
    plants: tuple[int, ...] = ()
    nearest: tuple[str, ...] = ()


class Matcher:
    """Matches names to one base; settled names first. A name that comes again is not matched again."""

    def __init__(self, base: Base, settled: Mapping[str, str] | None = None) -> None:
        self._base = base
        self._settled = {key_of(name): meant for name, meant in (settled or {}).items()}
        self._known: dict[tuple[str, str], Matched] = {}
        self._genera: dict[str, list[tuple[tuple[str, ...], int]]] | None = None

    def match(self, botanical: str, common: str = "") -> Matched:
        """The plant of a line with a botanical name, a common one, or both."""
        key = (botanical, common)
        if key not in self._known:
            self._known[key] = self._match(botanical, common)
        return self._known[key]

    def _match(self, botanical: str, common: str) -> Matched:
        for name in (f"{botanical} ({common})" if botanical and common else "", botanical, common):
            if name and key_of(name) in self._settled:
                return self._as_settled(self._settled[key_of(name)])
        if not botanical or not common:
            return self._named(botanical or common)
        first, second = self._named(botanical), self._named(common)
        if first.sureness == "sure":
            if second.sureness == "sure" and not self._kin(first.plants[0], second.plants[0]):
                return Matched(
                    "doubtful",
                    "two names",
                    (*first.plants, *second.plants),
                    self._titles((*first.plants, *second.plants)),
                )
            return first
        if second.sureness == "sure" and first.sureness == "unmatched":
            return Matched("doubtful", "common name alone", second.plants, self._titles(second.plants))
        return first if first.plants else second if second.plants else first

    def _as_settled(self, meant: str) -> Matched:
        if not meant:
            return Matched("left out", "settled")
        found = sought(meant, self._base)
        if found is None:
            return Matched("unmatched", "settled to none", (), nearest(meant, self._base))
        if len(found.plants) > 1:
            return Matched("doubtful", "settled to several", found.plants, self._titles(found.plants))
        return Matched("sure", "settled", found.plants)

    def _named(self, name: str) -> Matched:
        """One name, the fullest form of it first."""
        for form in _forms(name):
            found = sought(form, self._base)
            if found is None:
                continue
            if len(found.plants) > 1:
                return Matched("doubtful", "several", found.plants, self._titles(found.plants))
            if self._loses_cultivar(name, found.plants[0]):
                return Matched("doubtful", "cultivar unknown", found.plants, self._titles(found.plants))
            return Matched("sure", "mended" if found.mended else "name", found.plants)
        short = self._cut_short(name)
        if short:
            return Matched("doubtful", "cut short", short, self._titles(short))
        species = self._species(name)
        if species is not None:
            how = "cultivar unknown" if self._base.plant(species).epithet is None else "words left over"
            return Matched("doubtful", how, (species,), self._titles((species,)))
        return Matched("unmatched", "no such name", (), nearest(_plain(name), self._base))

    def _loses_cultivar(self, name: str, plant: int) -> bool:
        """Whether a cultivar is named in quotes, and the plant found is none."""
        return (
            _QUOTED.search(name) is not None
            and self._base.plant(plant).epithet is None
            and not self._selling(name, plant)
        )

    def _selling(self, name: str, plant: int) -> bool:
        quoted = _QUOTED.search(name)
        heard = self._base.plant(plant)
        return quoted is not None and words_of(quoted["epithet"]) in {
            words_of(one) for one in (*heard.heard, *heard.common)
        }

    def _cut_short(self, name: str) -> tuple[int, ...]:
        """The plants whose words begin with the words of a name, one for one: `Thuja occ. Emerald`, `T. occidentalis`."""
        words = tuple(word for word in words_of(_plain(name)) if word not in RANKS and word != "x")
        if len(words) < SHORTEST:
            return ()
        if self._genera is None:
            self._genera = {}
            for number, plant in enumerate(self._base.plants()):
                own = tuple(word for word in words_of(plant.botanical) if word not in ("subsp", "var", "f", "x"))
                self._genera.setdefault(own[0][0], []).append((own, number))
        same = self._genera.get(words[0][0], [])
        found = [number for own, number in same if len(own) == len(words) and _begins(own, words)]
        return tuple(found[:FEW]) if len(found) <= FEW else ()

    def _species(self, name: str) -> int | None:
        """The species, where a name is one with a cultivar behind it that the base has not."""
        words = _plain(name).split()
        for count in (4, 3, 2):
            if len(words) > count or (_QUOTED.search(name) and len(words) >= count):
                found = sought(" ".join(words[:count]), self._base)
                if found is not None and len(found.plants) == 1 and not found.mended:
                    return found.plants[0]
        return None

    def _kin(self, one: int, other: int) -> bool:
        """Whether one plant is the other, or a form of it, or of the same species."""
        return one == other or _species_of(self._base.plant(one).botanical) == _species_of(
            self._base.plant(other).botanical
        )

    def _titles(self, plants: tuple[int, ...]) -> tuple[str, ...]:
        return tuple(self._base.plant(n).botanical for n in plants[:FEW])


def key_of(name: str) -> str:
    """A name as it is settled: case, marks and blanks do not count."""
    return " ".join(words_of(_MARKS.sub(" ", name)))


def _forms(name: str) -> Iterator[str]:
    """A name as it stands, then without marks, without what is in brackets, and turned about its comma."""
    plain = _plain(name)
    found = [name, plain, _BRACKETED.sub(" ", plain)]
    if plain.count(",") == 1:
        last, first = plain.split(",")
        found.append(f"{first} {last}")  # Holly, American
    inside = [one.strip("()[] ") for one in _BRACKETED.findall(plain)]
    yield from dict.fromkeys(" ".join(form.split()) for form in (*found, *inside) if form.strip())


def _plain(name: str) -> str:
    return " ".join(_MARKS.sub(" ", name).split())


def _begins(own: tuple[str, ...], words: tuple[str, ...]) -> bool:
    """Whether each word begins its own, and no more than one by a single letter."""
    return (
        all(full.startswith(part) for full, part in zip(own, words, strict=True))
        and sum(len(part) < SHORTEST for part in words) <= 1
    )


def _species_of(botanical: str) -> str:
    return botanical.split(" '")[0]
