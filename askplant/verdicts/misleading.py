"""The names of a base that mislead, each found once and kept: notes with the plant of the same kin that keeps the promise."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any, Protocol

from askplant.verdicts.columns import columns_of
from askplant.verdicts.names import MOST, READS, SIZE_CLAIMS, WIDEST, Note, Traits, Vocabulary, claims_of, kept, misled, traits_of


class Claiming(Protocol):
    """What a base must tell to find names that mislead."""

    count: int
    everyone: int

    def judged(self, condition: str) -> Sequence[tuple[list[Any], int]]: ...
    def plant(self, n: int) -> Any: ...
    def __hash__(self) -> int: ...
    def plants(self) -> Sequence[Any]: ...
    def claims(self) -> Sequence[tuple[str, str, str]]: ...


class Notes:
    """Notes on the names of one base's plants."""

    def __init__(self, base: Claiming) -> None:
        self._base = base
        self._vocabulary: Vocabulary = {(word, kind): claim for word, claim, kind in base.claims()}
        self._traits: dict[int, Traits] = {}
        self._found: dict[int, tuple[Note, ...]] = {}
        self._kin: dict[str, list[int]] | None = None

    def of(self, plant: int) -> tuple[Note, ...]:
        """What a buyer should know of a plant's names; nothing where they keep their promises."""
        if plant not in self._found:
            self._found[plant] = self._look(plant)
        return self._found[plant]

    def _look(self, n: int) -> tuple[Note, ...]:
        plant = self._base.plant(n)
        claimed = claims_of(plant, self._vocabulary)
        if not claimed:
            return ()
        traits = self._traits_of(n)
        return tuple(
            Note(one.word, one.name, one.claim, traits, self._parent(plant, one.claim), self._instead(n, plant.genus, one.claim))
            for one in claimed
            if misled(one.claim, traits)
        )

    def _traits_of(self, n: int) -> Traits:
        if n not in self._traits:
            plant = self._base.plant(n)
            self._traits[n] = traits_of(columns_of(self._base).values(READS, n), plant.genus, plant.family)
        return self._traits[n]

    def _parent(self, plant: Any, claim: str) -> tuple[float, float] | None:
        """The species' grown height, where the plant is no more than half of it: small beside its species only."""
        if claim not in MOST or plant.parent is None:
            return None
        own, species = self._traits_of(plant.n).grown, self._traits_of(plant.parent).grown
        return species if own and species and own[1] <= species[1] / 2 else None

    def _instead(self, n: int, genus: str, claim: str) -> int | None:
        """The plant of the same species, or else of the same genus, that keeps the promise and is nearest to it in size."""
        if claim not in SIZE_CLAIMS and claim not in WIDEST:
            return None
        keepers = [kin for kin in self._kin_of(genus) if kin != n and kept(claim, self._traits_of(kin))]
        return min(keepers, key=lambda kin: (self._apart(n, kin), kin), default=None)

    def _apart(self, n: int, kin: int) -> tuple[bool, float]:
        own, other = self._base.plant(n), self._base.plant(kin)
        same = own.botanical.split(" '")[0] == other.botanical.split(" '")[0]
        mine, its = self._traits_of(n).grown, self._traits_of(kin).grown
        return (not same, abs(mine[1] - its[1]) if mine and its else 0.0)

    def _kin_of(self, genus: str) -> list[int]:
        if self._kin is None:
            self._kin = {}
            for plant in self._base.plants():
                self._kin.setdefault(plant.genus, []).append(plant.n)
        return self._kin.get(genus, [])


@lru_cache(maxsize=2)
def notes_of(base: Claiming) -> Notes:
    """The notes of a base, begun once."""
    return Notes(base)
