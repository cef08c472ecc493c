"""`askplant hold`: whether a plant can be held at a size, and what that takes."""

from __future__ import annotations

import sys
from argparse import Namespace

from askplant import statuses
from askplant.answer.keeping import keep
from askplant.commands.arguments import Parser, add_common
from askplant.commands.setting import desk_of, plain_screen_of
from askplant.errors import UserError
from askplant.quantities.lengths import FOOT
from askplant.quantities.quantity import Extent, parse_size
from askplant.render.as_json import dumped
from askplant.render.keeping import kept_json, kept_text

EXAMPLES = (
    'askplant hold inkberry "4 ft"',
    'askplant hold "Taxus × media" "3 ft" --width',
    'askplant hold yew "1.8 m" --json',
)
# Sizes that anybody could hold a plant at, m: from half a foot to the tallest tree measured.
LEAST, MOST = 0.5 * FOOT, 116.0


def parser() -> Parser:
    """Arguments of `askplant hold`."""
    parser = Parser("hold", "Whether a plant can be held at a size below its own, and what that takes.", EXAMPLES)
    parser.add_argument("plant", metavar="PLANT", help="a plant's name; quoted where it has several words")
    parser.add_argument("size", metavar="SIZE", help='the height with its unit, quoted: "6 ft", "5 ft 6 in", "1.8 m"')
    parser.add_argument("--width", dest="wide", action="store_true", help="SIZE is its width")
    add_common(parser, width=False)
    return parser


def run(arguments: Namespace) -> int:
    """Tell what holding a plant at a size comes to."""
    size = _size(arguments.size)
    desk = desk_of(arguments)
    n = desk.one(arguments.plant)
    units = desk.units or ("metric" if size.metric else "us")
    told = keep(desk.base, n, "width" if arguments.wide else "height", size.high)
    if arguments.json:
        sys.stdout.write(dumped(kept_json(told, desk.plant(n), units), sys.stdout) + "\n")
    else:
        sys.stdout.write(kept_text(told, desk.plant(n), plain_screen_of(arguments), units))
    return statuses.FITS


def _size(text: str) -> Extent:
    """A length in metres; of a range its end."""
    try:
        size = parse_size(text)
    except ValueError:
        raise UserError(f"found size `{text}`; expected a length with its unit (6 ft, 1.8 m)") from None
    if not LEAST <= size.high <= MOST:
        raise UserError(f"found size `{text}`; expected a length from 6 in to {MOST:g} m")
    return size
