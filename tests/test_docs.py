"""What the documents say is so: commands, options, statuses, examples, and the two commands for a newcomer."""

from __future__ import annotations

import doctest
import re
import shlex
from importlib import import_module
from pathlib import Path

import pytest

import askplant
from askplant import cli, desk, statuses
from askplant.base import cache
from askplant.commands import overview

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
NOT_LISTED = {"--help"}
ROW = re.compile(r"^\| `(?P<first>[^`]+)`[^|]*\|(?P<rest>.*)\|$", re.MULTILINE)
VENV = "python3 -m venv .venv && "


@pytest.fixture(scope="module", autouse=True)
def built() -> None:
    """The base is built by then, so that no command speaks of building it."""
    cache.ready()


def options(name: str) -> set[str]:
    """The options a command has."""
    actions = import_module(f"askplant.commands.{name}").parser()._actions
    return {option for action in actions for option in action.option_strings if option.startswith("--")} - NOT_LISTED


def table_rows(heading: str) -> list[str]:
    """The rows of the tables under a heading of the README."""
    section = README.partition(f"\n## {heading}\n")[2].partition("\n## ")[0]
    return [line for line in section.splitlines() if line.startswith("| `") or re.match(r"\| \d+ \|", line)]


def commands_told() -> dict[str, set[str]]:
    """Each command of the README's table with the options it lists."""
    told = {}
    for row in table_rows("Commands"):
        named = re.findall(r"`askplant ([a-z]+)", row.split("|")[1])
        if named:
            told[named[0]] = set(re.findall(r"`(--[a-z-]+)`", row.split("|")[3]))
    return told


def test_every_command_is_told_with_its_options() -> None:
    """The README lists the commands there are, each with exactly the options it has."""
    assert commands_told() == {name: options(name) for name in cli.COMMANDS}


def test_every_option_is_explained() -> None:
    """Each option has its line in the second table, and no line is about an option that does not exist."""
    explained = {found for row in table_rows("Commands") for found in re.findall(r"^\| `(--[a-z-]+)", row)}
    assert explained == set().union(*(options(name) for name in cli.COMMANDS))


def test_the_options_stand_in_one_table_in_the_order_of_the_commands() -> None:
    """No row is cut off by an empty line, and whoever reads the first table down finds the options in the same order."""
    table = README.partition("\n| option | meaning |\n|---|---|\n")[2].partition("\n\n")[0].splitlines()
    rows = [row for row in table_rows("Commands") if row.startswith("| `--")]
    assert table == rows
    commands = [row for row in table_rows("Commands") if row.startswith("| `askplant ")]
    order = list(dict.fromkeys(found for row in commands for found in re.findall(r"`(--[a-z-]+)`", row.split("|")[3])))
    explained = list(dict.fromkeys(found for row in rows for found in re.findall(r"^\| `(--[a-z-]+)", row)))
    assert explained == order


def test_options_with_values_are_known_before_the_command() -> None:
    """Where options stand before the command's name, those that take a value are known."""
    taking = set()
    for name in cli.COMMANDS:
        for action in import_module(f"askplant.commands.{name}").parser()._actions:
            if action.option_strings and action.nargs != 0:
                taking |= {option for option in action.option_strings if option.startswith("--")}
    assert taking - NOT_LISTED == set(cli.TAKES_VALUE)


@pytest.mark.parametrize("document", [README, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_every_status_is_told(document: str) -> None:
    """The exit statuses stand in both documents, in the words of --help."""
    for status, meaning in statuses.MEANINGS.items():
        assert f"| {status} | {meaning} |" in document


def test_two_commands_for_a_newcomer() -> None:
    """One command sets up and asks, one sets up and tests; each is a single line that stands alone."""
    asking, testing = (line for line in README.splitlines() if line.startswith(VENV))
    assert asking.startswith(VENV + ".venv/bin/pip install -q . && .venv/bin/askplant ")
    assert testing == VENV + ".venv/bin/pip install -q -e '.[dev]' && .venv/bin/python -m pytest -n auto"
    assert shlex.split(asking)[-1] in overview.EXAMPLES[0]


def test_the_checks_run_the_command_of_the_readme() -> None:
    """.ci/run takes the test command from the README itself, and can be run."""
    path = ROOT / ".ci" / "run"
    script = path.read_text(encoding="utf-8")
    pattern = re.search(r"grep -m 1 -E '([^']+)' README.md", script)
    assert pattern
    found = re.findall(pattern[1], README, re.MULTILINE)
    assert len(found) == 1
    assert found[0].startswith(VENV)
    assert 'bash -euc "$tests"' in script
    assert path.stat().st_mode & 0o111


@pytest.mark.parametrize("name", ["overview", *cli.COMMANDS])
def test_examples_of_help_can_be_typed(name: str) -> None:
    """Each example is a command line that its command's parser takes."""
    for example in import_module(f"askplant.commands.{name}").EXAMPLES:
        words = shlex.split(example.split(" | ")[0].split(" > ")[0].split(" < ")[0])
        assert words[0] == "askplant"
        command, rest = cli._command(words[1:])
        if words[1:]:
            import_module(f"askplant.commands.{command}").parser().parse_intermixed_args(rest)


def test_the_public_names() -> None:
    """`__all__` is what can be imported, and Desk is the desk."""
    assert sorted(askplant.__all__, key=str.lower) == ["__version__", "Desk"]
    assert all(hasattr(askplant, name) for name in askplant.__all__)
    assert askplant.Desk is desk.Desk
    with pytest.raises(AttributeError):
        _ = askplant.Nothing  # type: ignore[attr-defined]


def test_examples_of_the_python_interface() -> None:
    """The examples in the README and in the class's own text give what they say."""
    assert doctest.testfile(str(ROOT / "README.md"), module_relative=False).attempted > 0
    assert doctest.testfile(str(ROOT / "README.md"), module_relative=False).failed == 0
    found = doctest.testmod(desk)
    assert found.attempted > 5
    assert found.failed == 0


def catalogue() -> list[tuple[str, str, int]]:
    """The runs of the catalogue of errors: command line, message, status."""
    section = DEVELOPERS.partition("\n## Catalogue of errors\n")[2].partition("\n## ")[0]
    found = re.findall(r"^    \$ askplant (.*)\n    (.*)\n    \[(\d+)\]$", section, re.MULTILINE)
    return [(line, message, int(status)) for line, message, status in found]


@pytest.mark.parametrize("line, message, status", catalogue())
def test_the_catalogue_of_errors(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    line: str,
    message: str,
    status: int,
) -> None:
    """Each run of the catalogue says what it says there, with that status."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("ASKPLANT_TRACE", raising=False)
    assert cli.main(shlex.split(line)) == status
    assert capsys.readouterr().err == f"{message}\n"


def test_the_catalogue_is_read_whole() -> None:
    """No run of the catalogue is missed by the pattern above."""
    assert len(catalogue()) == DEVELOPERS.count("    $ askplant ") >= 10


def test_modules_named_in_the_map_exist() -> None:
    """Every module that DEVELOPERS.md names is there, and every folder of the package is named."""
    named = set(re.findall(r"`(?:askplant/)?([a-z_/]+\.py)`", DEVELOPERS))
    present = {str(path.relative_to(ROOT / "askplant")) for path in (ROOT / "askplant").rglob("*.py")}
    anywhere = (
        present
        | {path.rpartition("/")[2] for path in present}
        | {str(path.relative_to(ROOT)) for path in (ROOT / "tests").rglob("*.py")}
    )
    assert named - anywhere == set()
    folders = {path.name for path in (ROOT / "askplant").iterdir() if (path / "__init__.py").exists()}
    assert {folder for folder in folders if f"`{folder}/`" not in DEVELOPERS} == set()


def test_the_documents_speak_of_nobody_else() -> None:
    """Plain links only to places within the project."""
    for document in (README, DEVELOPERS):
        assert re.findall(r"\]\((?!#|\.)[^)]*\)", document) == []
