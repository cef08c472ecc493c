"""Whether a word is a town, the code of a state or a month, and not the ordinary word that is written the same."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from askplant.reading.vocabulary import Match

if TYPE_CHECKING:
    from askplant.reading.fitting import Surroundings

# A single capitalised word behind these is a town or a river, not a cultivar: "our school in Buffalo".
BEFORE_TOWNS = frozenset(("in", "near", "outside"))
# Two-letter codes that are English words: only in capitals are they places.
ENGLISH_CODES = frozenset("on in or me ok hi oh de la pa ma mi id al ar co".split())
# Codes that behind a place are far oftener the words: "for Kansas or is there a tougher one".
JOINING_CODES = frozenset(("or", "in", "on"))
# Codes that in capitals still mean something else: all right, northeast.
SHOUTED_WORDS = frozenset("ok ne in or me hi oh".split())
# Words that are months only where one is due, and what may stand before them there.
DOUBTFUL_MONTHS = frozenset(("may", "march"))
BEFORE_MONTHS = frozenset("in from to - until through late early mid and or , /".split())
# Behind these they are months without a capital.
SURELY_BEFORE_MONTHS = frozenset("in from late early mid".split())


def is_town(around: Surroundings, at: int) -> bool:
    """Whether a comma and a state follow: Savannah, GA."""
    if at + 1 >= len(around.words) or around.words[at].key != ",":
        return False
    return any(
        entry["class"] == "PLACE"
        for match in around.vocabulary.phrases_at(around.words, at + 1)
        for entry in match.entries
    )


def is_place(around: Surroundings, match: Match, entry: Any) -> bool:
    """Whether the name of a place, or the code that stands for it, is meant."""
    word = around.words[match.start]
    if "abbreviation" not in entry:
        return True
    before = around.words[match.start - 1].key if match.start else ""
    shouted = word.text.isupper() and not _all_capitals(around) and word.key not in SHOUTED_WORDS
    return (
        shouted
        or (around.previous() == "PLACE" and word.key not in JOINING_CODES)
        or (before == "," and (word.key not in ENGLISH_CODES or _after_town(around, match.start)))
    )


def _all_capitals(around: Surroundings) -> bool:
    letters = [word for word in around.words if word.kind == "word" and len(word.text) > 2]
    return bool(letters) and all(word.text.isupper() for word in letters)


def _after_town(around: Surroundings, at: int) -> bool:
    """`cincinnati, oh.`: a town that is a place, or an unknown capitalised word, then a comma, then the code and a stop."""
    tokens, words = around.out.tokens, around.words
    if len(tokens) < 2 or tokens[-1].type != "COMMA":
        return False
    ends = at + 1 >= len(words) or words[at + 1].key in (".", ",", ";", ":", "-", ")")
    return ends and (tokens[-2].type == "PLACE" or words[at].capital or words[at - 2].capital)


def is_month(around: Surroundings, match: Match) -> bool:
    """`may` and `march` are months only beside another month, behind a preposition or with a capital inside a sentence."""
    word = around.words[match.start]
    if word.key not in DOUBTFUL_MONTHS:
        return True
    after = around.words[match.end] if match.end < len(around.words) else None
    if after is not None and after.joint and "MONTH" in around.vocabulary.senses(after.key):
        return True  # "May-June"
    before = around.words[match.start - 1].key if match.start else ""
    sure = word.capital or around.previous() in ("DASH", "TO", "PART") or before in SURELY_BEFORE_MONTHS
    return before in BEFORE_MONTHS and sure
