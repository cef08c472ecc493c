"""A request as words with their places: spelling variants as one, hyphens inside words dropped, the text itself untouched."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from askplant.quantities.scan import Lexeme, lexemes


class Word(NamedTuple):
    """A word, number or mark of a request. `key` is what the vocabulary is asked for; `quoted` is true after an opening quote."""

    kind: str
    key: str
    text: str
    start: int
    end: int
    joint: bool
    value: float = 0.0
    quoted: bool = False

    @property
    def capital(self) -> bool:
        """Whether it is written with a capital."""
        return self.text[:1].isupper()


def words(text: str, spelling: Mapping[str, str]) -> list[Word]:
    """The words of a text in the vocabulary's spelling; pairs that are spelt as one (`does not`) joined."""
    out: list[Word] = []
    found = lexemes(text)
    quoted = False
    for number, lexeme in enumerate(found):
        if _is_hyphen(found, number):
            continue
        if lexeme.kind == "quote" and not _after_number(found, number):
            quoted = not lexeme.joint
            continue
        out = _joined(out, _word(lexeme, quoted, spelling), spelling)
        quoted = False
    return out


def _is_hyphen(found: list[Lexeme], number: int) -> bool:
    """A dash written without spaces with a word at its right: deer-proof, 4-foot, year-round."""
    if found[number].kind != "dash" or not found[number].joint or number + 1 >= len(found):
        return False
    after = found[number + 1]
    return after.joint and after.kind == "word" and number > 0 and found[number - 1].kind in ("word", "num", "quote")


def _after_number(found: list[Lexeme], number: int) -> bool:
    """A quote mark right behind a number is the sign for feet."""
    return found[number].joint and number > 0 and found[number - 1].kind == "num"


def _word(lexeme: Lexeme, quoted: bool, spelling: Mapping[str, str]) -> Word:
    key = spelling.get(lexeme.key, lexeme.key) if lexeme.kind == "word" else lexeme.key
    return Word(lexeme.kind, key, lexeme.text, lexeme.start, lexeme.end, lexeme.joint, lexeme.value, quoted)


def _joined(out: list[Word], word: Word, spelling: Mapping[str, str]) -> list[Word]:
    pair = spelling.get(f"{out[-1].key} {word.key}") if out and word.kind == "word" else None
    if pair:
        out[-1] = out[-1]._replace(key=pair, end=word.end, text=f"{out[-1].text} {word.text}")
    else:
        out.append(word)
    return out
