"""One row answered: a plain value that can be sent between processes, kept in a journal and written in any form.

An answer is {"n", "status", "why", "understood", "unread", "plants", "near", "prices"}, with details {"matches", "excluded"} too:

    plants    [{"plant", "botanical", "common", "size", "needs", "cautions", "names", "stock"}], best first
    near      the nearest misses in words, where nothing fits
    prices    [[wish, plants that miss it, plants that miss nothing else]]
    matches   [[plant's number, fit, why it stands there, what it needs]]
    excluded  [[wish, what the plants have, how far off in words or nothing, [plants' numbers]]]
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from askplant.answer.answer import Answer
from askplant.batch.composed import Composed
from askplant.desk import Desk
from askplant.errors import RequestError
from askplant.reading.reading import Reading
from askplant.render.screen import clean
from askplant.render.text import mark, missed
from askplant.render.understood import unread_words
from askplant.render.wording import Spoken, Worded

Json = dict[str, Any]

# What a row came to.
ANSWERED, NOTHING_FITS, NOT_READ, EMPTY = STATUSES = ("answered", "nothing fits", "not read", "empty")
FEW_NEAR = 3  # nearest misses told for a row that nothing fits
NO_WISH = "no wish in it was understood"


@dataclass(frozen=True, slots=True)
class Telling:
    """How much is told of each row: the best so many plants, and whether every match and every exclusion too."""

    best: int
    details: bool = False


def answered(n: int, composed: Composed, desk: Desk, telling: Telling) -> Json:
    """The answer to a row; a row that cannot be answered says why."""
    if composed.trouble:
        return _nothing(n, NOT_READ, composed.trouble)
    text = " ".join(clean(composed.text).split())
    if not text:
        return _nothing(n, EMPTY)
    try:
        reading = desk.read(text)
        if not reading.conditions:
            unread = _nothing(n, NOT_READ, NO_WISH)
            return unread | {"unread": _unread(reading)}
        return _answer(
            n, desk.answer(reading, telling.best, telling.details, noted=False, advised=False), desk, telling
        )
    except RequestError as problem:
        return _nothing(n, NOT_READ, str(problem))
    except Exception as problem:  # one row must not cost the others
        return _nothing(n, NOT_READ, f"trouble inside the program ({type(problem).__name__}: {problem})")


def _nothing(n: int, status: str, why: str = "") -> Json:
    return {
        "n": n,
        "status": status,
        "why": why,
        "understood": "",
        "unread": "",
        "plants": [],
        "near": [],
        "prices": [],
    }


def _answer(n: int, answer: Answer, desk: Desk, telling: Telling) -> Json:
    # Where the others are not told, the best alone are put into words.
    said = desk.worded(answer if telling.details else answer._replace(matches=answer.matches[: telling.best]))
    asked, units = said.asked, desk.units or answer.reading.units
    matches, excluded = said.json["matches"], said.json["excluded"]
    near = [] if matches else excluded["near"][:FEW_NEAR]
    told = {
        "n": n,
        "status": ANSWERED if matches else NOTHING_FITS,
        "why": "; ".join(said.remarks),
        "understood": in_words(answer.reading, said),
        "unread": _unread(answer.reading),
        "plants": [_plant(spoken, match) for spoken, match in zip(said.shown[: telling.best], matches, strict=False)],
        "near": [f"{one['botanical']}: {'; '.join(missed(miss, units) for miss in one['misses'])}" for one in near],
        "prices": [[asked[one["condition"]], one["misses"], one["alone"]] for one in excluded["by_condition"]],
    }
    if telling.details:
        told["matches"] = [
            [match.plant, match.fit, one["why_here"], _needs_of(one)]
            for match, one in zip(answer.matches, matches, strict=True)
        ]
        told["excluded"] = _excluded(answer, excluded["near"], units)
    return told


def _unread(reading: Reading) -> str:
    return "; ".join(unread_words(unread) for unread in reading.unread)


def in_words(reading: Reading, said: Worded) -> str:
    """The conditions in one line; wishes are marked, and contradictions stand at the end."""
    echoed = zip(reading.conditions, said.asked, strict=True)
    said_of = [f"wish: {echo}" if condition.strength == "wish" else echo for condition, echo in echoed]
    return "; ".join([*said_of, *(f"CONFLICT: {conflict.text}" for conflict in reading.conflicts)])


def _plant(spoken: Spoken, match: Json) -> Json:
    check = [f"{', '.join(spoken.to_check)}: not known"] if spoken.to_check else []
    return {
        "plant": spoken.plant,
        "botanical": spoken.botanical,
        "common": spoken.common or "",
        "size": spoken.size,
        "needs": "; ".join([*spoken.to_do, *check]),
        "cautions": " ".join(mark(caution) for caution in match["cautions"]),
        "names": " ".join(note["text"] for note in match["name_notes"]),
        "stock": spoken.stock or "",
    }


def _needs_of(match: Json) -> str:
    return "; ".join(one["how"] for one in match["verdicts"] if "how" in one)


def _excluded(answer: Answer, near: list[Json], units: Any) -> list[list[Any]]:
    """Every exclusion, plants with the same reason together: they share most of them."""
    found: dict[tuple[str, str, str], list[int]] = {}
    for one, said in zip(answer.near, near, strict=True):
        for key in _reasons(said, units):
            found.setdefault(key, []).append(one.plant)
    return [[*key, plants] for key, plants in found.items()]


def _reasons(said: Json, units: Any) -> Iterator[tuple[str, str, str]]:
    for miss in said["misses"]:
        _, _, off = missed(miss, units).rpartition(" (off by ")
        yield miss["asked"], miss["has"] or "not so", off.removesuffix(")") if miss.get("off_by") is not None else ""
