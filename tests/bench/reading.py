"""Reading requests against two general tools: an Earley grammar of lark over the same words, and quantulum3 on lengths alone."""

from __future__ import annotations

import importlib
import json
import re
import time
import warnings
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from lark import Lark

from askplant import Desk
from askplant.base.opened import Base

REQUESTS = Path(__file__).parent.parent / "requests"
FOOT, INCH = 0.3048, 0.0254
# Two lengths are the same within this share, as feet are rounded in the corpus.
SAME = 0.06
LENGTHS = ("height", "width")
_WORD = re.compile(r"[a-z]+(?:['-][a-z]+)*")


def cases(every: int) -> list[dict[str, Any]]:
    """Every so manieth request of the corpora."""
    found = [
        json.loads(line)
        for path in (REQUESTS / f"{name}.jsonl" for name in ("spoken", "written", "mixed"))
        for line in path.read_text(encoding="utf-8").splitlines()
    ]
    return found[::every]


class Tally:
    """What was found of what was meant, and how long it took."""

    def __init__(self) -> None:
        self.hits = self.missed = self.extra = 0
        self.seconds = 0.0

    def add(self, meant: list[Any], found: list[Any], same: Callable[[Any, Any], bool]) -> None:
        """One request."""
        left = list(found)
        for one in meant:
            other = next((other for other in left if same(one, other)), None)
            if other is None:
                self.missed += 1
            else:
                left.remove(other)
                self.hits += 1
        self.extra += len(left)

    def told(self, requests: int) -> str:
        """Recall, precision, milliseconds a request."""
        recall = self.hits / max(1, self.hits + self.missed)
        precision = self.hits / max(1, self.hits + self.extra)
        return f"recall {recall:.2f}, precision {precision:.2f}, {self.seconds / requests * 1000:.1f} ms a request"


def lines(every: int = 6) -> Iterator[str]:
    """What to print."""
    some = cases(every)
    desk = Desk()
    yield f"\nReading {len(some)} requests of tests/requests"
    own, own_lengths = Tally(), Tally()
    for case in some:
        start = time.perf_counter()
        reading = desk.read(case["text"])
        took = time.perf_counter() - start
        own.seconds += took
        own_lengths.seconds += took
        own.add(_traits(case), [condition.trait for condition in reading.conditions], _equal)
        found = [
            value for one in reading.conditions if one.trait in LENGTHS for value in {one.minimum, one.maximum} if value
        ]
        own_lengths.add(_lengths(case), found, _near)
    yield f"  askplant, traits asked for: {own.told(len(some))}"
    yield from _earley(desk.base, some, own)
    yield f"  askplant, lengths of height and width: {own_lengths.told(len(some))}"
    yield from _quantulum(some, own_lengths)


def _traits(case: dict[str, Any]) -> list[str]:
    return [condition["trait"] for condition in case["conditions"]]


def _lengths(case: dict[str, Any]) -> list[float]:
    return [
        value
        for one in case["conditions"]
        if one["trait"] in LENGTHS
        for value in {one.get("min"), one.get("max")}
        if value
    ]


def _equal(one: str, other: str) -> bool:
    return one == other


def _near(one: float, other: float) -> bool:
    return abs(one - other) <= SAME * one


# ---- lark's Earley


def _earley(base: Base, some: list[dict[str, Any]], own: Tally) -> Iterator[str]:
    """A grammar of the phrases that these requests hold, which spares it the others: a request is phrases, lengths and words."""
    begin = time.perf_counter()
    parser = Lark(_grammar(base, some), parser="earley", lexer="dynamic", ambiguity="resolve")
    built = time.perf_counter() - begin
    tally = Tally()
    for case in some:
        start = time.perf_counter()
        found = [
            tree.data.split("__")[0] for tree in parser.parse(case["text"].lower()).iter_subtrees() if "__" in tree.data
        ]
        tally.seconds += time.perf_counter() - start
        tally.add(_traits(case), found, _equal)
    yield (
        f"  Earley grammar of lark: {tally.told(len(some))}, {built:.2f} s to build;"
        f" {tally.seconds / own.seconds:.1f} times as long as askplant"
    )


def _grammar(base: Base, some: list[dict[str, Any]]) -> str:
    texts = " ".join(" ".join(_WORD.findall(case["text"].lower())) for case in some)
    words = set(texts.split())
    phrases: dict[str, set[str]] = {}
    for first in sorted(words):
        for phrase, trait in _phrases(base, first):
            if f" {phrase} " in f" {texts} ":
                phrases.setdefault(trait, set()).add(phrase)
    rules, terminals = [], []
    for number, (trait, some_phrases) in enumerate(sorted(phrases.items())):
        said = "|".join(re.escape(one).replace("/", r"\/") for one in sorted(some_phrases, key=len, reverse=True))
        rules.append(f"{trait}__{number}")
        terminals.append(f"{trait}__{number}: T{number}\nT{number}.2: /\\b(?:{said})\\b/")
    length = r"/(?:about|under|over|up to|at least|at most)? ?\d+(?:\.\d+)?(?: ?(?:-|–|to) ?\d+)? ?(?:ft|feet|foot|'|in|m|cm)\b ?(?:%s)?/"  # noqa: E501
    return "\n".join(
        (
            f"start: (part _GAP?)*\n?part: {' | '.join([*rules, 'height__l', 'width__l'])} | WORD | MARK",
            *terminals,
            f"height__l: TALL\nTALL.1: {length % 'tall|high'}",
            f"width__l: WIDE\nWIDE.3: {length.replace(')?/', ')/') % 'wide|across'}",
            "WORD.-1: /[^\\W_]+/\nMARK.-2: /[\\W_]/\n_GAP.-3: /\\s+/",
        )
    )


def _phrases(base: Base, first: str) -> Iterator[tuple[str, str]]:
    def under(said: list[str], tree: Any) -> Iterator[tuple[str, str]]:
        for word, more in tree.items():
            if word:
                yield from under([*said, word], more)
            else:
                for number in more:
                    for condition in base.entry(number).get("conditions", ()):
                        yield " ".join(said), str(condition["trait"])

    yield from under([first], base.phrases_starting(first))


# ---- quantulum3


def _quantulum(some: list[dict[str, Any]], own: Tally) -> Iterator[str]:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            parser = importlib.import_module("quantulum3.parser")
            parser.parse("5 feet")
    except ImportError:
        yield "  quantulum3: not installed, left out (pip install -e '.[bench]')"
        return
    tally = Tally()
    for case in some:
        start = time.perf_counter()
        found = [value for quantity in _quantities(parser, case["text"]) for value in _metres(quantity)]
        tally.seconds += time.perf_counter() - start
        tally.add(_lengths(case), found, _near)
    yield f"  quantulum3: {tally.told(len(some))}; {tally.seconds / own.seconds:.1f} times as long as askplant's whole reading"


def _quantities(parser: Any, text: str) -> list[Any]:
    try:
        return list(parser.parse(text))
    except Exception as problem:  # what it cannot read it raises, and that is an answer too
        print(f"  quantulum3 raised {type(problem).__name__} on: {text[:60]}")
        return []


def _metres(quantity: Any) -> list[float]:
    if quantity.unit.entity.name != "length":
        return []
    units = {"foot": FOOT, "inch": INCH, "yard": 3 * FOOT, "metre": 1.0, "centimetre": 0.01, "millimetre": 0.001}
    unit = units.get(quantity.unit.name)
    if unit is None:
        return []
    off = quantity.uncertainty or 0.0
    return list({round((quantity.value - off) * unit, 4), round((quantity.value + off) * unit, 4)})
