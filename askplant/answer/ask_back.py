"""What to ask back: the questions whose answers would shorten the list most, about what was not said.

Each question has answers, each answer a condition; how many matches would be left after each is counted on the bit
sets. A question tells the more, the larger the share of the list that its answers would take away on average. None is
asked whose answers would all leave the list as it is, or whose trait the request speaks of already.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from askplant.answer.answer import Question
from askplant.quantities.lengths import FOOT, Units, say
from askplant.reading.reading import Condition, Reading
from askplant.verdicts.judge import Judged, missing, outcome
from askplant.verdicts.verdict import Site

MOST = 3
# A question that would take away less than this share of the list is not worth the caller's time.
LEAST_TOLD = 0.05
SIZES = frozenset({"height", "width"})
# Uses that tell well enough what kind of plant is meant; a bank, a rain garden or a pot may take any.
OF_A_KIND = frozenset(
    f"use:{use}"
    for use in ("screen", "hedge", "windbreak", "foundation", "specimen", "ground cover", "street", "shade", "trellis")
)
# Fewer matches than this are looked at, not asked about.
LEAST_MATCHES = 2
# For up to so many matches nothing is judged but their own values.
FEW_MATCHES = 64
# Kinds that nobody expects to be green in winter; who does says so.
OF_SUMMER = frozenset({"kind:perennial", "kind:annual", "kind:bulb"})


class Asking(NamedTuple):
    """One question: the trait it is about, traits that answer it too, and its answers with what each asks of a
    plant.
    """

    trait: str
    also: frozenset[str]
    answers: tuple[tuple[str, Condition | None], ...]


def _any(trait: str, *values: str) -> Condition:
    return Condition(trait, "any_of", values)


def _at_most(trait: str, metres: float) -> Condition:
    return Condition(trait, "at_most", maximum=metres, unit="m", basis="grown")


QUESTIONS = (
    Asking("zone", frozenset(), tuple((f"zone {n}", _any("zone", f"{n}a", f"{n}b")) for n in range(3, 11))),
    Asking(
        "light",
        frozenset(),
        (
            ("six hours or more", _any("light", "full sun")),
            ("four to six", _any("light", "part sun")),
            ("two to four", _any("light", "part shade")),
            ("under two", _any("light", "full shade")),
        ),
    ),
    Asking("moisture", frozenset(), (("yes", _any("moisture", "wet")), ("no", _any("moisture", "average")))),
    Asking("deer", frozenset(), (("yes", Condition("deer", "at_least", ("seldom severely damaged",))), ("no", None))),
    Asking("drought", frozenset({"moisture", "care"}), (("no", _any("drought", "tolerant")), ("yes", None))),
    Asking("safe_for", frozenset(), (("yes", _any("safe_for", "children", "dogs", "cats")), ("no", None))),
    Asking(
        "persistence",
        OF_SUMMER | {"group", "fall_colour", "winter_interest"},
        (("yes", _any("persistence", "evergreen")), ("no", None)),
    ),
    Asking(
        "kind",
        OF_A_KIND | {"group", "taxon", "like"},
        (("tree", _any("kind", "tree")), ("shrub", _any("kind", "shrub")), ("perennial", _any("kind", "perennial"))),
    ),
    Asking("salt", frozenset(), (("yes", _any("salt", "tolerant")), ("no", None))),
    Asking("soil", frozenset(), (("yes", _any("soil", "clay")), ("no", None))),
)
# Questions of room, with the bounds that sort plants: answers are said in the caller's units.
ROOM: tuple[tuple[str, tuple[float, ...], frozenset[str]], ...] = (
    ("width", (4 * FOOT, 8 * FOOT), frozenset()),
    ("height", (6 * FOOT, 12 * FOOT), frozenset({"size", "use:under wires"})),
)


def questions(reading: Reading, matches: int, base: Judged, site: Site) -> tuple[Question, ...]:
    """At most three questions, the most telling first."""
    if matches.bit_count() < LEAST_MATCHES:
        return ()
    told = _told(reading)
    asked = [one for one in (*QUESTIONS, *_of_room(reading.units)) if not told & {one.trait, *one.also}]
    weighed = [
        (_weight(splits, matches.bit_count()), one, splits)
        for one in asked
        if (splits := _splits(one, matches, base, site))
    ]
    weighed = [found for found in weighed if found[0] >= LEAST_TOLD]
    weighed.sort(key=lambda found: -found[0])
    return tuple(Question(one.trait, one.trait, splits) for _, one, splits in weighed[:MOST])


def _told(reading: Reading) -> set[str]:
    told = {condition.trait for condition in reading.conditions}
    return told | {
        f"{condition.trait}:{value}"
        for condition in reading.conditions
        if condition.trait in ("use", "kind") and condition.test == "any_of"
        for value in condition.values
    }


def _of_room(units: Units) -> list[Asking]:
    return [
        Asking(
            trait,
            also,
            (*((f"at most {say(bound, units)}", _at_most(trait, bound)) for bound in bounds), ("no limit", None)),
        )
        for trait, bounds, also in ROOM
    ]


def _splits(asking: Asking, matches: int, base: Judged, site: Site) -> tuple[tuple[str, int], ...]:
    """The matches left after each answer; nothing where no answer leaves any, which would be no choice."""
    left = []
    for answer, condition in asking.answers:
        gone = _gone(condition, base, site, matches) if condition is not None else 0
        left.append((answer, (matches & ~gone).bit_count()))
    return tuple(left) if any(count for _, count in left) else ()


def _gone(condition: Condition, base: Judged, site: Site, matches: int) -> int:
    """The plants an answer takes away. The same questions come up with every request, so their verdicts are kept, but for a
    few matches judging theirs alone is quicker; so it is with sizes, which have hundreds of distinct values.
    """
    if condition.trait in SIZES or matches.bit_count() <= FEW_MATCHES:
        return missing(condition, base, site, matches)
    return outcome(condition, base, site).misses


def _weight(splits: Sequence[tuple[str, int]], matches: int) -> float:
    """The share of the list that an answer takes away, on average over the answers."""
    return sum(1 - count / matches for _, count in splits) / len(splits)
