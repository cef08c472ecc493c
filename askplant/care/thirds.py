"""Times of the year in thirds of a month: 0 is early January, 35 late December. Early is the 1st to the 10th, mid the 11th to
the 20th, late the rest. A third counted on from year 0 (36 a year) is a moment.
"""

from __future__ import annotations

import calendar
from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from typing import NamedTuple

from askplant.quantities import months

YEAR = 36
PARTS = ("early", "mid", "late")
_STARTS = (1, 11, 21)


class Span(NamedTuple):
    """A run of thirds that may go over the new year: the first one (0 to 35) and how many (1 to 36)."""

    first: int
    length: int

    @property
    def last(self) -> int:
        """The third in which it ends."""
        return (self.first + self.length - 1) % YEAR

    @property
    def thirds(self) -> tuple[int, ...]:
        """Every third of it, in order."""
        return tuple((self.first + step) % YEAR for step in range(self.length))

    @property
    def months(self) -> tuple[int, ...]:
        """The months (1 to 12) that it touches, in order."""
        return tuple(dict.fromkeys(third // 3 + 1 for third in self.thirds))

    def __contains__(self, third: object) -> bool:
        return isinstance(third, int) and (third - self.first) % YEAR < self.length


def span(first: int, last: int) -> Span:
    """From one third to another, over the new year where need be; both may lie outside 0 to 35."""
    return Span(first % YEAR, min((last - first) % YEAR + 1, YEAR))


def bounded(first: int, last: int) -> Span | None:
    """From one third to another that must not come before it; None where it does."""
    return None if last < first else Span(first % YEAR, min(last - first + 1, YEAR))


def of_months(numbers: Iterable[int]) -> tuple[Span, ...]:
    """The runs of months as spans, in the order in which they begin."""
    return runs({(number - 1) * 3 + part for number in numbers for part in range(3)})


def runs(thirds: Iterable[int]) -> tuple[Span, ...]:
    """The runs in a set of thirds; a run over the new year is one."""
    present = set(thirds)
    if len(present) == YEAR:
        return (Span(0, YEAR),)
    starts = sorted(third for third in present if (third - 1) % YEAR not in present)
    return tuple(Span(start, _length(start, present)) for start in starts)


def _length(start: int, present: set[int]) -> int:
    count = 1
    while (start + count) % YEAR in present:
        count += 1
    return count


def without(one: Span, others: Iterable[Span]) -> tuple[Span, ...]:
    """What is left of a span, in the order of its thirds."""
    out = {third for other in others for third in other.thirds}
    kept = [third for third in one.thirds if third not in out]
    return tuple(sorted(runs(kept), key=lambda left: (left.first - one.first) % YEAR))


def of_date(day: date) -> int:
    """The moment of a day."""
    return day.year * YEAR + (day.month - 1) * 3 + min((day.day - 1) // 10, 2)


def starts(moment: int) -> date:
    """The first day of a moment."""
    third = moment % YEAR
    return date(moment // YEAR, third // 3 + 1, _STARTS[third % 3])


def ends(moment: int) -> date:
    """The last day of a moment."""
    return starts(moment + 1) - timedelta(days=1)


def of_words(text: str) -> int:
    """`mid August` → its third. ValueError for anything else."""
    part, _, month = text.partition(" ")
    named = months.of_word(month)
    if part not in PARTS or named is None or len(named) != 1:
        raise ValueError("a third of a month (early April, mid August)")
    return (named[0] - 1) * 3 + PARTS.index(part)


def say(third: int) -> str:
    """`mid August`."""
    return f"{PARTS[third % 3]} {calendar.month_name[third // 3 + 1]}"


def say_span(one: Span) -> str:
    """`late March to mid May`; `May` where it is the whole month, `May to July` for whole months."""
    if one.length == YEAR:
        return "all year"
    whole = one.first % 3 == 0 and one.last % 3 == 2
    ends_ = [calendar.month_name[third // 3 + 1] if whole else say(third) for third in (one.first, one.last)]
    return ends_[0] if ends_[0] == ends_[1] else f"{ends_[0]} to {ends_[1]}"


def moments(one: Span, first: int) -> Iterator[int]:
    """The moments from one on at which a span begins, without end."""
    start = first + (one.first - first) % YEAR
    while True:
        yield start
        start += YEAR
