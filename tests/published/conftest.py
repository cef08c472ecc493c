"""The plants of the real base by the names of the tables, and how far each table agrees, told at the end of the run."""

from __future__ import annotations

import pytest

from askplant.base.opened import Base
from tests.published.tables import Agreement, Taxa


@pytest.fixture(scope="session")
def taxa(real_base: Base) -> Taxa:
    """The real base by the names that tables use."""
    return Taxa(real_base)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """One line a table."""
    if Agreement.told:
        terminalreporter.section("agreement with published tables")
        for line in Agreement.told:
            terminalreporter.line(line)
