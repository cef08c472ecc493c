"""Commands are tried in the same surroundings wherever the tests run, over the base of the trait files as they are."""

from __future__ import annotations

import pytest

from askplant.desk import Desk


@pytest.fixture(autouse=True)
def plain_surroundings(monkeypatch: pytest.MonkeyPatch) -> None:
    """No variable of the developer's shell decides about encodings, colour or width."""
    for name in ("LC_ALL", "NO_COLOR", "FORCE_COLOR", "CLICOLOR_FORCE", "COLUMNS", "ASKPLANT_TRACE"):
        monkeypatch.delenv(name, raising=False)


@pytest.fixture(scope="session", autouse=True)
def desk() -> Desk:
    """A desk over the base of the trait files; the base is built by then, so that no command speaks of building it."""
    return Desk()
