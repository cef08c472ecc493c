"""Alternatives: values of one trait in one condition, different traits that need only one of them to hold."""

from __future__ import annotations

from typing import TYPE_CHECKING

from askplant.reading.elements import Element, says_no
from askplant.reading.meanings import (
    is_or,
    mergeable,
    merged,
)
from askplant.reading.reading import Condition

if TYPE_CHECKING:
    from askplant.reading.conditions import Maker


def joined(maker: Maker) -> None:
    """Join what is said as alternatives: values of one trait in one condition, different traits by an `either` number."""
    out: list[tuple[Condition, Element]] = []
    for condition, element in maker.sources:
        if out and _joined_to(out[-1], (condition, element)):
            before, owner = out[-1]
            if mergeable(before, condition, element.joint):
                out[-1] = (merged(before, condition, maker.request), element)
                continue
            if (
                is_or(element)
                and not says_no(owner)
                and before.trait != condition.trait
                and before.test == "any_of" == condition.test
            ):
                before, condition = _either(maker, before, condition)
                out[-1] = (before, owner)
        out.append((condition, element))
    maker.sources = out


def _either(maker: Maker, before: Condition, condition: Condition) -> tuple[Condition, Condition]:
    if before.trait == "kind" or condition.trait in ("kind", "size"):
        return before, condition
    if before.either is None:
        maker.either += 1
    number = before.either or maker.either
    return before._replace(either=number), condition._replace(either=number)


def _joined_to(before: tuple[Condition, Element], after: tuple[Condition, Element]) -> bool:
    return before[1].island == after[1].island
