"""The `askplant` command: finds a command's module, runs it, and turns trouble into one line and an exit status."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence

from askplant import statuses, streams
from askplant.errors import AskplantError

# Each command's module is imported when it is called: what the others need would slow every start.
COMMANDS = {
    "ask": "which plants fit a request, and why the others do not (`askplant TEXT` does the same)",
    "read": "how a request is understood",
    "why": "every verdict on one plant for a request",
    "show": "all that is known of a plant",
    "compare": "plants side by side",
    "care": "what chosen plants need, month by month",
    "growth": "how high and wide a plant is over the years",
    "hold": "whether a plant can be held at a size, and what that takes",
    "plan": "a mixed screen: how many of which plants, and where each stands",
    "sheet": "one page to print or send: the plants chosen, drawn over the years, and their care",
    "traits": "check, export and import trait values, and note sizes that you measured",
    "stock": "a nursery's own list: how its names are matched, its tags, and taking it into answers",
    "batch": "answer a whole table of requests",
    "desk": "ask one request after another (`askplant` alone in a terminal does the same)",
}
LINES = "--lines"
TAKES_VALUE = (
    LINES, "--count", "--units", "--base", "--color", "--width", "--column",
    "--rows", "--spacing", "--share", "--plants",
    "--age", "--height", "--place", "--pruned", "--note", "--date", "--into",
    "--stock", "--names", "--write-names", "--mapping", "--write-mapping", "--sheet", "--workers", "--cluster",
    "--zone", "--planted", "--years", "--from", "--ics", "--at",
    "--out", "--paper", "--open",
)  # fmt: skip
TRACE = "ASKPLANT_TRACE"
# One request makes many objects and drops few, so Python does not look for garbage while it is answered, nor once more while
# leaving: that took 65 of 250 ms. Commands that go on for long look at times.
LASTING = ("batch", "desk")
SELDOM = 50_000


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status; what goes wrong is one line on standard error, never raised."""
    gc.disable()
    streams.prepare()
    status = _guarded(list(sys.argv[1:] if arguments is None else arguments))
    gc.freeze()
    return status


def _guarded(arguments: list[str]) -> int:
    try:
        status = _run(arguments)
        sys.stdout.flush()  # a reader that left, or a full disk, shows here at the latest
    except BrokenPipeError:
        streams.abandon(sys.stdout)
        return statuses.FITS
    except KeyboardInterrupt:
        streams.abandon(sys.stdout)
        return _complain("stopped", statuses.STOPPED)
    except AskplantError as problem:
        return _complain(_first(str(problem)), problem.status)
    except OSError as problem:
        streams.abandon(sys.stdout)
        return _complain(_system_trouble(problem), statuses.TROUBLE)
    except Exception as problem:
        trouble = f"trouble inside the program: {type(problem).__name__}: {problem} ({TRACE}=1 shows where)"
        return _complain(trouble, statuses.TROUBLE)
    return status


def _run(arguments: list[str]) -> int:
    if arguments in (["-h"], ["--help"], ["help"]):
        return _help()
    if arguments in (["-V"], ["--version"]):
        return _version()
    name, rest = _command(arguments)
    if name in LASTING or LINES in rest:
        gc.set_threshold(SELDOM)
        gc.enable()
    from importlib import import_module

    module = import_module(f"askplant.commands.{name}")
    try:
        given = module.parser().parse_intermixed_args(rest)
    except SystemExit:  # --help has been printed
        return statuses.FITS
    status: int = module.run(given)
    return status


def _command(arguments: list[str]) -> tuple[str, list[str]]:
    """The command's name and what it is given; options may stand before the name, and a request alone is asked."""
    place = _first_word(arguments)
    if place is None:
        alone = _at_a_terminal() and not any(argument.startswith(LINES) for argument in arguments)
        return ("desk" if alone else "ask", arguments)
    if arguments[place] in COMMANDS:
        return arguments[place], arguments[:place] + arguments[place + 1 :]
    return "ask", arguments


def _first_word(arguments: list[str]) -> int | None:
    """Where the first argument stands that is neither an option nor an option's value."""
    value = False
    for place, argument in enumerate(arguments):
        if not value and not argument.startswith("--"):
            return place
        value = not value and argument in TAKES_VALUE
    return None


def _at_a_terminal() -> bool:
    return sys.stdin is not None and sys.stdin.isatty() and sys.stdout.isatty()


def _help() -> int:
    from askplant.commands.overview import overview

    print(overview(COMMANDS))
    return statuses.FITS


def _version() -> int:
    from askplant import __version__

    print(f"askplant {__version__}")
    return statuses.FITS


def _first(message: str) -> str:
    """The first of several faults of the trait files, and how to see the others."""
    first, *rest = message.splitlines()
    return f"{first} (and {len(rest)} more: askplant traits check lists them)" if rest else first


def _system_trouble(problem: OSError) -> str:
    where = f"{problem.filename}: " if problem.filename else ""
    return f"{where}{(problem.strerror or str(problem)).lower()}"


def _complain(text: str, status: int) -> int:
    """One line on standard error, and the trace before it where that was asked for."""
    try:
        sys.stdout.flush()  # what was found before the trouble comes before it
    except OSError:
        streams.abandon(sys.stdout)
    if os.environ.get(TRACE) == "1":
        import traceback

        traceback.print_exc()
    try:
        print(f"askplant: {' '.join(text.split())}", file=sys.stderr)
        sys.stderr.flush()
    except OSError:
        streams.abandon(sys.stderr)
    return status
