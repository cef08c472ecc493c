"""Names as a nursery writes them → plants of the base: sure, doubtful, or none.

A name is sure where all its words are names of one plant, cut short or misspelt as they may be, and no other plant comes as
close; a remark behind a full name (`blue`, `fall mix`) counts for nothing where no form of the plant goes by its words. It is
doubtful where another word of it says nothing, where its cultivar is not in the base but its species is, or where several
plants bear it. A doubtful line counts for nothing until somebody has settled it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from askplant.base.names import words_of
from askplant.base.opened import Base
from askplant.base.records import species_of
from askplant.finding import nearest, sought
from askplant.stock.fitting import OLDER, Fit, fits
from askplant.stock.known import SHORT, SLIP, Known
from askplant.stock.said import Word, trade, without_marks, words_in
from askplant.stock.stock import Sureness

FEW = 3  # plants told of a name that several bear
FARTHEST = 2 * SLIP + SHORT  # what a sure name may cost: two slips of the pen, and a word cut short


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
        self.names = Known(base)

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
        """One name: the one plant that all its words fit, or what it may be."""
        words = words_in(name)
        found = fits(words, self.names, self._base)
        mixed = any(word.key in trade().mixed for word in words)
        if found and found[0].cost <= FARTHEST:
            closest = [fit for fit in found if fit.cost == found[0].cost]
            if len(closest) > 1:
                return self._doubtful("several", closest)
            return Matched("sure", _how(found[0].cost), (found[0].plant,))
        if not found and any(word.key in trade().no_plant for word in words):
            return Matched("unmatched", "no plant")
        named = " ".join(word.key for word in words if word.key not in trade().mixed) if mixed else without_marks(name)
        group = sought(named, self._base)
        if group is not None and not group.mended:
            how = "bare epithet" if len(group.plants) == 1 and not mixed else "several"
            return Matched("doubtful", how, group.plants, self._titles(group.plants))
        if found:
            return self._doubtful("several" if mixed else "far off", found)
        return self._part(words) or Matched("unmatched", "no such name", (), nearest(without_marks(name), self._base))

    def _part(self, words: tuple[Word, ...]) -> Matched | None:
        """What a name fits but for one word of it, else what its longest beginning fits."""
        for left in range(1, len(words)):
            found = fits((*words[:left], *words[left + 1 :]), self.names, self._base)
            if found and self._base.plant(found[0].plant).epithet is not None:
                return self._doubtful("words left over", [fit for fit in found if fit.cost == found[0].cost])
        for count in range(len(words) - 1, 0, -1):
            found = fits(words[:count], self.names, self._base)
            if found:
                closest = [fit for fit in found if fit.cost == found[0].cost]
                known = self._base.plant(closest[0].plant).epithet is None
                return self._doubtful("cultivar unknown" if known else "words left over", closest)
        return None

    def _doubtful(self, how: str, found: list[Fit]) -> Matched:
        plants = tuple(fit.plant for fit in found)
        return Matched("doubtful", how, plants, self._titles(plants))

    def _kin(self, one: int, other: int) -> bool:
        """Whether one plant is the other, or a form of it, or of the same species."""
        return one == other or species_of(self._base.plant(one).botanical) == species_of(
            self._base.plant(other).botanical
        )

    def _titles(self, plants: tuple[int, ...]) -> tuple[str, ...]:
        return tuple(self._base.plant(n).botanical for n in plants[:FEW])


def key_of(name: str) -> str:
    """A name as it is settled: case, marks and blanks do not count."""
    return " ".join(words_of(without_marks(name)))


def _how(cost: int) -> str:
    """The code of how a sure name is written, by what it costs."""
    return "name" if cost <= OLDER else "short" if cost < SLIP else "mended"
