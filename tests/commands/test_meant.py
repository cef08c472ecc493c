"""One name that several plants bear: which is meant, and which are told first."""

from __future__ import annotations

import pytest

from askplant.desk import Desk
from askplant.errors import UserError
from askplant.finding import meant


@pytest.mark.parametrize(
    "name, botanical",
    [("lilac", "Syringa vulgaris"), ("nandina", "Nandina domestica"), ("butterfly bush", "Buddleja davidii")],
)
def test_the_species_that_is_called_just_so_is_meant(desk: Desk, name: str, botanical: str) -> None:
    """Summer lilacs and cultivars bear the name too."""
    assert desk.plant(desk.one(name)).botanical == botanical


def test_a_name_of_many_species_stays_one_of_many(desk: Desk) -> None:
    """Nothing is guessed where several species share it."""
    with pytest.raises(UserError, match="holly is the name of"):
        desk.one("holly")


def test_species_called_so_are_told_first(desk: Desk) -> None:
    """Before those that bear it as part of their names, and none is lost."""
    found = desk.find("hydrangea")
    told = meant("hydrangea", found, desk.base).plants
    assert sorted(told) == sorted(found.plants)
    wild = [desk.plant(n).epithet is None for n in told]
    assert wild[0]
