"""The short list set out: as text, as Markdown, as rows of a table and as JSON, all drawn from the same entries."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from askplant.quantities.lengths import Units
from askplant.render.screen import Screen, clean
from askplant.render.wording import size_words

Json = dict[str, Any]
Cell = str | float | None
HEADINGS = (
    "number", "botanical", "common", "fits", "height low m", "height high m", "width low m", "width high m", "old m",
    "sizes", "misses", "cautions", "note",
)  # fmt: skip


def list_text(entries: Sequence[Json], screen: Screen, units: Units) -> str:
    """The short list for a person."""
    if not entries:
        return "The short list is empty: keep 2 puts plant 2 of the answer on it.\n"
    lines = [screen.styled("Short list", "bold")]
    for number, one in enumerate(entries, 1):
        common = f" ({one['common'][0]})" if one["common"] else ""
        lines += screen.fold(f"{one['botanical']}{common}: {size_words(one['size'], units)}", f"{number:>3}  ", " " * 7)
        lines += screen.fold(f"note: {clean(one['note'])}", " " * 5, " " * 7) if one["note"] else []
        lines += screen.fold(fits(one), " " * 5, " " * 7)
    return "\n".join([*lines, "compare · note 2 TEXT · drop 2 · export list.md"]) + "\n"


def fits(one: Json) -> str:
    """Whether an entry fits the request as it is now."""
    if one["fits"] is None:
        return "nothing is asked now"
    if one["fits"]:
        return f"fits, number {one['rank']} of {one['of']}"
    return f"does not fit now: {'; '.join(one['misses'])}"


def markdown(entries: Sequence[Json], asked: Sequence[str], reference: str | None, units: Units) -> str:
    """The short list as Markdown: what was asked, then a table."""
    lines = [f"# Short list{f' {reference}' if reference else ''}", ""]
    lines += ["Asked: " + "; ".join(_cell(one) for one in asked), ""] if asked else []
    lines += ["| plant | size (grown; tags; old) | fits | cautions | note |", "|---|---|---|---|---|"]
    for one in entries:
        common = f" ({', '.join(one['common'])})" if one["common"] else ""
        cells = (
            f"*{one['botanical']}*{common}", size_words(one["size"], units), fits(one), " ".join(one["cautions"]),
            one["note"],
        )  # fmt: skip
        lines.append(f"| {' | '.join(_cell(cell) for cell in cells)} |")
    return "\n".join(lines) + "\n"


def rows(entries: Sequence[Json], units: Units) -> list[list[Cell]]:
    """A heading row and one row a plant; bounds as plain numbers in metres, so that no spreadsheet takes them for dates."""
    out: list[list[Cell]] = [list(HEADINGS)]
    for number, one in enumerate(entries, 1):
        height, width = one["size"]["height"], one["size"]["width"]
        bounds = [*(height["grown"] or (None, None)), *(width["grown"] or (None, None)), height["old"]]
        out.append([
            number, one["botanical"], "; ".join(one["common"]), fits(one),
            *(None if bound is None else float(f"{bound:g}") for bound in bounds), size_words(one["size"], units),
            "; ".join(one["misses"]), " ".join(one["cautions"]), clean(one["note"]),
        ])  # fmt: skip
    return out


def as_json(entries: Sequence[Json], request: Json | None, reference: str | None) -> str:
    """The short list with the reading it was made for; lengths in metres."""
    told = {"reference": reference, "reading": request, "plants": list(entries)}
    return json.dumps(told, ensure_ascii=False, indent=2) + "\n"


def _cell(text: str) -> str:
    return clean(text).replace("|", "\\|")
