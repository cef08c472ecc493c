"""Names that were published beside a size which breaks or keeps their word, against the judge of names.

The source of each row stands in name_claims.csv.
"""

from __future__ import annotations

import pytest

from askplant.quantities.lengths import FOOT
from askplant.verdicts.names import Traits, misled
from tests.published.tables import Row, number, table

# What the word of each row claims; words of parts of the row's own list ("list term") are the list's, not the name's.
CLAIMS = {
    "dwarf": "small",
    "dwarf (list term)": "small",
    "dwarf / minaret": "small",
    "nana / dwarf": "small",
    "humilis (low)": "small",
    "low": "small",
    "little": "little",
    "edging": "edging",
    "creeping (horizontalis)": "creeping",
    "column": "narrow",
    "big": "large",
    "great": "great",
    "pygmaea / dwarf": "miniature",
    "miniature (list term)": "miniature",
    "spire": "spire",
    "large (major)": "large",
}
KINDS = {
    "Liriope muscari": "perennial",
    "Canadanthus modestus": "perennial",
    "Magnolia": "tree",
    "Acer": "tree",
    "Taxodium": "tree",
}
WIDE = {"narrow", "spire"}


@pytest.mark.parametrize("row", table("name_claims"), ids=lambda row: f"{row['plant']}: {row['name_word']}")
def test_published_verdict(row: Row) -> None:
    """What misleads in print, mildly or not, misleads the judge too, and what is honest does not."""
    claim = CLAIMS[row["name_word"]]
    assert misled(claim, _traits(row, claim)) == (row["verdict"] != "honest"), row["source"]


def _traits(row: Row, claim: str) -> Traits:
    high = number(row["high"]) or 0
    low = number(row["low"]) or high
    size = (low * FOOT, high * FOOT)
    kind = next((kind for name, kind in KINDS.items() if row["plant"].startswith(name)), "shrub")
    # A claim of width is held against a height of three times a column's width.
    tall = (30 * FOOT, 30 * FOOT) if claim in WIDE else size
    nothing = dict.fromkeys(Traits._fields)
    known = {
        "grown": tall,
        "width": size,
        "kinds": frozenset({kind}),
        "forms": frozenset(),
        "genus": "",
        "family": None,
    }
    return Traits(**(nothing | known))  # type: ignore[arg-type]
