"""A request, read: words, tokens, quantities, clauses, conditions, and all of them settled together. Nothing else."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from typing import Any, TypeVar

from askplant import parsing
from askplant.errors import RequestError
from askplant.parsing import Grammar, Token
from askplant.quantities.lengths import FOOT
from askplant.reading import islands, lengths, measures, settling
from askplant.reading.conditions import Made, Maker
from askplant.reading.elements import elements
from askplant.reading.fitting import Tokens
from askplant.reading.islands import Grammars, Island
from askplant.reading.mending import Mender
from askplant.reading.mentions import mentioner, surroundings
from askplant.reading.purchase import with_purchase
from askplant.reading.reading import Condition, Correction, Hidden, Mention, Reading, Span, Task, Unread
from askplant.reading.tokens import tokenise
from askplant.reading.vocabulary import Vocabulary
from askplant.reading.words import words

# A longer request is refused: no caller says so much, and a pasted book should not be read in silence.
MOST_CHARACTERS = 20_000
# Windows and doors lower than this are told by their height, those "at 20 ft" by their place along a row (common practice).
SILL = 8 * FOOT
# A request that asks more than this at once is a list of something else.
MOST_CONDITIONS = 200

# Tokens that say nothing by themselves wherever they stand.
_MUTE = frozenset(
    (
        "FILLER COMMA STOP PUNCT OPEN CLOSE SLASH DASH OR AND BUT TO BY PLUS SITE NOTZONE PLACE TASK TASKED "
        "STORY SPACE THING RUN FROM OTHER YEARS HOURS NEUTRAL NEUTRAL_AFTER CORRECTION SAME HIDDEN SECONDSITE SUNFROM SUNTILL "
        "SUNAFTER NOT WISH MUST LIKE SEEN DIED_BEFORE REPLACE CONSIDER WANT OWN NOT_AFTER WISH_AFTER "
        "MUST_AFTER DIED REPLACE_AFTER CONSIDER_AFTER LIKE_AFTER WANT_AFTER THAN ANIMAL MAX MIN ABOUT AXIS "
        "GROWN MAX_AFTER MIN_AFTER WITHIN PART MONTH FT IN METRIC DEG CELSIUS FAHRENHEIT COLD TOP MONEY NEG "
        "BETWEEN KEPT LABELLED ROUGHLY ZONEWORD LEN NUMBER RATIO SPOT SPOT_AFTER BACKNOT BACKDIED MONTHS BLOOMHEAD LEAFHEAD "
    ).split()
)
_CLAUSE = frozenset(
    (
        "PHRASE PLANT HEIGHT LIGHT ZONE SIZE COLOR LEAFHEAD FLOWERHEAD FALLHEAD FRUITHEAD MONTHS "
        "BLOOMHEAD NUMBER NEUTRAL NEUTRAL_AFTER NOT WISH MUST LIKE SEEN DIED_BEFORE REPLACE CONSIDER WANT OWN "
        "LIKE_AFTER WANT_AFTER NOT_AFTER WISH_AFTER MUST_AFTER DIED REPLACE_AFTER CONSIDER_AFTER THAN COMMA "
        "OR AND BUT SLASH DASH TO "
    ).split()
)


# "something that flowers" says no more than "flowers".
SOMETHING = frozenset("something anything one ones plant things thing".split())


Placed = TypeVar("Placed", Correction, Hidden, Mention, Unread)


class Reader:
    """Reads requests with one base's vocabulary and names; keeps what it has looked up."""

    def __init__(self, vocabulary: Vocabulary, grammars: Grammars) -> None:
        self.vocabulary = vocabulary
        self.grammars = grammars
        self._mender: Mender | None = None

    def read(self, request: str) -> Reading:
        """The reading of a request; RequestError when it is longer than can be read."""
        found, chunks, made = self._parts(request)
        return with_purchase(_reading(request, found, chunks, made))

    def read_apart(self, request: str) -> tuple[Reading, ...]:
        """One reading for each place that is spoken of, where what is asked of each stands apart; else one of all."""
        found, chunks, made = self._parts(request)
        parted = settling.parted(made.conditions, chunks)
        if len(parted) == 1:
            return (with_purchase(_reading(request, found, chunks, made)),)
        return tuple(
            _of_place(with_purchase(_reading(request, found, chunks, made._replace(conditions=own))), span)
            for span, own in parted
        )

    def _parts(self, request: str) -> tuple[Tokens, list[Token], Made]:
        if len(request) > MOST_CHARACTERS:
            raise RequestError(f"request of {len(request)} characters; at most {MOST_CHARACTERS} are read")
        found = tokenise(words(request, self.vocabulary.spelling), self.vocabulary, self._mend)
        chunks = self._chunks([self._with_hidden(request, token) for token in found.tokens])
        made = self._made(request, chunks)
        if len(made.conditions) > MOST_CONDITIONS:
            raise RequestError(f"request with {len(made.conditions)} conditions; at most {MOST_CONDITIONS} are read")
        return found, chunks, made

    def _mend(self) -> Mender:
        if self._mender is None:
            self._mender = Mender(self.vocabulary.source.known_words(), self.vocabulary.source.any_ordinary)
        return self._mender

    def _with_hidden(self, request: str, token: Token) -> Token:
        """A phrase of hiding with the thing inside it whose height is known: "block a second floor window"."""
        if not _is_screen(token) or " " not in str(token):
            return token
        # Without the verb, for with it the phrase is the longest that fits and takes the thing in.
        thing = request[token.start : token.end].split(None, 1)[-1]
        inside = tokenise(words(thing, self.vocabulary.spelling), self.vocabulary, self._mend).tokens
        hides = next((part.meaning for part in inside if part.type == "HIDDEN"), None)
        return (
            Token(token.type, str(token), token.start, token.end, {**token.meaning, "hides": hides}) if hides else token
        )

    def _chunks(self, tokens: Sequence[Token]) -> list[Token]:
        """The tokens with each quantity made one token of its own kind."""
        out: list[Token] = []
        for item in islands.quantities(tokens, self.grammars.quantity):
            if isinstance(item, Island):
                out.append(measures.chunk(item, out))
            else:
                out.append(lengths.ratio(item, out) if item.type == "RATIO" else item)
        return out

    def _made(self, request: str, chunks: Sequence[Token]) -> Made:
        doubtful = {id(token) for token in (*_doubtful(chunks), *_counts(chunks))}
        speaking = [
            token
            for token in clauses_apart(chunks)
            if id(token) not in doubtful
            and token.type
            not in (
                "FILLER",
                "PUNCT",
                "SITE",
                "ANIMAL",
                "AXIS",
                "GROWN",
                "THING",
                "SPACE",
                "ABOUT",
                "MIN",
                "MAX",
                "FROM",
                "RUN",
                "OTHER",
            )
        ]
        clauses = islands.clauses(speaking, self.grammars.request, _CLAUSE)
        maker = Maker(request, elements(clauses), mentioner(surroundings(chunks)), chunks)  # type: ignore[arg-type]
        return maker.run()


@lru_cache(maxsize=4)
def reader(base: Any) -> Reader:
    """The reader of a base; kept, so that what one request looked up serves the next."""
    return Reader(Vocabulary(base), Grammars(grammar_of(base, "quantity"), grammar_of(base, "request")))


def read(text: str, base: Any) -> Reading:
    """The reading of a request with a base's vocabulary and names; RequestError when it is too long."""
    return reader(base).read(text)


def read_apart(text: str, base: Any) -> tuple[Reading, ...]:
    """The readings of a request that may speak of two places, one for each; RequestError when it is too long."""
    return reader(base).read_apart(text)


def grammar_of(base: Any, name: str) -> Grammar:
    """One of the grammars, as it was packed into the base."""
    return parsing.unpacked(base.grammar(name))


# What a doubt reaches over: "naot ivy or vinca", and what it reaches.
_BETWEEN = frozenset("FILLER PUNCT OR AND SLASH OWN".split())
_CORES = frozenset("PHRASE PLANT HEIGHT LIGHT ZONE SIZE COLOR NUMBER".split())


def _counts(chunks: Sequence[Token]) -> Iterator[Token]:
    """Numbers that count plants: "we lost three boxwoods" is lost boxwoods."""
    for token, after in itertools.pairwise(chunks):
        if token.type == "NUMBER" and after.type in ("PLANT", "SIZE", "COLOR") and token.meaning.get("test") is None:
            yield token


def _doubtful(chunks: Sequence[Token]) -> Iterator[Token]:
    """The tokens whose meaning hangs on a strange word beside them that may be a negation, a bound or a unit."""
    for number, token in enumerate(chunks):
        if token.meaning.get("leads"):
            behind = (other for other in chunks[number + 1 :] if other.type not in _BETWEEN)
            yield from itertools.takewhile(lambda other: other.type in _CORES, behind)
        if token.meaning.get("trails") and number and chunks[number - 1].type in ("HEIGHT", "NUMBER", "PHRASE"):
            yield chunks[number - 1]


_TRAILS = frozenset("WISH_AFTER MUST_AFTER THAN WANT_AFTER DIED REPLACE_AFTER CONSIDER_AFTER LIKE_AFTER".split())


def clauses_apart(chunks: Sequence[Token]) -> list[Token]:
    """The tokens with what stands in brackets moved behind the rest, and marks of style out of the way of the grammar."""
    outer: list[Token] = []
    inner: list[Token] = []
    depth = 0
    for number, token in enumerate(chunks):
        depth += (token.type == "OPEN") - (token.type == "CLOSE")
        if token.type in ("OPEN", "CLOSE"):
            inner.append(Token("STOP", "", token.start, token.start))
        elif depth > 0:
            inner.append(token)
        elif not _is_style(chunks, number):
            outer.append(_as_lead(chunks, number))
    return [*outer, *inner]


def _is_style(chunks: Sequence[Token], number: int) -> bool:
    """A comma before words that speak of what stands before it: "a honeylocust, just smaller, would be lovely"."""
    if str(chunks[number]) in ("that", "which") and number > 0 and str(chunks[number - 1]) in SOMETHING:
        return True
    if chunks[number].type != "COMMA":
        return False
    refusal = number > 0 and chunks[number - 1].type == "NOT_AFTER" and chunks[number].meaning.get("mark") == ":"
    return refusal or (number + 1 < len(chunks) and chunks[number + 1].type in _TRAILS)


def _as_lead(chunks: Sequence[Token], number: int) -> Token:
    """`Won't work: maples, birch`: a refusal in front of a colon speaks of what follows."""
    token = chunks[number]
    if token.type == "NOT_AFTER" and number + 1 < len(chunks) and chunks[number + 1].meaning.get("mark") == ":":
        return Token("NOT", str(token), token.start, token.end)
    return token


def _reading(request: str, found: Tokens, chunks: Sequence[Token], made: Made) -> Reading:
    said = settling.with_grazers(sorted(made.conditions, key=lambda condition: condition.at))
    conditions = settling.settled(said, request)
    places = [token for token in chunks if token.type == "PLACE"]
    if places and not any(condition.trait == "zone" for condition in conditions):
        conditions.append(settling.zone_of_place(settling.closest(places), request))
    conditions = _with_place(conditions, places)
    conditions = settling.with_animals(conditions, chunks)
    conditions = settling.with_hidden(conditions, chunks)
    task = _task(request, chunks, made)
    unread = tuple(_unread(request, chunks, made, found, task))
    return Reading(
        request,
        tuple(conditions),
        task,
        tuple(found.corrections),
        tuple(made.named),
        unread,
        (*settling.conflicts(conditions), *settling.second_sites(conditions, chunks)),
        tuple(_filler(chunks, made)),
        "metric" if any(token.meaning.get("metric") for token in chunks) else "us",
        settling.hidden(chunks, request) if _hides(chunks) else None,
    )


def _of_place(reading: Reading, span: Span) -> Reading:
    """The reading of one of several places: only what its own stretch of the request says apart from the conditions."""
    return reading._replace(
        corrections=_inside(reading.corrections, span),
        named=_inside(reading.named, span),
        unread=_inside(reading.unread, span),
        conflicts=tuple(settling.conflicts(reading.conditions)),
        hides=next(iter(_inside((reading.hides,), span)), None) if reading.hides else None,
    )


def _inside(parts: Iterable[Placed], span: Span) -> tuple[Placed, ...]:
    return tuple(part for part in parts if span[0] <= part.at[0] < span[1])


def _with_place(conditions: list[Condition], places: Sequence[Token]) -> list[Condition]:
    """`native` asked in a place that was said is native to that place."""
    if not places:
        return conditions
    code = str(places[0].meaning["code"])
    return [
        found._replace(values=(code,)) if found.trait == "native" and found.values == ("yes",) else found
        for found in conditions
    ]


def _task(request: str, chunks: Sequence[Token], made: Made) -> Task:
    said: dict[str, Any] = {"run": made.run} if made.run else {}
    spans: list[Span] = []
    for token in chunks:
        facts = _facts(request, token)
        if facts:
            said = {**facts, **said} if token.type == "PLACE" else {**said, **facts}
            spans.append((token.start, token.end))
    if said.get("along"):
        said.setdefault("spot" if said.get("run") else "run", said["along"])
    row = next((token for token in chunks if token.meaning.get("if_row")), None)
    if row is not None and SILL <= row.meaning["if_row"] <= (said.get("run") or 0):  # else it is how high a window lies
        said.setdefault("spot", row.meaning["if_row"])
        spans.append((row.start, row.end))
    return Task(
        said.get("count"),
        said.get("run"),
        said.get("by_year"),
        said.get("place"),
        said.get("mixed"),
        said.get("budget"),
        tuple(spans),
        said.get("spot"),
    )


def _facts(request: str, token: Token) -> dict[str, Any]:
    if token.type == "PLACE":
        return {"place": token.meaning["code"]}
    if token.type == "TASK":
        task = token.meaning["task"]
        return {"budget": request[token.start : token.end]} if task == "budget" else {"mixed": task == "mixed"}
    if token.type == "TASKED" and token.meaning.get("budget"):
        return {"budget": request[token.start : token.end]}
    return {key: token.meaning[key] for key in ("count", "run", "by_year", "spot", "along") if token.meaning.get(key)}


def _filler(chunks: Sequence[Token], made: Made) -> Iterator[Span]:
    used = {id(token) for token in made.used}
    for token in chunks:
        if token.type in _MUTE or id(token) in used:
            yield token.start, token.end


def _unread(request: str, chunks: Sequence[Token], made: Made, found: Tokens, task: Task) -> Iterator[Unread]:
    """Stretches of words that no condition, task, filler or mention covers; neighbours joined."""
    stretch: list[Token] = []
    loose = {id(token) for token in made.loose}
    loose |= {id(token) for token in chunks if token.meaning.get("if_row") not in (None, task.spot)}
    used = {id(token) for token in made.used}
    if _hides(chunks):
        used |= {id(token) for token in chunks if token.type == "STORY" and token.meaning.get("object")}
    for token in chunks:
        if _is_unread(token, loose, used):
            stretch.append(token)
        elif token.type not in ("FILLER", "PUNCT") or not stretch:
            yield from _stretch(request, stretch, found)
            stretch = []
    yield from _stretch(request, stretch, found)


def _hides(chunks: Sequence[Token]) -> bool:
    """Whether a screen is asked for, so that a thing's own size is what it is to hide."""
    return any(_is_screen(token) for token in chunks)


def _is_screen(token: Token) -> bool:
    return token.type == "PHRASE" and "screen" in str(token.meaning.get("conditions"))


def _is_unread(token: Token, loose: Iterable[int], used: Iterable[int]) -> bool:
    if id(token) in loose:
        return True
    if token.type == "STORY" and id(token) not in used:
        # A length that is no plant's size is shown as not read, so that a wrong guess is seen.
        return bool(token.meaning.get("length"))
    return token.type not in _MUTE and id(token) not in used


def _stretch(request: str, stretch: Sequence[Token], found: Tokens) -> Iterator[Unread]:
    if stretch:
        start, end = stretch[0].start, stretch[-1].end
        near = next(
            (
                found.suggestions[(token.start, token.end)]
                for token in stretch
                if (token.start, token.end) in found.suggestions
            ),
            None,
        )
        yield Unread(request[start:end], (start, end), near)
