"""The figures of the rules of care as sentences say them, in either system."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from askplant.care import thirds
from askplant.care.rules import Rules
from askplant.care.site import CareSite
from askplant.quantities import quantity
from askplant.quantities.lengths import INCH, Units, say_range

# Liters to a US gallon, and the trunk that a metric dose is told of, m.
GALLON, TRUNK = 3.785, 0.025
# Lengths in metres from which on a metric figure goes by steps of so much, m.
SPADE, STEP = 0.2, 0.05
SOFT_DOSE = "enough to wet the soil as deep as the roots"
_NUMBERS = ("", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_TIMES = ("", "once", "twice")
# Rules whose sentences say a figure of another one: by code, the rule.
ELSEWHERE = {
    "water.often": "water.daily",
    "water.dry_first": "water.daily",
    "water.dry_often": "water.daily",
    "water.sensitive": "water.later",
    "water.moderate": "water.later",
    "water.tolerant": "water.later",
}


def figures(code: str, words: Sequence[str], rules: Rules, site: CareSite, units: Units) -> dict[str, str]:
    """What the sentence of a task may say of its rule, by placeholder."""
    fields = {**_fields(ELSEWHERE.get(code), rules), **_fields(code, rules)}
    found: dict[str, str] = {}
    for name, said in (("depth", fields.get("depth")), ("rise", fields.get("rise"))):
        if said is not None:
            found[name] = length(said, units)
    if "amount" in fields:
        found["amount"] = amount(fields["amount"], units)
    if "weeks" in fields:
        first, last = fields["weeks"]
        found |= {"weeks": _count(last - first + 1, "week"), "week": number(last)}
    if "days" in fields:
        found["days"] = _every(fields["days"])
    if "times" in fields:
        found["times"] = _range(fields["times"], times)
    if "gallons" in fields:
        found["dose"] = dose(words, fields, units)
    rule = rules.rules.get(code)
    if rule is not None and rule.until is not None:
        found["until"] = thirds.say(rule.until)
    bare = rules["planting.bare_root"].end
    assert bare is not None
    return found | {"bare": thirds.say(site.edge(bare) % thirds.YEAR)}


def _fields(code: str | None, rules: Rules) -> dict[str, Any]:
    return dict(rules[code].fields) if code in rules.rules else {}


def length(said: str, units: Units) -> str:
    """`2–3 in` or `5–8 cm`; `60–90 cm`, no closer than a spade is."""
    low, high = quantity.parse_length(said)
    if units == "metric" and low >= SPADE:
        low, high = (round(end / STEP) * STEP for end in (low, high))
    return say_range(low, high, units)


def amount(said: str, units: Units) -> str:
    """How deep rain or water is: `an inch`, `2 inches`, `25 mm`."""
    metres = quantity.parse_length(said)[1]
    if units == "metric":
        return f"{metres * 1000:.0f} mm"
    inches = metres / INCH
    return "an inch" if round(inches, 2) == 1 else f"{inches:.2g} inches"


def dose(words: Sequence[str], fields: dict[str, Any], units: Units) -> str:
    """How much a plant is given at once: by its trunk, by its pot, or by its roots."""
    low, high = fields["gallons"]
    of_trunk = f"{low:g}–{high:g} gallons for each inch of trunk"
    if units == "metric":
        of_inch = GALLON * TRUNK / INCH
        of_trunk = f"{low * of_inch:.0f}–{high * of_inch:.0f} liters for each {TRUNK * 100:g} cm of trunk"
    of_pot = f"{fields['pot']} of its pot"
    told = {"trunk": of_trunk, "pot": of_pot, "trunk or pot": f"{of_trunk}, for a shrub {of_pot}"}
    return told.get(words[0] if words else "", SOFT_DOSE)


def number(count: float) -> str:
    """A small whole number as a word."""
    return _NUMBERS[int(count)] if 0 < count < len(_NUMBERS) and count == int(count) else f"{count:g}"


def times(count: float) -> str:
    """`once`, `twice`, `three times`."""
    return _TIMES[int(count)] if 0 < count < len(_TIMES) and count == int(count) else f"{number(count)} times"


def _count(count: float, unit: str) -> str:
    return f"{number(count)} {unit}{'' if count == 1 else 's'}"


def _range(ends: Sequence[float], say: Any) -> str:
    low, high = ends
    if low == high:
        return str(say(low))
    if not say(high).isalpha():
        return f"{low:g} to {high:g}"
    return f"{say(low)} {'or' if high - low == 1 else 'to'} {say(high)}"


def _every(days: Sequence[float]) -> str:
    """`every other day`, `every two or three days`."""
    said = {1: "every day", 2: "every other day"}.get(int(days[0])) if days[0] == days[1] else None
    return said or f"every {_range(days, number)} days"
