"""A stock list as it was matched, and its tags, in words and in the published form.

check  {"file", "read", "columns", "lines": [{"row", "name", "container", "price", "quantity", "match", "how", "plants",
       "nearest", "not_read"}], "sure", "doubtful", "unmatched", "left_out"}
tags   {"file", "differ": [{"row", "name", "plant", "botanical", "axis", "tag", "grown", "old", "years", "from", "text"}],
       "held", "agree", "unknown"}, lengths in metres
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from askplant.quantities.lengths import Units, say, say_range
from askplant.render.screen import Screen, clean
from askplant.render.warnings import Titled
from askplant.stock.stock import Line, Stock, Sureness, counted
from askplant.stock.tags import Checked, Tag

Json = dict[str, Any]

# How a name was matched.
HOW = {
    "name": "a name of the plant",
    "short": "words cut short",
    "mended": "spelling mended",
    "settled": "settled",
    "several": "several plants bear it",
    "two names": "its two names are of different plants",
    "common name alone": "only the common name is known",
    "cultivar unknown": "the cultivar is not in the base, its species is",
    "words left over": "some of its words say nothing",
    "bare epithet": "a cultivar's name alone",
    "far off": "too far off",
    "no plant": "no plant",
    "no such name": "no plant of that name",
    "settled to none": "settled to a name that no plant bears",
    "settled to several": "settled to a name that several plants bear",
}
MATCHES: tuple[Sureness, ...] = ("sure", "doubtful", "unmatched", "left out")
DIMENSION = {"height": "tall", "width": "wide"}


def check_json(stock: Stock, base: Titled) -> Json:
    """The list as it was matched."""
    return {
        "file": stock.file,
        "read": stock.how,
        "columns": dict(stock.columns),
        "lines": [_line_json(line, base) for line in stock.lines],
        **{match.replace(" ", "_"): counted(stock.lines, match) for match in MATCHES},
    }


def _line_json(line: Line, base: Titled) -> Json:
    return {
        "row": line.row,
        "name": line.name,
        "container": line.container or None,
        "price": line.price,
        "quantity": line.quantity,
        "match": line.sureness,
        "how": HOW[line.how],
        "plants": [base.plant(n).botanical for n in line.plants],
        "nearest": list(line.nearest),
        "not_read": dict(line.wrong),
    }


def check_text(stock: Stock, base: Titled, screen: Screen) -> str:
    """What somebody has to look at: doubtful and unmatched lines, mended spellings, cells that were not read."""
    heads = f"{clean(stock.file)}: {stock.how}; " + ", ".join(
        f"{clean(heading)!r} as {role}" for heading, role in stock.columns
    )
    lines = [*screen.fold(heads), *(line for note in stock.notes for line in screen.fold(note, "  ")), ""]
    total = ", ".join(f"{number} {match}" for match in MATCHES if (number := counted(stock.lines, match)))
    lines += [screen.styled(line, "bold") for line in screen.fold(f"{len(stock.lines)} lines: {total or 'none'}")]
    parts = (
        (
            "Doubtful (not counted until settled)",
            [_doubtful(line) for line in stock.lines if line.sureness == "doubtful"],
        ),
        ("Unmatched", [_unmatched(line) for line in stock.lines if line.sureness == "unmatched"]),
        ("Sure, with the spelling mended", [_mended(line, base) for line in stock.lines if line.how == "mended"]),
        ("Cells that were not read", [_wrong(line) for line in stock.lines if line.wrong]),
    )
    for heading, told in parts:
        if told:
            lines += ["", screen.styled(heading, "bold")]
            lines += [folded for text in told for folded in screen.fold(text, "  ", "      ")]
    return "\n".join(lines) + "\n"


def _doubtful(line: Line) -> str:
    more = f" and {len(line.plants) - len(line.nearest)} more" if len(line.plants) > len(line.nearest) else ""
    return f"row {line.row}  {clean(line.name)}: {HOW[line.how]}: {', '.join(line.nearest)}{more}"


def _unmatched(line: Line) -> str:
    near = f"; nearest: {', '.join(line.nearest)}" if line.nearest else ""
    return f"row {line.row}  {clean(line.name)}: {HOW[line.how]}{near}"


def _mended(line: Line, base: Titled) -> str:
    return f"row {line.row}  {clean(line.name)} → {base.plant(line.plants[0]).botanical}"


def _wrong(line: Line) -> str:
    cells = ", ".join(f"{clean(heading)} `{clean(cell)}`" for heading, cell in line.wrong)
    return f"row {line.row}  {clean(line.name)}: {cells}"


def tags_json(stock: Stock, checked: Checked, years: dict[int, float | None], base: Titled, units: Units) -> Json:
    """The tags that differ; `years` are how long the plants take to the tag's height, by the place in the list."""
    return {
        "file": stock.file,
        "differ": [_tag_json(tag, years.get(place), base, units) for place, tag in enumerate(checked.tags)],
        "held": checked.held,
        "agree": checked.agreed,
        "unknown": checked.unknown,
    }


def _tag_json(tag: Tag, years: float | None, base: Titled, units: Units) -> Json:
    plant = base.plant(tag.line.plants[0])
    return {
        "row": tag.line.row,
        "name": tag.line.name,
        "plant": plant.id,
        "botanical": plant.botanical,
        "axis": tag.axis,
        "tag": [round(length, 4) for length in tag.says],
        "grown": list(tag.grown),
        "old": tag.old,
        "years": round(years, 1) if years is not None else None,
        "from": "list" if tag.by_list else "card",
        "text": _story(tag, years, units),
    }


def _story(tag: Tag, years: float | None, units: Units) -> str:
    """The two stories in one sentence."""
    who = "the tag says" if tag.by_list else "tags usually say"
    start = f"{who} {say_range(*tag.says, units)} {DIMENSION[tag.axis]}, it grows to {say_range(*tag.grown, units)}"
    old = f" and to {say(tag.old, units)} when old" if tag.old is not None and tag.old > tag.grown[1] else ""
    if not tag.smaller:
        return f"{start}{old}: it stays smaller than promised"
    then = f"; it is past the tag in about {years:.0f} years" if years is not None else ""
    return f"{start}{old}{then}"


def tags_text(told: Json, screen: Screen) -> str:
    """The tags that differ, one a paragraph, and the count."""
    lines = []
    for one in told["differ"]:
        title = clean(one["name"]) if one["name"] == one["botanical"] else f"{clean(one['name'])} ({one['botanical']})"
        lines += screen.fold(f"row {one['row']}  {title}: {one['text']}.", "  ", "      ")
    count = len(told["differ"])
    differ = f"{count} size{' tells' if count == 1 else 's tell'} another story than the card"
    heading = f"{clean(told['file'])}: {differ}; {told['agree']} of {told['held']} plants agree"
    unknown = f", {told['unknown']} could not be held against a card" if told["unknown"] else ""
    head = [screen.styled(line, "bold") for line in screen.fold(heading + unknown)]
    return "\n".join([*head, *([""] if lines else []), *lines]) + "\n"


def names_toml(stock: Stock) -> Iterator[str]:
    """The file in which somebody settles names: a line for each that is doubtful or unmatched, its candidates beside it."""
    import json

    yield "# What the names of this list mean. Write a plant's name as askplant shows it behind the sign of equality and take the"
    yield '# sign # away; "" leaves a line out. Case and marks of trade do not count, and the file serves later lists too.'
    yield "[names]"
    seen: set[str] = set()
    for line in stock.lines:
        if line.sureness not in ("doubtful", "unmatched") or line.name in seen:
            continue
        seen.add(line.name)
        first, *others = line.nearest or ("",)
        more = f"  # or {', '.join(others)}" if others else ""
        yield f"# {json.dumps(line.name, ensure_ascii=False)} = {json.dumps(first, ensure_ascii=False)}{more}"
