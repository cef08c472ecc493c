"""An answer to read aloud: how many fit, what was not understood, the best three or what comes nearest."""

from __future__ import annotations

from askplant.reading.reading import Reading
from askplant.render.screen import clean
from askplant.render.text import Title, headline
from askplant.render.wording import Worded

FEW = 3  # plants a listener keeps in mind


def aloud(worded: Worded, reading: Reading, title: Title) -> str:
    """One line."""
    told = worded.json
    parts = [headline(told)]
    if reading.unread:
        parts.append(f"I did not understand {' or '.join(f'“{clean(unread.text)}”' for unread in reading.unread)}.")
    parts += [conflict.text for conflict in reading.conflicts]
    parts += worded.considered
    parts += worded.remarks
    parts += [spoken.aloud for spoken in worded.shown[:FEW]]
    if not told["matches"]:
        parts += list(worded.tensions[:1])
        parts += [_compromise(one, title) for one in told["loosen"][:1]]
    if told["ask_back"]:
        parts.append(told["ask_back"][0]["question"])
    return " ".join(_stopped(part) for part in parts)


def _compromise(one: dict[str, object], title: Title) -> str:
    changes = " and ".join(f"{change['to']} instead of {change['from']}" for change in one["changes"])  # type: ignore[attr-defined]
    plants = one["plants"]
    assert isinstance(plants, list)
    names = [title(plant) for plant in plants[:FEW]]
    return f"With {changes} there would be {', '.join(names)}"


def _stopped(sentence: str) -> str:
    return sentence if sentence.endswith((".", "?", "!")) else f"{sentence}."
