"""`askplant desk`: one request after another, at a prompt in a terminal, line by line from a pipe."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from collections.abc import Callable

from askplant import statuses
from askplant.commands.arguments import Parser, add_common, add_stock
from askplant.commands.history import history_file
from askplant.commands.requests import STANDARD_INPUT, lines_of
from askplant.commands.setting import desk_of, screen_of
from askplant.commands.sitting import HELP, LEAVE, Sitting
from askplant.desk import Desk
from askplant.errors import AskplantError

EXAMPLES = ("askplant", "askplant desk --units metric", "askplant desk < requests.txt")
WELCOME = "Type what is wanted, for instance: evergreen, narrow, zone 7. help says more, Ctrl-D leaves.\n"
DUMB = ("dumb", "unknown", "")
PROMPT = "? "

ReadLine = Callable[[], str]


def parser() -> Parser:
    """Arguments of `askplant desk`."""
    parser = Parser("desk", "Ask one request after another.\n\n" + HELP, EXAMPLES)
    add_stock(parser)
    add_common(parser, json=False)
    return parser


def run(arguments: Namespace) -> int:
    """Answer lines until there are no more."""
    desk = desk_of(arguments)
    sitting = Sitting(desk, screen_of(arguments))
    if not (sys.stdin and sys.stdin.isatty() and sys.stdout.isatty()):
        converse(sitting, _piped())
        return statuses.FITS
    sys.stdout.write(f"{desk.base.count} plants. {WELCOME}")
    converse(sitting, _typed(desk))
    return statuses.FITS


def converse(sitting: Sitting, read_line: ReadLine) -> None:
    """Answer lines until they end or somebody leaves; trouble with one line does not end the sitting."""
    while True:
        try:
            line = read_line()
        except EOFError:
            return
        except KeyboardInterrupt:  # drops the line
            continue
        if line.strip().casefold() in LEAVE:
            return
        if line.strip():
            _answer(sitting, line)


def _answer(sitting: Sitting, line: str) -> None:
    try:
        sys.stdout.write(sitting.reply(line) + "\n")
    except AskplantError as problem:
        print(f"askplant: {problem}", file=sys.stderr)
    except KeyboardInterrupt:
        print("askplant: stopped", file=sys.stderr)
    sys.stdout.flush()


def _piped() -> ReadLine:
    lines = lines_of(STANDARD_INPUT)

    def read_line() -> str:
        try:
            return next(lines)
        except StopIteration:
            raise EOFError from None

    return read_line


def _typed(desk: Desk) -> ReadLine:
    """Lines with history and completion; plain lines where the terminal can do no more."""
    if os.environ.get("TERM", "") in DUMB and os.name != "nt":
        return lambda: input(PROMPT)
    from askplant.commands.prompt import NoTerminal, line_reader

    try:
        return line_reader(phrases(desk), history_file())
    except NoTerminal:
        return lambda: input(PROMPT)


def phrases(desk: Desk) -> list[str]:
    """What Tab completes: plant names as people write them, and the words of the vocabulary."""
    plants = desk.base.plants()
    names = [name for plant in plants for name in (plant.botanical, *plant.common)]
    return [*names, *desk.base.known_words()]
