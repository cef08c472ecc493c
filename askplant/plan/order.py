"""Where each plant stands: the order of least trouble, found exactly for counts that are given.

    minimise   1000 × each time the same plant stands more often side by side than the limit
             + 1000 × metres by which the plant that is to cover the spot misses it
             +   40 × pairs of neighbours of which one would grow over the other within ten years
             +   10 × pairs of neighbours of one genus
             +    5 × pairs of neighbours that are the same plant
             +    2 × times a plant stands next but one to the same plant
             +    1 × mean undependability of the plants within three places of it, the nearer the heavier

The most dependable plant is to cover the spot that matters most: the spot lies in its room. No two of a genus need stand
side by side while no genus takes more than half of the row, rounded up. Lengths are metres.

A row of more than STRETCH plants is parted into stretches of one mix, each ordered exactly behind the one before: the work
grows with the length then, where a whole row's would grow far faster.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise
from typing import NamedTuple

from askplant.plan.program import ANY, Program, Searches
from askplant.plan.spacing import clash

TOO_LONG, OFF_SPOT, CLASH, SAME_GENUS, SAME_PLANT, TWO_APART, NEAR = 1000.0, 1000.0, 40.0, 10.0, 5.0, 2.0, 1.0
NEIGHBOURS = 3
# The most plants that are ordered at once: about a tenth of a second.
STRETCH = 40
_HAIR = 1e-3


class Sort(NamedTuple):
    """One kind of plant that is to be set: how many, their room, their kin, how dependable they are, and how tall and wide
    they are ten years on.
    """

    plant: int
    genus: str
    room: float
    dependable: float
    number: int
    tall: float = 0.0
    wide: float = 0.0


class Ordered(NamedTuple):
    """The kinds in order along the run, by index; the place of the plant that is to cover the spot, by how much it misses
    it, and what the order costs.
    """

    order: tuple[int, ...]
    place: int
    off: float
    cost: float


def ordered(
    sorts: Sequence[Sort], best: int, spot: float, longest: int, apart: float = 0.0, searches: Searches | None = None
) -> Ordered:
    """The order of least cost. `best` is the index of the kind that is to cover the spot, `spot` its distance from the
    start of the first room, `longest` how often the same plant may stand side by side, `apart` the distance between two rows.

    The place in the row, or in its stretch, is the one where the spot would fall if the kinds were evenly mixed; other
    places are tried, the nearest first, only where the plant cannot cover the spot from there.
    """
    parts, spotted = _stretches(sorts, best, spot)
    back = max(longest, 2) if longest < sum(sort.number for sort in sorts) else 2
    order: tuple[int, ...] = ()
    place = 0
    for n, part in enumerate(parts):
        behind = order[-back:]
        if n == spotted:
            start = sum(sorts[kind].room for kind in order)
            found, at = _covering(part, best, spot - start, longest, behind, apart, searches)
            place = len(order) + at
            order += found
        else:
            order += _solved(part, longest, behind, apart, searches)
    off = off_spot(sorts, order, place, spot)
    return Ordered(order, place, off, cost(sorts, order, place, spot, longest, apart))


def stretches(number: int) -> int:
    """In how many stretches a row of so many plants is ordered."""
    return -(-number // STRETCH)


def _stretches(sorts: Sequence[Sort], best: int, spot: float) -> tuple[list[list[Sort]], int]:
    """The kinds of each stretch, mixed evenly, and the stretch that holds the spot, in which one of the best kind stands."""
    many = stretches(sum(sort.number for sort in sorts))
    numbers = [[_part(sort.number, n + 1, many) - _part(sort.number, n, many) for sort in sorts] for n in range(many)]
    ends = list(accumulate(sum(sort.room * n for sort, n in zip(sorts, part, strict=True)) for part in numbers))
    spotted = next((n for n, end in enumerate(ends) if spot <= end), many - 1)
    if not numbers[spotted][best]:
        giver = min((n for n in range(many) if numbers[n][best]), key=lambda n: (abs(n - spotted), n))
        other = max(range(len(sorts)), key=lambda kind: numbers[spotted][kind])
        for kind, step in ((best, 1), (other, -1)):
            numbers[spotted][kind] += step
            numbers[giver][kind] -= step
    return [
        [sort._replace(number=number) for sort, number in zip(sorts, part, strict=True)] for part in numbers
    ], spotted


def _part(number: int, parts: int, many: int) -> int:
    """So many plants of some kind in the first of many even parts, to the nearest whole one."""
    return (2 * number * parts + many) // (2 * many)


def _covering(
    sorts: Sequence[Sort],
    best: int,
    spot: float,
    longest: int,
    behind: Sequence[int],
    apart: float,
    searches: Searches | None,
) -> tuple[tuple[int, ...], int]:
    """The order of least cost that covers the spot, and the place of the plant that does."""
    found: tuple[float, tuple[int, ...], int] | None = None
    for place in places(sorts, spot):
        order = _solved(sorts, longest, behind, apart, searches, best, place, spot)
        price = cost(sorts, order, place, spot, longest, apart)
        if found is None or price < found[0]:
            found = price, order, place
        if off_spot(sorts, order, place, spot) < _HAIR:
            break
    assert found is not None, "any order of the plants is an order"
    return found[1], found[2]


def places(sorts: Sequence[Sort], spot: float) -> list[int]:
    """Every place in the row, beginning where the spot falls in an even mix of the kinds."""
    number = sum(sort.number for sort in sorts)
    even = spot / sum(sort.room * sort.number for sort in sorts) * number - 0.5
    return sorted(range(number), key=lambda place: (abs(place - even), place))


def cost(
    sorts: Sequence[Sort], order: Sequence[int], place: int, spot: float, longest: int, apart: float = 0.0
) -> float:
    """What an order costs, as written above, with the plant at one place measured against the spot."""
    plants = [sorts[index] for index in order]
    too_long = sum(
        len({plant.plant for plant in plants[start : start + longest + 1]}) == 1
        for start in range(len(plants) - longest)
    )
    pairs = sum(one.genus == other.genus for one, other in pairwise(plants))
    clashes = sum(clash(one, other, apart) for one, other in pairwise(plants))
    alike = sum(one.plant == other.plant for one, other in pairwise(plants))
    two_apart = sum(one.plant == other.plant for one, other in zip(plants, plants[2:], strict=False))
    near = sum(n * (1 - plant.dependable) for n, plant in zip(_nearness(place, len(plants)), plants, strict=True))
    return (
        TOO_LONG * too_long
        + OFF_SPOT * off_spot(sorts, order, place, spot)
        + CLASH * clashes
        + SAME_GENUS * pairs
        + SAME_PLANT * alike
        + TWO_APART * two_apart
        + NEAR * near
    )


def off_spot(sorts: Sequence[Sort], order: Sequence[int], place: int, spot: float) -> float:
    """How far the spot lies outside the room of the plant at a place."""
    start = sum(sorts[index].room for index in order[:place])
    return max(0.0, start - spot, spot - start - sorts[order[place]].room)


def _nearness(place: int, number: int) -> list[float]:
    """How much each place weighs beside one, falling off with distance; together 1."""
    away = [abs(other - place) for other in range(number)]
    near = [1 / (1 + places) if places <= NEIGHBOURS else 0.0 for places in away]
    return [one / sum(near) for one in near]


def _solved(
    sorts: Sequence[Sort],
    longest: int,
    behind: Sequence[int],
    apart: float,
    searches: Searches | None,
    best: int | None = None,
    place: int = 0,
    spot: float = 0.0,
) -> tuple[int, ...]:
    """The order of least cost behind some plants that stand already; of the best kind at one place, where one is given."""
    program, number = Program(searches), sum(sort.number for sort in sorts)
    near = _nearness(place, number) if best is not None else [0.0] * number
    before = [[program.number(1) for _ in sorts] for _ in behind]
    for standing, kind in zip(before, behind, strict=True):
        for other, one in enumerate(standing):
            program.fix(one, float(other == kind))
    at = [[program.number(1, -NEAR * near[n] * (1 - sort.dependable)) for sort in sorts] for n in range(number)]
    for n in range(number):
        program.row(1, dict.fromkeys(at[n], 1.0), 1)
    for kind, sort in enumerate(sorts):
        program.row(sort.number, {at[n][kind]: 1.0 for n in range(number)}, sort.number)
    if best is not None:
        program.fix(at[place][best], 1.0)
        _hold_spot(program, sorts, at, place, spot, sorts[best].room)
    _hold_apart(program, sorts, [*before, *at], behind, longest)
    _hold_clashes(program, sorts, [*before, *at], apart)
    solved = program.solve()
    assert solved is not None, "any order of the plants is an order"
    return tuple(max(range(len(sorts)), key=lambda kind: solved.values[at[n][kind]]) for n in range(number))


def _hold_spot(
    program: Program, sorts: Sequence[Sort], at: Sequence[Sequence[int]], place: int, spot: float, room: float
) -> None:
    """How far the spot lies outside the room of the plant at a place: before it, or behind it."""
    before = {at[n][kind]: sort.room for n in range(place) for kind, sort in enumerate(sorts)}
    off = program.number(ANY, -OFF_SPOT, whole=False)
    program.row(-ANY, before | {off: -1.0}, spot)
    program.row(spot - room, before | {off: 1.0}, ANY)


def _hold_apart(
    program: Program, sorts: Sequence[Sort], at: Sequence[Sequence[int]], behind: Sequence[int], longest: int
) -> None:
    """Whatever the order costs beside the spot: each time plants of a group stand together in a window of places."""
    plants: dict[int, list[int]] = {}
    genera: dict[str, list[int]] = {}
    for kind, sort in enumerate(sorts):
        plants.setdefault(sort.plant, []).append(kind)
        genera.setdefault(sort.genus, []).append(kind)
    beside, two_apart, in_a_row = (0, 1), (0, 2), tuple(range(longest + 1))
    for groups, window, price in (
        (genera, beside, SAME_GENUS),
        (plants, beside, SAME_PLANT),
        (plants, two_apart, TWO_APART),
        (plants, in_a_row, TOO_LONG),
    ):
        for kinds in groups.values():
            if sum(sorts[kind].number + behind.count(kind) for kind in kinds) < len(window):
                continue
            for start in range(len(at) - window[-1]):
                together = {at[start + step][kind]: 1.0 for step in window for kind in kinds}
                over = program.number(1, -price, whole=False)
                program.row(-ANY, together | {over: -1.0}, len(window) - 1)


def _hold_clashes(program: Program, sorts: Sequence[Sort], at: Sequence[Sequence[int]], apart: float) -> None:
    """What neighbours cost of which one would grow over the other."""
    for kind, sort in enumerate(sorts):
        against = [other for other, one in enumerate(sorts) if clash(sort, one, apart)]
        for here, there in pairwise(at) if against else ():
            over = program.number(1, -CLASH, whole=False)
            program.row(-ANY, {here[kind]: 1.0, over: -1.0} | {there[other]: 1.0 for other in against}, 1)
