"""`askplant growth`: how high and how wide a plant is over the years."""

from __future__ import annotations

import argparse
import math
import sys
from argparse import Namespace

from askplant import statuses
from askplant.commands.arguments import Parser, add_common
from askplant.commands.setting import desk_of, screen_of

EXAMPLES = (
    "askplant growth inkberry",
    "askplant growth \"Thuja 'Green Giant'\" --years 30 --at 7",
    "askplant growth inkberry --units metric --json",
)
USUAL_YEARS, MOST_YEARS = 20, 100


def parser() -> Parser:
    """Arguments of `askplant growth`."""
    parser = Parser("growth", "How high and wide a plant is over the years, and how sure that is.", EXAMPLES)
    parser.add_argument("plant", nargs="+", metavar="PLANT", help="an id, a botanical name, a synonym or a common name")
    parser.add_argument(
        "--years", type=_years, default=USUAL_YEARS, metavar="N", help=f"how far to look ahead, else {USUAL_YEARS}"
    )
    parser.add_argument("--at", type=_age, metavar="AGE", help="the size after AGE years in the ground")
    add_common(parser)
    return parser


def run(arguments: Namespace) -> int:
    """Tell one plant's growth."""
    # A plot is drawn in this command alone.
    from askplant.growth.prospect import prospect
    from askplant.render.as_json import dumped
    from askplant.render.growing import prospect_json, prospect_text

    desk = desk_of(arguments)
    n = desk.one(" ".join(arguments.plant))
    told = prospect(desk.base, n, arguments.years, arguments.at)
    if arguments.json:
        sys.stdout.write(dumped(prospect_json(told, desk.plant(n)), sys.stdout) + "\n")
    else:
        sys.stdout.write(prospect_text(told, desk.plant(n), screen_of(arguments), desk.units or "us"))
    return statuses.FITS


def _years(text: str) -> int:
    if not text.isascii() or not text.isdigit() or not 0 < int(text) <= MOST_YEARS:
        raise argparse.ArgumentTypeError(f"expected a whole number of years from 1 to {MOST_YEARS}, found {text!r}")
    return int(text)


def _age(text: str) -> float:
    try:
        age = float(text)
    except ValueError:
        age = math.nan
    if not 0 <= age <= MOST_YEARS:
        raise argparse.ArgumentTypeError(f"expected a number of years from 0 to {MOST_YEARS}, found {text!r}")
    return age
