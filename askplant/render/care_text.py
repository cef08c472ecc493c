"""The care calendar as text: twelve months in order from planting, then what is not known, cautions and sources."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from askplant.care import thirds
from askplant.care.task import KINDS
from askplant.render.asked import joined
from askplant.render.care import Said, WordedCare, later, lives_once, month_name, months_of
from askplant.render.care_words import SOUTH
from askplant.render.screen import Screen
from askplant.render.understood import labelled

SPENT = ("plant", "enjoy")  # not told again in the months that follow


def care_text(care: WordedCare, screen: Screen) -> str:
    """The calendar, folded to the screen."""
    lines = [screen.styled(line, "bold") for line in screen.fold(care.heading)]
    lines += screen.fold(care.frost)
    lines += screen.fold(counted(care))
    for year, month, begin, still in _shown(care):
        begun = [care.said[number] for number in begin]
        going = begun_by([care.said[number] for number in still], year, month)
        if not begun:
            lines += ["", *screen.fold(f"{month_name(month)} {year}: {_quiet(going)}")]
            continue
        lines += [
            "",
            screen.styled(f"{month_name(month)} {year}", "bold"),
            *_month((year, month), begun, going, screen),
        ]
    for heading, texts in (
        ("Not known, and to know", care.unknown),
        ("Cautions", care.cautions),
        ("Sources", care.sources),
    ):
        if texts:
            lines += ["", screen.styled(heading, "bold")]
            lines += [line for text in texts for line in screen.fold(text, "  ", "    ")]
    return "\n".join([*lines, "", *screen.fold(SOUTH)]) + "\n"


def _shown(care: WordedCare) -> Sequence[tuple[int, int, tuple[int, ...], tuple[int, ...]]]:
    """The months that are told: those after the end of plants of one season are not."""
    months = list(months_of(care.calendar))
    while months and lives_once(care.calendar) and not (months[-1][2] or months[-1][3]):
        months.pop()
    return months


def counted(care: WordedCare) -> str:
    """From which planting the years are counted."""
    groups: dict[int, list[int]] = {}
    for n, moment in zip(care.calendar.plants, care.calendar.planted, strict=True):
        groups.setdefault(moment, []).append(n)
    if len(groups) == 1:
        return f"Counted from planting in {_moment(next(iter(groups)))}. {_every(care)}"
    names = {plant["botanical"]: plant["planted"] for plant in care.json["plants"]}
    planted = [f"{name} {_moment(moment)}" for name, moment in zip(names, care.calendar.planted, strict=True)]
    return f"Counted from planting: {joined(planted, 'and')}. {_every(care)}"


def _every(care: WordedCare) -> str:
    return "It is for one season." if lives_once(care.calendar) else "The twelve months stand for every year."


def _moment(moment: int) -> str:
    return f"{thirds.say(moment % thirds.YEAR)} {moment // thirds.YEAR}"


def _month(shown: tuple[int, int], begun: Sequence[Said], going: Sequence[Said], screen: Screen) -> Iterator[str]:
    for kind in KINDS:
        for one in begun:
            if one.task.kind == kind:
                yield from labelled(kind, task_line(one, shown), screen)
    still = going_on(going)
    if still:
        yield from labelled("still", still, screen)


def task_line(one: Said, shown: tuple[int, int]) -> str:
    """A task with its time, as it stands in a year and month that are shown."""
    first = later(one.task, *shown)
    counted = "" if first is None else f"in {first}" if one.task.times == 1 else f"from {first} on"
    return f"{one.text} ({', '.join(filter(None, (one.when, one.years, counted)))})"


def told_once(one: Said) -> str:
    """A task with its time, by itself."""
    return f"{one.text} ({', '.join(filter(None, (one.when, one.years)))})"


def begun_by(told: Sequence[Said], year: int, month: int) -> list[Said]:
    """Those that have begun for the first time by a month: what first comes in next winter does not go on in spring."""
    return [one for one in told if later(one.task, year, month) is None]


def going_on(going: Sequence[Said]) -> str:
    """What goes on from earlier months, a word each."""
    kinds = [KINDS[place] for place in sorted({KINDS.index(one.task.kind) for one in going})]
    return joined([_SHORT[kind] for kind in kinds if kind not in SPENT], "and")


def _quiet(going: Sequence[Said]) -> str:
    still = going_on(going)
    return f"nothing new; still {still}." if still else "nothing to do."


_SHORT = {
    "water": "watering",
    "prune": "pruning",
    "feed": "feeding",
    "mulch": "mulching",
    "protect": "protection",
    "look for": "looking for pests",
}
