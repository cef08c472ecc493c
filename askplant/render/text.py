"""An answer as text for a person: what matters first, nothing by colour alone, every line within the screen.

Everything said stands in the worded answer; this module only sets it out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from askplant.quantities.lengths import Units, say
from askplant.reading.reading import Reading
from askplant.render.screen import Screen, cells, padded
from askplant.render.understood import labelled, understood
from askplant.render.wording import FEW_GAINED, Spoken, Worded

Json = dict[str, Any]
Title = Callable[[str], str]  # a plant's id → its botanical name

FITS = "Fits (height × width as grown; what tags say; when old)"
FEW_NEAR = 5  # nearest misses told where not all are asked for
FEW_COMPROMISES = 4
COLUMN = 9  # columns of the words before what is said of a plant


def answer_text(
    worded: Worded, reading: Reading, screen: Screen, title: Title, units: Units | None = None, all: bool = False
) -> str:
    """The whole answer. `all` tells every excluded plant instead of the nearest few, and what put each match at its rank."""
    told = worded.json
    measure = units or reading.units
    parts = [
        [screen.styled(line, "bold") for line in screen.fold(headline(worded))],
        [*understood(reading, worded.asked, screen), *_pulls(worded, screen)],
        _part("You named", _named(worded.considered, screen), screen),
        _part(FITS, _matches(worded, screen, all), screen),
        _part("Before planting", _deferred(worded, screen), screen),
        _part(_out_heading(told), _out(told, worded, measure, screen, title, all), screen),
        _part("A small change would bring in", _compromises(told["loosen"], screen, title), screen),
        _part("Worth asking", _questions(told["ask_back"], screen), screen),
    ]
    return "\n\n".join("\n".join(part) for part in parts if part) + "\n"


def headline(worded: Worded) -> str:
    """One sentence: how many fit, how many of them outright."""
    told, count, outright = worded.json, worded.fits, worded.outright
    plants = told["base"]["plants"]
    if not count:
        return f"None of {plants} plants fits everything that must be."
    fit = f"{count} of {plants} {'plants fits' if count == 1 else 'plants fit'}"
    if not told["reading"]["conditions"]:
        return f"{fit}: no wish was understood."
    if outright == count:
        return f"{fit}."
    if not outright:
        return f"{fit}, with care or with something to check."
    return f"{fit}, {outright} of them in everything, the others with care or with something to check."


def _part(heading: str, lines: Sequence[str], screen: Screen) -> list[str]:
    return [*(screen.styled(line, "bold") for line in screen.fold(heading)), *lines] if lines else []


def _pulls(worded: Worded, screen: Screen) -> Iterator[str]:
    for tension in worded.tensions:
        yield from labelled("beware", tension, screen, "warn")
    for remark in worded.remarks:
        yield from labelled("note", remark, screen, "warn")


def _named(sentences: Sequence[str], screen: Screen) -> list[str]:
    return [line for sentence in sentences for line in screen.fold(sentence, "  ")]


def _matches(worded: Worded, screen: Screen, all: bool) -> list[str]:
    lines: list[str] = []
    for spoken, match in zip(worded.shown, worded.json["matches"], strict=False):
        lines += _match(spoken, match, screen)
        lines += _said("rank", match["why_here"], screen) if all else []
    count = worded.fits
    if count > len(worded.shown):
        lines += screen.fold(f"and {count - len(worded.shown)} more (--count {count} shows them)", "  ")
    return lines


def _match(spoken: Spoken, match: Json, screen: Screen) -> Iterator[str]:
    rank = f"{match['rank']:>3}  "
    common = f" ({spoken.common})" if spoken.common else ""
    first, *rest = screen.fold(spoken.botanical + common, rank, " " * len(rank))
    yield screen.styled(first, "bold")
    yield from (screen.styled(line, "bold") for line in rest)
    yield from screen.fold(spoken.size, " " * len(rank))
    for label, text in _said_of(spoken, match):
        yield from _said(label, text, screen)


def _said_of(spoken: Spoken, match: Json) -> Iterator[tuple[str, str]]:
    """Whether it can be had, what it needs and what to check, then good and bad of it, then cautions and its name."""
    if spoken.stock:
        yield "stock", spoken.stock
    if spoken.to_do:
        yield "needs", "; ".join(spoken.to_do)
    if spoken.to_check:
        yield "check", f"{', '.join(spoken.to_check)}: not known"
    if spoken.virtue:
        yield "for it", spoken.virtue
    if spoken.drawback:
        yield "against", f"{spoken.drawback}; {spoken.remedy}" if spoken.remedy else spoken.drawback
    yield from (("CAUTION", mark(caution)) for caution in match["cautions"])
    yield from (("name", note["text"]) for note in match["name_notes"])


def _said(label: str, text: str, screen: Screen) -> list[str]:
    lead = f"     {padded(label, COLUMN)}"
    first, *rest = screen.fold(text, lead)
    return [screen.styled(first[: len(lead)], "warn" if label.isupper() else "faint") + first[len(lead) :], *rest]


def mark(caution: Json) -> str:
    """The caution itself, without the last sentence where that says who decides."""
    said, stop, _ = caution["text"].rpartition(". ")
    return f"{said}." if stop else str(caution["text"])


def _deferred(worded: Worded, screen: Screen) -> list[str]:
    """Who decides, each said once for all the plants that are shown."""
    cautions = [caution for match in worded.json["matches"][: len(worded.shown)] for caution in match["cautions"]]
    parts = (caution["text"].rpartition(". ") for caution in cautions)
    return [line for text in dict.fromkeys(last for _, stop, last in parts if stop) for line in screen.fold(text, "  ")]


def _out_heading(told: Json) -> str:
    return f"Out: {told['excluded']['total']} plants" if told["excluded"]["total"] != 1 else "Out: 1 plant"


def _out(told: Json, worded: Worded, units: Units, screen: Screen, title: Title, all: bool) -> list[str]:
    lines = _prices(told["excluded"]["by_condition"], worded, screen)
    near = told["excluded"]["near"] if all else told["excluded"]["near"][:FEW_NEAR]
    if near:
        heading = "Every plant that is out" if all else "Nearest misses"
        lines += ["", *(screen.styled(line, "bold") for line in screen.fold(heading))]
    for one in near:
        misses = "; ".join(missed(miss, units) for miss in one["misses"])
        lines += screen.fold(f"{one['botanical']}: {misses}", "  ", "      ")
    return lines


def _prices(prices: Sequence[Json], worded: Worded, screen: Screen) -> list[str]:
    """What each must shuts out, the dearest first."""
    lines = []
    column = max((cells(worded.asked[price["condition"]]) for price in prices), default=0)
    for price in sorted(prices, key=lambda price: (-price["alone"], -price["misses"])):
        alone = f", {price['alone']} nothing else" if price["alone"] else ""
        count = f"{price['misses']} miss it{alone}"
        beside = f"  {padded(worded.asked[price['condition']], column)}  {count}"
        folded = screen.fold(f"{worded.asked[price['condition']]}: {count}", "  ", "      ")
        lines += [beside] if cells(beside) <= screen.width else folded
    return lines


def missed(miss: Json, units: Units) -> str:
    """What the plant has, what was asked, and by how much it is off."""
    has = miss["has"] or "not so"
    off = miss.get("off_by")
    if off is None:
        return f"{has}, asked: {miss['asked']}"
    by = say(off, units) if miss["unit"] == "m" else f"{off:g} {miss['unit']}"
    return f"{has}, asked: {miss['asked']} (off by {by})"


def _compromises(loosen: Sequence[Json], screen: Screen, title: Title) -> list[str]:
    lines: list[str] = []
    for one in loosen[:FEW_COMPROMISES]:
        changes = " and ".join(f"{change['from']} → {change['to']}" for change in one["changes"])
        names = [title(plant) for plant in one["plants"][:FEW_GAINED]]
        more = one["gains"] - len(names)
        gained = ", ".join([*names, f"{more} more"] if more > 0 else names)
        lines += screen.fold(f"{changes}: {gained}", "  ", "      ")
    return lines


def _questions(questions: Sequence[Json], screen: Screen) -> list[str]:
    lines: list[str] = []
    for one in questions:
        splits = ", ".join(f"{answer} leaves {count}" for answer, count in one["splits"].items())
        lines += screen.fold(f"{one['question']} ({splits})", "  ", "      ")
    return lines
