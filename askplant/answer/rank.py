"""How well each match fits: a share of what was asked, weighted, from 0 to 1.

    points of a verdict   meets 0.8 to 1 by its margin, with care 0.4 to 0.6, unknown 0.35, a wish in vain 0
    weight                a must 1, a wish 0.6, a plant wished by name 1.5; dependability, adaptability and how widely it is
                          written of, 0.2 each; with a stock list, how well it can be had, 0.3; how near its height comes
                          to that of what it is to hide, 0.6
    off the whole         for each plant of the same species or genus before it, for being listed as invasive, and, where a
                          small plant is asked for, for growing several times as large when old

The order is by fit; equal fits stand in order of the plants' ids.
"""

from __future__ import annotations

import heapq
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cache, lru_cache
from typing import Any, NamedTuple, Protocol

from askplant.answer.bearing import hiding, outgrowing, small_bound, to_hide
from askplant.answer.lazily import Lazily
from askplant.answer.units import Unit
from askplant.base.opened import PUBLICATIONS
from askplant.base.records import species_of
from askplant.reading.reading import Reading
from askplant.verdicts.availability import availability
from askplant.verdicts.burdens import burdens, is_few
from askplant.verdicts.columns import Columns, columns_of, numbers
from askplant.verdicts.judge import Outcome
from askplant.verdicts.safety import code_of, listed_anywhere, places_listed
from askplant.verdicts.verdict import Judgement, Site

# The one table of weights; common practice, tried against what advisers recommended.
POINTS = {"meets": (0.8, 1.0), "with care": (0.4, 0.6), "unknown": (0.35, 0.35), "misses": (0.0, 0.0)}
MUST, WISH, DEPENDABLE, ADAPTABLE, WRITTEN_OF = 1.0, 0.6, 0.2, 0.2, 0.2
# A plant that is wished for by name is what the caller has in mind.
WISHED_BY_NAME = 1.5
# With a stock list: what can be sold today stands before its like, and well behind what fits better.
IN_STOCK = 0.3
# A list of one species is no choice: each plant of the same species, or genus, before it costs so much, up to so many.
SAME_SPECIES, SAME_GENUS, COUNTED = 0.06, 0.025, 4
# What grows ten times as high as what it is to hide is seldom what is meant, but a tall screen in the right place hides it too.
HIDES = 0.6
# A small tree that ends as a forest tree is a poor small tree, however well it does the rest.
GROWS_ON = 0.15
LISTED_HERE, LISTED_ELSEWHERE = 0.5, 0.25
# A plant whose first trouble is one that kills most it reaches pays as much, wherever the caller lives.
KILLERS = ("emerald ash borer", "laurel wilt", "dutch elm disease")
KILLED = 0.15

# Dependability: what the card says of trouble, each from 0 (trouble) to 1 (none), and 0.5 where it is silent.
SILENT = 0.5
LONG_LIFE = {"long": 1.0, "medium": 0.6, "short": 0.2}
SOUND = {"strong": 1.0, "moderate": 0.6, "weak": 0.0}
# Adaptability: half-zones, and classes of light, moisture and soil, from which on more makes no odds.
ZONES_WIDE, CLASSES_WIDE = 12, 3
# So many publications make a plant widely known.
WIDELY = 10


class Ranked(NamedTuple):
    """A match with its fit and how many of its species stand before it."""

    plant: int
    fit: float
    before: int


class Standing(NamedTuple):
    """What a plant is worth whatever is asked: points of its own, what its card says of where it is listed as invasive (None
    where it says that it is not, or nothing), and what it pays for a trouble that kills.
    """

    points: float
    listed: str | None
    killed: float


class Kin(Protocol):
    """What a base must tell for ranking."""

    count: int

    def judged(self, condition: str) -> Sequence[tuple[list[Any], int]]: ...
    def plant(self, n: int) -> Any: ...
    def __hash__(self) -> int: ...


def points(judgement: Judgement) -> float:
    """What a verdict is worth, 0 to 1."""
    low, high = POINTS[judgement.verdict]
    return low + (high - low) * min(1.0, max(0.0, judgement.margin))


def whole(share: float) -> int:
    """A share in parts of a million: whole numbers add up alike in any order, so that no order of wishes moves a rank."""
    return round(share * 1_000_000)


class Ranking(Lazily[Ranked]):
    """Matches, best first, each plant paying for its kin that stand before it.

    A place is found when somebody looks at it: of many matches few are shown. What a plant pays only grows, so the heap stays
    right.
    """

    def __init__(self, scores: dict[int, float], base: Kin) -> None:
        super().__init__()
        self._scores, self._base = scores, base
        self._heap = [(-score, plant, 0.0) for plant, score in scores.items()]
        heapq.heapify(self._heap)
        self._species: Counter[str] = Counter()
        self._genera: Counter[str] = Counter()
        self._kin: dict[int, tuple[str, str]] = {}

    def __len__(self) -> int:
        return len(self._scores)

    def _more(self, last: int) -> Iterable[Ranked]:
        return (self._next(),)

    def rank(self, plant: int) -> int | None:
        """The plant's place, counted from 1; none for a plant that is no match."""
        if plant not in self._scores:
            return None
        return next(rank for rank, one in enumerate(self, 1) if one.plant == plant)

    def _next(self) -> Ranked:
        while True:
            below, plant, paid = heapq.heappop(self._heap)
            if plant not in self._kin:
                self._kin[plant] = kin_of(self._base.plant(plant))
            genus, kind = self._kin[plant]
            before = self._species[kind]
            due = SAME_SPECIES * min(before, COUNTED) + SAME_GENUS * min(self._genera[genus], COUNTED)
            if due <= paid:
                self._species[kind] += 1
                self._genera[genus] += 1
                return Ranked(plant, round(min(1.0, max(0.0, -below)), 3), before)
            heapq.heappush(self._heap, (due - self._scores[plant], plant, due))


def ranked(
    outcomes: Sequence[Outcome], units: Sequence[Unit], matches: int, base: Kin, site: Site, reading: Reading
) -> Ranking:
    """The plants of the set `matches`, best first; of the reading counts what it means without being a condition."""
    place = code_of(site.place)
    total, earned = _earned(outcomes, units, matches)
    hidden, small = to_hide(reading), small_bound(reading.conditions)
    total += whole(DEPENDABLE + ADAPTABLE + WRITTEN_OF + (IN_STOCK if site.stock is not None else 0.0))
    total += whole(HIDES if hidden is not None else 0.0)
    columns = columns_of(base)
    columns.want(matches)
    standing, scores = standing_of(base), {}
    for plant, points_ in earned.items():
        by_itself, listed, killed = standing(plant)
        if site.stock is not None:
            by_itself += IN_STOCK * availability(site, plant)
        off = _listed(listed, place) if listed is not None else 0.0
        if hidden is not None or small is not None:
            grown, _, old = columns.value("height", plant)[:3]
            near = hiding(grown, hidden) if hidden is not None else None
            by_itself += HIDES * (SILENT if near is None else near) if hidden is not None else 0.0
            off += GROWS_ON * outgrowing(old, small) if small is not None else 0.0
        scores[plant] = (points_ + whole(by_itself)) / total - off - killed
    return Ranking(scores, base)


def _earned(outcomes: Sequence[Outcome], units: Sequence[Unit], matches: int) -> tuple[int, dict[int, int]]:
    """The sum of weights, and each plant's weighted points, in whole parts; of alternatives the best counts."""
    total, earned = 0, dict.fromkeys(numbers(matches), 0)
    for unit in units:
        weight = _weight(unit, outcomes)
        total += whole(weight)
        shares: dict[int, int] = {}
        for worth, bits in _worth(unit, outcomes, matches):
            share = whole(weight * worth)
            shares[share] = shares.get(share, 0) | bits
        for share, bits in shares.items():
            for plant in numbers(bits):
                earned[plant] += share
    return total, earned


def _worth(unit: Unit, outcomes: Sequence[Outcome], matches: int) -> Iterator[tuple[float, int]]:
    """What a unit is worth to which of the plants; no plant comes twice."""
    found = [
        (points(judgement), bits)
        for index in unit.conditions
        for judgement, bits in outcomes[index].verdicts.among(matches)
    ]
    if len(unit.conditions) > 1:
        found.sort(key=lambda one: -one[0])
    left = matches
    for worth, bits in found:
        yield worth, bits & left
        left &= ~bits


def _weight(unit: Unit, outcomes: Sequence[Outcome]) -> float:
    if unit.must:
        return MUST
    conditions = [outcomes[index].condition for index in unit.conditions]
    by_name = any(condition.trait == "taxon" and condition.test != "none_of" for condition in conditions)
    return WISHED_BY_NAME if by_name else WISH


@lru_cache(maxsize=2)
def standing_of(base: Kin) -> Callable[[int], Standing]:
    """Of any plant of a base its standing, found when it is first asked for and kept."""
    columns = columns_of(base)

    @cache
    def standing(plant: int) -> Standing:
        own = DEPENDABLE * dependable(columns, plant) + ADAPTABLE * adaptable(columns, plant)
        listed = columns.value("invasive", plant)[0]
        return Standing(
            own + WRITTEN_OF * written_of(columns, plant),
            listed if listed_anywhere(listed) else None,
            _killed(columns, plant),
        )

    return standing


def dependable(columns: Columns, plant: int) -> float:
    """How little trouble a plant gives, 0 to 1."""
    care = columns.value("care", plant)
    health = SILENT if not care[0] else 1.0 if is_few(care[0]) else 0.6
    ease = max(0.0, 1 - len(burdens(care)) / 2)
    life = LONG_LIFE.get(columns.value("longevity", plant)[0] or "", SILENT)
    sound = SOUND.get(columns.value("breakage", plant)[0] or "", SILENT)
    return (health + ease + life + sound) / 4


def adaptable(columns: Columns, plant: int) -> float:
    """How many sites a plant stands, 0 to 1: what is not known of the site is the likelier to suit it."""
    cold, _, warm = columns.value("zone", plant)
    wide = min(1.0, (warm - cold + 1) / ZONES_WIDE) if cold is not None and warm is not None else SILENT
    classes = [columns.value(name, plant)[0] for name in ("light", "moisture", "soil")]
    return (wide + sum(min(1.0, len(some) / CLASSES_WIDE) if some else SILENT for some in classes)) / 4


def written_of(columns: Columns, plant: int) -> float:
    """How many publications speak of a plant, 0 to 1: what many advisers write of is tried, and can be had."""
    count = columns.value(PUBLICATIONS, plant, [None])[0]
    return SILENT if count is None else min(1.0, count / WIDELY)


def _listed(text: str, place: str | None) -> float:
    return LISTED_HERE if place is not None and place in places_listed(text) else LISTED_ELSEWHERE


def _killed(columns: Columns, plant: int) -> float:
    pests = (columns.value("pests", plant)[0] or "").lower()
    return KILLED if pests.startswith(KILLERS) else 0.0


def kin_of(plant: Any) -> tuple[str, str]:
    """A plant's genus and species, as they are written."""
    return plant.genus, species_of(plant.botanical)
