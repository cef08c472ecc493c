"""Where the plants stand: the half-zone, and when frosts come and go there.

A zone speaks of winter cold alone. Frosts differ within one zone, most of all in the mountains and the West, so that a place
of the table counts before its zone, and the cautious end of a range counts where frost does harm.
"""

from __future__ import annotations

from typing import NamedTuple

from askplant.care import thirds
from askplant.care.rules import Edge, FrostRow, Rule, Rules
from askplant.care.thirds import Span
from askplant.quantities import zones
from askplant.reading.reading import Reading

# From this half-zone on there is no frost to reckon with in a mean year; common practice.
FROST_FREE = zones.index("10b")
# What stands for the frosts where there are none, so that the year still has a late winter: early March, early December.
NO_LAST, NO_FIRST = (6, 6), (33, 33)


class Frost(NamedTuple):
    """Thirds of the year in which the mean last and first frost fall, from and to, with the sources; `free` where none comes."""

    last: tuple[int, int]
    first: tuple[int, int]
    sources: tuple[str, ...]
    places: tuple[str, ...]
    free: bool = False


class CareSite(NamedTuple):
    """The site: the number of its half-zone, the place as said, its frosts, and its state or province. `assumed` marks a zone
    that nobody said: the coldest of the region. `among` are the coldest and warmest half-zone of the region.
    """

    zone: int
    place: str | None
    frost: Frost
    assumed: bool = False
    region: str | None = None
    among: tuple[int, int] | None = None

    @property
    def is_strange(self) -> bool:
        """Whether the half-zone is none of its region, nor next to one: maps of different years differ by one."""
        return self.among is not None and not self.among[0] - 1 <= self.zone <= self.among[1] + 1

    def edge(self, at: Edge) -> int:
        """A time of a rule as a third, which may lie outside 0 to 35: before the new year or after it."""
        if isinstance(at, str):
            return thirds.of_words(at)
        name, offset = at
        low, high = self.frost.last if name.endswith("last") else self.frost.first
        cautious = high if name == "safe last" else low
        return (cautious if name.startswith("safe") else (low + high) // 2) + offset

    def span(self, rule: Rule) -> Span | None:
        """When a rule holds here; None where its end comes before its start."""
        assert rule.start is not None
        assert rule.end is not None
        start, end = self.edge(rule.start), self.edge(rule.end)
        start = start if rule.since is None else max(start, rule.since)
        end = end if rule.until is None else min(end, rule.until)
        same = _frost_of(rule.start) == _frost_of(rule.end) != ""
        return thirds.bounded(start, end) if same else thirds.span(start, end)

    def served(self, rule: Rule) -> bool:
        """Whether the rule is for zones like this one, or for this region."""
        coldest = 0 if rule.zones_from is None else rule.zones_from
        mildest = self.zone if rule.zones_to is None else rule.zones_to
        return coldest <= self.zone <= mildest or self.region in rule.regions


def site(zone: int, place: str | None, region: str | None, rules: Rules) -> CareSite:
    """The site of a half-zone and, where it is said, of a place (`Durham, NC`) in a region (`NC`)."""
    return CareSite(zone, place, _frost(zone, place, region, rules), region=region)


def row_of(place: str | None, region: str | None, rules: Rules) -> FrostRow | None:
    """The row of a place in the table of frosts, where it has one: `Denver, CO`, `Denver CO` or `Denver`, of the region CO."""
    said = " ".join((place or "").replace(",", " ").split()).casefold()
    town = (place or "").partition(",")[0].strip().casefold()
    for row in rules.frost:
        name, _, of = row.place.casefold().partition(", ")
        if name and of == (region or of).casefold() and (said == f"{name} {of}" or (region and town == name)):
            return row
    return None


def asked_site(reading: Reading, rules: Rules) -> CareSite | None:
    """The site that a request speaks of, its coldest half-zone; None where it says nothing of the zone."""
    asked = (one for one in reading.conditions if one.trait == "zone" and one.test != "none_of")
    coldest = min((zones.index(str(value)) for one in asked for value in one.values), default=None)
    return None if coldest is None else site(coldest, None, reading.task.place, rules)


def _frost(zone: int, place: str | None, region: str | None, rules: Rules) -> Frost:
    if zone >= FROST_FREE:
        return Frost(NO_LAST, NO_FIRST, (), (), True)
    of_zone = next(row for row in rules.frost if not row.place and row.zone == zone)
    assert of_zone.last
    assert of_zone.first
    row = row_of(place, region, rules)
    own = [row] if row else []
    near = own or [row for row in rules.frost if region and row.place.endswith(f", {region}")]
    settled = _own if own else _settled
    return Frost(
        settled(of_zone.last, [row.last for row in near if row.last]),
        settled(of_zone.first, [row.first for row in near if row.first]),
        tuple(dict.fromkeys(row.source for row in near)),
        tuple(row.place for row in near),
    )


def _own(of_zone: tuple[int, int], dates: list[tuple[int, int]]) -> tuple[int, int]:
    """The place's own date where the table has it."""
    return dates[0] if dates else of_zone


def _settled(of_zone: tuple[int, int], near: list[tuple[int, int]]) -> tuple[int, int]:
    """What zone and region have in common; both where they have nothing in common."""
    if not near:
        return of_zone
    low, high = min(one[0] for one in near), max(one[1] for one in near)
    common = (max(low, of_zone[0]), min(high, of_zone[1]))
    return common if common[0] <= common[1] else (min(low, of_zone[0]), max(high, of_zone[1]))


def _frost_of(edge: Edge) -> str:
    """The frost a time is reckoned from; empty for a time that is said outright."""
    return "" if isinstance(edge, str) else edge[0].removeprefix("safe ")
