"""`askplant batch`: a table of requests answered row by row into another table."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from collections.abc import Iterator, Sequence

from askplant import statuses
from askplant.commands import tables
from askplant.commands.arguments import Parser
from askplant.commands.tables import Table
from askplant.desk import Desk
from askplant.errors import RequestError, UserError
from askplant.reading.reading import Reading
from askplant.render.screen import clean
from askplant.render.text import mark
from askplant.render.understood import unread_words
from askplant.render.wording import Worded

EXAMPLES = (
    "askplant batch requests.csv answered.csv",
    'askplant batch --column "what they want" march.csv march-answered.csv',
)

BEST = 3  # plants told for each row
SHOWN = tuple(f"{what} {n}" for n in range(1, BEST + 1) for what in ("plant", "size"))
ADDED = ("understood", "not understood", *SHOWN, "cautions", "status")
FITS, NOTHING_FITS, NO_REQUEST = "fits", "nothing fits", "no request in this row"


def parser() -> Parser:
    """Arguments of `askplant batch`."""
    about = "Answer a table of requests, one a row. OUT.csv appears whole or not at all, without live formulas."
    parser = Parser("batch", about, EXAMPLES)
    parted = "the requests: any usual encoding, parted by comma, semicolon, tab or bar"
    parser.add_argument("table", metavar="IN.csv", help=parted)
    parser.add_argument("out", metavar="OUT.csv", help="the columns of IN.csv with the answers behind them")
    parser.add_argument("--column", metavar="NAME", help="the column of requests; else guessed from heading and text")
    parser.add_argument("--units", choices=("metric", "us"), help="units of the answers; else those of each request")
    parser.add_argument("--base", metavar="FILE", help="use this built base instead of building one from traits/")
    return parser


def run(arguments: Namespace) -> int:
    """Read the table, answer it, write it, and say how many rows came to what."""
    if os.path.realpath(arguments.table) == os.path.realpath(arguments.out):
        raise UserError(f"{arguments.out}: is the table to read; expected the name of another file to write")
    table = tables.read(arguments.table, arguments.column)
    desk = Desk(arguments.base, arguments.units)
    rows = [answered(row, table, desk) for row in table.rows]
    tables.write(arguments.out, [(*table.headings, *_headings(table)), *rows], table.delimiter)
    _report(arguments.out, rows, table)
    return statuses.FITS


def answered(row: Sequence[str], table: Table, desk: Desk) -> tuple[str, ...]:
    """A row with its answer behind it; a row that cannot be answered stays as it is, marked."""
    width = len(table.headings)
    kept = (*row, *("" for _ in range(width - len(row))))
    text = " ".join(clean(tables.unmarked(row[table.request])).split()) if table.request < len(row) else ""
    if len(row) > width:
        overfull = f"not answered: {len(row)} cells where the headings are {width}"
        return (*kept[: width - 1], table.delimiter.join(kept[width - 1 :]), *_nothing(overfull))
    if not text:
        return (*kept, *_nothing(NO_REQUEST))
    try:
        return (*kept, *_answer(text, desk))
    except RequestError as problem:
        return (*kept, *_nothing(f"not answered: {problem}"))


def _answer(text: str, desk: Desk) -> Iterator[str]:
    answer = desk.ask(text, BEST)
    said = desk.worded(answer)
    yield in_words(answer.reading, said)
    yield "; ".join(unread_words(unread) for unread in answer.reading.unread)
    for place in range(BEST):
        spoken = said.shown[place] if place < len(said.shown) else None
        yield spoken.botanical if spoken else ""
        yield spoken.size if spoken else ""
    yield "; ".join(_cautions(said))
    yield FITS if answer.matches else NOTHING_FITS


def in_words(reading: Reading, said: Worded) -> str:
    """The conditions in one line; wishes are marked, and contradictions stand at the end."""
    echoed = zip(reading.conditions, said.asked, strict=True)
    said_of = [f"wish: {echo}" if condition.strength == "wish" else echo for condition, echo in echoed]
    return "; ".join([*said_of, *(f"CONFLICT: {conflict.text}" for conflict in reading.conflicts)])


def _cautions(said: Worded) -> Iterator[str]:
    """Each caution once, with the plants it is for."""
    bearers: dict[str, list[str]] = {}
    for match in said.json["matches"][: len(said.shown)]:
        for caution in match["cautions"]:
            bearers.setdefault(mark(caution), []).append(match["botanical"])
    return (f"{', '.join(plants)}: {text}" for text, plants in bearers.items())


def _nothing(status: str) -> tuple[str, ...]:
    return (*("" for _ in ADDED[1:]), status)


def _headings(table: Table) -> list[str]:
    """The added headings, set apart from columns of the same name."""
    return [f"{name} (askplant)" if name in table.headings else name for name in ADDED]


def _report(out: str, rows: Sequence[Sequence[str]], table: Table) -> None:
    status = [row[-1] for row in rows]
    fitting, empty = status.count(FITS), status.count(NOTHING_FITS)
    marked = len(status) - fitting - empty
    print(
        f"{out}: {len(rows)} rows from column {table.headings[table.request]!r}: "
        f"{fitting} with plants that fit, {empty} with none, {marked} not answered",
        file=sys.stderr,
    )
