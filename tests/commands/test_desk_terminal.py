"""The desk as two people have it before them: a phone call, a designer's sitting, and what may befall both."""

from __future__ import annotations

import os
import re
import signal
import sys
import tempfile
from pathlib import Path

import pytest

from askplant.desk import Desk
from askplant.render.screen import cells

if sys.platform == "win32":
    pytest.skip("needs a pseudo-terminal", allow_module_level=True)

from tests.commands.screens import Terminal

CALL = [
    ("evergreen screen, zone 7", "1 evergreen · 2 for a screen · 3 zone 7a–7b"),
    ("about 10 ft", "added: about 10 ft tall"),
    ("oh and deer", "added: deer: at least seldom severely damaged"),
    ("no wait 8 ft instead", "changed: about 10 ft tall → about 8 ft tall"),
    ("no hollies", "added: not holly"),
    ("never mind the deer", "dropped: deer"),
    ("why not inkberry", "of holly, asked: not holly"),
    ("how tall will it be in 5 years", "after 5 years in the ground"),
]
DESIGN = [
    ("deciduous shrub, 4-6 ft, part shade, zone 6", "1 deciduous · 2 shrub"),
    ("white flowers", "added: white flowers"),
    ("or pink", "changed: white flowers → white or pink flowers"),
    ("blooms in june", "added: in bloom June"),
    ("a bit shorter", "changed: height 4–6 ft → height 3.5–5 ft"),
    ("off 7", "off: in bloom June"),
    ("keep 1, 2", "2 on the short list"),
    ("more", "  3  "),
    ("keep 4", "3 on the short list"),
    ("note 1 beside the steps", "noted on"),
    ("like the second but narrower", "added: like"),
    ("undo", "taken back: like the second but narrower"),
    ("on 7", "on: in bloom June"),
    ("compare", "door"),
    ("save D-77", "kept as D-77"),
]


def started(desk: Desk, state: Path, *arguments: str, **variables: str) -> Terminal:
    """A desk whose prompt is there."""
    terminal = Terminal(desk, state, *arguments, **variables)
    terminal.shows("plants. Type what is wanted")
    terminal.shows("\n?")
    return terminal


def test_a_phone_call_of_eight_turns(desk: Desk, tmp_path: Path) -> None:
    """Each turn is answered, with something to say aloud on the same screen, and nothing is wider than it."""
    with started(desk, tmp_path) as terminal:
        for typed, expected in CALL:
            terminal.line(typed)
            shown = terminal.shows(expected)
            assert all(cells(text) <= 80 for text in shown.splitlines())
            if "asked   1" in shown:
                assert "say     “" in shown
                assert re.search(r"\d+ of \d+ fit", shown)
        terminal.type("\x04")
        assert terminal.ended() == 0
    log = (tmp_path / "calls.jsonl").read_text(encoding="utf-8")
    assert len(log.splitlines()) == 6  # the two questions change nothing


def test_a_designers_sitting_of_fifteen(desk: Desk, tmp_path: Path) -> None:
    """Refined, kept, compared, saved; and there again the next day."""
    with started(desk, tmp_path) as terminal:
        for typed, expected in DESIGN:
            terminal.line(typed)
            terminal.told(expected)
        with tempfile.TemporaryDirectory(prefix="d") as short:  # a longer name of a file takes two lines of the screen
            terminal.line(f"export {short}/list.md")
            terminal.told("3 plants written")
            assert Path(short, "list.md").read_text(encoding="utf-8").count("\n| *") == 3
        terminal.type("\x04")
        assert terminal.ended() == 0
    with started(desk, tmp_path, "--open", "D-77") as terminal:
        terminal.told("open: D-77, 3 on the short list")
        terminal.line("list")
        terminal.told("note: beside the steps")


def test_the_reading_appears_while_one_types(desk: Desk, tmp_path: Path) -> None:
    """Below the line, words marked without colour: read, mended, not read; how many fit and the best."""
    with started(desk, tmp_path, NO_COLOR="1") as terminal:
        terminal.type("evergren, narrow, flooby")
        shown = terminal.shows("?flooby?")
        assert "[evergren→evergreen], [narrow], ?flooby?" in shown
        assert "new request: evergreen · narrow" in shown
        assert re.search(r"\d+ of \d+ fit", terminal.shows(" fit"))
        terminal.shows("1 ")
        assert not re.search(rb"\x1b\[[0-9;]*3[0-7]m", terminal.raw)
        terminal.type("\r")
        terminal.shows("asked   1 evergreen · 2 narrow")
        terminal.type("never mind the narrow")
        terminal.shows("dropped: narrow")
        terminal.type("\x03")


def test_completion_and_history(desk: Desk, tmp_path: Path) -> None:
    """Tab completes plants, words and commands; an earlier line comes back in the next sitting, by search too."""
    with started(desk, tmp_path) as terminal:
        terminal.type("why not Ilex glab\t")
        terminal.shows("Ilex glabra")
        terminal.type("\x03")
        terminal.line("evergreen, narrow, zone 7")
        terminal.shows("asked   1 evergreen")
        terminal.type("\x04")
        terminal.ended()
    with started(desk, tmp_path) as terminal:
        terminal.shows("open last goes on with it")
        terminal.type("\x12narrow")
        terminal.shows("evergreen, narrow, zone 7")
        terminal.type("\r\r")
        terminal.shows("asked   1 evergreen · 2 narrow")


def test_a_pasted_mail_is_one_request(desk: Desk, tmp_path: Path) -> None:
    """Several lines, sent at once with Enter; as a request of its own, for it is long."""
    mail = (
        "Hello,\nwe need an evergreen screen along the back fence,\nabout 8 ft tall, zone 7, part shade.\n"
        "The deer come through every night and we have heavy clay.\nNothing poisonous please, we have a dog.\nThanks!"
    )
    with started(desk, tmp_path) as terminal:
        terminal.line("fern, full shade")
        terminal.shows("asked   1 fern")
        terminal.paste(mail)
        terminal.shows("Thanks!")
        terminal.type("\r")
        shown = terminal.told("new request: it is as long as one")
        assert "evergreen" in terminal.shows("asked   1 ")
        assert shown.count("asked ") >= 1


def test_ctrl_c_drops_the_line_only(desk: Desk, tmp_path: Path) -> None:
    """The request stands as it was; Ctrl-D on a line that is not empty does not leave."""
    with started(desk, tmp_path) as terminal:
        terminal.line("evergreen, zone 7")
        terminal.shows("asked   1 evergreen")
        terminal.type("narrow and w")
        terminal.shows("narrow and w")
        terminal.type("\x03")
        terminal.type("x\x04")
        terminal.type("\x03")
        terminal.line("8 ft")
        terminal.shows("1 evergreen · 2 zone 7a–7b · 3 about 8 ft tall")
        terminal.type("\x04")
        assert "Kept: open last goes on with it." in terminal.told("Kept:")
        assert terminal.ended() == 0


def test_killed_and_opened_again(desk: Desk, tmp_path: Path) -> None:
    """kill -9 in the middle of a line: everything that was sent is there."""
    with started(desk, tmp_path) as terminal:
        terminal.line("evergreen, zone 7")
        terminal.shows("asked   1 evergreen")
        terminal.line("8 ft")
        terminal.shows("3 about 8 ft tall")
        terminal.line("keep 1")
        terminal.shows("1 on the short list")
        terminal.type("narrow")
        os.kill(terminal.child.pid, signal.SIGKILL)
        assert terminal.ended() == -signal.SIGKILL
    with started(desk, tmp_path) as terminal:
        terminal.shows("There is an earlier sitting: open last goes on with it.")
        terminal.line("open last")
        terminal.told(", 1 on the short list")
        terminal.shows("1 evergreen · 2 zone 7a–7b · 3 about 8 ft tall")
        terminal.line("undo")
        terminal.told("taken back: 8 ft")


def test_resized(desk: Desk, tmp_path: Path) -> None:
    """The next reply fits the window as it is by then."""
    with started(desk, tmp_path) as terminal:
        terminal.line("evergreen, zone 7")
        terminal.shows("asked   1 evergreen")
        terminal.resize(60, 30)
        terminal.type("8 ft")
        terminal.shows("added: about 8 ft tall")
        terminal.type("\r")
        shown = terminal.shows("· 3 about 8 ft")
        reply = shown[shown.rindex("added: about 8 ft tall") :]
        assert all(cells(text) <= 60 for text in reply.splitlines())
        terminal.resize(100, 40)
        terminal.line("narrow")
        terminal.told("4 narrow")


@pytest.mark.parametrize("plain", [("--plain",), ()], ids=["asked for", "dumb"])
def test_plain_lines(desk: Desk, tmp_path: Path, plain: tuple[str, ...]) -> None:
    """For whoever hears the screen, and for terminals that can do no more: no escapes, nothing drawn again, nothing lost."""
    variables = {} if plain else {"TERM": "dumb"}
    with started(desk, tmp_path, *plain, *(() if plain else ("--color", "never")), **variables) as terminal:
        terminal.type("evergreen, zone 7\r")
        terminal.told("asked   1 evergreen")
        terminal.type("8 ft\x03")
        terminal.type("paste\rnarrow,\rfor clay\r.\r")
        terminal.told("3 narrow · 4 clay soil")
        terminal.type("keep 1\rcompare 1, 2\r")
        terminal.told("times a person")
        terminal.type("\x04")
        assert terminal.ended() == 0
        escapes = re.findall(rb"\x1b\[[0-9;?]*[A-HJKfhlsu]", terminal.raw)
        assert escapes == []


def test_options_of_the_log(desk: Desk, tmp_path: Path) -> None:
    """`--unlogged` writes nothing; `desk log` sums up what was logged."""
    with started(desk, tmp_path, "--unlogged") as terminal:
        terminal.line("evergreen flooby")
        terminal.shows("NOT READ “flooby”")
    assert not (tmp_path / "calls.jsonl").exists()
    with started(desk, tmp_path) as terminal:
        terminal.line("evergreen flooby")
        terminal.shows("NOT READ “flooby”")
        terminal.type("\x04")
        terminal.ended()
    with Terminal(desk, tmp_path, "desk", "log") as terminal:
        assert "1 call since" in terminal.told("flooby")
