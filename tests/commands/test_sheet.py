"""`askplant sheet` from end to end, over the real base."""

from __future__ import annotations

from pathlib import Path

import pytest

from askplant import cli, statuses
from tests.commands.test_cli import run

REQUEST = "evergreen screen to hide a 6 ft fence, zone 7a, part shade"


def test_the_installed_command_writes_a_page(tmp_path: Path) -> None:
    """The page stands in the file, whole, and nothing is printed."""
    done = run("sheet", REQUEST, "-o", str(tmp_path / "sheet.html"))
    assert (done.returncode, done.stdout) == (statuses.FITS, "")
    page = (tmp_path / "sheet.html").read_text(encoding="utf-8")
    assert page.startswith("<!DOCTYPE html>")
    assert page.endswith("</html>\n")
    assert [path.name for path in tmp_path.iterdir()] == ["sheet.html"]


def test_to_standard_output(capsys: pytest.CaptureFixture[str]) -> None:
    """Without a file the page is printed; paper and units are those asked for."""
    assert cli.main(["sheet", REQUEST, "--plants", "2,inkberry", "--paper", "a4", "--units", "metric"]) == statuses.FITS
    page = capsys.readouterr().out
    assert "size: a4" in page
    assert "Ilex glabra" in page
    assert "Two plants" in page
    assert " m high" in page


def test_planted(capsys: pytest.CaptureFixture[str]) -> None:
    """The calendar begins where it is told to."""
    assert cli.main(["sheet", REQUEST, "--planted", "2029-10"]) == statuses.FITS
    assert "October 2029" in capsys.readouterr().out


@pytest.mark.parametrize(
    "more, status, said",
    [
        (("--plants", "9999"), statuses.WRONG_USE, "found --plants 9999; expected a number of the answer"),
        (("--plants", "0"), statuses.WRONG_USE, "found --plants 0; expected a number of the answer"),
        (("--plants", ","), statuses.WRONG_USE, "found --plants without any"),
        (("--plants", "1,2,3,4,5,6,7"), statuses.WRONG_USE, "found 7 plants; expected at most 6"),
        (("--plants", "zzzzqqq"), statuses.UNKNOWN_PLANT, "no plant of that name: zzzzqqq"),
        (("--planted", "someday"), statuses.WRONG_USE, "found --planted `someday`"),
        (("-o", "absent/sheet.html"), statuses.TROUBLE, "absent/sheet.html: found no such file or directory"),
        (("-o", "."), statuses.TROUBLE, ".: found something that is no ordinary file"),
    ],
)
def test_wrong_use(
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
    more: tuple[str, ...],
    status: int,
    said: str,
) -> None:
    """One line, the right status, no page."""
    monkeypatch.chdir(tmp_path)
    assert cli.main(["sheet", REQUEST, *more]) == status
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err.startswith(f"askplant: {said}")
    assert shown.err.count("\n") == 1


def test_what_does_not_fit_has_its_status(capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing that fits, and a row that is not possible, are told in the page and by the status."""
    assert cli.main(["sheet", "evergreen palm 3 in tall for zone 1a with blue flowers"]) == statuses.NOTHING_FITS
    assert "None of" in capsys.readouterr().out
    assert cli.main(["sheet", "evergreen screen, zone 7a", "--plan"]) == statuses.NOTHING_FITS
    assert "No plan: no length of row is said." in capsys.readouterr().out
