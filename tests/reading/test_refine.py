"""A line refines the request before it, as the stated rule says; nothing else of the request is touched."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from askplant import where
from askplant.base import phrases, traits
from askplant.base.opened import Base
from askplant.base.phrases import REFINING
from askplant.care.task import KINDS
from askplant.reading.changes import changes_between
from askplant.reading.questions import _side
from askplant.reading.reading import Condition, Reading
from askplant.reading.refine import LONG, WHOLE, refine
from askplant.reading.refinement import SHOWN as SHOWN_ALL
from askplant.reading.refinement import Fresh, Question, Refinement, Spoken
from askplant.render.refined import said_of

CASES = [
    json.loads(line) for line in (Path(__file__).parent.parent / "requests/refined.jsonl").read_text().splitlines()
]
SHOWN = ("Ilex glabra", "Ilex crenata 'Sky Pencil'", "Thuja occidentalis")
BEFORE = sorted({case["before"] for case in CASES if case["before"]})
LINES = sorted({case["line"] for case in CASES})


def taken(case: dict[str, Any], base: Base) -> Any:
    """What a case's line is taken as."""
    last = refine(None, case["before"], base).reading if case["before"] else None  # type: ignore[union-attr]
    return refine(last, case["line"], base, SHOWN)


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['before'][:12]}|{case['line'][:48]}")
def test_refined(case: dict[str, Any], real_base: Base) -> None:
    """Before, line, expected reading."""
    found = taken(case, real_base)
    if isinstance(found, Question):
        assert found.ask == case["taken"]
        assert (found.plant.name or found.plant.number or None) == case.get("plant")
        assert (found.plant == SHOWN_ALL) == case.get("shown", False)
        assert (found.axis, found.years) == (case.get("axis", "height"), case.get("years"))
        assert found.height == pytest.approx(case.get("height"), abs=0.01)
        assert found.apart == pytest.approx(case.get("apart"), abs=0.01)
        assert found.words == case.get("words", "")
        assert (found.side.name if found.side else None) == case.get("side")
        assert list(found.unread) == case.get("unread", [])
        return
    assert ("new" if isinstance(found, Fresh) else "change") == case["taken"]
    assert found.rule == case["rule"]
    assert [said_of(one, found.reading.units) for one in found.reading.conditions] == case["reading"]
    assert [one.text for one in found.reading.unread] == case.get("unread", [])
    assert [one.text for one in getattr(found, "missed", ())] == case.get("missed", [])
    for fact in ("count", "by_year", "place"):
        assert getattr(found.reading.task, fact) == case.get(fact)


@pytest.mark.parametrize("line", [
    "what blooms in June", "how do I hide a fence", "how do I plant a screen 30 ft long", "what do you have for shade",
    "what about zone 6",
])  # fmt: skip
def test_a_request_that_begins_as_a_question(line: str, real_base: Base) -> None:
    """Words of asking do not make a question of a line that says wishes."""
    last = refine(None, "evergreen, 10-15 ft", real_base).reading  # type: ignore[union-attr]
    assert not isinstance(refine(last, line, real_base, SHOWN), Question)


def test_what_is_to_be_bought_stays(real_base: Base) -> None:
    """A line that says nothing of buying leaves it as it was, and what was never said cannot be taken back."""
    last = refine(None, "evergreen in 5 gallon, under $40", real_base).reading  # type: ignore[union-attr]
    for line in ("narrower", "never mind fragrant"):
        found = refine(last, line, real_base, SHOWN)
        assert isinstance(found, Refinement)
        assert found.reading.task.buy == last.task.buy
        assert last.task.buy.price is not None


def test_sides_are_told_of_by_traits_and_kinds_of_care() -> None:
    """What the vocabulary names as telling of a side exists."""
    entries = [entry for words, entry in phrases.compiled(where.folder("traits") / "vocabulary") if words[0] == REFINING]
    sides = [_side(entry) for entry in entries if entry["class"] in ("SIDE", "ASKING") and "of" in entry]
    assert len({side.name for side in sides}) >= 18
    declared = set(traits.read(where.folder("traits")).traits)
    for side in sides:
        assert set(side.traits) <= declared, side
        assert set(side.care) <= set(KINDS), side


def test_there_are_cases_enough() -> None:
    """Every kind of line is among them."""
    assert len(CASES) >= 80
    assert {case["taken"] for case in CASES} >= {
        "new",
        "change",
        "why",
        "tell",
        "check",
        "size",
        "when",
        "more",
        "undo",
    }


before_lines = st.sampled_from(BEFORE)
lines = st.sampled_from(LINES) | st.lists(st.sampled_from(LINES), min_size=2, max_size=3).map(", ".join)


@settings(deadline=None, max_examples=150)
@given(before=before_lines, line=lines)
def test_places_hold_and_nothing_is_hidden(real_base: Base, before: str, line: str) -> None:
    """Each condition's words stand where it says, and every sign of the line is accounted for."""
    found = refine(refine(None, before, real_base).reading, line, real_base, SHOWN)  # type: ignore[union-attr]
    if not isinstance(found, Refinement):
        return
    reading = found.reading
    assert reading.request == f"{before}\n{line}"
    for one in reading.conditions:
        assert one.text == reading.request[one.at[0] : one.at[1]]
    covered = set()
    for start, end in spans(reading):
        covered |= set(range(start, end))
    start = len(before) + 1
    loose = [place for place in range(start, len(reading.request)) if place not in covered]
    assert "".join(reading.request[place] for place in loose).strip() == ""


def spans(reading: Reading) -> list[tuple[int, int]]:
    """Every place of a reading."""
    out = [*reading.filler, *reading.task.spans]
    out += [one.at for one in (*reading.conditions, *reading.unread, *reading.named, *reading.corrections)]
    return out + [span for one in reading.conditions for span in one.more]


# Lines with the traits they may touch: whatever else was asked must stay, word for word.
TOUCHING = {
    "narrower": {"width", "form"},
    "8 ft instead": {"height", "size"},
    "a bit taller": {"height", "size"},
    "never mind the deer": {"deer"},
    "what about zone 6?": {"zone"},
    "no hollies": {"taxon"},
    "also fragrant": {"fragrance"},
    "full sun instead of part shade": {"light"},
    "deciduous is fine too": {"persistence"},
    "like the second but shorter": {"like"},
    "the height is flexible": {"height", "size"},
    "hardier": {"zone"},
}
ASKED = (
    "evergreen", "10-15 ft", "zone 7", "deer resistant", "part shade", "red flowers", "no yews", "for a hedge", "clay",
    "ideally native", "at most 5 ft wide", "no thorns", "safe for dogs",
)  # fmt: skip


@settings(deadline=None, max_examples=150)
@given(parts=st.sets(st.sampled_from(ASKED), min_size=1), line=st.sampled_from(sorted(TOUCHING)))
def test_an_unrelated_condition_is_never_lost(real_base: Base, parts: set[str], line: str) -> None:
    """A refinement leaves every condition on other traits as it was."""
    last = refine(None, ", ".join(sorted(parts)), real_base).reading  # type: ignore[union-attr]
    found = refine(last, line, real_base, SHOWN)
    assert isinstance(found, Refinement)
    others = [one for one in last.conditions if one.trait not in TOUCHING[line]]
    kept = [one for one in found.reading.conditions if one.trait not in TOUCHING[line]]
    assert kept == others


@settings(deadline=None, max_examples=60)
@given(parts=st.sets(st.sampled_from(ASKED), min_size=1), added=st.sampled_from(ASKED))
def test_what_is_said_again_changes_nothing(real_base: Base, parts: set[str], added: str) -> None:
    """A wish put in twice is asked once, and the second time nothing is said to have changed."""
    last = refine(None, ", ".join(sorted(parts)), real_base).reading  # type: ignore[union-attr]
    once = refine(last, added, real_base, SHOWN, "change")
    assert isinstance(once, Refinement)
    twice = refine(once.reading, added, real_base, SHOWN, "change")
    assert isinstance(twice, Refinement)
    assert twice.changes == ()
    assert cores(twice.reading) == cores(once.reading)


def cores(reading: Reading) -> list[Condition]:
    """The conditions without where they were said."""
    return [one._replace(text="", at=(0, 0), more=(), note=None) for one in reading.conditions]


def test_the_rule_can_be_set_aside(real_base: Base) -> None:
    """The same line as a new request and as a change, whatever the rule says."""
    last = refine(None, "evergreen, zone 7", real_base).reading  # type: ignore[union-attr]
    new = refine(last, "8 ft", real_base, taken="new")
    change = refine(last, "small tree, full sun, zone 5", real_base, taken="change")
    assert isinstance(new, Fresh)
    assert len(new.reading.conditions) == 1
    assert isinstance(change, Refinement)
    assert {one.trait for one in change.reading.conditions} == {"persistence", "zone", "size", "kind", "light"}


def test_a_long_line_is_a_request(real_base: Base) -> None:
    """Even where it holds words that speak of a request before."""
    last = refine(None, "evergreen", real_base).reading  # type: ignore[union-attr]
    found = refine(last, "also " + "the " * LONG + "deer", real_base)
    assert isinstance(found, Fresh)
    assert found.rule == "long"


def test_wishes_enough_need_a_kind_or_an_overlap(real_base: Base) -> None:
    """So many wishes of other traits only add to what is asked."""
    last = refine(None, "evergreen", real_base).reading  # type: ignore[union-attr]
    found = refine(last, "8 ft, zone 7, deer resistant", real_base)
    assert isinstance(found, Refinement)
    assert len(found.changes) == WHOLE


def test_no_plant_is_spoken_of(real_base: Base) -> None:
    """`it` has neither number nor name."""
    last = refine(None, "evergreen", real_base).reading  # type: ignore[union-attr]
    found = refine(last, "how tall will it be in 5 years", real_base)
    assert isinstance(found, Question)
    assert found.plant == Spoken()


def test_requests_are_read_as_if_there_were_no_refining_words(real_base: Base) -> None:
    """They stand apart: no word is known by them, and none is mended into one."""
    known = real_base.known_words()
    assert "nevermind" not in known
    assert real_base.phrases_starting("nevermind") == {}
    assert real_base.phrases_starting("#refine")


def test_changes_between_equal_requests(real_base: Base) -> None:
    """None."""
    last = refine(None, "evergreen, 10 ft, zone 7", real_base).reading  # type: ignore[union-attr]
    assert changes_between(last.conditions, last.conditions) == ()
