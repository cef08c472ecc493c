"""When to prune, what wood blooms, and what breaks from old wood, against published tables.

University of Georgia Extension (Table 1), Ohio State, Illinois, Buncombe County and New Hampshire extensions opened, and
extension practice recalled; the source of each row stands in pruning_timing.csv.
"""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from tests.published.tables import Agreement, Taxa, table

# Before growth starts: what one list calls late winter another calls early spring or dormant.
BEFORE_GROWTH = {"late winter", "early spring", "dormant season"}
AFTER = {"after flowering"}
# What each printed time may be in ours; None where it says where to cut and not when.
WHEN: dict[str, set[str] | None] = {
    "after flowering": AFTER,
    "after flowering, late spring or summer": AFTER,
    "within two weeks after flowering": AFTER,
    "right after flowering": AFTER,
    "spring, after bloom": AFTER,
    "before spring growth (after bloom in practice)": AFTER | BEFORE_GROWTH,
    "late winter": BEFORE_GROWTH,
    "late winter, hard": BEFORE_GROWTH,
    "late winter to early spring": BEFORE_GROWTH,
    "late winter, before spring growth": BEFORE_GROWTH,
    "late winter or early spring, dormant": BEFORE_GROWTH,
    "late fall or early spring": BEFORE_GROWTH,
    "winter, before spring growth": BEFORE_GROWTH,
    "when forsythia is in full bloom": BEFORE_GROWTH,
    "dormant season only (oak wilt)": {"dormant season", "late winter"},
    "early summer": {"summer", "early spring or early summer"},
    "summer, when sap is slow": {"summer"},
    "late spring": {"late spring"},
    "late spring, then light trim to midsummer": {"late spring"},
    "early spring to mid June": {"early spring or early summer", "late spring", "early spring"},
    "seldom; blooms on both": {"seldom"},
    "never past the green": None,
    "not past leafy wood; light trim in growth": None,
}
# Buds on last year's wood, on the year's, or on both; None where the column speaks of another thing.
BLOOMS = {"old": {"old"}, "old (flower loss not discussed)": {"old"}, "new": {"new"}, "both": {"old", "new"}}
BREAKS = {"breaks from old wood": {"yes"}, "not from old wood": {"no"}}


def test_every_printed_word_has_a_meaning() -> None:
    other = {"broadleaf evergreen", "bleeds in spring", ""}
    for row in table("pruning_timing"):
        assert row["when"] in WHEN, row
        assert row["blooms_or_breaks_on"] in BLOOMS.keys() | BREAKS.keys() | other, row


@pytest.mark.parametrize(
    "what, column, meanings, trait, rows",
    [
        ("time to prune", "when", WHEN, "prune_when", 115),
        ("wood that blooms", "blooms_or_breaks_on", BLOOMS, "blooms_on", 95),
        ("breaks from old wood", "blooms_or_breaks_on", BREAKS, "old_wood", 28),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_agrees(
    what: str, column: str, meanings: Mapping[str, set[str] | None], trait: str, rows: int, taxa: Taxa
) -> None:
    agreement = Agreement(what)
    for row in table("pruning_timing"):
        wanted = meanings.get(row[column])
        if wanted is not None:
            agreement.add_row(taxa, row, "taxon", taxa.has(trait, wanted))
    agreement.holds(0.9, rows=rows)
