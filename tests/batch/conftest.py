"""Batches are tried over the base of the trait files, with nobody's stock list set."""

from __future__ import annotations

import pytest

from askplant.desk import Desk


@pytest.fixture(scope="session", autouse=True)
def desk() -> Desk:
    """A desk over the base of the trait files; the base is built by then, so that no command speaks of building it."""
    return Desk()
