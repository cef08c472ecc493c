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

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Any, Literal

from askplant import parsing
from askplant.parsing import Parsed, Token
from askplant.reading import settling
from askplant.reading.applying import Draft
from askplant.reading.changes import changes_between
from askplant.reading.ordering import without_leads
from askplant.reading.read import Reader, grammar_of, reader
from askplant.reading.reading import Reading
from askplant.reading.refinement import IT, SHOWN, Ask, Axis, Fresh, Question, Refinement, Rule, Side, Spoken, Taken
from askplant.reading.steps import NUMBERED, TAIL, Line, leaf, side_in, tokens_in, trees_in
from askplant.reading.vocabulary import ARTICLES as OWNING
from askplant.reading.words import words

LONG = 30  # words
WHOLE = 3  # wishes
WANTED = frozenset(("kind", "use"))
# What may be said in a question about one side of a plant: in any, and what a side needs besides. More is a request.
BESIDE = frozenset(("taxon", "zone"))
NEEDED = {
    "hold": frozenset(("height", "width")),
    "spacing": frozenset(("height", "width", "use")),
    "price": frozenset(("stock",)),
}
PRICE = "price"
CLEAR = "clear"  # how far off something: whatever that asks of a plant belongs to the question

ARTICLES = frozenset(("the", "a", "an"))
ASKS_FOR = frozenset(("can", "could"))  # "can the flowers be white" is a wish, "are the flowers white" asks

As = Literal["by rule", "new", "change"]


class Refiner:
    """Takes lines with one base's vocabulary and grammar."""

    def __init__(self, base: Any) -> None:
        self.reader: Reader = reader(base)
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
        nth = self._nth(text, len(shown)) if last is not None and taken == "by rule" else None
        if nth is not None:
            return Question("tell", nth)
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

    def _understood(self, text: str) -> tuple[Line, Parsed | None, Question | None]:
        """The line, its tree, and the question that it asks. What begins as a question about one side of a plant, and holds
        wishes besides, is taken by its other words."""
        for asking in (True, False):
            line = Line(text, self.reader.vocabulary, asking)
            tree = self._tree(line)
            question = self._question(tree, text) if tree is not None else None
            if question is not None or tree is None or not _is(tree, "about"):
                break
        return line, tree, question

    def _nth(self, text: str, shown: int) -> Spoken | None:
        """The plant that a line points at and says no more: `and the second?`, `number 2`, and `2` where so many are shown."""
        said = without_leads(text.rstrip(" ?.!"), self.reader.vocabulary, ("PUT", "ADD", "WHATIF"))
        pointed = self.pointed(said)
        if pointed is not None and pointed.number is not None:
            return pointed
        found = words(said, {})
        named = len(found) == 2 and found[0].kind != "num" and found[0].key in NUMBERED
        if not (named or len(found) == 1) or found[-1].kind != "num" or found[-1].value not in range(1, shown + 1):
            return None
        return Spoken(number=int(found[-1].value))

    def pointed(self, text: str) -> Spoken | None:
        """The plant that some words point at and nothing more: `it`, `the second one`."""
        line = Line(text, self.reader.vocabulary)
        at = sum(1 for word in line.words[:1] if word.key == "the")
        for kind in ("NTH", "IT"):
            found = line.phrase(kind, at) if at < len(line.words) else None
            if found is not None and found[0].end == len(line.words):
                return Spoken(number=int(found[1]["n"])) if kind == "NTH" else IT
        return None

    def _plain(self, text: str) -> Reading:
        """A first line, or one that is to be a request: "new:" before it says nothing more."""
        tree = self._tree(Line(text, self.reader.vocabulary))
        if tree is not None and _is(tree, "fresh"):
            return self._fresh(text, tokens_in(trees_in(tree)[0])[-1])
        return self.reader.read(text)

    def _fresh(self, text: str, rest: Token) -> Reading:
        return self.reader.read(text[rest.start :] if rest.type == "WORDS" else "")

    def _tree(self, line: Line) -> Parsed | None:
        """The line by the grammar; None where it is none of its lines."""
        tokens = line.tokens()
        tree, taken = parsing.longest(self._grammar, "line", tokens)
        return tree if taken == len(tokens) else None

    def _changed(self, draft: Draft, line: Line, tree: Parsed | None, rule: Rule) -> Refinement:
        """The steps of the line carried out one after the other; without any, the line is words put in."""
        last = draft.last
        for step in _steps(tree, line):
            draft.carry_out(step)
        conditions = tuple(draft.conditions)
        reading = replace(
            last,
            request=f"{last.request}\n{line.text}",
            conditions=conditions,
            task=draft.task,
            corrections=(*last.corrections, *draft.corrections),
            named=(*last.named, *draft.named),
            unread=(*last.unread, *draft.unread),
            conflicts=tuple(settling.conflicts(conditions)),
            filler=(*last.filler, *draft.filler()),
            units=draft.units,
        )
        task = last.task if replace(draft.task, spans=()) != replace(last.task, spans=()) else None
        return Refinement(reading, changes_between(last.conditions, conditions), rule, task, tuple(draft.missed))

    def _question(self, tree: Parsed, text: str) -> Question | None:
        """The question a line asks; None for one that asks nothing, or speaks of no plant there is."""
        asked = trees_in(tree)[0]
        if asked.data in ("more", "undo"):
            return Question(asked.data)  # type: ignore[arg-type]
        if asked.data in ("why", "tell"):
            plant = self._plant(leaf(trees_in(asked)[0]), text)
            return Question(asked.data, plant) if plant is not None else None  # type: ignore[arg-type]
        if asked.data == "check":
            found = self._check(asked, text)
            return self._as_side(found) if found is not None else None
        if asked.data == "which":
            rest = tokens_in(asked)[-1]
            which = Question("check", SHOWN, words=text[rest.start : rest.end])
            found = self._as_side(which)
            return found if found != which or self.reader.read(which.words).conditions else None
        if asked.data in ("size", "when"):
            return self._of_size(asked, text)
        if asked.data == "about":
            return self._about(asked, text)
        steps = trees_in(asked)
        if asked.data == "steps" and len(steps) == 1 and steps[0].data == "put":
            return self._what_about(tokens_in(steps[0]), text)
        return None

    def _check(self, asked: Parsed, text: str) -> Question | None:
        """`is it evergreen`, `is 2 safe for dogs`, `does inkberry take shade`; None where no plant stands behind the verb."""
        rest = tokens_in(asked)[-1]
        said = text[rest.start : rest.end]
        if "it" in tokens_in(asked)[0].meaning:
            return Question("check", IT, words=said)
        if trees_in(asked):
            return Question("check", self._plant(leaf(trees_in(asked)[0]), text) or IT, words=said)
        found = words(said, self.reader.vocabulary.spelling)
        if found and found[0].kind != "num" and found[0].key in NUMBERED:
            found = found[1:]
        if len(found) > 1 and found[0].key in ARTICLES:
            parts = Line(said, self.reader.vocabulary).phrase("SIDE", 1) if found[0].key == "the" else None
            if parts is not None and str(tokens_in(asked)[0]) not in ASKS_FOR:
                return self._at_end(rest, text) or Question("check", IT, words=said)
            found = found[1:]
        if len(found) > 1 and found[0].kind == "num" and not _is_measured(self.reader.read(said)):
            return Question("check", Spoken(number=int(found[0].value)), words=said[found[1].start :])
        names = self.reader.vocabulary.names_at(found, 0)
        if names and names[0].end < len(found):
            name, behind = said[: found[names[0].end - 1].end], said[found[names[0].end].start :]
            plant = self._named(name)
            return Question("check", plant, words=behind) if plant is not None else None
        return self._at_end(rest, text)

    def _at_end(self, rest: Token, text: str) -> Question | None:
        """`will deer eat it`, `do birds like the second one`: a plant that is pointed at behind what it is asked."""
        found = words(text[rest.start : rest.end].rstrip(" ?.!"), self.reader.vocabulary.spelling)
        for at in range(1, len(found)):
            said = text[rest.start + found[at].start : rest.start + found[-1].end]
            pointed = self.pointed(said)
            if pointed is not None:
                asked = text[rest.start : rest.start + found[at].start].strip()
                return Question("check", pointed, words=asked)
        return None

    def _as_side(self, check: Question) -> Question:
        """`does it need pruning`: what is no condition may still be a side of the plant."""
        if self.reader.read(check.words).conditions:
            return check
        side = side_in(check.words, self.reader.vocabulary)
        return check if side is None else replace(check, ask="about", words="", side=_side(side))

    def _about(self, asked: Parsed, text: str) -> Question | None:
        """`when does it bloom`, `how far apart`, `can I keep 2 at 5 ft`; None where more is asked than one side of one plant."""
        head, *rest = (token for token in tokens_in(asked) if token.type not in ("ADD", "JOIN"))
        said = head.meaning if "of" in head.meaning else next(token for token in rest if token.type == "SIDE").meaning
        if "to" in head.meaning and any(word.key == "to" for word in words(text[head.end :], {})):
            said = {"of": head.meaning["to"]}  # "how close can I plant it to the house"
        plant = next((self._plant(leaf(tree), text) for tree in trees_in(asked)), None)
        side, beside = _side(said), ""
        others = (token.meaning["of"] for token in rest if token.type == "SIDE")
        if side.name == PRICE and any(other != PRICE for other in others):
            return None  # "do you have anything that flowers"
        size, run, unread = None, None, []
        for token in (token for token in rest if token.type == "WORDS"):
            words_ = self._without_article(text[token.start : token.end].strip(" ?.!"))
            read = self.reader.read(words_)
            pointed = self._plant(token, text) or _numbered(words_, True)
            plant = plant or pointed
            if pointed is not None and pointed.number is not None:
                continue
            if side.name == CLEAR:
                beside = words_ if any(one.trait not in BESIDE for one in read.conditions) else beside
            elif any(one.trait not in BESIDE | NEEDED.get(side.name, frozenset()) for one in read.conditions):
                return None
            size = size or next((one for one in read.conditions if one.trait in ("height", "width")), None)
            run = run or read.task.run
            figures = any(word.kind == "num" for word in words(words_, {}))
            taken = read.conditions or read.unread or read.task.run
            unread += [one.text for one in read.unread] or ([words_] if figures and not taken else [])
        if "pointed" in head.meaning and plant is None:
            return None
        height = (size.maximum or size.minimum) if size is not None else run
        axis: Axis = "width" if size is not None and size.trait == "width" else "height"
        return Question("about", plant or IT, axis, height=height, words=beside, side=side, unread=tuple(unread))

    def _without_article(self, said: str) -> str:
        """Words that may be understood only where they stand by themselves: of "the wires" the wires."""
        found = words(said, self.reader.vocabulary.spelling)
        return said[found[1].start :] if len(found) > 1 and found[0].key in OWNING else said

    def _what_about(self, put: Sequence[Token], text: str) -> Question | None:
        """`what about inkberry`: why it would do or not."""
        if put[0].type != "WHATIF":
            return None
        said = self.reader.read(text[put[1].start : put[1].end])
        only = {found.trait for found in said.conditions} == {"taxon"} and not said.unread
        return Question("why", Spoken(name=str(said.conditions[0].values[0]))) if only else None

    def _plant(self, token: Token, text: str) -> Spoken | None:
        """The plant that is pointed at or named; None where words name none."""
        if token.type == "IT":
            return Spoken()
        if token.type == "NTH":
            return Spoken(number=int(token.meaning["n"]))
        said = text[token.start : token.end]
        others = [word for word in words(said, {}) if word.kind != "num" and word.key not in ("#", "number", "?", ".")]
        numbers = [word for word in words(said, {}) if word.kind == "num"]
        if len(numbers) == 1 and not others:
            return Spoken(number=int(numbers[0].value))
        return self._named(said)

    def _named(self, said: str) -> Spoken | None:
        read = self.reader.read(said)
        names = [str(found.values[0]) for found in read.conditions if found.trait == "taxon"]
        names += [mention.plant for mention in read.named]
        return Spoken(name=names[0]) if names else None

    def _of_size(self, asked: Parsed, text: str) -> Question | None:
        """How tall, how wide, or when so tall; `it` where no plant is named."""
        head, *rest = tokens_in(asked)
        plant = next((self._plant(leaf(tree), text) for tree in trees_in(asked)), None)
        years = height = None
        unread: list[str] = []
        for token in rest:
            said = text[token.start : token.end]
            read = self.reader.read(said)
            pointed = self._plant(token, text) or _numbered(said, _is_measured(read))
            plant = plant or pointed
            unread += [one.text for one in read.unread if pointed is None or one.text != str(pointed.number)]
            years = read.task.by_year
            heights = [found for found in read.conditions if found.trait in ("height", "width")]
            height = (heights[0].minimum or heights[0].maximum) if heights else None
        axis: Axis = "width" if head.meaning.get("axis") == "width" else "height"
        ask: Ask = "when" if asked.data == "when" else "size"
        return Question(ask, plant or IT, axis, years, height, unread=tuple(unread))


@lru_cache(maxsize=4)
def refiner(base: Any) -> Refiner:
    """The refiner of a base, made once."""
    return Refiner(base)


def refine(
    last: Reading | None, text: str, base: Any, shown: Sequence[str] = (), taken: As = "by rule", it: str | None = None
) -> Taken:
    """What a line means after the last request, with a base's vocabulary and names; see `Refiner.take`."""
    return refiner(base).take(last, text, shown, taken, it)


def _is_measured(said: Reading) -> bool:
    """Whether the first number of some words is a size or a time rather than a plant's."""
    return any(found.at[0] == 0 for found in said.conditions) or any(span[0] == 0 for span in said.task.spans)


def _numbered(said: str, measured: bool) -> Spoken | None:
    """`2 get`, `2 be in 5 years`: a number with a verb of growing behind it; `1 hide the fence`: one that measures nothing."""
    found = words(said, {})
    if len(found) > 1 and found[0].kind == "num" and (found[1].key in TAIL or not measured):
        return Spoken(number=int(found[0].value))
    return None


def _side(said: Mapping[str, Any]) -> Side:
    """A side as the vocabulary has it, where names of several words are written with spaces."""
    traits, kinds = ([name.strip() for name in str(said.get(key, "")).split(",") if name] for key in ("traits", "care"))
    return Side(str(said["of"]), tuple(trait.replace(" ", "_") for trait in traits), tuple(kinds))


def _is(tree: Parsed, name: str) -> bool:
    return trees_in(tree)[0].data == name


def _steps(tree: Parsed | None, line: Line) -> list[Parsed]:
    """The steps of a line; where it is none of the grammar's, the whole of it is words to put in."""
    if tree is None:
        return [parsing.Tree("put", [Token("WORDS", "", 0, len(line.text))])]
    inner = trees_in(tree)[0]
    return [inner] if inner.data == "count" else trees_in(inner)


def _is_whole(last: Reading, alone: Reading) -> bool:
    """Whether a line that does not speak of the request before is a request of its own."""
    again = {found.trait for found in alone.conditions} & {found.trait for found in last.conditions}
    wanted = any(found.trait in WANTED for found in alone.conditions)
    said = {found.at for found in alone.conditions}  # "near the pool" is one wish, though it asks several things
    return len(said) >= WHOLE and (wanted or bool(again))
