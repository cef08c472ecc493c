"""`askplant why`: every verdict of a request on one plant, or on each plant that bears a name."""

from __future__ import annotations

import sys
from argparse import Namespace

from askplant import statuses
from askplant.answer import single
from askplant.commands.arguments import Parser, add_common, add_stock, add_text
from askplant.commands.requests import text_of
from askplant.commands.setting import desk_of, screen_of
from askplant.desk import Desk
from askplant.finding import Found
from askplant.reading.reading import Reading, as_json
from askplant.render.as_json import dumped
from askplant.render.plant import reasons_text
from askplant.render.screen import Screen
from askplant.render.wording import worded_reasons

EXAMPLES = (
    'askplant why "Ilex crenata \'Sky Pencil\'" "narrow evergreen for wet clay, zone 7"',
    'askplant why "emerald green arborvitae" "screen, deer-proof, part shade" --json',
)

Json = dict[str, object]


def parser() -> Parser:
    """Arguments of `askplant why`."""
    parser = Parser("why", "Every verdict of a request on one plant, matched or not.", EXAMPLES)
    about = "an id, a botanical name, a synonym or a common name; quoted where it has several words"
    parser.add_argument("plant", metavar="PLANT", help=about)
    add_text(parser)
    add_stock(parser)
    add_common(parser)
    return parser


def run(arguments: Namespace) -> int:
    """Judge the plants of a name."""
    text = text_of(arguments.text, "askplant why")
    desk = desk_of(arguments)
    found, reading = desk.find(arguments.plant), desk.read(text)
    if arguments.json:
        sys.stdout.write(dumped(_json(found, reading, desk), sys.stdout) + "\n")
    else:
        sys.stdout.write(explained(found, reading, desk, screen_of(arguments)))
    return statuses.FITS


def explained(found: Found, reading: Reading, desk: Desk, screen: Screen) -> str:
    """The verdicts on each plant of a name, as text."""
    units = desk.units or reading.units
    return "\n".join(reasons_text(told, reading, screen, units) for told in _each(found, reading, desk))


def _json(found: Found, reading: Reading, desk: Desk) -> Json:
    each = _each(found, reading, desk)
    told = each[0] if len(each) == 1 else {"name": found.shown, "plants": each}
    return {"reading": as_json(reading), **told}


def _each(found: Found, reading: Reading, desk: Desk) -> list[Json]:
    return [worded_reasons(single.why(desk.base, reading, n, desk.stock), desk.base, desk.units) for n in found.plants]
