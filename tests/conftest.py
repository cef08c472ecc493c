"""The real base and its reader, built once a run in a folder of the run's own."""

from __future__ import annotations

from pathlib import Path

import pytest

from askplant import where
from askplant.base import build
from askplant.base.opened import Base


@pytest.fixture(scope="session")
def real_base(tmp_path_factory: pytest.TempPathFactory) -> Base:
    """The base of the checkout's own traits."""
    path: Path = tmp_path_factory.mktemp("base") / "real.sqlite"
    build.build(path, where.folder("traits"), "tests")
    return Base.open(path)
