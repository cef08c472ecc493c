"""`askplant sheet`: one page to print or send: what was asked, the plants chosen, how they grow, the row, and their care."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from askplant import statuses
from askplant.answer.answer import Answer
from askplant.commands.arguments import Parser, add_stock, add_text
from askplant.commands.care import when_of
from askplant.commands.requests import text_of
from askplant.commands.setting import desk_of
from askplant.desk import Desk
from askplant.errors import UserError, WritingError
from askplant.plan.compose import plan
from askplant.plan.goal import as_screen
from askplant.plan.plan import Plan, Refusal
from askplant.render.screen import clean
from askplant.render.sheet import Paper, sheet_page
from askplant.sheet import MOST, first, sheet
from askplant.writing import write_all

EXAMPLES = (
    'askplant sheet "evergreen, 10–15 ft, narrow, zone 7, part shade" -o sheet.html',
    'askplant sheet "small tree, red fall color, zone 5" --plants 2,5 --paper a4 > sheet.html',
    'askplant sheet "60 ft screen, 10 ft tall, zone 6b, part shade" --plan -o sheet.html',
)


def parser() -> Parser:
    """Arguments of `askplant sheet`."""
    parser = Parser("sheet", "One page for the owner, to print or to send; it opens without a network.", EXAMPLES)
    add_text(parser)
    about = f"at most {MOST} numbers of the answer (2,5) or names, parted by commas; else the first three, or those of the row"
    parser.add_argument("--plants", action="append", metavar="PLANTS", help=about)
    parser.add_argument("-o", "--out", metavar="FILE", help="write the page to FILE; otherwise to standard output")
    parser.add_argument("--plan", action="store_true", help="with the row planned as a whole, as `askplant plan` does")
    parser.add_argument(
        "--paper", choices=("letter", "a4"), help="what it is printed on; otherwise letter, a4 for metric"
    )
    add_stock(parser)
    parser.add_argument("--planted", metavar="WHEN", help="a month (2027-04), a season (spring 2027) or a year")
    parser.add_argument("--units", choices=("metric", "us"), help="units of the page; else those of the request")
    parser.add_argument("--base", metavar="FILE", help="use this built base instead of building one from traits/")
    return parser


def run(arguments: Namespace) -> int:
    """Write the sheet of one request."""
    text = text_of(arguments.text, "askplant sheet")
    today = date.today()
    desk = desk_of(arguments)
    reading = desk.read(text)
    answer = desk.answer(as_screen(reading) if arguments.plan else reading, noted=False)
    units = desk.units or answer.reading.units
    row = plan(answer, desk.base, stock=desk.stock, units=units) if arguments.plan else None
    plants = chosen(arguments.plants, answer, desk) if arguments.plants else first(answer, row)
    page = page_of(desk, answer, plants, arguments.planted, row, arguments.paper, today)
    if arguments.out:
        _write(arguments.out, page)
    else:
        sys.stdout.write(page)
    return statuses.FITS if plants and not isinstance(row, Refusal) else statuses.NOTHING_FITS


def page_of(
    desk: Desk,
    answer: Answer,
    plants: Sequence[int],
    planted: str | None = None,
    row: Plan | Refusal | None = None,
    paper: Paper | None = None,
    today: date | None = None,
) -> str:
    """The page of an answer and the plants chosen from it (numbers of the base), as `--planted` and `--paper` say."""
    when = when_of(planted, today or date.today())
    return sheet_page(sheet(desk.base, answer, plants, when, row), desk.base, desk.units or answer.reading.units, paper)


def chosen(said: Sequence[str], answer: Answer, desk: Desk) -> tuple[int, ...]:
    """The plants of --plants, each once; UserError for a number that the answer has not, and for too many."""
    parts = [part.strip() for text in said for part in text.split(",") if part.strip()]
    found = tuple(dict.fromkeys(_one(part, answer, desk) for part in parts))
    if not found:
        raise UserError("found --plants without any; expected numbers of the answer (2,5) or names")
    if len(found) > MOST:
        raise UserError(f"found {len(found)} plants; expected at most {MOST}, for a sheet has room for no more")
    return found


def _one(part: str, answer: Answer, desk: Desk) -> int:
    if not (part.isascii() and part.isdigit()):
        return desk.one(part)
    number, count = int(part), len(answer.matches)
    if not 1 <= number <= count:
        raise UserError(
            f"found --plants {clean(part)}; expected a number of the answer, which has {count} plants that fit"
        )
    return answer.matches[number - 1].plant


def _write(name: str, page: str) -> None:
    """The page, whole or not at all; WritingError names it."""
    target = Path(name)
    if target.exists() and not target.is_file():
        raise WritingError(f"{name}: found something that is no ordinary file; expected the name of a file to write")
    try:
        write_all({target: page.encode("utf-8")})
    except OSError as problem:
        trouble = (problem.strerror or "trouble").lower()
        raise WritingError(f"{name}: found {trouble}; expected a folder that can be written") from problem
