"""A sheet as one page of HTML that stands alone: no script, no font or picture from elsewhere, every text escaped.

The words are those of sheet_words.py, the look is sheet.css, the frame sheet.html; this module only sets out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from string import Template
from typing import Any, Literal

from askplant.plan.plan import Plan
from askplant.quantities.lengths import Units, say
from askplant.render import svg_growth, svg_row, svg_sizes
from askplant.render.plan import near, tape
from askplant.render.sheet_words import (
    NO_ZONE,
    Asked,
    Care,
    Labelled,
    Month,
    PlantWords,
    SheetWords,
    Sourced,
    sheet_words,
)
from askplant.render.svg import element, text_of
from askplant.render.svg_growth import Level
from askplant.render.svg_sizes import Age
from askplant.sheet import AGES, Chosen, Sheet

Json = dict[str, Any]
Paper = Literal["letter", "a4"]
PAPERS: dict[Units, Paper] = {"us": "letter", "metric": "a4"}
# From how many plants on the words stand beside the drawings on paper, and take more of the width, to come to two pages.
SOME, MANY = 2, 4
# Characters of a sheet from which it is set smaller on paper, to come to two pages; tried on sheets of one to six plants.
FULL, CROWDED, PACKED = 5600, 8600, 11600
_SIZES = (("plain", FULL), ("full", CROWDED), ("crowded", PACKED))
# The years in which the row is drawn from the front, and the one in which it is seen from above.
ROW_YEARS, ABOVE = (5, 20), 20


def sheet_page(sheet: Sheet, base: Sourced, units: Units, paper: Paper | None = None) -> str:
    """The page. Lengths are said in `units`; `paper` is what it is printed on, else that of the units."""
    words = sheet_words(sheet, base, units)
    sections = [
        _section("What was asked", _asked(words)),
        _section("The plants, over the years", _plants(sheet, words, units)),
        _section("The row", _row(sheet, words, units)),
        _section("A small change would bring in", _listed(words.changes, "fine")),
        _section("Care through the year", _care(words.care) if sheet.chosen else ()),
        _section("Cautions", _listed(words.cautions if sheet.chosen else (), "fine")),
        _section("Names", _listed(words.names, "fine")),
        _section("Where the figures come from", _listed(words.sources, "fine soft")),
    ]
    return Template(_beside("sheet.html")).substitute(
        title=text_of(words.title),
        paper=paper or PAPERS[units],
        style=_beside("sheet.css"),
        size=_size(words),
        heading=text_of(words.heading),
        request=text_of(words.request),
        fit=text_of(words.fit),
        sections="\n".join(section for section in sections if section),
    )


def _beside(name: str) -> str:
    return Path(__file__).with_name(name).read_text(encoding="utf-8")


def _size(words: SheetWords) -> str:
    """How small the letters are on paper."""
    care = [text for month in words.care.months for _, text in month.begins] if words.care else []
    unknown = words.care.unknown if words.care else ()
    said = [text for plant in words.plants for _, text in plant.said]
    amount = sum(map(len, (*care, *unknown, *said, *words.cautions, *words.names, *words.sources)))
    amount += 60 * len(words.asked) + 700 * len(words.plants) + (2400 if words.row else 0)
    return next((size for size, most in _SIZES if amount <= most), "crowded packed")


def _section(heading: str, parts: Iterable[str]) -> str:
    inside = "\n".join(parts)
    return f"<section>\n<h2>{text_of(heading)}</h2>\n{inside}\n</section>" if inside else ""


def _listed(texts: Sequence[str], kind: str) -> Iterator[str]:
    if texts:
        yield element("ul", {"class": kind}, *(element("li", {}, text_of(text)) for text in texts))


def _asked(words: SheetWords) -> Iterator[str]:
    if words.asked:
        yield element("ul", {"class": "asked"}, *(element("li", {}, *_condition(one)) for one in words.asked))
    else:
        yield element("p", {}, "No wish was understood that the base could judge.")
    yield from _said(words.beside)


def _condition(one: Asked) -> Iterator[str]:
    yield element("span", {"class": "kind"}, text_of(one.strength)) + f" {text_of(one.read)}"
    if one.words and one.words.casefold() != one.read.casefold():
        yield " " + element("span", {"class": "soft"}, f"“{text_of(one.words)}”")
    if one.note:
        yield element("div", {"class": "soft small"}, text_of(one.note))


def _said(said: Sequence[Labelled]) -> Iterator[str]:
    if said:
        pairs = (element("dt", {}, text_of(label)) + element("dd", {}, text_of(text)) for label, text in said)
        yield element("dl", {"class": "said"}, *pairs)


def _plants(sheet: Sheet, words: SheetWords, units: Units) -> Iterator[str]:
    if not sheet.chosen:
        return
    yield element("p", {"class": "soft small"}, text_of(words.legend))
    each = (
        _plant(one, said, n, sheet, units) for n, (one, said) in enumerate(zip(sheet.chosen, words.plants, strict=True))
    )
    yield element("div", {"class": _crowd(len(sheet.chosen))}, *each)
    yield from _listed(words.unsure, "fine soft small")
    if sheet.more:
        yield element(
            "p", {}, text_of(f"{len(sheet.more)} more plants of the row have no room here; they stand in its table.")
        )


def _crowd(count: int) -> str:
    return "beside many" if count >= MANY else "beside" if count >= SOME else "alone"


def _plant(one: Chosen, said: PlantWords, n: int, sheet: Sheet, units: Units) -> str:
    mark = element("span", {"class": "mark"}, f"{text_of(said.mark)} ") if said.mark else ""
    common = element("span", {"class": "common"}, f" – {text_of(said.common)}") if said.common else ""
    name = element("h3", {}, mark, text_of(said.botanical), common)
    told = element("div", {}, name, element("p", {}, text_of(said.size)), *_said(said.said))
    return element("section", {"class": "plant"}, told, *_figures(one, said.botanical, f"plant{n}", sheet, units))


def _figures(one: Chosen, botanical: str, name: str, sheet: Sheet, units: Units) -> Iterator[str]:
    if one.height is None or one.prospect.height is None:
        return
    hides = sheet.answer.reading.hides
    widths = one.width.sizes if one.width is not None else (None,) * len(AGES)
    ages = [Age(*age) for age in zip(AGES, one.height.sizes, widths, strict=True)]
    sizes = svg_sizes.drawn(
        f"{name}-sizes", f"{botanical} over twenty years, to scale", ages, one.form, one.tree, hides, units
    )
    label = one.prospect.height.course.known.label
    level = Level(f"tags: {say(label[1], units)}", label[1]) if label is not None else None
    if hides is not None:
        level = Level(f"to hide: {say(hides.height, units)}", hides.height)
    growth = svg_growth.plotted(
        f"{name}-growth",
        f"Growth of {botanical}",
        svg_growth.in_words(one.height, one.width, units),
        (one.height, one.width),
        one.prospect.height.course.known.seen,
        level,
        units,
    )
    yield element("div", {"class": "figures"}, element("figure", {}, sizes), element("figure", {}, growth))


def _row(sheet: Sheet, words: SheetWords, units: Units) -> Iterator[str]:
    if words.row is None:
        return
    told = words.row["plan"]
    if told is None:
        why = words.row["why"]
        yield element("p", {}, text_of(f"{why['text']} {why['change']}"))
        return
    assert isinstance(sheet.plan, Plan)
    yield element("p", {}, text_of(" ".join(told["says"])))
    yield element("div", {"class": _pair(sheet.plan)}, *_views(sheet.plan, units), _places(told, units))
    yield _kinds(told, units)
    holds = [f"{kind['key']}: unpruned {one['text']}." for kind in told["plants"] for one in kind["unpruned"]]
    if holds:
        yield element("h3", {}, "To hold")
        yield from _listed(holds, "fine")


def _pair(plan: Plan) -> str:
    return "pair long" if len(plan.positions) > svg_row.MANY else "pair"


def _views(plan: Plan, units: Units) -> Iterator[str]:
    for year in ROW_YEARS:
        title = f"The row from the front, year {year}"
        yield _view(
            plan, svg_row.front(f"row{year}", title, plan, year, units), f"{title}. Dashed: the height to come to."
        )
    title = f"The row from above, year {ABOVE}"
    caption = f"{title}: numbers as in the list, the triangle marks the place that matters most."
    yield _view(plan, svg_row.above("above", title, plan, ABOVE, units), caption)


def _view(plan: Plan, drawing: str, caption: str) -> str:
    """A drawing of the row; one that is moved sideways on a phone can be reached by keyboard too."""
    moved = {"tabindex": 0} if len(plan.positions) > svg_row.MANY else {}
    return element("figure", moved, drawing, element("figcaption", {}, text_of(caption)))


def _places(told: Json, units: Units) -> str:
    heading = element("h3", {}, "Where each stands, from the start to its trunk")
    each = (element("li", {}, _place(place, told, units)) for place in told["positions"])
    return element("div", {}, heading, element("ol", {"class": "places"}, *each))


def _kinds(told: Json, units: Units) -> str:
    heads = ("key", "plant", "how many", "room each", "year 5", "year 10", "year 20", "to the height")
    rows = []
    for kind in told["plants"]:
        sizes = (_by(kind, year, units) for year in (5, 10, 20))
        said = (kind["botanical"], str(kind["count"]), say(kind["spacing"], units), *sizes, kind["reach_words"])
        cells = (element("td", {}, text_of(text)) for text in said)
        rows.append(element("tr", {}, element("th", {"scope": "row"}, text_of(kind["key"])), *cells))
    top = element("tr", {}, *(element("th", {"scope": "col"}, text_of(head)) for head in heads))
    table = element("table", {}, element("thead", {}, top), element("tbody", {}, *rows))
    return element("div", {"class": "wide", "role": "region", "aria-label": "Plants of the row", "tabindex": 0}, table)


def _by(kind: Json, year: int, units: Units) -> str:
    """Height × width in a year."""
    size = next(size for size in kind["years"] if size["year"] == year)
    return f"{near(size['height']['middle'], units)} × {near(size['width']['middle'], units)}"


def _place(place: Json, told: Json, units: Units) -> str:
    row = {1: ", front", 2: ", back"}[place["row"]] if told["rows"] == "staggered" else ""
    at = " ".join(tape(place["at"], units).split())
    return text_of(f"{place['n']}. {place['key']} at {at}{row}")


def _care(care: Care | None) -> Iterator[str]:
    if care is None:
        yield element("p", {}, text_of(NO_ZONE))
        return
    yield element("p", {"class": "small lead"}, text_of(" ".join(care.lead)))
    yield element("div", {"class": "months"}, *(_month(month) for month in care.months))
    if care.unknown:
        yield element("h3", {}, "Not known, and to know")
        yield from _listed(care.unknown, "fine")


def _month(month: Month) -> str:
    tasks = [
        element("li", {}, element("span", {"class": "kind"}, text_of(kind)), f" {text_of(text)}")
        for kind, text in month.begins
    ]
    still = f"still {month.still}" if month.still else "" if tasks else "nothing to do"
    last = element("p", {"class": "soft"}, text_of(still)) if still else ""
    name = element("h3", {}, text_of(month.name))
    return element(
        "section",
        {"class": "month" if tasks else "month quiet"},
        name,
        element("ul", {}, *tasks) if tasks else "",
        last,
    )
