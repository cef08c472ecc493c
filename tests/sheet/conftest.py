"""One desk, one browser and the pages of some requests for all tests of the sheet."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest

from askplant.commands.sheet import chosen, page_of
from askplant.desk import Desk
from askplant.plan.compose import plan
from askplant.sheet import first
from tests.sheet import browser as browser_

TODAY = date(2027, 1, 31)
# Of each: the request, the plants (empty for the usual ones), whether a row is planned, the units, the paper.
CASES = {
    "hidden fence": ("evergreen screen to hide a 6 ft fence, zone 7a, part shade", "", False, None, None),
    "one shrub": ("narrow evergreen shrub, zone 7a, part shade", "1", False, None, None),
    "far apart": (
        "for my slope in zone 6b: part sun, low care",
        "Quercus alba,Ajuga reptans,inkberry",
        False,
        None,
        None,
    ),
    "cautions": (
        "poisonous or thorny shrub for a barrier, zone 6b, full sun",
        "Taxus × media,Berberis thunbergii,Pyracantha coccinea",
        False,
        None,
        None,
    ),
    "metric": ("evergreen hedge 1.5 m tall, zone 6b, sun", "", False, None, "a4"),
    "no zone": ("small tree, red fall color", "", False, None, None),
    "six": ("evergreen screen, zone 7a, part shade", "1,2,3,4,5,6", False, None, None),
    "row": ("60 ft screen, 10 ft tall in 5 years, at most 5 ft deep, zone 6b, deer, part shade", "", True, None, None),
    "metric row": ("18 m evergreen screen, 3 m tall, zone 6b", "", True, None, None),
    "long row": ("100 ft evergreen screen, 8 ft tall, zone 7", "", True, None, None),
    "no row": ("evergreen screen, 8 ft tall, zone 7", "", True, None, None),
    "hostile": ("evergreen <script>alert('&amp;')</script> \"zone\" 7a </style>", "2", False, "metric", "letter"),
    "nothing": ("evergreen palm 3 in tall for zone 1a with blue flowers in january", "", False, None, None),
}


@pytest.fixture(scope="session")
def desk() -> Desk:
    """A desk over the base of the trait files."""
    return Desk()


@pytest.fixture(scope="session")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """The file of a case's page, made once."""
    folder = tmp_path_factory.mktemp("sheets")

    def made(case: str) -> Path:
        path: Path = folder / f"{case.replace(' ', '-')}.html"
        if not path.exists():
            path.write_text(page(case), encoding="utf-8")
        return path

    return made


def page(case: str) -> str:
    """The page of one case."""
    text, plants, rowed, units, paper = CASES[case]
    desk = Desk(units=units)  # type: ignore[arg-type]
    answer = desk.ask(text, noted=False)
    row = plan(answer, desk.base, units=units or answer.reading.units) if rowed else None  # type: ignore[arg-type]
    told = chosen([plants], answer, desk) if plants else first(answer, row)
    return page_of(desk, answer, told, None, row, paper, TODAY)  # type: ignore[arg-type]


@pytest.fixture(scope="session")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[browser_.Browser]:
    """A browser of this machine; without one the tests that look at pages are skipped."""
    program = browser_.found()
    if program is None:
        pytest.skip(f"none of {', '.join(browser_.NAMES)} is on this machine (apt-get install chromium)")
    made = browser_.Browser(program, tmp_path_factory.mktemp("profile"))
    yield made
    made.close()
