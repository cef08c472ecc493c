"""Candidates of invented plants, made by hand or generated, for what must hold of every row."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from askplant.plan.candidates import Candidate
from askplant.plan.tables import Shares

STEP = 0.1524  # half a foot
LIGHT = ["full sun", "part shade"]
MOISTURE = ["dry", "average", "moist"]


def candidate(plant: int, room: float = 1.0, worth: float = 0.5, **more: Any) -> Candidate:
    """A candidate; of its own species, genus and family unless told otherwise."""
    given = {"genus": f"G{plant}", "species": f"S{plant}", "family": f"F{plant}", "dependable": 0.5, "rank": plant + 1}
    return Candidate(plant=plant, room=room, worth=worth, value=round(room * worth, 6), **(given | more))


def some(words: list[str]) -> st.SearchStrategy[frozenset[str] | None]:
    """Classes that a plant does well in, or nothing where the card is silent."""
    return st.none() | st.frozensets(st.sampled_from(words), min_size=1, max_size=2)


def _made(found: list[tuple[Any, ...]]) -> list[Candidate]:
    return [
        candidate(
            plant,
            steps * STEP,
            worth / 100,
            genus=f"G{genus}",
            species=f"S{genus}.{species}",
            family=f"F{genus // 2}",
            light=light,
            moisture=moisture,
            drought=drought,
            limit=limit,
            tall=size,
            wide=size / 2,
        )
        for plant, (steps, worth, genus, species, light, moisture, drought, limit, size) in enumerate(found)
    ]


def candidates(most: int) -> st.SearchStrategy[list[Candidate]]:
    """A few plants of a few genera, of rooms that do not divide one another."""
    one = st.tuples(
        st.integers(4, 9),
        st.integers(10, 100),
        st.integers(0, 5),
        st.integers(0, 1),
        some(LIGHT),
        some(MOISTURE),
        st.sampled_from(["sensitive", "moderate", "tolerant", None]),
        st.none() | st.integers(1, 4),
        st.floats(1.0, 6.0),
    )
    return st.lists(one, min_size=1, max_size=most).map(_made)


runs = st.integers(4, 44).map(lambda steps: steps * STEP)
shares = st.sampled_from(
    [Shares(0.34, 0.5, 0.67), Shares(0.5, 0.5, 1.0), Shares(1.0, 1.0, 1.0), Shares(0.25, 0.4, 0.6)]
)
