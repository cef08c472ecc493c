"""What was asked, echoed in a few words: "at most 4 ft wide", "zone 7a–7b", "deer: at least seldom severely
damaged".
"""

from __future__ import annotations

from collections.abc import Sequence

from askplant.quantities.lengths import Units, say, say_range
from askplant.quantities.months import say_months
from askplant.reading.reading import Condition
from askplant.verdicts.seasons import months_of

AXIS = {"height": ("height", "tall"), "size": ("height", "tall"), "width": ("width", "wide")}
# How the values of a trait are said; `{v}` is the values joined by "or".
SAID = {
    "leaf_colour": "{v} leaves",
    "fall_colour": "{v} fall color",
    "growth": "{v} growth",
    "soil": "{v} soil",
    "ph": "{v} soil",
    "moisture": "{v} ground",
    "flower_colour": "{v} flowers",
    "style": "{v} style",
    "wildlife": "for {v}",
    "use": "for {v}",
    "like": "like {v}",
}
# Whole wordings of single values.
WHOLE = {
    ("fall_colour", "any"): "fall color",
    ("drought", "tolerant"): "drought tolerant",
    ("salt", "tolerant"): "salt tolerant",
    ("wind", "tolerant"): "wind tolerant",
    ("pollution", "tolerant"): "tolerant of city air",
    ("juglone", "tolerant"): "tolerant of black walnut",
    ("fire", "tolerant"): "slow to burn",
    ("breakage", "tolerant"): "strong under snow and ice",
    ("heat", "tolerant"): "heat tolerant",
    ("roots", "well-behaved"): "well-behaved roots",
    ("suckers", "no"): "no suckers",
    ("flower", "showy"): "showy flowers",
    ("flower", "none"): "no flowers",
    ("winter_interest", "yes"): "winter interest",
    ("fragrance", "yes"): "fragrant",
    ("fruit", "showy"): "showy fruit",
    ("fruit", "edible"): "edible fruit",
    ("fruit", "none"): "no fruit to clean up",
    ("pollination", "self-fruitful"): "fruits on its own",
    ("native", "yes"): "native",
    ("pollen", "low"): "little pollen",
    ("longevity", "long"): "long-lived",
    ("shearing", "yes"): "takes clipping",
    ("thorns", "none"): "no thorns",
    ("thorns", "present"): "thorny",
    ("litter", "low"): "little litter",
    ("invasive", "no"): "not invasive",
    ("care", "low"): "low maintenance",
    ("pests", "low"): "few pests",
    ("stock", "in"): "in stock",
}

# Uses with their articles.
USES = {
    "screen": "a screen",
    "hedge": "a hedge",
    "windbreak": "a windbreak",
    "foundation": "the foundation",
    "specimen": "a specimen",
    "container": "a container",
    "bank": "a bank",
    "street": "the street",
    "rain garden": "a rain garden",
    "trellis": "a trellis",
    "border": "a border",
    "poolside": "the poolside",
}


def asked(condition: Condition, units: Units) -> str:
    """One condition in a few words, in the caller's units."""
    said = _said(condition, units)
    return f"not {said}" if condition.test == "none_of" else said


def _said(condition: Condition, units: Units) -> str:
    trait = condition.trait
    if trait in AXIS:
        return _size(condition, units)
    if trait == "zone":
        return _zone([str(value) for value in condition.values])
    if trait in ("deer", "rabbit"):
        return f"{trait}: {_scaled(condition)}"
    if trait == "bloom":
        return f"in bloom {say_months(months_of(condition.values))}"
    places = [value for value in condition.values if value != "yes"]
    if trait == "native" and places:
        return f"native to {joined(places)}"
    if trait == "safe_for":
        return f"safe for {joined(condition.values, 'and')}"
    if trait == "ph" and not condition.values:
        return f"pH {_numbers(condition)}"
    if trait == "like" and condition.than:
        return f"like {joined(condition.values)} but {condition.than}"
    return _values(condition)


def _values(condition: Condition) -> str:
    whole = [WHOLE.get((condition.trait, str(value))) for value in condition.values]
    if whole and all(whole):
        return joined([text for text in whole if text])
    values = [USES.get(str(value), value) if condition.trait == "use" else value for value in condition.values]
    said = SAID.get(condition.trait, "{v}").format(v=joined(values))
    if condition.test in ("at_least", "at_most"):
        return f"{condition.test.replace('_', ' ')} {said}"
    return said


def _size(condition: Condition, units: Units) -> str:
    """Height 10–15 ft, at most 4 ft wide, about 5 ft tall; size words with their bounds."""
    name, dimension = AXIS[condition.trait]
    low, high = condition.minimum, condition.maximum
    basis = {"label": "sold as ", "held": "kept to "}.get(condition.basis or "", "")
    if condition.trait == "size":
        bounds = f" ({_bounds(low, high, units)} tall)" if low is not None or high is not None else ""
        return f"{joined(condition.values)}{bounds}"
    if condition.test == "about" and low is not None and (high is None or high == low):
        return f"{basis}about {say(low, units)} {dimension}"
    if low is not None and high is not None and condition.test not in ("at_most", "at_least"):
        about = "about " if condition.test == "about" else ""
        name = "" if basis else f"{name} "
        return f"{basis}{name}{about}{say_range(low, high, units)}"
    if condition.test == "at_most":
        return f"{basis}at most {say(high if high is not None else low or 0.0, units)} {dimension}"
    if condition.test == "at_least":
        return f"{basis}at least {say(low if low is not None else high or 0.0, units)} {dimension}"
    return f"{basis}{_bounds(low, high, units)} {dimension}"


def _bounds(low: float | None, high: float | None, units: Units) -> str:
    if low is not None and high is not None:
        return say_range(low, high, units)
    if high is not None:
        return f"at most {say(high, units)}"
    return f"at least {say(low, units)}" if low is not None else "any height"


def _zone(names: Sequence[str]) -> str:
    return f"zone {names[0]}" if len(names) == 1 else f"zone {names[0]}–{names[-1]}"


def _scaled(condition: Condition) -> str:
    test = "at most" if condition.test == "at_most" else "at least"
    return f"{test} {joined(condition.values)}"


def _numbers(condition: Condition) -> str:
    low, high = condition.minimum, condition.maximum
    if low is not None and high is not None and low != high:
        return f"{low:g}–{high:g}"
    return f"{low if low is not None else high:g}"


def joined(values: Sequence[object], word: str = "or") -> str:
    """A, B or C."""
    said = [str(value) for value in values]
    return said[0] if len(said) == 1 else f"{', '.join(said[:-1])} {word} {said[-1]}" if said else ""
