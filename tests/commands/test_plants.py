"""Commands about single plants: show, why, compare; and the names they take."""

from __future__ import annotations

import json

import pytest

from askplant import cli, statuses
from askplant.desk import Desk
from askplant.errors import UnknownPlant, UserError
from askplant.finding import find
from askplant.render.plant import label_of, value_words
from askplant.render.screen import cells

ONE = "Ilex glabra"


@pytest.mark.parametrize(
    "name", ["ilex-glabra", "Ilex glabra", "ILEX GLABRA", "inkberry", "Inkberries", "inkbery", "ink berry"]
)
def test_names_of_one_plant(desk: Desk, name: str) -> None:
    """An id, the botanical name, a common name, another case or number, a misspelling, words parted elsewhere."""
    assert find(name, desk.base).plants == (desk.base.index("ilex-glabra"),)


def test_a_species_is_not_all_its_cultivars(desk: Desk) -> None:
    """A species' name means the species' own card; a genus means every plant of it."""
    assert len(find(ONE, desk.base).plants) == 1
    assert len(find("Ilex", desk.base).plants) > 1


@pytest.mark.parametrize("name", ["", "  ", "?!", "zzzzqqq"])
def test_names_of_no_plant(desk: Desk, name: str) -> None:
    """A name that is none is unknown, whatever it holds."""
    with pytest.raises(UnknownPlant):
        find(name, desk.base)


def test_nearest_names_are_suggested(capsys: pytest.CaptureFixture[str]) -> None:
    """An unknown name has its own status, and names that come close are offered."""
    assert cli.main(["show", "Ilex", "glabzzzra", "Denssa"]) == statuses.UNKNOWN_PLANT
    err = capsys.readouterr().err
    assert err.count("\n") == 1
    assert "nearest: " in err
    assert "Ilex" in err


def test_show(capsys: pytest.CaptureFixture[str], desk: Desk) -> None:
    """Names, sizes, and every trait with its source or basis."""
    assert cli.main(["show", "inkberry"]) == statuses.FITS
    out = capsys.readouterr().out
    assert out.startswith("Ilex glabra (inkberry")
    traits = {row.trait for row in desk.base.rows(desk.base.index("ilex-glabra"))}
    assert all(f"\n  {label_of(trait)} " in out for trait in traits)
    assert "[common practice]" in out
    assert "\nSources\n" in out


def test_show_json_of_a_name_that_several_bear(capsys: pytest.CaptureFixture[str]) -> None:
    """A genus is listed plant by plant."""
    assert cli.main(["show", "Ilex", "--json"]) == statuses.FITS
    told = json.loads(capsys.readouterr().out)
    assert told["name"] == "Ilex"
    assert {"plant": "ilex-glabra", "botanical": "Ilex glabra"} in told["plants"]


def test_why_a_plant_fits_and_why_not(capsys: pytest.CaptureFixture[str]) -> None:
    """Both outcomes are said in the first line, with every verdict under it."""
    assert cli.main(["why", "inkberry", "evergreen, zone 7"]) == statuses.FITS
    out = capsys.readouterr().out
    assert out.startswith("Ilex glabra fits, number ")
    assert "meets     evergreen" in out
    assert cli.main(["why", "inkberry", "deciduous, at least 90 ft tall"]) == statuses.FITS
    out = capsys.readouterr().out
    assert out.startswith("Ilex glabra does not fit: it misses 2 of the musts.")
    assert out.count("\n  misses    ") == 2


def test_why_json(capsys: pytest.CaptureFixture[str]) -> None:
    """One plant stands at the top of its JSON; of several each stands in a list. A verdict for each condition."""
    assert cli.main(["why", "inkberry", "evergreen,", "zone", "7", "--json"]) == statuses.FITS
    told = json.loads(capsys.readouterr().out)
    assert told["plant"] == "ilex-glabra"
    assert [one["condition"] for one in told["verdicts"]] == [0, 1]
    assert told["reading"]["request"] == "evergreen, zone 7"
    assert cli.main(["why", "Ilex", "evergreen", "--json"]) == statuses.FITS
    told = json.loads(capsys.readouterr().out)
    assert all(len(one["verdicts"]) == 1 for one in told["plants"])


@pytest.mark.parametrize("width", [40, 80, 110])
def test_compare_folds(capsys: pytest.CaptureFixture[str], width: int) -> None:
    """Side by side where there is room, one under the other where there is not; never wider than the screen."""
    assert cli.main(["compare", "inkberry", "Ilex crenata", "--width", str(width)]) == statuses.FITS
    out = capsys.readouterr().out
    assert max(cells(line) for line in out.splitlines()) <= width
    assert ("Ilex glabra: " in out) == (width == 40)


def test_compare_puts_differences_first(capsys: pytest.CaptureFixture[str]) -> None:
    """What is the same comes last, each trait once."""
    assert cli.main(["compare", "inkberry", "Ilex crenata"]) == statuses.FITS
    differs, _, same = capsys.readouterr().out.partition("\nThe same\n")
    assert "deer" in differs
    assert "persistence" in same
    assert cli.main(["compare", "inkberry", "Ilex crenata", "--json"]) == statuses.FITS
    told = json.loads(capsys.readouterr().out)
    assert [plant["plant"] for plant in told["plants"]] == ["ilex-glabra", "ilex-crenata"]


def test_a_name_of_several_is_not_guessed(desk: Desk) -> None:
    """Where one plant is wanted, a name of several is refused with some of them."""
    with pytest.raises(UserError, match=r"Ilex is the name of \d+ plants, such as Ilex"):
        desk.show("Ilex")


@pytest.mark.parametrize(
    "row, said",
    [
        ({"trait": "height_grown", "low": 1.524, "high": 2.4384, "unit": "m"}, "5–8 ft"),
        ({"trait": "ph", "low": 5.0, "high": 6.5}, "5–6.5"),
        ({"trait": "lag_years", "low": 2.0, "high": 2.0, "unit": "years"}, "2 years"),
        ({"trait": "bloom", "value": "5; 6"}, "May–June"),
        ({"trait": "native", "value": "ME; 38; 99"}, "ME; eastern Asia; 99"),
        ({"trait": "light", "value": "full sun; part sun"}, "full sun; part sun"),
    ],
)
def test_values_in_words(row: dict[str, object], said: str) -> None:
    """Lengths in units, months and regions by name, all else as the card has it."""
    assert value_words(row, "us") == said
