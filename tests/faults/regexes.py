"""Whether a regular expression can take more than linear time, told from its automaton.

A pattern becomes its position automaton (Glushkov): a state for each place where it takes a sign, an edge wherever one such
place may follow another. A matcher that backtracks tries every path that a text allows, so that its time is bounded by the
number of paths, and that grows (Weber and Seidl, On the degree of ambiguity of finite automata, 1991)

- without bound of any power only if some state comes back to itself by two different paths that read the same word;
- faster than linearly only if, for two states p and q, one word leads from p to p, from p to q and from q to q.

A search begins anew at every sign of the text, which is a state before the others that takes any sign and comes back to itself.
Anchors and what stands in looks ahead are passed over, which can only add paths. A pair whose q may end the match, with
nothing behind it that could still fail, is no trouble: the first path that comes there is the last one tried.
"""

from __future__ import annotations

import re
from collections import Counter, deque
from collections.abc import Iterable, Iterator, Sequence
from re import _constants as sre  # type: ignore[attr-defined]
from re import _parser as parser  # type: ignore[attr-defined]
from typing import Any, NamedTuple

MOST_COPIES = 45  # of a bounded repeat that are written out; a wider bound counts as none
SIGNS = "aZz5_ \t\n.,-–'’\"″½éÉß中٣²½$€£#(){}[]<>/\\&;:!x\u00a0\u2003\0"
ANYTHING = 0  # the state that stands before the pattern in a search


class Part(NamedTuple):
    """Of a piece of a pattern: whether it may take nothing, and the states it may begin and end with."""

    nullable: bool
    first: tuple[int, ...]
    last: tuple[int, ...]


NOTHING = Part(True, (), ())


class Automaton:
    """The positions of a pattern: what each takes, what follows it and in how many ways."""

    def __init__(self, pattern: re.Pattern[Any], searched: bool) -> None:
        text = pattern.pattern.decode("latin-1") if isinstance(pattern.pattern, bytes) else pattern.pattern
        self.flags, self.text = pattern.flags, text
        self.conditional = False  # whether it may fail behind its last sign
        self.looped = False  # whether it looks ahead for what may be of any length
        self.takes: list[frozenset[str]] = []
        self.follow: Counter[tuple[int, int]] = Counter()
        tree = parser.parse(text, pattern.flags & ~re.DEBUG)
        self.alphabet = sorted({*SIGNS, *_mentioned(tree)})
        self._state(self.alphabet)
        whole = self._sequence(tree)
        if searched:
            self._join((ANYTHING,), (ANYTHING, *whole.first))
        self.last = set(whole.last)

    def _state(self, signs: Iterable[str]) -> int:
        self.takes.append(frozenset(signs))
        return len(self.takes) - 1

    def _join(self, ends: Iterable[int], firsts: Sequence[int]) -> None:
        self.follow.update((end, first) for end in ends for first in firsts)

    def _sequence(self, items: Any) -> Part:
        made = NOTHING
        for code, argument in items:
            made = self._then(made, self._item(code, argument))
        return made

    def _then(self, one: Part, other: Part) -> Part:
        self._join(one.last, other.first)
        first = one.first + other.first if one.nullable else one.first
        last = one.last + other.last if other.nullable else other.last
        return Part(one.nullable and other.nullable, first, last)

    def _item(self, code: Any, argument: Any) -> Part:
        if code in (sre.LITERAL, sre.NOT_LITERAL, sre.IN, sre.ANY, sre.RANGE, sre.CATEGORY):
            one = self._state(self._signs(code, argument))
            return Part(False, (one,), (one,))
        if code is sre.SUBPATTERN:
            return self._sequence(argument[3])
        if code is sre.ATOMIC_GROUP:
            return self._sequence(argument)
        if code is sre.BRANCH:
            parts = [self._sequence(branch) for branch in argument[1]]
            return Part(
                any(part.nullable for part in parts),
                tuple(first for part in parts for first in part.first),
                tuple(last for part in parts for last in part.last),
            )
        if code in (sre.MAX_REPEAT, sre.MIN_REPEAT, sre.POSSESSIVE_REPEAT):
            return self._repeat(*argument)
        if code in (sre.AT, sre.ASSERT, sre.ASSERT_NOT):
            self.conditional = True
            self.looped |= code is not sre.AT and any(_loops(argument[1]))
            return NOTHING
        raise ValueError(f"{code} in {self.text}")

    def _repeat(self, least: int, most: Any, body: Any) -> Part:
        made = NOTHING
        for _ in range(min(int(least), MOST_COPIES)):
            made = self._then(made, self._sequence(body))
        if most is sre.MAXREPEAT or int(most) > MOST_COPIES:
            part = self._sequence(body)
            self._join(part.last, part.first)
            return self._then(made, part._replace(nullable=True))
        rest = NOTHING
        for _ in range(int(most) - int(least)):
            rest = self._then(self._sequence(body), rest)._replace(nullable=True)
        return self._then(made, rest)

    def _signs(self, code: Any, argument: Any) -> Iterator[str]:
        folds = bool(self.flags & re.IGNORECASE)
        for sign in self.alphabet:
            if any(
                _takes(code, argument, one, self.flags)
                for one in ({sign, sign.lower(), sign.upper()} if folds else {sign})
            ):
                yield sign


def _takes(code: Any, argument: Any, sign: str, flags: int) -> bool:
    if len(sign) != 1:
        return False
    if code is sre.ANY:
        return sign != "\n" or bool(flags & re.DOTALL)
    if code is sre.LITERAL:
        return ord(sign) == argument
    if code is sre.NOT_LITERAL:
        return ord(sign) != argument
    if code is sre.RANGE:
        return bool(argument[0] <= ord(sign) <= argument[1])
    if code is sre.CATEGORY:
        return bool(re.fullmatch(_CATEGORIES[argument], sign))
    negated = argument[0][0] is sre.NEGATE
    return negated != any(_takes(*one, sign, flags) for one in argument[negated:])


_CATEGORIES = {
    sre.CATEGORY_DIGIT: r"\d", sre.CATEGORY_NOT_DIGIT: r"\D", sre.CATEGORY_SPACE: r"\s", sre.CATEGORY_NOT_SPACE: r"\S",
    sre.CATEGORY_WORD: r"\w", sre.CATEGORY_NOT_WORD: r"\W",
}  # fmt: skip


def _mentioned(tree: Any) -> Iterator[str]:
    """Every sign that a pattern names, and those at the ends of its ranges and beside them, in both cases."""
    for code, argument in _items(tree):
        numbers = []
        if code in (sre.LITERAL, sre.NOT_LITERAL):
            numbers = [argument]
        elif code is sre.RANGE:
            numbers = [argument[0] - 1, argument[0], argument[1], argument[1] + 1]
        for number in numbers:
            for sign in {chr(max(number, 0)), chr(max(number, 0)).lower(), chr(max(number, 0)).upper()}:
                if len(sign) == 1:
                    yield sign


def _items(tree: Any) -> Iterator[tuple[Any, Any]]:
    """Every item of a parsed pattern, those within others too."""
    for found in tree:
        if isinstance(found, tuple) and len(found) == 2 and isinstance(found[0], sre._NamedIntConstant):
            yield found
            found = found[1]
        if isinstance(found, parser.SubPattern | list | tuple):
            yield from _items(found)


def _loops(tree: Any) -> Iterator[bool]:
    return (argument[1] is sre.MAXREPEAT for code, argument in _items(tree) if code in (sre.MAX_REPEAT, sre.MIN_REPEAT))


def trouble(pattern: re.Pattern[Any], searched: bool, whole: bool) -> str:
    """Why a pattern may take more than linear time, nothing if it cannot. `whole` is whether all of a text must fit it."""
    made = Automaton(pattern, searched)
    if made.looped:
        return "what is looked ahead for may be of any length"
    after: dict[int, list[int]] = {}
    for one, other in made.follow:
        after.setdefault(one, []).append(other)
    around = {state: _reached(state, after) for state in range(len(made.takes))}
    looping = [state for state, reached in around.items() if state in reached]
    together = {state: {other for other in around[state] if state in around[other]} for state in looping}
    for state in looping:
        if any(made.follow[state, other] > 1 for other in after[state] if other in together[state]):
            return "a loop within a loop that takes the same"
        if _comes_back_twice(state, together[state], made, after):
            return "two ways round a loop that take the same"
    for one in looping:
        for other in looping:
            if one == other or other not in around[one]:
                continue
            if other in made.last and not whole and not made.conditional:
                continue
            if _overlap(one, other, together, made, after):
                begins = "each place of the text begins" if one == ANYTHING else "two loops, one behind the other, part"
                return f"{begins} what the same signs may be in many ways"
    return ""


def _reached(state: int, after: dict[int, list[int]]) -> set[int]:
    found: set[int] = set()
    queue = deque(after.get(state, ()))
    while queue:
        one = queue.popleft()
        if one not in found:
            found.add(one)
            queue.extend(after.get(one, ()))
    return found


def _steps(
    states: tuple[int, ...], made: Automaton, after: dict[int, list[int]], within: Sequence[Any]
) -> Iterator[tuple[int, ...]]:
    """Where several paths may go at once by one sign, each staying among the states it may be in."""
    partial: list[tuple[tuple[int, ...], frozenset[str]]] = [((), frozenset(made.alphabet))]
    for state, allowed in zip(states, within, strict=True):
        partial = [
            ((*so_far, one), signs & made.takes[one])
            for so_far, signs in partial
            for one in after.get(state, ())
            if one in allowed and signs & made.takes[one]
        ]
    return (so_far for so_far, _ in partial)


def _comes_back_twice(state: int, loop: set[int], made: Automaton, after: dict[int, list[int]]) -> bool:
    """Whether two different paths lead round a loop by the same word."""
    queue: deque[tuple[tuple[int, ...], bool]] = deque([((state, state), False)])
    marked: set[tuple[tuple[int, ...], bool]] = set()
    while queue:
        pair, parted = queue.popleft()
        for step in _steps(pair, made, after, (loop, loop)):
            now = parted or step[0] != step[1]
            if now and step == (state, state):
                return True
            if (step, now) not in marked:
                marked.add((step, now))
                queue.append((step, now))
    return False


def _overlap(one: int, other: int, loops: dict[int, set[int]], made: Automaton, after: dict[int, list[int]]) -> bool:
    """Whether some word leads from `one` to itself, from `one` to `other`, and from `other` to itself."""
    everywhere = set(range(len(made.takes)))
    goal, start = (one, other, other), (one, one, other)
    marked, queue = {start}, deque([start])
    while queue:
        for step in _steps(queue.popleft(), made, after, (loops[one], everywhere, loops[other])):
            if step == goal:
                return True
            if step not in marked:
                marked.add(step)  # type: ignore[arg-type]
                queue.append(step)  # type: ignore[arg-type]
    return False
