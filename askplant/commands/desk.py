"""`askplant desk`: one request after another, at a prompt in a terminal, line by line from a pipe; what the calls tell."""

from __future__ import annotations

import os
import shutil
import sys
from argparse import Namespace
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from askplant import statuses
from askplant.commands.arguments import Parser, add_common, add_stock
from askplant.commands.history import history_file, is_logging, log_file, sittings_folder
from askplant.commands.orders import ALONE, LEAVE, LED
from askplant.commands.requests import STANDARD_INPUT, lines_of
from askplant.commands.setting import desk_of, screen_of
from askplant.commands.sitting import Sitting
from askplant.desk import Desk
from askplant.errors import AskplantError, UserError
from askplant.render.at_desk import hint
from askplant.render.calls import calls_text
from askplant.render.glanced import Line, plain_line
from askplant.sitting import calls
from askplant.sitting.journal import SUFFIX, UNNAMED, Journal, left_open

EXAMPLES = ("askplant", "askplant desk --units metric", "askplant desk < requests.txt", "askplant desk log")
WELCOME = "Type what is wanted, for instance: evergreen, narrow, zone 7.\nhelp says more, Ctrl-D leaves.\n"
LEFT = "There is an earlier sitting: open last goes on with it.\n"
DUMB = ("dumb", "unknown", "")
PROMPT = "? "
END_OF_PASTE = "."
# Below an empty line, before anything was asked.
HINT = "Type what is wanted: evergreen, narrow, zone 7 · Tab completes · help"
BELOW = 6  # lines of the screen that the prompt and what stands below it take
FEWEST_ROWS = 10

ReadLine = Callable[[], str]


def parser() -> Parser:
    """Arguments of `askplant desk`."""
    parser = Parser("desk", "Ask one request after another; the next line changes the last request.", EXAMPLES)
    parser.add_argument("what", nargs="?", choices=("log",), help="log: sum up what callers asked for")
    parser.add_argument("--plain", action="store_true", help="plain lines: nothing is drawn below them or drawn again")
    parser.add_argument("--unlogged", action="store_true", help="do not log the calls of this sitting")
    parser.add_argument("--open", metavar="REF", help="go on with the sitting of that reference, or begin it")
    add_stock(parser)
    add_common(parser, json=False)
    return parser


def run(arguments: Namespace) -> int:
    """Answer lines until there are no more."""
    log = log_file()
    if arguments.what == "log":
        if log is None:
            raise UserError("there is no folder for a log (ASKPLANT_STATE names one)")
        sys.stdout.write(calls_text(calls.summary(calls.calls(log)), str(log), screen_of(arguments)))
        return statuses.FITS
    logged = log if not arguments.unlogged and is_logging() else None
    desk = desk_of(arguments)
    if not (sys.stdin and sys.stdin.isatty() and sys.stdout.isatty()):
        sitting = Sitting(desk, screen_of(arguments), _journal(arguments.open), logged, plain=True)
        _take_up(sitting, arguments.open)
        converse(sitting, _piped())
        return statuses.FITS
    _at_terminal(desk, arguments, logged)
    return statuses.FITS


def _journal(reference: str | None, always: bool = False) -> Journal:
    """The journal of a sitting: under its reference, or under the time it began where every sitting is kept."""
    return Journal(sittings_folder() if reference or always else None)


def _at_terminal(desk: Desk, arguments: Namespace, log: Path | None) -> None:
    plain = arguments.plain or (os.environ.get("TERM", "") in DUMB and os.name != "nt")
    left = left_open(sittings_folder())
    sitting = Sitting(desk, screen_of(arguments), _journal(arguments.open, always=True), log, plain)
    sys.stdout.write(f"{desk.base.count} plants. {WELCOME}")
    if left is not None and not arguments.open:
        sys.stdout.write(LEFT)
    sitting.rows = None if plain else _rows()
    _take_up(sitting, arguments.open)
    converse(sitting, _plain() if plain else _typed(sitting, arguments))
    _leave(sitting)


def _rows() -> int:
    """How many lines a reply may have to be seen whole above the prompt."""
    return max(shutil.get_terminal_size().lines - BELOW, FEWEST_ROWS)


def _take_up(sitting: Sitting, reference: str | None) -> None:
    """Go on with the sitting of a reference; where there is none, this one is kept under it."""
    if not reference:
        return
    folder = sitting.journal.folder
    if folder is not None and (folder / f"{reference}{SUFFIX}").exists():
        sys.stdout.write(sitting.go_on(folder, reference) + "\n")
    else:
        sitting.journal.rename(reference)


def _leave(sitting: Sitting) -> None:
    """What is said at the end: nothing is lost, and how to come back to it."""
    sitting.journal.close()
    path = sitting.journal.path
    if path is not None and path.exists():
        name = sitting.journal.name
        sys.stdout.write(f"Kept: open {'last' if name.startswith(UNNAMED) else name} goes on with it.\n")


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

    return _with_paste(read_line)


def _plain() -> ReadLine:
    """Lines of a terminal that can do no more, or of somebody who hears them."""
    return _with_paste(lambda: input(PROMPT))


def _with_paste(read_line: ReadLine) -> ReadLine:
    """`paste` begins a text of several lines, which a line with a single dot ends: plain lines cannot tell a pasted text."""

    def read() -> str:
        line = read_line()
        if line.strip().casefold() != "paste":
            return line
        return "\n".join(_until_dot(read_line))

    return read


def _until_dot(read_line: ReadLine) -> Iterator[str]:
    while True:
        try:
            line = read_line()
        except EOFError:
            return
        if line.strip() == END_OF_PASTE:
            return
        yield line


def _typed(sitting: Sitting, arguments: Namespace) -> ReadLine:
    """Lines with history, completion and the reading below; plain lines where the terminal can do no more."""
    from askplant.commands.live import Live, Now
    from askplant.commands.prompt import LineReader, NoTerminal

    live = Live(sitting.desk, lambda: Now(sitting.past.now, sitting.shown, sitting.spoken_of), lambda: reader.redraw(), _columns)

    def below() -> Sequence[Line]:
        now = sitting.past.now
        return live.lines or (plain_line(HINT if now is None else hint(now, _columns()), _columns()),)

    def fit() -> None:
        """The window may be another size by now."""
        sitting.screen = screen_of(arguments)
        sitting.rows = _rows()

    try:
        reader = LineReader(phrases(sitting.desk), history_file(), live.typed, below)
    except NoTerminal:
        return _plain()

    def read_line() -> str:
        fit()
        line = reader()
        live.stop()
        fit()
        return line

    return _with_paste(read_line)


def _columns() -> int:
    return shutil.get_terminal_size().columns


def phrases(desk: Desk) -> list[str]:
    """What Tab completes: plant names as people write them, the words of the vocabulary, and those of the desk."""
    plants = desk.base.plants()
    names = [name for plant in plants for name in (plant.botanical, *plant.common)]
    return [*names, *desk.base.known_words(), *ALONE, *LED]
