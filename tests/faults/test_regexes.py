"""Every regular expression of the program takes linear time, told from its automaton; none is left out."""

from __future__ import annotations

import ast
import re
import time
from collections.abc import Iterator
from contextlib import suppress
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

from askplant.base import botanical
from askplant.stock.said import said, words_in
from tests.faults.regexes import trouble

PACKAGE = Path(__file__).parent.parent.parent / "askplant"
MODULES = sorted(PACKAGE.rglob("*.py"))
RUNS = {"compile", "sub", "subn", "match", "fullmatch", "search", "split", "findall", "finditer"}
ANCHORED = {"match", "fullmatch"}


@cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def calls(tree: ast.AST) -> Iterator[ast.Call]:
    """The calls of `re`."""
    for node in ast.walk(tree):
        if (
            isinstance(node, ast.Call)
            and isinstance(node.func, ast.Attribute)
            and isinstance(node.func.value, ast.Name)
            and node.func.value.id == "re"
            and node.func.attr in RUNS
        ):
            yield node


def named(path: Path) -> dict[str, re.Pattern[Any]]:
    """The patterns that stand in a module under a name."""
    name = ".".join(("askplant", *path.relative_to(PACKAGE).with_suffix("").parts)).removesuffix(".__init__")
    if name == "askplant.__main__":
        return {}
    return {key: found for key, found in vars(import_module(name)).items() if isinstance(found, re.Pattern)}


@cache
def attributes(path: Path) -> dict[str, set[str]]:
    """What a module takes of each name."""
    found: dict[str, set[str]] = {}
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name | ast.Attribute):
            name = node.value.id if isinstance(node.value, ast.Name) else node.value.attr
            found.setdefault(name, set()).add(node.attr)
    return found


def used(path: Path, name: str) -> set[str]:
    """By which methods a pattern is used, in its module or, where its name is public, anywhere; one that is only handed on
    counts as searched with."""
    places = [path] if name.startswith("_") else MODULES
    return set().union(*(attributes(place).get(name, set()) for place in places)) or {"search"}


def test_every_pattern_is_seen() -> None:
    """Each call of `re` is a constant of its module, or is given a plain text, or is made of texts of the module alone."""
    unseen = []
    for path in MODULES:
        tree = tree_of(path)
        constants = [node.value for node in tree.body if isinstance(node, ast.Assign | ast.AnnAssign)]
        for call in calls(tree):
            if call not in constants and not isinstance(call.args[0], ast.Constant):
                unseen.append(f"{path.name}:{call.lineno}")
    assert unseen == []


# Of these the automaton cannot tell, since it passes over looks ahead and behind (`(?<!\d)`: a number is begun once), or
# because it does not know that no text ends a token twice: they are measured, on these signs repeated.
MEASURED = {
    "containers-_TRADE": ("1", " ", "1 ", "#"),
    "containers-_QUART": ("1", " ", "1 "),
    "containers-_INCH_POT": ("1", " ", "1 "),
    "containers-_CALIPER": ("1", " ", "1 -", "1 "),
    "purchase-_PRICE": ("1", "1,", " ", "under "),
    "purchase-_QUANTITY": ("qty ", " ", "in stock ", "1 "),
    "scan-_SCAN": ("aʼ", "1", "1,", "1,111"),
}
# These are tried on short texts alone: names of plants, of no more than `botanical.LONGEST` characters.
SHORT = {
    "botanical-_EPITHET", "botanical-_GROUP",
    "said-_SIZE", "said-_PRICE", "said-_COUNT", "said-_QUOTED", "said-_MARKS",
}  # fmt: skip

PATTERNS = [
    (path, name) for path in MODULES if "import re\n" in path.read_text(encoding="utf-8") for name in named(path)
]


@pytest.mark.parametrize("path, name", PATTERNS, ids=lambda one: one if isinstance(one, str) else one.stem)
def test_a_pattern_is_linear(path: Path, name: str) -> None:
    """Those that are tried only where a text begins, or against the whole of it, are not searched with."""
    ways = used(path, name)
    if f"{path.stem}-{name}" in {*MEASURED, *SHORT}:
        return
    assert trouble(named(path)[name], searched=not ways <= ANCHORED, whole="fullmatch" in ways) == ""


@pytest.mark.parametrize("key", MEASURED)
def test_a_pattern_that_is_measured(key: str) -> None:
    """Eight times the text takes nowhere near sixty-four times as long."""
    (pattern,) = (named(path)[name] for path, name in PATTERNS if f"{path.stem}-{name}" == key)
    assert trouble(pattern, searched=True, whole=False), "the automaton tells it by now"

    def seconds(text: str) -> float:
        tried: Any = text.encode() if isinstance(pattern.pattern, bytes) else text
        begun = time.process_time()
        for _ in pattern.finditer(tried):
            pass
        return time.process_time() - begun

    for unit in MEASURED[key]:
        text = (f" {'1' if unit == ' ' else ''}" + unit * 32_000)[:32_000]
        short = min(seconds(text[:4000]) for _ in range(3))
        assert seconds(text) < 40 * short + 0.02, repr(unit)


def test_names_of_plants_are_short() -> None:
    """The longest name that is tried at all takes no time, whatever it is."""
    begun = time.perf_counter()
    for unit in (" ", "A ", "' ", "'", "a '", "1", "$1", "1,", "pp 1"):
        with pytest.raises(ValueError, match="at most"):
            botanical.parse("Ilex" + unit * botanical.LONGEST)
        with suppress(ValueError):
            botanical.parse(f"Ilex {unit * botanical.LONGEST}"[: botanical.LONGEST])
        for text in (f"Ilex {unit * botanical.LONGEST}"[: botanical.LONGEST], "Ilex " + unit * 100_000):
            assert words_in(said(text).name) or len(text) > botanical.LONGEST
    assert time.perf_counter() - begun < 1


def test_patterns_in_calls_are_linear() -> None:
    """Those that are written where they are used."""
    for path in MODULES:
        for call in calls(tree_of(path)):
            if isinstance(call.args[0], ast.Constant) and call.func.attr != "compile":  # type: ignore[attr-defined]
                way = call.func.attr  # type: ignore[attr-defined]
                found = trouble(re.compile(call.args[0].value), searched=way not in ANCHORED, whole=way == "fullmatch")
                assert found == "", f"{path.name}:{call.lineno}"


def test_no_grammar_holds_one() -> None:
    """Terminals are tokens of the program's own scanner; none is a pattern."""
    for path in sorted((PACKAGE.parent / "grammar").glob("*.lark")):
        rules = "\n".join(line.partition("//")[0] for line in path.read_text(encoding="utf-8").splitlines())
        assert not re.search(r'/[^/\n]+/|"', rules), path.name


@pytest.mark.parametrize(
    "pattern, way, linear",
    [
        (r"(a|b)*c", "fullmatch", True),
        (r"\d+(\.\d+)?", "search", True),
        (r"(a*)*", "fullmatch", False),
        (r"(usd|/ea|ea|/)*", "fullmatch", False),
        (r"(a|ab|b)*", "fullmatch", False),
        (r"a*a*b", "match", False),
        (r"\s*,", "search", False),
        (r"\([^)]*\)", "search", False),
        (r"\([^()]*\)", "search", True),
        (r"x\s*$", "search", True),
        (r"\s+$", "search", False),
    ],
)
def test_the_check_can_tell(pattern: str, way: str, linear: bool) -> None:
    """Patterns of which it is known."""
    found = trouble(re.compile(pattern), searched=way not in ANCHORED, whole=way == "fullmatch")
    assert (found == "") == linear, found
