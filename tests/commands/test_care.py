"""`askplant care`, end to end: text, JSON, a calendar file, and what goes wrong."""

from __future__ import annotations

import json
import os
from datetime import date
from pathlib import Path

import pytest
from icalendar import Calendar

from askplant import cli, statuses
from askplant.care import thirds
from askplant.desk import Desk
from tests.test_schema import faults

WHERE = ["--zone", "6b", "--from", "2027-01-05"]


def test_twelve_months_in_order(capsys: pytest.CaptureFixture[str], desk: Desk) -> None:
    """From the month of planting on, each month once, the quiet ones in one line."""
    assert cli.main(["care", "Syringa vulgaris", "inkberry", *WHERE]) == statuses.FITS
    told = capsys.readouterr().out
    months = ("March", "April", "May", "June", "July", "August", "September", "October", "November", "December")
    heads = [told.index(f"\n{month} 2027") for month in months]
    heads += [told.index(f"\n{month} 2028") for month in ("January", "February")]
    assert heads == sorted(heads)
    assert "nothing new; still" in told
    assert "plant all" not in told
    assert "plant     plant Ilex glabra (" in told
    assert "plant Syringa vulgaris; bare roots by early April at the latest" in " ".join(told.split())
    assert "utility-marking service" in told
    assert "southern hemisphere is not served" in " ".join(told.split())
    assert max(map(len, told.splitlines())) <= 80


def test_json_has_the_published_form(capsys: pytest.CaptureFixture[str], desk: Desk) -> None:
    """One object; the months point at the tasks by number."""
    assert (
        cli.main(["care", "inkberry", "--json", "--place", "Durham, NC", "--zone", "7b", "--planted", "2027-04"]) == 0
    )
    told = json.loads(capsys.readouterr().out)
    assert faults("care", told) == []
    assert told["site"]["last_frost"] == ["04-11", "04-11"]
    assert told["plants"] == [{"plant": "ilex-glabra", "botanical": "Ilex glabra", "planted": "2027-04-01"}]
    numbers = {number for month in told["months"] for number in month["begin"]}
    assert numbers == set(range(len(told["tasks"])))


def test_a_calendar_file(tmp_path: Path, capsys: pytest.CaptureFixture[str], desk: Desk) -> None:
    """Written whole beside the text, one event a task, the same bytes the second time."""
    files = [tmp_path / "one.ics", tmp_path / "two.ics"]
    for file in files:
        assert cli.main(["care", "inkberry", "--json", *WHERE, "--ics", str(file)]) == statuses.FITS
    told = json.loads(capsys.readouterr().out.splitlines()[0])
    assert len(Calendar.from_ical(files[0].read_bytes()).walk("VEVENT")) == len(told["tasks"])
    assert files[0].read_bytes() == files[1].read_bytes()
    assert sorted(os.listdir(tmp_path)) == ["one.ics", "two.ics"]


@pytest.mark.parametrize(
    "planted, first", [("2027", "2027-03-11"), ("spring 2028", "2028-03-11"), ("2028 fall", "2028-09-01")]
)
def test_years_and_seasons(planted: str, first: str, capsys: pytest.CaptureFixture[str], desk: Desk) -> None:
    """The first planting time within what is said; a year begins in January."""
    assert cli.main(["care", "Syringa vulgaris", "--json", "--zone", "6b", "--planted", planted]) == statuses.FITS
    assert json.loads(capsys.readouterr().out)["plants"][0]["planted"] == first


def test_out_of_season_is_said(capsys: pytest.CaptureFixture[str], desk: Desk) -> None:
    """A plant set out in July is dated from July, and the text says that this is none of its times."""
    assert cli.main(["care", "inkberry", "--zone", "6b", "--planted", "2027-07"]) == statuses.FITS
    told = " ".join(capsys.readouterr().out.split())
    assert "Counted from planting in early July 2027" in told
    assert "none of the usual ones" in told


def test_a_state_alone_counts_as_its_coldest(capsys: pytest.CaptureFixture[str], desk: Desk) -> None:
    """And the text asks for the zone."""
    assert cli.main(["care", "inkberry", "--place", "MD"]) == statuses.FITS
    assert "5b is the coldest zone of MD: say your own with --zone" in " ".join(capsys.readouterr().out.split())


def told_of(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    """The text of a run as one line."""
    assert cli.main(["care", *arguments, "--from", "2027-01-05"]) == statuses.FITS
    return " ".join(capsys.readouterr().out.split())


def test_pruning_waits_in_the_text_too(capsys: pytest.CaptureFixture[str], desk: Desk) -> None:
    """A shrub planted in spring is first cut after its first winter or later, and no month of its first year says otherwise."""
    told = told_of(capsys, "Hydrangea paniculata", "Syringa vulgaris", "Thuja occidentalis", "--zone", "6b")
    assert "prune Syringa vulgaris, right after bloom; the sooner the better (June, from 2028 on)" in told
    assert "bare wood does not sprout (mid March to mid June, from 2028 on)" in told
    assert "still pruning" not in told.partition("January 2028")[0]
    told = told_of(capsys, "Hydrangea paniculata", "--zone", "6b", "--planted", "2027-03")
    assert "before growth begins (mid February to late March)" in told


@pytest.mark.parametrize("place", ["Denver, CO", "denver CO", "Denver", "Denver, Colorado"])
def test_a_place_of_the_table_has_its_own_zone(place: str, capsys: pytest.CaptureFixture[str], desk: Desk) -> None:
    """And its own frosts; nothing is said of the coldest."""
    told = told_of(capsys, "inkberry", "--place", place)
    assert "in zone 6a" in told
    assert "coldest" not in told
    assert "Mean last frost early May, first frost early October" in told


@pytest.mark.parametrize("place, region", [("Maryland", "MD"), ("Portland, OR", "OR")])
def test_the_coldest_zone_is_that_of_the_region(
    place: str, region: str, capsys: pytest.CaptureFixture[str], desk: Desk
) -> None:
    """Never that of a town, whose own is asked for."""
    if "," not in place:
        assert f"is the coldest zone of {region}: say" in told_of(capsys, "inkberry", "--place", place)
    else:
        assert cli.main(["care", "inkberry", "--place", place]) == statuses.WRONG_USE
        assert f"the zone of {place} is not known: say it as well (--zone 6b)" in capsys.readouterr().err


def test_a_zone_that_is_none_of_the_state_is_told(capsys: pytest.CaptureFixture[str], desk: Desk) -> None:
    """Of a zone next to one nothing is said: maps of different years differ by so much."""
    assert "9a is none of the zones of MN (3a to 5a)" in told_of(capsys, "inkberry", "--zone", "9a", "--place", "MN")
    for zone in ("4b", "5b"):
        assert "none of the zones" not in told_of(capsys, "inkberry", "--zone", zone, "--place", "MN")


@pytest.mark.parametrize(
    "where, told, cut",
    [
        (["--zone", "8b", "--place", "TX"], "February through October", range(3, 30)),
        (["--zone", "7a", "--place", "TX"], "February through October", range(3, 30)),
        (["--zone", "8b"], "February through October", range(3, 30)),
        (["--zone", "6b", "--place", "IL"], "April through October", range(9, 30)),
    ],
)
def test_oak_wilt_begins_earlier_in_the_south(
    where: list[str], told: str, cut: range, capsys: pytest.CaptureFixture[str], desk: Desk
) -> None:
    """The words name the months of the rules that hold there, and no cut lies within them."""
    assert cli.main(["care", "Quercus virginiana", "--json", "--from", "2027-01-05", *where]) == statuses.FITS
    cuts = [task for task in json.loads(capsys.readouterr().out)["tasks"] if task["kind"] == "prune"]
    assert cuts
    for task in cuts:
        assert f"never {told}, for oak wilt" in task["text"]
        begins, ends = (thirds.of_date(date.fromisoformat(task[edge])) for edge in ("begins", "ends"))
        assert not {moment % 36 for moment in range(begins, ends + 1)} & set(cut)


@pytest.mark.parametrize(
    "arguments, status, message",
    [
        (["zzzzqqq", "--zone", "6b"], statuses.UNKNOWN_PLANT, "no plant of that name: zzzzqqq"),
        (["holly", "--zone", "6b"], statuses.WRONG_USE, "holly is the name of"),
        (["inkberry"], statuses.WRONG_USE, "say where: --zone 6b, or --place MD"),
        (["inkberry", "--zone", "99"], statuses.WRONG_USE, "found --zone `99`; expected a hardiness zone"),
        (["inkberry", "--place", "Australia"], statuses.WRONG_USE, "the southern hemisphere is not served"),
        (["inkberry", "--zone", "6b", "--planted", "2027-13"], statuses.WRONG_USE, "found --planted `2027-13`"),
        (["inkberry", "--zone", "6b", "--planted", "soon"], statuses.WRONG_USE, "found --planted `soon`"),
        (["inkberry", "--zone", "6b", "--from", "today"], statuses.WRONG_USE, "found --from `today`"),
        (["inkberry", "--zone", "6b", "--from", "9999-12-31"], statuses.WRONG_USE, "expected a year from 1000 to 2999"),
        (["inkberry", "--zone", "6b", "--years", "0"], statuses.WRONG_USE, "expected a whole number"),
        (["inkberry", "--zone", "6b", "--ics", "absent/care.ics"], statuses.TROUBLE, "absent/care.ics: found no such file"),
        (["inkberry", "--zone", "6b", "--ics", "."], statuses.TROUBLE, ".: found something that is no ordinary file"),
    ],
)  # fmt: skip
def test_trouble_is_one_line(
    arguments: list[str],
    status: int,
    message: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    desk: Desk,
) -> None:
    """With its status, nothing on standard output, and no file left behind."""
    monkeypatch.chdir(tmp_path)
    assert cli.main(["care", *arguments]) == status
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("askplant: ")
    assert message in err
    assert len(err.splitlines()) == 1
    assert os.listdir(tmp_path) == []
