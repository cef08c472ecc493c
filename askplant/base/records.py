"""What the built base hands out: plain rows, one class a table, and nothing that computes."""

from typing import NamedTuple


def species_of(botanical: str) -> str:
    """A botanical name without its cultivar epithet."""
    return botanical.split(" '")[0]


class Plant(NamedTuple):
    """One plant. `parent` is the number of the one it inherits from; `heard` are selling names, never shown."""

    n: int
    id: str
    botanical: str
    genus: str
    epithet: str | None
    parent: int | None
    family: str | None
    common: tuple[str, ...]
    heard: tuple[str, ...]
    synonyms: tuple[str, ...]


class Value(NamedTuple):
    """One resolved trait of one plant, for display: a range (metres, years or plain) or words.

    `note` is the card's remark on the value that was taken; `why` says how sources disagree, empty where they do not.
    """

    low: float | None
    high: float | None
    words: tuple[str, ...]
    text: str
    unit: str
    note: str
    sources: tuple[str, ...]
    basis: str = ""
    why: str = ""


class Row(NamedTuple):
    """One row of the export: one source's value of one trait of one plant, or the resolved one."""

    plant: str
    botanical: str
    trait: str
    low: float | None
    high: float | None
    value: str
    unit: str
    source: str
    basis: str
    note: str


class Stated(NamedTuple):
    """One row of the export, as far as it tells what is known: the plant's number, and numbers left out."""

    plant: int
    trait: str
    value: str
    source: str
    basis: str


class Name(NamedTuple):
    """Words that callers use for plants, how they are shown, and the plants that bear them."""

    words: tuple[str, ...]
    kind: str
    shown: str
    plants: tuple[int, ...]


class Declared(NamedTuple):
    """One trait as traits.toml declares it."""

    name: str
    type: str
    unit: str
    values: tuple[str, ...]
    one: bool
    means: str
    source: str


class Asked(NamedTuple):
    """One condition as conditions.toml declares it; `reads` are the traits its judge gets, in order."""

    name: str
    values: tuple[str | int, ...]
    scale: bool
    unit: str
    reads: tuple[str, ...]


class Source(NamedTuple):
    """One publication that cards cite; `basis` is opened, observed or recalled."""

    key: str
    title: str
    publisher: str
    year: str
    url: str
    basis: str


class Observation(NamedTuple):
    """A size measured at a known age: years since planting, metres; `pruned` is yes, no or empty.

    `date` is a day, a month or a year, empty where nobody wrote it down; `basis` is observed, or that of the source.
    """

    age: float
    height: float | None
    width: float | None
    place: str
    pruned: str
    source: str
    note: str
    date: str = ""
    basis: str = ""
