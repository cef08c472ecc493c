"""`askplant batch`: a table of requests answered row by row into another table."""

from __future__ import annotations

import hashlib
import os
import sys
from argparse import Namespace
from collections import Counter
from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path

from askplant import __version__, statuses, writing
from askplant.base import cache
from askplant.batch import cluster, crew, out, progress
from askplant.batch.composed import columns_of, composed
from askplant.batch.crew import Row, Work
from askplant.batch.details import Names
from askplant.batch.journal import Journal, path_of
from askplant.batch.rows import ANSWERED, EMPTY, NOT_READ, NOTHING_FITS, STATUSES, Json, Telling
from askplant.commands.arguments import Parser, add_stock, positive
from askplant.commands.setting import stock_of
from askplant.desk import Desk
from askplant.errors import AskplantError, UserError, WritingError
from askplant.render.screen import clean
from askplant.sheets import columns as columns_
from askplant.sheets.columns import Column
from askplant.sheets.read import read
from askplant.sheets.sheet import Sheet, letters

EXAMPLES = (
    "askplant batch requests.csv answered.csv",
    'askplant batch --column "what they want" march.xlsx march-answered.xlsx --details',
    "askplant batch plots.csv plots.jsonl --mapping plots.toml --stock list.csv --resume",
)

BEST = 3  # plants told for each row
SAID = {ANSWERED: "answered", NOTHING_FITS: "nothing fits", NOT_READ: "not read", EMPTY: "empty"}


def parser() -> Parser:
    """Arguments of `askplant batch`."""
    about = (
        "Answer a table of requests, one a row, with all of its columns kept. OUT appears whole or not at all, without live "
        "formulas; what is answered is kept beside it until then, and --resume goes on."
    )
    parser = Parser("batch", about, EXAMPLES)
    parser.add_argument(
        "table", metavar="IN", help="the requests: CSV in any usual encoding and delimiter, XLSX, XLS, ODS"
    )
    parser.add_argument("out", metavar="OUT", help="what to write, by its ending: .csv .tsv .xlsx .jsonl")
    parser.add_argument("--column", metavar="NAME", help="the column of requests; else guessed from headings and text")
    about = "a TOML file that says what each column holds, and how it is put into words"
    parser.add_argument("--mapping", metavar="FILE", help=about)
    parser.add_argument(
        "--write-mapping", metavar="FILE", help="write what is guessed of the columns, and answer nothing"
    )
    parser.add_argument("--sheet", metavar="NAME", help="the sheet of a workbook; else the first that holds anything")
    parser.add_argument(
        "--count", type=positive, default=BEST, metavar="N", help=f"tell the best N plants, {BEST} unless said"
    )
    about = "also every match, every exclusion and totals: further sheets, or files beside OUT"
    parser.add_argument("--details", action="store_true", help=about)
    parser.add_argument("--resume", action="store_true", help="go on where a stopped run left off")
    parser.add_argument(
        "--workers", type=positive, metavar="N", help="processes that answer; else as many as there are cores"
    )
    parser.add_argument("--cluster", metavar="ADDRESS", help="answer on this Dask cluster instead (tcp://host:8786)")
    parser.add_argument("--units", choices=("metric", "us"), help="units of the answers; else those of each request")
    add_stock(parser)
    parser.add_argument("--base", metavar="FILE", help="use this built base instead of building one from traits/")
    return parser


def run(arguments: Namespace) -> int:
    """Read the table, answer it, write it, and say how many rows came to what."""
    _nothing_read_is_written(arguments)
    sheet = read(arguments.table, partial(columns_.known, "request"), arguments.sheet)
    columns = _columns(arguments, sheet)
    if arguments.write_mapping:
        return _write_mapping(arguments.write_mapping, columns, sheet)
    _say(f"{arguments.table}: {sheet.how}, {len(sheet.rows)} rows", *sheet.notes, _told(columns, sheet))
    if there := [path.name for path in out.files_of(arguments.out, arguments.details) if path.exists()]:
        _say(f"{arguments.out}: {', '.join(there)} will be replaced")
    desk = Desk(cache.ready(Path(arguments.base) if arguments.base else None), arguments.units)
    stock = stock_of(arguments.stock, desk)
    work = Work(str(desk.base.path), arguments.units, Telling(arguments.count, arguments.details), stock)
    with Journal(arguments.out, _digest(arguments, columns, desk, work), arguments.resume) as journal:
        if journal.done:
            _say(f"{arguments.out}: {journal.done} rows were answered before")
        counts: Counter[str] = Counter()
        try:
            _answer(arguments, sheet, columns, work, journal)
            told = _counted(journal.answers(), counts)
            out.write(arguments.out, sheet, told, work.telling, stock is not None, Names(desk.base))
        except WritingError:  # says by itself what is kept
            raise
        except (KeyboardInterrupt, AskplantError):
            if journal.done:
                _say(
                    f"{arguments.out}: {journal.done} of {len(sheet.rows)} rows are answered and kept; --resume goes on"
                )
            raise
        journal.remove()
    said = ", ".join(f"{counts[status]} {SAID[status]}" for status in STATUSES)
    beside = [path.name for path in out.files_of(arguments.out, arguments.details)[1:]]
    _say(f"{arguments.out}: {len(sheet.rows)} rows: {said}", *([f"also {', '.join(beside)}"] if beside else []))
    return statuses.FITS


def _nothing_read_is_written(arguments: Namespace) -> None:
    """UserError where a file that is to be read would be written, by whatever name."""
    written = [*out.files_of(arguments.out, arguments.details), path_of(arguments.out)]
    written += [Path(arguments.write_mapping)] if arguments.write_mapping else []
    said = {arguments.table: "the table", arguments.mapping: "the mapping", arguments.stock: "the stock list"}
    for read_, what in {**said, arguments.base: "the base"}.items():
        for path in written if read_ else ():
            both = os.path.exists(path) and os.path.exists(read_)
            if os.path.realpath(path) == os.path.realpath(read_) or (both and os.path.samefile(path, read_)):
                raise UserError(f"{path}: is {what} to read; expected the name of another file to write")


def _columns(arguments: Namespace, sheet: Sheet) -> tuple[Column, ...]:
    if arguments.mapping and arguments.column:
        raise UserError("either --mapping or --column, not both (see askplant batch --help)")
    if arguments.mapping:
        return columns_.from_file(arguments.mapping, sheet, "request")
    return columns_of(sheet, arguments.column)


def _write_mapping(path: str, columns: Sequence[Column], sheet: Sheet) -> int:
    try:
        writing.write_all({Path(path): columns_.as_toml(columns, sheet, "request").encode()})
    except OSError as problem:
        raise WritingError(f"{path}: {(problem.strerror or 'trouble').lower()}") from problem
    _say(f"{path}: how {len(columns)} of {len(sheet.headings)} columns are read; nothing was answered")
    return statuses.FITS


def _told(columns: Sequence[Column], sheet: Sheet) -> str:
    """The columns that make a request, with what is said of each; of headings that stand there twice, with the letter."""

    def named(column: Column) -> str:
        alike = sheet.headings.count(column.heading) > 1
        return repr(clean(column.heading)) + (f" ({letters(column.place)})" if alike else "")

    if len(columns) == 1 and columns[0].role.say == "{}":
        return f"requests in column {named(columns[0])}"
    return "requests put together from " + ", ".join(
        f"{named(column)} as “{column.role.say.replace('{}', f'… {column.unit}'.rstrip())}”" for column in columns
    )


def _answer(arguments: Namespace, sheet: Sheet, columns: Sequence[Column], work: Work, journal: Journal) -> None:
    """Answer the rows that the journal has not, into the journal."""
    left = len(sheet.rows) - journal.done
    rows: Iterator[Row] = ((n, composed(sheet, n, columns)) for n in range(journal.done, len(sheet.rows)))
    workers = crew.workers_for(left, arguments.workers)
    if not left:
        return
    if arguments.cluster:
        answers = cluster.on_cluster(rows, work, arguments.cluster)
    elif workers > 1:
        answers = crew.together(rows, work, workers)
    else:
        answers = crew.alone(rows, work)
    for answer in progress.shown(answers, journal.done, len(sheet.rows)):
        journal.add(answer)
    journal.settle()


def _digest(arguments: Namespace, columns: Sequence[Column], desk: Desk, work: Work) -> str:
    """A digest of all that decides the answers, but not of who gives them."""
    with open(arguments.table, "rb") as stream:
        table = hashlib.file_digest(stream, "sha256").hexdigest()
    lines = [repr(line) for line in work.stock.lines] if work.stock is not None else []
    options = (__version__, arguments.sheet, arguments.units, work.telling, columns)
    return hashlib.sha256("\n".join([table, desk.base.digest, repr(options), *lines]).encode()).hexdigest()


def _counted(answers: Iterator[Json], counts: Counter[str]) -> Iterator[Json]:
    for answer in answers:
        counts[answer["status"]] += 1
        yield answer


def _say(first: str, *more: str) -> None:
    print("; ".join([first, *more]), file=sys.stderr, flush=True)
