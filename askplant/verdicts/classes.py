"""Traits whose classes have no order: the plant has one of the words asked for, or it does not."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from askplant.reading.reading import Condition
from askplant.verdicts.logic import best
from askplant.verdicts.verdict import UNKNOWN, Advice, Fact, Judgement, Site, care, meets, misses, words

# Narrow: columnar, or upright and at most half as wide as high; columnar: at least three times as high as wide (the
# trait form).
NARROW, COLUMNAR = 1 / 2, 1 / 3
# Up to this, ties or shears keep an upright plant narrow; common practice.
NEARLY_NARROW = 0.65
UPRIGHT_FORMS = frozenset({"columnar", "upright", "pyramidal"})
# A form that is taken for another, and one that is made of another with the shears or by staking; common practice.
FORM_IS = {"upright": {"columnar"}, "rounded": set(), "spreading": set(), "mounded": set(), "prostrate": set()}
FORM_MADE = {
    "rounded": {"mounded"},
    "mounded": {"rounded", "spreading"},
    "spreading": {"mounded"},
    "upright": {"pyramidal", "vase"},
    "pyramidal": {"columnar", "upright"},
    "vase": {"upright", "spreading"},
    "prostrate": {"spreading"},
}
# Soil that is mended by what is dug in, asked for -> what the plant likes instead; common practice.
SOIL_MENDED = {"clay": {"loam"}, "sand": {"loam"}, "rocky": {"sand"}, "loam": {"clay", "sand"}}


def judge_words(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Any of the words asked for, against [words, …]."""
    if value[0] is None:
        return UNKNOWN
    has = tuple(value[0]) if isinstance(value[0], list) else (value[0],)
    share = [word for word in has if word in condition.values]
    return meets(words(share)) if share else misses(words(has))


def judge_kind(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """A kind, against [kinds, the main one first]: what is also grown as something else is that only just, and a shrub comes
    to be a tree where somebody makes one of it.
    """
    found = judge_words(condition, value, site)
    if found.verdict != "meets" or value[0][0] in condition.values:
        return found
    if found.has is not None and found.has.values == ("tree",) and value[0][0] == "shrub":
        return care(found.has, Advice("kind.tree"), 0.5)
    return found._replace(margin=0.0)


def judge_persistence(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """What the leaves do in winter, against [word]: half-evergreen will do for either side with care."""
    found = judge_words(condition, value, site)
    if found.verdict != "misses" or found.has is None:
        return found
    has = found.has.values[0]
    asked = {str(word) for word in condition.values}
    if has == "semi-evergreen" and asked & {"evergreen", "deciduous"}:
        return care(found.has, Advice("persistence.semi-evergreen"))
    if has == "evergreen" and "semi-evergreen" in asked:
        return meets(found.has)
    return found


def judge_group(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Trade group, against [group, persistence]: a card that names no group of a plant that drops its leaves is of
    neither.
    """
    if value[0] is None and one_of(value[1]) in ("deciduous", "dies back"):
        return misses(words(one_of(value[1]) or ""))
    return judge_words(condition, value, site)


def one_of(value: Any) -> str | None:
    """The single word of a value, whether it comes alone or in a list."""
    return value[0] if isinstance(value, list) and value else value or None


def judge_fall_colour(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Fall colour, against [colours, persistence]: what stays green has none."""
    colours = value[0]
    if colours is None:
        return misses(words("evergreen")) if one_of(value[1]) == "evergreen" else UNKNOWN
    if "any" in condition.values and any(colour != "none" for colour in colours):
        return meets(words(colours))
    return judge_words(condition, value, site)


def judge_flower(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Flowers that show, or none that do, against [word]: inconspicuous ones count as none."""
    has = one_of(value[0])
    if has is None:
        return UNKNOWN
    shown = {"showy"} if "showy" in condition.values else set()
    unseen = {"none", "inconspicuous"} if "none" in condition.values else set()
    return meets(words(has)) if has in shown | unseen else misses(words(has))


def judge_flower_colour(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Colour of flower, against [colours, flower]: flowers nobody sees have none, and what comes in other colours too is the
    one asked for with less ease.
    """
    if one_of(value[1]) in ("none", "inconspicuous"):
        return misses(words("no flowers to notice"))
    found = judge_words(condition, value, site)
    if found.verdict != "meets" or found.has is None:
        return found
    return found._replace(margin=len(found.has.values) / len(value[0]))


def judge_fruit(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Fruit to look at, to eat, or none to clean up, against [words]."""
    if value[0] is None:
        return UNKNOWN
    has = set(value[0])
    if "none" in condition.values and has <= {"none", "inconspicuous"}:
        return meets(words(value[0]))
    wanted = [str(asked) for asked in condition.values if asked != "none"]
    return meets(words(value[0])) if has & set(wanted) else misses(words(value[0]))


def judge_pollination(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Fruit from one plant alone, against [word]."""
    has = one_of(value[0])
    if has is None:
        return UNKNOWN
    if has == "self-fruitful":
        return meets(words(has))
    return misses(words(has)) if has == "dioecious, male" else care(words(has), Advice(f"pollination.{has}"))


def judge_soil(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """The soil it is to stand in, against [soils]."""
    found = judge_words(condition, value, site)
    if found.verdict != "misses" or found.has is None:
        return found
    mended = [str(asked) for asked in condition.values if SOIL_MENDED.get(str(asked), set()) & set(found.has.values)]
    return care(found.has, Advice(f"soil.{mended[0]}")) if mended else found


def judge_form(condition: Condition, value: Sequence[Any], site: Site) -> Judgement:
    """Outline, against [forms, grown height, grown width]."""
    forms = set(value[0] or ())
    slim = _slimness(value[1], value[2])
    if not forms and slim is None:
        return UNKNOWN
    return best(_of_form(str(asked), forms, slim) for asked in condition.values)


def _slimness(height: Sequence[float] | None, width: Sequence[float] | None) -> float | None:
    """Width as a share of height, both in the middle of their grown ranges."""
    return (width[0] + width[1]) / (height[0] + height[1]) if height and width and height[1] > 0 else None


def _of_form(asked: str, forms: set[str], slim: float | None) -> Judgement:
    has = Fact("form", (tuple(sorted(forms)), slim))
    if asked in ("narrow", "columnar"):
        return _narrow(has, forms, slim, NARROW if asked == "narrow" else COLUMNAR)
    if not forms:
        return UNKNOWN
    if asked in forms or FORM_IS.get(asked, set()) & forms:
        return meets(has)
    return care(has, Advice(f"form.{asked}")) if FORM_MADE.get(asked, set()) & forms else misses(has)


def _narrow(has: Fact, forms: set[str], slim: float | None, bound: float) -> Judgement:
    """The stated form is believed; where it says less, the sizes tell."""
    if "columnar" in forms:
        return meets(has)
    if forms and not forms & UPRIGHT_FORMS:
        return misses(has)
    if slim is None:
        return UNKNOWN if forms & UPRIGHT_FORMS else misses(has)
    if slim <= bound:
        return meets(has, 1 - slim)
    # Anything narrow will do for columnar with ties; what is only nearly narrow will do for narrow.
    room = NARROW if bound == COLUMNAR else NEARLY_NARROW
    return care(has, Advice("form.narrow"), 1 - slim) if slim <= room else misses(has, slim - bound)
