"""A reply at the desk: what a line did, how many fit, the sentence to say, the whole request, and a few plants; one screen."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Any

from askplant.answer.years import Reached, Sizes
from askplant.quantities.lengths import Units, say, say_range
from askplant.reading.refinement import Fresh, Refinement
from askplant.render.plant import comparison_text, label_of, words_of
from askplant.render.refined import said_of, told
from askplant.render.screen import Screen, cells, clean
from askplant.render.speech import brief, of_plant
from askplant.render.text import Title, missed
from askplant.render.understood import PLAYED, task_words, unread_words
from askplant.render.wording import Spoken, Worded
from askplant.sitting.state import State

Json = dict[str, Any]
COLUMN = 7  # columns of the words before what is said
BESIDE = 5  # columns of a plant's number
# What a wish is called by whoever takes it back: words of traits/vocabulary/refine.txt.
SIDES = {
    "height": "height", "size": "size", "width": "width", "zone": "zone", "light": "light", "moisture": "water",
    "drought": "drought", "soil": "soil", "deer": "deer", "rabbit": "rabbits", "fragrance": "scent", "flower": "flowers",
    "bloom": "time of bloom", "flower_colour": "flower color", "fall_colour": "fall color", "fruit": "berries", "form": "shape",
    "growth": "speed", "native": "natives", "safe_for": "pets", "thorns": "thorns", "salt": "salt", "wind": "wind",
    "wildlife": "wildlife", "care": "maintenance", "pests": "pests",
}  # fmt: skip
NOTHING_IN_IT = "No wish and no question was found in that line: say it in other words; help shows how."
NEXT = ("8 ft instead", "never mind the {trait}", "more", "why 2", "keep 2", "undo", "help", "new:")


def reply_text(
    worded: Worded,
    state: State,
    taken: Refinement | Fresh | None,
    page: range,
    screen: Screen,
    title: Title,
    units: Units,
    put: Sequence[str] = (),
) -> str:
    """The whole reply. `page` are the places of the matches that are shown, from 0; `taken` None where no line was taken; `put`
    are questions that were put often enough.
    """
    lines: list[str] = [line for part in _first(worded, taken, units) for line in _bold(part, screen)]
    lines += _labelled("say", f"“{brief(worded, title, units)}”", screen, "bold")
    question = ask_back(worded, put)
    lines += _labelled("ask", question, screen) if question else []
    lines += request_lines(state, screen, units)
    lines += [line for one in worded.considered for line in _labelled("named", one, screen)]
    lines += [line for one in worded.tensions for line in _labelled("beware", one, screen, "warn")]
    lines += plant_lines(worded, page, screen)
    if not worded.json["matches"]:
        lines += _near(worded.json, screen, units)
    return "\n".join(lines) + "\n"


def ask_back(worded: Worded, put: Sequence[str]) -> str | None:
    """The question worth most among those that were not put often enough already."""
    return next((one["question"] for one in worded.json["ask_back"] if one["question"] not in put), None)


def _first(worded: Worded, taken: Refinement | Fresh | None, units: Units) -> list[str]:
    """What the line did, then how many fit."""
    return [*([told(taken, units)] if taken is not None else []), counted(worded.json)]


def _bold(text: str, screen: Screen) -> list[str]:
    return [screen.styled(line, "bold") for line in screen.fold(text)]


def counted(told_: Json) -> str:
    """How many fit, and how many of them outright."""
    count, plants = len(told_["matches"]), told_["base"]["plants"]
    if not count:
        return f"None of {plants} plants fits everything that must be."
    outright = sum(all(one["verdict"] == "meets" for one in match["verdicts"]) for match in told_["matches"])
    if not told_["reading"]["conditions"]:
        return f"Nothing is asked that parts plants: all {count} would do."
    if outright == count:
        return f"{count} of {plants} fit."
    return f"{count} of {plants} fit, {outright or 'none'} of them in everything, the rest with care or to check."


def request_lines(state: State, screen: Screen, units: Units) -> list[str]:
    """The whole request in a few lines: each condition with its number, what is off in brackets, and what was not read."""
    parts = []
    for number, condition in enumerate(state.reading.conditions, 1):
        said = f"{number} {said_of(condition, units)}"
        parts.append(f"({said}: off)" if condition in state.off else said)
    parts += task_words(state.reading.task, units)
    parts += [f"{clean(one.plant)} ({PLAYED[one.role]})" for one in state.reading.named]
    lines = _labelled(
        "asked", " · ".join(part.replace(" ", "\N{NO-BREAK SPACE}") for part in parts) or "nothing yet", screen
    )
    lines = [line.replace("\N{NO-BREAK SPACE}", " ") for line in lines]
    start = state.since
    mended = [
        f"{clean(one.wrong)} → {clean(one.right)}" for one in state.reading.corrections if one.at[0] >= start
    ]  # those of earlier lines stand in `request`
    lines += _labelled("mended", ", ".join(mended), screen) if mended else []
    now = [unread_words(one) for one in state.reading.unread if one.at[0] >= start]
    before = [f"“{clean(one.text)}”" for one in state.reading.unread if one.at[0] < start]
    lines += _labelled("NOT READ", ", ".join(now), screen, "warn") if now else []
    lines += _labelled("NOT READ", f"earlier: {', '.join(before)}", screen) if before else []
    lines += [line for one in state.asked.conflicts for line in _labelled("beware", one.text, screen, "warn")]
    return lines


def plant_lines(worded: Worded, page: range, screen: Screen) -> list[str]:
    """The plants of a page, each with its size, what it needs or what speaks against it, and its cautions in a few words."""
    lines: list[str] = []
    for place in page:
        lines += _plant(worded.shown[place], worded.json["matches"][place]["rank"], screen)
    left = len(worded.json["matches"]) - page.stop
    if left > 0 and page:
        lines += screen.fold(f"{left} more fit: type more", " " * BESIDE)
    return lines


def _plant(spoken: Spoken, rank: int, screen: Screen) -> list[str]:
    lead, rest = f"{rank:>3}  ", " " * BESIDE
    common = f" ({spoken.common})" if spoken.common else ""
    name = f"{spoken.botanical}{common}"
    beside = f"{lead}{screen.styled(name, 'bold')}  {spoken.size}"
    if cells(lead) + cells(name) + 2 + cells(spoken.size) <= screen.width:
        lines = [beside]
    else:
        lines = [screen.styled(line, "bold") for line in screen.fold(name, lead)] + screen.fold(spoken.size, rest)
    if spoken.to_do:
        said = f"needs: {spoken.to_do[0]}" + (f" (and {len(spoken.to_do) - 1} more)" if spoken.to_do[1:] else "")
    else:
        said = f"against: {spoken.drawback}" if spoken.drawback else f"for it: {spoken.virtue}" if spoken.virtue else ""
    lines += screen.fold(said, rest, rest + "  ") if said else []
    lines += screen.fold(f"not known: {', '.join(spoken.to_check)}", rest, rest + "  ") if spoken.to_check else []
    if spoken.careful:
        told_ = screen.fold(f"CAUTION: {'; '.join(spoken.careful)}", rest, rest + "  ")
        lines += [screen.styled(line, "warn") for line in told_]
    return lines


def _near(told_: Json, screen: Screen, units: Units) -> list[str]:
    """Where nothing fits: what comes nearest and why it is out."""
    lines = ["", screen.styled("Nearest", "bold")]
    for one in told_["excluded"]["near"][:3]:
        misses = "; ".join(missed(miss, units) for miss in one["misses"])
        lines += screen.fold(f"{one['botanical']}: {misses}", "  ", "      ")
    return lines


def _labelled(label: str, text: str, screen: Screen, style: str = "faint") -> list[str]:
    lead = f"{label:<{COLUMN}} "
    first, *rest = screen.fold(text, lead, " " * (COLUMN + 1))
    return [screen.styled(first[: len(lead)], style) + first[len(lead) :], *rest]


def unchanged_text(found: Refinement, line: str, screen: Screen, units: Units) -> str:
    """A line that changed nothing: why, and that the request stands."""
    start = len(found.reading.request) - len(line)
    unread = [unread_words(one) for one in found.reading.unread if one.at[0] >= start]
    said = told(found, units)
    lines = screen.fold(f"{said}: the request stands as it was (request shows it)")
    again = any(condition.at[1] > start for condition in found.reading.conditions)  # it says what is asked already
    if not (unread or found.missed or again):
        lines += screen.fold(NOTHING_IN_IT)
    return "\n".join([*lines, *(_labelled("NOT READ", ", ".join(unread), screen, "warn") if unread else [])]) + "\n"


def hint(state: State, width: int | None = None) -> str:
    """What can be typed now, as much of it as the width holds."""
    traits = [SIDES[one.trait] for one in state.reading.conditions if one.trait in SIDES]
    line = ""
    for part in (one.format(trait=traits[-1] if traits else "zone") for one in NEXT):
        longer = f"{line} · {part}" if line else part
        if width is None or cells(longer) <= width:
            line = longer
    return line


def told_of(spoken: Spoken, match: Json, screen: Screen, units: Units, misses: Sequence[Json] = ()) -> str:
    """One plant told: why the request shuts it out where it does, the sentence to say, its sizes, what speaks for and against it,
    its cautions, what its name claims."""
    lines = [screen.styled(line, "bold") for line in screen.fold(spoken.botanical)]
    out = "; ".join(missed(miss, units) for miss in misses)
    lines += _labelled("misses", out, screen, "warn") if out else []
    lines += _labelled("say", f"“{of_plant(spoken, match, units)}”", screen, "bold")
    pairs = [
        ("size", spoken.size),
        ("needs", "; ".join(spoken.to_do)),
        ("check", f"{', '.join(spoken.to_check)}: not known" if spoken.to_check else ""),
        ("for it", spoken.virtue or ""),
        (
            "against",
            f"{spoken.drawback}; {spoken.remedy}" if spoken.drawback and spoken.remedy else spoken.drawback or "",
        ),
    ]
    pairs += [("CAUTION", caution["text"]) for caution in match["cautions"]]
    pairs += [("name", note["text"]) for note in match["name_notes"]]
    lines += [line for label, text in pairs if text for line in _labelled(label, text, screen)]
    return "\n".join(lines) + "\n"


def sizes_text(sizes: Sizes, names: str, axis: str, screen: Screen, units: Units) -> str:
    """How tall or wide a plant is after some years, and grown; what is not known is said."""
    parts, wide = [], axis == "width"
    bands = sizes.widths if wide else sizes.heights
    if bands:
        told_ = ", ".join(f"{say_range(*band, units)}{' wide' * wide} after {years:g} years" for years, band in bands)
        parts.append(f"about {told_} in the ground, reckoned from its card; soil and water move it")
    else:
        parts.append("the base does not know enough to reckon its growth")
    if wide:
        parts.append(f"grown {say_range(*sizes.width, units)} wide" if sizes.width else "grown width not known")
    if sizes.grown:
        parts.append(f"grown {say_range(*sizes.grown, units)} tall")
    if sizes.old:
        parts.append(f"old {say(sizes.old, units)}")
    return "\n".join(screen.fold(f"{names}: {'; '.join(parts)}.")) + "\n"


def reached_text(found: Reached, names: str, screen: Screen, units: Units) -> str:
    """When a plant is so tall."""
    height = say(found.height, units)
    if not found.known:
        said = "the base does not know enough to reckon its growth"
    elif found.years is None:
        said = f"does not reach {height} by what its card says"
    elif found.years < 1:
        said = f"{height} within its first year, or as it is set"
    else:
        said = f"about {found.years:.0f} years in the ground until it is {height} tall, reckoned from its card"
    return "\n".join(screen.fold(f"{names}: {said}.")) + "\n"


def several_text(name: str, each: Sequence[Json], few: int, screen: Screen, units: Units) -> str:
    """Plants of one name held against the request: how many would do, and the first few with their rank or what they miss."""
    do = sum(one["matches"] for one in each)
    lines = screen.fold(f"Of {len(each)} plants called {name}, {do or 'none'} would do.")
    for one in each[:few]:
        if one["matches"]:
            said = f"fits, number {one['rank']} of {one['of']}"
        else:
            said = f"misses {'; '.join(missed(miss, units) for miss in one['misses'])}"
        lines += screen.fold(f"{one['botanical']}: {said}", "  ", "      ")
    return "\n".join(lines) + "\n"


def compared_text(told_: Json, first: Collection[str], drawn: str, screen: Screen) -> str:
    """Plants side by side: what differs, the traits that were asked about first and what some card is silent on last; then what
    is the same, in a few lines; at the end the plants to scale."""
    differing = [trait for trait in told_["traits"] if trait["differs"]]
    differing.sort(key=lambda trait: (trait["trait"].split("_")[0] not in first, None in trait["values"]))
    same = [trait for trait in told_["traits"] if not trait["differs"]]
    text = comparison_text({**told_, "traits": differing}, screen)
    alike = " · ".join(f"{label_of(trait['trait'])} {words_of(trait['trait'], trait['values'][0])}" for trait in same)
    lines = ["", *_bold("The same", screen), *screen.fold(alike, "  ")] if same else []
    return text + "\n".join([*lines, "", ""]) + drawn
