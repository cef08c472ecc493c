"""Prices, quantities, containers and label sizes as nurseries write them. What cannot be read is None, never a guess."""

from __future__ import annotations

import re

from askplant.quantities.quantity import parse_length
from askplant.sheets.sheet import Cell, is_date, text_of

_AMOUNT = re.compile(r"(?P<number>\d[\d.,' \u00a0]*)")
_AROUND = re.compile(r"(usd|us|cad|c|eur|gbp|ea|each|per plant|[$€£.,/ ]|-)*", re.IGNORECASE)
_COUNT = re.compile(
    r"(?P<number>\d{1,3}(,\d{3})+|\d+)(\.0+)?\s*(?:\+\s*)?(ea|each|pcs|plants|units|avail|available)?\.?", re.IGNORECASE
)
THOUSAND = 3  # digits behind a sign that parts thousands; behind one that parts decimals there are one or two
_NONE_LEFT = frozenset(("sold out", "out", "out of stock", "none", "-", "no", "soldout", "n/a"))

_MARKED = re.compile(r"(?P<number>[\d.]+(\s*(-|–|to)\s*[\d.]+)?)\s*(?P<mark>['’′\"”″])")
_MARKS = {"'": "ft", "’": "ft", "′": "ft"}


def price_of(cell: Cell) -> float | None:
    """`$24.50`, `24,50 €`, `1,089.50`; None for what is no one amount."""
    if isinstance(cell, bool) or is_date(cell):
        return None
    if isinstance(cell, float):
        return cell if cell >= 0 else None
    text = text_of(cell).strip()
    found = list(_AMOUNT.finditer(text))
    if len(found) != 1 or "-" in text[: found[0].start()]:
        return None
    if not _AROUND.fullmatch(text[: found[0].start()]) or not _AROUND.fullmatch(text[found[0].end() :]):
        return None
    return _amount(found[0]["number"].strip(" \u00a0.,"))


def _amount(text: str) -> float | None:
    """A number with either sign for its decimals: the last sign is it where one or two digits follow."""
    text = re.sub(r"[ \u00a0']", "", text)
    last = max(text.rfind("."), text.rfind(","))
    whole, rest = (text[:last], text[last + 1 :]) if last >= 0 else (text, "")
    text = re.sub(r"[.,]", "", text) if len(rest) == THOUSAND else f"{re.sub(r'[.,]', '', whole)}.{rest or 0}"
    try:
        return float(text)
    except ValueError:
        return None


def quantity_of(cell: Cell) -> int | None:
    """`12`, `100+`, `1,200`, `sold out`; None for what is no count."""
    if isinstance(cell, bool) or is_date(cell):
        return None
    if isinstance(cell, float):
        return int(cell) if cell >= 0 and cell == int(cell) else None
    text = text_of(cell).strip()
    if text.casefold() in _NONE_LEFT:
        return 0
    found = _COUNT.fullmatch(text)
    return int(found["number"].replace(",", "")) if found else None


def length_of(cell: Cell, unit: str) -> tuple[float, float] | None:
    """A label size, low and high in metres: `5-8 ft`, `6'`, or a bare number in the heading's unit."""
    if cell is None or is_date(cell):
        return None
    text = " ".join(text_of(cell).split())
    marked = _MARKED.fullmatch(text)
    if marked:
        text = f"{marked['number']} {_MARKS.get(marked['mark'], 'in')}"
    elif unit and re.fullmatch(r"[\d.]+(\s*(-|–|to)\s*[\d.]+)?", text):
        text = f"{text} {unit}"
    try:
        low, high = parse_length(text.replace("–", "-"))
    except ValueError:
        return None
    return (low, high) if 0 < low <= high else None
