"""A base in memory with invented plants: what the evaluator needs of a base, over traits written as the judges get them."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any, NamedTuple

from askplant import where
from askplant.base.names import words_of
from askplant.errors import UnknownPlant

FOOT = 0.3048


@cache
def reads() -> dict[str, tuple[str, ...]]:
    """The traits that each condition's judge reads, from the program's own table."""
    text = (where.folder("traits") / "conditions.toml").read_text(encoding="utf-8")
    return {name: tuple(table["reads"]) for name, table in tomllib.loads(text).items()}


class Plant(NamedTuple):
    """One invented plant's names and kin."""

    n: int
    id: str
    botanical: str
    genus: str
    epithet: str | None = None
    parent: int | None = None
    family: str | None = None
    common: tuple[str, ...] = ()
    heard: tuple[str, ...] = ()
    synonyms: tuple[str, ...] = ()


class Name(NamedTuple):
    """A name and the plants that bear it."""

    words: tuple[str, ...]
    kind: str
    shown: str
    plants: tuple[int, ...]


class Value(NamedTuple):
    """One resolved value."""

    low: float | None
    high: float | None
    words: tuple[str, ...]
    text: str
    unit: str = ""
    note: str = ""


class Observation(NamedTuple):
    """A size at a known age, in metres."""

    age: float
    height: float | None
    width: float | None = None
    place: str = ""
    pruned: str = ""
    source: str = ""
    note: str = ""


class Row(NamedTuple):
    """One exported row."""

    trait: str
    low: float | None
    high: float | None
    value: str
    unit: str
    source: str
    basis: str
    note: str


class InventedBase:
    """Plants given as {botanical name: {trait: value}}; every name is a name, and so is every genus."""

    built = "2001-01-01T00:00:00Z"

    def __init__(
        self,
        plants: Mapping[str, Mapping[str, Any]],
        common: Mapping[str, Sequence[str]] | None = None,
        claims: Sequence[tuple[str, str, str]] = (),
    ) -> None:
        self.traits = [dict(traits) for _, traits in sorted(plants.items())]
        self.botanical = sorted(plants)
        self.count = len(plants)
        self.everyone = (1 << self.count) - 1
        self._common, self._claims = dict(common or {}), list(claims)
        self._judged: dict[str, tuple[tuple[list[Any], int], ...]] = {}

    def judged(self, condition: str) -> tuple[tuple[list[Any], int], ...]:
        if condition not in self._judged:
            if condition not in reads():
                return ()
            sets: dict[str, int] = {}
            for n, traits in enumerate(self.traits):
                value = json.dumps([traits.get(trait) for trait in reads()[condition]])
                sets[value] = sets.get(value, 0) | 1 << n
            self._judged[condition] = tuple((json.loads(value), bits) for value, bits in sets.items())
        return self._judged[condition]

    def plant(self, n: int) -> Plant:
        botanical = self.botanical[n]
        species, _, epithet = botanical.partition(" '")
        parent = self.botanical.index(species) if epithet and species in self.botanical else None
        return Plant(
            n,
            "-".join(words_of(botanical)),
            botanical,
            botanical.split()[0],
            epithet.rstrip("'") or None,
            parent,
            self.traits[n].get("family"),
            tuple(self._common.get(botanical, ())),
        )

    def index(self, plant_id: str) -> int:
        for n in range(self.count):
            if self.plant(n).id == plant_id:
                return n
        raise UnknownPlant(plant_id)

    def names_starting(self, first: str) -> list[Name]:
        found: dict[tuple[str, ...], set[int]] = {}
        for n in range(self.count):
            plant = self.plant(n)
            forms = {n} | {other for other in range(self.count) if self.plant(other).parent == n}
            for name in (plant.botanical, *plant.common):
                found.setdefault(words_of(name), set()).update(forms)
            found.setdefault(words_of(plant.genus), set()).add(n)
        return [
            Name(words, "plant", " ".join(words), tuple(sorted(some)))
            for words, some in found.items()
            if words[0] == first
        ]

    def claims(self) -> list[tuple[str, str, str]]:
        return self._claims

    def observations(self, n: int) -> list[Observation]:
        return [Observation(*seen) for seen in self.traits[n].get("observed", ())]

    def resolved(self, n: int) -> dict[str, Value]:
        return {trait: value_of(trait, value) for trait, value in self.traits[n].items() if trait != "observed"}

    def rows(self, n: int) -> list[Row]:
        values = self.resolved(n)
        return [Row(trait, v.low, v.high, v.text, v.unit, "", "common practice", v.note) for trait, v in values.items()]


def value_of(trait: str, value: Any) -> Value:
    """A trait's value as it would be shown."""
    if isinstance(value, list) and value and isinstance(value[0], float):
        return Value(value[0], value[1], (), "", "m")
    words = tuple(map(str, value)) if isinstance(value, list) else (str(value),)
    return Value(None, None, words, "; ".join(words))


def feet(low: float, high: float | None = None) -> list[float]:
    """A range of feet in metres, as the base holds it."""
    return [round(low * FOOT, 4), round((low if high is None else high) * FOOT, 4)]
