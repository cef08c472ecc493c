"""What a line did to the request before it, in words: how it was taken, what was added, changed and dropped."""

from __future__ import annotations

from collections.abc import Sequence

from askplant.quantities.lengths import Units
from askplant.reading.reading import Condition, Task
from askplant.reading.refinement import Change, Fresh, Refinement, Rule
from askplant.render.asked import asked
from askplant.render.screen import clean
from askplant.render.understood import task_words

RULES: dict[Rule, str] = {
    "first": "new request",
    "said": "new request, as you said",
    "long": "new request: it is as long as one (together: add it to the one before)",
    "whole": "new request: it has three wishes or more (together: add it to the one before)",
    "changes": "",
    "short": "",
    "chosen": "",
}


MISSED = {
    "not asked": "is not asked for, so nothing of it changed",
    "not shown": "is no plant that is shown, so nothing of it changed",
    "no further": "asks no more than is asked already: say it in figures",
}


def told(taken: Refinement | Fresh, units: Units) -> str:
    """One line: `new request`, or `changed: height 10–15 ft → about 8 ft; dropped: deer`."""
    if isinstance(taken, Fresh):
        return RULES[taken.rule] or "new request, as you chose"
    parts = changes(taken.changes, units)
    if taken.task is not None:
        parts += _task(taken.task, taken.reading.task, units)
    parts += [f"“{clean(one.text)}” {MISSED[one.why]}" for one in taken.missed]
    return "; ".join(parts) or "nothing changed"


def changes(found: Sequence[Change], units: Units) -> list[str]:
    """Each change in a few words, those of a kind together."""
    parts = []
    for kind in ("changed", "added", "dropped"):
        said = [_change(change, units) for change in found if change.kind == kind]
        if said:
            parts.append(f"{kind}: {', '.join(said)}")
    return parts


def _change(change: Change, units: Units) -> str:
    before, after = (said_of(one, units) if one is not None else "" for one in (change.before, change.after))
    return f"{before} → {after}" if before and after else before or after


def said_of(condition: Condition, units: Units) -> str:
    """A condition in a few words, a wish as such."""
    return f"{'wish: ' if condition.strength == 'wish' else ''}{asked(condition, units)}"


def _task(before: Task, after: Task, units: Units) -> list[str]:
    old, new = (", ".join(task_words(task, units)) for task in (before, after))
    return [f"{f'{old} → ' if old else ''}{new or 'no longer'}"]
