"""`askplant traits`: check the trait files, or export every value."""

from __future__ import annotations

import sys
from argparse import Namespace
from pathlib import Path

from askplant import statuses
from askplant.commands.arguments import Parser
from askplant.errors import UserError

EXAMPLES = ("askplant traits check", "askplant traits export --csv > traits.csv")


def parser() -> Parser:
    """Arguments of `askplant traits`."""
    parser = Parser("traits", "Check the trait files that answers come from, or export every value.", EXAMPLES)
    about = "check: name every fault with file and line; export: print every value"
    parser.add_argument("what", choices=("check", "export"), metavar="check|export", help=about)
    parser.add_argument("--csv", action="store_true", help="export as CSV, one value a row (the only form there is)")
    parser.add_argument("--base", metavar="FILE", help="export this built base instead of the one for traits/")
    return parser


def run(arguments: Namespace) -> int:
    """Do what was asked for."""
    return _check() if arguments.what == "check" else _export(arguments)
