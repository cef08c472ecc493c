"""`askplant read`: how a request is understood."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Callable

from askplant import statuses
from askplant.commands.arguments import Parser, add_common, add_lines, add_text
from askplant.commands.requests import lines_alone, text_of
from askplant.commands.setting import desk_of, screen_of
from askplant.commands.unreadable import reading_of
from askplant.desk import Desk
from askplant.reading.reading import Reading, as_json
from askplant.render.as_json import dumped
from askplant.render.understood import echoes_of, understood

EXAMPLES = (
    'askplant read "evergren, 10–15 ft, no wider than 4 ft, zone 7, ideally fragrant"',
    'askplant read --json "something for a soggy corner"',
    "askplant read --lines requests.txt --json > readings.jsonl",
)


def parser() -> Parser:
    """Arguments of `askplant read`."""
    parser = Parser("read", "How a request is understood, every word of it accounted for.", EXAMPLES)
    add_text(parser)
    add_lines(parser)
    add_common(parser)
    return parser


def run(arguments: Namespace) -> int:
    """Read one request, or each line of a file."""
    if arguments.lines:
        return _each_line(arguments)
    text = text_of(arguments.text, "askplant read")
    sys.stdout.write(_form(arguments, desk := desk_of(arguments))(desk.read(text)))
    return statuses.FITS


def _each_line(arguments: Namespace) -> int:
    lines = lines_alone(arguments.lines, arguments.text, "askplant read")
    desk = desk_of(arguments)
    form = _form(arguments, desk)
    for text in lines:
        sys.stdout.write(form(reading_of(text, desk)))
        sys.stdout.flush()  # whoever feeds lines one by one waits for each reading
    return statuses.FITS


def _form(arguments: Namespace, desk: Desk) -> Callable[[Reading], str]:
    if arguments.json:
        return lambda reading: dumped(as_json(reading), sys.stdout) + "\n"
    screen = screen_of(arguments)
    gap = "\n" if arguments.lines else ""
    return lambda reading: "\n".join(understood(reading, echoes_of(reading, desk.units), screen)) + "\n" + gap
