"""An answer to read aloud: how many fit, what was not understood, the best three or what comes nearest."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from askplant.quantities.lengths import Units, say, say_range
from askplant.reading.reading import Reading
from askplant.render.screen import clean
from askplant.render.text import Title, headline
from askplant.render.wording import Spoken, Worded

# A plant that goes on to so many times its grown height is one to warn of.
GOES_ON = 1.5
UNITS = {
    "ft": ("foot", "feet"),
    "in": ("inch", "inches"),
    "m": ("meter", "meters"),
    "cm": ("centimeter", "centimeters"),
}
FEW = 3  # plants a listener keeps in mind


def aloud(worded: Worded, reading: Reading, title: Title) -> str:
    """One line."""
    told = worded.json
    parts = [headline(worded)]
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


def brief(worded: Worded, title: Title, units: Units) -> str:
    """One or two sentences on the first plant that fits, or on what a small change would bring in."""
    told = worded.json
    if worded.shown:
        return of_plant(worded.shown[0], told["matches"][0], units)
    if told["loosen"]:
        return f"Nothing fits all of that. {_stopped(_compromise(told['loosen'][0], title))}"
    return "Nothing fits all of that, and no small change would help: which of the wishes matters least?"


def of_plant(spoken: Spoken, match: dict[str, Any], units: Units) -> str:
    """A plant's common name and honest size; then the one thing to know, and the caution if there is one."""
    said = f"{_capital(spoken.common or spoken.botanical)} {_size(match['size'], units)}."
    know = spoken.to_do[0] if spoken.to_do else spoken.drawback or spoken.virtue
    if not spoken.to_do and spoken.drawback and spoken.remedy:
        know = f"{spoken.drawback}; {spoken.remedy}"
    parts = [know] if know else []
    parts += [f"{'and mind' if parts else 'mind'}: {spoken.careful[0]}"] if spoken.careful else []
    return f"{said} {_capital('; '.join(parts))}." if parts else said


def _size(size: dict[str, Any], units: Units) -> str:
    """Height and width as grown, with what it goes on to where that is half as much again."""
    height, width = size["height"], size["width"]
    tall, wide = height["grown"] or height["label"], width["grown"] or width["label"]
    if not tall:
        return "is of a height the base does not know"
    said = f"grows {spoken_range(tall, units)} tall"
    said += (
        f" and {spoken_range(wide, units)} wide"
        if wide and list(wide) != list(tall)
        else " and as wide"
        if wide
        else ""
    )
    if height["old"] and height["old"] >= GOES_ON * tall[1]:
        said += f", and on to {_aloud(say(height['old'], units))} when old"
    return said


def spoken_range(range_: Sequence[float], units: Units) -> str:
    """A range as it is said: `5 to 8 feet`."""
    return _aloud(say_range(range_[0], range_[1], units))


def _aloud(length: str) -> str:
    number, _, unit = length.replace("–", " to ").rpartition(" ")
    one = number == "1"
    return f"{number} {(UNITS[unit][0] if one else UNITS[unit][1])}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _compromise(one: dict[str, object], title: Title) -> str:
    changes = " and ".join(f"{change['to']} instead of {change['from']}" for change in one["changes"])  # type: ignore[attr-defined]
    plants = one["plants"]
    assert isinstance(plants, list)
    names = [title(plant) for plant in plants[:FEW]]
    return f"With {changes} there would be {', '.join(names)}"


def _stopped(sentence: str) -> str:
    return sentence if sentence.endswith((".", "?", "!")) else f"{sentence}."
