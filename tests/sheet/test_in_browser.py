"""The sheet as a browser shows and prints it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.sheet.browser import Browser
from tests.sheet.conftest import CASES

WIDTHS = (360, 800, 1200)


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("width", WIDTHS)
def test_it_fits_the_window(browser: Browser, pages: Callable[[str], Path], case: str, width: int) -> None:
    """Nothing sticks out or is covered, nothing is complained of, and nothing but the page itself is asked for."""
    path = pages(case)
    seen = browser.look(path, width)
    assert seen.scroll <= width
    assert seen.wide == []
    assert seen.cut == []
    assert seen.errors == []
    assert seen.asked == [path.as_uri()]


@pytest.mark.parametrize("case", CASES)
def test_it_prints_on_two_pages(browser: Browser, pages: Callable[[str], Path], case: str) -> None:
    """On the paper it is made for."""
    assert 1 <= browser.pages(pages(case)) <= 2
