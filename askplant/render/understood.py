"""A request as it was understood, as text: one condition a line with the words it came from, then what was not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from askplant.quantities.lengths import Units, say
from askplant.reading.reading import Condition, Purchase, Reading, Task, Unread
from askplant.render.asked import asked
from askplant.render.screen import Screen, cells, clean, padded

LABEL = 10  # columns of the words at the left edge: must, wish, mended
MOST_ECHO = 40  # columns for a condition beside the words it came from
PLAYED = {"considered": "considered", "seen": "seen", "died": "died there", "to be replaced": "to be replaced"}


def understood(reading: Reading, echoes: Sequence[str], screen: Screen) -> list[str]:
    """Conditions, task and named plants, then what contradicts itself, what was mended, and what was not understood."""
    return [
        *_conditions(reading, echoes, screen),
        *_labelled("task", task_words(reading.task, reading.units), screen),
        *_labelled("named", [f"{clean(m.plant)} ({PLAYED[m.role]})" for m in reading.named], screen),
        *_labelled("conflict", [conflict.text for conflict in reading.conflicts], screen, "warn"),
        *_labelled("mended", [f"{clean(c.wrong)} → {clean(c.right)}" for c in reading.corrections], screen),
        *_labelled("NOT READ", [unread_words(unread) for unread in reading.unread], screen, "warn"),
    ]


def echoes_of(reading: Reading, units: Units | None) -> list[str]:
    """Each condition in a few words, in these units or the caller's."""
    return [asked(condition, units or reading.units) for condition in reading.conditions]


def unread_words(unread: Unread) -> str:
    """Words that were not understood, with the nearest thing that is known."""
    near = f" (nearest known: {unread.nearest})" if unread.nearest else ""
    return f"“{clean(unread.text)}”{near}"


def task_words(task: Task, units: Units) -> list[str]:
    """What is wanted beside the traits: how many, for what length, by when, where, mixed or not, for how much."""
    parts = [
        task.count is not None and f"{task.count} wanted",
        task.run is not None and f"along {say(task.run, units)}",
        task.by_year is not None and f"within {task.by_year:g} years",
        task.place is not None and f"in {task.place}",
        task.mixed is not None and ("a mixture" if task.mixed else "all of one kind"),
        task.budget is not None and f"budget or size to buy: “{clean(task.budget)}”",
        *_buying(task.buy),
    ]
    said = ", ".join(part for part in parts if part)
    return [said] if said else []


def _buying(buy: Purchase) -> Iterator[str]:
    """What is held against a stock list."""
    if buy.containers:
        yield f"bought as {' or '.join(buy.containers)}"
    if buy.price is not None:
        yield f"at most {buy.price:g} each"
    if buy.quantity is not None:
        yield f"{buy.quantity} of a kind"


def labelled(label: str, text: str, screen: Screen, style: str = "faint", column: int = LABEL) -> list[str]:
    """A text behind a word at the left edge; its further lines stand under its first."""
    lead = padded(f"  {label}", column + 2)
    first, *rest = screen.fold(text, lead, " " * (column + 2))
    return [screen.styled(first[: len(lead)], style) + first[len(lead) :], *rest]


def _labelled(label: str, texts: Sequence[str], screen: Screen, style: str = "faint") -> Iterator[str]:
    for text in texts:
        yield from labelled(label, text, screen, style)


def _conditions(reading: Reading, echoes: Sequence[str], screen: Screen) -> Iterator[str]:
    if not reading.conditions:
        yield from labelled("", "no wish that the base could judge", screen)
    column = min(max((cells(echo) for echo in echoes), default=0), MOST_ECHO)
    met: set[int] = set()
    for condition, echo in zip(reading.conditions, echoes, strict=True):
        label = strength_word(condition, met)
        yield from _condition(condition, label, echo, column, screen)


def strength_word(condition: Condition, met: set[int]) -> str:
    """must or wish; alternatives of one another stand as either … or."""
    if condition.either is None:
        return condition.strength
    again = condition.either in met
    met.add(condition.either)
    if condition.strength == "wish":
        return "or wish" if again else "wish"
    return "or" if again else "either"


def _condition(condition: Condition, label: str, echo: str, column: int, screen: Screen) -> Iterator[str]:
    words = f"“{clean(condition.text)}”" if condition.text else ""
    room = screen.width - (LABEL + 2) - 2 - cells(words)
    if cells(echo) <= room:
        lead = padded(f"  {label}", LABEL + 2)
        beside = padded(echo, min(column, room))
        yield f"{screen.styled(lead, 'faint')}{beside}  {screen.styled(words, 'faint')}".rstrip()
    else:
        yield from labelled(label, echo, screen)
        yield from screen.fold(words, " " * (LABEL + 4))
    if condition.note:
        yield from screen.fold(condition.note, " " * (LABEL + 4))
