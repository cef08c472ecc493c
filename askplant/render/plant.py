"""One plant, or several side by side, as text: everything said stands in the worded forms."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby, zip_longest
from typing import Any

from askplant.base.records import Observation, Source
from askplant.quantities.lengths import Units, say, say_range
from askplant.quantities.months import say_months
from askplant.render.facts import REGIONS
from askplant.render.screen import Screen, padded
from askplant.render.text import missed
from askplant.render.understood import labelled, understood
from askplant.render.wording import size_words

Json = dict[str, Any]
Publications = Callable[[str], Source | None]  # a source's key → what it stands for

RESOLVED = "resolved"
MONTHS, NATIVE = ("bloom", "fruit_months"), "native"
COLUMN = 17  # columns for a trait's name; the longest is growth_per_year
LEAST_SIDE = 18  # columns a plant must have to stand beside another


def portrait_text(told: Json, screen: Screen, units: Units, publication: Publications) -> str:
    """All that the base holds of a plant: names, sizes, what misleads, cautions, then every value and the sources."""
    names = f"{told['botanical']} ({', '.join(told['common'])})" if told["common"] else told["botanical"]
    lines = [screen.styled(line, "bold") for line in screen.fold(names)]
    lines += screen.fold(size_words(told["size"], units), "  ")
    lines += [line for note in told["name_notes"] for line in labelled("name", note["text"], screen)]
    lines += [line for one in told["cautions"] for line in labelled("CAUTION", one["text"], screen, "warn")]
    lines += labelled("stock", told["stock"]["text"], screen) if "stock" in told else []
    lines.append("")
    for trait, rows in groupby(told["values"], lambda row: row["trait"]):
        lines += _trait(trait, list(rows), screen, units)
    for seen in told.get("observations", ()):
        lines += labelled("measured", _measured(seen, units), screen, column=COLUMN)
    return "\n".join([*lines, *_sources(told["values"], screen, publication)]) + "\n"


def _sources(rows: Sequence[Json], screen: Screen, publication: Publications) -> Iterator[str]:
    """What stands behind the keys in brackets."""
    cited = dict.fromkeys(row["source"] for row in rows if row["source"] not in ("", RESOLVED))
    found = [(key, publication(key)) for key in cited]
    if found:
        yield from ("", screen.styled("Sources", "bold"))
    for key, source in found:
        about = f"{published(source)} ({source.basis})" if source else "not listed"
        yield from screen.fold(f"{key}: {about}", "  ", "      ")


def _trait(trait: str, rows: Sequence[Json], screen: Screen, units: Units) -> Iterator[str]:
    """The value that is used, then each source's where they disagree."""
    used = [row for row in rows if row["source"] == RESOLVED] or rows
    for place, row in enumerate([*used, *(row for row in rows if row not in used)]):
        name = "" if place else label_of(trait)
        yield from labelled(name, _row_words(row, units), screen, column=COLUMN)


def observed_json(seen: Observation) -> Json:
    """One measured size in the published form: lengths in metres, what is not known left out."""
    told = {name: cell for name, cell in seen._asdict().items() if cell not in (None, "")}
    return told | {"unit": "m"}


def _measured(seen: Json, units: Units) -> str:
    sides = (("height", "high"), ("width", "wide"))
    sizes = ", ".join(f"{say(seen[side], units)} {word}" for side, word in sides if side in seen)
    pruned = {"yes": "pruned", "no": "not pruned"}.get(seen.get("pruned", ""), "")
    about = "; ".join(text for text in (pruned, *(seen.get(name, "") for name in ("place", "date", "note"))) if text)
    origin = f" [{seen['source']}, {seen['basis']}]" if "source" in seen else f" [{seen['basis']}]"
    return f"{sizes} at {seen['age']:g} years{origin}{f' – {about}' if about else ''}"


def published(source: Source) -> str:
    """A publication in a few words: its title, who published it, and when."""
    issue = ", ".join(part for part in (source.publisher, source.year) if part)
    return f"{source.title}. {issue}"


def label_of(trait: str) -> str:
    """A trait's name as it is shown."""
    return trait.replace("_", " ").replace("colour", "color")


def _row_words(row: Json, units: Units) -> str:
    note = f" – {row['note']}" if row.get("note") else ""
    return f"{value_words(row, units)}{_origin(row)}{note}"


def _origin(row: Json) -> str:
    if row["source"] == RESOLVED:
        return " (used)"
    return f" [{row['source']}, {row['basis']}]" if row["source"] else f" [{row['basis']}]"


def value_words(row: Json, units: Units) -> str:
    """One value: words, months by name, ranges in the units asked for."""
    if "low" not in row:
        return words_of(row["trait"], row["value"])
    if row.get("unit") == "m":
        return say_range(row["low"], row["high"], units)
    low, high = f"{row['low']:g}", f"{row['high']:g}"
    unit = f" {row['unit']}" if row.get("unit") else ""
    return (low if low == high else f"{low}–{high}") + unit


def words_of(trait: str, value: str) -> str:
    """A value in words, months and regions of the world by name."""
    parts = value.split("; ")
    if trait in MONTHS:
        return say_months(int(month) for month in parts)
    return "; ".join(REGIONS.get(part, part) for part in parts) if trait == NATIVE else value


def bearers_text(told: Json, screen: Screen) -> str:
    """The plants that bear one name."""
    lines = [f"{told['name']} is the name of {len(told['plants'])} plants:"]
    lines += [line for one in told["plants"] for line in screen.fold(one["botanical"], "  ", "      ")]
    return "\n".join(lines) + "\n"


def reasons_text(told: Json, reading: Any, screen: Screen, units: Units) -> str:
    """Every verdict of a request on one plant, the misses first."""
    lines = [screen.styled(line, "bold") for line in screen.fold(_outcome(told))]
    lines += ["", *understood(reading, told["asked"], screen), ""]
    off = {miss["condition"]: miss for miss in told["misses"]}
    ranks = ("misses", "with care", "unknown", "meets")
    for one in sorted(told["verdicts"], key=lambda one: ranks.index(one["verdict"])):
        lines += _verdict(one, told, off, screen, units)
    return "\n".join(lines) + "\n"


def _outcome(told: Json) -> str:
    if told["matches"]:
        return f"{told['botanical']} fits, number {told['rank']} of {told['of']}."
    count = len(told["misses"])
    return f"{told['botanical']} does not fit: it misses {count} of the musts."


def _verdict(one: Json, told: Json, off: dict[int, Json], screen: Screen, units: Units) -> list[str]:
    echo = told["asked"][one["condition"]]
    if one["condition"] in off:
        said = missed(off[one["condition"]], units)
    elif one["verdict"] == "unknown":
        said = f"{echo}: the base does not say"
    else:
        said = f"{echo}: {one['has'] or ('no' if one['verdict'] == 'misses' else 'yes')}"
    label = "misses" if one["condition"] in off else "lacks" if one["verdict"] == "misses" else one["verdict"]
    how = f"; {one['how']}" if one.get("how") else ""
    return labelled(label, said + how, screen, "warn" if label == "misses" else "faint")


def comparison_text(told: Json, screen: Screen) -> str:
    """Plants side by side where the screen is wide enough, else one under the other; what differs comes first."""
    names = [plant["botanical"] for plant in told["plants"]]
    side = (screen.width - COLUMN - 2 * len(names)) // len(names)
    rows = _beside if side >= LEAST_SIDE else _below
    differing = [trait for trait in told["traits"] if trait["differs"]]
    same = [trait for trait in told["traits"] if not trait["differs"]]
    lines = rows("", names, names, side, screen, "bold") if rows is _beside else []
    lines += [
        line for trait in differing for line in rows(label_of(trait["trait"]), _said(trait), names, side, screen, "")
    ]
    if same:
        lines += ["", screen.styled("The same", "bold")]
        lines += [
            line
            for trait in same
            for line in labelled(label_of(trait["trait"]), _said(trait)[0], screen, column=COLUMN)
        ]
    return "\n".join(lines) + "\n"


def _said(trait: Json) -> list[str]:
    return [words_of(trait["trait"], value) if value else "not known" for value in trait["values"]]


def _beside(name: str, texts: Sequence[str], _: Sequence[str], side: int, screen: Screen, style: str) -> list[str]:
    folded = [Screen(side).fold(text) for text in texts]
    lines = []
    for place, parts in enumerate(zip_longest(*folded, fillvalue="")):
        head = screen.styled(padded("" if place else name, COLUMN), "faint")
        cut = "".join(f"  {padded(part, side)}" for part in parts).rstrip()
        lines.append(head + (screen.styled(cut, style) if style else cut))
    return lines


def _below(name: str, texts: Sequence[str], names: Sequence[str], _: int, screen: Screen, __: str) -> list[str]:
    lines = [screen.styled(name, "bold")]
    for title, text in zip(names, texts, strict=True):
        lines += screen.fold(f"{title}: {text}", "  ", "      ")
    return lines
