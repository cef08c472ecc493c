"""`askplant traits`: check the trait files, or export every value."""

from __future__ import annotations

import sys
from argparse import Namespace
from pathlib import Path

from askplant import statuses, where
from askplant.commands.arguments import Parser
from askplant.errors import UserError

EXAMPLES = ("askplant traits check", "askplant traits check --warnings", "askplant traits export --csv > traits.csv")


def parser() -> Parser:
    """Arguments of `askplant traits`."""
    parser = Parser("traits", "Check the trait files that answers come from, or export every value.", EXAMPLES)
    about = "check: name every fault with file and line; export: print every value"
    parser.add_argument("what", choices=("check", "export"), metavar="check|export", help=about)
    parser.add_argument("--csv", action="store_true", help="export as CSV, one value a row")
    parser.add_argument("--warnings", action="store_true", help="check: list what is doubtful too, not only count it")
    parser.add_argument("--base", metavar="FILE", help="export: this built base instead of the one for traits/")
    return parser


def run(arguments: Namespace) -> int:
    """Do what was asked for."""
    return _check(arguments.warnings) if arguments.what == "check" else _export(arguments)


def _check(warnings: bool) -> int:
    """Every fault on a line of its own, then the count; faults are input that cannot be used."""
    from askplant.base.checks import check
    from askplant.base.findings import ERROR

    folder = where.folder("traits")
    findings = check(folder)
    faults = [finding for finding in findings if finding.severity == ERROR]
    for finding in findings if warnings else faults:
        print(finding)
    doubtful = len(findings) - len(faults)
    hint = "" if warnings or not doubtful else " (--warnings lists them)"
    print(f"{folder}: {_count(len(faults), 'fault')}, {_count(doubtful, 'doubtful value')}{hint}")
    return statuses.WRONG_USE if faults else statuses.FITS


def _count(number: int, what: str) -> str:
    return f"{number or 'no'} {what}{'' if number == 1 else 's'}"


def _export(arguments: Namespace) -> int:
    from askplant.base import cache, export
    from askplant.base.opened import Base

    if not arguments.csv:
        raise UserError("say --csv: the export has one form (see askplant traits --help)")
    base = Base.open(cache.ready(Path(arguments.base) if arguments.base else None))
    export.write_csv(base, sys.stdout)
    return statuses.FITS
