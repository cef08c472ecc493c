"""`askplant ask` and `read` from end to end, over the real base."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from askplant import cli, statuses
from askplant.desk import Desk
from tests.commands.test_cli import run

REQUEST = "evergreen, 10–15 ft, narrow, zone 7, deer-proof, part shade"
TANGLE = "\x00\x1b[2J ,,, 10–– ½½ ’’ “” 樹木 zone 99z no no not -10 °F ×× (((("


def test_the_first_request_of_the_readme(capsys: pytest.CaptureFixture[str], desk: Desk) -> None:
    """Six conditions are understood, something fits, and every plant is accounted for."""
    assert cli.main([REQUEST, "--base", str(desk.base.path)]) == statuses.FITS
    out, err = capsys.readouterr()
    assert err == ""
    for words in REQUEST.split(", "):
        assert f"“{words}”" in out
    assert "NOT READ" not in out
    assert f"of {desk.base.count} plants" in out.splitlines()[0]


def test_json_says_the_same(capsys: pytest.CaptureFixture[str], desk: Desk) -> None:
    """The JSON holds every plant once: matched or counted as excluded."""
    assert cli.main(["ask", "--json", REQUEST]) == statuses.FITS
    out = capsys.readouterr().out
    assert out.count("\n") == 1
    told = json.loads(out)
    assert len(told["reading"]["conditions"]) == 6
    assert len(told["matches"]) + told["excluded"]["total"] == told["base"]["plants"] == desk.base.count


def test_bare_words_and_options_among_them(capsys: pytest.CaptureFixture[str]) -> None:
    """Quotes may be left out, and options may stand anywhere."""
    assert cli.main(["narrow", "--json", "evergreen,", "zone", "7"]) == statuses.FITS
    assert json.loads(capsys.readouterr().out)["reading"]["request"] == "narrow evergreen, zone 7"


def test_nothing_fits(capsys: pytest.CaptureFixture[str]) -> None:
    """A request that no plant can meet has its own status, and the answer says what stands in the way."""
    assert cli.main(["a palm for zone 2, at least 90 ft tall, evergreen, full shade"]) == statuses.NOTHING_FITS
    out = capsys.readouterr().out
    assert out.startswith("None of ")
    assert "A small change would bring in" in out


TWO_PLACES = (
    "Zone 6b, lots of deer. An evergreen shrub under 4 ft for full sun by the porch. "
    "And for the back, a small tree with white flowers for part shade."
)


def test_two_places_are_answered_apart(capsys: pytest.CaptureFixture[str], desk: Desk) -> None:
    """Each place gets its own conditions and its own plants; what holds of the garden, zone and deer, goes for both."""
    first, second = desk.read_apart(TWO_PLACES)
    assert {found.trait for found in first.conditions} == {"zone", "deer", "persistence", "kind", "height", "light"}
    assert {found.trait for found in second.conditions} == {"zone", "deer", "size", "kind", "flower_colour", "light"}
    assert not first.conflicts
    assert not second.conflicts
    assert cli.main(["ask", TWO_PLACES, "--count", "1", "--base", str(desk.base.path)]) == statuses.FITS
    out = capsys.readouterr().out
    assert "Place 1 of 2" in out
    assert "Place 2 of 2" in out
    assert out.count("“Zone 6b”") == 2
    assert out.count("“under 4 ft”") == 1


def test_one_place_spoken_of_twice_is_one(desk: Desk) -> None:
    """Words of a second place that nothing of its own is asked of part nothing."""
    assert len(desk.read_apart("evergreen hedge for zone 6, deer on the other side")) == 1


def test_count_and_all(capsys: pytest.CaptureFixture[str]) -> None:
    """--count shows so many; --all shows every match and every excluded plant."""
    cli.main(["evergreen shrub, zone 7", "--count", "2"])
    few = capsys.readouterr().out
    assert "\n  2  " in few
    assert "\n  3  " not in few
    cli.main(["evergreen shrub, zone 7, 3 ft tall", "--json"])
    some = json.loads(capsys.readouterr().out)
    cli.main(["evergreen shrub, zone 7, 3 ft tall", "--json", "--all"])
    every = json.loads(capsys.readouterr().out)
    assert len(some["excluded"]["near"]) < len(every["excluded"]["near"]) == every["excluded"]["total"]


def test_units(capsys: pytest.CaptureFixture[str]) -> None:
    """Feet for a request in feet, unless metric is asked for."""
    cli.main(["evergreen, 10–15 ft"])
    assert "height 10–15 ft" in capsys.readouterr().out
    cli.main(["evergreen, 10–15 ft", "--units", "metric"])
    assert "height 3–4.6 m" in capsys.readouterr().out


def test_words_not_understood_are_said(capsys: pytest.CaptureFixture[str]) -> None:
    """An unknown word stands by itself in reading and answer."""
    cli.main(["read", "evergreen, frobnicated"])
    assert "NOT READ  “frobnicated”" in capsys.readouterr().out
    cli.main(["evergreen, frobnicated", "--say"])
    assert "I did not understand “frobnicated”." in capsys.readouterr().out


@pytest.mark.parametrize("command", ["read", "ask"])
def test_one_line_of_json_for_each_line_of_anything(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str
) -> None:
    """Empty lines, bytes that are no text, tangles, a line longer than can be read: each gives one line, in order."""
    lines = ["evergreen", "", TANGLE, "zone 7", "x " * 60_000, "ä"]
    path = tmp_path / "requests.txt"
    path.write_bytes(b"\xff\xfa\n" + "\n".join(lines).encode())
    assert cli.main([command, "--json", "--lines", str(path)]) == statuses.FITS
    out, err = capsys.readouterr()
    told = [json.loads(line) for line in out.splitlines()]
    readings = told if command == "read" else [one["reading"] for one in told]
    assert [reading["request"] for reading in readings] == ["ÿú", *lines]
    assert readings[5]["unread"][0]["text"] == lines[4]
    assert err.count("\n") == 1


def test_lines_and_text_together_are_wrong_use(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One source of requests at a time."""
    path = tmp_path / "requests.txt"
    path.write_text("evergreen\n")
    assert cli.main(["read", "--lines", str(path), "evergreen"]) == statuses.WRONG_USE
    assert "not both" in capsys.readouterr().err


@pytest.mark.parametrize(
    "content, said", [(None, "no such file"), (b"", "not a built base"), (b"x" * 500, "not a built base")]
)
def test_a_base_that_is_none(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], content: bytes | None, said: str
) -> None:
    """A missing or damaged base is named, in one line, with its own status."""
    path = tmp_path / "some.sqlite"
    if content is not None:
        path.write_bytes(content)
    assert cli.main(["evergreen", "--base", str(path)]) == statuses.TROUBLE
    err = capsys.readouterr().err
    assert err.count("\n") == 1
    assert f"{path}: {said}" in err


def test_as_its_own_process(desk: Desk) -> None:
    """The command as it is typed, in a pipe: no escapes, 80 columns, plain signs where the terminal has no others."""
    done = run(REQUEST, "--base", str(desk.base.path), COLUMNS="40")
    assert (done.returncode, done.stderr) == (0, "")
    assert "\x1b" not in done.stdout
    assert 60 < max(map(len, done.stdout.splitlines())) <= 80
    plain = run(REQUEST, "--base", str(desk.base.path), LC_ALL="C")
    assert plain.returncode == 0
    assert plain.stdout.isascii()
    assert "height 10-15 ft" in plain.stdout


def test_json_is_valid_where_the_encoding_is_poor(desk: Desk) -> None:
    """A stream that has no dash gets it as an escape, not as something else."""
    done = run("read", "--json", REQUEST, "--base", str(desk.base.path), PYTHONIOENCODING="ascii")
    assert done.stdout.isascii()
    assert json.loads(done.stdout)["request"] == REQUEST
