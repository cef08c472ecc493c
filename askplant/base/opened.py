"""The built base, opened read-only: plants, their values, and the bit sets that the judges work on.

A set of plants is a whole number: bit n stands for plant n. Numbers run from 0 in order of the plants' ids.
"""

from __future__ import annotations

import json
import sqlite3
import struct
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import compress
from pathlib import Path
from typing import Any

from askplant.base import seal
from askplant.base.columns import Column, distinct
from askplant.base.records import Asked, Declared, Name, Observation, Plant, Row, Source, Stated, Value
from askplant.base.trust import TRUST
from askplant.errors import BaseError, UnknownPlant

__all__ = [
    "FORMAT", "GRAMMARS", "ORIGINS", "PUBLICATIONS", "RESOLVED", "Asked", "Base", "Declared", "Name", "Observation", "Plant",
    "Row", "Source", "Value", "members",
]  # fmt: skip

# Raised whenever the tables below change, so that a base of another form is never half understood.
FORMAT = "11"
RESOLVED = "resolved"
_UNREAD = object()
_NONE = "[]"  # a list as most plants have it
# The column that counts the publications which speak of a plant; no request asks for it.
PUBLICATIONS = "publications"
# The column of what growth curves need beside the resolved sizes: [grown heights, grown widths, the plant it inherits from], each
# null where there is nothing to say. Ranges are (low, high) in metres, one a source, where sources disagree; the third is [its
# grown height, its grown width, whether the plant's own card states growth, and whether the plant is variegated and it is not].
ORIGINS = "origins"

# The grammars a base carries, each with the rules it may start from.
GRAMMARS = {"quantity": ("quantity", "extent", "zones", "months"), "request": ("clause",), "refine": ("line",)}

JOIN = "; "
# One plant in so many or fewer: looking at every digit is quicker than going through the words.
DENSE = 8
# Up to so many plants are taken off one by one, from the highest.
FEW = 12
_DIGITS = bytes.maketrans(b"01", b"\0\1")

_PLANT = "SELECT n, id, botanical, genus, epithet, parent, family, common, heard, synonyms FROM plants"
# Types whose `value` is a list of words; the others hold one piece of text or a range.
_LISTED = frozenset(("words", "scale", "months", "places", "zone", "poison"))


def members(bits: int) -> list[int]:
    """The numbers of the plants in a set, lowest first. Linear in the size of the set's highest number."""
    found = []
    if bits.bit_count() <= FEW:  # as the sets of most values are
        while bits:
            found.append(bits.bit_length() - 1)
            bits ^= 1 << found[-1]
        return found[::-1]
    if bits.bit_count() * DENSE > bits.bit_length():
        return list(compress(range(bits.bit_length()), f"{bits:b}"[::-1].encode().translate(_DIGITS)))
    count = (bits.bit_length() + 63) // 64
    words = struct.unpack(f"<{count}Q", bits.to_bytes(count * 8, "little"))
    for place in compress(range(count), words):  # most hold nothing
        word = words[place]
        while word:
            lowest = word & -word
            found.append(place * 64 + lowest.bit_length() - 1)
            word ^= lowest
    return found


def by_plant(column: Iterable[tuple[list[Any], int]], plants: int = -1) -> dict[int, list[Any]]:
    """The values of a column by plant, of the plants in a set or of all."""
    found: dict[int, list[Any]] = {}
    for value, bits in column:
        some = bits & plants
        if some.bit_count() == 1:  # of sizes and the like most values are one plant's
            found[some.bit_length() - 1] = value
        elif some:
            found.update(dict.fromkeys(members(some), value))
    return found


class Branches(dict[str, Any]):
    """Words with what follows each, fetched when it is first looked at."""

    def __init__(self, words: Iterable[str], fetch: Callable[[str], Any]) -> None:
        super().__init__(dict.fromkeys(words, _UNREAD))
        self._fetch = fetch

    def __getitem__(self, word: str) -> Any:
        found = super().__getitem__(word)
        if found is _UNREAD:
            found = self._fetch(word)
            self[word] = found
        return found

    def get(self, word: str, default: Any = None) -> Any:
        """What follows a word, `default` where nothing does."""
        try:
            return self[word]
        except KeyError:
            return default

    def items(self) -> Any:
        """Every word with what follows it."""
        return [(word, self[word]) for word in self]


class Base:
    """The base of one file. Nothing is read before it is asked for; what is read is kept."""

    def __init__(self, path: Path, connection: sqlite3.Connection, meta: dict[str, str]) -> None:
        self.path = path
        self.built, self.digest, self.count = meta["built"], meta["digest"], int(meta["count"])
        self.everyone = (1 << self.count) - 1
        self._connection = connection
        self._ids: tuple[str, ...] | None = None
        self._known: dict[str, str] | None = None
        self._traits: dict[str, Declared] | None = None
        self._plants: dict[int, Plant] = {}
        self._judged: dict[str, Column] = {}
        self._names: dict[str, list[Name]] = {}
        self._entries: dict[int, dict[str, Any]] = {}
        self._ordinary: dict[str, bool] = {}
        self._known_one: dict[str, bool] = {}
        self._observations: dict[int, list[Observation]] | None = None
        self._state = seal.state(path)

    @classmethod
    def open(cls, path: Path) -> Base:
        """The base of a file; BaseError names the file when it is missing, damaged or of another form."""
        seal.whole(path)
        try:
            uri = path.resolve().as_uri() + "?mode=ro&immutable=1"
            connection = sqlite3.connect(uri, uri=True, check_same_thread=False)
            meta = dict(connection.execute("SELECT key, value FROM meta"))
        except sqlite3.Error as problem:
            raise BaseError(f"{path}: damaged ({problem})") from None
        if meta.get("format") != FORMAT or not {"built", "digest", "count"} <= meta.keys():
            found = meta.get("format", "none")
            raise BaseError(f"{path}: a base of form {found}; this program reads form {FORMAT}, build it anew")
        return cls(path, connection, meta)

    def is_sound(self) -> bool:
        """Whether the file is to the bit as it was built; reads all of it (20 ms for 35 MB)."""
        return seal.holds(self.path)

    def close(self) -> None:
        """Let go of the file."""
        self._connection.close()

    @property
    def ids(self) -> tuple[str, ...]:
        """The ids of all plants; the place in it is the plant's number."""
        if self._ids is None:
            self._ids = tuple(row[0] for row in self._all("SELECT id FROM plants ORDER BY n"))
        return self._ids

    def index(self, plant_id: str) -> int:
        """The number of a plant; UnknownPlant if no card bears the id."""
        rows = self._all("SELECT n FROM plants WHERE id = ?", plant_id)
        if not rows:
            raise UnknownPlant(plant_id)
        return int(rows[0][0])

    def plant(self, n: int) -> Plant:
        """A plant's names and kin."""
        if n not in self._plants:
            rows = self._all(f"{_PLANT} WHERE n = ?", n)
            if not rows:
                raise UnknownPlant(f"plant number {n}")
            self._plants[n] = _plant(rows[0])
        return self._plants[n]

    def plants(self) -> tuple[Plant, ...]:
        """Every plant, in order of number."""
        if len(self._plants) < self.count:
            rows = self._all(f"{_PLANT} ORDER BY n")
            self._plants = {row[0]: _plant(row) for row in rows}
        return tuple(self._plants[n] for n in range(self.count))

    def judged(self, condition: str) -> Column:
        """Each distinct tuple of values its judge reads, with the plants that have it; they tile `everyone`."""
        if condition not in self._judged:
            rows = self._all("SELECT stored FROM judged WHERE condition = ?", condition)
            self._judged[condition] = distinct(rows[0][0]) if rows else ()
        return self._judged[condition]

    def resolved(self, n: int) -> dict[str, Value]:
        """A plant's traits, one value each, in the dictionary's order."""
        by_trait: dict[str, list[Row]] = {}
        for row in self.rows(n):
            by_trait.setdefault(row.trait, []).append(row)
        return {trait: _value(rows, self.traits()[trait].type) for trait, rows in by_trait.items()}

    def rows(self, n: int) -> list[Row]:
        """Every value of a plant as the export prints it, inherited ones written out."""
        plant = self.plant(n)
        rows = self._all(
            "SELECT trait, low, high, value, unit, source, basis, note FROM vals WHERE plant = ? ORDER BY rowid", n
        )
        return [Row(plant.id, plant.botanical, *row) for row in rows]

    def stated(self) -> Iterator[Stated]:
        """Every value of every plant, without its numbers, in order of plant."""
        rows = self._all("SELECT plant, trait, value, source, basis FROM vals ORDER BY plant, rowid")
        return map(Stated._make, rows)

    def names_starting(self, first: str) -> list[Name]:
        """Names whose first folded word is `first`."""
        if first not in self._names:
            rows = self._all("SELECT words, kind, shown, plants FROM names WHERE first = ? ORDER BY rowid", first)
            self._names[first] = [_name(row) for row in rows]
        return self._names[first]

    def names(self) -> list[Name]:
        """Every name that callers use."""
        return [_name(row) for row in self._all("SELECT words, kind, shown, plants FROM names ORDER BY rowid")]

    def phrases_starting(self, first: str) -> dict[str, Any]:
        """Phrases of the vocabulary whose first folded word is `first`, as a tree of the words that follow.

        Under the empty word stand the numbers of what the words up to there mean. What follows a second word is read
        when it is looked at: thousands of phrases begin with "not", and a request goes on with one of them.
        """
        rows = self._all("SELECT second FROM phrases WHERE first = ?", first)
        return Branches((row[0] for row in rows), lambda second: self._following(first, second))

    def _following(self, first: str, second: str) -> Any:
        rows = self._all("SELECT tree FROM phrases WHERE first = ? AND second = ?", first, second)
        return json.loads(rows[0][0])

    def entry(self, n: int) -> dict[str, Any]:
        """What a phrase means, by its number in the trees."""
        if n not in self._entries:
            self._entries[n] = json.loads(self._all("SELECT entry FROM entries WHERE n = ?", n)[0][0])
        return self._entries[n]

    def grammar(self, name: str) -> str:
        """A grammar as it was packed."""
        return str(self._all("SELECT tables FROM grammars WHERE name = ?", name)[0][0])

    def is_ordinary(self, word: str) -> bool:
        """Whether the word is ordinary English, which is never mended into something else."""
        if word not in self._ordinary:
            self._ordinary[word] = bool(self._all("SELECT 1 FROM ordinary WHERE word = ?", word))
        return self._ordinary[word]

    def any_ordinary(self, words: Iterable[str]) -> bool:
        """Whether one of the words is ordinary English."""
        return bool(
            self._all(
                "SELECT 1 FROM ordinary WHERE word IN (SELECT value FROM json_each(?)) LIMIT 1", json.dumps(list(words))
            )
        )

    def is_known(self, word: str) -> bool:
        """Whether a phrase, a name or a spelling holds the word, or it is ordinary English."""
        if word not in self._known_one:
            self._known_one[word] = bool(self._all("SELECT 1 FROM words WHERE word = ?", word)) or self.is_ordinary(
                word
            )
        return self._known_one[word]

    def postcode(self, code: str) -> str | None:
        """The half-zone of a postal code in the user's own table, none for a code it does not hold."""
        rows = self._all("SELECT zone FROM postcodes WHERE code = ?", code)
        return str(rows[0][0]) if rows else None

    def is_said(self, word: str) -> bool:
        """Whether a phrase or a name holds the word."""
        return bool(self._all("SELECT 1 FROM words WHERE word = ?", word))

    def before(self, word: str) -> tuple[str, ...]:
        """The words that begin a phrase whose second word this is."""
        rows = self._all("SELECT before FROM pairs WHERE word = ?", word)
        return tuple(rows[0][0].split(" ")) if rows else ()

    def known_words(self) -> dict[str, str]:
        """Every word that vocabulary and names know, with its kind."""
        if self._known is None:
            self._known = dict(self._all("SELECT word, kind FROM words"))
        return self._known

    def traits(self) -> dict[str, Declared]:
        """The declared traits by name, in the dictionary's order."""
        if self._traits is None:
            rows = self._all("SELECT name, type, unit, allowed, one, means, source FROM traits ORDER BY rowid")
            self._traits = {row[0]: _declared(row) for row in rows}
        return self._traits

    def conditions(self) -> dict[str, Asked]:
        """What requests may ask, by name, in the order of conditions.toml."""
        rows = self._all("SELECT name, allowed, scale, unit, reads FROM conditions ORDER BY rowid")
        return {
            row[0]: Asked(row[0], tuple(json.loads(row[1])), bool(row[2]), row[3], tuple(json.loads(row[4])))
            for row in rows
        }

    def claims(self) -> list[tuple[str, str, str]]:
        """Each word that makes a claim in a plant's name, what it claims, and in which kind of name."""
        return self._all("SELECT word, claim, kind FROM claims ORDER BY rowid")

    def source(self, key: str) -> Source | None:
        """The publication of a key, none for a key that no file of sources/ holds."""
        rows = self._all("SELECT key, title, publisher, year, url, basis FROM sources WHERE key = ?", key)
        return Source(*rows[0]) if rows else None

    def observations(self, n: int) -> list[Observation]:
        """A plant's measured sizes, youngest first; its own only, never inherited."""
        if self._observations is None:
            # All at once: they are few, and growth is often asked of every plant.
            self._observations = {}
            for plant, *row in self._all(
                "SELECT plant, age, height, width, place, pruned, source, note, date, basis FROM observations"
                " ORDER BY plant, age"
            ):
                self._observations.setdefault(plant, []).append(Observation(*row))
        return list(self._observations.get(n, ()))

    def _all(self, sql: str, *arguments: str | int) -> list[Any]:
        try:
            rows = self._connection.execute(sql, arguments).fetchall()
        except sqlite3.DatabaseError as problem:
            raise BaseError(f"{self.path}: damaged ({problem})") from None
        # The file is read without locks: one that is replaced goes on being read, one that is written into must not be.
        state = seal.state(self.path)
        if state[0] == self._state[0] and state != self._state:
            raise BaseError(f"{self.path}: written to by another program while it was read")
        return rows


def _plant(row: Sequence[Any]) -> Plant:
    return Plant(*row[:7], *(tuple(json.loads(listed)) if listed != _NONE else () for listed in row[7:]))


def _name(row: Sequence[Any]) -> Name:
    return Name(tuple(row[0].split(" ")), row[1], row[2], tuple(json.loads(row[3])))


def _declared(row: Sequence[Any]) -> Declared:
    return Declared(row[0], row[1], row[2], tuple(json.loads(row[3])), bool(row[4]), row[5], row[6])


def _value(rows: Sequence[Row], kind: str) -> Value:
    """One value of the rows of one trait: the resolved one, else the one that all of them state."""
    stated = [row for row in rows if row.source != RESOLVED]
    taken = rows[-1] if rows[-1].source == RESOLVED else rows[0]
    same = [row for row in stated if (row.low, row.high, row.value) == (taken.low, taken.high, taken.value)]
    notes = dict.fromkeys(row.note for row in same or stated if row.note)
    return Value(
        low=taken.low,
        high=taken.high,
        words=_words(taken.value, kind),
        text=taken.value,
        unit=taken.unit,
        note=JOIN.join(notes),
        sources=tuple(dict.fromkeys(row.source for row in stated if row.source)),
        basis=_basis(taken, same),
        why=taken.note if taken.source == RESOLVED else "",
    )


def _basis(taken: Row, same: Sequence[Row]) -> str:
    return taken.basis if taken.source == RESOLVED else min((row.basis for row in same), key=lambda basis: TRUST[basis])


def _words(value: str, kind: str) -> tuple[str, ...]:
    if not value:
        return ()
    return tuple(value.split(JOIN)) if kind in _LISTED else (value,)
