"""What the calendar reads of one plant's card; None or empty where the card does not say."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple, Protocol

from askplant.care.rules import Rule
from askplant.quantities import zones
from askplant.reading.reading import Condition
from askplant.verdicts.hardiness import judge_zone
from askplant.verdicts.verdict import Site

# Words of a card's pests that name none.
_NONE = ("few", "little else", "none", "resists", "no serious")
WOODY = frozenset({"tree", "shrub", "vine", "palm", "bamboo"})
_PARTS = re.compile(r"[,;]")


class Carded(Protocol):
    """What is needed of a base."""

    count: int

    def plant(self, n: int) -> Any: ...
    def resolved(self, n: int) -> Mapping[str, Any]: ...
    def judged(self, condition: str) -> Any: ...
    def __hash__(self) -> int: ...


class Facts(NamedTuple):
    """One plant: names, then what its card says. Zones are numbers of half-zones, months numbers from 1."""

    n: int
    botanical: str
    kinds: frozenset[str]
    group: frozenset[str]
    persistence: str | None
    forms: frozenset[str]
    cold: int | None
    shelter: int | None
    warm: int | None
    drought: str | None
    flower: str | None
    bloom: tuple[int, ...]
    blooms_on: frozenset[str]
    fruit: frozenset[str]
    fruit_months: tuple[int, ...]
    prune_when: str | None
    old_wood: str | None
    deer: str | None
    rabbit: str | None
    breakage: str | None
    pests: tuple[str, ...] | None
    irritant: bool
    poisonous: bool
    thorny: bool
    moisture: frozenset[str] = frozenset()
    soil: frozenset[str] = frozenset()
    runs: bool = False

    @property
    def is_woody(self) -> bool:
        """Whether it has a lasting top that is pruned rather than cut down."""
        return bool(self.kinds & WOODY)

    @property
    def is_succulent(self) -> bool:
        """Whether it stores water, and rots where soil stays wet."""
        return "succulent" in self.kinds

    @property
    def is_bulb(self) -> bool:
        """Whether it goes into the ground as a bulb or tuber."""
        return "bulb" in self.kinds

    @property
    def is_bamboo(self) -> bool:
        """Whether it grows by canes of one season."""
        return "bamboo" in self.kinds

    @property
    def has_top_in_winter(self) -> bool:
        """Whether anything of it stands above the ground in winter, as far as the card says."""
        return self.persistence != "dies back"

    @property
    def is_laid_low(self) -> bool:
        """Whether it lies on the ground, so that snow covers it."""
        return "prostrate" in self.forms

    def is_of_dry_ground(self, rule: Rule, zone: int) -> bool:
        """Whether it is a plant of dry ground by a rule that names what its card has to say, or its genus; no succulent."""
        said = rule.fields
        if self.drought != said["drought"] or self.is_succulent or self.is_annual(zone):
            return False
        if self.is_one_of(said["always"]):
            return True
        dry = said["moisture"] in self.moisture and self.moisture.isdisjoint(said["not_moisture"])
        return dry and self.soil.isdisjoint(said["not_soil"]) and self.kinds.isdisjoint(said["not_kinds"])

    def is_annual(self, zone: int) -> bool:
        """Whether it lives for one season here: of other kinds too, it goes on where it is hardy."""
        return "annual" in self.kinds and (len(self.kinds) == 1 or self.hardiness(zone) != "meets")

    @property
    def is_conifer(self) -> bool:
        """Whether the trade calls it a conifer."""
        return "conifer" in self.group

    @property
    def is_broadleaf_evergreen(self) -> bool:
        """Whether broad leaves stay through winter on wood."""
        return "broadleaf evergreen" in self.group

    @property
    def is_evergreen(self) -> bool:
        """Whether leaves are there in winter."""
        return self.persistence in ("evergreen", "semi-evergreen")

    @property
    def shows(self) -> bool:
        """Whether buds of last year's wood are worth sparing: for their flowers, or the fruit that comes of them."""
        return self.flower == "showy" or "showy" in self.fruit

    def hardiness(self, zone: int) -> str:
        """`meets`, `with care` where it lives only in shelter, `misses`, or `unknown`: winter cold alone."""
        asked = Condition("zone", "any_of", (zones.name(zone),))
        return judge_zone(asked, (self.cold, self.shelter, None), Site()).verdict

    def spare(self, zone: int) -> int | None:
        """Half-zones between the site and the coldest that it stands in the open."""
        return None if self.cold is None else zone - self.cold

    def is_of(self, rule: Rule) -> bool:
        """Whether a rule's taxa take it in; a rule without taxa takes in all."""
        return not rule.taxa or self.is_one_of(rule.taxa)

    def is_one_of(self, taxa: Iterable[str]) -> bool:
        """Whether it belongs to one of these genera or species."""
        name = f"{self.botanical} "
        return any(name.startswith(f"{taxon} ") for taxon in taxa)


def facts(base: Carded, n: int) -> Facts:
    """The facts of one plant of a base."""
    card = base.resolved(n)
    poison = tuple(_words(card, "poison"))
    return Facts(
        n=n,
        botanical=base.plant(n).botanical,
        kinds=frozenset(_words(card, "kind")),
        group=frozenset(_words(card, "group")),
        persistence=_one(card, "persistence"),
        forms=frozenset(_words(card, "form")),
        cold=_zone(card, "zone_cold"),
        shelter=_zone(card, "zone_shelter"),
        warm=_zone(card, "zone_warm"),
        drought=_one(card, "drought"),
        flower=_one(card, "flower"),
        bloom=_months(card, "bloom"),
        blooms_on=frozenset(_words(card, "blooms_on")),
        fruit=frozenset(_words(card, "fruit")),
        fruit_months=_months(card, "fruit_months"),
        prune_when=_one(card, "prune_when"),
        old_wood=_one(card, "old_wood"),
        deer=_one(card, "deer"),
        rabbit=_one(card, "rabbit"),
        breakage=_one(card, "breakage"),
        pests=_pests(card),
        irritant=any("skin irritant" in entry for entry in poison),
        poisonous=any("none known" not in entry and "skin irritant" not in entry for entry in poison),
        thorny=_one(card, "thorns") == "present",
        moisture=frozenset(_words(card, "moisture")),
        soil=frozenset(_words(card, "soil")),
        runs=_one(card, "suckers") == "many" or _one(card, "roots") == "aggressive",
    )


def _words(card: Mapping[str, Any], trait: str) -> tuple[str, ...]:
    return tuple(card[trait].words) if trait in card else ()


def _one(card: Mapping[str, Any], trait: str) -> str | None:
    words = _words(card, trait)
    return words[0] if words else None


def _zone(card: Mapping[str, Any], trait: str) -> int | None:
    word = _one(card, trait)
    return zones.index(word) if word else None


def _months(card: Mapping[str, Any], trait: str) -> tuple[int, ...]:
    return tuple(sorted(int(word) for word in _words(card, trait)))


def _pests(card: Mapping[str, Any]) -> tuple[str, ...] | None:
    """The pests a card names; None where it says nothing of pests."""
    if "pests" not in card:
        return None
    named = [part.strip() for part in _PARTS.split(card["pests"].text)]
    return tuple(part for part in named if part and not part.lower().startswith(_NONE))
