"""Botanical names: how one is written, the id it gives, and the wider taxa it belongs to."""

from __future__ import annotations

import re
import unicodedata
from typing import NamedTuple

from askplant.folding import APOSTROPHES

# Ranks between the species and the cultivar, as written and as kept (ICN, Shenzhen Code, 2018, art. 4 and 24).
RANKS = {"subsp.": "subsp.", "ssp.": "subsp.", "var.": "var.", "f.": "f.", "forma": "f."}
HYBRID = "×"
FORM = "a botanical name (Genus species 'Cultivar', hybrids with × before the epithet)"

_STRAIGHT = str.maketrans(dict.fromkeys(APOSTROPHES, "'"))
# Nothing longer names a plant (characters); the patterns below are tried on no more.
LONGEST = 300

_EPITHET = re.compile(r"^(?P<taxon>.+?)\s+'(?P<epithet>.*\S)'$")
_GENUS = re.compile(r"[^\W\d_][^\W\d_]*(-[^\W\d_]+)?")
_WORD = re.compile(r"[^\W\d_]+(-[^\W\d_]+)*")
_HYBRID_GENUS = re.compile(r"(×\s?|x\s)")
_GROUP = re.compile(r"\s\(?(?P<group>[^\W\d_a-z][\w'-]*(?: [^\W\d_a-z][\w'-]*)* Group)\)?$")
_NOT_ID = re.compile(r"[^a-z0-9]+")


class Botanical(NamedTuple):
    """A name taken apart. `parts` are the words below the genus, ranks and × joined to the next word."""

    genus: str
    hybrid_genus: bool
    parts: tuple[str, ...]
    epithet: str | None

    @property
    def taxon(self) -> str:
        """The name without its cultivar epithet."""
        return self._upto(len(self.parts))

    @property
    def text(self) -> str:
        """The whole name, hybrid signs as × and set apart, the epithet in straight single quotes."""
        return f"{self.taxon} '{self.epithet}'" if self.epithet else self.taxon

    @property
    def wider(self) -> tuple[str, ...]:
        """The names of the taxa it belongs to, nearest first: variety, species; never the genus alone."""
        most = len(self.parts) if self.epithet else len(self.parts) - 1
        return tuple(self._upto(count) for count in range(most, 0, -1))

    def _upto(self, count: int) -> str:
        sign = f"{HYBRID} " if self.hybrid_genus else ""
        return " ".join((sign + self.genus, *self.parts[:count]))


def parse(text: str) -> Botanical:
    """A botanical name taken apart; ValueError says what was expected."""
    if len(text) > LONGEST:
        raise ValueError(f"a name of at most {LONGEST} characters")
    taxon, epithet = _split_epithet(" ".join(text.split()).translate(_STRAIGHT))
    hybrid = _HYBRID_GENUS.match(taxon)
    genus, group = _split_group(taxon[hybrid.end() :] if hybrid else taxon)
    words = genus.replace(HYBRID, f" {HYBRID} ").split()
    if not words or not _GENUS.fullmatch(words[0]) or not words[0].istitle():
        raise ValueError(FORM)
    return Botanical(words[0], bool(hybrid), (*_parts(words[1:]), *group), epithet)


def identify(text: str) -> str:
    """The id of the plant of a botanical name: `Ilex x meserveae 'Blue Prince'` is `ilex-meserveae-blue-prince`."""
    return plain_id(parse(text).text)


def plain_id(text: str) -> str:
    """The id of a name already in its normal form."""
    folded = unicodedata.normalize("NFKD", text.replace(HYBRID, " ").lower())
    folded = "".join(ch for ch in folded if not unicodedata.combining(ch))
    return _NOT_ID.sub("-", folded).strip("-")


def _split_epithet(text: str) -> tuple[str, str | None]:
    if "'" not in text:
        return text, None
    match = _EPITHET.match(text)
    if not match or match["epithet"] != match["epithet"].strip():
        raise ValueError(FORM)
    return match["taxon"], match["epithet"]


def _split_group(taxon: str) -> tuple[str, tuple[str, ...]]:
    match = _GROUP.search(taxon)
    return (taxon[: match.start()], (match["group"],)) if match else (taxon, ())


def _parts(words: list[str]) -> list[str]:
    """The words below the genus, each joined to the rank or hybrid sign before it."""
    parts: list[str] = []
    before = ""
    for word in words:
        sign = HYBRID if word == "x" else RANKS.get(word, word if word == HYBRID else "")
        if sign and not before:
            before = sign + " "
        elif _WORD.fullmatch(word) and word == word.lower():
            parts.append(before + word)
            before = ""
        else:
            raise ValueError(FORM)
    if before:
        raise ValueError(FORM)
    return parts
