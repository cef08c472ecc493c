"""The vocabulary files: how callers say things, compiled into phrases of words.

A file of `traits/vocabulary/` holds meanings at the left edge and, indented below each, the phrases that carry it:

    deer at_least rarely damaged | No plant is deer-proof; read as the least-browsed class.
        deer proof
        deer (wont|will not|never) (eat~|touch~)

`[x]` is optional, `(a|b)` one of several, `..` up to three words of any kind, `grow~` every regular ending of a verb.
A meaning is `trait [test] value, value [wish]`, several joined with `;`; after `!` what the phrase means when it is negated
(`! drop`: nothing, `! same`: the same, where the phrase names what is not wanted), after `|` a note for the caller; `alone`
ends a meaning that counts only between commas or behind "for". Or `@class [key=value …]` for words that are no trait of their own
(bounds, wishes, negation, fillers). `vocabulary/README.md` lists the classes.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import prod
from pathlib import Path
from typing import Any

from askplant.errors import CardError
from askplant.folding import DASHES, stem

TESTS = ("any_of", "none_of", "at_least", "at_most", "within", "about")
GAP = ".."
MOST_EXPANSIONS = 20000
# The folder of the vocabulary in traits/, and what it holds beside phrases.
FOLDER = "vocabulary"
SPELLINGS = "spellings.txt"
GROUPS = "groups.txt"
PLANT_COLOURS = "plant_colours.txt"
LISTS = ("README.md", "ordinary_words.txt", SPELLINGS, GROUPS, PLANT_COLOURS)
# Phrases that only a line which refines a request may hold: they stand under a word of their own, apart from all others.
REFINE = "refine.txt"
REFINING = "#refine"

Entry = dict[str, Any]
Words = tuple[str, ...]
# A phrase as it is written: words in order, and in place of a word all that may stand there. Few patterns stand for many phrases,
# so all that is asked of phrases is asked of patterns.
Pattern = tuple[Any, ...]  # of str | tuple[Pattern, ...]

_VOWELS = "aeiou"
_SPACED = {ord(dash): " " for dash in DASHES}
_PART = re.compile(r"\.\.|[()|\[\]]|[^\s()|\[\]]+")


@dataclass(frozen=True, slots=True)
class _Line:
    file: str
    number: int
    text: str

    def fault(self, found: str, expected: str) -> CardError:
        return CardError(self.file, self.number, found, expected)


def compiled(folder: Path) -> Iterator[tuple[Pattern, Entry]]:
    """Every pattern of the folder with its meaning; CardError at the first line that is not in the form above."""
    spelling = spellings(folder)
    for path in sorted(folder.glob("*.txt")):
        if path.name == REFINE:
            yield from (((REFINING, *pattern), entry) for pattern, entry in _file(path, spelling))
        elif path.name not in LISTS:
            yield from _file(path, spelling)
    yield ("#spellings",), {"table": spelling}
    yield ("#plant colours",), {"table": plant_colours(folder)}


# Classes whose words carry a wish by themselves: a misspelt word may be mended into one of them.
TELLING = frozenset(
    "PHRASE SIZE COLOR PLANT LEAFHEAD FALLHEAD FLOWERHEAD FRUITHEAD ANIMAL WISH MUST FT METRIC AXIS ZONEWORD MONTH".split()
)


def trees(phrases: Iterable[tuple[Pattern, Entry]]) -> tuple[dict[str, Any], list[Entry]]:
    """Phrases as trees of words by their first word, with the numbers of their meanings under the empty word."""
    entries: list[Entry] = []
    numbers: dict[int, int] = {}
    out: dict[str, Any] = {}
    for pattern, entry in phrases:
        if id(entry) not in numbers:
            numbers[id(entry)] = len(entries)
            entries.append(entry)
        for node in _reached(pattern, [out]):
            if node is not out:
                node.setdefault("", []).append(numbers[id(entry)])
    return out, entries


def _reached(pattern: Pattern, nodes: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Where a pattern leads from some places of a tree, which grows as it needs to; each place once."""
    for part in pattern:
        if isinstance(part, str):
            nodes = [node.setdefault(part, {}) for node in nodes]
        else:
            nodes = list({id(node): node for one in part for node in _reached(one, nodes)}.values())
    return nodes


def pairs(phrases: Iterable[tuple[Pattern, Entry]]) -> dict[str, set[str]]:
    """For each word the words that stand right before it at the start of a phrase: of `shade`, part, full and deep."""
    before: dict[str, set[str]] = {}
    for pattern, entry in phrases:
        if entry.get("class") in TELLING:
            for words in _starts(pattern, 2):
                if len(words) > 1 and GAP not in words:
                    before.setdefault(words[1], set()).add(words[0])
    return before


def _starts(pattern: Pattern, length: int) -> set[Words]:
    """The first words of all that a pattern stands for, so many of each, fewer where it has no more."""
    found: set[Words] = {()}
    for part in pattern:
        longer: set[Words] = set()
        for words in found:
            room = length - len(words)
            if not room:
                longer.add(words)
            elif isinstance(part, str):
                longer.add((*words, part))
            else:
                longer.update(words + more for one in part for more in _starts(one, room))
        found = longer
    return found


def words_told(phrases: Iterable[tuple[Pattern, Entry]]) -> tuple[set[str], set[str]]:
    """The words of phrases that carry a wish, and all other words of the vocabulary."""
    telling: set[str] = set()
    other: set[str] = set()
    for pattern, entry in phrases:
        if pattern[0] == REFINING:  # no request is read by them, so none is mended into them
            continue
        said = telling if entry.get("class") in TELLING else other
        said.update(word for word in words_of(pattern) if word[0].isalpha())
    return telling, other - telling


def words_of(pattern: Pattern) -> set[str]:
    """Every word that stands in a pattern."""
    return {part for part in pattern if isinstance(part, str)}.union(
        *(words_of(one) for part in pattern if not isinstance(part, str) for one in part)
    )


def ordinary_words(folder: Path) -> Iterator[str]:
    """Words of ordinary English that are never mended into something else."""
    for line in _lines(folder / "ordinary_words.txt"):
        yield line.text.strip().casefold()


def groups(folder: Path) -> dict[str, tuple[str, ...]]:
    """Words that mean whole genera and nothing else: `pear` is Pyrus, `holly` no Osmanthus."""
    table: dict[str, tuple[str, ...]] = {}
    for line in _lines(folder / GROUPS):
        word, _, genera = line.text.partition("=")
        if not word.strip() or not genera.strip():
            raise line.fault(repr(line.text.strip()), "`word = Genus, Genus`")
        table[word.strip()] = tuple(genus.strip().removeprefix("× ") for genus in genera.split(","))
    return table


def spellings(folder: Path) -> dict[str, str]:
    """Other spellings of a word, each with the one the vocabulary uses: `colour` is `color`."""
    table: dict[str, str] = {}
    for line in _lines(folder / SPELLINGS):
        wrong, _, right = line.text.partition("=")
        if not right.strip() or not 1 <= len(wrong.split()) <= 2:
            raise line.fault(repr(line.text.strip()), "`other spelling = spelling`, one or two words on the left")
        table[" ".join(stem(word) for word in wrong.split())] = stem(right.strip())
    return table


def plant_colours(folder: Path) -> dict[str, str]:
    """Words that end the names of plants, each with what a colour by itself is the colour of: `rose` is flower."""
    table: dict[str, str] = {}
    for line in _lines(folder / PLANT_COLOURS):
        name, _, part = (side.strip() for side in line.text.partition("="))
        if not name or part not in ("flower", "leaf"):
            raise line.fault(repr(line.text.strip()), "`words of a name = flower` or `= leaf`")
        table[" ".join(stem(word) for word in name.split())] = part
    return table


def _respelled(pattern: Pattern, spelling: dict[str, str], pairs: Sequence[Words]) -> Pattern:
    """A pattern in the vocabulary's own spelling; one of the pairs that are spelt as one (`does not`) becomes one."""
    words = words_of(pattern)
    if any(first in words and second in words for first, second in pairs):
        return (tuple(dict.fromkeys(_one_spelling(one, spelling) for one in _all(pattern))),)
    return _words_respelled(pattern, spelling)


def _words_respelled(pattern: Pattern, spelling: dict[str, str]) -> Pattern:
    return tuple(
        spelling.get(part, part) if isinstance(part, str) else tuple(_words_respelled(one, spelling) for one in part)
        for part in pattern
    )


def _one_spelling(words: Words, spelling: dict[str, str]) -> Words:
    out: list[str] = []
    for word in words:
        pair = spelling.get(f"{out[-1]} {word}") if out else None
        if pair:
            out[-1] = pair
        else:
            out.append(word)
    return tuple(spelling.get(word, word) for word in out)


def _all(pattern: Pattern) -> list[Words]:
    """Every sequence of words that a pattern stands for."""
    found: list[Words] = [()]
    for part in pattern:
        choices = [(part,)] if isinstance(part, str) else [words for one in part for words in _all(one)]
        found = [before + choice for before in found for choice in choices]
    return found


def _lines(path: Path) -> Iterator[_Line]:
    if not path.exists():
        return
    for number, text in enumerate(path.read_text(encoding="utf-8-sig").splitlines(), 1):
        bare = text.split("#", 1)[0].rstrip()
        if bare.strip():
            yield _Line(str(path), number, bare)


def _file(path: Path, spelling: dict[str, str]) -> Iterator[tuple[Pattern, Entry]]:
    entry: Entry | None = None
    pairs = [tuple(key.split()) for key in spelling if " " in key]
    for line in _lines(path):
        if not line.text[0].isspace():
            entry = meaning(line)
            continue
        if entry is None:
            raise line.fault("a phrase before any meaning", "a meaning at the left edge first")
        for phrase in line.text.strip().split(","):
            if phrase.strip():
                yield _respelled(pattern_of(phrase.strip(), line), spelling, pairs), entry


def meaning(line: _Line) -> Entry:
    """The entry a meaning line stands for: `{"class", …}`, with `conditions` for a trait."""
    text, _, note = line.text.partition("|")
    if text.startswith("@"):
        return _class_entry(text)
    said, _, negated = text.partition("!")
    alone = said.rstrip().endswith(" alone")
    entry: Entry = {"class": "PHRASE", "conditions": _conditions(said.rstrip().removesuffix(" alone"), line)}
    if alone:
        entry["alone"] = True
    if negated.strip():
        same = {"drop": [], "same": entry["conditions"]}
        entry["negated"] = same[word] if (word := negated.strip()) in same else _conditions(negated, line)
    if note.strip():
        entry["note"] = note.strip()
    return entry


def _conditions(text: str, line: _Line) -> list[Entry]:
    return [_condition(part, line) for part in text.split(";") if part.strip()]


def _class_entry(text: str) -> Entry:
    head, *pairs = text[1:].split()
    entry: Entry = {"class": head.upper().replace("-", "_")}
    for pair in pairs:
        key, _, value = pair.partition("=")
        entry[key] = _plain(value.replace("_", " "))
    return entry


def _plain(value: str) -> str | float:
    try:
        return float(value)
    except ValueError:
        return value


def _condition(part: str, line: _Line) -> Entry:
    trait, *rest = part.split()
    if not rest:
        raise line.fault(repr(part.strip()), "a trait and at least one value")
    test = rest.pop(0) if rest[0] in TESTS else "any_of"
    strength = "wish" if rest and rest[-1] == "wish" else None
    values = [value.strip() for value in " ".join(rest[:-1] if strength else rest).split(",")]
    out: Entry = {"trait": trait, "test": test, "values": [_value(trait, value) for value in values if value]}
    return out | {"strength": strength} if strength else out


def _value(trait: str, value: str) -> str | int:
    return int(value) if trait == "bloom" and value.isdigit() else value


def pattern_of(phrase: str, line: _Line) -> Pattern:
    """The pattern of a phrase with `[ ]`, `( | )`, `~`, its words folded."""
    found, rest = _sequence(_PART.findall(phrase.translate(_SPACED)), line)
    if rest:
        raise line.fault(repr(phrase), f"balanced brackets (at {rest[0]!r})")
    if _count(found) > MOST_EXPANSIONS:
        raise line.fault(repr(phrase), f"at most {MOST_EXPANSIONS} readings of one phrase")
    if "" in words_of(found) or _starts(found, 1) == {()}:
        raise line.fault(repr(phrase), "a phrase whose every form has words")
    if (GAP,) in _starts(found, 1) | _starts(_mirrored(found), 1):
        raise line.fault(repr(phrase), "`..` only between words")
    return found


def _count(pattern: Pattern) -> int:
    """How many phrases a pattern stands for."""
    return prod(1 if isinstance(part, str) else sum(map(_count, part)) for part in pattern)


def _mirrored(pattern: Pattern) -> Pattern:
    return tuple(part if isinstance(part, str) else tuple(map(_mirrored, part)) for part in reversed(pattern))


def _sequence(parts: list[str], line: _Line) -> tuple[Pattern, list[str]]:
    found: list[Any] = []
    while parts and parts[0] not in (")", "]", "|"):
        head, parts = parts[0], parts[1:]
        if head in ("(", "["):
            choices, parts = _choices(parts, line, ")" if head == "(" else "]")
            found.append((*choices, ()) if head == "[" else choices)
        else:
            found.append(_endings(head))
    return tuple(found), parts


def _choices(parts: list[str], line: _Line, close: str) -> tuple[tuple[Pattern, ...], list[str]]:
    choices: list[Pattern] = []
    while True:
        one, parts = _sequence(parts, line)
        choices.append(one)
        if not parts:
            raise line.fault(repr(line.text.strip()), f"a closing {close!r}")
        mark, parts = parts[0], parts[1:]
        if mark == close:
            return tuple(choices), parts
        if mark != "|":
            raise line.fault(repr(line.text.strip()), f"{close!r} in place of {mark!r}")


def _endings(word: str) -> str | tuple[Pattern, ...]:
    """A folded word, or of `grow~` each of its endings."""
    if word == GAP:
        return GAP
    if not word.endswith("~"):
        return stem(word)
    base = word[:-1]
    return tuple((one,) for one in dict.fromkeys(stem(form) for form in (base, *inflections(base))))


def inflections(verb: str) -> tuple[str, ...]:
    """Regular -s, -ed and -ing forms of a verb."""
    if verb.endswith("e"):
        return verb + "s", verb + "d", verb[:-1] + "ing"
    if verb.endswith("y") and verb[-2] not in _VOWELS:
        return verb[:-1] + "ies", verb[:-1] + "ied", verb + "ing"
    if verb.endswith(("s", "sh", "ch", "x")):
        return verb + "es", verb + "ed", verb + "ing"
    doubled = verb + verb[-1] if _doubles(verb) else verb
    return verb + "s", doubled + "ed", doubled + "ing"


def _doubles(verb: str) -> bool:
    return len(verb) in (3, 4) and verb[-1] not in "wxyaeiou" and verb[-2] in _VOWELS and verb[-3] not in _VOWELS
