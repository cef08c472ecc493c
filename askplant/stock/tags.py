"""A nursery's tags held against the cards: where the label's size and the grown size tell different stories."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Literal, NamedTuple

from askplant.base.opened import Base
from askplant.stock.stock import Line, Stock

Axis = Literal["height", "width"]
AXES: tuple[Axis, Axis] = ("height", "width")
# Publishers differ among themselves by 1.56 (nine in ten pairs of the published heights), so that a tag that differs by no more
# than this tells the same story.
STORY = 1.6

Range = tuple[float, float]


class Tag(NamedTuple):
    """One tag that differs: the line, the axis, what the tag says, what the card has as grown and as the most when old (m).

    `by_list` is false where the list gives no size and the size is the one that tags usually give. `smaller` says whether the
    tag promises a smaller plant than the grown one.
    """

    line: Line
    axis: Axis
    says: Range
    grown: Range
    old: float | None
    smaller: bool
    by_list: bool


class Checked(NamedTuple):
    """What came of a list: the tags that differ, and how many were held against a card, agreed, and could not be held."""

    tags: tuple[Tag, ...]
    held: int
    agreed: int
    unknown: int


def checked(stock: Stock, base: Base) -> Checked:
    """Every sure line's sizes held against its card; without a size in the list, what tags usually say of that plant."""
    tags: list[Tag] = []
    held = agreed = unknown = 0
    seen: set[tuple[int, Any]] = set()
    for line in stock.lines:
        if line.sureness != "sure" or (line.plants[0], line.tag) in seen:
            continue
        seen.add((line.plants[0], line.tag))
        found = list(_held(line, base))
        differing = [tag for tag in found if tag is not None]
        tags += differing
        held += bool(found)
        agreed += bool(found) and not differing
        unknown += not found
    return Checked(tuple(tags), held, agreed, unknown)


def _held(line: Line, base: Base) -> Iterator[Tag | None]:
    """Each axis that both the tag and the card speak of: the difference, or None where there is none."""
    card = base.resolved(line.plants[0])
    given = any(line.tag)
    for axis, own in zip(AXES, line.tag, strict=True):
        says = own if given else _range(card.get(f"{axis}_label"))
        grown, old = _range(card.get(f"{axis}_grown")), _range(card.get(f"{axis}_old"))
        if says is None or grown is None:
            continue
        middle, full = sum(says) / 2, sum(grown) / 2
        apart = max(middle, full) > STORY * min(middle, full)
        yield Tag(line, axis, says, grown, old[1] if old else None, middle < full, given) if apart else None


def _range(value: Any) -> Range | None:
    return (value.low, value.high) if value is not None and value.low is not None else None
