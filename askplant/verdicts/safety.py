"""Poison, spread and origin: what a plant may do to people, animals and the wild, and where it belongs."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from askplant.reading.reading import Condition
from askplant.verdicts.logic import best, worst
from askplant.verdicts.verdict import UNKNOWN, Advice, Fact, Judgement, Site, care, meets, misses, words

# Whose poisoning counts for whom the caller names. Lists for livestock are read for horses too.
COUNTS_FOR = {
    "dogs": {"dogs"},
    "cats": {"cats"},
    "horses": {"horses", "livestock"},
    "children": {"people"},
}
SAFE = "none known"
# States and provinces by level-2 region of the World Geographical Scheme for Recording Plant Distributions, 2nd
# edition, 2001.
REGIONS = {
    "70": "AK YT NT NU GL",
    "71": "AB BC MB SK",
    "72": "NB NL NS ON PE QC",
    "73": "CO ID MT OR WA WY",
    "74": "IL IA KS MN MO NE ND OK SD WI",
    "75": "CT IN ME MA MI NH NJ NY OH PA RI VT WV",
    "76": "AZ CA NV UT",
    "77": "NM TX",
    "78": "AL AR DE DC FL GA KY LA MD MS NC SC TN VA",
}
REGION_OF = {code: region for region, codes in REGIONS.items() for code in codes.split()}
_CODE = re.compile(r"\b[A-Z]{2}\b")
_NORTH_AMERICA = frozenset(REGION_OF) | frozenset(REGIONS)


def judge_safe_for(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Safe for each one named, against [[who, severity, parts], … , thorns]."""
    return worst(_safe_for(str(who), value[0], value[1]) for who in condition.values)


def _safe_for(who: str, poison: Sequence[Sequence[str]] | None, thorns: Any) -> Judgement:
    if poison is None:
        return UNKNOWN
    said = [tuple(entry) for entry in poison if entry[0] in COUNTS_FOR.get(who, {who})]
    harms = tuple(entry for entry in said if SAFE not in entry)
    if harms:
        return misses(Fact("poison", harms))
    if not said and not any(entry[0] == SAFE for entry in poison):
        return UNKNOWN._replace(has=Fact("poison", tuple(tuple(entry) for entry in poison)))
    thorny = (thorns[0] if isinstance(thorns, list) and thorns else thorns) == "present"
    return (
        care(words("thorns"), Advice("safe_for.thorns"))
        if who == "children" and thorny
        else meets(words("not listed as poisonous"))
    )


def judge_native(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Native to the place named, or to the site, or else to the US or Canada, against [codes]."""
    if not value[0]:
        return UNKNOWN
    return best(_native(_place(str(asked), site), set(value[0])) for asked in condition.values)


def _place(asked: str, site: Site) -> str | None:
    if asked != "yes":
        return asked.upper()
    return code_of(site.place)


def code_of(place: str | None) -> str | None:
    """The state, province or region code in a place as it was said; None where there is none."""
    code = (place or "").strip().upper()
    return code if code in _NORTH_AMERICA else None


def _native(place: str | None, codes: set[str]) -> Judgement:
    has = Fact("places", tuple(sorted(codes)))
    if place is None:
        return meets(has) if codes & _NORTH_AMERICA else misses(has)
    if place in codes:
        return meets(has)
    around = REGION_OF.get(place)
    if around in codes or (place in REGIONS and codes & set(REGIONS[place].split())):
        return meets(has, 0.6)
    return misses(has)


def judge_invasive(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Will not take over, against [where it is listed, suckers]."""
    return worst((_listed(value[0], code_of(site.place)), _spreads(value[1])))


def _listed(text: str | None, place: str | None) -> Judgement:
    if text is None:
        return UNKNOWN
    if not listed_anywhere(text):
        return meets(words("not listed as invasive"))
    has = Fact("listed", (text,))
    if place is None or place in places_listed(text):
        return misses(has)
    return care(has, Advice("invasive.elsewhere"))


def listed_anywhere(text: str | None) -> bool:
    """Whether the card says anything but no."""
    return bool(text) and not str(text).lower().startswith("no")


def places_listed(text: str) -> tuple[str, ...]:
    """State and province codes in what the card says of where it is listed."""
    return tuple(code for code in _CODE.findall(text) if code in REGION_OF)


def _spreads(suckers: str | None) -> Judgement:
    if suckers == "many":
        return misses(words("many suckers"))
    return care(words("some suckers"), Advice("suckers.no")) if suckers == "some" else meets(None)
