"""How well requests are read: `python -m tests.corpus FILE.jsonl …` holds readings against a corpus in the published form.

Prints recall and precision a trait, requests read exactly, wrong strengths and silent drops; with `--show N` the first N
requests that are not read exactly. A zone taken from a place that was said counts neither for nor against.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

Condition = dict[str, Any]
SIZES = ("height", "width", "ph")
# Two lengths are the same within 6 % (rounding of feet to metres), an `about` within 12 % of its middle.
SAME, ABOUT = 0.06, 0.12


@dataclass
class Score:
    """Counts over a corpus."""

    hits: Counter[str] = field(default_factory=Counter)
    missed: Counter[str] = field(default_factory=Counter)
    extra: Counter[str] = field(default_factory=Counter)
    requests: int = 0
    exact: int = 0
    strengths: int = 0
    same_values: int = 0
    drops: int = 0
    shown: list[str] = field(default_factory=list)

    @property
    def precision(self) -> float:
        """Of what was read, the share that was meant."""
        return _share(self.hits.total(), self.extra.total())

    @property
    def recall(self) -> float:
        """Of what was meant, the share that was read."""
        return _share(self.hits.total(), self.missed.total())

    @property
    def f1(self) -> float:
        """The harmonic mean of precision and recall."""
        both = self.precision + self.recall
        return 2 * self.precision * self.recall / both if both else 0.0


def _share(good: int, bad: int) -> float:
    return good / (good + bad) if good + bad else 1.0


def load(paths: Iterable[Path]) -> list[dict[str, Any]]:
    """The cases of corpus files, one JSON object a line."""
    return [
        json.loads(line) for path in paths for line in path.read_text(encoding="utf-8").splitlines() if line.strip()
    ]


def score(cases: Iterable[dict[str, Any]], read: Callable[[str], dict[str, Any]]) -> Score:
    """Readings of all cases held against what was meant."""
    total = Score()
    for case in cases:
        _case(total, case, read(" ".join(case["text"].split())))
    return total


def _case(total: Score, case: dict[str, Any], reading: dict[str, Any]) -> None:
    got, pairs, missed = list(reading["conditions"]), [], []
    for meant in case["conditions"]:
        found = next((c for c in got if same(meant, c)), None) or next((c for c in got if alike(meant, c)), None)
        if found is None:
            missed.append(meant)
        else:
            got.remove(found)
            pairs.append((meant, found))
    if (case.get("task") or {}).get("place") and not any(meant["trait"] == "zone" for meant in case["conditions"]):
        got = [found for found in got if found["trait"] != "zone"]
    _count(total, pairs, missed, got, reading)
    lines = [f"   missed   {_told(meant)}" for meant in missed] + [f"   extra    {_told(found)}" for found in got]
    lines += [
        f"   strength {_told(meant)} read as {found['strength']}"
        for meant, found in pairs
        if meant["strength"] != found["strength"]
    ]
    if lines:
        total.shown.append("\n".join([f"{case['id']}: {case['text']}", *lines]))


def _count(
    total: Score,
    pairs: list[tuple[Condition, Condition]],
    missed: list[Condition],
    extra: list[Condition],
    reading: dict[str, Any],
) -> None:
    total.requests += 1
    total.exact += not missed and not extra
    total.hits.update(meant["trait"] for meant, _ in pairs)
    total.missed.update(meant["trait"] for meant in missed)
    total.extra.update(found["trait"] for found in extra)
    total.strengths += sum(meant["strength"] == found["strength"] for meant, found in pairs)
    total.same_values += sum(same(meant, found) for meant, found in pairs)
    told = " ".join(part["text"] for part in (*reading["conditions"], *reading["unread"])).lower()
    total.drops += sum(
        not any(word in told for word in meant["text"].lower().split() if len(word) > 3) for meant in missed
    )


def _told(condition: Condition) -> str:
    parts = (
        condition["trait"],
        condition["test"],
        condition.get("values"),
        condition.get("min"),
        condition.get("max"),
        condition["strength"],
    )
    return " ".join(str(part) for part in parts if part is not None) + f"  «{condition['text']}»"


def same(meant: Condition, found: Condition) -> bool:
    """Whether two conditions say the same with the same values."""
    return _alike(meant, found, exact=True)


def alike(meant: Condition, found: Condition) -> bool:
    """Whether two conditions speak of the same trait the same way, with at least one value in common."""
    return _alike(meant, found, exact=False)


def _alike(meant: Condition, found: Condition, *, exact: bool) -> bool:
    if meant["trait"] != found["trait"]:
        return False
    if meant["trait"] in SIZES and ("min" in meant or "max" in meant):
        return _same_extent(meant, found)
    one, other = _values(meant), _values(found)
    if meant["trait"] == "zone":
        return one == other if exact else bool(one & other)
    if (meant["test"] == "none_of") != (found["test"] == "none_of"):
        return False
    if meant["trait"] in ("taxon", "like"):
        return bool(one) and bool(other) if exact else True
    return one == other if exact else bool(one & other) or not one or not other


def _values(condition: Condition) -> set[str]:
    values = {str(value).lower() for value in condition.get("values") or []}
    if condition["trait"] == "zone":
        return {half for value in values for half in ([value] if value[-1] in "ab" else [f"{value}a", f"{value}b"])}
    return values


def _same_extent(meant: Condition, found: Condition) -> bool:
    if "about" in (meant["test"], found["test"]):
        one, other = _middle(meant), _middle(found)
        return one is not None and other is not None and _near(one, other, ABOUT)
    return all(_near(meant.get(end), found.get(end), SAME) for end in ("min", "max"))


def _middle(condition: Condition) -> float | None:
    ends = [condition[end] for end in ("min", "max") if condition.get(end) is not None]
    return sum(ends) / len(ends) if ends else None


def _near(one: float | None, other: float | None, tolerance: float) -> bool:
    if one is None or other is None:
        return one is other
    return abs(one - other) <= tolerance * max(abs(one), abs(other), 0.1)


def report(total: Score) -> str:
    """The score in words: a line a trait, then the sums."""
    traits = defaultdict(int, total.hits + total.missed + total.extra)
    lines = [
        f"{trait:16s} read {total.hits[trait]:4d}  missed {total.missed[trait]:3d}  extra {total.extra[trait]:3d}"
        for trait in sorted(traits, key=lambda trait: (-traits[trait], trait))
    ]
    hits = max(total.hits.total(), 1)
    lines.append(
        f"requests {total.requests}; precision {total.precision:.3f} recall {total.recall:.3f} F1 {total.f1:.3f}; "
        f"values exact {total.same_values / hits:.3f}; strength right {total.strengths / hits:.3f}; "
        f"read exactly {total.exact / max(total.requests, 1):.3f}; silent drops {total.drops}"
    )
    return "\n".join(lines)


def main(arguments: list[str]) -> int:
    """Score the files named on the command line with the installed base."""
    parser = argparse.ArgumentParser(prog="python -m tests.corpus", description=__doc__)
    parser.add_argument("files", nargs="+", type=Path)
    parser.add_argument("--base", type=Path)
    parser.add_argument("--show", type=int, default=0)
    options = parser.parse_args(arguments)
    from askplant.base import cache
    from askplant.base.opened import Base
    from askplant.reading.read import read
    from askplant.reading.reading import as_json

    base = Base.open(cache.ready(options.base))
    total = score(load(options.files), lambda text: as_json(read(text, base)))
    print("\n".join([*total.shown[: options.show], report(total)]))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
