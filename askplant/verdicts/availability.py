"""Whether a plant is in stock, in the container, at the price and in the number that were said.

Not judged value by value: a stock list gives the plants. Without one nothing is known.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from askplant.quantities.containers import container_codes
from askplant.reading.reading import Purchase
from askplant.stock.stock import Offer
from askplant.verdicts.verdict import UNKNOWN, Fact, Judgement, Site, meets, misses

Keeps = Literal["yes", "unknown", "no"]
FACT = "stock"


def judge_stock(site: Site, everyone: int) -> list[tuple[Judgement, int]]:
    """Every plant: in stock as asked, in stock otherwise, or not; unknown for all without a stock list."""
    if site.stock is None:
        return [(UNKNOWN, everyone)]
    found: dict[Judgement, int] = {}
    for plant, offers in site.stock.by_plant.items():
        judgement = _judged(offers, site.buy)
        found[judgement] = found.get(judgement, 0) | 1 << plant
    pairs = [(judgement, bits & everyone) for judgement, bits in found.items()]
    out = everyone & ~site.stock.bits
    return [*pairs, (misses(Fact(FACT, ())), out)] if out else pairs


def _judged(offers: Sequence[Offer], buy: Purchase) -> Judgement:
    kept, has = keeping(offers, buy), Fact(FACT, tuple(offers))
    if kept == "yes":
        return meets(has)
    return UNKNOWN._replace(has=has) if kept == "unknown" else misses(has)


def keeping(offers: Sequence[Offer], buy: Purchase) -> Keeps:
    """Whether some offer keeps to what was said of buying; unknown where a list does not give what was asked about."""
    found = {_keeps(offer, buy) for offer in offers}
    return "yes" if "yes" in found else "unknown" if "unknown" in found else "no"


def _keeps(offer: Offer, buy: Purchase) -> Keeps:
    said: list[Keeps] = []
    if buy.containers:
        codes = container_codes(offer.container)
        said.append("unknown" if not codes else "yes" if set(codes) & set(buy.containers) else "no")
    if buy.price is not None:
        said.append("unknown" if offer.price is None else "yes" if offer.price <= buy.price else "no")
    if buy.quantity is not None:
        said.append("unknown" if offer.quantity is None else "yes" if offer.quantity >= buy.quantity else "no")
    return "no" if "no" in said else "unknown" if "unknown" in said else "yes"


def availability(site: Site, plant: int) -> float:
    """How well a plant can be had, 0 to 1: in stock as asked, in stock otherwise, or not."""
    offers = site.stock.of(plant) if site.stock is not None else ()
    return {"yes": 1.0, "unknown": 0.75, "no": 0.5}[keeping(offers, site.buy)] if offers else 0.0
