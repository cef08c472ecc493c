"""Safe for whom: the animals that are named, and what is said of those that no list of poisonous plants tells of."""

from __future__ import annotations

import pytest

from askplant.base.opened import Base
from askplant.reading.read import read


@pytest.mark.parametrize(("said", "who"), [
    ("no poisonous plants", {"children", "dogs", "cats"}),
    ("no poisonous plants, we have dogs", {"dogs"}),
    ("we have horses, what is not poisonous", {"horses"}),
    ("safe for dogs and goats", {"dogs", "horses"}),
])  # fmt: skip
def test_those_who_are_named(said: str, who: set[str], real_base: Base) -> None:
    """Whoever is named is meant; without a name, people and pets."""
    (found,) = read(said, real_base).conditions
    assert set(found.values) == who


@pytest.mark.parametrize("said", [
    "safe for cows", "safe for goats", "safe for livestock", "must not be toxic to sheep", "not poisonous, we have cattle",
    "safe for dogs and goats",
])  # fmt: skip
def test_grazing_animals(said: str, real_base: Base) -> None:
    """They are asked with horses, of which lists tell, and it is said so."""
    (found,) = read(said, real_base).conditions
    assert "horses" in found.values
    assert "grazing animal" in (found.note or "")


@pytest.mark.parametrize("said", [
    "safe for chickens", "wont hurt my hens", "not poisonous to chickens", "nothing poisonous, we keep ducks", "chicken safe",
])  # fmt: skip
def test_poultry(said: str, real_base: Base) -> None:
    """No list tells of it: never taken for horses in silence."""
    (found,) = read(said, real_base).conditions
    assert "may not hold for hens" in (found.note or "")


def test_horses_need_no_note(real_base: Base) -> None:
    """Lists tell of them."""
    assert [one.note for one in read("safe for horses", real_base).conditions] == [None]
