"""One way of comparing words: case, accents, apostrophes, plural and possessive endings do not count.

Vocabulary, plant names and requests all pass through here, so that what is written once in a file is found however it is typed.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache

# Apostrophes and primes as they are typed; all count as one.
APOSTROPHES = "'’‘ʼ`´′"
QUOTES = '"“”„″'
DASHES = "-‐‑‒–—−"

_PLURAL_KEEP = ("ss", "us", "is")
_SHORTEST_PLURAL = 4
_IRREGULAR = {
    "leaves": "leaf",
    "shelves": "shelf",
    "halves": "half",
    "feet": "foot",
    "geese": "goose",
    "children": "child",
    "mice": "mouse",
}


@lru_cache(maxsize=65536)
def fold(word: str) -> str:
    """A word without case, accents and apostrophes: `Won’t` is `wont`, `Épicéa` is `epicea`."""
    text = word.casefold()
    if not text.isascii():
        text = unicodedata.normalize("NFKD", text)
        text = "".join(ch for ch in text if not unicodedata.combining(ch))
    for mark in APOSTROPHES:
        text = text.replace(mark, "")
    return text


@lru_cache(maxsize=65536)
def stem(word: str) -> str:
    """A folded word without its possessive or plural ending: `hollies` is `holly`, `neighbor's` is `neighbor`."""
    text = word.casefold()
    for mark in APOSTROPHES[1:]:
        text = text.replace(mark, "'")
    text = text.removesuffix("'s").removesuffix("s'") if text.endswith(("'s", "s'")) else text
    return singular(fold(text))


def singular(text: str) -> str:
    """A folded word without a regular plural ending."""
    if text in _IRREGULAR:
        return _IRREGULAR[text]
    if len(text) < _SHORTEST_PLURAL or not text.endswith("s") or text.endswith(_PLURAL_KEEP):
        return text
    if text.endswith("ies") and len(text) > _SHORTEST_PLURAL:
        return text[:-3] + "y"
    if text.endswith(("ches", "shes", "xes", "sses", "zes")):
        return text[:-2]
    return text[:-1]
