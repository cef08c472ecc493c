"""What a plant asks of its owner: pests, and care as a whole."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from askplant.reading.reading import Condition
from askplant.verdicts.verdict import UNKNOWN, Advice, Fact, Judgement, Site, care, meets, misses, words

# Pests and diseases that kill, or that spoil the plant most years; others are looked after. Common practice.
GRAVE = (
    "blight",
    "wilt",
    "canker",
    "borer",
    "adelgid",
    "bagworm",
    "root rot",
    "decline",
    "scab",
    "oak wilt",
    "phytophthora",
    "rosette",
)
# "Resists fire blight" is no trouble.
RESISTS = ("resist", "little bothered", "seldom", "immune")
# Burdens that make a plant one that wants care: this many are too many, fewer known ones than this say nothing.
TOO_MANY = 2
LEAST_KNOWN = 2


def is_few(pests: str) -> bool:
    """Whether the card says that little troubles it."""
    return pests.strip().lower().startswith(("few", "none"))


def gravest(pests: str) -> str | None:
    """The first pest of a card that kills or disfigures, if it names one."""
    named = [part.strip() for part in re.split("[,;]", pests)]
    troubled = [part for part in named if not any(word in part.lower() for word in RESISTS)]
    return next((part for part in troubled if any(word in part.lower() for word in GRAVE)), None)


def judge_pests(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Few pests and diseases, against [text, most serious first]."""
    text = value[0]
    if not text:
        return UNKNOWN
    if is_few(text):
        return meets(words("few pests"))
    has = Fact("text", (text,))
    return misses(has) if gravest(text) else care(has, Advice("pests.some", (), (text.split(",")[0].strip(),)))


def judge_care(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Low maintenance, against [pests, litter, growth, drought, suckers]: one burden is looked after, two are care."""
    known = sum(part is not None for part in value[:5])
    found = burdens(value)
    if len(found) >= TOO_MANY:
        return misses(words(found), len(found) / 5)
    if found:
        return care(words(found), Advice("care.one", (), (found[0],)))
    return meets(words("few demands"), known / 5) if known >= LEAST_KNOWN else UNKNOWN


def burdens(value: Sequence[Any]) -> tuple[str, ...]:
    """What there is to do about it, in words."""
    pests, litter, growth, drought, suckers = value[:5]
    grave = gravest(pests) if pests and not is_few(pests) else None
    found = [
        grave,
        "heavy litter" if litter == "high" else None,
        "fast growth to keep up with" if growth == "fast" else None,
        "watering in dry spells" if drought == "sensitive" else None,
        "suckers to cut" if suckers == "many" else None,
    ]
    return tuple(one for one in found if one)
