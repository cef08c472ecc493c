"""The vocabulary and the names as the reader asks them: tries of words, fetched from the base by their first word."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple, Protocol

from askplant.reading.words import Word

GAP = ".."
# How many words a gap in a phrase may hold.
LONGEST_GAP = 3
LEAF = ""

# Words that may stand between the words of a phrase without changing it ("block [the] view").
ARTICLES = frozenset("a an the my our your his her their this that some any".split())

Node = dict[str, Any]
_NOTHING: Node = {}
Entry = Mapping[str, Any]


class Source(Protocol):
    """What the reader needs of a base."""

    def names_starting(self, first: str) -> Sequence[Any]: ...
    def phrases_starting(self, first: str) -> Node: ...
    def entry(self, n: int) -> Entry: ...
    def is_ordinary(self, word: str) -> bool: ...
    def any_ordinary(self, words: Iterable[str]) -> bool: ...
    def is_known(self, word: str) -> bool: ...
    def is_said(self, word: str) -> bool: ...
    def postcode(self, code: str) -> str | None: ...
    def before(self, word: str) -> tuple[str, ...]: ...
    def known_words(self) -> Mapping[str, str]: ...


class Match(NamedTuple):
    """A phrase or name found at a place: words from `start` up to `end` (exclusive) and what they mean."""

    start: int
    end: int
    gaps: int
    entries: tuple[Any, ...]

    @property
    def length(self) -> int:
        """Words the phrase itself has; words in its gaps do not count."""
        return self.end - self.start - self.gaps


class Vocabulary:
    """Phrases and names of one base, kept in tries once a request has asked for their first word."""

    def __init__(self, source: Source) -> None:
        self.source = source
        self._phrases: dict[str, Node] = {}
        self._names: dict[str, Node] = {}
        self._spelling: Mapping[str, str] | None = None
        self._plant_colours: Mapping[str, str] | None = None
        self._strange: dict[str, bool] = {}
        self._before: dict[str, tuple[str, ...]] = {}
        self._senses: dict[str, frozenset[str]] = {}

    @property
    def spelling(self) -> Mapping[str, str]:
        """Other spellings of words, each with the vocabulary's own."""
        if self._spelling is None:
            found = self.source.phrases_starting("#spellings")
            self._spelling = self.source.entry(found[LEAF][0])["table"] if found else {}
        return self._spelling

    def colour_of(self, words: Sequence[Word]) -> str | None:
        """What a colour by itself is the colour of when a plant of this name is asked for: `flower`, `leaf`, or unknown."""
        if self._plant_colours is None:
            found = self.source.phrases_starting("#plant colours")
            self._plant_colours = self.source.entry(found[LEAF][0])["table"] if found else {}
        keys = [word.key for word in words]
        endings = (" ".join(keys[at:]) for at in range(len(keys)))
        return next((self._plant_colours[ending] for ending in endings if ending in self._plant_colours), None)

    def knows(self, word: str) -> bool:
        """Whether a phrase or a name holds the word, or it is ordinary English."""
        return self.source.is_known(word)

    def is_strange(self, word: str) -> bool:
        """Whether no phrase and no name holds the word, though it may be ordinary English."""
        found = self._strange.get(word)
        if found is None:
            found = self._strange[word] = not self.source.is_said(word)
        return found

    def before(self, word: str) -> tuple[str, ...]:
        """The words that begin a phrase whose second word this is."""
        found = self._before.get(word)
        if found is None:
            found = self._before[word] = self.source.before(word)
        return found

    def going_on(self, words: Sequence[Word], start: int, at: int) -> Iterator[str]:
        """The words that may stand at a place in a phrase that begins before it."""
        node = self._phrase_node(words[start].key)
        for word in words[start + 1 : at]:
            if word.key in STOPS:
                return
            if word.key not in ARTICLES or word.key in node:
                node = node.get(word.key, _NOTHING) if word.key != LEAF else _NOTHING
        yield from (key for key in node if key not in (LEAF, GAP))

    def senses(self, word: str) -> frozenset[str]:
        """What a word says by itself: its classes, the traits it is a condition on, PLANT for the name of one."""
        found = self._senses.get(word)
        if found is None:
            entries = [self.source.entry(n) for n in self._phrase_node(word).get(LEAF, ())]
            said = {entry["class"] for entry in entries if entry["class"] != "PHRASE"}
            said |= {one["trait"] for entry in entries for one in entry.get("conditions", ())}
            if LEAF in self._name_node(word):
                said.add("PLANT")
            found = self._senses[word] = frozenset(said)
        return found

    def phrases_at(self, words: Sequence[Word], start: int) -> list[Match]:
        """Every phrase that begins at a word, the one with most words first."""
        node = self._phrase_node(words[start].key)
        if not node:
            return []
        found = _walk(node, words, start, start + 1, 0, gaps_allowed=True)
        return _sorted(match._replace(entries=tuple(map(self.source.entry, match.entries))) for match in found)

    def phrases_under(self, head: str, words: Sequence[Word], start: int) -> list[Match]:
        """Every phrase of a list of its own that begins at a word, the one with most words first."""
        found = _walk(self._phrase_node(head), words, start, start, 0, gaps_allowed=True)
        return _sorted(match._replace(entries=tuple(map(self.source.entry, match.entries))) for match in found)

    def names_at(self, words: Sequence[Word], start: int) -> list[Match]:
        """Every plant name that begins at a word, the longest first."""
        node = self._name_node(words[start].key)
        return _sorted(_walk(node, words, start, start + 1, 0, gaps_allowed=False)) if node else []

    def _phrase_node(self, first: str) -> Node:
        node = self._phrases.get(first)
        if node is None:
            node = self._phrases[first] = self.source.phrases_starting(first)
        return node

    def _name_node(self, first: str) -> Node:
        node = self._names.get(first)
        if node is None:
            node = self._names[first] = _trie(
                (tuple(name.words[1:]), name) for name in self.source.names_starting(first)
            )
        return node


def _trie(rows: Iterable[tuple[tuple[str, ...], Any]]) -> Node:
    root: Node = {}
    for words, meaning in rows:
        node = root
        for word in words:
            node = node.setdefault(word, {})
        node.setdefault(LEAF, []).append(meaning)
    return root


def _sorted(matches: Iterator[Match]) -> list[Match]:
    return sorted(matches, key=lambda match: (-match.length, match.end))


def _walk(
    node: Node, words: Sequence[Word], start: int, at: int, gaps: int, *, gaps_allowed: bool, told: bool = False
) -> Iterator[Match]:
    """Every phrase that goes on from a node; `told` when what ends at the node has been given already."""
    if LEAF in node and not told:
        yield Match(start, at, gaps, tuple(node[LEAF]))
    if at >= len(words) or words[at].key in STOPS:
        return
    key = words[at].key
    if key in node and key != LEAF:
        yield from _walk(node[key], words, start, at + 1, gaps, gaps_allowed=gaps_allowed)
    if gaps_allowed and key in ARTICLES and len(node) > (LEAF in node):
        yield from _walk(node, words, start, at + 1, gaps + 1, gaps_allowed=True, told=True)
    if gaps_allowed and GAP in node:
        yield from _over_gap(node[GAP], words, start, at, gaps)


def _over_gap(node: Node, words: Sequence[Word], start: int, at: int, gaps: int) -> Iterator[Match]:
    for skipped in range(1, LONGEST_GAP + 1):
        if at + skipped >= len(words) or words[at + skipped - 1].key in STOPS or words[at + skipped - 1].kind == "num":
            return
        if words[at + skipped].key in node:
            yield from _walk(node, words, start, at + skipped, gaps + skipped, gaps_allowed=True)


STOPS = frozenset({",", ";", ".", "?", "!", ":", "(", ")"})
