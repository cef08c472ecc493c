"""Light, moisture and acidity of the place, against every class the plant does well in."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from askplant.reading.reading import Condition
from askplant.verdicts.logic import best
from askplant.verdicts.verdict import UNKNOWN, Advice, Fact, Judgement, Site, care, meets, misses, words

# Six hours and more, four to six, two to four, under two: publications differ, and part sun and part shade differ by
# when the sun comes rather than by how long (see the trait light).
LIGHT = ("full sun", "part sun", "part shade", "full shade")
MOISTURE = ("dry", "average", "moist", "wet")
# Where only drought tolerance is known, what it says of dry ground.
DRY_BY_DROUGHT = {"tolerant": "meets", "moderate": "with care", "sensitive": "misses"}
# A site of each class lies between these, and the plant has to reach into it (Soil Quality Indicators: pH, USDA NRCS,
# 1998).
PH = {"acid": (4.5, 6.0), "neutral": (6.6, 7.3), "alkaline": (7.4, 8.4)}
# Sulphur or lime moves a bed by about this much; common practice.
PH_MENDED = 0.5
PH_EASE = 1.0


def judge_light(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Light of the place, against [classes]: the class next door is `with care`, with its consequence."""
    return _ordered(condition, value[0], LIGHT, ("light.darker", "light.brighter"))


def judge_moisture(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Moisture of the place, against [classes, drought]."""
    found = _ordered(condition, value[0], MOISTURE, ("moisture.wetter", "moisture.drier"))
    if "dry" not in condition.values or value[1] is None or found.verdict == "meets":
        return found
    return best((found, _by_drought(value[1])))


def _by_drought(drought: str) -> Judgement:
    has = Fact("drought", (drought,))
    verdict = DRY_BY_DROUGHT[drought]
    if verdict == "meets":
        return meets(has, 0.5)
    return care(has, Advice("drought.tolerant")) if verdict == "with care" else misses(has)


def _ordered(
    condition: Condition, has: Sequence[str] | None, order: tuple[str, ...], codes: tuple[str, str]
) -> Judgement:
    """Any of the classes asked for, with the more ease the more of them it likes; one step beyond what the plant likes is told
    by `codes` (up the order, down the order).
    """
    if not has:
        return UNKNOWN
    fact, likes = words(has), [order.index(word) for word in has]
    steps = [min((order.index(str(asked)) - like for like in likes), key=abs) for asked in condition.values]
    step = min(steps, key=abs)
    if step == 0:
        return meets(fact, steps.count(0) / len(steps))
    if abs(step) == 1:
        return care(fact, Advice(codes[0] if step > 0 else codes[1]))
    return misses(fact, abs(step) / len(order))


def judge_ph(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Acidity of the place by name, number or range, against [range it does well in]."""
    if value[0] is None:
        return UNKNOWN
    low, high = value[0]
    has = Fact("ph", (low, high))
    off = min(max(low - top, bottom - high, 0.0) for bottom, top in _asked_ph(condition))
    if off == 0:
        return meets(has)
    how = Advice("ph.lower" if all(bottom > high for bottom, _ in _asked_ph(condition)) else "ph.raise")
    return care(has, how) if off <= PH_MENDED else misses(has, off / PH_EASE, round(off, 2), "pH")


def _asked_ph(condition: Condition) -> list[tuple[float, float]]:
    """The ranges of pH a place may have; a number is a range of nothing."""
    spans = [PH[str(word)] if str(word) in PH else (float(word), float(word)) for word in condition.values]
    if condition.minimum is not None or condition.maximum is not None:
        low = condition.minimum if condition.minimum is not None else condition.maximum
        high = condition.maximum if condition.maximum is not None else condition.minimum
        assert low is not None
        assert high is not None
        spans.append((low, high))
    return spans
