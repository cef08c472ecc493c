"""`askplant compare`: plants side by side, what differs first."""

from __future__ import annotations

import sys
from argparse import Namespace

from askplant import statuses
from askplant.commands.arguments import Parser, add_common
from askplant.commands.setting import desk_of, screen_of
from askplant.errors import UserError
from askplant.render.as_json import dumped
from askplant.render.plant import comparison_text
from askplant.render.wording import worded_comparison

EXAMPLES = (
    'askplant compare inkberry "Japanese holly"',
    "askplant compare \"Thuja 'Green Giant'\" \"Thuja occidentalis 'Smaragd'\" --units metric",
)


def parser() -> Parser:
    """Arguments of `askplant compare`."""
    parser = Parser("compare", "Plants side by side, what differs first.", EXAMPLES)
    about = "an id, a botanical name, a synonym or a common name; each quoted where it has several words"
    parser.add_argument("plants", nargs="+", metavar="PLANT", help=about)
    add_common(parser)
    return parser


def run(arguments: Namespace) -> int:
    """Compare the plants named."""
    if len(arguments.plants) < 2:
        raise UserError("at least two plants to compare, each quoted (see askplant compare --help)")
    desk = desk_of(arguments)
    told = worded_comparison(desk.compare(*arguments.plants), desk.base, desk.units or "us")
    sys.stdout.write(dumped(told, sys.stdout) + "\n" if arguments.json else comparison_text(told, screen_of(arguments)))
    return statuses.FITS
