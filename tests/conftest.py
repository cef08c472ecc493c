"""The real base and its reader, built once a run in a folder of the run's own."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from askplant import where
from askplant.base import build
from askplant.base.opened import Base


@pytest.fixture(scope="session", autouse=True)
def nobody_elses_plants(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Whoever runs the tests may have plants of their own, and a desk; they have no say here and nothing is added to them."""
    with pytest.MonkeyPatch.context() as surroundings:
        surroundings.setenv(where.OWN_VARIABLE, str(tmp_path_factory.mktemp("own") / "none"))
        surroundings.setenv("ASKPLANT_STATE", str(tmp_path_factory.mktemp("state")))
        yield


@pytest.fixture(scope="session")
def real_base(tmp_path_factory: pytest.TempPathFactory) -> Base:
    """The base of the checkout's own traits."""
    path: Path = tmp_path_factory.mktemp("base") / "real.sqlite"
    build.build(path, where.folder("traits"), "tests")
    return Base.open(path)
