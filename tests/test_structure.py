"""The shape of the program: imports run one way, each outside library has one door, and asking imports nothing heavy."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from askplant.base import cache

PACKAGE = Path(__file__).parent.parent / "askplant"

# Each layer may import itself and those above it.
LAYERS = (
    ("__init__", "errors", "statuses", "folding", "where", "streams", "writing", "parsing", "grammars", "toml"),
    ("quantities",),
    ("sheets",),
    ("base",),
    ("reading",),
    ("finding",),
    ("stock",),
    ("growth",),
    ("verdicts",),
    ("answer",),
    ("care",),
    ("plan",),
    ("sheet",),
    ("sitting",),
    ("render",),
    ("desk",),
    ("batch",),
    ("commands",),
    ("cli",),
    ("__main__",),
)
# The package's face hands out Desk on demand: the one import that runs the other way.
EXCEPTIONS = {("__init__", "desk")}

DOORS = {
    "lark": {"grammars.py"},
    "rapidfuzz": {"reading/mending.py"},
    "charset_normalizer": {"sheets/encodings.py"},
    "python_calamine": {"sheets/apart.py"},
    "xlsxwriter": {"sheets/book.py"},
    "tqdm": {"batch/progress.py"},
    "distributed": {"batch/cluster.py"},
    "sqlite_utils": {"base/build.py"},
    "prompt_toolkit": {"commands/prompt.py"},
    "icalendar": {"render/care_ics.py"},
    "plotext": {"render/plot.py"},
    "highspy": {"plan/program.py"},
    "numpy": {"plan/program.py"},
}
HEAVY = (
    "sqlite_utils", "prompt_toolkit", "plotext", "openpyxl", "rich", "pydantic", "typer", "click",
    "importlib.metadata", "regex", "tomllib", "lark", "rapidfuzz", "csv", "icalendar", "highspy", "numpy",
    "charset_normalizer", "python_calamine", "xlsxwriter", "tqdm", "distributed", "concurrent.futures", "zipfile",
    "logging", "tempfile", "hashlib",
    "askplant.grammars", "askplant.answer.single", "askplant.answer.substitute", "askplant.finding",
)  # fmt: skip
# Nothing but types, which every request loads: of a named tuple each annotation that is text is compiled.
TYPES = ("base/records.py", "reading/reading.py", "stock/stock.py", "verdicts/verdict.py", "answer/answer.py")

MODULES = sorted(PACKAGE.rglob("*.py"))


def imports(path: Path) -> Iterator[str]:
    """The dotted names a module imports, anywhere in it."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield from (
                [f"{node.module}.{alias.name}" for alias in node.names] if node.module == "askplant" else [node.module]
            )


def layer(part: str) -> int | None:
    """The layer of a part of the package; None for a name that is no part (the version)."""
    return next((depth for depth, parts in enumerate(LAYERS) if part in parts), None)


def part_of(path: Path) -> str:
    """The folder of the package that a module stands in, or the module itself."""
    first = path.relative_to(PACKAGE).parts[0]
    return first.removesuffix(".py")


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_imports_run_one_way(path: Path) -> None:
    """No module imports from a layer below its own."""
    part = part_of(path)
    own = layer(part)
    assert own is not None, f"{part} stands in no layer: give it its place in LAYERS"
    for name in imports(path):
        if name.startswith("askplant."):
            other = name.split(".")[1]
            depth = layer(other)
            assert depth is None or depth <= own or (part, other) in EXCEPTIONS, f"{part} imports {other}"


@pytest.mark.parametrize("library, doors", DOORS.items())
def test_each_library_has_one_door(library: str, doors: set[str]) -> None:
    """A library can be replaced by mending the modules named here and no others."""
    found = {
        str(path.relative_to(PACKAGE))
        for path in MODULES
        if any(name.split(".")[0] == library for name in imports(path))
    }
    assert found <= doors
    assert found


def test_only_declared_libraries_are_imported() -> None:
    """What the package imports is the standard library, itself, or a library with a door."""
    tops = {name.split(".")[0] for path in MODULES for name in imports(path)}
    assert tops - set(sys.stdlib_module_names) - {"askplant", "__future__"} <= set(DOORS)


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_modules_and_functions_stay_small(path: Path) -> None:
    """No module over 400 lines, no function over 60, and each module says what it is for."""
    text = path.read_text(encoding="utf-8")
    tree = ast.parse(text)
    assert len(text.splitlines()) <= 400
    assert ast.get_docstring(tree), "a module opens with what it is for"
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef):
            assert (node.end_lineno or 0) - node.lineno < 60, node.name


def loaded_by(code: str) -> set[str]:
    """The modules that a fresh interpreter has loaded after running some code."""
    show = "import sys\n" + code + "\nprint('\\n' + ' '.join(sys.modules))"
    run = subprocess.run([sys.executable, "-c", show], capture_output=True, text=True, check=True, timeout=120)
    return set(run.stdout.rsplit("\n", 2)[-2].split())


def test_importing_the_package_imports_nothing_else() -> None:
    """`import askplant` is free: Desk is fetched when it is first named."""
    loaded = loaded_by("import askplant")
    assert {name for name in loaded if name.startswith("askplant")} == {"askplant"}
    assert "sqlite3" not in loaded


def test_asking_imports_nothing_heavy() -> None:
    """A request of known words is answered without the libraries of other commands, once the base is built."""
    cache.ready()
    loaded = loaded_by("from askplant.cli import main\nmain(['evergreen, zone 7, part shade'])")
    assert "askplant.commands.ask" in loaded
    assert [name for name in HEAVY if name in loaded] == []
    ours = [path for path in MODULES if ".".join(("askplant", *path.relative_to(PACKAGE).with_suffix("").parts)) in loaded]
    assert len(ours) > 80
    assert [path for path in ours if "dataclasses" in set(imports(path))] == []


@pytest.mark.parametrize("path", TYPES)
def test_types_have_their_annotations_as_values(path: str) -> None:
    """Nothing is compiled for them when they are made."""
    assert "__future__" not in set(imports(PACKAGE / path))


def test_the_overview_opens_no_base() -> None:
    """`askplant --help` is there at once, without reading or even importing the base."""
    loaded = loaded_by("from askplant.cli import main\nmain(['--help'])")
    assert {"sqlite3", "lark", "argparse"} & loaded == set()
