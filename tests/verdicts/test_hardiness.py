"""Winter and summer: the coldest half-zone of the site counts, one half-zone short is with care, too far south too."""

from __future__ import annotations

import pytest

from askplant.quantities.zones import coldest_f, index
from askplant.verdicts.hardiness import HOT
from askplant.verdicts.judge import judge
from askplant.verdicts.verdict import Site

from .conditions import any_of

PLAIN = Site()


def zoned(cold: str | None, warm: str | None = None, shelter: str | None = None) -> list[int | None]:
    return [index(name) if name else None for name in (cold, shelter, warm)]


@pytest.mark.parametrize(
    ("site", "value", "verdict", "code"),
    [
        (["6a"], zoned("5b", "9a"), "meets", None),
        (["6a"], zoned("6a", "9a"), "meets", None),
        (["6a"], zoned("6b", "9a"), "with care", "zone.shelter"),
        (["6a"], zoned("7a", "9a"), "misses", None),
        (["6a"], zoned("7a", "9a", shelter="6a"), "with care", "zone.shelter"),
        (["6a", "6b"], zoned("6b", "9a"), "with care", "zone.shelter"),
        (["9b"], zoned("3a", "8b"), "with care", "zone.warm"),
        (["10b"], zoned("3a", "8b"), "misses", None),
        (["6a", "6b", "7a"], zoned("4a", "6b"), "with care", "zone.warm_part"),
        (["6a"], [None, None, index("8a")], "unknown", None),
    ],
)
def test_the_coldest_half_zone_counts(site: list[str], value: list[int | None], verdict: str, code: str | None) -> None:
    """Hardy there meets; half a zone short is shelter; one zone too warm is shade and water, more is a miss."""
    found = judge(any_of("zone", *site), value, PLAIN)
    assert found.verdict == verdict
    assert (found.how.code if found.how else None) == code


@pytest.mark.parametrize(("zone", "fahrenheit"), [("1a", -60), ("5a", -20), ("7a", 0), ("7b", 5), ("13b", 65)])
def test_half_zones_start_where_the_map_says(zone: str, fahrenheit: float) -> None:
    """USDA Plant Hardiness Zone Map, 2023: half-zone n runs from -60 + 5n °F, so that 0 °F is 7a."""
    assert coldest_f(index(zone)) == fahrenheit


def test_a_miss_says_by_how_much() -> None:
    """Zone 5a for a plant of 7a is four half-zones short."""
    found = judge(any_of("zone", "5a"), zoned("7a"), PLAIN)
    assert (found.off_by, found.unit) == (4.0, "half-zones")


@pytest.mark.parametrize(
    ("value", "verdict"),
    [([[4, 9], None], "meets"), ([[1, 7], None], "with care"), ([[1, 6], None], "misses"), ([None, index("9b")], "meets"),
     ([None, index("8a")], "with care"), ([None, index("7b")], "misses"), ([None, None], "unknown")],
)  # fmt: skip
def test_heat_by_heat_zone_or_else_by_the_warm_end(value: list[object], verdict: str) -> None:
    """Heat zone 8 has 90 to 120 days above 86 °F (Plant Heat-Zone Map, American Horticultural Society, 1997)."""
    assert HOT == 8
    assert judge(any_of("heat", "tolerant"), value, PLAIN).verdict == verdict
