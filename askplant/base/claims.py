"""The vocabulary of claims in plant names: `name_claims.toml` → one row a word.

A Latin word is written in the masculine and stands for all genders (-us -a -um, -is -e; Stearn, Botanical Latin).
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from askplant.base import tables
from askplant.base.names import words_of
from askplant.base.tables import Table

NAME = "name_claims.toml"
KINDS = ("latin", "english", "kinship")
FIELDS = {"claim", "kind", "words", "source"}
GENDERS = {"us": ("us", "a", "um"), "is": ("is", "e")}


class Claim(NamedTuple):
    """A word as names fold it, what it claims, where it claims it, and who says so."""

    word: str
    claim: str
    kind: str
    source: str


def rows(folder: Path) -> Iterator[Claim]:
    """Each word of the traits folder's claims once, the first table that has it counting; none where the file is
    missing.

    CardError says what is wrong with it.
    """
    seen: set[tuple[str, str]] = set()
    path = folder / NAME
    for table in tables.read(path, f"{folder.name}/{NAME}") if path.exists() else ():
        _check(table)
        for written in table.fields["words"]:
            for word in _forms(written, table.fields["kind"]):
                if (word, table.fields["kind"]) not in seen:
                    seen.add((word, table.fields["kind"]))
                    yield Claim(word, table.fields["claim"], table.fields["kind"], table.fields["source"])


def _check(table: Table) -> None:
    if set(table.fields) != FIELDS:
        raise table.fault(f"[{table.name}] with {', '.join(sorted(table.fields))}", "claim, kind, words and source")
    if table.fields["kind"] not in KINDS:
        raise table.fault(f"kind {table.fields['kind']!r}", f"one of {', '.join(KINDS)}")
    words = table.fields["words"]
    if not isinstance(words, list) or not all(isinstance(word, str) and word for word in words):
        raise table.fault("words that are no list of words", 'words = ["…"]')


def _forms(written: str, kind: str) -> tuple[str, ...]:
    ending = written[-2:]
    if kind != "latin" or ending not in GENDERS:
        forms: tuple[str, ...] = (written,)
    else:
        forms = tuple(written[:-2] + other for other in GENDERS[ending])
    return tuple(" ".join(words_of(form)) for form in forms)
