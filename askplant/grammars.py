"""The one door to Lark: a grammar file → the tables that `parsing` runs. Needed where a base is built, not where one is asked."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from lark import Lark
from lark.grammar import Rule as LarkRule
from lark.parsers.lalr_analysis import Shift

from askplant.parsing import DROPPED, KEPT, OPENED, Grammar, Rule


def built(path: Path, starts: Sequence[str], *, strict: bool = False) -> Grammar:
    """The tables of a grammar file; `strict` makes every conflict an error (needs interegular)."""
    return tables(parser(path, starts, strict=strict))


def parser(path: Path, starts: Sequence[str], *, strict: bool = False) -> Lark:
    """The file as Lark's own LALR parser, fed by hand."""
    return Lark(path.read_text(encoding="utf-8"), parser="lalr", lexer="basic", start=list(starts), strict=strict)


def tables(made: Lark) -> Grammar:
    """Lark's tables of a parser, with how each rule makes its part of the tree."""
    table: Any = made.parser.parser._parse_table
    numbers = {rule: number for number, rule in enumerate(made.rules)}
    states: list[dict[str, int]] = [{} for _ in table.states]
    for state, actions in table.states.items():
        for kind, (action, to) in actions.items():
            states[state][str(kind)] = to if action is Shift else ~numbers[to]
    starts = {str(start): (first, table.end_states[start]) for start, first in table.start_states.items()}
    return Grammar(states, starts, [_rule(rule) for rule in made.rules])


def _rule(rule: LarkRule) -> Rule:
    if any(rule.options.empty_indices):
        raise ValueError(f"{rule}: [x] leaves a gap in the tree, which is not made here; write x?")
    parts = "".join(_becomes(symbol, rule.options.keep_all_tokens) for symbol in rule.expansion)
    name = str(rule.alias or rule.origin.name)
    return Rule(parts, str(rule.origin.name), name, bool(rule.options.expand1 and not rule.alias))


def _becomes(symbol: Any, all_tokens: bool) -> str:
    if symbol.is_term:
        return DROPPED if symbol.filter_out and not all_tokens else KEPT
    return OPENED if symbol.name.startswith("_") else KEPT
