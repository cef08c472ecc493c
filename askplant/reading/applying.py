"""The steps of a line carried out on the request before it: words put in, taken back, more or less of something."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from askplant.base.phrases import REFINING
from askplant.parsing import Token, Tree
from askplant.reading.changes import core
from askplant.reading.joining import How, dropped, joined
from askplant.reading.moves import corrected, moved
from askplant.reading.read import Reader
from askplant.reading.reading import Condition, Correction, Mention, Reading, Span, Task, Unread
from askplant.reading.refinement import Missed
from askplant.reading.steps import is_empty, leaf, tokens_in, trees_in
from askplant.reading.vocabulary import ARTICLES
from askplant.reading.words import words

WIDENING = frozenset(("WIDEN", "WIDEN_AFTER"))
ADDING = frozenset(("ADD", "ALSO_AFTER"))
# What a number by itself corrects, the one said last.
CORRECTED = ("height", "width", "zone", "size")
NO_TASK = Task()
ONES = frozenset(("one", "ones"))  # behind a value: "the red ones"


@dataclass(slots=True)
class Draft:
    """The request while a line changes it. Places in the line are given behind the request's own text."""

    last: Reading
    line: str
    reader: Reader
    shown: tuple[str, ...]
    it: str | None = None  # the plant spoken of last
    conditions: list[Condition] = field(default_factory=list)
    task: Task = field(default_factory=Task)
    corrections: list[Correction] = field(default_factory=list)
    named: list[Mention] = field(default_factory=list)
    unread: list[Unread] = field(default_factory=list)
    missed: list[Missed] = field(default_factory=list)
    units: Any = "us"
    _liked: Condition | None = None

    def __post_init__(self) -> None:
        self.conditions, self.task, self.units = list(self.last.conditions), self.last.task, self.last.units

    @property
    def _offset(self) -> int:
        return len(self.last.request) + 1

    def carry_out(self, step: Tree) -> None:
        """One step of grammar/refine.lark."""
        parts, inner = tokens_in(step), [leaf(tree) for tree in trees_in(step)]
        if step.data in ("drop", "any"):
            self._drop(
                [*inner, *(one for one in parts if one.type == "TRAIT")], any("out" in one.meaning for one in parts)
            )
        elif step.data == "refuse":
            self._refuse(inner)
        elif step.data in ("soften", "harden"):
            self._weigh(inner, step.data == "soften")
        elif step.data == "move":
            self._move(parts)
        elif step.data == "like":
            self._like(inner[0])
        elif step.data == "count":
            self.task = self.task._replace(count=int(parts[0].meaning["n"]))
        elif step.data == "put":
            self._put(parts)

    def filler(self) -> Iterator[Span]:
        """What of the line is no condition, task, mention or unread word: what refines, and what the line itself took back."""
        placed = [span for found in self.conditions for span in (found.at, *found.more)] + list(self.task.spans)
        placed += (
            [one.at for one in self.named] + [one.at for one in self.unread] + [one.at for one in self.corrections]
        )
        at = self._offset
        end = at + len(self.line)
        for start, stop in sorted(placed):
            if start > at:
                yield at, start
            at = max(at, stop)
        if at < end:
            yield at, end

    # ---- words put in

    def _put(self, parts: Sequence[Token]) -> None:
        token = next(part for part in parts if part.type == "WORDS")
        kinds = {part.type for part in parts}
        if "INSTEADOF" in kinds and self._meant(parts[-1])[1]:  # "a holly instead of the boxwood" tells of a boxwood
            token = Token("WORDS", "", token.start, parts[-1].end)
        if self._number(token, "INSTEAD" in kinds):
            return
        said = self._read(token)
        later = [self._placed(found, token) for found in said.conditions]
        later = [found for found in later if "INSTEAD" not in kinds or not self._refuses_wanted(found, later)]
        how: How = "widen" if kinds & WIDENING else "add" if kinds & ADDING else "replace"
        self.conditions = joined(self.conditions, later, how)
        self._take_task(said.task, token)
        self.named += [one._replace(at=self._at(one.at, token)) for one in said.named]
        self.unread += [one._replace(at=self._at(one.at, token)) for one in said.unread]
        self.corrections += [one._replace(at=self._at(one.at, token)) for one in said.corrections]
        if said.conditions and said.units == "metric":
            self.units = "metric"

    @staticmethod
    def _refuses_wanted(found: Condition, later: Sequence[Condition]) -> bool:
        return found.test == "none_of" and any(
            other.trait == found.trait and other.test != "none_of" and set(other.values) & set(found.values)
            for other in later
        )

    def _read(self, token: Token) -> Reading:
        return self._sensed(self.line[token.start : token.end])

    def _sensed(self, text: str) -> Reading:
        """Words as a request, or in the sense of what was asked: "pink" behind white flowers, "July" behind bloom in June."""
        said = self.reader.read(text)
        if said.conditions or not said.unread:
            return said
        senses = (self._in_sense_of(before, text) for before in reversed(self.conditions))
        sense = next(filter(None, senses), None)
        return said._replace(conditions=(sense,), unread=()) if sense is not None else said

    def _in_sense_of(self, before: Condition, text: str) -> Condition | None:
        """What bare values ask when they are said as those of a condition are; None where they are none of its kind."""
        known = self.reader.vocabulary
        named = words(before.trait.replace("_", " "), known.spelling)
        entries = (entry for match in known.phrases_under(REFINING, named, 0) for entry in match.entries)
        said = next((str(entry["said"]) for entry in entries if entry["class"] == "SENSE"), None)
        values = " ".join(word.text for word in words(text, known.spelling) if word.key not in ARTICLES | ONES)
        read = self.reader.read(said.format(values)) if said is not None else None
        if read is None or read.unread or len(read.conditions) != 1 or not read.conditions[0].values:
            return None
        return read.conditions[0]._replace(strength=before.strength, text=text, at=(0, len(text)), more=())

    def _at(self, span: Span, token: Token) -> Span:
        shift = self._offset + token.start
        return span[0] + shift, span[1] + shift

    def _placed(self, condition: Condition, token: Token) -> Condition:
        more = tuple(self._at(span, token) for span in condition.more)
        return condition._replace(at=self._at(condition.at, token), more=more)

    def _take_task(self, said: Task, token: Token) -> None:
        facts = {key: getattr(said, key) for key in _said_of(said)}
        spans = tuple(self._at(span, token) for span in said.spans)
        if facts or spans:
            self.task = self.task._replace(**facts, spans=(*self.task.spans, *spans))

    def _number(self, token: Token, instead: bool) -> bool:
        """`make it 8`, `8 to 10`: numbers alone correct the size or zone said last, the later of those that they can be."""
        found = words(self.line[token.start : token.end], self.reader.vocabulary.spelling)
        numbers = [word.value for word in found if word.kind == "num"]
        others = [word for word in found if word.kind != "num" and word.key not in ("-", "to")]
        if not 1 <= len(numbers) <= 2 or not is_empty(others):
            return False
        said = [one for one in self.conditions if one.trait in CORRECTED]
        said.sort(key=lambda one: self._recent(one, instead), reverse=True)
        last, new = next(((one, new) for one in said if (new := corrected(one, numbers, self.units))), (None, None))
        if new is None:
            return False
        span = (token.start + self._offset, token.end + self._offset)
        new = new._replace(text=self.line[token.start : token.end], at=span, more=(), note=None)
        self.conditions = [new if found is last else found for found in self.conditions]
        return True

    def _recent(self, condition: Condition, instead: bool) -> tuple[int, bool, Span]:
        """How late something was said: in which line, and where in it.

        "It" is the plant, so that of one line a size comes after a zone; "instead" is for what was said last, whichever it is.
        """
        said = max([condition.at, *condition.more])
        return self.last.request.count("\n", 0, said[0]), instead or condition.trait != "zone", said

    # ---- taken back

    def _drop(self, targets: Sequence[Token], out: bool = False) -> None:
        """What the words name is asked no longer. A plant that was not asked for is left out, with `out` anything else too."""
        for token in targets:
            gone = self._spoken_of(token)
            if out:  # "leave out the deciduous ones" takes no wish for evergreens back
                said = {value for found in self._read(token).conditions for value in found.values}
                gone = [found for found in gone if not said or said & set(found.values)]
            self.conditions = dropped(self.conditions, gone)
            facts = self._tasks(token)
            if facts:
                self.task = self.task._replace(**facts)
            refused = [] if gone else self._refusable(token, out)
            self.conditions = joined(self.conditions, refused, "replace")
            if not gone and not refused and not facts and self._says_something(token):
                self._miss(token, "not asked")

    def _spoken_of(self, token: Token) -> list[Condition]:
        """The conditions that words speak of: by what they ask, by number, else by the words they were asked in."""
        traits, plants = self._meant(token)
        found = [
            one
            for one in self.conditions
            if (one.trait in traits and one.trait != "taxon") or (one.trait == "taxon" and plants & set(one.values))
        ]
        found += self._nth(token)
        if found or token.type != "WORDS":
            return found
        said = self._keys(self.line[token.start : token.end])
        return [one for one in self.conditions if said and said <= self._keys(one.text)]

    def _keys(self, text: str) -> set[str]:
        """The words of a text that say something."""
        found = words(text, self.reader.vocabulary.spelling)
        return {word.key for word in found if word.kind == "word" and not is_empty([word])}

    def _miss(self, token: Token, why: Literal["not asked", "not shown"]) -> None:
        self.missed.append(Missed(self.line[token.start : token.end], why))

    def _says_something(self, token: Token) -> bool:
        return not is_empty(words(self.line[token.start : token.end], self.reader.vocabulary.spelling))

    def _meant(self, token: Token) -> tuple[set[str], set[str]]:
        """The traits that are spoken of, and the plants."""
        if token.type == "TRAIT":
            return set(str(token.meaning["of"]).replace(" ", "_").split(",")), set()
        if token.type == "NTH":
            return set(), set()
        said = self._read(token)
        plants = {str(value) for found in said.conditions if found.trait == "taxon" for value in found.values}
        plants |= {mention.plant for mention in said.named}
        traits = {found.trait for found in said.conditions if found.trait != "taxon"}
        traits |= {"height", "size"} if traits & {"height", "size"} else set()
        return traits, plants

    def _nth(self, token: Token) -> list[Condition]:
        """`drop number 2`: a condition by its number."""
        if token.type == "NTH":
            number = int(token.meaning["n"])
        else:
            found = words(self.line[token.start : token.end], {})
            numbers = [word.value for word in found if word.kind == "num"]
            alone = len(numbers) == 1 and all(word.kind == "num" or word.key in ("number", "#") for word in found)
            if not alone or token.type != "WORDS":
                return []
            number = int(numbers[0])
        if number < 0:
            number += len(self.conditions) + 1
        return [self.conditions[number - 1]] if 0 < number <= len(self.conditions) else []

    def _tasks(self, token: Token) -> dict[str, Any]:
        """`never mind the budget`: what of the task is spoken of."""
        if token.type != "WORDS":
            return {}
        said = self._read(token).task
        return {key: getattr(NO_TASK, key) for key in _said_of(said) & _said_of(self.task)}

    def _refusable(self, token: Token, out: bool) -> list[Condition]:
        """`drop the hollies` where no holly was asked for: none is wanted. `skip anything with thorns`: whatever says so."""
        if token.type != "WORDS":
            return []
        said = self._read(token)
        named = [found for found in said.conditions if found.trait == "taxon" and found.test == "any_of"]
        named += [Condition("taxon", "any_of", (one.plant,), text=one.text, at=one.at) for one in said.named]
        if named or not out:
            return [self._placed(found._replace(test="none_of", strength="must"), token) for found in named]
        text, span = self.line[token.start : token.end], (token.start + self._offset, token.end + self._offset)
        refused = self._sensed(f"no {text}")
        return [] if refused.unread else [found._replace(text=text, at=span, more=()) for found in refused.conditions]

    def _refuse(self, pointed: Sequence[Token]) -> None:
        """`I don't like the first`, `none of those`: plants of the answer are left out."""
        for token in pointed:
            names = self._pointed_at(token)
            if not names:
                self._miss(token, "not shown")
            text, span = self.line[token.start : token.end], (token.start + self._offset, token.end + self._offset)
            refused = [Condition("taxon", "none_of", (name_,), text=text, at=span, strength="must") for name_ in names]
            self.conditions = joined(self.conditions, refused, "replace")

    # ---- weighed anew, moved, likened

    def _weigh(self, targets: Sequence[Token], soften: bool) -> None:
        strength: Any = "wish" if soften else "must"
        for token in targets:
            ids = {id(found) for found in self._spoken_of(token)}
            if not ids:
                self._weigh_new(token, strength)
            self.conditions = [
                found._replace(strength=strength) if id(found) in ids else found for found in self.conditions
            ]

    def _weigh_new(self, token: Token, strength: Any) -> None:
        """What was not asked before is asked now, as strongly as is said."""
        said = [self._placed(found, token) for found in self._read(token).conditions] if token.type != "NTH" else []
        if not said:
            self._miss(token, "not asked")
        self.conditions = joined(self.conditions, [found._replace(strength=strength) for found in said], "replace")

    def _move(self, parts: Sequence[Token]) -> None:
        move = next(part for part in parts if part.type == "MOVE")
        if self._liked is not None and self._than(move):
            return
        amounts = [str(part.meaning["share"]) for part in parts if part.type == "AMOUNT"]
        amount = next((one for one in amounts if one != "plain"), "plain")
        axis = str(move.meaning["axis"])
        new = moved(self.conditions, axis, int(move.meaning["sign"]), amount, self.units)
        span = (parts[0].start + self._offset, move.end + self._offset)
        text = self.line[parts[0].start : move.end]
        old = set(map(core, self.conditions))
        if old == set(map(core, new)):
            asked = axis != "zone" or any(found.trait == "zone" for found in self.conditions)
            self.missed.append(Missed(text, "no further" if asked else "not asked"))
            return
        self.conditions = [found if core(found) in old else found._replace(text=text, at=span) for found in new]

    def _than(self, move: Token) -> bool:
        """`like the second but shorter`: the move is what sets the wanted plant apart from the one it is like."""
        than = move.meaning.get("than")
        if than is None or self._liked is None:
            return False
        liked = self._liked
        self._liked = None
        apart = liked._replace(than=str(than), text=self._said(liked.at[0], move), at=(liked.at[0], move.end + self._offset)
        )
        self.conditions = [apart if found is liked else found for found in self.conditions]
        return True

    def _said(self, start: int, last: Token) -> str:
        return self.line[start - self._offset : last.end]

    def _like(self, token: Token) -> None:
        """Like a plant of the last answer, or one that is named."""
        names = self._pointed_at(token) or (sorted(self._meant(token)[1]) if token.type == "WORDS" else [])
        name_ = next(iter(names), None)
        if name_ is None:
            self._miss(token, "not asked" if token.type == "WORDS" and _place(token, self.line) is None else "not shown")
            return
        span = (token.start + self._offset, token.end + self._offset)
        text = self.line[token.start : token.end]
        self._liked = Condition("like", "any_of", (name_,), text=text, at=span, strength="must")
        self.conditions = joined(self.conditions, [self._liked], "replace")

    def _pointed_at(self, token: Token) -> list[str]:
        """The plants of the answer that words point at; none where they point at none, or at a number that was not shown."""
        if token.type == "IT":
            return list(self.shown) if "many" in token.meaning else [one for one in (self.it, *self.shown) if one][:1]
        number = _place(token, self.line)
        name_ = self._shown(number) if number is not None else None
        return [name_] if name_ is not None else []

    def _shown(self, number: int) -> str | None:
        at = number - 1 if number > 0 else len(self.shown) + number
        return self.shown[at] if 0 <= at < len(self.shown) else None


def _said_of(task: Task) -> frozenset[str]:
    """The parts of a task that are said."""
    parts = (key for key in task._fields if key != "spans")
    return frozenset(key for key in parts if getattr(task, key) != getattr(NO_TASK, key))


def _place(token: Token, line: str) -> int | None:
    """The number a plant is pointed at by: "the second", "2", "#2"."""
    if token.type == "NTH":
        return int(token.meaning["n"])
    found = words(line[token.start : token.end], {})
    numbers = [word for word in found if word.kind == "num"]
    alone = len(numbers) == 1 and all(word.kind == "num" or word.key in ("#", "number") for word in found)
    return int(numbers[0].value) if alone and token.type == "WORDS" else None
