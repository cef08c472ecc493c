"""What the program understood of one request: plain, frozen values and nothing that computes.

Lengths are metres, temperatures degrees Celsius, places in the text character offsets of the request as typed.
"""

from typing import Any, Literal, NamedTuple

Test = Literal["any_of", "none_of", "at_least", "at_most", "within", "about"]
Strength = Literal["must", "wish"]
As = Literal["considered", "seen", "died", "to be replaced"]
Span = tuple[int, int]


class Condition(NamedTuple):
    """One thing a plant must or should be.

    `minimum` and `maximum` are metres for height, width and size, plain numbers for ph. `basis` says which size is meant:
    grown, label, or held (kept at by pruning). Conditions that share an `either` number are alternatives of one another.
    `more` holds further places in the text that said the same.
    """

    trait: str
    test: Test
    values: tuple[str | int | float, ...] = ()
    minimum: float | None = None
    maximum: float | None = None
    unit: str | None = None
    basis: str | None = None
    strength: Strength = "must"
    text: str = ""
    at: Span = (0, 0)
    note: str | None = None
    either: int | None = None
    than: str | None = None
    more: tuple[Span, ...] = ()


# How much deer or rabbits eat, the worst first: classes of Fargione, Curtis and Richmond, Cornell Cooperative Extension
# 1991; Rutgers NJAES E271.
BROWSED = ("frequently severely damaged", "occasionally severely damaged", "seldom severely damaged", "rarely damaged")


class Purchase(NamedTuple):
    """What is said of buying: containers (codes, any of them), the most a plant may cost, how many of one kind.

    `each` tells that the price was said to be that of one plant; `total` is the most that all may cost together.
    """

    containers: tuple[str, ...] = ()
    price: float | None = None
    quantity: int | None = None
    each: bool = False
    total: float | None = None


class Task(NamedTuple):
    """What is wanted beside the plants' traits: how many, for what length of row, by when, where, to be bought how.

    `run` is metres, `by_year` years; `spot` is the place along the row, in metres from its start, where it matters most.
    """

    count: int | None = None  # type: ignore[assignment]
    run: float | None = None
    by_year: float | None = None
    place: str | None = None
    mixed: bool | None = None
    budget: str | None = None
    spans: tuple[Span, ...] = ()
    spot: float | None = None
    buy: Purchase = Purchase()


class Correction(NamedTuple):
    """A word that was mended, as typed and as read."""

    wrong: str
    right: str
    at: Span


class Mention(NamedTuple):
    """A plant the caller brought up without making it a condition."""

    plant: str
    role: As
    text: str
    at: Span


class Unread(NamedTuple):
    """Words that may carry a wish and were not understood; `nearest` is what the vocabulary knows that comes closest."""

    text: str
    at: Span
    nearest: str | None = None


class Hidden(NamedTuple):
    """A thing that a screen is to hide, in the caller's words or by its kind, and how high that is, in metres."""

    name: str
    height: float
    at: Span


class Conflict(NamedTuple):
    """Conditions (by index) that cannot hold together, or say one thing twice with different values."""

    conditions: tuple[int, ...]
    text: str


class Reading(NamedTuple):
    """One request, read. `filler` holds the spans of words that carry no wish; `units` is what the caller measured in; `hides` is
    the first thing of known height that a screen is to hide.
    """

    request: str
    conditions: tuple[Condition, ...] = ()
    task: Task = Task()
    corrections: tuple[Correction, ...] = ()
    named: tuple[Mention, ...] = ()
    unread: tuple[Unread, ...] = ()
    conflicts: tuple[Conflict, ...] = ()
    filler: tuple[Span, ...] = ()
    units: Literal["us", "metric"] = "us"
    hides: Hidden | None = None


def as_json(reading: Reading) -> dict[str, Any]:
    """The reading as plain JSON values, in the published form."""
    return {
        "request": reading.request,
        "conditions": [_condition_json(condition) for condition in reading.conditions],
        "task": _task_json(reading.task),
        "corrections": [{"from": c.wrong, "to": c.right, "at": list(c.at)} for c in reading.corrections],
        "named": [{"plant": m.plant, "as": m.role, "text": m.text, "at": list(m.at)} for m in reading.named],
        "unread": [{"text": u.text, "at": list(u.at)} for u in reading.unread],
        "conflicts": [{"conditions": list(c.conditions), "text": c.text} for c in reading.conflicts],
    }


def _condition_json(condition: Condition) -> dict[str, Any]:
    out: dict[str, Any] = {"trait": condition.trait, "test": condition.test}
    if condition.values:
        out["values"] = list(condition.values)
    for key, number in (("min", condition.minimum), ("max", condition.maximum)):
        if number is not None:
            out[key] = round(number, 4)
    for key in ("unit", "basis", "than"):
        if getattr(condition, key) is not None:
            out[key] = getattr(condition, key)
    out |= {"strength": condition.strength, "text": condition.text, "at": list(condition.at)}
    if condition.note:
        out["note"] = condition.note
    if condition.either is not None:
        out["either"] = condition.either
    return out


def _task_json(task: Task) -> dict[str, Any]:
    out: dict[str, Any] = {"count": task.count, "run": task.run, "by_year": task.by_year, "place": task.place}
    if task.mixed is not None:
        out["mixed"] = task.mixed
    if task.budget is not None:
        out["budget"] = task.budget
    return out
