"""Words → typed tokens that tile the request: plant names whole and first, then the longest phrase, then single words.

A phrase may have several meanings ("under" a height, "under" a tree); the first whose surroundings fit is taken.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from askplant.parsing import Token
from askplant.quantities import months, zones
from askplant.reading.fitting import NUMBERS, QUANTITY, UNITS, Surroundings, Tokens
from askplant.reading.mending import Mender
from askplant.reading.reading import Correction
from askplant.reading.spelling import spelt
from askplant.reading.vocabulary import Match, Vocabulary
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
    "@": "COMMA",
}
# Words that a number may follow behind a colon: "Zone: 6".
LABELS = frozenset("ZONEWORD AXIS PH MAX MIN KEPT LABELLED".split())
# How many tokens back another direction may stand that shows a letter behind a bare number to be one.
AXIS_REACH = 6
# Where several meanings fit, the earlier class wins.
ORDER = (
    "SPOT SPOT_AFTER SUNFROM SUNTILL SUNAFTER ZONEWORD RHS HEATZONE PH NUM LEN FT IN METRIC MAX MIN BETWEEN KEPT LABELLED "
    "RATIO COLD NEG MONEY TOP WITHIN MAX_AFTER MIN_AFTER HOURS YEARS DEG CELSIUS FAHRENHEIT BY RUN THING FROM "
    "OTHER AXIS GROWN ABOUT PLACE BLOOMHEAD FLOWERHEAD FALLHEAD FRUITHEAD PHRASE SIZE COLOR LEAFHEAD "
    "MONTH PART SPACE PLANT THAN LIKE_AFTER WANT_AFTER SAME HIDDEN SECONDSITE TASK CORRECTION NEUTRAL NEUTRAL_AFTER "
    "BACKNOT BACKDIED NOT "
    "NOT_AFTER WISH_AFTER WISH MUST_AFTER DIED DIED_BEFORE REPLACE REPLACE_AFTER LIKE CONSIDER_AFTER "
    "CONSIDER SEEN OWN WANT MUST OR AND BUT TO ANIMAL SITE FILLER PLUS NOTZONE ROUGHLY "
).split()
RANK = {name: number for number, name in enumerate(ORDER)}


def tokenise(words: Sequence[Word], vocabulary: Vocabulary, mender: Callable[[], Mender]) -> Tokens:
    """The tokens of a request's words."""
    spelling = spelt(words, vocabulary, mender)
    return _Tokeniser(spelling.words, vocabulary, spelling).run()


class _Tokeniser(Surroundings):
    """Takes one stretch of words after the other."""

    def run(self) -> Tokens:
        for number, near in self.spelling.suggestions.items():
            self.out.suggestions[(self.words[number].start, self.words[number].end)] = near
        at = 0
        while at < len(self.words):
            at = self._take(at)
        return self.out

    def _unmend(self, number: int) -> None:
        """A mended word that made no sense in its place is left as it was typed."""
        if number in self.spelling.mended:
            word = self.spelling.mended.pop(number)
            self.out.suggestions[(word.start, word.end)] = self.words[number].key
            self.words[number] = word

    def _record_mends(self, start: int, end: int) -> None:
        for number in range(start, end):
            if number in self.spelling.mended:
                word = self.spelling.mended[number]
                self.out.corrections.append(Correction(word.text, self.words[number].key, (word.start, word.end)))

    def _take(self, at: int) -> int:
        word = self.words[at]
        if word.kind == "num":
            return self._number(at)
        if word.key in ("a", "b") and self._completes_zone(at):
            return at + 1
        if word.kind != "word" and not self.vocabulary.phrases_at(self.words, at):
            return self._mark(at)
        for end, kind, meaning in self._readings(at):
            self._record_mends(at, end)
            return self._emit(kind, at, end, meaning)
        if at in self.spelling.mended:
            self._unmend(at)
            return self._take(at)
        if word.kind != "word":
            return self._mark(at)
        doubts = {"leads": at in self.spelling.leads, "trails": at in self.spelling.trails}
        return self._emit("WORD", at, at + 1, {name: True for name, found in doubts.items() if found})

    def _emit(self, kind: str, start: int, end: int, meaning: dict[str, Any]) -> int:
        if kind == "NUM" and self._completes_number(start, meaning):
            return end
        first, last = self.words[start], self.words[end - 1]
        if kind == "MONTH" and first.joint and self.previous() == "MONTH":
            # The dash of "April-June" was dropped with those inside words.
            self.out.tokens.append(Token("DASH", "-", self.words[start - 1].end, first.start, {}))
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
        fits = whole and (
            (whole % 100 == 0 and n < 100) or (back == 1 and 20 <= whole < 100 and whole % 10 == 0 and n < 10)
        )
        if fits:
            del tokens[-back:]
            tokens.append(Token("NUM", f"{before} {n}", before.start, self.words[start].end, {"n": whole + n}))
        return bool(fits)

    def _completes_zone(self, at: int) -> bool:
        """Whether a letter by itself goes on with the number of a zone: zone seven b; "zone 7 a tree" has an article."""
        tokens = self.out.tokens
        if len(tokens) < 2 or tokens[-1].type != "NUM" or tokens[-2].type != "ZONEWORD":
            return False
        word, n = self.words[at], tokens[-1].meaning["n"]
        after = self.words[at + 1] if at + 1 < len(self.words) else None
        ends = (
            after is None
            or after.kind not in ("word", "num")
            or self.vocabulary.senses(after.key) & {"AND", "OR", "BUT"}
        )
        if n not in range(1, 14) or not (ends or (word.key == "b" and after is not None and not after.joint)):
            return False
        zone = f"{int(n)}{word.key}"
        tokens[-1] = Token("HALFZONE", zone, tokens[-1].start, word.end, {"zone": zone})
        return True

    def _number(self, at: int) -> int:
        word, after = self.words[at], self.words[at + 1] if at + 1 < len(self.words) else None
        if len(word.text) == 5 and word.text.isdigit() and (zone := self.vocabulary.source.postcode(word.text)):
            return self._emit("PLACE", at, at + 1, _postal(word.text, zone))
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
                if self.previous() in NUMBERS
                else self._emit("PUNCT", at, at + 1, {})
            )
        if key == "-" and after and after.kind == "num" and after.joint and not self._number_before(at):
            self._emit("NEGNUM", at, at + 2, {"n": -after.value})
            return at + 2
        if key == "/" and word.joint and self.words[at - 1].text.casefold() in ("w", "b", "c"):
            return self._emit("PUNCT", at, at + 1, {})  # "deciduous w/ good form"
        if key == "(" and (axis := self._bracketed_axis(at)) is not None:
            return self._emit("AXIS", at, at + 3, axis)
        if key == "." and after and after.joint and after.kind == "word":
            return self._emit("PUNCT", at, at + 1, {})
        if key == "." and self.previous() in UNITS and after and not after.capital:
            return self._emit("PUNCT", at, at + 1, {})
        if key == ":" and self.previous() in LABELS and after and after.kind == "num":
            return self._emit("PUNCT", at, at + 1, {})
        if key == "-" and not word.joint and self.previous() not in QUANTITY | {"MONTH", "HALFZONE"}:
            return self._emit("COMMA", at, at + 1, {})
        return self._emit(MARKS.get(key, "PUNCT"), at, at + 1, {"mark": key})

    def _readings(self, at: int) -> Iterator[tuple[int, str, dict[str, Any]]]:
        """Meanings that fit at a word, best first: (end, class, meaning)."""
        short = len(self.words[at].text) == 1 and (self._zone_shorthand(at) or self._postcode(at) or self._letter(at))
        if short:
            yield short
        names = [match for match in self.vocabulary.names_at(self.words, at) if self.is_name(match)]
        phrases = self.vocabulary.phrases_at(self.words, at)
        lengths = sorted({match.length for match in (*names, *phrases)}, reverse=True)
        for length in lengths:
            fitting = [
                (entry, match)
                for match in phrases
                if match.length == length
                for entry in match.entries
                if self.fits(entry["class"], match, entry)
            ]
            for match in names:
                # "clumping bamboo" and "fern" are kinds of plant before they are common names of one.
                if match.length == length and not any(self._is_rather(entry, match) for entry, _ in fitting):
                    colour = self.vocabulary.colour_of(self.words[match.start : match.end])
                    yield match.end, "PLANT", {"name": match.entries[0], "colour": colour}
            for entry, match in sorted(fitting, key=self._rank):
                yield match.end, entry["class"], self._meaning(entry, match)

    def _is_rather(self, entry: Any, name: Match) -> bool:
        """Whether words are rather what the vocabulary says than a name: a kind, or a town and no cultivar of that name."""
        town = entry["class"] == "PLACE" and name.entries[0].kind == "epithet" and not self.words[name.start].quoted
        return entry["class"] == "PHRASE" or town

    def _rank(self, pair: tuple[Any, Match]) -> int:
        """The order of meanings; a thing's own size comes first only behind a quantity ("4 ft fence")."""
        kind = pair[0]["class"]
        if kind == "THING" and self.previous() not in QUANTITY and not (pair[0].get("lid") and self.is_bounded()):
            return RANK["SITE"]
        return RANK.get(kind, len(RANK))

    def _meaning(self, entry: Any, match: Match) -> dict[str, Any]:
        meaning = dict(entry)
        if entry["class"] in ("SITE", "THING", "PHRASE"):
            # "a retaining wall 4 ft high", "our electric box": what ends in a thing's name may itself have a size.
            meaning["thing"] = "THING" in self.vocabulary.senses(self.words[match.end - 1].key)
            if any(one["trait"] == "juglone" for one in entry.get("conditions", ())):
                meaning["names"] = self._names_plant(match)
        if entry["class"] == "NUM":
            return {"n": entry["n"]}
        if entry["class"] == "MONTH":
            season = entry.get("season")
            numbers = months.SEASONS[season] if season else (int(entry["months"]),)
            return {"months": numbers, "season": season}
        if entry["class"] == "PLANT":
            shown = " ".join(word.key for word in self.words[match.start : match.end])
            colour = self.vocabulary.colour_of(self.words[match.start : match.end])
            return {"name": None, "shown": shown, "colour": colour}
        return meaning

    def _names_plant(self, match: Match) -> bool:
        """Whether a phrase is itself the name of a plant that stands there: "walnut tree", but not "under a walnut"."""
        first, last = (self.vocabulary.senses(self.words[at].key) for at in (match.start, match.end - 1))
        return "SEEN" not in first and bool(last & {"PLANT", "kind"})

    def _postcode(self, at: int) -> tuple[int, str, dict[str, Any]] | None:
        """The start of a Canadian postal code that the user's table holds: letter, digit, letter."""
        if at + 3 > len(self.words) or not (self.words[at + 1].joint and self.words[at + 2].joint):
            return None
        code = "".join(word.text for word in self.words[at : at + 3]).upper()
        zone = self.vocabulary.source.postcode(code) if len(code) == 3 and code[1].isdigit() else None
        return (at + 3, "PLACE", _postal(code, zone)) if zone else None

    def _letter(self, at: int) -> tuple[int, str, dict[str, Any]] | None:
        """The letter of a direction beside its figure, which elsewhere is short for another word: `36" W`, `H6 W3`."""
        found = self._as_letter(at)
        if found is None or not (self._is_direction(at) or self._figure_ahead(at) or self._leads_figure(at)):
            return None
        return at + 1, "AXIS", dict(found)

    def _as_letter(self, at: int) -> Any | None:
        """What a single letter says as that of a direction."""
        if len(self.words[at].text) != 1:
            return None
        entries = (entry for match in self.vocabulary.phrases_at(self.words, at) for entry in match.entries)
        return next((entry for entry in entries if entry.get("letter")), None)

    def _bracketed_axis(self, at: int) -> dict[str, Any] | None:
        """A direction in brackets behind its figure: "6 ft (H) x 4 ft (wide)"."""
        if at + 2 >= len(self.words) or self.words[at + 2].key != ")" or self.previous() not in QUANTITY:
            return None
        whole = (match for match in self.vocabulary.phrases_at(self.words, at + 1) if match.end == at + 2)
        return next((dict(one) for match in whole for one in match.entries if one["class"] == "AXIS"), None)

    def _leads_figure(self, at: int) -> bool:
        """Whether a letter stands before a figure as another did just before: the `W` of "H 1.2 m, W 0.8 m"."""
        number = at + 1 < len(self.words) and self.words[at + 1].kind == "num"
        before = [token for token in self.out.tokens[-AXIS_REACH:] if token.type == "AXIS"]
        return number and bool(before) and (self.words[at].capital or len(str(before[-1])) == 1)

    def _is_direction(self, at: int) -> bool:
        """Whether a letter behind a figure ends it, by what follows or by being a capital among small letters."""
        if self.previous() not in UNITS | NUMBERS | {"FTMARK"}:
            return False
        after = self.words[at + 1] if at + 1 < len(self.words) else None
        if after is None or (after.kind != "word" and after.key != "/"):
            return True
        measured = self.previous() != "NUM" or any(token.type == "AXIS" for token in self.out.tokens[-AXIS_REACH:])
        shouted = measured and self.words[at].capital and any(word.text.islower() for word in self.words)
        return after.key != "/" and (shouted or bool(self.vocabulary.senses(after.key) & {"BY", "AND"}))

    def _figure_ahead(self, at: int) -> bool:
        """Whether a letter that is joined to a figure stands here, past a mark at most: the `W3` of `H6, W3`."""
        while at < len(self.words) and self.words[at].key in (",", "/", "x", "×"):
            at += 1
        after = self.words[at + 1] if at + 1 < len(self.words) else None
        return after is not None and after.kind == "num" and after.joint and self._as_letter(at) is not None

    def _zone_shorthand(self, at: int) -> tuple[int, str, dict[str, Any]] | None:
        """`z4`, `H4`: a letter joined to a number."""
        word, after = self.words[at], self.words[at + 1] if at + 1 < len(self.words) else None
        if not after or after.kind != "num" or not after.joint or not after.text.isdigit():
            return None
        if word.key == "z":
            return at + 1, "ZONEWORD", {}
        if word.key == "h" and not self._figure_ahead(at + 2):
            last = self.words[at + 2] if at + 2 < len(self.words) else None
            if last is not None and (last.key in ("'", '"') or self.vocabulary.senses(last.key) & UNITS):
                return None
            letter = last.key if last is not None and last.joint and last.key in ("a", "b", "c") else ""
            rating = f"h{after.text}{letter}"
            if rating in zones.RHS:
                return at + 2 + bool(letter), "RHS", {"rhs": rating}
        return None


def _postal(code: str, zone: str) -> dict[str, Any]:
    """What a postal code of the user's table says: one place with one half-zone."""
    return {"code": code, "name": f"Postal code {code}", "zones": f"{zone}-{zone}"}
