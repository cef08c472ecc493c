"""What a stock list says of a plant: in the published form, and in words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from askplant.answer.answer import Answer, Difference, Substitute
from askplant.quantities.lengths import Units, say_range
from askplant.render.asked import joined
from askplant.render.facts import offered
from askplant.render.warnings import Titled

Json = dict[str, Any]
NO_LIST = "No stock list is set, so that nothing is known of what is in stock (askplant stock use FILE sets one)."
AXES = {"height": "tall", "width": "wide"}


def stock_json(offers: Sequence[Any], nearest: Substitute | None, base: Titled, units: Units, of: Any) -> Json:
    """What there is of a plant, and what stands in for it where there is none; `of` gives the offers of a plant."""
    instead = None
    if nearest is not None:
        plant = base.plant(nearest.plant)
        instead = {
            "plant": plant.id,
            "botanical": plant.botanical,
            "differs": [differing(one, units) for one in nearest.differs],
            "offers": _offers(of(nearest.plant)),
        }
    return {"in": bool(offers), "offers": _offers(offers), "instead": instead}


def _offers(offers: Sequence[Any]) -> list[Json]:
    return [{"container": one.container or None, "price": one.price, "quantity": one.quantity} for one in offers]


def differing(one: Difference, units: Units) -> str:
    """One difference: `5–8 ft tall, not 10–12 ft`."""
    if one.trait in AXES:
        has, against = (say_range(float(low), float(high), units) for low, high in (one.has, one.against))
        return f"{has} {AXES[one.trait]}, not {against}"
    trait = " flowers" if one.trait == "flower_colour" else ""
    return f"{joined(one.has)}{trait}, not {joined(one.against)}"


def stock_words(offers: Sequence[Any], nearest: Substitute | None, told: Json, of: Any) -> str:
    """The same in words."""
    if offers:
        return f"in stock: {offered(offers)}"
    if nearest is None:
        return "not in stock, nor is any plant that fits"
    instead = told["instead"]
    differs = "; ".join(instead["differs"])
    like = f", which is {differs}" if differs else ", which is much the same"
    return f"not in stock; nearest that is: {instead['botanical']} ({offered(of(nearest.plant))}){like}"


def remarks(answer: Answer) -> tuple[str, ...]:
    """What is to be said of stock once for the whole answer."""
    asked = any(condition.trait == "stock" for condition in answer.reading.conditions)
    return (NO_LIST,) if asked and answer.stock is None else ()
