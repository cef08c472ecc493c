"""Finding the command, exit statuses, and trouble said in one line."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from askplant import cli, errors, statuses
from askplant.commands import overview


def run(*arguments: str, **surroundings: str) -> subprocess.CompletedProcess[str]:
    """The command run as its own process."""
    variables = {**os.environ, **surroundings}
    variables.pop("LC_ALL", None) if "LC_ALL" not in surroundings else None
    return subprocess.run(
        [sys.executable, "-m", "askplant", *arguments], capture_output=True, text=True, env=variables, timeout=120
    )


@pytest.mark.parametrize(
    "arguments, name, rest",
    [
        (["narrow evergreen"], "ask", ["narrow evergreen"]),
        (["narrow", "evergreen", "--json"], "ask", ["narrow", "evergreen", "--json"]),
        (["ask", "x"], "ask", ["x"]),
        (["read", "x"], "read", ["x"]),
        (["--units", "metric", "read", "x"], "read", ["--units", "metric", "x"]),
        (["--units=metric", "why", "x"], "why", ["--units=metric", "x"]),
        (["--json", "read", "x"], "read", ["--json", "x"]),
        (["--lines", "read"], "ask", ["--lines", "read"]),
        (["-10 °F, evergreen"], "ask", ["-10 °F, evergreen"]),
        (["-"], "ask", ["-"]),
        ([], "ask", []),
    ],
)
def test_which_command_is_meant(arguments: list[str], name: str, rest: list[str]) -> None:
    """The first word that is no option names the command; anything else is a request."""
    assert cli._command(arguments) == (name, rest)


def test_alone_in_a_terminal_the_desk_opens(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without arguments a person gets a prompt; a program gets told what is missing."""
    monkeypatch.setattr(cli, "_at_a_terminal", lambda: True)
    assert cli._command([]) == ("desk", [])
    assert cli._command(["--units", "metric"]) == ("desk", ["--units", "metric"])
    assert cli._command(["--lines", "requests.txt"]) == ("ask", ["--lines", "requests.txt"])


def test_statuses_of_errors_are_the_promised_ones() -> None:
    """What is raised on purpose carries a documented exit status."""
    assert errors.UserError.status == statuses.WRONG_USE
    assert errors.UnknownPlant.status == statuses.UNKNOWN_PLANT
    assert errors.BaseError.status == statuses.TROUBLE
    raised = [kind for kind in vars(errors).values() if isinstance(kind, type)]
    assert {kind.status for kind in raised} <= set(statuses.MEANINGS)


@pytest.mark.parametrize("arguments", [["--help"], ["help"], ["-h"]])
def test_help_names_every_command_and_status(capsys: pytest.CaptureFixture[str], arguments: list[str]) -> None:
    """The overview lists what there is, with examples."""
    assert cli.main(arguments) == 0
    shown = capsys.readouterr().out
    assert all(f"  {name} " in shown for name in cli.COMMANDS)
    assert all(example in shown for example in overview.EXAMPLES)
    assert statuses.listed() in shown


@pytest.mark.parametrize("name", cli.COMMANDS)
def test_every_command_has_help_with_examples(capsys: pytest.CaptureFixture[str], name: str) -> None:
    """Each command says what it does, shows it, and names its exit statuses."""
    assert cli.main([name, "--help"]) == 0
    shown = capsys.readouterr().out
    assert f"usage: askplant {name}" in shown
    assert "examples:\n  askplant" in shown
    assert statuses.listed() in shown


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    """The version is the package's."""
    from askplant import __version__

    assert cli.main(["--version"]) == 0
    assert capsys.readouterr().out == f"askplant {__version__}\n"


@pytest.mark.parametrize(
    "arguments, said",
    [
        ([], "no request given"),
        (["ask", ""], "no request given"),
        (["ask", "--nonsense", "fern"], "unrecognized arguments: --nonsense"),
        (["ask", "--count", "0", "fern"], "expected a whole number from 1"),
        (["ask", "--count", "many", "fern"], "expected a whole number from 1"),
        (["ask", "--units", "cubits", "fern"], "invalid choice: 'cubits'"),
        (["ask", "--lines", "absent.txt"], "absent.txt: found no such file"),
        (["batch", "only-one.csv"], "required: OUT"),
        (["compare", "one"], "at least two plants"),
    ],
)
def test_wrong_use_is_one_line(capsys: pytest.CaptureFixture[str], arguments: list[str], said: str) -> None:
    """Wrong use says what is wrong, on standard error, and has its own status."""
    assert cli.main(arguments) == statuses.WRONG_USE
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert err.startswith("askplant: ")
    assert said in err


def boom(arguments: object) -> int:
    """A command with a fault in it."""
    raise ZeroDivisionError("seven\nlines")


def test_trouble_inside_is_one_line(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """A fault of the program is one line that says how to see the trace."""
    monkeypatch.setattr("askplant.commands.show.run", boom)
    assert cli.main(["show", "x"]) == statuses.TROUBLE
    err = capsys.readouterr().err
    assert (
        err == "askplant: trouble inside the program: ZeroDivisionError: seven lines (ASKPLANT_TRACE=1 shows where)\n"
    )


def test_the_trace_can_be_seen(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """ASKPLANT_TRACE=1 prints where the trouble arose."""
    monkeypatch.setattr("askplant.commands.show.run", boom)
    monkeypatch.setenv("ASKPLANT_TRACE", "1")
    cli.main(["show", "x"])
    assert "Traceback" in capsys.readouterr().err


def test_stopping_is_quiet(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """Ctrl-C ends the command without a trace."""

    def stopped(arguments: object) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr("askplant.commands.show.run", stopped)
    monkeypatch.setattr("askplant.streams.abandon", lambda stream: None)
    assert cli.main(["show", "x"]) == statuses.STOPPED
    assert capsys.readouterr().err == "askplant: stopped\n"


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_a_full_disk_is_said() -> None:
    """Output that cannot be written is an error, though it shows only at the end."""
    command = f"{sys.executable} -m askplant --help > /dev/full"
    done = subprocess.run(command, shell=True, capture_output=True, text=True, timeout=60)
    assert done.returncode == statuses.TROUBLE
    assert done.stderr == "askplant: no space left on device\n"


def test_a_reader_that_leaves_early_is_no_trouble() -> None:
    """`| head -1` ends quietly, without a trace and without a complaint."""
    command = f"{sys.executable} -m askplant --help | head -1; echo ${{PIPESTATUS[0]}}"
    done = subprocess.run(["bash", "-c", command], capture_output=True, text=True, timeout=60)
    assert done.stderr == ""
    assert done.stdout.splitlines() == ["usage: askplant TEXT", "0"]


def test_a_closed_output_is_no_trouble() -> None:
    """Started without standard output, the command still runs."""
    command = f"{sys.executable} -m askplant --version >&-; echo $?"
    done = subprocess.run(["bash", "-c", command], capture_output=True, text=True, timeout=60)
    assert (done.stdout, done.stderr) == ("0\n", "")


@pytest.mark.parametrize(
    "surroundings", [{"LC_ALL": "C"}, {"PYTHONIOENCODING": "ascii"}, {"PYTHONIOENCODING": "latin-1"}]
)
def test_terminals_of_any_encoding(surroundings: dict[str, str]) -> None:
    """Signs that the encoding lacks are said plainly."""
    done = subprocess.run(
        [sys.executable, "-m", "askplant", "--help"],
        capture_output=True,
        env={**os.environ, **surroundings},
        timeout=60,
    )
    assert done.returncode == 0
    assert b"10-15 ft" in done.stdout


def test_the_module_is_the_command() -> None:
    """`python -m askplant` answers like `askplant`."""
    assert run("--version").stdout.startswith("askplant ")
