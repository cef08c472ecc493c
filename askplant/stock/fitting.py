"""How a line's words fit a plant: every word of its name must be there, and every word of the line must be accounted for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from askplant.base.opened import Base
from askplant.stock.known import SHORT, Known, Names, Words, is_plain, parted_elsewhere
from askplant.stock.said import Word, trade

OLDER = 1  # what it costs that a name is a synonym or a common one: a plant's own name goes before
ELSEWHERE = 3  # what it costs that a cultivar is put under another species of its genus
FULL = 2  # words of a name behind which remarks may stand: a genus or `holly` alone is no plant's full name
MOST_WORDS = 14  # of a line; longer ones are sentences


class Fit(NamedTuple):
    """A plant that a line may stand for: what its dress costs (0: as the base writes it)."""

    plant: int
    cost: int


def fits(words: Sequence[Word], known: Known, base: Base) -> list[Fit]:
    """The plants that a line's words fit, the closest first."""
    if not words or len(words) > MOST_WORDS:
        return []
    line = _Line(words, known)
    found = []
    for number in sorted(line.candidates()):
        costs = list(line.costs(known.names[number], base.plant(number).genus, base.plant(number).epithet is not None))
        if costs:
            found.append(Fit(number, min(costs)))
    return sorted(found, key=lambda fit: (fit.cost, fit.plant))


class _Line:
    """The words of one line and what each may stand for."""

    def __init__(self, words: Sequence[Word], known: Known) -> None:
        self._words = words
        self._known = known
        self._meant = [known.meant(word) for word in words]
        self._spans = [
            (start, end, "".join(word.key for word in words[start:end]))
            for start in range(len(words))
            for end in range(start + 1, len(words) + 1)
        ]
        self._by_letter: dict[str, list[tuple[int, int, str]]] = {}
        for span in self._spans:
            self._by_letter.setdefault(span[2][:1], []).append(span)
        self._all = frozenset(word for meant in self._meant for word in meant)
        beside = trade().beside
        self._optional = {place for place, word in enumerate(words) if word.number and not word.quoted}
        self._remarks: set[int] = set()
        for place in range(len(words) - 1, -1, -1):  # what is said beside a name stands behind it
            if words[place].quoted:
                break
            if words[place].key in beside or words[place].number:
                self._optional.add(place)
            elif words[place].key in trade().mixed or _may_remark(words[place]):
                self._remarks.add(place)
            else:
                break

    def candidates(self) -> set[int]:
        """The plants of every genus and kind that the line names."""
        found: set[int] = set()
        for meant in self._meant:
            for word in meant:
                found |= self._known.by_genus.get(word, set()) | self._known.by_kind.get(word, set())
        return found

    def costs(self, names: Names, genus: str, is_cultivar: bool) -> Iterator[int]:
        """What each way of taking the line for a plant costs; none where it is not that plant."""
        for place, epithet in enumerate(names.epithets):
            older = OLDER * (place > 0 or not is_cultivar)
            yield from (cost + older for cost in self._cultivar(names, genus, epithet))
        for place, latin in enumerate(names.latin if not is_cultivar else ()):
            yield from (cost + OLDER * (place > 0) for cost in self._species(names, latin))
        for common in names.common:
            yield from (cost + OLDER for cost in self._common(names, common, is_cultivar))

    def _cultivar(self, names: Names, genus: str, epithet: Words) -> Iterator[int]:
        kinds = names.genera | self._known.kinds[genus]
        for used, cost in self._runs(epithet):
            rest = self._rest(used)
            if all(self._words[place].quoted for place in used):
                rest -= self._remarked(names, used)
            elif len(epithet) == 1 and epithet[0] in trade().remark:  # `Picea pungens, blue` is hardly 'The Blues'
                continue
            quoted = [place for place, word in enumerate(self._words) if word.quoted and place not in used]
            named = self._cheapest(rest, kinds)
            if named is None or quoted:
                continue
            plain = is_plain(epithet)
            weak = plain or (len(epithet) == 1 and cost == SHORT)
            if weak and names.species and not self._tells_species(rest, names):
                continue
            explained = self._explained(rest - {named[0]}, names.own, () if plain else self._known.species[genus])
            if explained is not None:
                yield cost + named[1] + explained

    def _tells_species(self, rest: frozenset[int], names: Names) -> bool:
        """Whether words name the species, by its own words or by a common name of it."""
        return self._cheapest(rest, names.species) is not None or any(
            self._each(common, sorted(rest)) is not None for common in names.above
        )

    def _species(self, names: Names, latin: Words) -> Iterator[int]:
        taken = self._in_order(latin) if self._all.issuperset(latin) else None
        if taken is None or any(self._words[place].quoted for place in taken[0]):
            return
        rest = self._rest(taken[0]) - self._remarked(names, taken[0]) - self._mixed(taken[0])
        if self._completes(rest, names):
            yield taken[1]

    def _common(self, names: Names, common: Words, is_cultivar: bool) -> Iterator[int]:
        if not common or common in names.epithets:
            return
        each = self._each(common, range(len(self._words))) if self._all.issuperset(common) else None
        ways = [way for way in (each, *self._runs(common)) if way is not None]
        for taken in ways:
            yield from self._called(names, taken, is_cultivar)

    def _called(self, names: Names, taken: tuple[frozenset[int], int], is_cultivar: bool) -> Iterator[int]:
        """What it costs to take a line for a plant of which a common name stands in it."""
        rest = self._rest(taken[0])
        if is_cultivar:
            explained = self._explained(rest, names.own, ())
            if explained is not None and not any(self._words[place].quoted for place in rest):
                yield taken[1] + explained
        elif not any(word.quoted for word in self._words):
            explained = self._explained(rest - self._mixed(taken[0]), names.species | names.genera, ())
            if explained is not None:
                yield taken[1] + explained

    def _rest(self, used: frozenset[int]) -> frozenset[int]:
        return frozenset(range(len(self._words))) - used - (self._optional - used)

    def _remarked(self, names: Names, used: frozenset[int]) -> set[int]:
        """Where something is remarked behind a botanical name, in words by which no cultivar of the genus goes.

        Behind a common name it may be part of another plant's: `trumpet vine, purple`.
        """
        return {place for place in self._remarks if place > max(used) and self._tells_no_form(place, names)}

    def _mixed(self, used: frozenset[int]) -> set[int]:
        """Where it is said that a species, named in full, comes in several colours."""
        behind = {place for place in self._remarks if place > max(used) and self._words[place].key in trade().mixed}
        return behind if len(used) >= FULL else set()

    def _tells_no_form(self, place: int, names: Names) -> bool:
        """Whether no form of a plant, and no other cultivar of its genus, goes by a word."""
        word = self._words[place].key
        return word not in trade().mixed and names.forms.isdisjoint((word, *trade().short.get(word, ())))

    def _completes(self, rest: frozenset[int], names: Names) -> bool:
        """Whether what is left is nothing, or words of one common name: its last among them, or such as remarks are made of."""
        if not rest:
            return True
        if any(self._words[place].quoted for place in rest):
            return False
        return any(
            self._explained(rest, frozenset(common), ()) is not None
            and (
                self._cheapest(rest, frozenset(common[-1:])) is not None
                or all(self._words[place].apart and self._tells_no_form(place, names) for place in rest)
            )
            for common in names.common
        )

    def _explained(self, places: frozenset[int], own: frozenset[str], others: frozenset[str] | tuple[()]) -> int | None:
        """What it costs to take words for words of a plant, or of another species of its genus; None where one is neither."""
        total = 0
        for place in places:
            costs = [cost for word, cost in self._meant[place].items() if word in own]
            costs += [cost + ELSEWHERE for word, cost in self._meant[place].items() if word in others and cost <= SHORT]
            if not costs:
                return None
            total += min(costs)
        return total

    def _cheapest(self, places: frozenset[int], words: frozenset[str]) -> tuple[int, int] | None:
        """The place that stands for one of some words at the least cost."""
        found = [
            (cost, place) for place in sorted(places) for word, cost in self._meant[place].items() if word in words
        ]
        return (min(found)[1], min(found)[0]) if found else None

    def _each(self, words: Words, places: Sequence[int]) -> tuple[frozenset[int], int] | None:
        """A place for each word in any order, at the least cost, or None where a word has none."""
        if not words:
            return frozenset(), 0
        best: tuple[frozenset[int], int] | None = None
        for place in places:
            cost = self._meant[place].get(words[0])
            if cost is None:
                continue
            others = self._each(words[1:], [other for other in places if other != place])
            if others is not None and (best is None or cost + others[1] < best[1]):
                best = (others[0] | {place}, cost + others[1])
        return best

    def _in_order(self, latin: Words) -> tuple[frozenset[int], int] | None:
        """As `_each`, with the genus before the rest."""
        best: tuple[frozenset[int], int] | None = None
        for place, meant in enumerate(self._meant):
            others = self._each(latin[1:], range(place + 1, len(self._words))) if latin[0] in meant else None
            if others is not None and (best is None or meant[latin[0]] + others[1] < best[1]):
                best = (others[0] | {place}, meant[latin[0]] + others[1])
        return best

    def _runs(self, epithet: Words) -> Iterator[tuple[frozenset[int], int]]:
        """Every run of words that is an epithet: word for word, or by its letters where blanks stand elsewhere."""
        starts = self._spans if epithet[0] in self._all else self._by_letter.get(epithet[0][:1], ())
        for start, end, letters in starts:
            if end - start > len(epithet) + 1:
                continue
            cost = self._word_for_word(start, epithet) if end - start == len(epithet) else None
            if cost is None:
                cost = parted_elsewhere(letters, end - start, epithet)
            if cost is not None:
                yield frozenset(range(start, end)), cost

    def _word_for_word(self, start: int, epithet: Words) -> int | None:
        """What a run costs of which each word stands for one of an epithet."""
        costs = [self._meant[start + place].get(word) for place, word in enumerate(epithet)]
        known = [cost for cost in costs if cost is not None]
        return sum(known) if len(known) == len(costs) else None


def _may_remark(word: Word) -> bool:
    """Whether a word is one that remarks are made of, and is written as they are."""
    return word.apart and not trade().remark.isdisjoint((word.key, *trade().short.get(word.key, ())))
