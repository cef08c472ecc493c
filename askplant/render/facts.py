"""What a plant has, in words: one wording for each kind of fact a judge finds."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from askplant.quantities import zones
from askplant.quantities.lengths import Units, say, say_range
from askplant.quantities.months import say_months
from askplant.render.asked import USES
from askplant.render.screen import clean
from askplant.verdicts.verdict import Fact

# What a use is derived from where the trade does not state it.
DERIVED = {
    "tree": "a tree",
    "tall tree": "a tall tree",
    "size": "its size allows it",
    "low enough": "its size allows it",
    "dense": "it is dense",
    "dense evergreen": "it is a dense evergreen",
    "evergreen": "it is evergreen",
    "hedge": "used for hedges",
    "screen": "used for screens",
    "ground cover": "used as a ground cover",
    "shade tree": "used as a shade tree",
    "vine": "a vine",
    "weeping": "a weeping form",
    "well-behaved roots": "its roots are well-behaved",
    "moderate roots": "its roots are no worse than most",
}
# Traits whose grades say nothing without them.
NOUNS = {"flower": "flowers", "fruit": "fruit", "litter": "litter", "roots": "roots"}
# More places than this are counted, not listed.
PLACES_LISTED = 8
# Level-2 regions of the World Geographical Scheme for Recording Plant Distributions, 2nd edition, TDWG 2001.
REGIONS = {
    "10": "northern Europe",
    "11": "middle Europe",
    "12": "southwestern Europe",
    "13": "southeastern Europe",
    "14": "eastern Europe",
    "20": "northern Africa",
    "27": "southern Africa",
    "30": "Siberia",
    "31": "the Russian Far East",
    "32": "middle Asia",
    "33": "the Caucasus",
    "34": "western Asia",
    "36": "China",
    "37": "Mongolia",
    "38": "eastern Asia",
    "40": "the Indian subcontinent",
    "41": "Indo-China",
    "42": "Malesia",
    "50": "Australia",
    "51": "New Zealand",
    "70": "subarctic America",
    "71": "western Canada",
    "72": "eastern Canada",
    "73": "the northwestern US",
    "74": "the north-central US",
    "75": "the northeastern US",
    "76": "the southwestern US",
    "77": "the south-central US",
    "78": "the southeastern US",
    "79": "Mexico",
    "80": "Central America",
    "81": "the Caribbean",
    "82": "northern South America",
    "83": "western South America",
    "84": "Brazil",
    "85": "southern South America",
}


def stated(fact: Fact | None, units: Units, trait: str | None = None) -> str | None:
    """What the plant has, in words; with what it is a grade of, where the grade of a `trait` does not say it ("showy fruit")."""
    if fact is None:
        return None
    said = _WORDINGS[fact.kind](fact.values, units)
    noun = NOUNS.get(trait or "") if fact.kind == "words" and " " not in str(fact.values[-1]) else None
    return f"{'no' if noun and said == 'none' else said} {noun}" if noun else said


def _words(values: Sequence[Any], _: Units) -> str:
    return ", ".join(str(value) for value in values)


def _size(values: Sequence[Any], units: Units) -> str:
    axis, basis, low, high = values
    said = "sold as" if basis == "label" else basis
    return f"{said} {'width ' if axis == 'width' else ''}{say_range(low, high, units)}"


def _zones(values: Sequence[Any], _: Units) -> str:
    cold, shelter, warm = values
    parts = []
    if cold is not None:
        parts.append(f"hardy to zone {zones.name(cold)}")
    if shelter is not None:
        parts.append(
            f"to {zones.name(shelter)} in shelter"
            if cold is not None
            else f"hardy to zone {zones.name(shelter)} in shelter"
        )
    if warm is not None:
        parts.append(f"good to {zones.name(warm)}")
    return ", ".join(parts)


def _months(values: Sequence[Any], _: Units) -> str:
    return f"blooms {say_months(values)}"


def _ph(values: Sequence[Any], _: Units) -> str:
    return f"pH {values[0]:g}–{values[1]:g}"


def _heat(values: Sequence[Any], _: Units) -> str:
    return f"heat zones {values[0]:g}–{values[1]:g}"


def _growth(values: Sequence[Any], units: Units) -> str:
    word, low, high = values
    return f"{word}, {say_range(low, high, units)} a year"


def _form(values: Sequence[Any], _: Units) -> str:
    forms, slim = values
    shape = ", ".join(forms)
    width = f"{slim:.1f} times as wide as high" if slim is not None else ""
    return ", ".join(part for part in (shape, width) if part)


def _drought(values: Sequence[Any], _: Units) -> str:
    return {"tolerant": "drought tolerant", "moderate": "stands short drought", "sensitive": "no drought"}[values[0]]


def _uses(values: Sequence[Any], _: Units) -> str:
    return f"used for {', '.join(values)}"


def _derived(values: Sequence[Any], _: Units) -> str:
    return DERIVED.get(values[0], str(values[0]))


def _poison(values: Sequence[Any], _: Units) -> str:
    said = [f"{who} ({severity}{': ' + parts if parts else ''})" for who, severity, parts in values]
    return f"poisonous to {'; '.join(said)}"


def _places(values: Sequence[Any], _: Units) -> str:
    return f"native to {places(values)}"


def places(codes: Iterable[str]) -> str:
    """Codes of places in words: states and provinces by their codes, or counted; regions elsewhere by name."""
    found = sorted(codes)
    here = [code for code in found if not code.isdigit()]
    elsewhere = [REGIONS.get(code, "elsewhere") for code in found if code.isdigit()]
    if len(here) > PLACES_LISTED:
        here = [f"{len(here)} states and provinces"]
    return ", ".join(dict.fromkeys(here + elsewhere))


def _kin(values: Sequence[Any], _: Units) -> str:
    return f"of {' or '.join(map(str, values))}"


def _no_kin(values: Sequence[Any], _: Units) -> str:
    return f"not of {' or '.join(map(str, values))}"


def _like(values: Sequence[Any], _: Units) -> str:
    return f"like {values[0]}"


def _middle(values: Sequence[Any], units: Units) -> str:
    axis, plant, name, pattern = values
    dimension = "wide" if axis == "width" else "tall"
    return f"about {say(plant, units)} {dimension}, against {say(pattern, units)} for {name}"


def _stock(values: Sequence[Any], _: Units) -> str:
    return offered(values) if values else "not in stock"


def offered(offers: Iterable[Any]) -> str:
    """What there is of a plant: `#3 at 24.50 (12 there); #7 (number not given)`."""
    return "; ".join(_offer(offer) for offer in offers)


def _offer(offer: Any) -> str:
    price = f"at {offer.price:.2f}" if offer.price is not None else ""
    there = f"({offer.quantity} there)" if offer.quantity is not None else "(number not given)"
    return " ".join(part for part in (clean(offer.container), price, there) if part)


_WORDINGS: dict[str, Callable[[Sequence[Any], Units], str]] = {
    "words": _words,
    "text": _words,
    "listed": lambda values, _: f"listed: {values[0]}",
    "size": _size,
    "zones": _zones,
    "months": _months,
    "ph": _ph,
    "heat": _heat,
    "growth": _growth,
    "form": _form,
    "drought": _drought,
    "use": lambda values, _: f"planted for {USES.get(values[0], values[0])}",
    "uses": _uses,
    "derived": _derived,
    "poison": _poison,
    "places": _places,
    "kin": _kin,
    "no kin": _no_kin,
    "like": _like,
    "middle": _middle,
    "stock": _stock,
}
