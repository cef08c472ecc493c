"""One plant held at a size: whether that is reasonable and why not, what it takes, and when it begins."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from askplant.answer.compose import Answering
from askplant.growth.course import Span, course
from askplant.growth.known import known, middle
from askplant.verdicts import cautions as cautions_
from askplant.verdicts.cautions import Caution
from askplant.verdicts.columns import columns_of
from askplant.verdicts.holding import Hold, Reason, Size, held, least, why_not, years_down
from askplant.verdicts.sizes import TOLERANCE, size_of

# Cautions that matter to whoever cuts.
TO_CUTTERS = frozenset({"toxic", "thorns"})


class Kept(NamedTuple):
    """A plant to be held at `at` metres, high or wide.

    `takes` is what it would take, reasonable or not (None: nothing is known of its size); `reasons` is why it is not
    reasonable, `least` the smallest size that would be. `begins` are the years until it stands so high, `down` the years in
    which a grown plant is brought down to it; `blooms` are months; `runs` is whether it is a bamboo that spreads by runners.
    """

    plant: int
    at: float
    size: Size
    takes: Hold | None
    reasons: tuple[Reason, ...]
    least: float | None
    begins: Span | None
    down: int
    blooms: tuple[int, ...]
    cautions: tuple[Caution, ...]
    runs: bool

    @property
    def needed(self) -> bool:
        """Whether it ever comes to that size."""
        return self.begins is None or self.begins.soonest is not None

    @property
    def seldom(self) -> bool:
        """Whether only good growth brings it to that size."""
        return self.begins is not None and self.begins.soonest is not None and self.begins.usual is None


def keep(base: Answering, n: int, axis: str, at: float) -> Kept:
    """What holding a plant's `height` or `width` at a size in metres comes to."""
    columns, knows = columns_of(base), known(base, n, axis)
    size = size_of(axis, columns.value(axis, n), knows)
    found = course(base, n, axis)
    begins = found.years_to(at) if found is not None else None
    stays = begins is not None and begins.usual is None  # what it usually stays within is no matter of cutting
    months: Sequence[int] = columns.value("bloom", n)[0] or ()
    return Kept(
        n,
        at,
        size,
        held(size, at) if found is not None else None,
        () if stays else why_not(size, at + TOLERANCE),
        least(size),
        begins,
        years_down(middle(knows.grown), at) if knows.grown is not None else 0,
        tuple(months),
        tuple(
            caution
            for caution in cautions_.cautions(columns.values(cautions_.READS, n), None)
            if caution.about in TO_CUTTERS
        ),
        knows.habit == "bamboo" and columns.value("suckers", n)[0] == "many",
    )
