"""Which of the matches can stand in the screen, and what each is worth there.

A candidate meets every must (it is a match of the answer), keeps something to hide behind in winter or at least in
leaf, stands by itself, and usually comes to the height asked for within twenty years. Its worth runs from 0 to 1, by
the weights of planning.toml:

    fit          the answer's own, 0 to 1
    dependable   how little trouble it gives
    ease         how little has to be cut a year to keep it to the height and depth asked
    hides        leaf in winter times density
    soon         its height by the year asked for (ten years where none is), as a share of the height to come to

less something where it is hardy on the site with care only, or stands its ground or its wires so.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any, NamedTuple, Protocol

from askplant.answer.answer import Answer, Match
from askplant.answer.rank import kin_of
from askplant.plan.growing import Course, course
from askplant.plan.plan import Goal
from askplant.plan.spacing import room
from askplant.plan.tables import Worth
from askplant.reading.reading import Condition
from askplant.stock import Offer
from askplant.verdicts.columns import columns_of
from askplant.verdicts.holding import MOST_A_YEAR, Size, hold, yearly_cut
from askplant.verdicts.sizes import TOLERANCE, one, size_of
from askplant.verdicts.uses import HIDING, UNDER_WIRES, WEEPING, WIRES_SOME

# Within these years a plant has to come to the height, those of its grown size; where a year is asked, within three times
# that: larger plants to start with make up for some of it, not for more. Common practice.
IN_TIME, LATE = 20.0, 3.0
# Where no year is asked, and for what neighbours do to one another:
# the measured 'Green Giant' hedge had closed ten years on (US National Arboretum).
SOON = 10.0
# Common practice: what a leaf hides in winter, and a crown of that density.
LEAFY = {"evergreen": 1.0, "semi-evergreen": 0.7, "deciduous": 0.3}
DENSE = {"dense": 1.0, "medium": 0.75}
SILENT = 0.5
# No lasting wall of leaf: they climb on something else, or the top is gone in winter.
LEANING, SOFT = "vine", frozenset({"perennial", "grass", "fern", "bulb", "annual"})

# What the site asks of every plant of a row, and the weight that is taken off for meeting it with care only.
STRAINS = {"zone": "tender", "moisture": "ground"}


class Candidate(NamedTuple):
    """One plant as the choice sees it. `light`, `moisture` and `drought` are None where the card does not say; `limit` is
    how many there are, None without a stock list; `value` is what one plant is worth, in metres of the best screen. `tall` and
    `wide` are what it usually is ten years on, before which neighbours must not grow over one another.
    """

    plant: int
    genus: str
    species: str
    family: str
    room: float
    worth: float
    value: float
    dependable: float
    rank: int
    light: frozenset[str] | None = None
    moisture: frozenset[str] | None = None
    drought: str | None = None
    limit: int | None = None
    offer: Offer | None = None
    tall: float = 0.0
    wide: float = 0.0


class Screening(NamedTuple):
    """A match that can screen, with what is known of its growth, and the weights that it pays for what the site asks of it."""

    match: Match
    height: Course
    width: Course
    sizes: tuple[Size, Size]
    strained: frozenset[str]


class Planted(Protocol):
    """What a plan needs of a base."""

    count: int
    everyone: int

    def judged(self, condition: str) -> Sequence[tuple[list[Any], int]]: ...
    def plant(self, n: int) -> Any: ...
    def resolved(self, n: int) -> dict[str, Any]: ...
    def observations(self, n: int) -> Sequence[Any]: ...
    def __hash__(self) -> int: ...


def screening(
    answer: Answer,
    base: Planted,
    goal: Goal,
    consider: int | None,
    among: frozenset[int] | None = None,
    tight: bool = False,
) -> tuple[list[Screening], tuple[tuple[str, int], ...]]:
    """The matches that can screen, best rank first and at most `consider` (None: all), and how many were set aside for
    what. `among` are the plants of a stock list; `tight` leaves out what cannot be held to the depth, which two rows share.
    """
    found: list[Screening] = []
    aside: Counter[str] = Counter()
    for match in answer.matches:
        if among is not None and match.plant not in among:
            continue
        if consider is not None and len(found) == consider:
            break
        one = _screens(match, base, goal, tight, _strained(match, answer))
        if isinstance(one, str):
            aside[one] += 1
        else:
            found.append(one)
    return found, tuple(sorted(aside.items()))


def _screens(match: Match, base: Planted, goal: Goal, tight: bool, strained: frozenset[str]) -> Screening | str:
    """The match with its growth, or why it cannot stand in the screen."""
    columns, n = columns_of(base), match.plant
    kinds = frozenset(columns.value("kind", n)[0] or ())
    persistence = one(columns.value("persistence", n)[0])
    if LEANING in kinds:
        return "climbs"
    if persistence == "dies back" or (kinds and kinds <= SOFT):
        return "dies back"
    if one(columns.value("density", n)[0]) == "open":
        return "open"
    if WEEPING in (columns.value("form", n)[0] or ()) and HIDING.isdisjoint(columns.value("use", n)[0] or ()):
        return "weeping"
    height, width = course(base, n, "height"), course(base, n, "width")
    if height is None or width is None:
        return "size unknown"
    usual, tall = height.years_to(goal.reach - TOLERANCE).usual, columns.value("height", n)[0]
    if usual is None or usual > IN_TIME:
        return "too short"
    if goal.wires and tall is not None and tall[1] > WIRES_SOME + TOLERANCE:
        return "wires"
    if goal.by_year is not None and usual > LATE * goal.by_year:
        return "too slow"
    sizes = tuple(size_of(axis, columns.value(axis, n)) for axis in ("height", "width"))
    wide = sizes[1].grown
    if (
        tight
        and goal.depth is not None
        and wide
        and wide[1] > goal.depth + TOLERANCE
        and hold(sizes[1], goal.depth) is None
    ):
        return "too wide"
    return Screening(match, height, width, (sizes[0], sizes[1]), strained)


def _strained(match: Match, answer: Answer) -> frozenset[str]:
    """The weights it pays for what it meets with care only of what the site asks of every plant of the row."""
    return frozenset(
        weight
        for condition, judgement in zip(answer.reading.conditions, match.judgements, strict=True)
        if judgement.verdict == "with care" and (weight := _of_site(condition)) is not None
    )


def _of_site(condition: Condition) -> str | None:
    return "wires" if condition.trait == "use" and UNDER_WIRES in condition.values else STRAINS.get(condition.trait)


def candidate(
    screen: Screening, base: Planted, goal: Goal, share: float, worth: Worth, offer: Offer | None = None
) -> Candidate:
    """What the choice sees of a match; `share` of its grown width is its room."""
    columns, n = columns_of(base), screen.match.plant
    plant, size = base.plant(n), screen.sizes[1]
    assert size.grown is not None
    genus, species = kin_of(plant)
    length = room(size.grown, share, goal.units)
    value = (
        worth.fit * screen.match.fit
        + worth.dependable * screen.match.why.dependable
        + worth.ease * ease(screen.sizes, goal)
        + worth.hides * hides(one(columns.value("persistence", n)[0]), one(columns.value("density", n)[0]))
        + worth.soon * min(1.0, screen.height.at(goal.by_year or SOON).middle / goal.reach)
    )
    value = max(0.0, value - sum(getattr(worth, weight) for weight in sorted(screen.strained)))
    price = worth.price * (offer.price or 0.0) if offer is not None else 0.0
    return Candidate(
        plant=n,
        genus=genus,
        species=species,
        family=plant.family or f"family of {genus}",
        room=length,
        worth=round(value, 4),
        value=round(length * round(value, 4) - price, 6),
        dependable=screen.match.why.dependable,
        rank=screen.match.rank,
        light=_classes(columns.value("light", n)[0], goal.light),
        moisture=_classes(columns.value("moisture", n)[0], goal.moisture),
        drought=one(columns.value("drought", n)[0]),
        limit=offer.quantity if offer is not None else None,
        offer=offer,
        tall=screen.height.at(SOON).middle,
        wide=screen.width.at(SOON).middle,
    )


def ease(sizes: tuple[Size, Size], goal: Goal) -> float:
    """1 where nothing has to be cut to keep to the height and depth asked, 0 where it is as much as anyone would."""
    cut = 0.0
    for size, bound, sides in ((sizes[0], goal.top, 1), (sizes[1], goal.depth, 2)):
        if bound is not None and size.grown is not None and size.grown[1] > bound + TOLERANCE:
            cut += sides * yearly_cut(size, bound)
    return max(0.0, 1 - cut / MOST_A_YEAR)


def hides(persistence: str | None, density: str | None) -> float:
    """How well it hides what is behind it over the year, 0 to 1."""
    return LEAFY.get(persistence or "", SILENT) * DENSE.get(density or "", SILENT)


def _classes(value: Any, asked: frozenset[str]) -> frozenset[str] | None:
    """The classes it does well in, of those asked for where any were; a match with care does in all of these."""
    if not value:
        return None
    own = frozenset(value)
    return own if not asked else own & asked or asked
