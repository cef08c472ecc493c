"""`askplant desk`: lines answered one after another, typed or piped; history and completion."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from prompt_toolkit.application import create_app_session
from prompt_toolkit.completion import CompleteEvent
from prompt_toolkit.document import Document
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output import DummyOutput

from askplant.commands import desk as desk_command
from askplant.commands import prompt
from askplant.commands.history import history_file
from askplant.commands.prompt import SortedCompleter, last_words, line_reader
from askplant.commands.sitting import Sitting
from askplant.desk import Desk
from askplant.render.screen import Screen


@pytest.fixture
def sitting(desk: Desk) -> Sitting:
    """A sitting before anything was asked."""
    return Sitting(desk, Screen())


def test_a_line_is_a_request(sitting: Sitting) -> None:
    """Whatever is no word of the desk is answered."""
    assert "asked   1 evergreen · 2 zone 7a–7b" in sitting.reply("evergreen, zone 7")


def test_words_of_the_desk(sitting: Sitting) -> None:
    """show, why of the last request, all, help."""
    assert sitting.reply("why inkberry").startswith("Nothing has been asked yet")
    sitting.reply("evergreen shrub, 3 ft, zone 7")
    assert sitting.reply("why inkberry").startswith("Ilex glabra ")
    assert sitting.reply("show inkberry").startswith("Ilex glabra (inkberry")
    assert "Every plant that is out" in sitting.reply("all")
    assert "why not inkberry" in sitting.reply("help")


def test_show_me_is_a_request(sitting: Sitting) -> None:
    """A sentence that begins like a word of the desk but names no plant is a request."""
    assert "1 evergreen · 2 zone 7a–7b" in sitting.reply("show me something evergreen for zone 7")


def test_trouble_does_not_end_the_sitting(sitting: Sitting, capsys: pytest.CaptureFixture[str]) -> None:
    """A line that cannot be read is said on standard error, an interrupted one is dropped, and the next is answered."""
    lines: list[object] = ["x" * 200_000, KeyboardInterrupt(), "", "evergreen", EOFError()]

    def read_line() -> str:
        line = lines.pop(0)
        if isinstance(line, BaseException):
            raise line
        return str(line)

    desk_command.converse(sitting, read_line)
    out, err = capsys.readouterr()
    assert err.startswith("askplant: request of 200000 characters")
    assert "1 evergreen" in out


def test_leaving(sitting: Sitting, capsys: pytest.CaptureFixture[str]) -> None:
    """quit leaves."""
    lines = iter(["quit", "evergreen"])
    desk_command.converse(sitting, lambda: next(lines))
    assert capsys.readouterr().out == ""


def test_a_pipe_is_answered_line_by_line(desk: Desk) -> None:
    """Without a terminal there is no prompt, and nothing of it on either stream."""
    done = subprocess.run(
        [sys.executable, "-m", "askplant", "desk", "--base", str(desk.base.path)],
        input="evergreen, zone 7\n\nfern\n",
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert "1 evergreen · 2 zone 7a–7b\n" in done.stdout
    assert "3 fern" in done.stdout
    assert "\x1b" not in done.stdout
    assert "? " not in done.stdout.splitlines()[0]


def test_typed_lines_are_kept_between_sittings(tmp_path: Path) -> None:
    """What was typed in one sitting is there in the next, for its owner alone."""
    path = tmp_path / "state" / "history"
    for typed in ("evergreen\n", "\x1b[A\n"):  # the second sitting presses the arrow key for the line of the first
        with create_pipe_input() as keys, create_app_session(input=keys, output=DummyOutput()):
            keys.send_text(typed)
            assert line_reader(["evergreen"], path)() == "evergreen"
    assert path.stat().st_mode & 0o777 == 0o600


def test_no_place_for_history_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where nothing can be kept the prompt works all the same."""
    (tmp_path / "file").write_text("")
    with create_pipe_input() as keys, create_app_session(input=keys, output=DummyOutput()):
        keys.send_text("fern\n")
        assert line_reader([], tmp_path / "file" / "history")() == "fern"
    assert "history is not kept" in capsys.readouterr().err


def test_a_long_history_loses_its_older_half(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The file does not grow for ever, and what is kept is whole entries."""
    monkeypatch.setattr(prompt, "MOST_KEPT", 200)
    path = tmp_path / "history"
    path.write_text("".join(f"\n# then\n+line {n}\n" for n in range(50)))
    line_reader([], path)
    kept = path.read_text()
    assert len(kept) <= 100
    assert kept.startswith("\n# then\n+line ")
    assert kept.endswith("+line 49\n")


def test_where_history_goes(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Named outright, by the platform's variable, below home, or nowhere."""
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setenv("ASKPLANT_STATE", str(tmp_path))
    assert history_file() == tmp_path / "history"
    monkeypatch.delenv("ASKPLANT_STATE")
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    assert history_file() == tmp_path / "state" / "askplant" / "history"
    monkeypatch.setenv("XDG_STATE_HOME", "not/absolute")
    monkeypatch.setenv("HOME", str(tmp_path))
    assert history_file() == tmp_path / ".local" / "state" / "askplant" / "history"


def completions(completer: SortedCompleter, text: str) -> list[str]:
    """The text after each completion."""
    document = Document(text)
    found = completer.get_completions(document, CompleteEvent())
    return [text[: len(text) + one.start_position] + one.text for one in found]


def test_completion() -> None:
    """The longest stretch of last words that something begins with is completed, never beyond a comma."""
    completer = SortedCompleter(["Ilex glabra", "Ilex crenata", "evergreen", "Japanese maple", "maple"])
    assert completions(completer, "narrow, il") == ["narrow, Ilex crenata", "narrow, Ilex glabra"]
    assert completions(completer, "a japanese m") == ["a Japanese maple"]
    assert completions(completer, "ever") == ["evergreen"]
    assert completions(completer, "") == []
    assert completions(completer, "zzz") == []


def test_many_completions_are_cut() -> None:
    """No more are offered than can be looked over."""
    completer = SortedCompleter([f"maple {n:03}" for n in range(500)])
    assert len(completions(completer, "map")) == prompt.MOST_SHOWN


def test_last_words() -> None:
    """Longest first, at most four."""
    assert list(last_words("one, two three four five six")) == [
        "three four five six",
        "four five six",
        "five six",
        "six",
    ]


def test_plants_and_words_can_be_completed(desk: Desk) -> None:
    """Botanical and common names and the vocabulary; no selling name, for those are never shown."""
    known = set(desk_command.phrases(desk))
    assert {"Ilex glabra", "inkberry", "evergreen"} <= known


@pytest.mark.skipif(os.name == "nt", reason="needs a pseudo terminal")
def test_a_dumb_terminal_gets_plain_lines(desk: Desk) -> None:
    """TERM=dumb on a real terminal: a bare prompt, no escapes, and the line is answered."""
    import pty

    command = [sys.executable, "-m", "askplant", "--base", str(desk.base.path)]
    ours, theirs = pty.openpty()
    with subprocess.Popen(
        command, stdin=theirs, stdout=theirs, stderr=theirs, env={**os.environ, "TERM": "dumb"}
    ) as process:
        os.close(theirs)
        os.write(ours, b"evergreen, zone 7\nquit\n")
        shown = _all(ours)
        assert process.wait(60) == 0
    os.close(ours)
    assert "plants. Type what is wanted" in shown
    assert "asked   1 evergreen" in shown
    assert "\x1b" not in shown


def _all(terminal: int) -> str:
    """Everything written to a terminal until its program ends."""
    parts = []
    while True:
        try:
            part = os.read(terminal, 65536)
        except OSError:  # the other end is closed
            break
        if not part:
            break
        parts.append(part)
    return b"".join(parts).decode()
