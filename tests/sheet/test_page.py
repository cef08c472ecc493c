"""The page itself: well formed, accessible, closed to the outside, every text escaped, its figures those of growth and plan."""

from __future__ import annotations

import re
from collections.abc import Callable
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from askplant.commands.sheet import page_of
from askplant.desk import Desk
from askplant.growth.course import course
from askplant.plan.compose import plan
from askplant.plan.plan import YEARS, Plan
from askplant.reading.reading import Hidden, Mention, Unread
from askplant.render import svg
from askplant.render.screen import clean
from askplant.sheet import AGES, first
from tests.sheet.conftest import CASES, TODAY

EMPTY = frozenset({"meta", "br", "hr", "img", "input", "link"})
CSS = (Path(svg.__file__).parent / "sheet.css").read_text(encoding="utf-8")


class Parsed(HTMLParser):
    """A page's elements: complains of a tag that is not closed where it should be."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[tuple[str, str]] = []
        self.feed(page)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert len(dict(attrs)) == len(attrs), f"an attribute of {tag} stands twice"
        self.elements.append((tag, dict(attrs)))
        if tag not in EMPTY:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open, f"{tag} ends and never began"
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open:
            self.texts.append((self.open[-1], data))

    def all(self, tag: str) -> list[dict[str, str | None]]:
        """The attributes of every element of a name."""
        return [attributes for name, attributes in self.elements if name == tag]

    def said(self, tag: str) -> str:
        """All text directly inside elements of a name."""
        return "".join(text for where, text in self.texts if where == tag)


@pytest.fixture(params=CASES)
def page(request: pytest.FixtureRequest, pages: Callable[[str], Path]) -> str:
    """The page of each case."""
    return pages(request.param).read_text(encoding="utf-8")


def test_it_is_well_formed(page: str) -> None:
    """Tags are balanced, ids unique, and what refers to an id finds it."""
    parsed = Parsed(page)
    ids = [attributes["id"] for _, attributes in parsed.elements if "id" in attributes]
    assert len(set(ids)) == len(ids)
    for attributes in parsed.all("svg"):
        assert set((attributes["aria-labelledby"] or "").split()) <= set(ids)
    filled = re.findall(r"url\(#([^)]+)\)", page)
    assert set(filled) <= set(ids)


def test_it_is_accessible(page: str) -> None:
    """Its language is said, headings go down one by one, drawings have titles and descriptions, table cells have heads."""
    parsed = Parsed(page)
    assert parsed.all("html")[0]["lang"] == "en"
    assert parsed.said("title")
    levels = [int(name[1]) for name, _ in parsed.elements if re.fullmatch(r"h[1-6]", name)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    drawings = parsed.all("svg")
    assert len(parsed.all("desc")) == len(drawings)
    assert all(attributes["role"] == "img" for attributes in drawings)
    assert all(attributes.get("scope") in ("row", "col") for attributes in parsed.all("th"))
    assert len(parsed.all("main")) == 1


def test_it_is_closed_to_the_outside(page: str) -> None:
    """No script, nothing to fetch, no font or picture from elsewhere, and a policy that forbids them."""
    parsed = Parsed(page)
    names = {name for name, _ in parsed.elements}
    assert names.isdisjoint({"script", "link", "img", "iframe", "object", "embed", "base", "form", "a", "image", "use"})
    assert "default-src 'none'" in page
    for name, attributes in parsed.elements:
        assert not any(key.startswith("on") or key in ("src", "href", "xlink:href", "style") for key in attributes), (
            name
        )
    assert "@import" not in CSS
    assert "url(" not in CSS


def luminance(colour: str) -> float:
    """Relative luminance of WCAG 2.2 (W3C, 2023)."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of WCAG 2.2: (lighter + 0.05) / (darker + 0.05)."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def test_the_formula_of_contrast() -> None:
    """Published: black on white is 21:1, and #767676 is the lightest grey that comes to 4.5:1 on white (WebAIM)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


def test_contrast() -> None:
    """Texts come to 7:1 on paper and 4.5:1 on leaves (WCAG 2.2, AAA and AA), lines to 3:1; drawings use the page's colours."""
    named = dict(re.findall(r"--(\w+): (#[0-9a-f]{6})", CSS))
    assert (named["ink"], named["soft"], named["leaf"], named["paper"]) == (svg.INK, svg.SOFT, svg.LEAF, svg.PAPER)
    for text in (svg.INK, svg.SOFT):
        assert contrast(text, svg.PAPER) >= 7
        assert contrast(text, svg.LEAF) >= 4.5
    body = CSS.partition("}")[2]
    assert set(re.findall(r"#[0-9a-fA-F]{3,8}\b", body)) == set()


def test_sizes_drawn_are_those_of_growth(desk: Desk) -> None:
    """Every plant is drawn as high and wide as its course says, at each age."""
    answer = desk.ask("evergreen screen to hide a 6 ft fence, zone 7a, part shade", noted=False)
    plants = first(answer)
    found = Parsed(page_of(desk, answer, plants, today=TODAY))
    drawn = [
        (float(one["data-height"] or 0), float(one["data-width"] or 0))
        for one in found.all("path")
        if "data-height" in one
    ]
    told = []
    for plant in plants:
        height, width = course(desk.base, plant, "height"), course(desk.base, plant, "width")
        assert height is not None
        assert width is not None
        told += [(round(height.at(age).middle, 3), round(width.at(age).middle, 3)) for age in AGES]
    assert drawn == told
    assert {one["data-height"] for one in found.all("rect") if "data-height" in one} == {"1.829"}  # 6 ft


def test_a_drawing_is_to_scale(desk: Desk) -> None:
    """Within one drawing heights in units are as heights in metres."""
    answer = desk.ask("narrow evergreen shrub, zone 7a, part shade", noted=False)
    found = Parsed(page_of(desk, answer, first(answer)[:1], today=TODAY))
    ratios = []
    for one in found.all("path"):
        if "data-height" in one:
            ys = [float(y) for y in re.findall(r"[\d.]+ ([\d.]+)", (one["d"] or "").replace("C", " ").replace("M", ""))]
            ratios.append((max(ys) - min(ys)) / float(one["data-height"] or 1))
    assert len(ratios) == len(AGES)
    assert max(ratios) == pytest.approx(min(ratios), rel=0.05)


def test_the_row_is_the_plan(desk: Desk) -> None:
    """Trunks stand where the plan puts them, and crowns are as wide and high as it says."""
    answer = desk.ask("60 ft screen, 10 ft tall, zone 6b, part shade", noted=False)
    row = plan(answer, desk.base)
    assert isinstance(row, Plan)
    found = Parsed(page_of(desk, answer, first(answer, row), row=row, today=TODAY))
    at = [(one["data-at"], one["data-width"]) for one in found.all("circle") if "data-at" in one]
    widths = [kind.widths[YEARS.index(20)].middle for kind in row.kinds]
    assert at == [(f"{place.at:.3f}", f"{widths[place.kind]:.3f}") for place in row.positions]
    high = sorted(f"{row.kinds[place.kind].heights[YEARS.index(20)].middle:.3f}" for place in row.positions)
    drawn = [one["data-height"] for one in found.all("path") if "row20" in str(one.get("fill"))]
    assert sorted(str(one) for one in drawn) == high


@pytest.fixture(scope="module")
def plain(desk: Desk) -> Any:
    """An answer to put other words into, and the elements of its page."""
    answer = desk.ask("evergreen screen to hide a 6 ft fence, zone 7a", noted=False)
    return desk, answer, first(answer)[:1]


HOSTILE = ["<script>alert(1)</script>", "</style><b>", "$style ${x}", "&amp;&lt;", "'\"><i x='"]


@settings(max_examples=25, deadline=None)
@given(text=st.text(max_size=60) | st.sampled_from(HOSTILE))
def test_any_text_is_escaped(plain: Any, text: str) -> None:
    """Whatever a request holds is shown as it is, and makes no element."""
    desk, answer, plants = plain
    reading = answer.reading
    said = reading._replace(
        request=text,
        conditions=tuple(one._replace(text=text, note=text) for one in reading.conditions),
        unread=(Unread(text, (0, 1), text),),
        named=(Mention(text, "considered", text, (0, 1)),),
        hides=Hidden(text, 1.8, (0, 1)),
    )
    found = Parsed(page_of(desk, answer._replace(reading=said), plants, today=TODAY))
    assert found.said("blockquote") == clean(text)
    usual = Parsed(page_of(desk, answer, plants, today=TODAY))
    assert {name for name, _ in found.elements} <= {name for name, _ in usual.elements} | {"span", "div"}


def test_what_is_not_known_is_said(pages: Callable[[str], Path]) -> None:
    """Without a zone no care is told, without a match no plant, and without a length no row; each is said."""
    told = ("no zone", "nothing", "no row", "hidden fence", "cautions")
    read = {case: pages(case).read_text(encoding="utf-8") for case in told}
    assert "says nothing of the zone" in read["no zone"]
    assert "March" not in Parsed(read["no zone"]).said("h3")
    assert "None of" in read["nothing"]
    assert "A small change would bring in" in read["nothing"]
    assert "No plan: no length of row is said." in read["no row"]
    assert "6 ft fence" in read["hidden fence"]
    assert "does not fit" in read["cautions"]
    assert "poison center" in read["cautions"]
    assert "not read" in read["cautions"]


def test_the_same_page_each_time(desk: Desk) -> None:
    """Two pages of one answer are equal."""
    answer = desk.ask("evergreen, zone 7a", noted=False)
    assert page_of(desk, answer, first(answer), today=TODAY) == page_of(desk, answer, first(answer), today=TODAY)
