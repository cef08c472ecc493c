"""Conditions as the reader makes them, in short."""

from __future__ import annotations

from typing import Any

from askplant.reading.reading import Condition

from .invented import FOOT


def any_of(trait: str, *values: Any, **more: Any) -> Condition:
    return Condition(trait, "any_of", values, **more)


def none_of(trait: str, *values: Any) -> Condition:
    return Condition(trait, "none_of", values)


def at_least(trait: str, *values: Any) -> Condition:
    return Condition(trait, "at_least", values)


def size(trait: str, test: Any, low: float | None = None, high: float | None = None, **more: Any) -> Condition:
    """Bounds in feet."""
    bounds = [None if bound is None else round(bound * FOOT, 4) for bound in (low, high)]
    return Condition(trait, test, minimum=bounds[0], maximum=bounds[1], unit="m", **more)
