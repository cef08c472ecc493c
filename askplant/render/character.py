"""One virtue, one drawback and what to do about it: the card's own words, else what its values say most plainly."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

Card = Mapping[str, Any]


class Character(NamedTuple):
    """A plant in three clauses; None where the base has nothing to say."""

    virtue: str | None
    drawback: str | None
    remedy: str | None


# (trait, value of the card, clause), the most telling first.
VIRTUES = (
    ("winter_interest", None, "{v}"),
    ("fragrance", "yes", "fragrant"),
    ("deer", "rarely damaged", "deer rarely touch it"),
    ("persistence", "evergreen", "green all winter"),
    ("fall_colour", None, "{v} in fall"),
    ("drought", "tolerant", "takes drought once established"),
    ("pests", "few", "few pests"),
    ("longevity", "long", "long-lived"),
    ("flower", "showy", "showy in flower"),
)
# (trait, value, clause, what to do about it), the gravest first. Common practice.
DRAWBACKS = (
    ("breakage", "weak", "breaks in ice and gusts", "plant it away from the house and train one leader"),
    ("roots", "aggressive", "its roots seek drains and lift paving", "keep it well away from pipes and pavement"),
    ("deer", "frequently severely damaged", "deer eat it", "fence it or spray a repellent"),
    ("thorns", "present", "thorny", "keep it back from paths and prune in gloves"),
    ("suckers", "many", "suckers freely", "mow around it or sink a barrier"),
    ("litter", "high", "drops much litter", "keep it off paving and cars"),
    ("drought", "sensitive", "suffers in drought", "mulch it and water it in dry spells"),
    ("longevity", "short", "short-lived", "plan on replacing it"),
    ("deer", "occasionally severely damaged", "deer browse it at times", "protect it in hard winters"),
    ("growth", "slow", "slow", "start with larger plants"),
)
_NOTHING = ("no", "none", "few")


def character(card: Card) -> Character:
    """The three clauses of a plant from its resolved values."""
    drawback, remedy = _drawback(card)
    return Character(_text(card, "virtue") or _virtue(card), drawback, remedy)


def _text(card: Card, trait: str) -> str | None:
    return card[trait].text or None if trait in card else None


def _virtue(card: Card) -> str | None:
    for trait, wanted, clause in VIRTUES:
        text = _text(card, trait)
        if text and (text == wanted or (wanted is None and not text.startswith(_NOTHING))):
            return clause.format(v=text.replace("; ", " and "))
    return None


def _drawback(card: Card) -> tuple[str | None, str | None]:
    own = _text(card, "drawback")
    if own:
        return own, _text(card, "remedy")
    for trait, value, clause, remedy in DRAWBACKS:
        if _text(card, trait) == value:
            return clause, remedy
    pests = _text(card, "pests")
    if pests and not pests.startswith(_NOTHING):
        return pests.split(",")[0], "watch for it and ask the extension office what to do"
    return None, None
