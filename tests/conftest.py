"""The real base, built once for all runs over the same files."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from askplant import where
from askplant.base import cache
from askplant.base.opened import Base


@pytest.fixture(scope="session", autouse=True)
def nobody_elses_plants(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Whoever runs the tests may have plants of their own, and a desk; they have no say here and nothing is added to them."""
    with pytest.MonkeyPatch.context() as surroundings:
        surroundings.setenv(where.OWN_VARIABLE, str(tmp_path_factory.mktemp("own") / "none"))
        surroundings.setenv("ASKPLANT_STATE", str(tmp_path_factory.mktemp("state")))
        yield


@pytest.fixture(scope="session")
def real_base(nobody_elses_plants: None) -> Base:
    """The base of the checkout's own traits, built where the program keeps it: once for all who run over the same files."""
    return Base.open(cache.ready())
