"""One thing that a check finds: its place, what it is about, what is there and what should be."""

from __future__ import annotations

from typing import NamedTuple

ERROR, WARNING = "error", "warning"


class Finding(NamedTuple):
    """One thing wrong (`error`) or doubtful (`warning`): its place, what it is about, what is there, what should be."""

    severity: str
    file: str
    line: int
    what: str
    found: str
    expected: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.severity}: found {self.found}; expected {self.expected}"
