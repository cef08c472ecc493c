"""`askplant care`: what chosen plants need in each month, as text, JSON or a calendar file."""

from __future__ import annotations

import re
import sys
from argparse import Namespace
from datetime import date
from pathlib import Path

from askplant import statuses
from askplant.care import calendar, rules, site, thirds
from askplant.care.calendar import When
from askplant.care.site import CareSite
from askplant.commands.arguments import Parser, add_common, positive
from askplant.commands.setting import desk_of, screen_of
from askplant.desk import Desk
from askplant.errors import UserError, WritingError
from askplant.quantities import quantity, zones
from askplant.render.as_json import dumped
from askplant.render.care import WordedCare, worded_care
from askplant.render.care_text import care_text
from askplant.render.care_words import SOUTH
from askplant.render.screen import clean
from askplant.writing import write_all

EXAMPLES = (
    'askplant care "Syringa vulgaris" "Hydrangea paniculata" --zone 6b',
    'askplant care "emerald green arborvitae" --zone 7a --place "Durham, NC" --planted 2027-04',
    'askplant care inkberry --zone 6b --planted "spring 2027" --ics care.ics',
)
YEARS = 3
FIRST_YEAR, LAST_YEAR = 1000, 2999  # those that --planted takes too
_YEAR = re.compile(r"(?P<year>[12]\d{3})(?:-(?P<month>\d\d))?")
_WORDS = "[A-Za-z]+(?: +[A-Za-z]+)*"
_SEASON = re.compile(rf"(?P<season>{_WORDS}) +(?P<year>[12]\d{{3}})|(?P<year2>[12]\d{{3}}) +(?P<season2>{_WORDS})")


def parser() -> Parser:
    """Arguments of `askplant care`."""
    parser = Parser("care", "The care of chosen plants month by month: planting, water, pruning, winter.", EXAMPLES)
    about = "an id, a botanical name, a synonym or a common name; quoted where it has several words"
    parser.add_argument("plants", nargs="+", metavar="PLANT", help=about)
    parser.add_argument("--zone", metavar="ZONE", help="the USDA hardiness zone (6b); a whole zone is its colder half")
    parser.add_argument("--place", metavar="TEXT", help="the state or province (MD), or a place in it (Durham, NC)")
    parser.add_argument("--planted", metavar="WHEN", help="a month (2027-04), a season (spring 2027) or a year")
    parser.add_argument("--years", type=positive, default=YEARS, metavar="N", help="years after planting that are told")
    parser.add_argument("--from", dest="since", metavar="DATE", help="the day to count from (2027-01-31); else today")
    parser.add_argument("--ics", metavar="FILE", help="write the tasks to an iCalendar file as well")
    add_common(parser)
    return parser


def run(arguments: Namespace) -> int:
    """Draw up the calendar, print it, and write the file where one is asked for."""
    since = day(arguments.since)
    desk = desk_of(arguments)
    plants = [desk.one(name) for name in arguments.plants]
    here = site_of(desk, arguments.zone, arguments.place)
    drawn = calendar.calendar(desk.base, plants, here, when_of(arguments.planted, since), arguments.years)
    care = worded_care(drawn, desk.base, desk.units or "us")
    if arguments.ics:
        write(arguments.ics, care, since)
    if arguments.json:
        sys.stdout.write(dumped(care.json, sys.stdout) + "\n")
    else:
        sys.stdout.write(care_text(care, screen_of(arguments)))
    return statuses.FITS


def day(text: str | None) -> date:
    if text is None:
        return date.today()
    try:
        found = date.fromisoformat(text)
    except ValueError:
        raise UserError(f"found --from `{clean(text)}`; expected a day (2027-01-31)") from None
    if not FIRST_YEAR <= found.year <= LAST_YEAR:
        raise UserError(f"found --from `{clean(text)}`; expected a year from {FIRST_YEAR} to {LAST_YEAR}")
    return found


def when_of(text: str | None, since: date) -> When:
    """The times of planting that are meant: within the year from --from where nothing is said."""
    if text is None:
        return When(thirds.of_date(since))
    said = " ".join(text.split())
    if found := _YEAR.fullmatch(said):
        year = int(found["year"])
        if found["month"] is None:
            return When(year * thirds.YEAR)
        if 1 <= int(found["month"]) <= 12:
            return When(year * thirds.YEAR + (int(found["month"]) - 1) * 3, 3)
    elif found := _SEASON.fullmatch(said):
        year = int(found["year"] or found["year2"])
        try:
            (season,) = thirds.of_months(quantity.parse_months(found["season"] or found["season2"]))
            return When(year * thirds.YEAR + season.first, season.length)
        except ValueError:
            pass
    raise UserError(
        f"found --planted `{clean(text)}`; expected a month (2027-04), a season (spring 2027) or a year (2027)"
    )


def site_of(desk: Desk, zone: str | None, place: str | None) -> CareSite:
    """The site of --zone and --place. Without a zone a place of the table has its own, and a state counts as the coldest
    half-zone it has; of any other place the zone is asked for.
    """
    if zone is None and place is None:
        raise UserError("say where: --zone 6b, or --place MD (see askplant care --help)")
    region, among, is_town = _region(desk, place)
    row = site.row_of(place, region, rules.shipped())
    if zone is not None:
        number = _zone(zone)
    elif row is not None and row.zone is not None:
        number = row.zone
    elif among is not None and not is_town:
        number = among[0]
    else:
        raise UserError(f"the zone of {clean(place or '')} is not known: say it as well (--zone 6b)")
    here = site.site(number, clean(place) if place else None, region, rules.shipped())
    return here._replace(assumed=zone is None and row is None, among=among)


def _zone(text: str) -> int:
    try:
        return quantity.parse_zone(text, cold=True)
    except ValueError as problem:
        raise UserError(f"found --zone `{clean(text)}`; expected {problem}") from None


def _region(desk: Desk, place: str | None) -> tuple[str | None, tuple[int, int] | None, bool]:
    """The state or province of a place, its coldest and warmest half-zone, and whether a town in it is named."""
    if place is None:
        return None, None, False
    reading = desk.read(f"in {place}")
    found = [zones.index(str(value)) for one in reading.conditions if one.trait == "zone" for value in one.values]
    if reading.task.place is None:
        raise UserError(f"found --place `{clean(place)}`; expected a state or province (MD, Ontario). {SOUTH}")
    is_town = "," in place or bool(reading.unread)
    return reading.task.place, (min(found), max(found)) if found else None, is_town


def write(name: str, care: WordedCare, stamp: date) -> None:
    """The calendar file, whole or not at all; WritingError names it."""
    from askplant.render.care_ics import care_ics  # brings a library along that nothing else needs

    target = Path(name)
    if target.exists() and not target.is_file():
        raise WritingError(f"{name}: found something that is no ordinary file; expected the name of a file to write")
    try:
        write_all({target: care_ics(care, stamp)})
    except OSError as problem:
        trouble = (problem.strerror or "trouble").lower()
        raise WritingError(f"{name}: found {trouble}; expected a folder that can be written") from problem
