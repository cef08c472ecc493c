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
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
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
LISTS = ("README.md", "ordinary_words.txt", SPELLINGS, GROUPS)
# Phrases that only a line which refines a request may hold: they stand under a word of their own, apart from all others.
REFINE = "refine.txt"
REFINING = "#refine"

Entry = dict[str, Any]
Words = tuple[str, ...]

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


def compiled(folder: Path) -> Iterator[tuple[Words, Entry]]:
    """Every phrase of the folder with its meaning; CardError at the first line that is not in the form above."""
    spelling = spellings(folder)
    for path in sorted(folder.glob("*.txt")):
        if path.name == REFINE:
            yield from (((REFINING, *words), entry) for words, entry in _file(path, spelling))
        elif path.name not in LISTS:
            yield from _file(path, spelling)
    yield ("#spellings",), {"table": spelling}


# Classes whose words carry a wish by themselves: a misspelt word may be mended into one of them.
TELLING = frozenset(
    "PHRASE SIZE COLOR PLANT LEAFHEAD FALLHEAD FLOWERHEAD FRUITHEAD ANIMAL WISH MUST FT METRIC AXIS ZONEWORD MONTH".split()
)


def trees(phrases: Iterable[tuple[Words, Entry]]) -> tuple[dict[str, Any], list[Entry]]:
    """Phrases as trees of words by their first word, with the numbers of their meanings under the empty word."""
    entries: list[Entry] = []
    numbers: dict[int, int] = {}
    out: dict[str, Any] = {}
    for words, entry in phrases:
        if id(entry) not in numbers:
            numbers[id(entry)] = len(entries)
            entries.append(entry)
        node = out
        for word in words:
            node = node.setdefault(word, {})
        node.setdefault("", []).append(numbers[id(entry)])
    return out, entries


def pairs(phrases: Iterable[tuple[Words, Entry]]) -> dict[str, set[str]]:
    """For each word the words that stand right before it at the start of a phrase: of `shade`, part, full and deep."""
    before: dict[str, set[str]] = {}
    for words, entry in phrases:
        if len(words) > 1 and entry.get("class") in TELLING and GAP not in words[:2]:
            before.setdefault(words[1], set()).add(words[0])
    return before


def words_told(phrases: Iterable[tuple[Words, Entry]]) -> tuple[set[str], set[str]]:
    """The words of phrases that carry a wish, and all other words of the vocabulary."""
    telling: set[str] = set()
    other: set[str] = set()
    for words, entry in phrases:
        if words[0] == REFINING:  # no request is read by them, so none is mended into them
            continue
        (telling if entry.get("class") in TELLING else other).update(word for word in words if word[0].isalpha())
    return telling, other - telling


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


def respelled(words: Words, spelling: dict[str, str]) -> Words:
    """Words in the vocabulary's own spelling; a pair that is spelt as one (`does not`) becomes one."""
    out: list[str] = []
    for word in words:
        pair = spelling.get(f"{out[-1]} {word}") if out else None
        if pair:
            out[-1] = pair
        else:
            out.append(word)
    return tuple(spelling.get(word, word) for word in out)


def _lines(path: Path) -> Iterator[_Line]:
    if not path.exists():
        return
    for number, text in enumerate(path.read_text(encoding="utf-8-sig").splitlines(), 1):
        bare = text.split("#", 1)[0].rstrip()
        if bare.strip():
            yield _Line(str(path), number, bare)


def _file(path: Path, spelling: dict[str, str]) -> Iterator[tuple[Words, Entry]]:
    entry: Entry | None = None
    for line in _lines(path):
        if not line.text[0].isspace():
            entry = meaning(line)
            continue
        if entry is None:
            raise line.fault("a phrase before any meaning", "a meaning at the left edge first")
        for phrase in line.text.strip().split(","):
            if phrase.strip():
                for words in dict.fromkeys(respelled(words, spelling) for words in expand(phrase.strip(), line)):
                    if not words or "" in words:
                        raise line.fault(repr(phrase.strip()), "a phrase whose every form has words")
                    yield words, entry


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


def expand(phrase: str, line: _Line) -> list[Words]:
    """Every sequence of folded words that a phrase with `[ ]`, `( | )`, `~` stands for."""
    parts = _PART.findall(phrase.translate(_SPACED))
    found, rest = _sequence(parts, line)
    if rest:
        raise line.fault(repr(phrase), f"balanced brackets (at {rest[0]!r})")
    if len(found) > MOST_EXPANSIONS:
        raise line.fault(repr(phrase), f"at most {MOST_EXPANSIONS} readings of one phrase")
    out = [words for words in dict.fromkeys(found) if words]
    if any(words[0] == GAP or words[-1] == GAP for words in out):
        raise line.fault(repr(phrase), "`..` only between words")
    return out


def _sequence(parts: list[str], line: _Line) -> tuple[list[Words], list[str]]:
    found: list[Words] = [()]
    while parts and parts[0] not in (")", "]", "|"):
        head, parts = parts[0], parts[1:]
        if head in ("(", "["):
            choices, parts = _choices(parts, line, ")" if head == "(" else "]")
            if head == "[":
                choices = [*choices, ()]
        else:
            choices = [(word,) for word in _endings(head)]
        found = [before + choice for before in found for choice in choices]
    return found, parts


def _choices(parts: list[str], line: _Line, close: str) -> tuple[list[Words], list[str]]:
    choices: list[Words] = []
    while True:
        some, parts = _sequence(parts, line)
        choices += some
        if not parts:
            raise line.fault(repr(line.text.strip()), f"a closing {close!r}")
        mark, parts = parts[0], parts[1:]
        if mark == close:
            return choices, parts
        if mark != "|":
            raise line.fault(repr(line.text.strip()), f"{close!r} in place of {mark!r}")


def _endings(word: str) -> Iterable[str]:
    if word == GAP:
        return (GAP,)
    if not word.endswith("~"):
        return (stem(word),)
    base = word[:-1]
    return dict.fromkeys(stem(form) for form in (base, *inflections(base)))


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
