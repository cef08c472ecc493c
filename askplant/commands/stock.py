"""`askplant stock`: a nursery's own list, how its names are matched, its tags, and the list that every answer takes in."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

from askplant import statuses, writing
from askplant.commands.arguments import Parser, add_common
from askplant.commands.setting import desk_of, screen_of
from askplant.desk import Desk
from askplant.errors import UserError, WritingError
from askplant.render.as_json import dumped
from askplant.render.stock_list import check_json, check_text, names_toml, tags_json, tags_text
from askplant.stock import Stock, kept
from askplant.stock.beside import names_file
from askplant.stock.kept import Setting
from askplant.stock.loading import load
from askplant.stock.loading import settled_names as settled_names_of

EXAMPLES = (
    "askplant stock check list.csv --write-names list.names.toml",
    "askplant stock use list.xlsx --sheet Availability",
    "askplant stock tags list.csv",
    "askplant stock forget",
)
WHAT = ("check", "tags", "use", "forget")


def parser() -> Parser:
    """Arguments of `askplant stock`."""
    about = (
        "check FILE: how the names of a stock list are matched, sure, doubtful and unmatched. tags FILE: where its label sizes "
        "and the grown sizes tell different stories. use FILE: take the list into every answer from now on. forget: no more."
    )
    parser = Parser("stock", about, EXAMPLES)
    parser.add_argument("what", choices=WHAT, metavar="WHAT", help=", ".join(WHAT))
    parser.add_argument("file", nargs="?", metavar="FILE", help="the list: CSV, XLSX, XLS or ODS")
    about = "names that somebody has settled, once for all lists of a nursery; else FILE.names.toml"
    parser.add_argument("--names", metavar="FILE", help=about)
    parser.add_argument("--write-names", metavar="FILE", help="check: write the names to settle into a new file")
    parser.add_argument(
        "--mapping", metavar="FILE", help="what each column holds; else FILE.columns.toml, else guessed"
    )
    parser.add_argument("--write-mapping", metavar="FILE", help="check: write what is guessed of the columns")
    parser.add_argument("--sheet", metavar="NAME", help="the sheet of a workbook; else the first that holds anything")
    add_common(parser)
    return parser


def run(arguments: Namespace) -> int:
    """Do what was asked for."""
    if (arguments.file is None) != (arguments.what == "forget"):
        said = "takes no FILE" if arguments.what == "forget" else "needs a FILE"
        raise UserError(f"stock {arguments.what} {said} (see askplant stock --help)")
    if arguments.what != "check" and (arguments.write_names or arguments.write_mapping):
        raise UserError(f"--write-names and --write-mapping are for stock check, not for {arguments.what}")
    runners: dict[str, Callable[[Namespace], int]] = {"check": _check, "tags": _tags, "use": _use, "forget": _forget}
    return runners[arguments.what](arguments)


def _loaded(arguments: Namespace, desk: Desk) -> Stock:
    return load(arguments.file, desk.base, arguments.names, arguments.mapping, arguments.sheet)


def _check(arguments: Namespace) -> int:
    desk = desk_of(arguments)
    stock = _loaded(arguments, desk)
    if arguments.json:
        sys.stdout.write(dumped(check_json(stock, desk.base), sys.stdout) + "\n")
    else:
        sys.stdout.write(check_text(stock, desk.base, screen_of(arguments)))
    if arguments.write_names:
        _write_new(arguments.write_names, "\n".join(names_toml(stock)) + "\n")
    if arguments.write_mapping:
        _write_new(arguments.write_mapping, _mapping_of(arguments, desk))
    return statuses.FITS


def _mapping_of(arguments: Namespace, desk: Desk) -> str:
    from askplant.sheets import columns
    from askplant.sheets.read import read
    from askplant.stock.loading import guessed
    from askplant.stock.matching import Matcher

    sheet = read(arguments.file, partial(columns.known, "stock"), arguments.sheet)
    names = settled_names_of(arguments.names or names_file(arguments.file))
    return columns.as_toml(guessed(sheet, Matcher(desk.base, names)), sheet, "stock")


def _write_new(name: str, text: str) -> None:
    """Write a file that somebody will mend; one that is there may be mended already and is left alone."""
    if Path(name).exists():
        raise UserError(f"{name}: is there already; expected the name of a new file")
    try:
        writing.write_all({Path(name): text.encode()})
    except OSError as problem:
        raise WritingError(f"{name}: {(problem.strerror or 'trouble').lower()}") from problem
    print(f"askplant: {name}: written", file=sys.stderr)


def _tags(arguments: Namespace) -> int:
    from askplant.growth.course import course
    from askplant.stock.tags import checked

    desk = desk_of(arguments)
    stock = _loaded(arguments, desk)
    found = checked(stock, desk.base)

    def years() -> Iterator[tuple[int, float | None]]:
        for place, tag in enumerate(found.tags):
            grows = course(desk.base, tag.line.plants[0], "height") if tag.axis == "height" and tag.smaller else None
            yield place, grows.years_to(tag.says[1]).usual if grows is not None else None

    told = tags_json(stock, found, dict(years()), desk.base, desk.units or "us")
    sys.stdout.write(dumped(told, sys.stdout) + "\n" if arguments.json else tags_text(told, screen_of(arguments)))
    return statuses.FITS


def _use(arguments: Namespace) -> int:
    desk = desk_of(arguments)
    setting = Setting(arguments.file, arguments.names, arguments.mapping, arguments.sheet)
    stock = kept.ready(setting, desk.base)
    if not stock.offers:
        raise UserError(f"{arguments.file}: no line of it is surely matched and in stock (see askplant stock check)")
    try:
        path = kept.choose(setting)
    except OSError as problem:
        raise WritingError(f"{kept.setting_file()}: {(problem.strerror or 'trouble').lower()}") from problem
    plants = len(stock.by_plant)
    left = len(stock.unmatched)
    doubt = f"; {left} lines are doubtful or unmatched (askplant stock check)" if left else ""
    print(f"{path}: answers take in {arguments.file}, {plants} plants in stock{doubt}")
    return statuses.FITS


def _forget(arguments: Namespace) -> int:
    print("no stock list is taken in any more" if kept.forget() else "no stock list was set")
    return statuses.FITS
