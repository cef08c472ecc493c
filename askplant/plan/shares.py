"""How many plants of one species, genus and family a row may hold: a published rule, scaled to short rows.

At most 10 % of a species, 20 % of a genus and 30 % of a family (Santamour 1990) is meant for the trees of a city: in a
row of fewer than ten plants a tenth is less than one. A plan therefore goes by larger shares (planning.toml), and
never by less than one plant.
"""

from __future__ import annotations

import math

from askplant.errors import UserError
from askplant.plan.tables import Shares

ALL = Shares(1.0, 1.0, 1.0)
# A third of nine plants is three, though 0.34 x 9 or a third in binary may end a hair below.
_HAIR = 1e-9


def most(share: float, plants: int) -> int:
    """The most plants of one kin in a row of so many: the share rounded down, never under one."""
    return max(1, math.floor(share * plants + _HAIR))


def parsed(text: str) -> Shares:
    """`SPECIES,GENUS,FAMILY` as shares, each as a fraction (0.34), a ratio (1/3) or per cent (34%). UserError otherwise."""
    expected = "three shares from 0 to 1, such as 0.34,0.5,0.67 (species, genus, family)"
    parts = text.split(",")
    try:
        one, two, three = (_share(part.strip()) for part in parts)
    except (ValueError, ZeroDivisionError):
        raise UserError(f"expected {expected}, found {text!r}") from None
    if not all(0 < share <= 1 for share in (one, two, three)):
        raise UserError(f"expected {expected}, found {text!r}")
    return Shares(one, two, three)


def _share(text: str) -> float:
    if text.endswith("%"):
        return float(text[:-1]) / 100
    over, slash, under = text.partition("/")
    return float(over) / float(under) if slash else float(over)
