"""The words of a line at the desk → tokens of grammar/refine.lark: what speaks of the request before, and what is left.

A word counts only in its place: what opens a step at the start of the line or behind a comma, "and" or "but"; what closes one
at its end; "narrower" where it stands by itself, for "narrower than 4 ft" is a request. All else is WORDS, read as a request.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from askplant.base.phrases import REFINING
from askplant.parsing import Token, Tree
from askplant.reading.vocabulary import STOPS, Match, Vocabulary
from askplant.reading.words import Word, words

OPENING = frozenset("NEW DROP REFUSE PUT ADD WIDEN WHATIF LIKE WHY TELL SIZE WHEN ANY AMOUNT COUNT CHECK WHICH".split())
CLOSING = frozenset("DROP_AFTER SOFTEN_AFTER HARDEN_AFTER INSTEAD ALSO_AFTER WIDEN_AFTER".split())
WHOLE = frozenset(("MORE", "UNDO"))  # only as the whole line
# These may stand in any request: of the request before they speak only at the start of a line.
WEAK = frozenset("CHECK WHICH ADD WIDEN ALSO_AFTER WIDEN_AFTER PUT LIKE AMOUNT JOIN".split())
# Behind these a plant may be pointed at, a trait be named.
POINTING = frozenset("WHY TELL SIZE WHEN LIKE DROP CHECK".split())
NAMING = frozenset(("DROP", "ANY"))
LEADING = frozenset(("PUT", "JOIN", "ADD"))  # before a question: "ok, and how often …"
# Before these a word that only leads needs no comma: "ok whats wrong with it", "no scratch that".
LED = frozenset(("WHY", "TELL", "SIZE", "WHEN", "ASKING", "CHECK", "WHICH"))
LED_ON = LED | {"DROP", "PUT", "ADD", "WIDEN", "WHATIF", "LIKE"}  # … and before these one that says nothing, or takes back
PARTING = frozenset(("and", "but", "then", "so", "just"))
POLITE = frozenset("please thank thanks you then again a the an it be too".split())
EMPTY = frozenset("please thanks the a an it is be that of to in um uh er well so for me now".split())
COUNTED = frozenset("of them plant plants choice option one those best".split())
NUMBERED = frozenset(("number", "#", "no", "nr", "plant"))  # before the number of a plant
ROW = frozenset(("and", "or", "nor", ","))  # between plants that are pointed at
AFTER_NUMBER = frozenset("at to under below in on for be get need like take go stand grow ? . ,".split())
AUXILIARY = frozenset("can could does do will would should must is".split())  # in a question between other words
BEFORE_PLANT = AUXILIARY | {"on", "of", "about"}
# Verbs behind a plant in a question about its size: "how tall will inkberry get".
TAIL = frozenset("be get grow become reach stay end up at after in about".split())


class Pointed(NamedTuple):
    """A plant that is pointed at: the class and the words of a token to be."""

    kind: str
    start: int
    end: int
    meaning: dict[str, Any]


class Line:
    """One line as words, with what the refining vocabulary knows of them."""

    def __init__(self, text: str, vocabulary: Vocabulary, asking: bool = True) -> None:
        self.text, self.vocabulary, self.asking = text, vocabulary, asking
        self.words = words(text, vocabulary.spelling)
        self.refining = False  # whether some word of the line surely speaks of the request before
        self._out: list[Token] = []

    def tokens(self) -> list[Token]:
        """The tokens, without those that only lead and the joints at the edges."""
        at = 0
        while at < len(self.words):
            at = self._question(at) or self._refusal(at) or self._opened_by_plant(at) or self._take(at)
        return _parted(self._out)

    def _question(self, at: int) -> int | None:
        """The whole rest of a line that begins as a question about one side of a plant and holds one; else nothing."""
        if not self.asking or any(token.type not in LEADING for token in self._out):
            return None
        if any(self.phrase(kind, at) for kind in ("WHATIF", "WHICH", "LIKE")):
            return None
        head = self.phrase("ASKING", at)
        if head is None or not ("of" in head[1] or any(self.phrase("SIDE", n) for n in range(at, len(self.words)))):
            return None
        self._emit("ASKING", at, head[0].end, head[1])
        at = head[0].end
        while at < len(self.words):
            at = self._asked(at)
        return at

    def _asked(self, at: int) -> int:
        """What stands in such a question: sides, plants that are pointed at, and words."""
        for kind in ("SIDE", "APART"):
            found = self.phrase(kind, at)
            if found is not None and (kind == "SIDE" or self._out[-1].type == "WORDS"):
                return self._emit(kind, at, found[0].end, found[1])
        plant = self.pointed(at)
        if plant is not None and (not plant.meaning.get("bare") or self._may_be_plant(plant)):
            return self._emit(*plant)
        return at + 1 if self.words[at].key in STOPS | AUXILIARY | {"at"} else self._asked_words(at)

    def _asked_words(self, at: int) -> int:
        """A word of a question, put to the one right before it."""
        start, last = self.words[at].start, self._out[-1]
        if last.type == "WORDS" and last.end == self.words[at - 1].end:
            start = self._out.pop().start
        self._out.append(Token("WORDS", "", start, self.words[at].end))
        return at + 1

    def _refusal(self, at: int) -> int | None:
        """The end of a step that leaves plants out which are pointed at: "I don't like the first", "not 1 or 3"."""
        head = self.phrase("REFUSE", at) if self._opens(at) else None
        row = self.row(head[0].end) if head is not None else []
        if head is None or not row or not self._closes(row[-1].end):
            return None
        if "nth" in head[1] and any("bare" in plant.meaning for plant in row):
            return None
        self._emit("REFUSE", at, head[0].end, head[1])
        for plant in row:
            self._emit(*plant)
        return row[-1].end

    def _opened_by_plant(self, at: int) -> int | None:
        """The end of what begins with plants that are pointed at: "2 and 3 won't do", "the second but narrower", and of "the
        second is" before "too wide"."""
        row = self.row(at) if self._opens(at) else []
        end = row[-1].end if row else len(self.words)
        if end >= len(self.words):
            return None
        tail, verb, but = (self.phrase(kind, end) for kind in ("REFUSE_AFTER", "IS", "JUST"))
        if tail is not None and self._closes(tail[0].end):
            for plant in row:
                self._emit(*plant)
            return self._emit("REFUSE_AFTER", end, tail[0].end, tail[1])
        if verb is not None and (self._moves(verb[0].end) or self.phrase("TOO", verb[0].end)):
            return verb[0].end
        if but is not None and self._moves(but[0].end) and len(row) == 1:
            self._emit("LIKE", at, at, {})
            return self._emit(*row[0])
        return None

    def _may_be_plant(self, number: Pointed) -> bool:
        """Whether a bare number in a question is a plant's: "can I keep 2 at 5 ft", "how near the house can 2 stand"."""
        ends = number.end == len(self.words) or self.words[number.end].key in AFTER_NUMBER
        return ends and (self._out[-1].type in ("ASKING", "SIDE") or self.words[number.start - 1].key in BEFORE_PLANT)

    def row(self, at: int) -> list[Pointed]:
        """Plants that are pointed at one after the other: "the first and the third", "1, 3"."""
        row: list[Pointed] = []
        while at < len(self.words):
            few = self.phrase("FEW", at)
            if few is not None:
                row += [Pointed("NTH", at, few[0].end, {"n": n}) for n in range(1, int(few[1]["n"]) + 1)]
                return row
            plant = self.pointed(at)
            if plant is None or (plant.kind == "IT" and not {"one", "many"} & set(plant.meaning)):
                break
            row.append(plant)
            at = plant.end + (plant.end < len(self.words) and self.words[plant.end].key in ROW)
        return row

    def pointed_to(self, at: int) -> int | None:
        """The end of plants that are pointed at from a word on, each by its place or as "it"."""
        row = self.row(at)
        clear = row and not any(plant.meaning.get("bare") or "many" in plant.meaning for plant in row)
        return row[-1].end if clear else None

    def pointed(self, at: int) -> Pointed | None:
        """The plant that is pointed at from a word on: "the second", "it", "number 2", and a number of which it is not said what
        it counts."""
        for kind in ("NTH", "IT"):
            found = self.phrase(kind, at)
            if found is not None:
                return Pointed(kind, at, found[0].end, found[1])
        named = self.words[at].kind != "num" and self.words[at].key in NUMBERED  # a number has the key of the sign
        number = self.words[at + named] if at + named < len(self.words) else None
        if number is None or number.kind != "num" or not float(number.value).is_integer():
            return None
        return Pointed("NTH", at, at + named + 1, {"n": number.value, "bare": not named})

    def tagged(self) -> int:
        """Where the words begin that ask whether what stands before them is so: "isn't it", "right"; the end where none do."""
        for at in range(1, len(self.words)):
            found = self.phrase("TAG", at)
            if found is not None and not found[0].gaps and self.ends(found[0].end):
                return at
        return len(self.words)

    def phrase(self, kind: str, at: int, mark: str = "class") -> tuple[Match, Any] | None:
        """The longest phrase of a class that begins at a word, with its meaning; of those marked so, where a mark is named."""
        found = (
            (match, entry)
            for match in (self.vocabulary.phrases_under(REFINING, self.words, at) if at < len(self.words) else ())
            for entry in match.entries
            if entry["class"] == kind and mark in entry
        )
        return next(found, None)

    def _take(self, at: int) -> int:
        lead = self._leads(at)
        if lead is not None:
            return self._emit("JOIN", at, lead, {})
        for match in self.vocabulary.phrases_under(REFINING, self.words, at):
            for entry in match.entries:
                if self._fits(entry["class"], match):
                    if entry["class"] == "COUNT":
                        return self._emit("COUNT", at, len(self.words), {"n": self.words[match.end].value})
                    return self._emit(entry["class"], match.start, match.end, entry)
        if self.words[at].key in STOPS:
            return self._emit("JOIN", at, at + 1, {"mark": self.words[at].key})
        if self.words[at].key in ("and", "but", "just") and self._parts(at):
            return self._emit("JOIN", at, at + 1, {})
        return self._words(at)

    def _leads(self, at: int) -> int | None:
        """The end of a word that only leads, at the start of a line that is a question or takes back."""
        found = None if self._out and self._out[-1].type != "JOIN" else self.phrase("PUT", at, "comma")
        if found is None or found[0].end >= len(self.words):
            return None
        end = found[0].end
        end += self.words[end].key == "and" and end + 1 < len(self.words)  # "ok and when to plant"
        back = self.phrase("UNDO", end)
        kinds = LED_ON if {"idle", "back"} & set(found[1]) else LED
        asks = self._classes(end) & kinds or self._leads(end) is not None or ("idle" in found[1] and self._moves(end))
        return end if asks or (back is not None and self.ends(back[0].end)) else None

    def _words(self, at: int) -> int:
        word = self.words[at]
        begun = self._begun()
        start = self._out[-begun].start if begun else word.start
        del self._out[len(self._out) - begun :]
        self._out.append(Token("WORDS", "", start, word.end))
        return at + 1

    def _begun(self) -> int:
        """How many tokens at the end a word goes on with: a stretch of words, and a mark between it and this one.

        What is taken back ends at a mark: "never mind the hollies, 8 ft".
        """
        kinds = [token.type for token in self._out[-3:]]
        if kinds[-1:] == ["WORDS"]:
            return 1
        return 2 if kinds[-2:] == ["WORDS", "JOIN"] and kinds[:-2] != ["DROP"] and self._out[-1].meaning else 0

    def _emit(self, kind: str, start: int, end: int, meaning: dict[str, Any]) -> int:
        if kind == "TRAIT" and self._out[-1:] and self._out[-1].type == "JOIN" and self._dropping():
            self._out.pop()
        begins = kind != "JOIN" and all(token.type == "JOIN" for token in self._out)
        self.refining = self.refining or kind not in WEAK or begins
        text = " ".join(word.key for word in self.words[start:end])
        last = self.words[end - 1].end if end > start else self.words[start].start  # of no words: what is only understood
        self._out.append(Token(kind, text, self.words[start].start, last, meaning))
        return end

    def _fits(self, kind: str, match: Match) -> bool:
        before = self._out[-1].type if self._out else None
        if kind in WHOLE:
            return all(token.type in ("PUT", "JOIN") for token in self._out) and self.ends(match.end)
        if kind == "COUNT":
            return before in (None, "PUT") and self._counts(match.end)
        if kind == "NEW":
            return before is None and self._announces(match.end)
        if kind in ("IT", "NTH"):
            return before in POINTING and (kind == "NTH" or before == "CHECK" or self._no_verb(match.end))
        if kind in ("CHECK", "WHICH"):
            return all(token.type == "JOIN" for token in self._out) and match.end < len(self.words)
        if kind == "TRAIT":
            return self._names_trait(match, before)
        if kind == "MOVE":
            return self._opens(match.start) and self._closes(match.end)
        if kind == "AMOUNT":
            return self._opens(match.start) and self._moves(match.end)
        if kind == "ANY":
            return self._opens(match.start) and self._trait_at(match.end)
        if kind == "PUT" and match.end < len(self.words) and "comma" in self._meaning(match):
            return self._opens(match.start) and self.words[match.end].key in (",", ":")
        if kind == "REFUSE":
            return False  # only with the plants, see `_refusal`
        if kind == "INSTEADOF":
            return before == "WORDS" and match.end < len(self.words)
        if kind in ("ADD", "WIDEN") and self._classes(match.end) & (OPENING | {"MOVE", "AMOUNT"}):
            return False  # "and never mind …" only joins
        if kind == "WHATIF" and (self._moves(match.end) or self.phrase("LIKE", match.end)):
            return False
        if kind in OPENING:
            return self._opens(match.start) and (kind in ("SIZE", "TELL") or match.end < len(self.words))
        return kind in CLOSING and before in ("WORDS", "TRAIT", "NTH", "MOVE") and self._closes(match.end)

    @staticmethod
    def _meaning(match: Match) -> Any:
        return next(entry for entry in match.entries if entry["class"] == "PUT")

    def _announces(self, end: int) -> bool:
        """`new: …`, `new caller, …`, or nothing behind it; "new plants for …" is a request."""
        return end >= len(self.words) or self.words[end].key in (":", ",", ".", "-", ";")

    def _opens(self, start: int) -> bool:
        """Whether a step may begin here."""
        if not self._out or self._out[-1].type in ("JOIN", "PUT", "AMOUNT", "NEW", "COUNT"):
            return True
        return self.words[start - 1].key in PARTING

    def _closes(self, end: int) -> bool:
        """Whether a step may end here."""
        return end >= len(self.words) or self.words[end].key in STOPS | PARTING | POLITE - {"the", "a", "it"}

    def ends(self, start: int) -> bool:
        """Whether nothing follows but politeness and marks."""
        return all(word.key in STOPS | POLITE for word in self.words[start:])

    def _counts(self, at: int) -> bool:
        """Whether a whole number and at most "of them", "plants" follow: "show me 3"."""
        number = self.words[at] if at < len(self.words) else None
        if number is None or number.kind != "num" or number.value not in range(1, 101):
            return False
        return all(word.key in COUNTED | STOPS | POLITE for word in self.words[at + 1 :])

    def _parts(self, at: int) -> bool:
        """Whether "and" or "but" parts two steps: something that opens one follows, or something of one stands before."""
        if at + 1 >= len(self.words):
            return True
        opens = bool(self._classes(at + 1) & (OPENING | {"MOVE", "AMOUNT"}))
        if self._dropping():  # "never mind the deer and the hollies": both
            return opens or "TRAIT" in self._classes(at + 1)
        return opens or not self._out or self._out[-1].type != "WORDS"

    def _classes(self, at: int) -> set[str]:
        found = self.vocabulary.phrases_under(REFINING, self.words, at) if at < len(self.words) else []
        return {entry["class"] for match in found for entry in match.entries}

    def _moves(self, at: int) -> bool:
        """Whether more or less of something is asked for from a word on: "a bit narrower", not "narrower than 4 ft"."""
        found = self.vocabulary.phrases_under(REFINING, self.words, at) if at < len(self.words) else []
        kinds = [(match.end, entry["class"]) for match in found for entry in match.entries]
        return any(self._closes(end) if kind == "MOVE" else kind == "AMOUNT" and self._moves(end) for end, kind in kinds)

    def _trait_at(self, at: int) -> bool:
        found = self.vocabulary.phrases_under(REFINING, self.words, at) if at < len(self.words) else []
        return any(entry["class"] == "TRAIT" and self._closes(match.end) for match in found for entry in match.entries)

    def _names_trait(self, match: Match, before: str | None) -> bool:
        """Behind "never mind", or before "does not matter"."""
        if before in NAMING or (before == "JOIN" and self._dropping()):
            return self._closes(match.end)
        after = self._classes(match.end)
        return self._opens(match.start) and bool(after & {"DROP_AFTER", "SOFTEN_AFTER", "HARDEN_AFTER"})

    def _dropping(self) -> bool:
        """Whether the last step is a taking back: "never mind the deer and the rabbits"."""
        for token in reversed(self._out[: len(self._out) - (self._out[-1:] != [] and self._out[-1].type == "JOIN")]):
            if token.type not in ("TRAIT", "WORDS", "NTH"):
                return token.type == "DROP"
        return False

    def _no_verb(self, end: int) -> bool:
        """Whether what stands behind `it` may do so: the end, or a verb of growing."""
        return end >= len(self.words) or self.words[end].key in STOPS | PARTING | TAIL | {"stay", "like", "take", "is"}


def _parted(tokens: Sequence[Token]) -> list[Token]:
    """Without words that only lead; joints only between steps."""
    out: list[Token] = []
    for token in tokens:
        if token.type == "PUT" or (token.type == "JOIN" and not out):
            continue
        if token.type == "JOIN" and out[-1].type in ("JOIN", "ADD", "WIDEN", "WHATIF"):
            continue
        out.append(token)
    while out and out[-1].type == "JOIN":
        out.pop()
    return out


def side_in(text: str, vocabulary: Vocabulary) -> Any | None:
    """The first side of a plant that some words speak of, as the vocabulary has it."""
    line = Line(text, vocabulary)
    found = (line.phrase("SIDE", at) for at in range(len(line.words)))
    return next((one[1] for one in found if one is not None), None)


def is_empty(found: Sequence[Word]) -> bool:
    """Whether a stretch holds only words that say nothing by themselves."""
    return all(word.key in EMPTY | STOPS for word in found)


def tokens_in(tree: Tree) -> list[Token]:
    """The tokens that stand in a tree itself."""
    return [child for child in tree.children if isinstance(child, Token)]


def trees_in(tree: Tree) -> list[Tree]:
    """The trees that stand in a tree itself."""
    return [child for child in tree.children if isinstance(child, Tree)]


def leaf(tree: Tree) -> Token:
    """The first token of a tree, however deep."""
    first = tree.children[0]
    return leaf(first) if isinstance(first, Tree) else first
