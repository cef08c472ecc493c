"""The log of calls: appended, private, and summed up."""

from __future__ import annotations

from pathlib import Path

from askplant.render.calls import calls_text
from askplant.render.screen import Screen
from askplant.sitting.calls import Call, add, calls, summary


def call(request: str, **told: object) -> Call:
    """A call of so many plants that fit."""
    known = {
        "at": "2026-11-29T10:00:00",
        "request": request,
        "asked": (),
        "fit": 3,
        "plants": ("ilex-glabra",),
        "unread": (),
    }
    return Call(**(known | told))  # type: ignore[arg-type]


def test_what_is_added_is_there(tmp_path: Path) -> None:
    """In order; for its owner alone; a torn or foreign line costs only itself."""
    path = tmp_path / "state" / "calls.jsonl"
    one, two = call("evergreen"), call("fern", unread=("flooby",), fit=0, dearest="zone 3a")
    add(path, one)
    with path.open("a") as stream:
        stream.write('{"at": 1}\nnonsense\n')
    add(path, two)
    assert calls(path) == [one, two]
    assert path.stat().st_mode & 0o777 == 0o600
    assert calls(tmp_path / "none") == []


def test_summed_up() -> None:
    """Counts, the most frequent first; words without their case."""
    found = summary(
        [
            call("a", unread=("Flooby", "x"), asked=("evergreen",)),
            call("b", unread=("flooby",), asked=("evergreen", "zone 7")),
            call("c", fit=0, plants=(), dearest="zone 3a", strangers=("baobab",)),
        ]
    )
    assert found.unread == (("flooby", 2), ("x", 1))
    assert found.strangers == (("baobab", 1),)
    assert found.unfitted == (("c", 1),)
    assert found.dearest == (("zone 3a", 1),)
    assert found.asked[0] == ("evergreen", 2)


def test_told() -> None:
    """What is lacking comes first; nothing logged is said."""
    text = calls_text(summary([call("a", unread=("flooby\x1b[31m",), asked=("evergreen",))]), "FILE", Screen(60))
    assert text.index("not understood") < text.index("asked most")
    assert "\x1b" not in text
    assert "No calls are logged in FILE" in calls_text(summary([]), "FILE", Screen(60))
