"""Every judge on every kind of value that the program's own cards hold."""

from __future__ import annotations

import pytest

from askplant.base.opened import Base
from askplant.reading.reading import Condition
from askplant.verdicts.judge import JUDGES, judge, values_of
from askplant.verdicts.kinship import KIN_TRAITS
from askplant.verdicts.verdict import ORDER, Site

from .invented import reads

# Enough distinct values of a trait to meet every shape of them.
LOOKED_AT = 120
# One value more asks for more of these: every animal, the coldest zone.
ALL_OF = {"safe_for", "zone"}
SITE = Site(place="OH", by_year=5)


def test_every_condition_has_its_judge() -> None:
    """The table of judges and conditions.toml name the same conditions."""
    assert set(JUDGES) | KIN_TRAITS | {"stock"} == set(reads())


@pytest.mark.parametrize("trait", JUDGES)
def test_asking_for_one_value_or_another_never_loses_a_match(trait: str, real_base: Base) -> None:
    """Whatever fits a value fits that value or another; each care says what to do."""
    permitted = real_base.conditions()[trait].values
    for value, _ in values_of(trait, real_base)[:LOOKED_AT]:
        for first in permitted:
            found = judge(Condition(trait, "any_of", (first,)), value, SITE)
            assert found.verdict in ORDER
            assert (found.verdict == "with care") <= (found.how is not None)
            assert found.verdict != "misses" or found.margin <= 0
            if found.verdict == "misses" or trait in ALL_OF:
                continue
            for other in permitted:
                assert judge(Condition(trait, "any_of", (first, other)), value, SITE).verdict != "misses"
