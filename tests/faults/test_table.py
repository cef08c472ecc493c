"""The table of faults and the tests that make them name each other."""

from __future__ import annotations

import re
from pathlib import Path

HERE = Path(__file__).parent
# These hold properties rather than make a fault; the README tells them in words.
OTHERS = {"test_fuzz.py", "test_regexes.py", "test_table.py"}


def test_the_table_is_that_of_the_tests() -> None:
    """Every test of a file stands under its heading, and nothing else does."""
    sections = re.split(r"^## (?=test_)", (HERE / "README.md").read_text(encoding="utf-8"), flags=re.MULTILINE)[1:]
    told = {section.split()[0]: re.findall(r"`(test_\w+)` \|$", section, re.MULTILINE) for section in sections}
    there = {
        path.name: re.findall(r"^def (test_\w+)", path.read_text(encoding="utf-8"), re.MULTILINE)
        for path in HERE.glob("test_*.py")
        if path.name not in OTHERS
    }
    assert told == there
