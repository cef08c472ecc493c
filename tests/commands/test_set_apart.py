"""How far apart, by what a plant is: nothing that is never clipped in a clipped hedge."""

from __future__ import annotations

import pytest

from askplant.commands.sitting import Sitting
from askplant.desk import Desk
from askplant.render.screen import Screen
from askplant.sitting.journal import Journal


@pytest.fixture
def sitting(desk: Desk, tmp_path_factory: pytest.TempPathFactory) -> Sitting:
    """A sitting that is kept and logged."""
    folder = tmp_path_factory.mktemp("apart")
    return Sitting(desk, Screen(200), Journal(folder / "sittings"), folder / "calls.jsonl")


@pytest.mark.parametrize(
    "plant, told, never",
    [
        ("Polystichum acrostichoides", "to close over the ground", "hedge"),
        ("Narcissus jonquilla", "to close over the ground", "hedge"),
        ("Juniperus horizontalis", "to close over the ground", "hedge"),
        ("Campsis radicans", "along a fence or trellis", "hedge"),
        ("Quercus alba", "to stand free", "hedge"),
        ("Buxus sempervirens", "for a clipped hedge", "to close over the ground"),
    ],
)
def test_distances_are_those_of_the_kind(sitting: Sitting, plant: str, told: str, never: str) -> None:
    """Ferns, bulbs and covers as in a bed; climbers along what they climb; trees free; hedge plants as hedges too."""
    sitting.reply("full sun, zone 7")
    reply = sitting.reply(f"how far apart {plant}")
    assert told in reply
    assert never not in reply
