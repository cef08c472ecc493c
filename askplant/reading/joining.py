"""Conditions of a later line and those of the request before it made one request: replaced, widened, added, dropped.

a size            takes the place of what bounds the same axis; a limit beside one that it leaves room for stays ("at least
                  5 ft", then "at most 8 ft")
a choice          takes the place of the choice before (zone, light, kind …); widened where the line says "or", "also", "too"
what a plant can have together (uses, whom it is safe for, whom it feeds) is added
what is refused   is added to what was refused, and is taken out of what was wanted
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

from askplant.reading.reading import Condition

How = Literal["replace", "add", "widen"]

# Wishes of one trait that hold side by side.
TOGETHER = frozenset(("use", "safe_for", "wildlife", "winter_interest", "style", "native"))
# A garden stands in one zone: another one is widened to only by "or".
ONE = frozenset(("zone", "heat"))
# A size word speaks of the height.
SAME_AXIS = {"size": "height"}
SIZES = frozenset(("height", "width", "size"))
SLACK = 1e-6  # metres within which two bounds count as one


def joined(before: Sequence[Condition], later: Sequence[Condition], how: How) -> list[Condition]:
    """The request's conditions with those of a later line put in, each where the one it replaces stood."""
    out = list(before)
    shift = 1 + max((found.either for found in before if found.either is not None), default=0)
    for condition in later:
        if condition.either is not None:  # alternatives of the line are alternatives of one another only
            condition = condition._replace(either=condition.either + shift)
        out = _put(out, condition, how, frozenset(id(one) for one in later))
    return out


def _put(out: list[Condition], new: Condition, how: How, line: frozenset[int]) -> list[Condition]:
    if new.test == "none_of":
        return _refused(out, new)
    out = [one for found in out if (one := _wanted_again(found, new))]
    rivals = [found for found in out if is_rival(found, new) and id(found) not in line]
    if rivals and new.test == "any_of" and (how == "widen" or (how == "add" and new.trait not in ONE)):
        first, *rest = rivals
        return [_widened(found, new) if found is first else found for found in out if found not in rest]
    return _replaced(out, rivals, new)


def is_rival(before: Condition, new: Condition) -> bool:
    """Whether the new condition says anew what an earlier one said."""
    trait, other = (SAME_AXIS.get(found.trait, found.trait) for found in (before, new))
    if trait != other or before.test == "none_of":
        return False
    if new.trait in SIZES:
        return not _side_by_side(before, new)
    if new.trait in TOGETHER:
        return bool(set(before.values) & set(new.values)) or before.values == ("yes",)
    return True


def _side_by_side(before: Condition, new: Condition) -> bool:
    """A least and a most that leave room between them."""
    if {before.test, new.test} != {"at_least", "at_most"}:
        return False
    low, high = (before.minimum, new.maximum) if before.test == "at_least" else (new.minimum, before.maximum)
    return low is not None and high is not None and low <= high + SLACK


def _replaced(out: list[Condition], rivals: Sequence[Condition], new: Condition) -> list[Condition]:
    if not rivals:
        return [*out, new]
    first = next(place for place, found in enumerate(out) if found is rivals[0])
    gone = {id(found) for found in rivals}
    if new.either is None and all(found.either is not None for found in rivals):
        new = new._replace(either=rivals[0].either)
    return [*(found for found in out[:first] if id(found) not in gone), new,
            *(found for found in out[first:] if id(found) not in gone)]  # fmt: skip


def _widened(before: Condition, new: Condition) -> Condition:
    values = tuple(dict.fromkeys(before.values + new.values))
    return before._replace(values=values, more=(*before.more, new.at))


def _refused(out: list[Condition], new: Condition) -> list[Condition]:
    """A refusal, beside what was refused already; what was wanted of it is wanted no more."""
    kept = [one for found in out if (one := _without(found, new))]
    at = next((n for n, found in enumerate(kept) if (found.trait, found.test) == (new.trait, "none_of")), None)
    if at is None or kept[at].strength != new.strength:
        return [*kept, new]
    kept[at] = _widened(kept[at], new)
    return kept


def _without(found: Condition, new: Condition) -> Condition | None:
    """A wanted choice without the refused values; None where nothing is left of it."""
    if found.trait != new.trait or found.test != "any_of" or not set(found.values) & set(new.values):
        return found
    left = tuple(value for value in found.values if value not in new.values)
    return found._replace(values=left) if left else None


def _wanted_again(found: Condition, new: Condition) -> Condition | None:
    """A refusal without the values that are wanted now."""
    if found.trait != new.trait or found.test != "none_of" or not set(found.values) & set(new.values):
        return found
    left = tuple(value for value in found.values if value not in new.values)
    return found._replace(values=left) if left else None


def dropped(conditions: Sequence[Condition], gone: Iterable[Condition]) -> list[Condition]:
    """The conditions without some of them."""
    ids = {id(condition) for condition in gone}
    return [condition for condition in conditions if id(condition) not in ids]
