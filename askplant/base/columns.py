"""A column of the base in the form it is stored in: what the judge of one condition reads of every plant.

It is written as Python's own values (`marshal`), which are there four times as soon as JSON: reading columns was a tenth of the
time that a command takes.
"""

from __future__ import annotations

import json
import marshal
from collections.abc import Sequence
from typing import Any

# The form of `marshal` that every Python from 3.4 on reads.
FORM = 4
# A set of up to so many plants is written as their numbers, a larger one by its bits.
FEW = 4

Column = tuple[tuple[list[Any], int], ...]


def stored(traits: Sequence[Sequence[str]]) -> bytes:
    """The column of some traits, each given as the JSON of its value plant by plant: the distinct tuples of values, and of each
    its plants: the number of one, the numbers of a few, or the bits of many (bit n is plant n).
    """
    having: dict[tuple[str, ...], list[int]] = {}
    for plant, row in enumerate(zip(*traits, strict=True)):
        having.setdefault(row, []).append(plant)
    values = {text: json.loads(text) for text in {text for row in having for text in row}}  # each is written once
    rows = [[values[text] for text in row] for row in having]
    return marshal.dumps((rows, [_set(some) for some in having.values()]), FORM)


def distinct(column: bytes) -> Column:
    """Each distinct tuple of values with the set of its plants."""
    rows, plants = marshal.loads(column)
    return tuple(zip(rows, [1 << some if some.__class__ is int else _bits(some) for some in plants], strict=True))


def _set(plants: Sequence[int]) -> int | tuple[int, ...] | bytes:
    """The set of some plants, lowest first."""
    if len(plants) == 1:
        return plants[0]
    if len(plants) <= FEW:
        return tuple(plants)
    whole = bytearray((plants[-1] >> 3) + 1)
    for plant in plants:
        whole[plant >> 3] |= 1 << (plant & 7)
    return bytes(whole)


def _bits(plants: tuple[int, ...] | bytes) -> int:
    if isinstance(plants, bytes):
        return int.from_bytes(plants, "little")
    bits = 0
    for plant in plants:
        bits |= 1 << plant
    return bits
