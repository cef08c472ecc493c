"""What became different between a request and the one before it."""

from __future__ import annotations

from collections.abc import Sequence

from askplant.reading.joining import is_rival
from askplant.reading.reading import Condition
from askplant.reading.refinement import Change


def changes_between(before: Sequence[Condition], after: Sequence[Condition]) -> tuple[Change, ...]:
    """What became different between two requests, in order of the later one, what was dropped at the end."""
    same = set(map(core, before)) & set(map(core, after))
    gone = [found for found in before if core(found) not in same]
    out = []
    for new in after:
        if core(new) in same:
            continue
        old = next((found for found in gone if _is_of(found, new)), None)
        if old is not None:
            gone.remove(old)
        out.append(_refused_too(old, new) or Change("changed" if old is not None else "added", old, new))
    return (*out, *(Change("dropped", found, None) for found in gone))


def _refused_too(before: Condition | None, after: Condition) -> Change | None:
    """What a refusal gained or lost, which is all that changed of it."""
    if before is None or (before.test, before.strength) != ("none_of", after.strength):
        return None
    more = tuple(value for value in after.values if value not in before.values)
    less = tuple(value for value in before.values if value not in after.values)
    if more and less:
        return None
    return Change("added", None, after._replace(values=more)) if more else Change("dropped", before._replace(values=less), None)


def _is_of(before: Condition, after: Condition) -> bool:
    if before.trait == after.trait and (before.test == "none_of") == (after.test == "none_of"):
        return True
    return is_rival(before, after)


def core(condition: Condition) -> Condition:
    """A condition without where and how it was said."""
    return condition._replace(text="", at=(0, 0), more=(), note=None, either=None)
