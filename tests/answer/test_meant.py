"""What a request means without saying it moves plants up or down, and none in or out: climate, and the plant that is to go."""

from __future__ import annotations

from typing import Any

import pytest

from askplant.answer.answer import Answer
from askplant.answer.compose import answer
from askplant.answer.single import why
from askplant.reading.reading import Condition, Mention, Reading, Task
from askplant.verdicts.climate import CLIMATES, like, of_climate
from askplant.verdicts.safety import REGIONS

from ..verdicts.conditions import any_of
from ..verdicts.invented import InventedBase

SHRUB: dict[str, Any] = {"kind": ["shrub"], "light": ["full sun"]}
BASE = InventedBase(
    {
        "Atlantica atlantica": SHRUB | {"native": ["VA", "NC", "GA"]},
        "Pacifica pacifica": SHRUB | {"native": ["WA", "OR", "BC"]},
        "Sinensis sinensis": SHRUB | {"native": ["36", "38"]},
        "Hybrida hybrida": SHRUB,
    }
)


def ask(place: str | None, *named: Mention) -> Answer:
    return answer(Reading("shrub", (any_of("kind", "shrub"),), task=Task(place=place), named=named), BASE)


def names(found: Answer) -> list[str]:
    return [BASE.botanical[match.plant].split()[0] for match in found.matches]


def test_what_is_used_to_the_climate_of_the_place_comes_first() -> None:
    """The same shrubs in the order of either coast, all of them still there; without a place none is put behind."""
    assert names(ask("VA")) == ["Atlantica", "Sinensis", "Hybrida", "Pacifica"]
    assert names(ask("WA")) == ["Pacifica", "Sinensis", "Hybrida", "Atlantica"]
    assert len({match.fit for match in ask(None).matches}) == 1


def test_the_rank_says_that_a_plant_comes_from_other_climates() -> None:
    """And only of such a plant."""
    away = {BASE.botanical[match.plant].split()[0] for match in ask("VA").matches if match.why.away}
    assert away == {"Pacifica"}


def test_no_condition_is_added_to_those_that_were_said() -> None:
    """Verdicts stand one for each condition of the reading."""
    assert all(len(match.judgements) == 1 for match in ask("VA", _gone("Atlantica atlantica")).matches)


def _gone(plant: str) -> Mention:
    return Mention(plant, "to be replaced", plant, (0, 3))


def test_what_is_to_be_replaced_is_not_offered_first() -> None:
    """It would fit as well as ever, and stays in the list; a plant that was only seen loses nothing."""
    assert names(ask("VA", _gone("Atlantica atlantica")))[0] == "Sinensis"
    assert "Atlantica" in names(ask("VA", _gone("Atlantica atlantica")))
    seen = Mention("Atlantica atlantica", "seen", "it", (0, 2))
    assert names(ask("VA", seen))[0] == "Atlantica"


def test_what_stands_in_for_a_plant_is_of_its_kind() -> None:
    """Unless the request says what kind is wanted, or what for."""
    base = InventedBase({"Alba alba": {"kind": ["grass"]}, "Beta beta": SHRUB, "Vecchia vecchia": SHRUB})
    gone = (_gone("Vecchia vecchia"),)

    def first(*conditions: Condition) -> str:
        found = answer(Reading("it", conditions, named=gone), base)
        return base.botanical[next(iter(found.matches)).plant]

    assert first() == "Beta beta"
    assert first(any_of("kind", "grass")) == "Alba alba"


def test_one_plant_stands_at_the_same_rank_by_itself() -> None:
    """`why` counts as `ask` does."""
    for match in ask("VA", _gone("Sinensis sinensis")).matches:
        reading = Reading(
            "shrub", (any_of("kind", "shrub"),), task=Task(place="VA"), named=(_gone("Sinensis sinensis"),)
        )
        assert why(BASE, reading, match.plant).rank == match.rank


@pytest.mark.parametrize(
    "codes, place, verdict",
    [
        (["CA", "OR"], "CA", "meets"),  # at home
        (["12", "13"], "CA", "meets"),  # dry summers too
        (["36", "38"], "AZ", "with care"),  # monsoon against desert
        (["AZ", "NM", "79"], "NV", "meets"),
        (["WA", "OR", "BC", "CA"], "AZ", "with care"),  # one state of four is half a desert
        (None, "AZ", "meets"),  # of what is silent nothing is held against it
    ],
)
def test_where_it_grows_wild_against_the_climate_of_a_place(
    codes: list[str] | None, place: str, verdict: str
) -> None:
    """The most of its home has to be of the kind."""
    assert of_climate(codes, place).verdict == verdict


def test_every_state_and_province_of_the_map_has_a_climate_but_the_far_north() -> None:
    """So that no place is passed over by mistake."""
    listed = {state for climate in CLIMATES for state in climate.states}
    known = {code for region, codes in REGIONS.items() for code in codes.split() if region != "70"}
    assert known - listed == set()
    assert listed - known == {"AK", "HI"}
    assert all(place in like(place) for place in listed)
