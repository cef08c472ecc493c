"""A plan as text: what is read out first, then the plants, where each stands, the picture, care, cautions, and on what it
rests. Everything said stands in the published form; this module only sets it out.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from askplant.plan.plan import YEARS
from askplant.quantities.lengths import FOOT, Units, say
from askplant.render.asked import joined
from askplant.render.elevation import Figure, drawn, pointed, ruled, scale_for
from askplant.render.plan import near, tape
from askplant.render.plan_words import aside_words
from askplant.render.screen import Screen, cells, clean, padded
from askplant.render.text import mark

Json = dict[str, Any]
RULE: dict[Units, tuple[float, float]] = {"us": (10 * FOOT, FOOT), "metric": (5.0, 1.0)}
LISTED = 10  # rows of a stock list told of each kind
UNIT = 4  # columns for the unit behind the ruler


def plan_text(told: Json, understood: Sequence[str], screen: Screen, units: Units) -> str:
    """The whole plan, or why there is none. `understood` is the request as read."""
    plan = told["plan"]
    if plan is None:
        why = told["why"]
        parts = [_bold(screen, screen.fold(f"{why['text']} {why['change']}")), list(understood)]
        parts.append(_part("Stock", _left_out(why, screen) if "unmatched" in why else [], screen))
    else:
        parts = [
            [line for n, sentence in enumerate(plan["says"]) for line in _lead(sentence, n, screen)],
            list(understood),
            _part("The plants", _plants(plan, screen, units), screen),
            _part(f"Where each stands, from the start{_rows(plan)}", _positions(plan, screen, units), screen),
            _part("Seen from the front, to scale, beside a person", _pictures(plan, screen, units), screen),
            _part("Height × width over the years, if nobody prunes", _years(plan, screen, units), screen),
            _part("What they need for what was asked", _cares(told, screen), screen),
            _part("To hold", _holds(plan, screen), screen),
            _part("Stock", _stock(plan, screen), screen),
            _part("Cautions", _cautions(plan, screen), screen),
            _part("What this rests on", _rests(plan, screen), screen),
        ]
    return "\n\n".join("\n".join(part) for part in parts if part) + "\n"


def _bold(screen: Screen, lines: Sequence[str]) -> list[str]:
    return [screen.styled(line, "bold") for line in lines]


def _lead(sentence: str, n: int, screen: Screen) -> list[str]:
    lines = screen.fold(sentence)
    return _bold(screen, lines) if n == 0 else lines


def _part(heading: str, lines: Sequence[str], screen: Screen) -> list[str]:
    return [*_bold(screen, screen.fold(heading)), *lines] if lines else []


def _rows(plan: Json) -> str:
    return " (F in the front row, B in the back one)" if plan["rows"] == "staggered" else ""


def _plants(plan: Json, screen: Screen, units: Units) -> list[str]:
    lines: list[str] = []
    for kind in plan["plants"]:
        common = f" ({kind['common']})" if kind["common"] else ""
        lead = f"  {kind['key']}  {kind['count']:>3}  "
        lines += _bold(screen, screen.fold(kind["botanical"] + common, lead))
        lines += screen.fold("; ".join(_facts(kind, units)), " " * cells(lead))
    return lines


def _facts(kind: Json, units: Units) -> list[str]:
    """What it takes of the row, what it is, its rank, when it is pruned, what it costs."""
    grown = kind["years"][-1]
    found = [
        f"takes {say(kind['spacing'], units)} of the row each",
        f"{kind['reach_words']}",
        f"{near(grown['height']['middle'], units)} × {near(grown['width']['middle'], units)} at 20 years",
        str(kind["persistence"] or "leaf in winter not known"),
        f"number {kind['rank']} of the answer",
    ]
    if kind["prune"]:
        found.append(f"prune: {kind['prune']}")
    sold = [
        str(part)
        for part in (kind["container"], f"{kind['price']:.2f} each" if kind["price"] is not None else None)
        if part
    ]
    return [*found, ", ".join(sold)] if sold else found


def _positions(plan: Json, screen: Screen, units: Units) -> list[str]:
    """One line a plant, or two columns of them where the row is long and the screen wide enough."""
    names = {kind["key"]: kind["botanical"] for kind in plan["plants"]}
    lines = []
    for place in plan["positions"]:
        row = {1: "F ", 2: "B "}[place["row"]] if plan["rows"] == "staggered" else ""
        lines.append(f"  {place['n']:>3}  {tape(place['at'], units):>12}  {row}{place['key']}  {names[place['key']]}")
    spot = plan["spot"]
    nearest = min(
        (place for place in plan["positions"] if place["plant"] == spot["plant"]),
        key=lambda place: abs(place["at"] - spot["at"]),
    )
    at = nearest["n"] - 1
    marked = f"{lines[at]}  <- {'the spot' if spot['said'] else 'the middle'}, {say(spot['at'], units)}"
    lines[at] = marked if cells(marked) <= screen.width else lines[at]
    return [line if cells(line) <= screen.width else line[: screen.width] for line in lines]


def _pictures(plan: Json, screen: Screen, units: Units) -> list[str]:
    kinds = {kind["key"]: kind for kind in plan["plants"]}
    tallest = max(size["height"]["middle"] for kind in plan["plants"] for size in kind["years"])
    scale = scale_for(plan["run"], tallest, screen.width - UNIT)
    lines: list[str] = []
    for n, year in enumerate(YEARS):
        figures = [
            Figure(
                place["key"][0],
                place["at"],
                kinds[place["key"]]["years"][n]["height"]["middle"],
                kinds[place["key"]]["years"][n]["width"]["middle"],
                kinds[place["key"]]["form"],
            )
            for place in sorted(plan["positions"], key=lambda place: -place["row"])
        ]
        title = "At planting" if year == 0 else f"Year {year}"
        reach = plan["reach"] if year else None
        lines += ["", f"  {title}", *drawn(figures, scale, reach, say(plan["reach"], units).replace(" ", ""))]
    step, unit = RULE[units]
    word = "the spot" if plan["spot"]["said"] else "the middle"
    ruler = f"{ruled(plan['run'], scale, step, unit)} {'ft' if units == 'us' else 'm'}"
    return [*lines[1:], *(line[: screen.width] for line in (ruler, pointed(plan["spot"]["at"], scale, word)))]


def _years(plan: Json, screen: Screen, units: Units) -> list[str]:
    """A table: one line a kind, one column a year, height by width at their middle."""
    rows = [["", *(f"year {year}" if year else "planting" for year in YEARS)]]
    for kind in plan["plants"]:
        sizes = [
            f"{_number(size['height']['middle'], units)} × {_number(size['width']['middle'], units)}"
            for size in kind["years"]
        ]
        rows.append([kind["key"], *sizes])
    widths = [max(cells(row[n]) for row in rows) for n in range(len(rows[0]))]
    unit = "ft" if units == "us" else "m"
    rows[0][0] = padded(unit, widths[0])
    lines = [
        "  " + "  ".join(padded(cell, width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows
    ]
    if max(map(cells, lines)) <= screen.width:
        return lines
    lines = [f"  {unit}"]
    for key, *sizes in rows[1:]:
        told = ", ".join(f"{year} {size}" for year, size in zip(rows[0][1:], sizes, strict=True))
        lines += screen.fold(told, f"  {key}  ")
    return lines


def _number(metres: float, units: Units) -> str:
    value = metres / FOOT if units == "us" else metres
    if units == "us" and value < 1:  # whole feet would round it to nothing
        return near(metres, units)
    return f"{value:.0f}" if value >= 10 or units == "us" else f"{value:.1f}"


def _cares(told: Json, screen: Screen) -> list[str]:
    """Each wish that a plant meets with care only, and what to do; then what is not known of it. How a size that it outgrows
    is held stands under To hold.
    """
    lines: list[str] = []
    for kind in told["plan"]["plants"]:
        held = {one["axis"] for one in kind["unpruned"]}
        texts = [
            f"{one['asked']}: {one['how']}."
            for one in kind["with_care"]
            if told["reading"]["conditions"][one["condition"]]["trait"] not in held
        ]
        texts += [f"{one['asked']}: not known." for one in kind["not_known"]]
        for n, text in enumerate(texts):
            lines += screen.fold(text, f"  {'' if n else kind['key']:<{len(kind['key'])}}  ", "     ")
    return lines


def _holds(plan: Json, screen: Screen) -> list[str]:
    """What passes a bound that was asked, and the yearly cut."""
    lines: list[str] = []
    for kind in plan["plants"]:
        for one in kind["unpruned"]:
            lines += screen.fold(f"in 20 years unpruned {one['text']}.", f"  {kind['key']}  ", "     ")
    if not lines and (plan["top"] or plan["depth"]):
        return list(screen.fold("Nothing: no plant outgrows what was asked within 20 years.", "  "))
    return lines


def _stock(plan: Json, screen: Screen) -> list[str]:
    stock = plan["stock"]
    if stock is None:
        return []
    lines: list[str] = []
    if stock["total"] is not None:
        more = f", and {stock['unpriced']} plants without a price" if stock["unpriced"] else ""
        costs = joined(
            [
                f"{k['count']} {k['key']} {k['count'] * k['price']:.2f}"
                for k in plan["plants"]
                if k["price"] is not None
            ],
            "and",
        )
        within = f", within the {stock['budget']:.2f} asked" if stock["budget"] is not None else ""
        lines += screen.fold(f"The plants cost {stock['total']:.2f}{within}{more} ({costs}).", "  ")
    elif stock["budget"] is not None:
        lines += screen.fold(
            f"The list gives these plants no prices: the {stock['budget']:.2f} asked are not counted.", "  "
        )
    for one in stock["substitutes"]:
        lines += screen.fold(one["text"], "  ")
    return lines + _left_out(stock, screen)


def _left_out(stock: Json, screen: Screen) -> list[str]:
    """The lines of a stock list that were left out and the cells that were not read, the first few of each, and the number."""
    unmatched, unread = stock["unmatched"], stock["not_read"]
    texts = []
    for one in unmatched[:LISTED]:
        near = f" (such as {', '.join(one['nearest'])})" if one["nearest"] else ""
        texts.append(f"Row {one['row']}, “{clean(one['name'])}”, is no one plant of the base{near}: left out.")
    texts += [
        f"Row {one['row']}, “{clean(one['name'])}”: not read: {clean(', '.join(one['cells']))}."
        for one in unread[:LISTED]
    ]
    more = max(len(unmatched) - LISTED, 0) + max(len(unread) - LISTED, 0)
    if more:
        texts.append(f"And {more} more such rows: askplant stock check lists them all.")
    return [line for text in texts for line in screen.fold(text, "  ")]


def _cautions(plan: Json, screen: Screen) -> list[str]:
    """Those of the row in full, then those of its plants; who decides stands once."""
    lines: list[str] = []
    for caution in plan["cautions"]:
        lines += screen.fold(caution["text"], "  ", "    ")
    last: dict[str, None] = {}
    for kind in plan["plants"]:
        for caution in kind["cautions"]:
            lines += screen.fold(mark(caution), f"  {kind['key']}  ", "     ")
            _, stop, decides = caution["text"].rpartition(". ")
            last |= {decides: None} if stop else {}
    return lines + [line for text in last for line in screen.fold(text, "  ", "    ")]


def _rests(plan: Json, screen: Screen) -> list[str]:
    aside = aside_words(tuple(plan["set_aside"].items()))
    others = f"; of the other matches looked at, {aside}" if aside else ""
    chosen = f"Chosen as a whole from {plan['considered']} plants that fit and can screen{others}."
    texts = [chosen, *plan["assumptions"], *plan["sources"]]
    return [line for text in texts for line in screen.fold(text, "  ", "    ")]
