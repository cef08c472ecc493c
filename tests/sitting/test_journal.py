"""What is kept on the disk opens as it was, whatever tore the file."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from askplant.base.opened import Base
from askplant.errors import UserError
from askplant.reading.read import read
from askplant.sitting import journal
from askplant.sitting.journal import Journal, left_open, opened, references, state_told
from askplant.sitting.state import State

REQUESTS = [
    json.loads(line)["text"]
    for line in (Path(__file__).parent.parent / "requests/spoken.jsonl").read_text(encoding="utf-8").splitlines()[:120]
]


def test_every_reading_opens_as_it_was(real_base: Base, tmp_path: Path) -> None:
    """Readings of all sorts of requests, some conditions off."""
    kept = Journal(tmp_path)
    states = [State(read(text, real_base), line=text) for text in REQUESTS]
    states = [state.switched(1, on=False) if state.reading.conditions else state for state in states]
    for state in states:
        kept.add("state", **state_told(state))
    assert kept.path is not None
    assert opened(kept.path).past.states == tuple(states)


def test_back_forward_and_the_list(real_base: Base, tmp_path: Path) -> None:
    """Undo and redo are told as they happened; the list as it was last."""
    kept = Journal(tmp_path)
    one, two = (State(read(text, real_base), line=text) for text in ("evergreen", "fern"))
    for state in (one, two):
        kept.add("state", **state_told(state))
    kept.add("undo")
    kept.add("shortlist", plants=[["ilex-glabra", ""], ["ilex-opaca", "by the gate"]])
    assert kept.path is not None
    found = opened(kept.path)
    assert found.past.now == one
    assert found.past.redone().now == two
    assert found.shortlist.plants[1].note == "by the gate"


@pytest.mark.parametrize(
    "tail", [b"{", b'{"happened":"state"', b"\xff\xfe\x00", b'{"happened":"state","line":"x"}', b"[]"]
)
def test_a_torn_end_costs_only_itself(real_base: Base, tmp_path: Path, tail: bytes) -> None:
    """What was whole is there, and what is added later too."""
    kept = Journal(tmp_path, "A-1")
    kept.add("state", **state_told(State(read("evergreen", real_base))))
    kept.close()
    assert kept.path is not None
    with kept.path.open("ab") as stream:
        stream.write(tail)
    again = Journal(tmp_path, "A-1")
    again.add("state", **state_told(State(read("fern", real_base))))
    states = opened(kept.path).past.states
    assert [state.reading.request for state in states] == ["evergreen", "fern"]


def test_only_its_owner_reads_it(tmp_path: Path) -> None:
    """The file, and the folder that is made for it."""
    kept = Journal(tmp_path / "state" / "sittings")
    kept.add("opened")
    assert kept.path is not None
    assert kept.path.stat().st_mode & 0o777 == 0o600
    assert kept.path.parent.stat().st_mode & 0o077 == 0


def test_under_a_reference(tmp_path: Path) -> None:
    """The file is renamed and goes on; a reference that is taken, or is none, is refused."""
    kept = Journal(tmp_path)
    kept.add("opened")
    kept.rename("A-1204")
    kept.add("undo")
    assert kept.reference == "A-1204"
    assert [name for name, _ in references(tmp_path)] == ["A-1204"]
    assert len((tmp_path / "A-1204.jsonl").read_text().splitlines()) == 3
    other = Journal(tmp_path)
    for reference in ("A-1204", "../x", "a b", "", "unnamed-1", ".x", "x" * 41):
        with pytest.raises(UserError):
            other.rename(reference)


def test_open_in_one_program_at_a_time(tmp_path: Path) -> None:
    """A second one is told so, and writes nothing."""
    first = Journal(tmp_path, "A-1")
    first.add("opened")
    with pytest.raises(UserError, match="open elsewhere"):
        Journal(tmp_path, "A-1").add("opened")
    first.close()
    Journal(tmp_path, "A-1").add("opened")


def test_what_was_left_open(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The newest one without a reference that no program holds; of old ones a few are kept."""
    assert left_open(tmp_path) is None
    held = Journal(tmp_path)
    held.add("opened")
    assert left_open(tmp_path) is None
    held.close()
    assert left_open(tmp_path) == held.name
    monkeypatch.setattr(journal, "MOST_UNNAMED", 3)
    for number in range(6):
        one = Journal(tmp_path, f"unnamed-{number}")
        one.add("opened")
        one.close()
    left_open(tmp_path)
    assert len(references(tmp_path)) == 3


def test_nowhere_to_keep_it() -> None:
    """Without a folder nothing is written, and that is said when a reference is asked for."""
    kept = Journal(None)
    kept.add("opened")
    assert kept.path is None
    with pytest.raises(UserError, match="ASKPLANT_STATE"):
        kept.rename("A-1")


def test_no_such_sitting(tmp_path: Path) -> None:
    """Said by its name."""
    with pytest.raises(UserError, match="no sitting A-9"):
        opened(tmp_path / "A-9.jsonl")
