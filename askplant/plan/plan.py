"""A plan as plain data: plants are numbers, lengths metres, times years after planting; nothing is worded.

A Plan is a whole screen; where none is possible a Refusal says what stands in the way and what would clear it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, NamedTuple

from askplant.plan.growing import Band, Span
from askplant.plan.tables import Shares, Way
from askplant.quantities.lengths import Units
from askplant.stock import Offer, Stock
from askplant.verdicts.cautions import Caution
from askplant.verdicts.verdict import Judgement

RowsOf = Literal["single", "staggered"]
DEFAULT_CONSIDER = 40
# The years that are drawn and told.
YEARS = (0, 3, 5, 10, 20)


@dataclass(frozen=True, slots=True)
class Options:
    """What of a plan can be chosen: rows, spacing, shares (None: those of planning.toml), and how many of the matches are
    considered.
    """

    rows: RowsOf = "single"
    spacing: Way = "usual"
    shares: Shares | None = None
    consider: int = DEFAULT_CONSIDER


class Goal(NamedTuple):
    """What the screen is to be. `reach` is the height to come to, `top` and `depth` the most height and depth asked, `spot`
    the place along the run that matters most; `*_said` tells what the request said from what is usual. `light` and
    `moisture` are the classes asked for, empty where none were; `dry` says that the ground was called dry;
    `about_*` are the sizes asked of which `top` and `depth` are what `about` allows; `budget` is the most all may cost;
    `wires` says that it stands under power lines.
    """

    run: float
    reach: float
    reach_said: bool
    by_year: float | None
    top: float | None
    depth: float | None
    spot: float
    spot_said: bool
    use: Literal["screen", "hedge"]
    light: frozenset[str]
    moisture: frozenset[str]
    dry: bool
    one_kind: bool
    units: Units
    about_height: float | None = None
    about_width: float | None = None
    budget: float | None = None
    wires: bool = False


class Held(NamedTuple):
    """How a plant is kept to a bound: at that size, so much cut a year, in one cut or two, when, never into bare wood."""

    axis: Literal["height", "width"]
    at: float
    cut: float
    cuts: int
    when: str
    green_only: bool


class Outgrown(NamedTuple):
    """A bound that a plant passes within twenty years if nobody prunes, by how much at its usual size, and how it is held
    there; None where it cannot reasonably be.
    """

    axis: Literal["height", "width"]
    bound: float
    by: float
    hold: Held | None


class Kind(NamedTuple):
    """One kind of plant in the row (and one container, with a stock list): how many, its room along the run, its rank and
    fit in the answer, its worth, how dependable it is, and how it grows. `heights` and `widths` stand in the order of YEARS.
    `cares` are the conditions, by index, that it meets with care only, with their judgements; `unknowns` those of which
    nothing is known.
    """

    plant: int
    number: int
    room: float
    rank: int
    fit: float
    worth: float
    dependable: float
    persistence: str | None
    form: str | None
    reaches: Span
    heights: tuple[Band, ...]
    widths: tuple[Band, ...]
    then: Band | None
    outgrown: tuple[Outgrown, ...]
    prune_when: str | None
    cares: tuple[tuple[int, Judgement], ...]
    unknowns: tuple[int, ...]
    cautions: tuple[Caution, ...]
    offer: Offer | None


class Position(NamedTuple):
    """One plant: its kind (index in Plan.kinds), the distance of its trunk from the start, and its row (0 front, 1 back)."""

    kind: int
    at: float
    row: int


class Overgrown(NamedTuple):
    """A kind, by index, that a wider neighbour of another kind reaches over, and from which year on."""

    kind: int
    by: int
    year: float


class Substitute(NamedTuple):
    """A plant of which stock has too few: how many were wanted and are there, and the plants that stand in, with counts."""

    plant: int
    wanted: int
    there: int
    instead: tuple[tuple[int, int], ...]


class Concern(NamedTuple):
    """One caution of the whole plan: what it is about, lengths and plants to fill it with."""

    about: str
    lengths: tuple[float, ...] = ()
    plants: tuple[int, ...] = ()


class Bed(NamedTuple):
    """The one bed of a row: a class of light and one of moisture that suit all plants, None where no card says; `watered`
    that some plant suffers in drought. `bears` are the plants that only tolerate one of these classes, `silent` those of
    which the card does not say.
    """

    light: str | None
    moisture: str | None
    watered: bool
    bears: tuple[int, ...] = ()
    silent: tuple[int, ...] = ()


class Plan(NamedTuple):
    """A whole screen. `open_ends` is the length left open at both ends together, `objective` the worth of all plants in
    metres of the best screen, `of` how many plants were considered; `same_genus` counts neighbours of one genus,
    `overgrown` tells which grow over one another within ten years, `stretches` in how many parts the row was ordered, `proved`
    whether no search was broken off; `best`
    is the kind that is to cover the spot and `off_spot` how far it stands from doing so. `closing` is when neighbouring
    widths meet all along the row, `reaches` when the last plant comes to the height, `total` the cost of those with a price,
    `unpriced` how many have none; `told` holds what planning.toml says of its numbers, by table.
    """

    goal: Goal
    options: Options
    shares: Shares
    caps: tuple[int, int, int]
    kinds: tuple[Kind, ...]
    positions: tuple[Position, ...]
    apart_rows: float
    open_ends: float
    closing: Span
    reaches: Span
    bed: Bed
    best: int
    off_spot: float
    same_genus: int
    overgrown: tuple[Overgrown, ...]
    stretches: int
    proved: bool
    objective: float
    of: int
    set_aside: tuple[tuple[str, int], ...]
    concerns: tuple[Concern, ...]
    stock: Stock | None
    substitutes: tuple[Substitute, ...]
    total: float | None
    unpriced: int
    told: Mapping[str, Mapping[str, str]]


class Refusal(NamedTuple):
    """Why no plan is possible: a code, lengths and counts to fill it with, and what would make one possible. `loosen` says
    that the answer's own compromises do; `stock` is the list that was planned with, `amounts` are prices.
    """

    code: str
    lengths: tuple[float, ...] = ()
    counts: tuple[int, ...] = ()
    set_aside: tuple[tuple[str, int], ...] = ()
    shares: Shares | None = None
    loosen: bool = False
    stock: Stock | None = None
    amounts: tuple[float, ...] = ()
