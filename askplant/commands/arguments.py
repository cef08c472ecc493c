"""What commands share on the command line: the parser and the common options."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from typing import NoReturn

from askplant import statuses
from askplant.errors import UserError
from askplant.render.screen import screen_for


class Parser(argparse.ArgumentParser):
    """An argument parser whose complaints are one line, and whose options may stand among the words of a request."""

    def __init__(self, command: str, about: str, examples: Sequence[str]) -> None:
        super().__init__(
            prog=f"askplant {command}".strip(),
            description=about,
            epilog=_epilog(examples),
            formatter_class=_formatter,
            allow_abbrev=False,
        )

    def error(self, message: str) -> NoReturn:
        raise UserError(f"{message} (see {self.prog} --help)")


def add_text(parser: Parser) -> None:
    """TEXT: one quoted request, several bare words, or - for standard input."""
    about = "the request: quoted, or as bare words, or - to read it from standard input"
    parser.add_argument("text", nargs="*", metavar="TEXT", help=about)


def add_lines(parser: Parser) -> None:
    """--lines FILE: many requests, one a line."""
    parser.add_argument(
        "--lines", metavar="FILE", help="answer each line of FILE in order, whatever a line holds; - is standard input"
    )


def add_count(parser: Parser) -> None:
    """--count N: how many matches are shown."""
    parser.add_argument("--count", type=positive, metavar="N", help="show at most N plants that fit")


def add_stock(parser: Parser) -> None:
    """--stock FILE: the stock list that is held against the request."""
    about = "hold this stock list (CSV, XLSX, XLS, ODS) against the request; none for no list. Else the one that is set"
    parser.add_argument("--stock", metavar="FILE", help=about)


def add_common(parser: Parser, *, json: bool = True, width: bool = True) -> None:
    """--json, --units, --base, --color and --width; without `width` where a command means something else by it."""
    if json:
        parser.add_argument("--json", action="store_true", help="print JSON, lengths in metres")
    parser.add_argument("--units", choices=("metric", "us"), help="units of the text output; else those of the request")
    parser.add_argument("--base", metavar="FILE", help="use this built base instead of building one from traits/")
    colors = ("auto", "always", "never")
    parser.add_argument("--color", choices=colors, default="auto", help="whether to use bold and colour")
    if width:
        parser.add_argument("--width", type=positive, metavar="N", help="fold text at N columns")


def _formatter(prog: str) -> argparse.HelpFormatter:
    """What sets help out. The parser makes one for every option; without a width each looks for it by a library that is slow to
    load."""
    return argparse.RawDescriptionHelpFormatter(prog, width=screen_for(sys.stdout).width - 2)


def _epilog(examples: Sequence[str]) -> str:
    shown = "\n".join(f"  {example}" for example in examples)
    return f"examples:\n{shown}\n\nexit status:\n{statuses.listed()}"


def positive(text: str) -> int:
    """A whole number from 1 on, of the command line."""
    if not text.isascii() or not text.isdigit() or not 0 < int(text) <= 100_000:
        raise argparse.ArgumentTypeError(f"expected a whole number from 1 to 100000, found {text!r}")
    return int(text)
