"""What to be careful of with a plant, as data; the wording states the usual caution and to whom it defers."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from askplant.quantities.lengths import FOOT
from askplant.reading.reading import Reading
from askplant.verdicts.classes import one_of
from askplant.verdicts.safety import SAFE, code_of, listed_anywhere, places_listed
from askplant.verdicts.uses import WIRES_SOME

# Trees stand 10, 15 or 20 ft from a house, up to 30, 30 to 50 and over 50 ft tall (haufc.org).
HOUSE = ((30 * FOOT, 10 * FOOT), (50 * FOOT, 15 * FOOT), (1000 * FOOT, 20 * FOOT))
# Above this a woody plant needs thought near wires: 25 ft (Vermont Urban and Community Forestry).
WIRES = WIRES_SOME
# Between 2.5 and 8 or 10 ft nothing may stand in a sight triangle; what ends below is no matter (municipal codes).
SIGHT = 2.5 * FOOT
SEEN_FROM_ROAD = frozenset({"street"})
# The first 5 ft from a house hold no fuel, and conifers do not belong in the first zones (IBHS; NFPA as quoted by
# county guides).
FIRE_ZONE = 5 * FOOT

# The columns of the base that cautions read.
READS = ("safe_for", "invasive", "roots", "fire", "height", "kind")


class Caution(NamedTuple):
    """One caution: what it is about, and what the card says of it (words as it has them, lengths in metres)."""

    about: str
    words: tuple[str, ...] = ()
    lengths: tuple[float, ...] = ()


def cautions(values: dict[str, list[Any]], reading: Reading | None) -> tuple[Caution, ...]:
    """A plant's cautions from its values in the columns of READS; some only where the request makes them matter."""
    poison, thorns = values["safe_for"][0], one_of(values["safe_for"][1])
    found = _poison(poison) + _invasive(values["invasive"][0], reading)
    if thorns == "present":
        found.append(Caution("thorns"))
    if one_of(values["roots"][0]) == "aggressive":
        found.append(Caution("roots"))
    if values["fire"][0] == "flammable" and _near_house(reading):
        found.append(Caution("fire", (), (FIRE_ZONE,)))
    return tuple(found + _size(values["height"][0], values["kind"][0], reading))


def _poison(poison: Sequence[Sequence[str]] | None) -> list[Caution]:
    harms = [entry for entry in poison or () if SAFE not in entry]
    return [Caution("toxic", tuple(": ".join(part for part in entry if part) for entry in harms))] if harms else []


def _invasive(text: str | None, reading: Reading | None) -> list[Caution]:
    if text is None or not listed_anywhere(text):
        return []
    place = code_of(reading.task.place) if reading else None
    here = place is not None and place in places_listed(text)
    return [Caution("invasive", (text, place if here and place else ""))]


def _near_house(reading: Reading | None) -> bool:
    if reading is None:
        return True
    asked = {condition.trait for condition in reading.conditions}
    return "fire" in asked or bool(_uses(reading) & {"foundation"})


def _uses(reading: Reading) -> set[str]:
    return {str(value) for condition in reading.conditions if condition.trait == "use" for value in condition.values}


def _size(height: Sequence[float] | None, kinds: Sequence[str] | None, reading: Reading | None) -> list[Caution]:
    if not height:
        return []
    found = []
    if "tree" in (kinds or ()) and height[1] > WIRES + 0.01:
        away = next(distance for most, distance in HOUSE if height[1] <= most)
        found.append(Caution("size", (), (height[1], away)))
    if reading is not None and _uses(reading) & SEEN_FROM_ROAD and "tree" not in (kinds or ()) and height[1] > SIGHT:
        found.append(Caution("sight lines", (), (SIGHT,)))
    return found
