"""Words → typed tokens that tile the request: plant names whole and first, then the longest phrase, then single words.

A phrase may have several meanings ("under" a height, "under" a tree); the first whose surroundings fit is taken.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from askplant.parsing import Token
from askplant.quantities import months, zones
from askplant.reading.mending import Mender
from askplant.reading.reading import Correction
from askplant.reading.vocabulary import ARTICLES, STOPS, Match, Vocabulary
from askplant.reading.words import Word

MARKS = {
    ",": "COMMA",
    ":": "COMMA",
    ";": "STOP",
    ".": "STOP",
    "?": "STOP",
    "!": "STOP",
    "/": "SLASH",
    "(": "OPEN",
    ")": "CLOSE",
    "-": "DASH",
    "+": "PLUS",
    "×": "BY",
    "*": "BY",
}

# Classes that make sense only in front of a number.
BEFORE_NUMBER = frozenset("SUNFROM SUNTILL SUNAFTER MAX MIN ABOUT BETWEEN KEPT LABELLED COLD NEG PH MONEY TOP HEATZONE WITHIN".split())
# Classes that make sense only behind a quantity.
UNITS = frozenset(["FT", "IN", "METRIC"])
AFTER_QUANTITY = frozenset("MAX_AFTER MIN_AFTER PLUS RUN FROM HOURS YEARS OTHER DEG CELSIUS FAHRENHEIT".split())
QUANTITY = frozenset("NUM NEGNUM LEN FT FTMARK IN METRIC AXIS MAX_AFTER MIN_AFTER PLUS GROWN DEG".split())
# Words that take the colour in front of them; without one they say what the vocabulary says of them.
HEADS = frozenset("FLOWERHEAD FALLHEAD FRUITHEAD".split())
NUMBERS = frozenset(["NUM", "NEGNUM", "LEN"])
# Units a misspelt word behind a number may be.
UNIT_WORDS = ("feet", "foot", "inch", "inches", "meter", "meters", "metre", "metres", "year", "years", "hour", "hours")
# How many words may stand between a bound and its number ("no more than about").
NUMBER_AHEAD = 3
# How many words after a word for blooming its months may stand.
MONTH_AHEAD = 5
# How far behind a thing its size may begin, and the words that may stand between.
SIZE_REACH = 6
SMALL_WORDS = frozenset(", ( is about that which only just exactly maybe roughly are was not much of".split())
# What stands at the edges of an item of a list.
LIST_EDGES = frozenset(", . ; : - / ( ) ! ? +".split())
# How far from plain hours the sun may be named.
SUN_REACH = 6

# Where several meanings fit, the earlier class wins.
ORDER = (
    "SUNFROM SUNTILL SUNAFTER ZONEWORD RHS HEATZONE PH NUM LEN FT IN METRIC MAX MIN BETWEEN KEPT LABELLED COLD NEG MONEY TOP "
    "WITHIN MAX_AFTER MIN_AFTER HOURS YEARS DEG CELSIUS FAHRENHEIT BY RUN THING FROM OTHER AXIS GROWN "
    "ABOUT PLACE BLOOMHEAD FLOWERHEAD FALLHEAD FRUITHEAD PHRASE SIZE COLOR LEAFHEAD MONTH PART SPACE "
    "PLANT THAN LIKE_AFTER WANT_AFTER TASK CORRECTION NEUTRAL NEUTRAL_AFTER NOT NOT_AFTER WISH_AFTER WISH MUST_AFTER DIED DIED_BEFORE "
    "REPLACE REPLACE_AFTER LIKE CONSIDER_AFTER CONSIDER SEEN OWN WANT MUST OR AND BUT TO ANIMAL SITE "
    "FILLER PLUS NOTZONE "
).split()
RANK = {name: number for number, name in enumerate(ORDER)}

# Two-letter codes that are English words: only in capitals are they places.
ENGLISH_CODES = frozenset("in or me ok hi oh de la pa ma mi id al ar co".split())
# Codes that in capitals still mean something else: all right, northeast.
SHOUTED_WORDS = frozenset("ok ne in or me hi oh".split())


@dataclass(slots=True)
class Tokens:
    """The tokens of a request in order, what was mended, and the unknown words that had several near words."""

    tokens: list[Token] = field(default_factory=list)
    corrections: list[Correction] = field(default_factory=list)
    suggestions: dict[tuple[int, int], str] = field(default_factory=dict)


def tokenise(words: Sequence[Word], vocabulary: Vocabulary, mender: Callable[[], Mender]) -> Tokens:
    """The tokens of a request's words."""
    return _Tokeniser(list(words), vocabulary, mender).run()


@dataclass(slots=True)
class _Tokeniser:
    words: list[Word]
    vocabulary: Vocabulary
    mender: Callable[[], Mender]
    out: Tokens = field(default_factory=Tokens)
    mended: dict[int, Word] = field(default_factory=dict)

    def run(self) -> Tokens:
        self._mend()
        at = 0
        while at < len(self.words):
            at = self._take(at)
        return self.out

    # ---- mending

    def _mend(self) -> None:
        for number, word in enumerate(self.words):
            if word.kind != "word" or len(word.key) < 3 or not self.vocabulary.is_strange(word.key):
                continue
            beside = self._mended_beside(number)
            if beside is not None:
                self._mend_as(number, beside)
            elif not self.vocabulary.knows(word.key):
                near = self.mender().candidates(word.key)
                if len(near) == 1:
                    self._mend_as(number, near[0])
                elif near:
                    self.out.suggestions[(word.start, word.end)] = near[0]

    def _mend_as(self, number: int, key: str) -> None:
        self.mended[number] = self.words[number]
        self.words[number] = replace(self.words[number], key=key)

    def _mended_beside(self, number: int) -> str | None:
        """What a strange word must be by the words beside it: "par shade" is part shade, "5 fee" five feet."""
        word = self.words[number].key
        before = self.words[number - 1] if number else None
        after = self.words[number + 1] if number + 1 < len(self.words) else None
        expected: list[str] = []
        if before is not None and before.kind == "num":
            expected += UNIT_WORDS
        if after is not None and after.kind == "word":
            expected += self.vocabulary.before(after.key)
        if before is not None and before.kind == "word":
            expected += self.vocabulary.after(before.key)
        return self.mender().beside(word, expected) if expected else None

    def _unmend(self, number: int) -> None:
        """A mended word that made no sense in its place is left as it was typed."""
        if number in self.mended:
            word = self.mended.pop(number)
            self.out.suggestions[(word.start, word.end)] = self.words[number].key
            self.words[number] = word

    def _record_mends(self, start: int, end: int) -> None:
        for number in range(start, end):
            if number in self.mended:
                word = self.mended[number]
                self.out.corrections.append(Correction(word.text, self.words[number].key, (word.start, word.end)))

    # ---- one token

    def _take(self, at: int) -> int:
        word = self.words[at]
        if word.kind == "num":
            return self._number(at)
        if word.kind != "word" and not self.vocabulary.phrases_at(self.words, at):
            return self._mark(at)
        for end, kind, meaning in self._readings(at):
            self._record_mends(at, end)
            return self._emit(kind, at, end, meaning)
        if at in self.mended:
            self._unmend(at)
            return self._take(at)
        if word.kind != "word":
            return self._mark(at)
        return self._emit("WORD", at, at + 1, {})

    def _emit(self, kind: str, start: int, end: int, meaning: dict[str, Any]) -> int:
        if kind == "NUM" and self._completes_number(start, meaning):
            return end
        first, last = self.words[start], self.words[end - 1]
        text = " ".join(word.key for word in self.words[start:end])
        self.out.tokens.append(Token(kind, text, first.start, last.end, meaning))
        return end

    def _completes_number(self, start: int, meaning: dict[str, Any]) -> bool:
        """Whether a number word goes on with the one before: forty five, a hundred and twenty."""
        tokens = self.out.tokens
        if self.words[start].kind == "num" or not tokens:
            return False
        back = 2 if tokens[-1].type == "AND" and len(tokens) > 1 else 1
        before, n = tokens[-back], meaning["n"]
        whole = before.type == "NUM" and "#" not in str(before) and before.meaning["n"]
        fits = whole and ((whole % 100 == 0 and n < 100) or (back == 1 and 20 <= whole < 100 and whole % 10 == 0 and n < 10))
        if fits:
            del tokens[-back:]
            tokens.append(Token("NUM", f"{before} {n}", before.start, self.words[start].end, {"n": whole + n}))
        return bool(fits)

    def _number(self, at: int) -> int:
        word, after = self.words[at], self.words[at + 1] if at + 1 < len(self.words) else None
        if (
            after
            and after.joint
            and after.key in ("a", "b")
            and word.text.isdigit()
            and 1 <= word.value <= 13
            and not self._glued(at + 2)
        ):
            return self._emit("HALFZONE", at, at + 2, {"zone": f"{word.text}{after.key}"})
        if after and after.joint and after.key == "+":
            return self._emit("NUM", at, at + 2, {"n": word.value, "plus": True})
        return self._emit("NUM", at, at + 1, {"n": word.value})

    def _glued(self, at: int) -> bool:
        return at < len(self.words) and self.words[at].joint and self.words[at].kind in ("word", "num")

    def _mark(self, at: int) -> int:
        word, key = self.words[at], self.words[at].key
        after = self.words[at + 1] if at + 1 < len(self.words) else None
        if key in ("'", '"'):
            return (
                self._emit("FTMARK" if key == "'" else "IN", at, at + 1, {})
                if self._previous() in NUMBERS
                else self._emit("PUNCT", at, at + 1, {})
            )
        if key == "-" and after and after.kind == "num" and after.joint and not self._number_before(at):
            self._emit("NEGNUM", at, at + 2, {"n": -after.value})
            return at + 2
        if key == "." and after and after.joint and after.kind == "word":
            return self._emit("PUNCT", at, at + 1, {})
        if key == "." and self._previous() in UNITS and after and not after.capital:
            return self._emit("PUNCT", at, at + 1, {})
        if key == "-" and not word.joint and self._previous() not in QUANTITY | {"MONTH", "HALFZONE"}:
            return self._emit("COMMA", at, at + 1, {})
        return self._emit(MARKS.get(key, "PUNCT"), at, at + 1, {"mark": key})

    def _previous(self) -> str:
        return self.out.tokens[-1].type if self.out.tokens else ""

    def _previous_word(self) -> str:
        """The class of the token before, fillers left out."""
        return next((token.type for token in reversed(self.out.tokens[-4:]) if token.type != "FILLER"), "")

    def _number_before(self, at: int) -> bool:
        """Whether a dash stands between two numbers or behind a unit, as in 10-15."""
        return self.words[at].joint and self._previous() in QUANTITY | {"HALFZONE"}

    # ---- what a stretch of words may mean

    def _readings(self, at: int) -> Iterator[tuple[int, str, dict[str, Any]]]:
        """Meanings that fit at a word, best first: (end, class, meaning)."""
        zone = self._zone_shorthand(at)
        if zone:
            yield zone
        names = [match for match in self.vocabulary.names_at(self.words, at) if self._is_name(match)]
        phrases = self.vocabulary.phrases_at(self.words, at)
        lengths = sorted({match.length for match in (*names, *phrases)}, reverse=True)
        for length in lengths:
            fitting = [
                (entry, match)
                for match in phrases
                if match.length == length
                for entry in match.entries
                if self._fits(entry["class"], match, entry)
            ]
            for match in names:
                # "clumping bamboo" and "fern" are kinds of plant before they are common names of one.
                if match.length == length and not any(entry["class"] == "PHRASE" for entry, _ in fitting):
                    yield match.end, "PLANT", {"name": match.entries[0]}
            for entry, match in sorted(fitting, key=self._rank):
                yield match.end, entry["class"], self._meaning(entry, match)

    def _rank(self, pair: tuple[Any, Match]) -> int:
        """The order of meanings; a thing's own size comes first only behind a quantity ("4 ft fence")."""
        kind = pair[0]["class"]
        if kind == "THING" and self._previous() not in QUANTITY:
            return RANK["SITE"]
        return RANK.get(kind, len(RANK))

    def _meaning(self, entry: Any, match: Match) -> dict[str, Any]:
        meaning = dict(entry)
        if entry["class"] == "NUM":
            return {"n": entry["n"]}
        if entry["class"] == "MONTH":
            season = entry.get("season")
            numbers = months.SEASONS[season] if season else (int(entry["months"]),)
            return {"months": numbers, "season": season}
        if entry["class"] == "PLANT":
            shown = " ".join(word.key for word in self.words[match.start : match.end])
            return {"name": None, "shown": shown}
        return meaning

    def _zone_shorthand(self, at: int) -> tuple[int, str, dict[str, Any]] | None:
        """`z4`, `H4`: a letter joined to a number."""
        word, after = self.words[at], self.words[at + 1] if at + 1 < len(self.words) else None
        if not after or after.kind != "num" or not after.joint or not after.text.isdigit():
            return None
        if word.key == "z":
            return at + 1, "ZONEWORD", {}
        if word.key == "h" and f"h{after.text}" in zones.RHS:
            return at + 2, "RHS", {"rhs": f"h{after.text}"}
        return None

    def _is_name(self, match: Match) -> bool:
        """Whether a name counts here: an epithet alone only when quoted, capitalised inside a sentence, or several words."""
        name = match.entries[0]
        if match.length == 1 and self._is_vocabulary(match.start):
            # "hedge", "hardy" or "pink" may be a common name; as a word of the vocabulary it is no plant.
            return False
        if name.kind != "epithet":
            return True
        if match.length > 1:
            return not all(
                self.vocabulary.source.is_ordinary(word.key) and not word.capital
                for word in self.words[match.start : match.end]
            )
        word = self.words[match.start]
        return word.quoted or (
            word.capital
            and match.start > 0
            and self.words[match.start - 1].key not in (".", "?", "!", ":")
            and not self.vocabulary.phrases_at(self.words, match.start)
        )

    def _is_vocabulary(self, at: int) -> bool:
        found = (match for match in self.vocabulary.phrases_at(self.words, at) if match.length == 1)
        return any(entry["class"] != "PLANT" for match in found for entry in match.entries)

    def _fits(self, kind: str, match: Match, entry: Any) -> bool:
        if kind in BEFORE_NUMBER:
            return self._number_ahead(match.end)
        if kind in UNITS:
            return self._previous() in NUMBERS and (
                kind != "IN" or match.length > 1 or self.words[match.start].key != "in" or self._is_inch(match)
            )
        if kind == "AXIS":
            return (
                self._previous() in QUANTITY
                or self._previous() in ("SLASH", "AND", "OR")
                or self._number_ahead(match.end)
            )
        if kind == "HOURS" and entry.get("need"):
            return self._previous() in QUANTITY and self._of_sun(match)
        if kind in AFTER_QUANTITY:
            return self._previous() in QUANTITY | {"THING", "RUN"}
        if kind == "NUM":
            return match.length > 1 or self.words[match.start].key != "one" or self._unit_follows(match.end)
        if kind == "PHRASE" and entry.get("alone"):
            return self._stands_alone(match)
        if kind == "SPACE":
            return self._previous() in QUANTITY or self._sized(match.end) or self._previous() == "FROM"
        if kind == "WISH_AFTER" and any(other["class"] == "WISH" for other in match.entries):
            # "preferably" leads what follows; only at the end of its clause does it speak of what stood before.
            return (
                match.end >= len(self.words)
                or self.words[match.end].key in STOPS
                or self.words[match.end].key in ("but", "and")
            )
        if kind == "THING":
            return self._previous() in QUANTITY or self._sized(match.end)
        if kind == "PLACE":
            return self._is_place(match, entry)
        if kind == "MONTH":
            return self._is_month(match)
        if kind == "BY":
            return self._previous() in QUANTITY and self._number_ahead(match.end)
        if kind == "GROWN":
            return self._previous() in QUANTITY or self._number_ahead(match.end)
        if kind in HEADS:
            return self._previous_word() == "COLOR"
        if kind == "BLOOMHEAD":
            return self._month_near(match)
        if kind == "ZONEWORD":
            return self._number_ahead(match.end)
        return True

    def _sized(self, at: int) -> bool:
        """Whether the size of what was just named follows: "fence, 200 ft long", "the arbor is 19 in wide"."""
        for number in range(at, min(at + SIZE_REACH, len(self.words))):
            word = self.words[number]
            if word.kind == "num" or self._is_number_word(number):
                return True
            if word.key not in SMALL_WORDS:
                return False
        return False

    def _stands_alone(self, match: Match) -> bool:
        """Whether a phrase is an item of a list or stands behind "for": "Clay. Sun." or "a fern for sun"."""
        before = self.words[match.start - 1].key if match.start else ","
        after = self.words[match.end].key if match.end < len(self.words) else ","
        return before in LIST_EDGES | {"for", "in", "and", "likes"} and after in LIST_EDGES | {"and", "but"}

    def _of_sun(self, match: Match) -> bool:
        """Whether sun or light is spoken of beside plain hours: "Sunlight: 6+ hours"."""
        around = self.words[max(match.start - SUN_REACH, 0) : match.end + SUN_REACH]
        return any(word.key in ("sun", "sunlight", "sunshine", "light", "shade") for word in around)

    def _month_near(self, match: Match) -> bool:
        """Whether months stand beside a word for blooming: just before it, or within the next few words of the sentence."""
        if any(token.type == "MONTH" for token in self.out.tokens[-2:]):
            return True
        for at in range(match.end, min(match.end + MONTH_AHEAD, len(self.words))):
            if self.words[at].key in STOPS - {","}:
                return False
            if any(
                entry["class"] == "MONTH" and self._is_month(found)
                for found in self.vocabulary.phrases_at(self.words, at)
                for entry in found.entries
            ):
                return True
        return False

    def _number_ahead(self, at: int) -> bool:
        for _ in range(NUMBER_AHEAD + 1):
            if at >= len(self.words):
                return False
            word = self.words[at]
            if word.kind == "num" or (word.kind == "word" and self._is_number_word(at)):
                return True
            length = self._bound_length(at) if word.kind == "word" else int(word.key in ("$", "-", "~", ":", "'"))
            if not length:
                return False
            at += length
        return False

    def _is_number_word(self, at: int) -> bool:
        return any(
            entry["class"] in ("NUM", "LEN")
            for match in self.vocabulary.phrases_at(self.words, at)
            for entry in match.entries
        )

    def _bound_length(self, at: int) -> int:
        """How many words a bound, an axis or a small word takes here; 0 for any other word."""
        kinds = {"ABOUT", "MAX", "MIN", "AXIS", "NEG", "ZONEWORD", "GROWN", "KEPT"}
        for match in self.vocabulary.phrases_at(self.words, at):
            if any(entry["class"] in kinds for entry in match.entries):
                return match.end - match.start
        small = "of is be at to for usda rhs degree temp temperature z h".split()
        return int(self.words[at].key in ARTICLES or self.words[at].key in small)

    def _is_inch(self, match: Match) -> bool:
        """`10 in` is ten inches unless a number of years or a place follows ("8 in 4 years", "3 in the front")."""
        if match.end >= len(self.words):
            return True
        after = self.words[match.end]
        return after.kind != "num" and (
            after.kind != "word"
            or any(
                entry["class"] in ("AXIS", "MAX_AFTER", "MIN_AFTER", "BY")
                for found in self.vocabulary.phrases_at(self.words, match.end)
                for entry in found.entries
            )
        )

    def _unit_follows(self, at: int) -> bool:
        if at >= len(self.words):
            return False
        return any(
            entry["class"] in UNITS | {"HOURS", "YEARS", "TO", "OR"}
            for match in self.vocabulary.phrases_at(self.words, at)
            for entry in match.entries
        )

    def _is_place(self, match: Match, entry: Any) -> bool:
        word = self.words[match.start]
        if "abbreviation" in entry:
            before = self.words[match.start - 1].key if match.start else ""
            shouted = word.text.isupper() and not self._all_capitals() and word.key not in SHOUTED_WORDS
            return (
                shouted
                or self._previous() == "PLACE"
                or (before == "," and (word.key not in ENGLISH_CODES or self._after_town(match.start)))
            )
        return True

    def _all_capitals(self) -> bool:
        letters = [word for word in self.words if word.kind == "word" and len(word.text) > 2]
        return bool(letters) and all(word.text.isupper() for word in letters)

    def _after_town(self, at: int) -> bool:
        """`cincinnati, oh.`: a town that is a place, or an unknown capitalised word, then a comma, then the code and a stop."""
        tokens = self.out.tokens
        if len(tokens) < 2 or tokens[-1].type != "COMMA":
            return False
        ends = at + 1 >= len(self.words) or self.words[at + 1].key in (".", ",", ";", ":", "-", ")")
        return ends and (tokens[-2].type == "PLACE" or self.words[at].capital or self.words[at - 2].capital)

    def _is_month(self, match: Match) -> bool:
        """`may` and `march` are months only beside another month, behind a preposition or with a capital inside a sentence."""
        word = self.words[match.start]
        if word.key not in ("may", "march"):
            return True
        before = self.words[match.start - 1].key if match.start else ""
        return before in (
            "in",
            "from",
            "to",
            "-",
            "until",
            "through",
            "late",
            "early",
            "mid",
            "and",
            "or",
            ",",
            "/",
        ) and (
            word.capital
            or self._previous() in ("DASH", "TO", "PART")
            or before in ("in", "from", "late", "early", "mid")
        )
