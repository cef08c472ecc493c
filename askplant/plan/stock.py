"""A stock list: CSV with the columns name, container, price and quantity, its names matched to plants of the base.

A name that is no one plant of the base is kept aside and said, never guessed at.
"""

from __future__ import annotations

import csv
import io
import re

from askplant.base.opened import Base
from askplant.errors import FileError, UnknownPlant
from askplant.finding import find
from askplant.plan.plan import Offer, Stock, Unmatched

NAME, CONTAINER, PRICE, QUANTITY = COLUMNS = ("name", "container", "price", "quantity")
NEEDED = (NAME, QUANTITY)
FEW = 3  # plants told of a name that several bear
_PRICE = re.compile(r"[^\d.,-]*(\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+(?:\.\d+)?)[^\d]*")


def stock_of(text: str, file: str, base: Base) -> Stock:
    """The stock list in a text. FileError names the file and the row of what is no such list."""
    rows = list(csv.reader(io.StringIO(text, newline="")))
    if not rows:
        raise FileError(file, "", "nothing", f"a heading row: {','.join(COLUMNS)}")
    headings = [cell.strip().casefold() for cell in rows[0]]
    missing = [name for name in NEEDED if name not in headings]
    if missing:
        raise FileError(file, "row 1", f"no column {' and '.join(missing)}", f"the columns {', '.join(COLUMNS)}")
    offers: list[Offer] = []
    unmatched: list[Unmatched] = []
    for number, row in enumerate(rows[1:], 2):
        cells = dict(zip(headings, (cell.strip() for cell in row), strict=False))
        if not any(cells.values()):
            continue
        found = _matched(cells.get(NAME, ""), number, base)
        price, quantity = _price(cells.get(PRICE, ""), file, number), _quantity(cells.get(QUANTITY, ""), file, number)
        if isinstance(found, Unmatched):
            unmatched.append(found)
        elif quantity:
            offers.append(Offer(found, cells.get(CONTAINER, ""), price, quantity))
    return Stock(tuple(offers), tuple(unmatched))


def _matched(name: str, row: int, base: Base) -> int | Unmatched:
    try:
        found = find(name, base)
    except UnknownPlant as problem:
        return Unmatched(row, name, problem.nearest)
    if len(found.plants) == 1:
        return found.plants[0]
    return Unmatched(row, name, tuple(base.plant(n).botanical for n in found.plants[:FEW]))


def _price(text: str, file: str, row: int) -> float | None:
    """A price with or without its sign; None where the list gives none."""
    if not text:
        return None
    found = _PRICE.fullmatch(text)
    if found is None or "-" in text:
        raise FileError(file, f"row {row}", f"price `{text}`", "an amount (24.50), or nothing")
    return float(found[1].replace(",", ""))


def _quantity(text: str, file: str, row: int) -> int:
    if not text.isascii() or not text.isdigit():
        raise FileError(file, f"row {row}", f"quantity `{text}`", "a whole number")
    return int(text)
