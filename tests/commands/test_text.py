"""How an answer is set out for a person: what comes first, and that nothing is cut, hidden or said by colour alone."""

from __future__ import annotations

import re
from typing import Any

import pytest

from askplant.render.screen import Screen, cells
from askplant.render.speech import aloud
from askplant.render.text import answer_text, headline, missed
from tests.commands.made import JSON, READING, TITLES, WORDED, without_matches

ESCAPE = re.compile(r"\x1b\[\d+m")


def told(width: int = 80, colour: bool = False, **more: bool) -> str:
    """The made answer as text."""
    return answer_text(WORDED, READING, Screen(width, colour), TITLES.__getitem__, **more)


def flat(text: str) -> str:
    """The words of a text, however they are folded."""
    return " ".join(text.split())


def test_what_matters_first() -> None:
    """How many fit, the reading, plants named, matches, what is out, compromises, questions: in this order."""
    text = told()
    marks = [
        "2 of 9 plants fit, 1 of them in everything",
        "must      evergreen",
        "You named",
        "\nFits",
        "\nBefore planting",
    ]
    marks += ["\nOut: 7 plants", "\nNearest misses", "\nA small change would bring in", "\nWorth asking"]
    places = [text.find(mark) for mark in marks]
    assert -1 not in places, dict(zip(marks, places, strict=True))
    assert places == sorted(places)


@pytest.mark.parametrize(
    "said",
    [
        "must height 10–15 ft “10–15 ft”",
        "wish fragrant “fragrant”",
        "Read as the whole zone.",
        "2 wanted, along 60 ft, in MD, a mixture, budget or size to buy: “cheap”",
        "named Vesta lata (considered)",
        "conflict These two hardly go together.",
        "mended evergren → evergreen",
        "NOT READ “glimmer” (nearest known: shimmer)",
        "beware evergreen and height 10–15 ft pull against each other.",
        "Vesta lata would not do here: too tall.",
        "1 Vesta alta (tall vesta)",
        "18 ft × 9 ft; tags say 10 ft",
        "needs hold at 12–15 ft with one cut of about 2 ft each late winter",
        "check zone 7a–7b: not known",
        "for it stands anything",
        "against deer eat it; fence it",
        "CAUTION Poisonous (dogs: mild: leaf).",
        "Before planting Keep it from dogs; call a vet at once.",
        "name “alta” speaks of a tall plant; this one grows 12 ft.",
        "6 miss it, 2 nothing else",
        "Vesta lata: grown 20 ft, asked: height 10–15 ft (off by 5 ft)",
        "height 10–15 ft → height 10–20 ft: Vesta lata",
        "Does water stand there? (yes leaves 1, no leaves 2)",
    ],
)
@pytest.mark.parametrize("width", [30, 40, 80, 110])
def test_everything_is_said_at_every_width(said: str, width: int) -> None:
    """Narrow screens fold; they hide nothing."""
    assert said in flat(told(width))


@pytest.mark.parametrize("width", [20, 30, 40, 80])
def test_no_line_is_wider_than_the_screen(width: int) -> None:
    """Lines are folded to the width."""
    assert [line for line in told(width).splitlines() if cells(line) > width] == []


def test_colour_adds_nothing_but_colour() -> None:
    """Without its escapes the coloured text is the plain one."""
    assert "\x1b[1m" in told(colour=True)
    assert ESCAPE.sub("", told(colour=True)) == told()


def test_the_dearest_condition_stands_first() -> None:
    """What excludes most by itself leads the list of what is out."""
    out = told().partition("Out: 7 plants\n")[2].splitlines()
    assert out[0].startswith("  height 10–15 ft")
    assert out[1].startswith("  evergreen")


def test_all_is_headed_so() -> None:
    """With --all the list of excluded plants says that it is whole, and each rank has its reason."""
    assert "Every plant that is out" in told(all=True)
    assert "rank     Meets all." in told(all=True)
    assert "rank     " not in told()


def test_nothing_fits_is_said_first() -> None:
    """An empty answer says so in its first line and offers the smallest change."""
    text = answer_text(without_matches(), READING, Screen(), TITLES.__getitem__)
    assert text.startswith("None of 9 plants fits")
    assert "\nFits" not in text
    assert "height 10–20 ft" in text


@pytest.mark.parametrize(
    "changes, said",
    [
        ({"fits": 1, "outright": 1}, "1 of 9 plants fits."),
        ({"fits": 1, "outright": 0}, "1 of 9 plants fits, with care or with something to check."),
        ({"json": JSON | {"reading": {"conditions": []}}}, "2 of 9 plants fit: no wish was understood."),
    ],
)
def test_headlines(changes: dict[str, Any], said: str) -> None:
    """The first sentence is true of what follows."""
    assert headline(WORDED._replace(**changes)) == said


def test_metric_misses() -> None:
    """Differences are in the units asked for, other units by name."""
    miss = JSON["excluded"]["near"][0]["misses"][0]
    assert missed(miss, "metric").endswith("(off by 1.5 m)")
    assert missed(miss | {"off_by": 2.0, "unit": "half-zones"}, "us").endswith("(off by 2 half-zones)")
    assert missed(miss | {"off_by": None, "has": None}, "us") == "not so, asked: height 10–15 ft"


def test_aloud() -> None:
    """One line: how many, what was not understood, named plants, the best, one question back."""
    said = aloud(WORDED, READING, TITLES.__getitem__)
    assert "\n" not in said
    assert said.startswith("2 of 9 plants fit")
    for part in ("I did not understand “glimmer”.", "too tall.", "Tall vesta.", "Does water stand there?"):
        assert part in said


def test_aloud_when_nothing_fits() -> None:
    """What a small change would bring is said in place of plants."""
    said = aloud(without_matches(), READING, TITLES.__getitem__)
    assert "With height 10–20 ft instead of height 10–15 ft there would be Vesta lata." in said


def test_what_was_typed_cannot_steer_the_terminal() -> None:
    """Control characters of a request are shown as such."""
    hostile = READING._replace(unread=(READING.unread[0]._replace(text="a\x1b[2Jb"),))
    assert "\x1b" not in answer_text(WORDED, hostile, Screen(), TITLES.__getitem__)
