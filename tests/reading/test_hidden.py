"""The thing that a screen is to hide, with its height."""

from __future__ import annotations

import pytest

from askplant.base.opened import Base
from askplant.quantities.lengths import FOOT
from askplant.reading.read import read, read_apart

CASES = [
    ("evergreen screen to hide a 6 ft fence, zone 7a", "6 ft fence", 6 * FOOT),
    ("12 ft tall evergreen screen to hide a 6 ft fence", "6 ft fence", 6 * FOOT),
    ("screen to block a 2 m wall, evergreen", "2 m wall", 2.0),
    ("screen to hide the neighbor's second story window", "a second-storey window", 4.6),
]


@pytest.mark.parametrize("text, name, height", CASES)
def test_what_is_hidden(real_base: Base, text: str, name: str, height: float) -> None:
    """In the caller's words where a height was said, else by its kind; whether or not a height of the screen was."""
    found = read(text, real_base).hides
    assert found is not None
    assert (found.name, found.height) == (name, pytest.approx(height))


@pytest.mark.parametrize("text", ["evergreen, zone 7", "screen 10 ft tall, zone 7", "a vine for a 6 ft fence, zone 7"])
def test_nothing_is_hidden(real_base: Base, text: str) -> None:
    """Without a screen, or without a thing."""
    assert read(text, real_base).hides is None


def test_it_belongs_to_its_own_place(real_base: Base) -> None:
    """Of two places it is told where it was said."""
    text = "Evergreen screen to hide a 6 ft fence, zone 7a. And for the front, a red perennial for full sun"
    parts = read_apart(text, real_base)
    assert [one.hides is not None for one in parts] == [True, False][: len(parts)]


@pytest.mark.parametrize(("text", "low", "high"), [
    ("evergreen screen to hide a 6 ft fence, 10 ft tall", 10, 10),
    ("something to hide the 8 ft shed, 10 to 12 feet high, zone 5", 10, 12),
    ("evergreens along a 4 ft fence, 8 ft tall", 8, 8),
])  # fmt: skip
def test_a_thing_of_a_known_height_has_no_second_one(text: str, low: float, high: float, real_base: Base) -> None:
    """What is said behind it is the plant's."""
    (height,) = [one for one in read(text, real_base).conditions if one.trait == "height"]
    assert (height.minimum, height.maximum) == (pytest.approx(low * FOOT), pytest.approx(high * FOOT))
