"""What holds of any folder of cards: the export gives back what they say, and judged sets part the plants cleanly."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from askplant import where
from askplant.base import export, resolve, traits, values
from askplant.base.build import build
from askplant.base.cards import Entry
from askplant.base.opened import RESOLVED, Base, Row
from askplant.base.traits import Trait
from askplant.base.trust import TRUST
from askplant.quantities.months import NAMES

from .conftest import lay_out

DICTIONARY = traits.read(where.folder("traits"))
FEET = 0.3048
SOURCES = ("", "demo-opened", "demo-second", "demo-recalled")
TRAITS = [trait for name, trait in DICTIONARY.traits.items() if name not in export.NOT_PUBLISHED]


class Said(NamedTuple):
    """A value as a card may write it, and what the export should print for it."""

    text: str
    low: float | None = None
    high: float | None = None
    value: str = ""


def ranges(number: st.SearchStrategy[int], suffix: str, factor: float) -> st.SearchStrategy[Said]:
    def said(pair: list[int]) -> Said:
        low, high = sorted(pair)
        text = f"{low}-{high}{suffix}" if low != high else f"{low}{suffix}"
        return Said(text, round(low * factor, 4), round(high * factor, 4))

    return st.lists(number, min_size=2, max_size=2).map(said)


def some_of(permitted: tuple[str, ...]) -> st.SearchStrategy[Said]:
    listed = st.lists(st.sampled_from(permitted), min_size=1, max_size=4, unique=True)
    return listed.map(lambda words: Said(", ".join(words), value="; ".join(words)))


def one_of(permitted: tuple[str, ...]) -> st.SearchStrategy[Said]:
    return st.sampled_from(permitted).map(lambda word: Said(word, value=word))


def months() -> st.SearchStrategy[Said]:
    return st.sets(st.integers(1, 12), min_size=1, max_size=3).map(
        lambda some: Said(
            ", ".join(NAMES[month - 1] for month in sorted(some)), value="; ".join(str(month) for month in sorted(some))
        )
    )


def poison(trait: Trait) -> st.SearchStrategy[Said]:
    entry = st.builds(
        "{}: {}: {}".format,
        st.sampled_from([who for who in trait.who if who != values.NONE_KNOWN]),
        st.sampled_from(trait.severity),
        st.sampled_from(["fruit", "leaves, bark", "all parts"]),
    )
    listed = st.lists(entry, min_size=1, max_size=3, unique=True).map("; ".join)
    return (listed | st.just(values.NONE_KNOWN)).map(lambda text: Said(text, value=text))


OF_TYPE: dict[str, Callable[[Trait], st.SearchStrategy[Said]]] = {
    "words": lambda trait: one_of(trait.values) if trait.is_single else some_of(trait.values),
    "scale": lambda trait: one_of(trait.values),
    "places": lambda _: some_of(tuple(sorted(values.PLACES))),
    "text": lambda _: st.from_regex(r"[a-z]{1,9}(; [a-z]{1,9}|, \"?[a-z]{1,9}| = 3)?", fullmatch=True).map(
        lambda text: Said(text, value=text)
    ),
    "length": lambda _: ranges(st.integers(1, 300), " ft", FEET),
    "rate": lambda _: ranges(st.integers(1, 60), " in", FEET / 12),
    "years": lambda _: ranges(st.integers(0, 9), "", 1.0),
    "span": lambda _: ranges(st.integers(1, 12), "", 1.0),
    "zone": lambda _: one_of(tuple(f"{whole}{half}" for whole in range(1, 14) for half in "ab")),
    "months": lambda _: months(),
    "poison": poison,
}


class Line(NamedTuple):
    """One value line of a card and what it should come to in the export."""

    trait: str
    said: Said
    source: str
    note: str

    def __str__(self) -> str:
        source = f" [{self.source}]" if self.source else ""
        note = f" -- {self.note}" if self.note else ""
        return f"    {self.trait}: {self.said.text}{source}{note}"


NOTES = st.sampled_from(["", "in shade", 'said "so", once', "10 % = little"])
LINES = st.sampled_from(TRAITS).flatmap(
    lambda trait: st.builds(Line, st.just(trait.name), OF_TYPE[trait.type](trait), st.sampled_from(SOURCES), NOTES)
)
CARDS = st.lists(st.lists(LINES, max_size=12), min_size=1, max_size=12)


def written(cards: list[list[Line]]) -> str:
    """Demo cards of one genus: the first a species, the others its cultivars."""
    heads = ["Ilex demo", *(f"Ilex demo 'Demo {number}'" for number in range(1, len(cards)))]
    return "\n".join("\n".join([head, *map(str, lines)]) for head, lines in zip(heads, cards, strict=True)) + "\n"


def base_of(cards: list[list[Line]], place: str) -> Base:
    folder = lay_out(Path(place))
    for path in (folder / "plants").iterdir():
        path.unlink()
    (folder / "observations.csv").unlink()
    (folder / "plants" / "ilex.txt").write_text(written(cards), encoding="utf-8")
    build(Path(place) / "base.sqlite", folder, "demo")
    return Base.open(Path(place) / "base.sqlite")


def expected(cards: list[list[Line]], number: int) -> dict[str, list[tuple[Any, ...]]]:
    """What each trait of a card should have as rows: its own lines, else its species'."""
    found: dict[str, list[tuple[Any, ...]]] = {}
    for lines in (cards[0], cards[number]):
        own: dict[str, list[tuple[Any, ...]]] = {}
        for line in lines:
            own.setdefault(line.trait, []).append(
                (line.said.low, line.said.high, line.said.value, line.source, line.note)
            )
        found |= own
    return found


def exported(base: Base, plant: int) -> dict[str, list[tuple[Any, ...]]]:
    found: dict[str, list[tuple[Any, ...]]] = {}
    for row in export.rows(base, [plant]):
        if row.source != RESOLVED:
            found.setdefault(row.trait, []).append((row.low, row.high, row.value, row.source, row.note))
    return found


def resolved_row(rows: list[Row]) -> Row:
    return next((row for row in rows if row.source == RESOLVED), rows[0])


@settings(max_examples=25, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(CARDS)
def test_a_base_holds_what_its_cards_say(cards: list[list[Line]]) -> None:
    """Export rows are the cards' lines; one value is resolved where they differ; judged sets tile the plants."""
    with tempfile.TemporaryDirectory() as place:
        base = base_of(cards, place)
        ids = ["ilex-demo", *(f"ilex-demo-demo-{number}" for number in range(1, len(cards)))]
        for number, plant in enumerate(ids):
            n = base.index(plant)
            assert exported(base, n) == expected(cards, number)
            check_resolved(base, n)
        check_judged(base)
        base.close()


def check_resolved(base: Base, n: int) -> None:
    by_trait: dict[str, list[Row]] = {}
    for row in base.rows(n):
        by_trait.setdefault(row.trait, []).append(row)
    for trait, rows in by_trait.items():
        stated = [row for row in rows if row.source != RESOLVED]
        taken = resolved_row(rows)
        if trait != "poison" and len({(row.low, row.high, row.value) for row in stated}) == 1:
            assert len(stated) == len(rows)
        settle = DICTIONARY.traits[trait].settle
        if trait != "poison" and settle in ("union", "joined"):
            best = min(TRUST[row.basis] for row in stated)
            counted = [row for row in stated if settle == "union" or TRUST[row.basis] == best]
            assert set(taken.value.split("; ")) == {word for row in counted for word in row.value.split("; ")}
        elif trait != "poison":
            assert (taken.low, taken.high, taken.value) in {(row.low, row.high, row.value) for row in stated}
        value = base.resolved(n)[trait]
        assert (value.low, value.high, value.text) == (taken.low, taken.high, taken.value)


def check_judged(base: Base) -> None:
    """For every condition the sets are disjoint and together everyone, and the values are the resolved ones."""
    for name, asked in base.conditions().items():
        together = 0
        for value, bits in base.judged(name):
            assert bits
            assert not together & bits
            together |= bits
            for n in range(base.count):
                if bits >> n & 1:
                    assert value == [judged(base, n, trait) for trait in asked.reads]
        assert together == (base.everyone if asked.reads else 0)


def judged(base: Base, n: int, trait: str) -> Any:
    value = base.resolved(n).get(trait)
    if value is None:
        return None
    kind = DICTIONARY.traits[trait].type
    if kind in ("length", "rate", "years", "span"):
        return [value.low, value.high]
    if kind in ("scale", "text"):
        return value.text
    if trait == "kind":  # what it mainly is comes first
        return list(value.words)
    if kind == "zone":
        return 2 * (int(value.text[:-1]) - 1) + (value.text[-1] == "b")
    if kind == "months":
        return sorted(map(int, value.words))
    if kind == "poison":
        return sorted([*(word.split(": ") if ":" in word else [word, "", ""])] for word in value.words)
    return sorted(value.words)


@pytest.mark.parametrize("trait", TRAITS, ids=lambda trait: trait.name)
@settings(max_examples=20, deadline=None, derandomize=True)
@given(data=st.data())
def test_any_value_is_read_back_from_its_printed_form(trait: Trait, data: st.DataObject) -> None:
    """Ranges to a tenth of a millimetre, words and months in the form of the export."""
    said = data.draw(OF_TYPE[trait.type](trait))
    meaning = DICTIONARY.parse(trait.name, said.text)
    assert (meaning.low, meaning.high, meaning.text) == (said.low, said.high, said.value)


@settings(max_examples=200, deadline=None, derandomize=True)
@given(
    st.sampled_from(TRAITS).flatmap(
        lambda trait: st.tuples(
            st.just(trait),
            st.lists(st.tuples(OF_TYPE[trait.type](trait), st.sampled_from(SOURCES[1:])), min_size=1, max_size=5),
        )
    )
)
def test_more_of_the_same_changes_nothing(case: tuple[Trait, list[tuple[Said, str]]]) -> None:
    """Repeating every statement leaves the resolved value as it was; its basis is that of the best statement, or of the
    least where what all of them say is added up.
    """
    trait, stated = case
    basis = {"demo-opened": "opened", "demo-second": "opened", "demo-recalled": "recalled"}
    entries = [
        Entry(trait.name, said.text, source, basis[source], "", line) for line, (said, source) in enumerate(stated)
    ]
    once = resolve.settle_trait(trait, entries, DICTIONARY)
    twice = resolve.settle_trait(trait, [entry for entry in entries for _ in range(2)], DICTIONARY)
    if trait.is_range or trait.type == "poison" or len(entries) == 1:
        assert twice.meaning == once.meaning
    if trait.type != "poison" and trait.settle != "union":
        assert once.basis == ("opened" if any(entry.basis == "opened" for entry in entries) else "recalled")
