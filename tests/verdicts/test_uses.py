"""What a habit says against a use: weeping forms that are to hide something, bulbs that are to cover the ground."""

from __future__ import annotations

from typing import Any

import pytest

from askplant.render.advice import advised
from askplant.verdicts.judge import judge
from askplant.verdicts.verdict import Site

from .conditions import any_of, none_of
from .invented import feet

PLAIN = Site()


def value(uses: list[str] | None, form: str, kind: str = "shrub", persistence: str = "evergreen") -> list[Any]:
    """[uses, grown height, persistence, density, kind, roots, form] of a dense plant of 8 to 10 ft."""
    return [uses, feet(8, 10), [persistence], ["dense"], [kind], None, [form]]


@pytest.mark.parametrize("use", ["screen", "hedge"])
def test_a_weeping_form_hides_with_care_unless_it_is_sold_for_it(use: str) -> None:
    """The same plant upright is derived as before; a stated use stands."""
    weeps = judge(any_of("use", use), value(["specimen"], "weeping"), PLAIN)
    assert weeps.verdict == "with care"
    assert weeps.how is not None
    assert "weeping form" in advised(weeps.how, "us")
    upright = judge(any_of("use", use), value(["specimen"], "upright"), PLAIN)
    assert upright.how is None or "weeping" not in upright.how.code
    assert judge(any_of("use", use), value([use], "weeping"), PLAIN).verdict == "meets"


@pytest.mark.parametrize("use", ["ground cover", "bank"])
def test_a_bulb_that_loses_its_leaves_covers_with_care(use: str) -> None:
    """Where it spreads, the ground is bare for half the year; an evergreen one, and a fern, cover as stated."""
    assert judge(any_of("use", use), value([use], "upright", "bulb", "dies back"), PLAIN).verdict == "with care"
    assert judge(any_of("use", use), value([use], "upright", "bulb", "evergreen"), PLAIN).verdict == "meets"
    assert judge(any_of("use", use), value([use], "upright", "fern", "dies back"), PLAIN).verdict == "meets"


def test_size_alone_makes_no_ground_cover_of_a_bulb() -> None:
    """A low perennial of no stated use would do with care."""
    low = [["border"], feet(0.5, 1), ["dies back"], ["open"], ["bulb", "perennial"], None, ["upright"]]
    assert judge(any_of("use", "ground cover"), low, PLAIN).verdict == "misses"
    low[4] = ["perennial"]
    assert judge(any_of("use", "ground cover"), low, PLAIN).verdict == "with care"


def test_flowers_that_nobody_notices_are_little_bloom() -> None:
    """Catkins in May are no spring bloom to look at; where bloom is unwanted they count as before."""
    spring = any_of("bloom", "spring")
    assert judge(spring, [[4, 5], ["showy"]], PLAIN).verdict == "meets"
    assert judge(spring, [[4, 5], ["inconspicuous"]], PLAIN).verdict == "with care"
    assert judge(none_of("bloom", "spring"), [[4, 5], ["inconspicuous"]], PLAIN).verdict == "misses"


@pytest.mark.parametrize("old, verdict", [(None, "meets"), (feet(20, 25), "meets"), (feet(40, 77), "with care")])
def test_what_goes_on_into_the_wires_when_old_is_not_fit_for_them(old: Any, verdict: str) -> None:
    """25 ft of mature height is the most that is allowed under wires (Vermont Urban and Community Forestry)."""
    low = [None, feet(10, 15), ["evergreen"], "dense", ["tree"], None, ["pyramidal"], old]
    found = judge(any_of("use", "under wires"), low, PLAIN)
    assert found.verdict == verdict
    assert verdict == "meets" or (found.how is not None and found.how.code == "use.wires_old")
