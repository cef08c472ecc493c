"""Winter cold and summer heat: the site's zones against what the plant stands. Zones are numbers of half-zones (1a =
0).
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from askplant.quantities import zones
from askplant.reading.reading import Condition
from askplant.verdicts.logic import worst
from askplant.verdicts.verdict import UNKNOWN, Advice, Fact, Judgement, Site, care, meets, misses

# One half-zone short is lived through with shelter; common practice (and the mean of winters that a zone is goes
# colder at times).
SHORT = 1
# As far south of its warm end as this, half-zones, it lives with shade and water; common practice.
TOO_WARM = 2
# Half-zones of room beyond which more makes no odds.
EASE = 4
# "Takes the heat": AHS heat zone 8 and up, 90 to 120 days above 86 °F (Plant Heat-Zone Map, American Horticultural
# Society, 1997).
HOT = 8
# Where no heat zone is known, how warm a half-zone it does well in: 9a as it is, 8a with care; common practice.
HOT_ZONE, WARM_ZONE = zones.index("9a"), zones.index("8a")


def judge_zone(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """The site's half-zones, of which the coldest counts, against [coldest, coldest with shelter, warmest]."""
    cold, shelter, warm = value[:3]
    asked = _half_zones(condition.values)
    if cold is None and shelter is None:
        return UNKNOWN
    has = Fact("zones", (cold, shelter, warm))
    winter = _winter(asked[0], cold, shelter, has)
    summer = _summer(asked[0], asked[-1], warm, has)
    return worst((winter, summer))


@lru_cache(maxsize=256)
def _half_zones(names: tuple[str | int | float, ...]) -> list[int]:
    return sorted(zones.index(str(name)) for name in names)


def _winter(coldest: int, cold: int | None, shelter: int | None, has: Fact) -> Judgement:
    hardy = cold if cold is not None else (shelter or 0) + SHORT
    if coldest >= hardy:
        return meets(has, min(1.0, (coldest - hardy + 1) / EASE))
    sheltered = min(hardy - SHORT, shelter if shelter is not None else hardy)
    if coldest >= sheltered:
        return care(has, Advice("zone.shelter"), 0.3)
    short = hardy - coldest
    return misses(has, short / EASE, float(short), "half-zones")


def _summer(coldest: int, warmest: int, warm: int | None, has: Fact) -> Judgement:
    """Too far south if even the coldest part of the site is warmer than it does well in."""
    if warm is None or warmest <= warm:
        return meets(has)
    beyond = coldest - warm
    if beyond > TOO_WARM:
        return misses(has, beyond / EASE, float(beyond), "half-zones")
    return care(has, Advice("zone.warm" if beyond > 0 else "zone.warm_part"), 0.3)


def judge_heat(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Heat tolerance or a heat zone, against [heat zones, warmest half-zone]."""
    asked = max((int(wanted) for wanted in condition.values if str(wanted).isdigit()), default=HOT)
    if value[0] is not None:
        has, room = Fact("heat", tuple(value[0])), value[0][1] - asked
    elif value[1] is not None:
        has = Fact("zones", (None, None, value[1]))
        room = 0 if value[1] >= HOT_ZONE else -1 if value[1] >= WARM_ZONE else -2
    else:
        return UNKNOWN
    if room >= 0:
        return meets(has, min(1.0, 0.5 + room / EASE))
    return care(has, Advice("heat.tolerant")) if room >= -1 else misses(has, -room / EASE)
