"""What a request says of the plants to be bought: in which container, for how much each, how many of a kind."""

from __future__ import annotations

import re
from typing import NamedTuple

from askplant.quantities.containers import container_codes, container_spans
from askplant.reading.reading import Purchase, Reading, Span

_AMOUNT = r"(?:\$\s?(?P<sign>\d[\d,]*(?:\.\d\d?)?)|(?<![\d,])(?P<word>\d[\d,]*(?:\.\d\d?)?)\s*(?:dollars|bucks|usd)\b)"
_MOST = r"(?:under|below|less than|at most|max(?:imum)?|up to|no more than|not over|within)"
_EACH = r"(?:each|apiece|a piece|a plant|per plant|ea\b|or less|max\b|or under|tops)"
# An amount bounds a plant's price where a bound or "each" says so; a sum alone may be meant for all of it.
_PRICE = re.compile(rf"(?:\b{_MOST}\s+)?{_AMOUNT}(?:\s*{_EACH})?", re.IGNORECASE)
_BOUND = re.compile(rf"\b{_MOST}\b|{_EACH}", re.IGNORECASE)
_ONE = re.compile(r"\b(?:each|apiece|a piece|a plant|per plant|ea)\b", re.IGNORECASE)
_TOTAL = re.compile(r"\b(?:budget|total|altogether|in all|for (?:all|everything)|overall|whole)\b", re.IGNORECASE)
_QUANTITY = re.compile(
    r"\b(?:qty|quantity)\s*:?\s*(?P<qty>\d{1,5})\b"
    r"|\b(?P<of>\d{1,5})\s+of\s+(?:them|it|each|these|those|the same|one kind|a kind)\b"
    r"|\bat least\s+(?P<least>\d{1,5})\s+(?:in stock|on hand|available|of them)\b"
    r"|\b(?P<stock>\d{1,5})\s+(?:or more\s+)?(?:in stock|on hand|available)\b"
    r"|\bin stock\s*,?\s*(?:at least\s+)?(?P<behind>\d{1,5})\b"
    r"(?!\s*-?\s*(?:ft|feet|foot|in\b|inch|gal|g\b|m\b|cm|qt|'|\"|-|–|to\b))",
    re.IGNORECASE,
)


def with_purchase(reading: Reading) -> Reading:
    """The reading with what it says of buying; words that were not understood and say it are understood now."""
    text = reading.request
    prices, counted = _prices(text), _QUANTITY.search(text)
    number = next((int(found) for found in counted.groups() if found), None) if counted else None
    one = min((price for price in prices if not price.total), default=None, key=lambda price: price.amount)
    total = min((price.amount for price in prices if price.total), default=None)
    buy = Purchase(container_codes(text), one.amount if one else None, number, one.each if one else False, total)
    if buy == Purchase():
        return reading
    spans = [*container_spans(text), *(one.span() for one in (counted,) if one)]
    told = tuple(unread for unread in reading.unread if not _inside(unread.at, spans))
    now = tuple(unread.at for unread in reading.unread if _inside(unread.at, spans))
    task = reading.task._replace(buy=buy, spans=(*reading.task.spans, *now))
    return reading._replace(task=task, unread=told)


class _Price(NamedTuple):
    """An amount, whether it was said to be for each plant, and whether for all together."""

    amount: float
    each: bool
    total: bool


def _prices(text: str) -> list[_Price]:
    """The amounts that bound a price, and those that bound all of it."""
    found = []
    for one in _PRICE.finditer(text):
        around = text[max(one.start() - 20, 0) : one.end() + 20]
        total = _TOTAL.search(around) is not None
        if total or _BOUND.search(one[0]):
            amount = float((one["sign"] or one["word"]).replace(",", ""))
            found.append(_Price(amount, _ONE.search(one[0]) is not None, total))
    return found


def _inside(at: Span, spans: list[Span]) -> bool:
    return any(first <= at[0] and at[1] <= last for first, last in spans)
