"""Grammars as tables, packed into the base, and the longest phrase parsed from tokens by them.

Lark makes the tables (`grammars.py`), this runs them: importing Lark takes longer than reading a request.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

END = "$END"
# What becomes of a part of a rule: it is kept, its own parts are put in its place, or it is left out.
KEPT, OPENED, DROPPED = "kod"


class Rule(NamedTuple):
    """How parts become one: what becomes of each, the symbol that they are from then on, the name of their tree, and whether
    a single part stands for itself.
    """

    parts: str
    symbol: str
    name: str
    single: bool


class Grammar(NamedTuple):
    """An LALR(1) parser. Of each state what it does at a symbol: go on to a state, or take rule n as complete (`~n`); of each
    symbol that a phrase may be, the state it begins in and the one it ends in.
    """

    states: Sequence[Mapping[str, int]]
    starts: Mapping[str, Sequence[int]]
    rules: Sequence[Rule]


class Token(str):
    """A typed token with its place in the text and what the vocabulary says of it."""

    __slots__ = ("end", "meaning", "start", "type")

    type: str
    start: int
    end: int
    meaning: dict[str, Any]

    def __new__(cls, kind: str, text: str, start: int, end: int, meaning: dict[str, Any] | None = None) -> Token:
        made = super().__new__(cls, text)
        made.type, made.start, made.end = kind, start, end
        made.meaning = meaning or {}
        return made

    def __eq__(self, other: object) -> bool:
        return (not isinstance(other, Token) or self.type == other.type) and str.__eq__(self, other)

    __hash__ = str.__hash__


class Tree:
    """A named row of tokens and of trees."""

    __slots__ = ("children", "data")

    def __init__(self, data: str, children: list[Token | Tree]) -> None:
        self.data, self.children = data, children

    def tokens(self) -> Iterator[Token]:
        """Every token in it, however deep, in order."""
        for child in self.children:
            if isinstance(child, Tree):
                yield from child.tokens()
            else:
                yield child


def packed(grammar: Grammar) -> str:
    """The tables as text."""
    return json.dumps(grammar, separators=(",", ":"))


def unpacked(text: str) -> Grammar:
    """The tables that `packed` gave."""
    states, starts, rules = json.loads(text)
    return Grammar(states, starts, [Rule._make(rule) for rule in rules])


def longest(grammar: Grammar, start: str, tokens: Sequence[Token]) -> tuple[Tree | None, int]:
    """The tree of the longest run from the first token that is a whole phrase, and how many tokens it takes.

    Without a tree, the number of tokens that were taken in before it failed: no phrase begins before the one it failed at.
    """
    run = _Run(grammar, start)
    whole, fed = 0, 0
    for token in tokens:
        if not run.takes(token):
            break
        fed += 1
        if run.may_end():
            whole = fed
    if whole and whole == fed == len(tokens):
        tree = run.ended()
        if tree is not None:
            return tree, whole
        whole -= 1
    while whole:
        # LALR look-aheads can promise an end that does not come: then one token fewer.
        tree = _parsed(grammar, start, tokens[:whole])
        if tree is not None:
            return tree, whole
        whole -= 1
    return None, fed


def _parsed(grammar: Grammar, start: str, tokens: Sequence[Token]) -> Tree | None:
    run = _Run(grammar, start)
    return run.ended() if all(map(run.takes, tokens)) else None


class _Run:
    """A phrase while its tokens come in: the states it is in, and the parts it has so far."""

    def __init__(self, grammar: Grammar, start: str) -> None:
        self._grammar = grammar
        first, self._last = grammar.starts[start]
        self._states = [first]
        self._parts: list[Any] = []

    def takes(self, token: Token) -> bool:
        """Whether the phrase goes on with the token, which is then taken in."""
        state = self._completed(token.type)
        if state is None:
            return False
        self._states.append(state)
        self._parts.append(token)
        return True

    def may_end(self) -> bool:
        """Whether the last token can be the last of the phrase."""
        return END in self._grammar.states[self._states[-1]]

    def ended(self) -> Tree | None:
        """The tree of the phrase if it is whole."""
        if self._completed(END) is None:
            return None
        tree: Tree = self._parts[-1]
        return tree

    def _completed(self, symbol: str) -> int | None:
        """The state to go on to at a symbol, once every rule is taken that is complete before it; None where it cannot come."""
        states, (table, _, rules) = self._states, self._grammar
        while (step := table[states[-1]].get(symbol)) is not None and step < 0:
            rule = rules[~step]
            self._take(rule)
            states.append(table[states[-1]][rule.symbol])
            if symbol == END and states[-1] == self._last:
                return self._last
        return step

    def _take(self, rule: Rule) -> None:
        """Make one part of those that a rule is of."""
        first = len(self._parts) - len(rule.parts)
        children: list[Token | Tree] = []
        for part, becomes in zip(self._parts[first:], rule.parts, strict=True):
            if becomes == OPENED:
                children += part.children
            elif becomes == KEPT:
                children.append(part)
        self._parts[first:] = [children[0] if rule.single and len(children) == 1 else Tree(rule.name, children)]
        del self._states[len(self._states) - len(rule.parts) :]
