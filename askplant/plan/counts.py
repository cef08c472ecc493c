"""How many of each plant: the counts of greatest worth that fill the run and keep to the shares. Exact.

    maximise    Σ count × value − Σ prices    value: room × worth, less what a price takes off; the prices are those of a
                kind, of each plant by which a kind is fewer than two or a twentieth of a row of twenty or more, and of
                each two kinds of which one would grow over the other beside it
    where       Σ count × room ≤ run     and what is left open is at most the room of some plant that is used
                of a species, genus, family at most its share of all the plants, rounded down, never under one
                of a plant at most as many as are in stock, and Σ count × price at most what all may cost
                all plants do well in one class of light and one of moisture, and no plant that suffers in drought
                stands in a row with one that is planted for drought

Since the rooms add up to the run whatever the order, the order is found after the counts and loses nothing of this.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Sequence
from itertools import combinations
from typing import NamedTuple

from askplant.plan.candidates import Candidate
from askplant.plan.program import ANY, Program
from askplant.plan.shares import most
from askplant.plan.spacing import clash
from askplant.plan.tables import Shares

# Lengths are held to a millimetre.
HAIR = 1e-3
CENT = 0.005  # of money, what sums may be off by
# The two ways to water a row, each with the words of drought that it suits.
WATERING = {"watered": frozenset({"sensitive", "moderate"}), "unwatered": frozenset({"tolerant", "moderate"})}
KIN: tuple[Callable[[Candidate], str], ...] = (
    lambda one: one.species,
    lambda one: one.genus,
    lambda one: one.family,
)


# In a row of so many plants a kind of one is an oddity, and so is one of less than this share; common practice.
MANY, LEAST, SHARE = 20, 2, 20


class Prices(NamedTuple):
    """What is taken off the worth of a row, in metres of the best screen: for each kind, for each plant that a kind has too
    few, for each two kinds that clash in rows `apart` metres apart. `budget` is the most that all plants may cost, in the money
    of the stock list; a plant without a price counts as nothing.
    """

    kind: float = 0.0
    odd: float = 0.0
    clash: float = 0.0
    apart: float = 0.0
    budget: float | None = None


FREE = Prices()


def counts(
    candidates: Sequence[Candidate], run: float, shares: Shares, prices: Prices = FREE
) -> tuple[int, ...] | None:
    """How many of each candidate; None where nothing fills the run within the shares."""
    if not candidates or run < min(one.room for one in candidates) - HAIR:
        return None
    found = _solved(candidates, run, shares, prices, filled=False)
    if found is not None and is_filled(candidates, found, run):
        return found
    return _solved(candidates, run, shares, prices, filled=True)


def least(number: int) -> int:
    """The fewest of a kind that do not look odd in a row of so many plants."""
    return 1 if number < MANY else max(LEAST, number // SHARE)


def is_filled(candidates: Sequence[Candidate], found: Sequence[int], run: float) -> bool:
    """Whether what is left open is at most the room of some plant that is used."""
    left = run - sum(count * one.room for count, one in zip(found, candidates, strict=True))
    return left <= max((one.room for count, one in zip(found, candidates, strict=True) if count), default=0.0) + HAIR


def worth_of(candidates: Sequence[Candidate], found: Sequence[int], prices: Prices = FREE) -> float:
    """The objective: what all plants are worth together, less the prices, in metres of the best screen."""
    tally: Counter[int] = Counter()
    for count, one in zip(found, candidates, strict=True):
        tally[one.plant] += count
    kinds = {one.plant: one for one in candidates if tally[one.plant]}
    worth = sum(count * one.value for count, one in zip(found, candidates, strict=True))
    few = sum(max(0, least(tally.total()) - tally[plant]) for plant in kinds)
    pairs = sum(clash(one, other, prices.apart) for one, other in combinations(kinds.values(), 2))
    return worth - prices.kind * len(kinds) - prices.odd * few - prices.clash * pairs


def _solved(
    candidates: Sequence[Candidate], run: float, shares: Shares, prices: Prices, filled: bool
) -> tuple[int, ...] | None:
    longest = int((run + HAIR) / min(one.room for one in candidates))
    limits = [_limit(one, run, most(shares.species, longest)) for one in candidates]
    program = Program()
    places = [program.number(limit, one.value) for one, limit in zip(candidates, limits, strict=True)]
    rooms = {place: one.room for place, one in zip(places, candidates, strict=True)}
    program.row(0.0, rooms, run + HAIR)
    costs = {place: price_of(one) for place, one in zip(places, candidates, strict=True) if price_of(one)}
    if prices.budget is not None and costs:
        program.row(0.0, costs, prices.budget + CENT)
    numbers = _numbers(program, places, longest)
    _charge(program, places, candidates, limits, numbers, prices)
    _hold_shares(program, places, candidates, shares, numbers)
    for classes in (_lights, _moistures, _waterings):
        _hold_bed(program, places, candidates, limits, classes)
    if filled:
        _hold_filled(program, places, candidates, rooms, run)
    solved = program.solve()
    return None if solved is None else tuple(round(solved.values[place]) for place in places)


def price_of(one: Candidate) -> float:
    """What one plant costs, as far as the stock list tells."""
    return one.offer.price or 0.0 if one.offer is not None else 0.0


def _limit(one: Candidate, run: float, share: int) -> int:
    """The most there can be of one plant, by the run, its share and the stock."""
    fitting = min(int((run + HAIR) / one.room), share)
    return fitting if one.limit is None else min(fitting, one.limit)


def _numbers(program: Program, places: Sequence[int], longest: int) -> dict[int, int]:
    """One variable for each number of plants that the row may have, of which one is chosen."""
    numbers = {program.number(1): number for number in range(1, longest + 1)}
    program.row(1, dict.fromkeys(numbers, 1.0), 1)
    program.row(0, dict.fromkeys(places, 1.0) | {place: -number for place, number in numbers.items()}, 0)
    return numbers


def _charge(
    program: Program,
    places: Sequence[int],
    candidates: Sequence[Candidate],
    limits: Sequence[int],
    numbers: dict[int, int],
    prices: Prices,
) -> None:
    """A kind is paid for once, in however many containers it is bought; so are its want of plants and what it clashes with."""
    if not any(prices[:3]):
        return
    used: dict[int, int] = {}
    kinds: dict[int, Candidate] = {}
    groups: defaultdict[int, list[int]] = defaultdict(list)
    for place, one, limit in zip(places, candidates, limits, strict=True):
        if one.plant not in used:
            used[one.plant] = program.number(1, -prices.kind)
            kinds[one.plant] = one
        groups[one.plant].append(place)
        program.row(-ANY, {place: 1.0, used[one.plant]: -float(limit)}, 0)
    few = float(max(map(least, numbers.values())))
    if prices.odd and few > 1:
        wanted = {place: -float(least(number)) for place, number in numbers.items()}
        for plant, group in groups.items():
            short = program.number(few, -prices.odd, whole=False)
            program.row(-few, dict.fromkeys(group, 1.0) | wanted | {short: 1.0, used[plant]: -few}, ANY)
    for one, other in combinations(kinds.values(), 2) if prices.clash else ():
        if clash(one, other, prices.apart):
            both = program.number(1, -prices.clash, whole=False)
            program.row(-ANY, {used[one.plant]: 1.0, used[other.plant]: 1.0, both: -1.0}, 1)


def _hold_shares(
    program: Program,
    places: Sequence[int],
    candidates: Sequence[Candidate],
    shares: Shares,
    numbers: dict[int, int],
) -> None:
    """The number that is chosen says what each share is."""
    for share, kin in zip(shares, KIN, strict=True):
        if share >= 1:
            continue
        groups: defaultdict[str, list[int]] = defaultdict(list)
        for place, one in zip(places, candidates, strict=True):
            groups[kin(one)].append(place)
        allowed = {place: -float(most(share, number)) for place, number in numbers.items()}
        for group in groups.values():
            program.row(-ANY, dict.fromkeys(group, 1.0) | allowed, 0)


def _lights(one: Candidate) -> frozenset[str] | None:
    return one.light


def _moistures(one: Candidate) -> frozenset[str] | None:
    return one.moisture


def _waterings(one: Candidate) -> frozenset[str] | None:
    ways = frozenset(way for way, suits in WATERING.items() if one.drought in suits)
    return ways or None


def _hold_bed(
    program: Program,
    places: Sequence[int],
    candidates: Sequence[Candidate],
    limits: Sequence[int],
    classes: Callable[[Candidate], frozenset[str] | None],
) -> None:
    """One class is chosen for the row; a plant that does not suit it stays out. What a card does not say suits any."""
    words = sorted(set().union(*(classes(one) or () for one in candidates)))
    if len(words) < 2:
        return
    chosen = {word: program.number(1) for word in words}
    program.row(1, dict.fromkeys(chosen.values(), 1.0), 1)
    for place, one, limit in zip(places, candidates, limits, strict=True):
        suits = classes(one)
        if suits is not None and len(suits) < len(words):
            program.row(-ANY, {place: 1.0} | {chosen[word]: -float(limit) for word in suits}, 0)


def _hold_filled(
    program: Program, places: Sequence[int], candidates: Sequence[Candidate], rooms: dict[int, float], run: float
) -> None:
    """What is left open is at most the room of one plant that is used: which, is chosen."""
    measure = [program.number(1) for _ in places]
    program.row(1, dict.fromkeys(measure, 1.0), 1)
    for place, one in zip(places, measure, strict=True):
        program.row(0, {place: 1.0, one: -1.0}, ANY)
    left = {one: candidate.room for one, candidate in zip(measure, candidates, strict=True)}
    program.row(run - HAIR, rooms | left, ANY)


def bed_of(chosen: Iterable[Candidate]) -> tuple[frozenset[str], frozenset[str], bool]:
    """The classes of light and of moisture that suit all of some plants; whether one of them suffers in drought."""
    plants = list(chosen)
    shared = []
    for classes in (_lights, _moistures):
        known = [found for one in plants if (found := classes(one)) is not None]
        shared.append(frozenset.intersection(*known) if known else frozenset[str]())
    return shared[0], shared[1], any(one.drought == "sensitive" for one in plants)
