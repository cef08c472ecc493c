"""The real base, built once for all runs over the same files."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Iterator
from typing import Any

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


@pytest.fixture(scope="module", autouse=True)
def the_process_is_left_as_it_was() -> Iterator[None]:
    """What a file of tests does to the process that runs it, and leaves so, breaks another file far away, or only when both run
    in the same worker."""
    before = _process()
    yield
    assert _process() == before


def _process() -> dict[str, Any]:
    """What children inherit and no test may keep changed."""
    told: dict[str, Any] = {"folder": os.getcwd(), "ends": [signal.getsignal(one) for one in (signal.SIGINT, signal.SIGTERM)]}
    if sys.platform != "win32":
        import resource

        limits = (resource.RLIMIT_AS, resource.RLIMIT_CORE, resource.RLIMIT_FSIZE, resource.RLIMIT_DATA, resource.RLIMIT_STACK)
        told |= {"limits": [resource.getrlimit(one) for one in limits], "masked": signal.pthread_sigmask(signal.SIG_BLOCK, ())}
        told["ignored"] = [signal.getsignal(one) for one in (signal.SIGPIPE, signal.SIGXFSZ, signal.SIGHUP)]
    return told


@pytest.fixture(scope="session")
def real_base(nobody_elses_plants: None) -> Base:
    """The base of the checkout's own traits, built where the program keeps it: once for all who run over the same files."""
    return Base.open(cache.ready())
