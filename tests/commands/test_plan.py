"""`askplant plan` from end to end, over the real base."""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from icalendar import Calendar

from askplant import cli, statuses, where
from askplant.desk import Desk
from askplant.plan.compose import plan
from askplant.plan.goal import as_screen, goal_of
from askplant.plan.growing import Span
from askplant.plan.plan import Outgrown, Plan
from askplant.plan.tables import planning
from askplant.quantities.lengths import say_range
from askplant.render.plan import bound_words, plan_json, years_words
from tests.commands.test_cli import run
from tests.test_schema import faults

REQUEST = "60 ft screen, 10 ft tall in 5 years, at most 5 ft deep, zone 6b, deer, part shade"
WIDTHS = (80, 60, 30, 120)


def told(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    """The JSON of a plan that is possible."""
    assert cli.main(["plan", *arguments, "--json"]) == statuses.FITS
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def test_the_installed_command_plans_a_screen() -> None:
    """The first line can be read out, the picture and the cautions are there, and nothing else is printed."""
    done = run("plan", REQUEST)
    assert done.returncode == statuses.FITS
    assert done.stdout.startswith("Plant ")
    for part in ("Where each stands", "Year 20", "utility-marking service", "Property line", "Santamour"):
        assert part in done.stdout
    assert "HiGHS" not in done.stdout + done.stderr


def test_the_published_form(capsys: pytest.CaptureFixture[str], desk: Desk) -> None:
    """The JSON has its form, its counts agree with its positions, and no must is missed."""
    found = told(capsys, REQUEST)
    assert faults("plan", found) == []
    made = found["plan"]
    assert Counter(place["key"] for place in made["positions"]) == {
        kind["key"]: kind["count"] for kind in made["plants"]
    }
    assert max(kind["count"] for kind in made["plants"]) <= made["shares"]["most"]["species"]
    fitting = {desk.plant(match.plant).id for match in desk.answer(as_screen(desk.read(REQUEST)), noted=False).matches}
    assert {kind["plant"] for kind in made["plants"]} <= fitting


def test_the_same_each_time(capsys: pytest.CaptureFixture[str]) -> None:
    """Two runs print the same."""
    assert told(capsys, REQUEST) == told(capsys, REQUEST)


def test_the_spot_of_the_reading(desk: Desk) -> None:
    """The most dependable plant covers the place along the row that the task names."""
    reading = desk.read(REQUEST)
    reading = reading._replace(task=reading.task._replace(spot=20 * 0.3048))
    found = plan(desk.answer(reading), desk.base)
    assert isinstance(found, Plan)
    assert found.goal.spot_said
    assert found.off_spot == 0
    assert "20 ft, where it matters most" in plan_json(found, reading, desk.base, "us")["plan"]["says"][2]


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("more", [(), ("--rows", "staggered", "--spacing", "close"), ("--units", "metric")])
def test_every_line_is_within_the_screen(capsys: pytest.CaptureFixture[str], width: int, more: tuple[str, ...]) -> None:
    """Whatever the width."""
    request = "60 ft evergreen screen, 10 ft tall, zone 7"
    assert cli.main(["plan", request, "--width", str(width), *more]) == statuses.FITS
    assert max(map(len, capsys.readouterr().out.splitlines())) <= width


def test_closer_takes_more(capsys: pytest.CaptureFixture[str]) -> None:
    """Close, usual and wide."""
    request = "80 ft evergreen screen, 8 ft tall, zone 7"
    numbers = [len(told(capsys, request, "--spacing", way)["plan"]["positions"]) for way in ("close", "usual", "wide")]
    assert numbers[0] > numbers[1] > numbers[2]


def test_other_shares(capsys: pytest.CaptureFixture[str]) -> None:
    """Smaller shares bring more kinds."""
    request = "80 ft evergreen screen, 8 ft tall, zone 7"
    made = told(capsys, request, "--share", "20%,30%,40%")["plan"]
    assert len(made["plants"]) >= 5
    assert made["shares"]["species"] == 0.2


def test_a_stock_list(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Only what is in stock, no more than there is, with its cost; names that are no one plant are said."""
    (tmp_path / "stock.csv").write_text(
        "name,container,price,quantity\nIlex opaca,#7,89.50,4\nFargesia murielae,#5,59,3\nFargesia nitida,#5,64,10\n"
        "Thuja plicata 'Virescens',#7,120,12\nPicea orientalis 'Skylands',#10,210,2\nholly,#3,20,10\n",
        encoding="utf-8",
    )
    request = "60 ft evergreen screen, 10 ft tall in 5 years, zone 6b, deer, part shade"
    found = told(capsys, request, "--stock", str(tmp_path / "stock.csv"))
    assert faults("plan", found) == []
    made = found["plan"]
    assert made["stock"]["total"] == sum(kind["count"] * kind["price"] for kind in made["plants"])
    assert [one["name"] for one in made["stock"]["unmatched"]] == ["holly"]
    counts = {kind["botanical"]: kind["count"] for kind in made["plants"]}
    assert counts.get("Fargesia murielae", 0) <= 3
    assert cli.main(["plan", request, "--stock", str(tmp_path / "stock.csv")]) == statuses.FITS
    out = capsys.readouterr().out
    assert f"The plants cost {made['stock']['total']:.2f}" in out
    assert "is no one plant of the base" in out


@pytest.mark.parametrize(
    "request_, words",
    [
        ("evergreen screen, 10 ft tall, zone 7", "no length of row is said"),
        ("60 ft screen, at least 90 ft tall, a palm for zone 2", "nothing fits"),
        ("60 ft evergreen screen, 10 ft tall, zone 3, full shade, fragrant, blue leaves", "No plan:"),
    ],
)
def test_no_plan(capsys: pytest.CaptureFixture[str], request_: str, words: str) -> None:
    """Status 1 and a line that says what stands in the way and what would change it; the JSON says the same."""
    assert cli.main(["plan", request_]) == statuses.NOTHING_FITS
    assert words in " ".join(capsys.readouterr().out.split())
    assert cli.main(["plan", request_, "--json"]) == statuses.NOTHING_FITS
    found = json.loads(capsys.readouterr().out)
    assert faults("plan", found) == []
    assert found["plan"] is None
    assert found["why"]["change"]


@pytest.mark.parametrize(
    "arguments, words",
    [
        (["plan"], "no request given"),
        (["plan", "60 ft screen", "--share", "2,1,1"], "argument --share: expected three shares"),
        (["plan", "60 ft screen", "--rows", "three"], "argument --rows"),
        (["plan", "60 ft screen", "--stock", "absent.csv"], "absent.csv: found no such file"),
    ],
)
def test_wrong_use(capsys: pytest.CaptureFixture[str], arguments: list[str], words: str) -> None:
    """One line on standard error and status 2."""
    assert cli.main(arguments) == statuses.WRONG_USE
    err = capsys.readouterr().err
    assert words in err
    assert err.count("\n") == 1


def test_asking_leaves_the_plan_open(capsys: pytest.CaptureFixture[str]) -> None:
    """`ask` makes no plan, and says so in its form."""
    assert cli.main(["ask", "--json", REQUEST]) == statuses.FITS
    assert json.loads(capsys.readouterr().out)["plan"] is None


def test_the_care_of_the_row(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """The months of the chosen plants at the zone of the request, as text, as JSON and as a calendar file."""
    request = "40 ft evergreen screen, 8 ft tall, zone 7"
    assert cli.main(["plan", request, "--care", "--planted", "2027-04"]) == statuses.FITS
    assert "April 2027" in capsys.readouterr().out
    file = tmp_path / "row.ics"
    found = told(capsys, request, "--care", "--planted", "2027-04", "--ics", str(file))
    assert {plant["botanical"] for plant in found["care"]["plants"]} == {
        one["botanical"] for one in found["plan"]["plants"]
    }
    assert len(Calendar.from_ical(file.read_bytes()).events) == len(found["care"]["tasks"])


def test_care_without_a_zone_asks_for_it(capsys: pytest.CaptureFixture[str]) -> None:
    """Frosts are those of a zone: without one nothing is made up."""
    assert cli.main(["plan", "40 ft evergreen screen, 8 ft tall", "--care"]) == statuses.WRONG_USE
    assert "say it in the request" in capsys.readouterr().err


def test_a_bare_height_is_what_a_screen_comes_to(capsys: pytest.CaptureFixture[str]) -> None:
    """Plants that go on growing past 10 ft screen at 10 ft sooner than those that end there; it is said how it was taken."""
    request = "60 ft evergreen screen, {} tall, zone 7"
    bare, least = (told(capsys, request.format(height)) for height in ("10 ft", "10 to 20 ft"))
    height = next(one for one in bare["reading"]["conditions"] if one["trait"] == "height")
    assert (height["test"], height["strength"]) == ("within", "must")
    assert "so tall at least" in height["note"]
    assert bare["plan"]["reaches"] == least["plan"]["reaches"]
    assert cli.main(["plan", request.format("10 ft")]) == statuses.FITS
    assert "so tall at least" in " ".join(capsys.readouterr().out.split())


def test_a_hedge_is_kept_at_its_height(desk: Desk) -> None:
    """What is to be a hedge of 4 ft ends there, and what has a bound keeps it."""
    for text in ("40 ft hedge, 4 ft tall", "40 ft screen, at most 10 ft tall", "40 ft screen kept at 6 ft"):
        assert as_screen(desk.read(text)) == desk.read(text)


def test_two_rows_are_told_row_by_row(capsys: pytest.CaptureFixture[str]) -> None:
    """In zigzag the distance along a row is to the next plant of that row, and the depth told is what the rows leave."""
    made = told(capsys, "60 ft evergreen screen, 8 to 12 ft tall, at most 12 ft deep, zone 7", "--rows", "staggered")[
        "plan"
    ]
    at = [place["at"] for place in made["positions"]]
    least, most = (
        min(b - a for a, b in zip(at, at[2:], strict=False)),
        max(b - a for a, b in zip(at, at[2:], strict=False)),
    )
    assert f"{say_range(least, most, 'us')} apart along each row" in made["says"][0]
    wide = [one["text"] for kind in made["plants"] for one in kind["unpruned"] if one["axis"] == "width"]
    assert all("that two rows leave of 12 ft" in text for text in wide)


def test_the_line_is_as_far_as_the_depth_asks(capsys: pytest.CaptureFixture[str]) -> None:
    """A row at most 5 ft deep stands 2.5 ft from the line while it is kept so."""
    made = told(capsys, REQUEST)["plan"]
    line = next(one["text"] for one in made["cautions"] if one["about"] == "property line")
    if all("does not take" not in one["text"] for kind in made["plants"] for one in kind["unpruned"]):
        assert "at least 2.5 ft inside it" in line


def test_what_was_not_asked_is_not_told_as_asked(desk: Desk) -> None:
    """Of a height or width about something the bound is what that allows."""
    goal = goal_of(as_screen(desk.read("60 ft screen, 8 ft tall, about 5 ft wide, zone 7")), "us")
    assert goal is not None
    assert (goal.top, goal.depth) == (pytest.approx(16 * 0.3048), pytest.approx(6 * 0.3048))
    tall, wide = (
        bound_words(Outgrown(axis, bound, 1.0, None), goal, "us")
        for axis, bound in (("height", goal.top), ("width", goal.depth))
    )
    assert (tall, wide) == ("that about 8 ft allows", "that about 5 ft allows")
    asked = goal_of(as_screen(desk.read("60 ft screen, 8 to 12 ft tall, zone 7")), "us")
    assert asked is not None
    assert bound_words(Outgrown("height", asked.top or 0.0, 1.0, None), asked, "us") == "asked"


def test_a_refused_stock_list_says_what_it_left_out(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A name that is no one plant may be why there is no plan: it is told with it."""
    (tmp_path / "stock.csv").write_text("name,quantity\nholly,40\nIlex opaca,2\n", encoding="utf-8")
    command = ["plan", "60 ft evergreen screen, 10 ft tall, zone 7", "--stock", str(tmp_path / "stock.csv")]
    assert cli.main([*command, "--json"]) == statuses.NOTHING_FITS
    found = json.loads(capsys.readouterr().out)
    assert faults("plan", found) == []
    assert [one["name"] for one in found["why"]["unmatched"]] == ["holly"]
    assert cli.main(command) == statuses.NOTHING_FITS
    assert "Row 2, “holly”, is no one plant of the base" in " ".join(capsys.readouterr().out.split())


def test_the_sources_are_those_of_the_table(capsys: pytest.CaptureFixture[str]) -> None:
    """What stands beside the numbers of planning.toml is what is told of them, for a hedge that of hedges."""
    table = planning(where.folder("traits"))
    for use, request in (
        ("screen", "60 ft evergreen screen, 8 to 12 ft tall, zone 7"),
        ("hedge", "60 ft evergreen hedge, zone 7"),
    ):
        made = told(capsys, request, "--rows", "staggered")["plan"]
        texts = " ".join([*made["assumptions"], *made["sources"]])
        assert table.told["shares"]["rule"] in texts
        assert table.told["shares"]["source"] in texts
        assert table.spacing[use].source in texts
        assert table.rows[use].source in texts


def test_years_past_the_longest_are_over_it() -> None:
    """Beyond forty years nothing is known to the year."""
    assert years_words(Span(3.0, 9.0, 95.0)) == "in about 9 years (3 to over 40)"
    assert years_words(Span(30.0, 60.0, None)) == "not within 40 years"


def test_the_list_that_is_set(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A plan takes it in, with its settled names; `none` plans without it."""
    monkeypatch.setenv(where.OWN_VARIABLE, str(tmp_path / "own"))
    path = tmp_path / "list.csv"
    path.write_text("Item,Price,Qty\nour green screen,30,\nIlex opaca 6',40,lots\n", encoding="utf-8")
    Path(f"{path}.names.toml").write_text(
        '[names]\n"our green screen" = "Thuja occidentalis \'Nigra\'"\n', encoding="utf-8"
    )
    request = "60 ft evergreen screen, 10 ft tall, zone 6b"
    assert cli.main(["stock", "use", str(path)]) == statuses.FITS
    capsys.readouterr()
    made = told(capsys, request, "--share", "1,1,1")["plan"]
    assert {kind["botanical"] for kind in made["plants"]} <= {"Thuja occidentalis 'Nigra'", "Ilex opaca"}
    assert made["stock"]["not_read"] == [{"row": 3, "name": "Ilex opaca", "cells": ["Qty: lots"]}]
    assert told(capsys, request, "--stock", "none")["plan"]["stock"] is None
