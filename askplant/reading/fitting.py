"""Whether a meaning fits the words around it: bounds before numbers, units behind them, months beside blooming."""

from __future__ import annotations

import itertools
from typing import Any, NamedTuple

from askplant.parsing import Token
from askplant.reading import towns
from askplant.reading.reading import Correction
from askplant.reading.spelling import Spelling
from askplant.reading.vocabulary import ARTICLES, STOPS, Match, Vocabulary
from askplant.reading.words import Word

# Classes that make sense only in front of a number.
BEFORE_NUMBER = frozenset(
    (
        "ZONEWORD SUNFROM SUNTILL SUNAFTER MAX MIN ABOUT BETWEEN KEPT LABELLED COLD NEG PH MONEY TOP HEATZONE WITHIN "
    ).split()
)
# Classes that make sense only behind a quantity.
UNITS = frozenset(["FT", "IN", "METRIC"])
AFTER_QUANTITY = frozenset(
    "MAX_AFTER MIN_AFTER PLUS RUN FROM HOURS YEARS OTHER SPOT_AFTER DEG CELSIUS FAHRENHEIT".split()
)
QUANTITY = frozenset("NUM NEGNUM LEN FT FTMARK IN METRIC AXIS MAX_AFTER MIN_AFTER PLUS GROWN DEG".split())
# How many tokens before a word for its end the plant stands, and before words that tell it is going on ("dying out").
DEATH_BEHIND, DYING_BEHIND = 4, 8
# How many words ahead the plant stands that "are there any" asks for: "are there any dwarf hydrangeas".
PLANT_AHEAD = 3
# Classes that speak of a figure beside them; the others are judged by words.
FIGURED = BEFORE_NUMBER | UNITS | AFTER_QUANTITY | {"SPOT", "AXIS", "GROWN", "NUM", "ROUGHLY"}
# Words that take the colour in front of them; without one they say what the vocabulary says of them.
HEADS = frozenset("FLOWERHEAD FALLHEAD FRUITHEAD".split())
NUMBERS = frozenset(["NUM", "NEGNUM", "LEN"])
# How many words may stand between a bound and its number ("no more than about").
NUMBER_AHEAD = 3
# How many words a number of years takes at most: "within about three to five years".
YEARS_AHEAD = 7
# How many tokens back the height stands that a width is said by: "6 ft and about half that across".
RATIO_REACH = 7
# How many words after a word for blooming its months may stand.
MONTH_AHEAD = 5
# How far behind a thing its size may begin, and the words that may stand between.
SIZE_REACH = 6
SMALL_WORDS = frozenset(
    (
        ", - ( of the between and got we i it can handle take fit hold has have is are was about that which only just "
        "exactly maybe roughly not much at start begin sit up stand say who"
    ).split()
)
# What stands at the edges of an item of a list.
LIST_EDGES = frozenset(", . ; : - / ( ) ! ? + %".split())
# How many words after an adjective and its comma the place it describes may stand.
SITE_AHEAD = 3
# How far from plain hours the sun may be named.
SUN_REACH = 6


class Tokens(NamedTuple):
    """The tokens of a request in order, what was mended, and the unknown words that had several near words."""

    tokens: list[Token]
    corrections: list[Correction]
    suggestions: dict[tuple[int, int], str]


def _is_word(word: Word) -> bool:
    return word.kind == "word"


class Surroundings:
    """The words of a request, what stands before a word as tokens, and the questions a meaning asks of both."""

    def __init__(self, words: list[Word], vocabulary: Vocabulary, spelling: Spelling) -> None:
        self.words, self.vocabulary, self.spelling = words, vocabulary, spelling
        self.out = Tokens([], [], {})

    def fits(self, kind: str, match: Match, entry: Any) -> bool:
        if kind in FIGURED:
            return self._beside_figure(kind, match, entry)
        if kind == "WANT_AFTER" and any(other["class"] == "WANT" for other in match.entries):
            return not self._plant_ahead(match.end)  # "hollies, are there any?", but "are there any hollies"
        if entry.get("beside") and self.previous() != "PLANT":
            return False  # "a boxwood alternative", but "would boxwood be an alternative"
        if kind == "DIED":
            if self.previous() in ("OWN", "REPLACE"):
                return False  # "in place of our dying arborvitae": the plant comes behind
            reach = DYING_BEHIND if entry.get("named") and match.length > 1 else DEATH_BEHIND
            return any(token.type in ("PLANT", "PHRASE") for token in self.out.tokens[-reach:])
        if kind == "PHRASE" and entry.get("alone"):
            return self._stands_alone(match, any(one["trait"] == "form" for one in entry.get("conditions", ())))
        if kind == "SPACE":
            return self.previous() in QUANTITY or self._sized(match.end) or self.previous() == "FROM"
        if kind == "WISH_AFTER" and (entry.get("doubt") or any(other["class"] == "WISH" for other in match.entries)):
            # "preferably" leads what follows; only at the end of its clause does it speak of what stood before.
            return match.end >= len(self.words) or self.words[match.end].key in LIST_EDGES | {"but", "and"}
        if kind == "THING":
            return self.previous() in QUANTITY or self._sized(match.end)
        if kind == "LIKE_AFTER" and self.words[match.start].key == "like":
            return self.words[match.start].joint  # "lavender-like"
        if kind == "RATIO":
            return any(token.type in QUANTITY for token in self.out.tokens[-RATIO_REACH:])
        if kind == "PLACE":
            return towns.is_place(self, match, entry)
        if kind == "MONTH":
            return towns.is_month(self, match)
        if kind == "BY":
            return self.previous() in QUANTITY and self._number_ahead(match.end)
        if kind in HEADS:
            return self._previous_word() == "COLOR"
        if kind == "BLOOMHEAD":
            return self._month_near(match)
        if kind == "SIZE":
            # "twn feet tall": a direction whose number was not understood is no size word.
            return not (match.start and self.vocabulary.senses(self.words[match.start - 1].key) & UNITS)
        return True

    def _beside_figure(self, kind: str, match: Match, entry: Any) -> bool:
        if (
            kind == "MAX"
            and any(other["class"] == "WITHIN" for other in match.entries)
            and self._years_ahead(match.end)
        ):
            return False  # "8 ft within 4 years" bounds the time, not the height
        if kind in BEFORE_NUMBER:
            return self._number_ahead(match.end) or (kind == "MAX" and self._lid_ahead(match.end))
        if kind == "SPOT":
            return not self.is_bounded()  # "below the window that is at 4 ft"
        if kind in UNITS:
            return self.previous() in NUMBERS and (
                kind != "IN" or match.length > 1 or self.words[match.start].key != "in" or self._is_inch(match)
            )
        if kind in ("AXIS", "GROWN"):
            if entry.get("letter"):
                return False  # short for another word, unless it stands right beside its figure
            joined = kind == "AXIS" and self._after_joined_quantity()
            return joined or self.previous() in QUANTITY or self._number_ahead(match.end)
        if kind == "HOURS" and entry.get("need"):
            return self.previous() in QUANTITY and self._of_sun(match)
        if kind in ("MAX_AFTER", "MIN_AFTER") and self._bounds_the_next(match):
            return False  # "25 ft and no wider than 12 ft", "over 3 ft and under 5": the bound is the next length's
        if kind in ("MAX_AFTER", "MIN_AFTER") and self._ends_clause(match.end) and self._after_quantity_and_comma():
            return True  # "5 ft wide, no more"
        if kind in AFTER_QUANTITY:
            return self.previous() in QUANTITY | {"THING", "RUN"}
        if kind == "NUM":
            alone = match.length == 1 and self.words[match.start].key == "one"
            return not alone or self._unit_follows(match.end) or self.previous() == "BETWEEN"
        return self.previous() in QUANTITY

    def is_name(self, match: Match) -> bool:
        """Whether a name counts here: an epithet alone only when quoted, capitalised inside a sentence, or several words."""
        name = match.entries[0]
        if match.length == 1 and self._is_vocabulary(match.start):
            # "hedge", "hardy" or "pink" may be a common name; as a word of the vocabulary it is no plant.
            return name.kind == "group" and self.previous() in ("NOT", "LIKE") and self._is_plain(match.start)
        if name.kind != "epithet":
            return True
        if match.length > 1:
            return self.words[match.start].quoted or not all(
                self.vocabulary.source.is_ordinary(word.key) and not word.capital
                for word in self.words[match.start : match.end]
            )
        word = self.words[match.start]
        return word.quoted or (
            word.capital
            and not towns.is_town(self, match.end)
            and match.start > 0
            and self.words[match.start - 1].key not in (".", "?", "!", ":", *towns.BEFORE_TOWNS)
            and not self.vocabulary.phrases_at(self.words, match.start)
        )

    def _is_vocabulary(self, at: int) -> bool:
        found = (match for match in self.vocabulary.phrases_at(self.words, at) if match.length == 1)
        return any(entry["class"] != "PLANT" for match in found for entry in match.entries)

    def _is_plain(self, at: int) -> bool:
        """Whether the vocabulary knows a word only as a thing or place: a box, the gum."""
        found = (match for match in self.vocabulary.phrases_at(self.words, at) if match.length == 1)
        return all(entry["class"] in ("THING", "SITE", "FILLER", "PLANT") for match in found for entry in match.entries)

    def _month_near(self, match: Match) -> bool:
        """Whether months stand beside a word for blooming: just before it, or within the next few words of the sentence."""
        if any(token.type == "MONTH" for token in self.out.tokens[-2:]):
            return True
        for at in range(match.end, min(match.end + MONTH_AHEAD, len(self.words))):
            if self.words[at].key in STOPS - {","}:
                return False
            if any(
                entry["class"] == "MONTH" and towns.is_month(self, found)
                for found in self.vocabulary.phrases_at(self.words, at)
                for entry in found.entries
            ):
                return True
        return False

    def _ends_clause(self, at: int) -> bool:
        return at >= len(self.words) or self.words[at].key in LIST_EDGES

    def _after_quantity_and_comma(self) -> bool:
        tokens = self.out.tokens
        return len(tokens) > 1 and tokens[-1].type == "COMMA" and tokens[-2].type in QUANTITY

    def _may_describe(self, at: int) -> bool:
        """Whether a word may stand between "are there any" and the plant: "dwarf", but not the "on" of "bugs on boxwood"."""
        return _is_word(self.words[at]) and not self.vocabulary.senses(self.words[at].key) & {"FILLER", "SEEN"}

    def _plant_ahead(self, at: int) -> bool:
        """Whether a plant is named within the next words."""
        ahead = range(at, min(at + PLANT_AHEAD, len(self.words)))
        near = itertools.takewhile(self._may_describe, ahead)
        return any(self.is_name(match) for number in near for match in self.vocabulary.names_at(self.words, number))

    def _after_joined_quantity(self) -> bool:
        """Whether a quantity stands before an `and`, `or` or slash: "5 ft tall and wide", not "quick and tall"."""
        tokens = self.out.tokens
        return len(tokens) > 1 and tokens[-1].type in ("SLASH", "AND", "OR") and tokens[-2].type in QUANTITY

    def _of_sun(self, match: Match) -> bool:
        """Whether sun or light is spoken of beside plain hours: "Sunlight: 6+ hours"."""
        around = self.words[max(match.start - SUN_REACH, 0) : match.end + SUN_REACH]
        return any(word.key in ("sun", "sunlight", "sunshine", "light", "shade") for word in around)

    def _sized(self, at: int) -> bool:
        """Whether the size of what was just named follows: "fence, 200 ft long", "the arbor is 19 in wide"."""
        for number in range(at, min(at + SIZE_REACH, len(self.words))):
            word = self.words[number]
            if word.kind == "num" or self._is_number_word(number):
                return True
            if word.key not in SMALL_WORDS:
                return False
        return False

    def _stands_alone(self, match: Match, form: bool) -> bool:
        """Whether a phrase is an item of a list or stands behind "for": "Clay. Sun." or "a fern for sun"."""
        before = self.words[match.start - 1].key if match.start else ","
        after = self.words[match.end].key if match.end < len(self.words) else ","
        if before in ARTICLES:
            return after == "," and self._site_near(match.end + 1)
        if form and self._site_near(match.end + 1):
            return False  # "flat, open yard"
        return before in LIST_EDGES | {"for", "in", "and", "likes"} and after in LIST_EDGES | {"and", "but"}

    def _site_near(self, at: int) -> bool:
        """Whether a place is named within the next words of a row of adjectives: "a dark, damp corner"."""
        near = self.words[at : at + SITE_AHEAD]
        return any("SITE" in self.vocabulary.senses(word.key) for word in itertools.takewhile(_is_word, near))

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

    def _lid_ahead(self, at: int) -> bool:
        """Whether a thing of a known height that a plant is to stay below comes next: "no taller than the sill (30 in)"."""
        while at < len(self.words) and self.words[at].key in ARTICLES:
            at += 1
        return at < len(self.words) and any(
            entry.get("lid") and self._sized(match.end)
            for match in self.vocabulary.phrases_at(self.words, at)
            for entry in match.entries
        )

    def _bounds_the_next(self, match: Match) -> bool:
        """Whether a bound behind a length goes on to a length of its own."""
        if match.end >= len(self.words):
            return False
        after = self.words[match.end]
        joined = self.words[match.start].key in ("and", "but", "or")
        return after.key == "than" or (joined and (after.kind == "num" or self._is_number_word(match.end)))

    def _years_ahead(self, at: int) -> bool:
        """Whether a number of years comes next: "within 4 years", "within three to five years"."""
        words = self.words[at : at + YEARS_AHEAD]
        for number, word in enumerate(words, at):
            if (
                word.kind == "num"
                or self._is_number_word(number)
                or word.key in ("-", "to", "or", "about", "the", "next")
            ):
                continue
            return "YEARS" in self.vocabulary.senses(word.key)
        return False

    def _is_number_word(self, at: int) -> bool:
        """Whether a number is said in words; `one` is one only before a unit ("ideally one that spreads")."""
        if self.words[at].key == "one" and not (self._unit_follows(at + 1) or self.words[at - 1].key == "between"):
            return False
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

    def previous(self) -> str:
        """The class of the token before; the stop of an abbreviation ("in."), the bracket of a length said twice
        ("6 ft (1.8 m) tall") and what makes a figure rough do not count.
        """
        tokens = self.out.tokens
        stop = len(tokens) > 1 and tokens[-1].type in ("PUNCT", "CLOSE") and tokens[-2].type in UNITS
        at = -2 if stop or (len(tokens) > 1 and tokens[-1].type == "ROUGHLY") else -1
        return tokens[at].type if tokens else ""

    def is_bounded(self) -> bool:
        """Whether an upper bound stands just before: "no taller than the sill"."""
        tokens = self.out.tokens[-4:]
        return next((token.type == "MAX" for token in reversed(tokens) if token.type not in ("FILLER", "OWN")), False)

    def _previous_word(self) -> str:
        """The class of the token before, fillers left out."""
        return next((token.type for token in reversed(self.out.tokens[-4:]) if token.type != "FILLER"), "")

    def _number_before(self, at: int) -> bool:
        """Whether a dash stands between two numbers or behind a unit, as in 10-15."""
        return self.words[at].joint and self.previous() in QUANTITY | {"HALFZONE"}
