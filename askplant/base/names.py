"""Every name a caller may use for a plant of the base, and which plants it means.

Kinds: `plant` (one card, by botanical name, synonym, common or selling name), `species` (a species and all its forms),
`group` (a genus, or the last word of common names: holly, maple), `epithet` (a cultivar epithet alone: only a name when it is
quoted, capitalised or several words), `misspelt` (an ordinary misspelling of one of these; `shown` is what is meant).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple, Protocol

from askplant.folding import stem
from askplant.quantities.scan import lexemes

Words = tuple[str, ...]

RANKS = frozenset({"subsp", "ssp", "var", "f", "forma", "group"})
HYBRID = frozenset({"x", "×"})

# Last words of common names that name no group of plants by themselves.
NO_GROUP = frozenset(
    (
        "bush tree shrub flower grass fern vine plant creeper cover weed star wort root leaf heart bell lace "
        "ear beard tongue foot eye cap cup joy blue gold king queen glory pride ground rose berry fruit nut "
        "bark lily palm cane reed bean pea seed paintbrush beauty dancer hat shade morning dawn wood sage "
        "mint apple pear plum olive orange lime pepper ginger poppy balm candle rocket poker feather slipper "
        "mantle seal cherub oats "
    ).split()
)

# How far down the list a kind of name stands when two kinds bear the same words.
_ORDER = ("plant", "species", "group", "epithet", "misspelt")


class Named(Protocol):
    """What a card must tell to be named."""

    @property
    def id(self) -> str: ...
    @property
    def botanical(self) -> str: ...
    @property
    def genus(self) -> str: ...
    @property
    def epithet(self) -> str | None: ...
    @property
    def parent_id(self) -> str | None: ...
    @property
    def common(self) -> tuple[str, ...]: ...
    @property
    def heard(self) -> tuple[str, ...]: ...
    @property
    def synonym(self) -> tuple[str, ...]: ...
    @property
    def misspelt(self) -> tuple[str, ...]: ...


class Name(NamedTuple):
    """Words by which callers name plants, the kind of name, the numbers of the plants, and the name shown."""

    words: Words
    kind: str
    plants: tuple[int, ...]
    shown: str


def words_of(name: str) -> Words:
    """The folded words of a name: `Ilex × meserveae 'Blue Prince'` → ilex x meserveae blue prince."""
    return tuple(
        "x" if lexeme.key == "×" else lexeme.key
        for lexeme in lexemes(name)
        if lexeme.kind in ("word", "num") or lexeme.key == "×"
    )


def spoken(cards: Sequence[Named], groups: Mapping[str, Sequence[str]] | None = None) -> Iterator[Name]:
    """All names of the cards, which stand in the order of their numbers; each sequence of words once.

    `groups` holds words that mean whole genera and no other plants, whatever common names end in them.
    """
    numbers = {card.id: number for number, card in enumerate(cards)}
    forms = _descendants(cards, numbers)
    found: dict[Words, dict[str, Name]] = defaultdict(dict)
    told = list(_told_groups(cards, numbers, groups or {}))
    by_word = {name.words for name in told}
    for name in (*_all(cards, numbers, forms), *told):
        if name.kind != "group" or name.words not in by_word or name in told:
            _join(found[name.words], name)
    for words, kinds in found.items():
        if words:
            yield kinds[_kind(words, kinds)]


def _kind(words: Words, kinds: Mapping[str, Name]) -> str:
    """The kind of name that words are when several bear them: one word means the whole group, more words the plant."""
    first = min(kinds, key=_ORDER.index)
    wider = len(words) == 1 and "group" in kinds and len(kinds["group"].plants) > len(kinds[first].plants)
    return "group" if wider else first


def _join(kinds: dict[str, Name], name: Name) -> None:
    """Names of one kind and the same words mean all their plants together."""
    before = kinds.get(name.kind)
    if before is None:
        kinds[name.kind] = name
    elif set(name.plants) - set(before.plants):
        kinds[name.kind] = before._replace(
            plants=tuple(dict.fromkeys(before.plants + name.plants)), shown=_broader(before, name)
        )


def _broader(one: Name, other: Name) -> str:
    return one.shown if one.shown == other.shown else " ".join(one.words)


def _descendants(cards: Sequence[Named], numbers: Mapping[str, int]) -> dict[str, list[int]]:
    """The numbers of a card and of all cards that inherit from it, its own first."""
    by_id = {card.id: card for card in cards}
    forms: dict[str, list[int]] = {card.id: [numbers[card.id]] for card in cards}
    for card in cards:
        parent = card.parent_id
        while parent is not None and parent in by_id:
            forms[parent].append(numbers[card.id])
            parent = by_id[parent].parent_id
    return forms


def _all(cards: Sequence[Named], numbers: Mapping[str, int], forms: Mapping[str, list[int]]) -> Iterator[Name]:
    by_id = {card.id: card for card in cards}
    for card in cards:
        plants = tuple(forms[card.id])
        kind = "species" if len(plants) > 1 else "plant"
        for words in _own_words(card, by_id.get(card.parent_id or "")):
            yield Name(words, kind, plants, card.botanical)
        for wrong in card.misspelt:
            yield Name(words_of(wrong), "misspelt", plants, card.botanical)
        for epithet in _epithets(card):
            yield Name(epithet, "epithet", plants, card.botanical)
    yield from _groups(cards, numbers)


def _own_words(card: Named, parent: Named | None) -> Iterator[Words]:
    for full in (card.botanical, *card.synonym):
        yield from _botanical(words_of(full))
    for name in (*card.common, *card.heard):
        yield words_of(name)
    for epithet in _epithets(card):
        yield (stem(card.genus), *epithet)
        for common in _commons(card, parent):
            yield (*epithet, *common)
            yield (*common, *epithet)


def _botanical(words: Words) -> Iterator[Words]:
    """A botanical name as written, and without its hybrid sign and rank words."""
    yield words
    yield tuple(word for word in words if word not in HYBRID and word not in RANKS)
    yield tuple(word for word in words if word not in HYBRID)
    yield tuple(word for word in words if word not in RANKS)


def _epithets(card: Named) -> Iterator[Words]:
    for name in ((card.epithet,) if card.epithet else ()) + card.heard:
        yield words_of(name)


def _commons(card: Named, parent: Named | None) -> Iterable[Words]:
    """Common names a cultivar goes by behind its epithet: its own, its species', and the group words of both."""
    names = [words_of(name) for source in (card, parent) if source for name in source.common]
    return dict.fromkeys([*names, *((group,) for group in map(_group, names) if group)])


def _group(words: Words) -> str | None:
    return words[-1] if words and words[-1] not in NO_GROUP and len(words[-1]) > 2 else None


def _groups(cards: Sequence[Named], numbers: Mapping[str, int]) -> Iterator[Name]:
    genera: dict[str, list[int]] = defaultdict(list)
    groups: dict[str, list[int]] = defaultdict(list)
    by_id = {card.id: card for card in cards}
    for card in cards:
        genera[card.genus].append(numbers[card.id])
        for group in dict.fromkeys(filter(None, (_group(words_of(name)) for name in _inherited_commons(card, by_id)))):
            groups[group].append(numbers[card.id])
    for genus, plants in genera.items():
        yield Name((stem(genus),), "group", tuple(plants), genus)
    for group, plants in groups.items():
        yield Name((group,), "group", tuple(plants), group)


def _told_groups(
    cards: Sequence[Named], numbers: Mapping[str, int], groups: Mapping[str, Sequence[str]]
) -> Iterator[Name]:
    for word, genera in groups.items():
        plants = tuple(numbers[card.id] for card in cards if card.genus in genera)
        if plants:
            yield Name(words_of(word), "group", plants, word)


def _inherited_commons(card: Named, by_id: Mapping[str, Named]) -> Iterator[str]:
    while True:
        yield from card.common
        if card.parent_id is None or card.parent_id not in by_id:
            return
        card = by_id[card.parent_id]
