"""One line at the desk and the request before it → the request as it is now, a request of its own, or a question.

The rule, in the order it is tried. A line is a new request
    when nothing was asked before, or it says so ("new: …", "next caller"), or it is longer than LONG words;
otherwise it changes the request before where it holds words that surely speak of it ("never mind", "instead", "narrower" …),
    or begins with one that may ("also", "make it");
otherwise it is a new request
    when it has WHOLE wishes or more and names a kind of plant or a use, or says again what the request before asked;
and otherwise it is short and changes the request before.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any, Literal

from askplant import parsing
from askplant.parsing import Token, Tree
from askplant.reading import settling
from askplant.reading.applying import Draft
from askplant.reading.changes import changes_between
from askplant.reading.questions import Questions
from askplant.reading.read import Reader, grammar_of, reader
from askplant.reading.reading import Reading
from askplant.reading.refinement import IT, Fresh, Question, Refinement, Rule, Taken
from askplant.reading.steps import Line, tokens_in, trees_in

LONG = 30  # words
WHOLE = 3  # wishes
WANTED = frozenset(("kind", "use"))

As = Literal["by rule", "new", "change"]


class Refiner:
    """Takes lines with one base's vocabulary and grammar."""

    def __init__(self, base: Any) -> None:
        self.reader: Reader = reader(base)
        self.questions = Questions(self.reader)
        self._grammar = grammar_of(base, "refine")

    def take(
        self, last: Reading | None, text: str, shown: Sequence[str] = (), taken: As = "by rule", it: str | None = None
    ) -> Taken:
        """What a line means after a request.

        `shown` are the botanical names of the last answer's plants in order, which "the second" stands for, `it` is the one
        spoken of last. `taken` sets the rule aside. RequestError for a line that is longer than can be read.
        """
        if taken == "new":
            return Fresh(self._plain(text), "chosen")
        if last is not None and taken == "by rule":
            question = self.questions.pointing(text, len(shown)) or self.questions.stated(text) or self._turned(text)
            if question is not None:
                return question
        line, tree, question = self._understood(text)
        if last is None:
            named = question is not None and question.ask != "why" and question.plant.name is not None
            return question if named else Fresh(self._plain(text), "first")  # type: ignore[return-value]
        if tree is not None and taken == "by rule" and _is(tree, "fresh"):
            return Fresh(self._fresh(text, tokens_in(trees_in(tree)[0])[-1]), "said")
        if question is not None:
            return question
        if tree is not None and not (_is(tree, "steps") or _is(tree, "count")):
            tree = None  # it has the words of a question, and asks none: "show me something evergreen"
        draft = Draft(last, text, self.reader, tuple(shown), it)
        if taken == "change":
            return self._changed(draft, line, tree, "chosen")
        if sum(word.kind in ("word", "num") for word in line.words) > LONG:
            return Fresh(self.reader.read(text), "long")
        if tree is not None and line.refining:
            return self._changed(draft, line, tree, "changes")
        alone = self.reader.read(text)
        return Fresh(alone, "whole") if _is_whole(last, alone) else self._changed(draft, line, tree, "short")

    def _turned(self, text: str) -> Question | None:
        """`the third, how wide does it get`: the plant of a question that stands before it."""
        found = self.questions.turned_to(text)
        question = self._understood(found[1])[2] if found is not None else None
        if found is None or question is None or question.plant != IT or question.ask in ("more", "undo"):
            return None
        return question._replace(plant=found[0])

    def _understood(self, text: str) -> tuple[Line, Tree | None, Question | None]:
        """The line, its tree, and the question that it asks. What begins as a question about one side of a plant, and holds
        wishes besides, is taken by its other words."""
        for asking in (True, False):
            line = Line(text, self.reader.vocabulary, asking)
            tree = self._tree(line)
            question = self.questions.asked(tree, text) if tree is not None else None
            if question is not None or tree is None or not _is(tree, "about"):
                break
        return line, tree, question

    def _plain(self, text: str) -> Reading:
        """A first line, or one that is to be a request: "new:" before it says nothing more."""
        tree = self._tree(Line(text, self.reader.vocabulary))
        if tree is not None and _is(tree, "fresh"):
            return self._fresh(text, tokens_in(trees_in(tree)[0])[-1])
        return self.reader.read(text)

    def _fresh(self, text: str, rest: Token) -> Reading:
        return self.reader.read(text[rest.start :] if rest.type == "WORDS" else "")

    def _tree(self, line: Line) -> Tree | None:
        """The line by the grammar; None where it is none of its lines."""
        tokens = line.tokens()
        tree, taken = parsing.longest(self._grammar, "line", tokens)
        return tree if taken == len(tokens) else None

    def _changed(self, draft: Draft, line: Line, tree: Tree | None, rule: Rule) -> Refinement:
        """The steps of the line carried out one after the other; without any, the line is words put in."""
        last = draft.last
        for step in _steps(tree, line):
            draft.carry_out(step)
        conditions = tuple(draft.conditions)
        reading = last._replace(request=f"{last.request}\n{line.text}",
            conditions=conditions,
            task=draft.task,
            corrections=(*last.corrections, *draft.corrections),
            named=(*last.named, *draft.named),
            unread=(*last.unread, *draft.unread),
            conflicts=tuple(settling.conflicts(conditions)),
            filler=(*last.filler, *draft.filler()),
            units=draft.units,
        )
        task = last.task if draft.task._replace(spans=()) != last.task._replace(spans=()) else None
        return Refinement(reading, changes_between(last.conditions, conditions), rule, task, tuple(draft.missed))


@lru_cache(maxsize=4)
def refiner(base: Any) -> Refiner:
    """The refiner of a base, made once."""
    return Refiner(base)


def refine(
    last: Reading | None, text: str, base: Any, shown: Sequence[str] = (), taken: As = "by rule", it: str | None = None
) -> Taken:
    """What a line means after the last request, with a base's vocabulary and names; see `Refiner.take`."""
    return refiner(base).take(last, text, shown, taken, it)


def _is(tree: Tree, name: str) -> bool:
    return trees_in(tree)[0].data == name


def _steps(tree: Tree | None, line: Line) -> list[Tree]:
    """The steps of a line; where it is none of the grammar's, the whole of it is words to put in."""
    if tree is None:
        return [Tree("put", [Token("WORDS", "", 0, len(line.text))])]
    inner = trees_in(tree)[0]
    return [inner] if inner.data == "count" else trees_in(inner)


def _is_whole(last: Reading, alone: Reading) -> bool:
    """Whether a line that does not speak of the request before is a request of its own."""
    again = {found.trait for found in alone.conditions} & {found.trait for found in last.conditions}
    wanted = any(found.trait in WANTED for found in alone.conditions)
    said = {found.at for found in alone.conditions}  # "near the pool" is one wish, though it asks several things
    return len(said) >= WHOLE and (wanted or bool(again))
