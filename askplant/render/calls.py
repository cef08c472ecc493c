"""The log of calls summed up, for whoever tends the base and the vocabulary."""

from __future__ import annotations

from collections.abc import Sequence

from askplant.render.screen import Screen, clean, padded
from askplant.sitting.calls import Summary

MOST = 15  # of each kind
PARTS = (
    ("unread", "Words that were not understood (a line in traits/vocabulary/ teaches them)"),
    ("strangers", "Plants asked for that the base has no card of"),
    ("unfitted", "Requests that nothing fitted"),
    ("dearest", "What shut out most where nothing fitted"),
    ("asked", "What was asked most"),
    ("plants", "Plants that stood first"),
)


def calls_text(found: Summary, where: str, screen: Screen) -> str:
    """The summary: first what the base and the vocabulary lack, then what was asked."""
    if not found.calls:
        return "\n".join(screen.fold(f"No calls are logged in {where}.")) + "\n"
    since = (found.since or "").replace("T", " ")
    lines = screen.fold(f"{found.calls} {'call' if found.calls == 1 else 'calls'} since {since}, from {where}")
    for name, heading in PARTS:
        lines += _part(heading, getattr(found, name), screen)
    return "\n".join(lines) + "\n"


def _part(heading: str, counted: Sequence[tuple[str, int]], screen: Screen) -> list[str]:
    if not counted:
        return []
    lines = ["", *(screen.styled(line, "bold") for line in screen.fold(heading))]
    for text, count in counted[:MOST]:
        lines += screen.fold(clean(text), padded(f"{count:>5}", 5) + "  ", " " * 9)
    left = len(counted) - MOST
    return [*lines, f"       and {left} more"] if left > 0 else lines
