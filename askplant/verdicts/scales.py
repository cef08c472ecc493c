"""Traits whose classes are in order: one class is what was asked for, its neighbour will do with care where the trade
says so.

Each table row reads: (trait, value asked for) -> class of the card -> verdict. What the care is stands in the wording
under `trait.value`. Common practice, no source, unless the row says otherwise.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from askplant.reading.reading import BROWSED, Condition
from askplant.verdicts.logic import best
from askplant.verdicts.verdict import UNKNOWN, Advice, Fact, Judgement, Site, Verdict, care, meets, misses, words

_TOLERANCE: dict[str, Verdict] = {"tolerant": "meets", "moderate": "with care", "sensitive": "misses"}

GRADES: dict[tuple[str, str], dict[str, Verdict]] = {
    # Tolerance means after establishment: Plants that Tolerate Drought, Clemson HGIC.
    ("drought", "tolerant"): _TOLERANCE,
    ("salt", "tolerant"): _TOLERANCE,
    ("wind", "tolerant"): _TOLERANCE,
    ("pollution", "tolerant"): _TOLERANCE,
    # Lists of juglone tolerance are observations: no class stands between (Funt and Martin, Ohio State Extension).
    ("juglone", "tolerant"): {"tolerant": "meets", "sensitive": "misses"},
    ("fire", "tolerant"): {"tolerant": "meets", "moderate": "with care", "flammable": "misses"},
    ("breakage", "tolerant"): {"strong": "meets", "moderate": "with care", "weak": "misses"},
    ("roots", "well-behaved"): {"well-behaved": "meets", "moderate": "with care", "aggressive": "misses"},
    ("suckers", "no"): {"no": "meets", "some": "with care", "many": "misses"},
    ("litter", "low"): {"low": "meets", "moderate": "with care", "high": "misses"},
    ("pollen", "low"): {"low": "meets", "moderate": "with care", "high": "misses"},
    ("longevity", "long"): {"long": "meets", "medium": "with care", "short": "misses"},
    ("shearing", "yes"): {"yes": "meets", "light": "with care", "no": "misses"},
    ("fragrance", "yes"): {"yes": "meets", "slight": "with care", "no": "misses"},
    ("thorns", "none"): {"none": "meets", "some": "with care", "present": "misses"},
    ("thorns", "present"): {"present": "meets", "some": "with care", "none": "misses"},
    ("density", "dense"): {"dense": "meets", "medium": "with care", "open": "misses"},
    ("density", "open"): {"open": "meets", "medium": "with care", "dense": "misses"},
}

GROWTH = ("slow", "moderate", "fast")
# Slow to 12 inches a year, moderate 13 to 24, fast 25 and more, in metres a year (the growth-rate classes most
# published).
SLOW_TO, MODERATE_TO = 0.318, 0.622


def judge_grade(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """A condition of the table above, against [class, …]."""
    grade = value[0][0] if isinstance(value[0], list) and value[0] else value[0]
    if not grade:
        return UNKNOWN
    return best(_graded(condition.trait, str(asked), grade) for asked in condition.values)


def _graded(trait: str, asked: str, grade: str) -> Judgement:
    verdict = GRADES.get((trait, asked), {}).get(grade, "misses")
    has = words(grade)
    if verdict == "meets":
        return meets(has)
    return care(has, Advice(f"{trait}.{asked}")) if verdict == "with care" else misses(has)


def judge_litter(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Little litter wanted, against [litter, fruit]: where litter is not known, messy fruit decides."""
    if value[0] is None and "messy" in (value[1] or ()):
        return misses(words("messy fruit"))
    return judge_grade(condition, value, site)


def judge_browsed(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Deer or rabbits, against [class]: one class short is a matter of a fence or repellent."""
    if value[0] is None:
        return UNKNOWN
    has, found = words(value[0]), BROWSED.index(value[0])
    asked = min(BROWSED.index(str(wanted)) for wanted in condition.values)
    if condition.test == "at_most":
        return meets(has) if found <= max(BROWSED.index(str(wanted)) for wanted in condition.values) else misses(has)
    if found >= asked:
        return meets(has, (1 + found - asked) / len(BROWSED))
    if found == asked - 1:
        return care(has, Advice(f"{condition.trait}.guarded"))
    return misses(has, (asked - found) / len(BROWSED))


def judge_growth(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Growth asked for, against [class, rate]: the next class is a matter of the size bought, or of the shears."""
    found = value[0] or _class_of_rate(value[1])
    if found is None:
        return UNKNOWN
    has, place = words(found) if value[1] is None else Fact("growth", (found, *value[1])), GROWTH.index(found)
    wanted = [GROWTH.index(str(word)) for word in condition.values]
    if condition.test == "at_least":
        wanted = list(range(min(wanted), len(GROWTH)))
    elif condition.test == "at_most":
        wanted = list(range(max(wanted) + 1))
    if place in wanted:
        return meets(has)
    off = min(abs(place - want) for want in wanted)
    faster = place > max(wanted)
    return (
        care(has, Advice("growth.faster" if faster else "growth.slower"))
        if off == 1
        else misses(has, off / len(GROWTH))
    )


def _class_of_rate(rate: Sequence[float] | None) -> str | None:
    if rate is None:
        return None
    middle = (rate[0] + rate[1]) / 2
    return "slow" if middle <= SLOW_TO else "moderate" if middle <= MODERATE_TO else "fast"
