"""What is judged once for many plants is what each would be told by itself."""

from __future__ import annotations

from types import SimpleNamespace

from hypothesis import given, settings
from hypothesis import strategies as st

from askplant.base.opened import Base
from askplant.reading.reading import Condition
from askplant.verdicts.bundles import Bundles
from askplant.verdicts.judge import judge, missing, outcome, values_of
from askplant.verdicts.verdict import Site

METRES = st.floats(0.1, 25).map(lambda metres: round(metres, 2))
TESTS = {"at_most": (None, 1), "at_least": (1, None), "within": (1, 2), "about": (1, 1)}


@st.composite
def conditions(draw: st.DrawFn) -> Condition:
    """A condition on a height or a width, on any basis."""
    test = draw(st.sampled_from(sorted(TESTS)))
    low, high = sorted((draw(METRES), draw(METRES)))
    given_ = {None: None, 1: low, 2: high}
    minimum, maximum = TESTS[test]
    return Condition(
        draw(st.sampled_from(("height", "width"))),
        test,  # type: ignore[arg-type]
        minimum=given_[minimum],
        maximum=given_[maximum],
        unit="m",
        basis=draw(st.sampled_from(("grown", "label", "held"))),
    )


@settings(max_examples=40, deadline=None)
@given(conditions(), st.sampled_from((None, 3)), st.integers(1, 400))
def test_sizes(real_base: Base, condition: Condition, by_year: int | None, step: int) -> None:
    """The verdict on each plant, all that is said of it, and the plants of a smaller set that miss."""
    site = Site(by_year=by_year)
    found = outcome(condition, real_base, site)
    each = {"meets": 0, "with care": 0, "unknown": 0, "misses": 0}
    values = values_of(condition.trait, real_base)
    alone = [(judge(condition, value, site), bits) for value, bits in values]
    for judgement, bits in alone:
        each[judgement.verdict] |= bits
    assert each == {"meets": found.meets, "with care": found.care, "unknown": found.unknown, "misses": found.misses}
    some = sum(1 << n for n in range(0, real_base.count, step))
    assert missing(condition, real_base, site, some) == each["misses"] & some
    for judgement, bits in found.verdicts.among(some):
        assert all(other == judgement for other, having in alone if having & bits)


@given(st.lists(st.integers(0, 2**70 - 1), max_size=150), st.integers(0, 2**70 - 1))
def test_bundles(sets: list[int], plants: int) -> None:
    """Those that hold for any of the plants, in their order, and no others."""
    things = [SimpleNamespace(bits=bits) for bits in sets]
    assert [one.bits for one in Bundles(things).of(plants)] == [bits for bits in sets if bits & plants]
