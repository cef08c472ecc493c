"""`askplant show`: all that the base holds of a plant, or the plants that bear a name."""

from __future__ import annotations

import sys
from argparse import Namespace

from askplant import statuses
from askplant.answer import single
from askplant.answer.substitute import substitute
from askplant.commands.arguments import Parser, add_common, add_stock
from askplant.commands.setting import desk_of, screen_of
from askplant.desk import Desk
from askplant.finding import Found
from askplant.render.as_json import dumped
from askplant.render.plant import bearers_text, observed_json, portrait_text
from askplant.render.screen import Screen
from askplant.render.stocked import stock_json, stock_words
from askplant.render.wording import worded_portrait

EXAMPLES = (
    "askplant show inkberry",
    "askplant show \"Ilex crenata 'Sky Pencil'\" --units metric",
    "askplant show holly --json",
)


def parser() -> Parser:
    """Arguments of `askplant show`."""
    parser = Parser("show", "All that the base holds of a plant, every value with its source.", EXAMPLES)
    parser.add_argument("plant", nargs="+", metavar="PLANT", help="an id, a botanical name, a synonym or a common name")
    add_stock(parser)
    add_common(parser)
    return parser


def run(arguments: Namespace) -> int:
    """Show one plant, or the plants that bear a name."""
    desk = desk_of(arguments)
    found = desk.find(" ".join(arguments.plant))
    if arguments.json:
        sys.stdout.write(dumped(_json(found, desk), sys.stdout) + "\n")
    else:
        sys.stdout.write(shown(found, desk, screen_of(arguments)))
    return statuses.FITS


def shown(found: Found, desk: Desk, screen: Screen) -> str:
    """What a name stands for, as text."""
    told = _json(found, desk)
    if "plants" in told:
        return bearers_text(told, screen)
    return portrait_text(told, screen, desk.units or "us", desk.base.source)


def _json(found: Found, desk: Desk) -> dict[str, object]:
    if len(found.plants) == 1:
        (n,) = found.plants
        told = worded_portrait(single.show(desk.base, n), desk.base, desk.units or "us") | _stock(n, desk)
        return told | {"observations": [observed_json(seen) for seen in desk.base.observations(n)]}
    plants = [desk.plant(n) for n in found.plants]
    return {"name": found.shown, "plants": [{"plant": plant.id, "botanical": plant.botanical} for plant in plants]}


def _stock(n: int, desk: Desk) -> dict[str, object]:
    """What the stock list has of a plant, and the plant most like it that is there where it has none; nothing without a list."""
    if desk.stock is None:
        return {}
    offers = desk.stock.of(n)
    nearest = None if offers else substitute(desk.base, n, sorted(desk.stock.by_plant))
    told = stock_json(offers, nearest, desk.base, desk.units or "us", desk.stock.of)
    return {"stock": told | {"text": stock_words(offers, nearest, told, desk.stock.of)}}
