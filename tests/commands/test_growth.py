"""growth and hold: what they print, in which units, and how they refuse."""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from askplant import cli, statuses, where
from askplant.answer.keeping import keep
from askplant.desk import Desk
from askplant.quantities.lengths import say_band
from askplant.render.keeping import kept_text
from askplant.render.plot import drawn, ticks
from askplant.render.screen import Screen

SCHEMAS = Path(__file__).parent.parent / "schema"
GIANT = "Thuja 'Green Giant'"


def validator(name: str) -> Draft202012Validator:
    """The published form of a name."""
    return Draft202012Validator(json.loads((SCHEMAS / f"{name}.json").read_text(encoding="utf-8")))


def printed(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    """What a command that succeeds prints."""
    assert cli.main(arguments) == statuses.FITS
    return capsys.readouterr().out


def test_growth_is_plotted_and_told(capsys: pytest.CaptureFixture[str]) -> None:
    """A plot in plain characters that fits 80 columns, a table with bands, tags, what it rests on, and what is not sure."""
    out = printed(capsys, "growth", GIANT, "--at", "7")
    lines = out.splitlines()
    assert max(map(len, lines)) <= 80
    plot = [line for line in lines if line.lstrip(" 0123456789.").startswith(("+", "|"))]
    assert len(plot) >= 12
    assert all(line.isascii() for line in plot)
    assert {"*", ".", "w", "o"} <= set("".join(plot))
    assert "\x1b" not in out
    assert "at 7 years" in out
    rows = [line.split()[0] for line in lines if line[:7].strip().isdigit() and "(" in line]
    assert rows == ["1", "2", "3", "5", "10", "15", "20"]
    told = " ".join(out.split())
    for word in (
        "years in the ground",
        "tags say",
        "past that after about",
        "measured 19 ft at 10 years",
        "unsure",
        "rooting",
    ):
        assert word in told


def test_growth_in_metres(capsys: pytest.CaptureFixture[str]) -> None:
    """Units as asked for, and a table as long as asked for."""
    out = printed(capsys, "growth", GIANT, "--units", "metric", "--years", "33")
    assert " ft" not in out
    assert " m (" in out
    assert "\n     33  " in out


def test_growth_as_json(capsys: pytest.CaptureFixture[str], desk: Desk) -> None:
    """Everything, in the published form: bands in order, curves that never fall."""
    told = json.loads(printed(capsys, "growth", GIANT, "--at", "4.5", "--json"))
    validator("growth").validate(told)
    assert told["at"]["age"] == 4.5
    for axis in ("height", "width"):
        assert all(row["low"] <= row["middle"] <= row["high"] for row in told[axis]["table"])
        assert all(a["middle"] <= b["middle"] for a, b in pairwise(told[axis]["table"]))
    assert told["height"]["rests_on"]["measured"]
    for n in range(0, desk.base.count, 97):
        validator("growth").validate(json.loads(printed(capsys, "growth", desk.base.ids[n], "--json")))


def test_an_own_measurement_moves_the_growth(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """What the user measured counts at once."""
    before = json.loads(printed(capsys, "growth", "inkberry", "--at", "5", "--json"))
    monkeypatch.setenv(where.OWN_VARIABLE, str(tmp_path))
    printed(capsys, "traits", "observe", "inkberry", "--age", "5", "--height", "3 ft")
    after = json.loads(printed(capsys, "growth", "inkberry", "--at", "5", "--json"))
    assert after["at"]["height"]["middle"] < before["at"]["height"]["middle"]
    assert after["height"]["rests_on"]["measured"] == [{"age": 5.0, "size": 0.9144, "counts": 1.0}]


@pytest.mark.parametrize(
    "arguments, status, said",
    [
        (["growth", "holly"], statuses.WRONG_USE, "name one of them"),
        (["growth", "inkberry", "--years", "0"], statuses.WRONG_USE, "expected a whole number of years from 1 to 100"),
        (["growth", "inkberry", "--at", "nan"], statuses.WRONG_USE, "expected a number of years from 0 to 100"),
        (["growth", "zzzzqqq"], statuses.UNKNOWN_PLANT, "no plant of that name"),
        (["hold", "inkberry", "6"], statuses.WRONG_USE, "found size `6`; expected a length with its unit"),
        (["hold", "inkberry", "1 in"], statuses.WRONG_USE, "expected a length from 6 in"),
        (["hold", "holly", "6 ft"], statuses.WRONG_USE, "name one of them"),
    ],
)
def test_what_is_refused(capsys: pytest.CaptureFixture[str], arguments: list[str], status: int, said: str) -> None:
    """One line that says what was expected."""
    assert cli.main(arguments) == status
    err = capsys.readouterr().err
    assert said in err
    assert err.count("\n") == 1


def test_hold_tells_what_it_takes(capsys: pytest.CaptureFixture[str]) -> None:
    """Can it, how much, when, how often, from where, when it begins; and the caution for who cuts."""
    out = printed(capsys, "hold", "Taxus × media", "6 ft")
    assert out.startswith("Taxus × media at 6 ft high: can be held there\n")
    for word in (
        "off the top a year",
        "at most 33% in a year",
        "early spring or early summer",
        "from the ground",
        "begins",
    ):
        assert word in " ".join(out.split())
    assert "CAUTION" in out
    assert max(map(len, out.splitlines())) <= 80


def test_vines_and_bamboo_are_worded_apart(capsys: pytest.CaptureFixture[str]) -> None:
    """A wisteria has a lasting top and no decade of rooting; a bamboo's years are those of its grove."""
    wisteria = " ".join(printed(capsys, "growth", "Wisteria sinensis").split())
    assert "no lasting woody top" not in wisteria
    assert "7.5 years" not in wisteria
    assert "adds 10 ft a year" in wisteria
    assert "each culm reaches its height in one season" in " ".join(printed(capsys, "growth", "Fargesia rufa").split())
    assert "no lasting woody top" in " ".join(printed(capsys, "growth", "Paeonia lactiflora").split())


def test_no_more_of_a_vine_is_cut_than_grows(capsys: pytest.CaptureFixture[str], desk: Desk) -> None:
    """Off its shoots, of which it makes so much a year as its card says."""
    assert "ft off its long shoots a year" in printed(capsys, "hold", "Wisteria sinensis", "8 ft")
    for plant in desk.base.plants():
        for axis in ("height", "width"):
            told = keep(desk.base, plant.n, axis, 2.4)
            rate = told.size.known.rate
            if told.takes is not None and told.size.known.habit == "vine" and rate is not None:
                assert told.takes.cut <= rate[1], plant.botanical


@pytest.mark.parametrize("name", ["Buddleja davidii", "Hydrangea arborescens", "Lagerstroemia indica"])
def test_what_is_cut_hard_is_not_said_to_stand_no_cutting(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """`shearing: no` is said of a clipped face alone."""
    out = " ".join(printed(capsys, "hold", name, "3 ft").split())
    assert "it is not sheared to a face: thin it or cut it back as `care` says" in out
    assert "does not take being cut back" not in out


def test_flowers_are_promised_and_no_fruit(capsys: pytest.CaptureFixture[str], desk: Desk) -> None:
    """A cut after flowering keeps the flowers and loses the fruit, so it is no advice for a crop."""
    advised = 0
    for plant in desk.base.plants():
        told = keep(desk.base, plant.n, "height", 1.5)
        if told.takes is None or "flower" not in told.takes.costs:
            continue
        out = " ".join(kept_text(told, plant, Screen(80), "us").split())
        advised += "cut right after flowering to keep the flowers" in out
        assert "edible" not in told.size.fruit or "cut right after flowering" not in out, plant.botanical
        assert "flowering to keep them" not in out
    assert advised


def test_hold_says_why_not(capsys: pytest.CaptureFixture[str]) -> None:
    """An arborvitae far below its size meets bare wood; the least size is told, and units are those of the size."""
    out = printed(capsys, "hold", GIANT, "1.5 m")
    assert "not reasonable" in out
    assert "bare wood" in out
    assert "no lower than about" in out
    assert " ft" not in out


def test_hold_of_a_width(capsys: pytest.CaptureFixture[str]) -> None:
    """--width is the other axis, and a size it never has needs no cutting."""
    assert "off each side" in printed(capsys, "hold", "inkberry", "7 ft", "--width")
    assert "needs no cutting" in printed(capsys, "hold", "inkberry", "60 ft", "--width")


def test_hold_as_json(capsys: pytest.CaptureFixture[str], desk: Desk) -> None:
    """The published form, for what can be held and what cannot; reasons and reasonableness agree."""
    for n in range(0, desk.base.count, 97):
        for size in ("3 ft", "12 ft"):
            told = json.loads(printed(capsys, "hold", desk.base.ids[n], size, "--json"))
            validator("hold").validate(told)
            assert told["reasonable"] == (not told["why_not"])


def test_ticks_are_round() -> None:
    """From 0 to the end or a little over it, few enough to read."""
    assert ticks(20) == [0, 5, 10, 15, 20]
    assert ticks(45.6) == [0, 10, 20, 30, 40, 50]
    assert ticks(1.3) == pytest.approx([0, 0.5, 1, 1.5])


def test_a_plot_is_as_large_as_asked() -> None:
    """Columns and rows, whatever is drawn."""
    lines = drawn([("*", [0, 1, 2], [0, 1, 2])], ("o", [], []), (2, 2), (60, 12), "years")
    assert len(lines) <= 12
    assert max(map(len, lines)) <= 60


def test_what_is_grown_for_one_season_is_told_for_its_first_year(capsys: pytest.CaptureFixture[str]) -> None:
    """No twenty years of a marigold, and none of a dahlia."""
    for name in ("Tagetes patula", "Dahlia × hortensis"):
        out = printed(capsys, "growth", name)
        assert " ".join(out.split()).count("in its first year; it is grown for one season") == 2
        assert "years in the ground" not in out
        told = json.loads(printed(capsys, "growth", name, "--json"))
        assert [row["age"] for row in told["height"]["table"]] == [1]


def test_a_size_and_its_band_have_one_unit() -> None:
    """That of the highest."""
    assert say_band(0.5, 0.55, 0.7) == "1.8 ft (1.6–2.3 ft)"
    assert say_band(0.8, 0.9, 1.2, "metric") == "0.9 m (0.8–1.2 m)"


def test_bamboo_is_topped(capsys: pytest.CaptureFixture[str]) -> None:
    """A topped cane grows no higher, so that no share of the top a year bounds it; what runs is told to."""
    out = " ".join(printed(capsys, "hold", "Phyllostachys aureosulcata", "12 ft").split())
    assert "can be held there" in out
    assert "a cane that is topped grows no higher" in out
    assert "in a year" not in out
    assert "without a root barrier" in out
    assert "root barrier" not in printed(capsys, "hold", "Fargesia rufa", "6 ft")
