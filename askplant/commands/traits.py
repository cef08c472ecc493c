"""`askplant traits`: check the trait files, tell how much is known, export and import values, note what was measured."""

from __future__ import annotations

import os
import sys
from argparse import ArgumentTypeError, Namespace
from collections.abc import Callable
from pathlib import Path

from askplant import statuses, where
from askplant.base.opened import Base
from askplant.commands.arguments import Parser, positive
from askplant.errors import UserError

EXAMPLES = (
    "askplant traits check --warnings",
    "askplant traits coverage",
    "askplant traits export --csv > traits.csv",
    'askplant traits export --csv inkberry "Ilex crenata" > hollies.csv',
    "askplant traits import hollies.csv",
    'askplant traits observe inkberry --age 10 --height "6 ft" --width "5 ft" --pruned no',
)

# The options that each of them takes; a plant or a file may be named behind the last three.
OPTIONS = {
    "check": ("warnings",),
    "coverage": ("json", "base", "color", "width"),
    "export": ("csv", "base"),
    "import": ("into",),
    "observe": ("age", "height", "width", "place", "pruned", "note", "date"),
}
NAMELESS = ("check", "coverage")


def parser() -> Parser:
    """Arguments of `askplant traits`."""
    parser = Parser("traits", "The trait files that answers come from, and your own plants beside them.", EXAMPLES)
    about = (
        "check: name every fault with file and line; coverage: how much is known; export: print every value; "
        "import: make cards of your own from a table; observe: note a size that you measured"
    )
    parser.add_argument("what", choices=tuple(OPTIONS), metavar="|".join(OPTIONS), help=about)
    named = "export: only these plants; import: the table; observe: the plant"
    parser.add_argument("names", nargs="*", metavar="PLANT|FILE", help=named)
    parser.add_argument("--warnings", action="store_true", help="check: list what is doubtful too, not only count it")
    parser.add_argument("--json", action="store_true", help="coverage: print JSON, shares from 0 to 1")
    parser.add_argument("--color", choices=("auto", "always", "never"), help="coverage: whether to use bold and colour")
    parser.add_argument("--csv", action="store_true", help="export: as CSV, one value a row")
    parser.add_argument("--base", metavar="FILE", help="coverage, export: use this built base")
    parser.add_argument("--into", metavar="FOLDER", help="import: write there instead of into your own folder")
    _add_measurement(parser)
    return parser


def _add_measurement(parser: Parser) -> None:
    parser.add_argument("--age", metavar="YEARS", help="observe: years since it was planted")
    parser.add_argument("--height", metavar="LENGTH", help='observe: its height, with the unit ("6 ft", "1.8 m")')
    parser.add_argument("--width", metavar="LENGTH|N", help="observe: its width; coverage: fold at N columns")
    parser.add_argument("--place", metavar="TEXT", help="observe: where it stands")
    parser.add_argument("--pruned", choices=("yes", "no"), help="observe: whether it was cut back")
    parser.add_argument("--note", metavar="TEXT", help="observe: anything else")
    parser.add_argument("--date", metavar="DATE", help="observe: when it was measured (2026-05-31); else today")


def run(arguments: Namespace) -> int:
    """Do what was asked for."""
    _only_what_it_takes(arguments)
    runners: dict[str, Callable[[Namespace], int]] = {
        "check": _check,
        "coverage": _coverage,
        "export": _export,
        "import": _import,
        "observe": _observe,
    }
    return runners[arguments.what](arguments)


def _only_what_it_takes(arguments: Namespace) -> None:
    """An option that would be passed over in silence is wrong use."""
    what = arguments.what
    given = [name for name, value in vars(arguments).items() if value and name not in ("what", "names")]
    strange = next((name for name in given if name not in OPTIONS[what]), None)
    if strange:
        takers = [other for other, options in OPTIONS.items() if strange in options]
        raise UserError(
            f"--{strange} is for traits {' and '.join(takers)}, not for {what} (see askplant traits --help)"
        )
    if arguments.names and what in NAMELESS:
        raise UserError(f"traits {what} takes no name, found {arguments.names[0]!r} (see askplant traits --help)")


def _check(arguments: Namespace) -> int:
    """Every fault on a line of its own, then the count; faults are input that cannot be used."""
    from askplant.base import deck
    from askplant.base.checks import check
    from askplant.base.findings import ERROR, Finding

    folder, own = where.folder("traits"), where.own_to_read()
    findings = check(folder, own)
    faults = [finding for finding in findings if finding.severity == ERROR]
    for finding in findings if arguments.warnings else faults:
        print(finding)
    within = f"{deck.label_of(own)}/" if own else "\n"

    def told(place: Path, some: list[Finding]) -> str:
        wrong = sum(finding.severity == ERROR for finding in some)
        doubtful = len(some) - wrong
        hint = "" if arguments.warnings or not doubtful else " (--warnings lists them)"
        return f"{place}: {_count(wrong, 'fault')}, {_count(doubtful, 'doubtful value')}{hint}"

    print(told(folder, [finding for finding in findings if not finding.file.startswith(within)]))
    if own:
        print(told(own, [finding for finding in findings if finding.file.startswith(within)]))
    elif os.environ.get(where.OWN_VARIABLE):
        print(f"{where.own_folder()}: not there; no plants of your own")
    return statuses.WRONG_USE if faults else statuses.FITS


def _count(number: int, what: str) -> str:
    return f"{number or 'no'} {what}{'' if number == 1 else 's'}"


def _base_of(arguments: Namespace) -> Base:
    from askplant.base import cache

    return Base.open(cache.ready(Path(arguments.base) if arguments.base else None))


def _coverage(arguments: Namespace) -> int:
    from askplant.base.coverage import coverage
    from askplant.render.as_json import dumped
    from askplant.render.coverage import coverage_json, coverage_text
    from askplant.render.screen import screen_for

    screen = screen_for(sys.stdout, arguments.color or "auto", _columns(arguments.width))
    base = _base_of(arguments)
    found = coverage(base)
    if arguments.json:
        sys.stdout.write(dumped(coverage_json(found, base), sys.stdout) + "\n")
    else:
        sys.stdout.write(coverage_text(found, screen))
    return statuses.FITS


def _columns(width: str | None) -> int | None:
    try:
        return None if width is None else positive(width)
    except ArgumentTypeError as problem:
        raise UserError(f"argument --width: {problem} (see askplant traits --help)") from None


def _export(arguments: Namespace) -> int:
    from askplant.base import export
    from askplant.finding import find

    if not arguments.csv:
        raise UserError("say --csv: the export has one form (see askplant traits --help)")
    base = _base_of(arguments)
    named = {n for name in arguments.names for n in find(name, base).plants}
    export.write_csv(base, sys.stdout, sorted(named) if arguments.names else None)
    return statuses.FITS


def _import(arguments: Namespace) -> int:
    from askplant.commands.importing import import_table

    return import_table(arguments)


def _observe(arguments: Namespace) -> int:
    from askplant.commands.observing import observe

    return observe(arguments)
