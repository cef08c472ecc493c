"""`askplant plan`: a mixed screen planned as a whole: which plants, how many of each, where each stands, what becomes of it."""

from __future__ import annotations

import sys
from argparse import ArgumentTypeError, Namespace
from datetime import date

from askplant import statuses
from askplant.care import calendar, rules, site
from askplant.commands.arguments import Parser, add_common, add_stock, add_text, positive
from askplant.commands.care import when_of, write
from askplant.commands.requests import text_of
from askplant.commands.setting import desk_of, screen_of
from askplant.desk import Desk
from askplant.errors import UserError
from askplant.plan.compose import plan
from askplant.plan.goal import as_screen
from askplant.plan.plan import DEFAULT_CONSIDER, Options, Plan, Refusal
from askplant.plan.shares import parsed
from askplant.plan.tables import WAYS, Shares
from askplant.quantities.lengths import Units
from askplant.reading.reading import Reading
from askplant.render.as_json import dumped
from askplant.render.care import WordedCare, worded_care
from askplant.render.care_text import care_text
from askplant.render.plan import plan_json
from askplant.render.plan_text import plan_text
from askplant.render.understood import echoes_of, understood

EXAMPLES = (
    'askplant plan "60 ft screen, 10 ft tall in 5 years, at most 5 ft deep, zone 6b, deer, part shade"',
    'askplant plan "80 ft evergreen screen, 8 ft tall, zone 7" --rows staggered --share 0.25,0.4,0.6',
    'askplant plan "40 ft evergreen screen, 8 ft tall, zone 7" --stock stock.csv --json',
)


def parser() -> Parser:
    """Arguments of `askplant plan`."""
    parser = Parser("plan", "A mixed screen planned as a whole, for a run that the request says.", EXAMPLES)
    add_text(parser)
    parser.add_argument("--rows", choices=("single", "staggered"), default="single", help="one row, or two in zigzag")
    parser.add_argument("--spacing", choices=WAYS, default="usual", help="how close the plants stand")
    about = "the most of the row that one species, genus and family may take, as in 0.34,0.5,0.67"
    parser.add_argument("--share", type=shares, metavar="SPECIES,GENUS,FAMILY", help=about)
    about = f"choose from the N best matches that can screen (default {DEFAULT_CONSIDER}); of a stock list, from all"
    parser.add_argument("--plants", type=positive, default=DEFAULT_CONSIDER, metavar="N", help=about)
    parser.add_argument("--care", action="store_true", help="the care of the planted row month by month as well")
    parser.add_argument(
        "--planted", metavar="WHEN", help="for the care: a month (2027-04), a season (spring 2027) or a year"
    )
    parser.add_argument("--ics", metavar="FILE", help="write the care of the row to an iCalendar file as well")
    add_stock(parser)
    add_common(parser)
    return parser


def shares(text: str) -> Shares:
    """The shares of the command line."""
    try:
        return parsed(text)
    except UserError as problem:
        raise ArgumentTypeError(str(problem)) from None


def run(arguments: Namespace) -> int:
    """Plan the screen of one request."""
    text = text_of(arguments.text, "askplant plan")
    desk = desk_of(arguments)
    reading = as_screen(desk.read(text))
    units = desk.units or reading.units
    options = Options(arguments.rows, arguments.spacing, arguments.share, arguments.plants)
    found = plan(desk.answer(reading, noted=False), desk.base, options, desk.stock, units)
    told = plan_json(found, reading, desk.base, units)
    care = None
    if isinstance(found, Plan) and (arguments.care or arguments.ics):
        care = _care(arguments, desk, reading, found, units)
        told["care"] = care.json
    if arguments.json:
        sys.stdout.write(dumped(told, sys.stdout) + "\n")
    else:
        screen = screen_of(arguments)
        sys.stdout.write(plan_text(told, understood(reading, echoes_of(reading, units), screen), screen, units))
        if care is not None and arguments.care:
            sys.stdout.write("\n" + care_text(care, screen))
    return statuses.NOTHING_FITS if isinstance(found, Refusal) else statuses.FITS


def _care(arguments: Namespace, desk: Desk, reading: Reading, found: Plan, units: Units) -> WordedCare:
    """The care of the row's plants where the request says they stand; UserError where it says nothing of the zone."""
    here = site.asked_site(reading, rules.shipped())
    if here is None:
        raise UserError("the care of a row hangs on its zone: say it in the request (zone 6b, or the state)")
    today = date.today()
    plants = [kind.plant for kind in found.kinds]
    care = worded_care(calendar.calendar(desk.base, plants, here, when_of(arguments.planted, today)), desk.base, units)
    if arguments.ics:
        write(arguments.ics, care, today)
    return care
