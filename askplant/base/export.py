"""The export: every value of every plant as rows, in the published form, and as CSV."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator
from typing import TextIO

from askplant.base.opened import Base, Row

HEADER = Row._fields

# Sentences a card gives for the answer, not facts about the plant; the published form does not list them.
NOT_PUBLISHED = frozenset(("virtue", "drawback", "remedy"))


def rows(base: Base, plants: Iterable[int] | None = None) -> Iterator[Row]:
    """The rows of the given plants, or of all in order of id."""
    for n in range(base.count) if plants is None else plants:
        for row in base.rows(n):
            if row.trait not in NOT_PUBLISHED:
                yield row


def cells(row: Row) -> tuple[str, ...]:
    """A row as text: numbers in the fewest digits, what is not known as nothing."""
    return tuple(_number(cell) if isinstance(cell, float) else cell or "" for cell in row)


def write_csv(base: Base, stream: TextIO, plants: Iterable[int] | None = None) -> int:
    """Header and rows to a stream opened with newline=""; how many rows they were."""
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(HEADER)
    count = 0
    for row in rows(base, plants):
        writer.writerow(cells(row))
        count += 1
    return count


def _number(number: float) -> str:
    return f"{number:.4f}".rstrip("0").rstrip(".")
