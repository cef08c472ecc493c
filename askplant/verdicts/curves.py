"""The growth curve of one plant: its card's sizes, growth and lag, pulled by the sizes it was measured at."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Protocol

from askplant.verdicts.growth import Curve, fitted, soft_years


class Measured(Protocol):
    """What a base must tell of a plant's growth."""

    def resolved(self, n: int) -> dict[str, Any]: ...
    def observations(self, n: int) -> Sequence[Any]: ...


def curve_of(base: Measured, plant: int) -> Curve | None:
    """Height in metres over years in the ground; None where no grown height is known."""
    card = base.resolved(plant)
    grown = card.get("height_grown")
    if grown is None:
        return None
    kinds = card["kind"].words if "kind" in card else ()
    return fitted(
        (grown.low, grown.high),
        card["height_old"].high if "height_old" in card else None,
        _middle(card.get("growth_per_year")),
        card["growth"].text if "growth" in card else None,
        soft_years(kinds) if kinds else None,
        _middle(card.get("lag_years")),
        tuple((seen.age, seen.height) for seen in base.observations(plant) if _counts(seen)),
    )


def _counts(seen: Any) -> bool:
    """A plant that was cut tells nothing of its growth."""
    return seen.height is not None and seen.age > 0 and seen.pruned != "yes"


def _middle(value: Any) -> float | None:
    return (value.low + value.high) / 2 if value is not None else None
