"""What stands below a line while it is typed: its words marked, what they do to the request, and how many plants fit.

Nothing is said by colour alone: what is read stands in [ ], what is mended as wrong→right, a plant that is only mentioned in < >,
what is not read in ? ?. Every line fits the width it is made for.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from askplant.answer.glance import Glance
from askplant.quantities.lengths import Units
from askplant.reading.reading import Reading, Span
from askplant.reading.refinement import SHOWN, Fresh, Question, Refinement, Taken
from askplant.render.refined import changes, said_of
from askplant.render.screen import cells, clean

Fragment = tuple[str, str]  # style (read, mended, unread, named or none), text
Line = list[Fragment]

MARKS = {"read": ("[", "]"), "unread": ("?", "?"), "named": ("<", ">"), "mended": ("", "")}
CUT = "…"
ASKS = {
    "why": "asks: why {plant}",
    "tell": "asks about {plant}",
    "check": "asks about {plant}",
    "about": "asks about {plant}",
    "size": "asks how big {plant} gets",
    "when": "asks when {plant} is so tall",
    "more": "asks for the next plants",
    "undo": "takes the last change back",
}


def glanced(text: str, taken: Taken, glance: Glance | None, name: Callable[[int], str], width: int) -> list[Line]:
    """The lines for what is typed; `glance` None while plants are being counted, `name` a plant's name by its number."""
    if isinstance(taken, Question):
        number = f"number {taken.plant.number}" if taken.plant.number else None
        plant = "those shown" if taken.plant == SHOWN else taken.plant.name or number or "it"
        return [[("", _cut(ASKS[taken.ask].format(plant=plant), width))]]
    units = taken.reading.units
    start = len(taken.reading.request) - len(text)
    lead = text[: max(-start, 0)]  # "new:" is no part of the request it begins
    marked = _marked(text[len(lead) :], taken.reading, max(start, 0))
    lines = [_fitted([("", clean(lead)), *marked] if lead else marked, width)]
    lines.append([("", _cut(_does(taken, units), width))])
    lines.append([("", _cut(_counted(glance), width))])
    lines.append([("", _cut(_best(glance, name, width), width))])
    return lines


def plain_line(text: str, width: int) -> Line:
    """A line without marks, no wider than the screen."""
    return [("", _cut(text, width))]


def _does(taken: Refinement | Fresh, units: Units) -> str:
    if isinstance(taken, Fresh):
        said = " · ".join(said_of(found, units) for found in taken.reading.conditions)
        return f"new request: {said}" if said else "nothing read yet"
    said = "; ".join(changes(taken.changes, units))
    return said or ("changes the task" if taken.task is not None else "changes nothing yet")


def _counted(glance: Glance | None) -> str:
    if glance is None:
        return "counting …"
    if not glance.fit:
        return f"none of {glance.plants} fits: Enter tells what a small change would bring in"
    outright = f", {glance.outright} in everything" if glance.outright != glance.fit else ""
    return f"{glance.fit} of {glance.plants} fit{outright}"


def _best(glance: Glance | None, name: Callable[[int], str], width: int) -> str:
    """The first few plants, as many as the line holds."""
    line = ""
    for place, plant in enumerate(glance.best if glance is not None else (), 1):
        more = f"{' · ' if line else ''}{place} {name(plant)}"
        if line and cells(line) + cells(more) > width:
            break
        line += more
    return line


def _marked(text: str, reading: Reading, start: int) -> Line:
    """The text with its words marked; places of the reading count from the request's start."""
    spans: list[tuple[Span, str, str]] = []
    for correction in reading.corrections:
        spans.append((correction.at, "mended", f"{correction.wrong}→{correction.right}"))
    for unread in reading.unread:
        spans.append((unread.at, "unread", ""))
    for mention in reading.named:
        spans.append((mention.at, "named", ""))
    for condition in reading.conditions:
        spans += [(span, "read", "") for span in (condition.at, *condition.more)]
    spans += [(span, "read", "") for span in reading.task.spans]
    own = [((a - start, b - start), style, shown) for (a, b), style, shown in spans if a >= start and b > a]
    return list(_pieces(text, own))


def _pieces(text: str, spans: Sequence[tuple[Span, str, str]]) -> Line:
    """Marks around the spans; what is mended inside a span that is read keeps its own sign."""
    mends = {span: shown for span, style, shown in spans if style == "mended"}
    out: Line = []
    at = 0
    for (first, last), style, _ in sorted((one for one in spans if one[1] != "mended"), key=lambda one: one[0]):
        if first < at:
            continue
        out.append(("", _with_mends(text, at, first, mends)))
        before, behind = MARKS[style]
        inside = _with_mends(text, first, last, mends)
        mended = inside != clean(text[first:last])
        out.append(("mended" if mended else style, f"{before}{inside}{behind}"))
        at = last
    out.append(("", _with_mends(text, at, len(text), mends)))
    return [piece for piece in out if piece[1]]


def _with_mends(text: str, start: int, end: int, mends: dict[Span, str]) -> str:
    said = ""
    for (first, last), shown in sorted(mends.items()):
        if start <= first and last <= end:
            said += clean(text[start:first]) + clean(shown)
            start = last
    return said + clean(text[start:end])


def _fitted(line: Line, width: int) -> Line:
    """The end of a line that is too long, for that is where somebody types."""
    over = sum(cells(text) for _, text in line) - width
    if over <= 0:
        return line
    out = list(line)
    over += len(CUT)
    while over > 0 and out:
        style, text = out.pop(0)
        if cells(text) > over:
            out.insert(0, (style, text[over:]))
        over -= cells(text)
    return [("", CUT), *out]


def _cut(text: str, width: int) -> str:
    text = clean(text)
    return text if cells(text) <= width else f"{text[: width - 1]}{CUT}"
