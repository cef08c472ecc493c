"""The names of a base that mislead, each found once and kept: notes with the plant of the same kin that keeps the
promise.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any, Protocol

from askplant.base.names import words_of
from askplant.base.records import species_of
from askplant.verdicts.columns import columns_of
from askplant.verdicts.names import (
    MOST,
    SIZE_CLAIMS,
    WIDEST,
    Note,
    Traits,
    Vocabulary,
    claims_of,
    kept,
    misled,
    reads,
    traits_of,
)


class Claiming(Protocol):
    """What a base must tell to find names that mislead."""

    count: int

    def judged(self, condition: str) -> Sequence[tuple[list[Any], int]]: ...
    def plant(self, n: int) -> Any: ...
    def names_starting(self, first: str) -> Sequence[Any]: ...
    def claims(self) -> Sequence[tuple[str, str, str]]: ...
    def __hash__(self) -> int: ...


class Notes:
    """Notes on the names of one base's plants."""

    def __init__(self, base: Claiming) -> None:
        self._base, self._columns = base, columns_of(base)
        self._vocabulary: Vocabulary = {(word, kind): claim for word, claim, kind in base.claims()}
        self._found: dict[int, tuple[Note, ...]] = {}

    def of(self, plant: int) -> tuple[Note, ...]:
        """What a buyer should know of a plant's names; nothing where they keep their promises."""
        if plant not in self._found:
            self._found[plant] = self._look(plant)
        return self._found[plant]

    def _look(self, n: int) -> tuple[Note, ...]:
        plant, notes = self._base.plant(n), []
        for one in claims_of(plant, self._vocabulary):
            traits = self._traits(n, one.claim)
            if misled(one.claim, traits):
                parent, instead = self._parent(plant, one.claim), self._instead(plant, one.claim)
                notes.append(Note(one.word, one.name, one.claim, traits, parent, instead))
        return tuple(notes)

    def _traits(self, n: int, claim: str) -> Traits:
        plant = self._base.plant(n)
        return traits_of(self._columns.values(reads(claim), n), plant.genus, plant.family)

    def _parent(self, plant: Any, claim: str) -> tuple[float, float] | None:
        """The species' grown height, where the plant is no more than half of it: small beside its species only."""
        if claim not in MOST or plant.parent is None:
            return None
        own, species = self._traits(plant.n, claim).grown, self._traits(plant.parent, claim).grown
        return species if own and species and own[1] <= species[1] / 2 else None

    def _instead(self, plant: Any, claim: str) -> int | None:
        """The plant of the same species, or else of the same genus, that keeps the promise and is nearest to it in
        size.
        """
        if claim not in SIZE_CLAIMS and claim not in WIDEST:
            return None
        keepers = [kin for kin in self._kin(plant) if kept(claim, self._traits(kin, claim))]
        return min(keepers, key=lambda kin: (self._apart(plant, kin, claim), kin), default=None)

    def _kin(self, plant: Any) -> list[int]:
        """The other plants of its genus (by the name that all of them bear) and of its kind, evergreen or not like
        it.
        """
        spoken = words_of(plant.genus)
        named = {n for one in self._base.names_starting(spoken[0]) if tuple(one.words) == spoken for n in one.plants}
        return sorted(
            n for n in named if n != plant.n and self._base.plant(n).genus == plant.genus and self._alike(plant.n, n)
        )

    def _alike(self, one: int, other: int) -> bool:
        kinds = [set(self._columns.value("kind", n)[0] or ()) for n in (one, other)]
        leaves = [self._columns.value("persistence", n)[0] for n in (one, other)]
        return bool(kinds[0] & kinds[1]) and leaves[0] == leaves[1]

    def _apart(self, plant: Any, kin: int, claim: str) -> tuple[bool, float]:
        same = species_of(plant.botanical) == species_of(self._base.plant(kin).botanical)
        mine, its = self._traits(plant.n, claim).grown, self._traits(kin, claim).grown
        return (not same, abs(mine[1] - its[1]) if mine and its else 0.0)


@lru_cache(maxsize=2)
def notes_of(base: Claiming) -> Notes:
    """The notes of a base, begun once."""
    return Notes(base)
