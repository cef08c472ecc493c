"""A sitting: what a line does, what a word of the desk does, and which of both a line is."""

from __future__ import annotations

import csv
import json
import re
from collections import Counter
from pathlib import Path
from typing import get_args

import pytest
import python_calamine
from hypothesis import given, settings
from hypothesis import strategies as st

from askplant.base.phrases import REFINING
from askplant.commands import history
from askplant.commands.orders import LEAVE, PARTS, numbers, order_of, parted
from askplant.commands.sitting import Sitting
from askplant.desk import Desk
from askplant.errors import AskplantError, FileError, UserError
from askplant.reading.refine import refiner
from askplant.reading.refinement import Ask
from askplant.reading.words import words
from askplant.render import at_desk, glanced
from askplant.render.screen import Screen, cells
from askplant.sitting.calls import calls
from askplant.sitting.journal import Journal

REQUEST = "evergreen, 10-15 ft, zone 7, part shade"
REFINED = Path(__file__).parents[1] / "requests" / "refined.jsonl"
SAID_AT_THE_DESK = sorted(
    {case[key] for case in map(json.loads, REFINED.read_text("utf-8").splitlines()) for key in ("before", "line") if case[key]}
    | {"undo", "redo", "more", "list", "keep 1", "drop 1", "keep 2", "off 1", "on 1", "compare", "request", "apart", "together"}
)


@pytest.fixture
def sitting(desk: Desk, tmp_path: Path) -> Sitting:
    """A sitting that is kept and logged."""
    return Sitting(desk, Screen(80), Journal(tmp_path / "sittings"), tmp_path / "calls.jsonl")


def matches(reply: str) -> int:
    """How many plants a reply says fit."""
    found = re.search(r"^(\d+) of \d+ fit", reply, re.MULTILINE)
    return int(found[1]) if found else 0


def test_the_next_line_changes_the_request(sitting: Sitting) -> None:
    """What changed is said first, and the whole request stands below."""
    sitting.reply(REQUEST)
    reply = sitting.reply("8 ft instead, no hollies")
    assert reply.startswith("changed: height 10–15 ft → about 8 ft tall; added: not holly\n")
    assert "1 evergreen · 2 about 8 ft tall · 3 zone 7a–7b · 4 part shade · 5 not\n        holly\n" in reply


def test_new_or_changed_can_be_turned_round(sitting: Sitting) -> None:
    """`together` and `apart` take the last line the other way, and undo leads back behind both."""
    sitting.reply(REQUEST)
    assert sitting.reply("small tree, full sun, zone 5").startswith("new request: it has three wishes or more")
    together = sitting.reply("together")
    assert "1 evergreen" in together
    assert "zone 5a–5b" in together
    assert "evergreen" not in sitting.reply("apart").partition("asked")[2].partition("\n  1")[0]
    assert "1 evergreen · 2 height 10–15 ft" in sitting.reply("undo")


def test_off_and_on(sitting: Sitting) -> None:
    """By number; what is off stands in brackets and counts for nothing."""
    before = sitting.reply(REQUEST)
    off = sitting.reply("off 2")
    assert off.startswith("off: height 10–15 ft\n")
    assert "(2 height 10–15 ft: off)" in off
    assert matches(off) > matches(before)
    on = sitting.reply("on 2")
    assert on.partition("\n")[2] == before.partition("\n")[2]
    assert "wishes 1 to 4" in sitting.reply("off 9")


def test_undo_and_redo(sitting: Sitting) -> None:
    """Down to nothing and up again; the answer is the one there was."""
    first = sitting.reply(REQUEST)
    second = sitting.reply("narrower")
    assert sitting.reply("undo").partition("\n")[2] == first.partition("\n")[2]
    assert sitting.reply("redo").partition("\n")[2] == second.partition("\n")[2]
    assert sitting.reply("redo").startswith("There is nothing to go forward to")
    sitting.reply("undo")
    assert "Nothing has been asked yet" in sitting.reply("undo")
    assert sitting.reply("undo").startswith("There is nothing to take back")


def test_every_reply_has_a_sentence_to_say(sitting: Sitting) -> None:
    """Common name and honest size in the first, what to know in the second; where nothing fits, what would help."""
    said = sitting.reply(REQUEST).partition("say     “")[2].partition("”")[0]
    said = " ".join(said.split())
    assert re.match(r"[A-Z].* grows .* (feet|inches) tall", said)
    assert 1 <= len(re.findall(r"[.?](?: |$)", said)) <= 2
    nothing = sitting.reply("evergreen fern for a windbreak, 80 ft, zone 2, red flowers")
    assert "None of" in nothing
    assert "Nothing fits all of that." in " ".join(nothing.split())


def test_questions_leave_the_request_as_it_is(sitting: Sitting) -> None:
    """Why, how tall, tell, more: answered, and nothing to take back but the request."""
    sitting.reply(REQUEST)
    now = sitting.past
    assert sitting.reply("why not inkberry?").startswith("Ilex glabra ")
    assert "after 5 years in the ground" in " ".join(sitting.reply("how tall will it be in 5 years").split())
    assert sitting.reply("how tall will it be in 5 years").startswith("Ilex glabra:")
    assert "wide" in sitting.reply("how wide does 2 get")
    assert "say     “" in sitting.reply("tell me more about 2")
    assert sitting.reply("more").startswith("  5  ")
    assert sitting.reply("why 6").startswith(sitting.desk.plant(sitting.answer.matches[5].plant).botanical)  # type: ignore[union-attr]
    assert "There is no plant 9999" in sitting.reply("tell me about 9999")
    assert sitting.past == now


def test_whether_a_plant_is_so(sitting: Sitting) -> None:
    """A verdict where the words are understood, all there is of cautions where they are not."""
    sitting.reply(REQUEST)
    assert re.search(r"safe for dogs: (yes|no|the base does not say)", sitting.reply("is it safe for dogs"))
    assert "call the poison" in " ".join(sitting.reply("is inkberry safe for people").split())
    assert "full shade" in sitting.reply("does inkberry take full shade")
    assert "CAUTION   Poisonous" in sitting.reply("is inkberry poisonous?")
    assert sitting.reply("are hollies ok").startswith("Of ")


def test_a_line_that_changes_nothing_is_short(sitting: Sitting) -> None:
    """What was asked already, and what nobody understands, is said in a few lines, and is nothing to take back."""
    sitting.reply(REQUEST)
    now = sitting.past
    for line in ("evergreen", "fluffy gribblets", "never mind the deer"):
        reply = sitting.reply(line)
        assert len(reply.splitlines()) <= 4
        assert "the request stands" in reply
    assert "NOT READ “fluffy gribblets”" in sitting.reply("fluffy gribblets")
    assert sitting.past == now
    assert sitting.log is not None
    assert calls(sitting.log)[-1].unread == ("fluffy gribblets",)


def test_a_line_in_which_nothing_is_found_says_so(sitting: Sitting) -> None:
    """Words that carry no wish are no silent "nothing changed"; what was asked already is no such line."""
    sitting.reply(REQUEST)
    assert "No wish and no question" in sitting.reply("thats too many")
    assert "No wish and no question" not in sitting.reply("evergreen")


def test_which_of_those_shown(sitting: Sitting) -> None:
    """A question which plants are so is answered for each that is shown, and is no wish."""
    sitting.reply(REQUEST)
    now = sitting.past
    reply = sitting.reply("which one has the berries")
    assert reply.count("showy fruit") == len(sitting.page) > 1
    assert sitting.reply("which of those is the cheapest").count("No stock list") == 1
    assert sitting.past == now


def test_what_a_question_holds_besides_is_told(sitting: Sitting) -> None:
    """The years of a width, the length of the row that was asked, and the words that nobody understood."""
    sitting.reply(f"{REQUEST}, 40 ft long")
    assert "after 10 years in the ground" in " ".join(sitting.reply("how wide is the third in ten years").split())
    assert "for 40 ft:" in sitting.reply("how many do i need")
    assert "NOT READ  “staking”" in sitting.reply("does the third need staking")


def test_beside_a_wall_or_a_drain_the_distance_is_told_too(sitting: Sitting) -> None:
    """Well-behaved roots alone do not say how near it may stand."""
    sitting.reply(REQUEST)
    assert "set its middle" in sitting.reply("is 2 ok next to the foundation")


def test_a_name_of_many(sitting: Sitting) -> None:
    """How many would do, and the first few."""
    sitting.reply(REQUEST)
    reply = sitting.reply("why not yew")
    assert re.match(r"Of \d+ plants called yew, (none|\d+) would do\.\n", reply)
    assert len(reply.splitlines()) < 20


def test_the_short_list(sitting: Sitting, tmp_path: Path) -> None:
    """Kept, noted, held against the request, compared, dropped; the numbers are the answer's."""
    sitting.reply(REQUEST)
    assert "kept: " in sitting.reply("keep 1 and 3")
    assert "noted on " in sitting.reply("note 3 by the gate")
    listed = sitting.reply("list")
    assert "note: by the gate" in listed
    assert listed.count("fits, number") == 2
    compared = sitting.reply("compare")
    assert "you  " in compared
    assert "door" in compared
    assert all(cells(line) <= 80 for line in compared.splitlines())
    assert "There is no plant 3 in the short list" in sitting.reply("tell me about 3")  # numbers are the list's now
    sitting.reply("8 ft")
    sitting.reply("undo")
    assert "That is not on the short list" in sitting.reply("drop 2")
    assert "dropped: " in sitting.reply("drop 3")
    assert len(sitting.shortlist.plants) == 1
    assert "Two plants at least" in sitting.reply("compare")


def test_the_comparison_in_words(desk: Desk) -> None:
    """Whoever hears the screen gets no drawing."""
    sitting = Sitting(desk, Screen(80), plain=True)
    compared = sitting.reply("compare inkberry, Thuja occidentalis")
    assert "times a person" in compared
    assert "####" not in compared


@pytest.mark.parametrize(
    "line",
    ["keep it under 6 ft", "drop the deer", "note the clay soil", "open shade", "save water on the bank", "on a slope",
     "show me something narrow", "compare to a yew but smaller", "list of shrubs for shade", "log cabin garden, shade"],
)  # fmt: skip
def test_sentences_of_callers_are_no_words_of_ours(sitting: Sitting, line: str) -> None:
    """A word of the desk in front of something that has not its form is part of a request."""
    sitting.reply("evergreen, deer resistant, 10 ft")
    reply = sitting.reply(line)
    assert "asked   1 " in reply


def test_exports(sitting: Sitting, tmp_path: Path) -> None:
    """Markdown, CSV without formulas or dates, a workbook with numbers, JSON, the sheet; another ending is refused."""
    sitting.reply(REQUEST)
    sitting.reply("keep 1, 2")
    sitting.reply("note 1 =1+1")
    for name in ("list.md", "list.csv", "list.json", "list.xlsx", "list.html"):
        assert sitting.reply(f"export {tmp_path / name}") == f"2 plants written to {tmp_path / name}\n"
    table = (tmp_path / "list.md").read_text(encoding="utf-8")
    assert "Asked: evergreen; height 10–15 ft; zone 7a–7b; part shade" in table
    assert table.count("\n| *") == 2
    with (tmp_path / "list.csv").open(encoding="utf-8-sig", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert [row["note"] for row in rows] == ["'=1+1", ""]
    assert all(re.fullmatch(r"\d+(\.\d+)?", row["height low m"]) for row in rows)
    told = json.loads((tmp_path / "list.json").read_text(encoding="utf-8"))
    assert [one["note"] for one in told["plants"]] == ["=1+1", ""]
    assert told["reading"]["request"] == REQUEST
    headings, first, _ = python_calamine.load_workbook(str(tmp_path / "list.xlsx")).get_sheet_by_index(0).to_python()
    as_written = dict(zip(headings, first, strict=True))
    assert (as_written["note"], as_written["botanical"]) == ("=1+1", told["plants"][0]["botanical"])
    assert as_written["height low m"] == pytest.approx(told["plants"][0]["size"]["height"]["grown"][0], abs=0.01)
    page = (tmp_path / "list.html").read_text(encoding="utf-8")
    assert all(one["botanical"].split()[0] in page for one in told["plants"])
    with pytest.raises(UserError, match=r"\.xls"):
        sitting.reply(f"export {tmp_path / 'list.xls'}")


def test_a_sitting_is_saved_and_opened(sitting: Sitting, desk: Desk) -> None:
    """With everything before it, what is off, and the short list."""
    sitting.reply(REQUEST)
    sitting.reply("narrower")
    sitting.reply("off 1")
    sitting.reply("keep 2")
    assert sitting.reply("save A-1204").startswith("kept as A-1204")
    sitting.reply("8 ft")
    sitting.journal.close()
    other = Sitting(desk, Screen(80), Journal(sitting.journal.folder))
    assert "A-1204" in other.reply("sittings")
    assert other.reply("open A-1204").startswith("open: A-1204, 1 on the short list\n")
    assert other.past == sitting.past
    assert other.shortlist == sitting.shortlist
    assert "(1 evergreen: off)" in other.reply("undo")
    assert "There is no sitting A-9" in other.reply("open A-9")
    assert other.reply("open A-1204") == "A-1204 is the sitting that is open.\n"


def test_calls_are_logged(sitting: Sitting) -> None:
    """What was typed, what was understood of it, and what was not; nothing more, and nothing when it is turned off."""
    sitting.reply("evergren flooby, zone 7")
    sitting.reply("more")
    sitting.reply("8 ft blarg")
    sitting.reply("log off")
    sitting.reply("narrower")
    assert sitting.log is not None
    first, second = calls(sitting.log)
    assert (first.request, first.unread) == ("evergren flooby, zone 7", ("flooby",))
    assert (second.request, second.unread) == ("8 ft blarg", ("blarg",))
    assert len(first.plants) == 5
    assert "flooby" in sitting.reply("log")


def test_the_setting_of_the_log(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The variable first, then desk.toml in the user's own folder, else it is on."""
    monkeypatch.setenv("ASKPLANT_OWN", str(tmp_path))
    monkeypatch.delenv("ASKPLANT_LOG", raising=False)
    assert history.is_logging()
    (tmp_path / "desk.toml").write_text("log = false\n")
    assert not history.is_logging()
    monkeypatch.setenv("ASKPLANT_LOG", "on")
    assert history.is_logging()
    monkeypatch.setenv("ASKPLANT_LOG", "off")
    assert not history.is_logging()
    monkeypatch.delenv("ASKPLANT_LOG")
    (tmp_path / "desk.toml").write_text("log = 'never'\n")
    with pytest.raises(FileError, match="log = true or log = false"):
        history.is_logging()
    (tmp_path / "desk.toml").write_text("log =\n")
    with pytest.raises(FileError):
        history.is_logging()


def test_what_cannot_be_kept_is_said_once(desk: Desk, tmp_path: Path) -> None:
    """A full or foreign disk does not stop the call; the caller is answered."""
    (tmp_path / "file").write_text("")
    sitting = Sitting(desk, Screen(80), Journal(tmp_path / "file" / "x"), tmp_path / "file" / "log")
    reply = sitting.reply("evergreen")
    assert "of 1" in reply or "fit" in reply
    assert "askplant: " in reply


def test_a_reply_fits_its_screen(desk: Desk) -> None:
    """At 80 columns, in the rows there are, down to two plants; wider and lower screens too."""
    sitting = Sitting(desk, Screen(80))
    sitting.rows = 18
    for line in (REQUEST, "8 ft instead", "deer", "narrower", "no hollies", "never mind the deer"):
        reply = sitting.reply(line)
        assert all(cells(text) <= 80 for text in reply.splitlines())
        assert reply.count("\n") <= 18 or reply.count("\n  3  ") == 0
    narrow = Sitting(desk, Screen(40))
    assert all(cells(text) <= 40 for text in narrow.reply(REQUEST).splitlines())


def test_help_names_every_word(sitting: Sitting) -> None:
    """Whatever can be typed stands in help, within 80 columns."""
    told = sitting.reply("help")
    for word in sitting._orders:
        assert re.search(rf"\b{word}\b", told), word
    assert LEAVE[0] in told
    assert all(cells(line) <= 80 for line in told.splitlines())
    assert all(part for _, part in PARTS)


def test_forms(desk: Desk) -> None:
    """Numbers and lists as they are typed."""
    assert numbers("1, 3 and 5") == [1, 3, 5]
    assert numbers("1 2 #3") == [1, 2, 3] or numbers("1 2") == [1, 2]
    assert numbers("1 ft") is None
    assert parted("2, inkberry and Ilex opaca") == ["2", "inkberry", "Ilex opaca"]
    known = refiner(desk.base).reader.vocabulary
    assert order_of("undo", known) is not None
    assert order_of("undo the deer", known) is None
    assert order_of("evergreen", known) is None


@pytest.mark.parametrize("line, order", [
    ("what's the difference between 1 and 2?", ("compare", "1 and 2")), ("put 2 on the list", ("keep", "2")),
    ("ok put the second on the short list please", ("keep", "the second")), ("take 2 off the list", ("drop", "2")),
    ("um, keep 2", ("keep", "2")), ("no wait undo", ("undo", "")), ("put that on the list", ("keep", "that")),
    ("I like the second one", ("keep", "the second one")), ("she'll take number 3 please", ("keep", "number 3")),
    ("the second is fine", ("keep", "the second")), ("that one sounds good", ("keep", "that one")),
    ("she likes hollies", None), ("she wants 2", None), ("deciduous is fine", None), ("8 is fine", None),
    ("the second is fine for shade", None),
    ("put it in a pot", None), ("add fragrant", None), ("take the deer off", None), ("so evergreen", None),
])  # fmt: skip
def test_words_of_the_desk_in_other_words(desk: Desk, line: str, order: tuple[str, str] | None) -> None:
    """What callers and colleagues say for them stands in the vocabulary; whatever has not the form is a request."""
    assert order_of(line, refiner(desk.base).reader.vocabulary) == order


def test_plants_are_compared_as_they_are_spoken_of(sitting: Sitting) -> None:
    """By number, by place, by name; a name of several stands for the wild plant."""
    sitting.reply(REQUEST)
    first = sitting.desk.plant(sitting.answer.matches[0].plant).botanical  # type: ignore[union-attr]
    for line in ("compare inkberry with 1", "compare the first and inkberry", "what's the difference between 1 and inkberry?"):
        heading = sitting.reply(line).splitlines()[0]
        assert "Ilex glabra" in heading, line
        assert first in heading


SIDES = {
    "when does inkberry bloom": r"say .*Inkberry: blooms May–June",
    "how far apart": r"grows .* wide\. Apart: .*ft .*for a screen|grows [^”]*Apart:",
    "how many do I need for 40 ft": r"count +for 40 ft: \d+ at ",
    "how far from the house": r"set its middle .* off",
    "how close to the power lines can I plant inkberry": r"under wires: yes.*the +utility.* say.*not known how far",
    "can 1 go under the power lines": r"under wires: .*CAUTION +Never cut near wires",
    "how many at 2 feet apart for 40 ft": r"Apart: 2 feet as asked, .*count +for 40 ft: 20 at 2 ft",
    "how far from the septic": r"well-behaved roots: .*set its middle .* off.*CAUTION +Before any digging",
    "how close can I plant it to the house": r"set its middle .* off",
    "can I keep inkberry at 5 feet": r"Ilex glabra at 5 ft high: can be held there",
    "how fast does it grow": r"after 5 years",
    "how often do I water it": r"care +water Ilex glabra",
    "when do I prune it": r"care +prune Ilex glabra.*\((mid|late|early) ",
    "does it need pruning": r"prune in late winter",
    "what soil does it like": r"soil: ",
    "is it toxic": r"CAUTION +Poisonous",
    "do we have it in stock": r"No stock list is set",
}


def test_one_side_of_a_plant(sitting: Sitting) -> None:
    """Questions a caller puts about one plant are answered from its card and leave the request as it is."""
    sitting.reply(REQUEST)
    stands = sitting.past.now
    for line, expected in SIDES.items():
        reply = sitting.reply(line)
        assert re.search(expected, reply.replace("\n", " ")), (line, reply)
        assert all(cells(row) <= 80 for row in reply.splitlines())
    assert sitting.past.now == stands


def test_it_is_the_plant_spoken_of_last(sitting: Sitting) -> None:
    """Like it, and without it: not the first of the answer."""
    sitting.reply(REQUEST)
    third = sitting.desk.plant(sitting.answer.matches[2].plant).botanical  # type: ignore[union-attr]
    sitting.reply("and the third?")
    assert sitting.reply("do you have anything like it").startswith(f"added: like {third}\n")
    sitting.reply("undo")
    sitting.reply("tell me about 3")
    assert sitting.reply("I don't like it").startswith(f"added: not {third}\n")
    second = sitting.desk.plant(sitting.answer.matches[1].plant).botanical  # type: ignore[union-attr]
    assert sitting.reply("not 2").startswith(f"added: not {second}\n")  # what is left out already is not said again
    assert "is no plant that is shown" in sitting.reply("not number 60")


def test_a_plant_that_does_not_fit_is_not_told_as_if_it_did(sitting: Sitting) -> None:
    """What shuts it out stands before the sentence to say."""
    sitting.reply(REQUEST)
    told = sitting.reply("tell me about leyland")
    assert re.search(r"^misses +grown 60–70 ft, asked: height 10–15 ft .*^say ", told, re.MULTILINE | re.DOTALL)
    assert "misses" not in sitting.reply("tell me about 2")


def test_no_yes_is_heard_as_its_contrary(sitting: Sitting) -> None:
    """Whether deer eat it is answered by what they do, and how the words were read is said beside it."""
    sitting.reply(REQUEST)
    for line in ("will deer eat inkberry", "deer eat inkberry, don't they", "is inkberry deer proof"):
        reply = sitting.reply(line)
        assert re.search(r"“Inkberry, deer: seldom severely damaged", reply), line
        assert "yes" not in reply.partition("note")[0]
    assert "No plant is deer-proof" in reply
    assert "What feet do to a plant is not known" in sitting.reply("can it take foot traffic")


def test_several_plants_by_their_place(sitting: Sitting) -> None:
    """The first two are compared and kept as numbers are."""
    sitting.reply(REQUEST)
    assert sitting.reply("compare the first two") == sitting.reply("compare 1 and 2")
    first, second = (sitting.desk.plant(match.plant).botanical for match in sitting.answer.matches[:2])  # type: ignore[union-attr]
    assert sitting.reply("keep the first two").startswith(f"kept: {first}, {second}\n")


def test_a_word_of_the_desk_without_its_form_is_helped(sitting: Sitting) -> None:
    """Where the line is no request either."""
    sitting.reply(REQUEST)
    assert "save A-1204: keep all of this" in sitting.reply("save this for monday")
    assert "save A-1204" not in sitting.reply("save water on the bank")


def test_a_question_is_named_while_it_is_typed() -> None:
    """Every kind there is."""
    assert set(glanced.ASKS) == set(get_args(Ask))


def test_care_is_not_dated_without_a_zone(sitting: Sitting) -> None:
    """Where the request says no zone, that is said; what the card tells is told."""
    reply = sitting.reply("when do I prune inkberry")
    assert "prune in late winter" in reply
    assert "depends on the zone" in reply


def test_a_question_is_not_put_again_and_again(sitting: Sitting) -> None:
    """What the caller did not answer twice gives way to the next question."""
    lines = (REQUEST, "not juniper", "no yew", "narrower", "fragrant", "never mind fragrant")
    asked = [re.findall(r"^ask +(.*)", sitting.reply(line), re.MULTILINE) for line in lines]
    times = Counter(question for found in asked for question in found)
    assert max(times.values()) == 2
    assert len(times) >= 2


def test_the_hint_names_what_can_be_taken_back(sitting: Sitting) -> None:
    """Each word that the hint uses for a wish is one by which it is dropped."""
    known = refiner(sitting.desk.base).reader.vocabulary
    for trait, word in at_desk.SIDES.items():
        assert any(
            entry["class"] == "TRAIT" and trait in str(entry["of"]).replace(" ", "_").split(",")
            for match in known.phrases_under(REFINING, words(word, {}), 0)
            for entry in match.entries
        ), (trait, word)


@given(lines=st.lists(st.sampled_from(SAID_AT_THE_DESK), min_size=1, max_size=8))
@settings(max_examples=20, deadline=None)
def test_any_lines_in_any_order(lines: list[str], desk: Desk) -> None:
    """Whatever is said after whatever, there is a reply that fits the screen."""
    sitting = Sitting(desk, Screen(80), Journal(None), None)
    for line in lines:
        try:
            reply = sitting.reply(line)
        except AskplantError as problem:
            reply = f"{problem}\n"
        assert reply.endswith("\n")
        assert all(cells(row) <= 80 for row in reply.splitlines()), (line, reply)
