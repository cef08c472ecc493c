"""Commands are tried in the same surroundings wherever the tests run."""

from __future__ import annotations

import pytest


@pytest.fixture(autouse=True)
def plain_surroundings(monkeypatch: pytest.MonkeyPatch) -> None:
    """No variable of the developer's shell decides about encodings, colour or width."""
    for name in ("LC_ALL", "NO_COLOR", "FORCE_COLOR", "CLICOLOR_FORCE", "COLUMNS", "ASKPLANT_TRACE"):
        monkeypatch.delenv(name, raising=False)
