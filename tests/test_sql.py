"""No text of a user's becomes SQL: statements are constants, or made of constants of the program alone."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "askplant"
# What runs a statement, and which of its arguments is the statement.
RUNS = {"execute", "executemany", "executescript", "_all"}
# A string put together may hold these, constants of the module.
CONSTANTS = {"_PLANT"}
MODULES = sorted(path for path in PACKAGE.rglob("*.py") if "sqlite" in path.read_text(encoding="utf-8"))


def statements(tree: ast.AST) -> Iterator[ast.expr]:
    """The first argument of each call that runs SQL."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in RUNS and node.args:
            yield node.args[0]


def constant(found: ast.expr, tree: ast.AST) -> bool:
    """Whether a statement cannot depend on anything that comes from outside."""
    if isinstance(found, ast.Constant):
        return isinstance(found.value, str)
    if isinstance(found, ast.JoinedStr):
        parts = [part.value for part in found.values if isinstance(part, ast.FormattedValue)]
        return all(isinstance(part, ast.Name) and part.id in CONSTANTS for part in parts)
    if isinstance(found, ast.Name):  # a parameter of the one function that hands it on, or a loop over constants
        return found.id == "sql" or any(
            isinstance(node, ast.For)
            and isinstance(node.target, ast.Name)
            and node.target.id == found.id
            and isinstance(node.iter, ast.Name)
            and node.iter.id.isupper()
            for node in ast.walk(tree)
        )
    return False


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.name)
def test_statements_are_constant(path: Path) -> None:
    """Values go in as parameters."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assert [ast.unparse(found) for found in statements(tree) if not constant(found, tree)] == []


def test_statements_are_found() -> None:
    """The look above sees the program's statements at all."""
    found = sum(len(list(statements(ast.parse(path.read_text(encoding="utf-8"))))) for path in MODULES)
    assert found >= 20
