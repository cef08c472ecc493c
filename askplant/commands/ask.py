"""`askplant ask`: which plants fit a request, and why the others do not."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Callable, Sequence

from askplant import statuses
from askplant.answer.answer import Answer
from askplant.commands.arguments import Parser, add_common, add_count, add_lines, add_stock, add_text
from askplant.commands.requests import lines_alone, text_of
from askplant.commands.setting import desk_of, screen_of
from askplant.commands.unreadable import reading_of
from askplant.desk import Desk
from askplant.reading.reading import Reading
from askplant.render.as_json import dumped
from askplant.render.speech import aloud
from askplant.render.text import answer_text

EXAMPLES = (
    'askplant ask "evergreen, 10–15 ft, narrow, zone 7, deer-proof, part shade"',
    "askplant ask small tree, red fall color, zone 5 --count 3",
    'askplant ask --json "groundcover for dry shade" | python -m json.tool',
    "askplant ask --lines requests.txt --say",
)

Form = Callable[[Answer], str]


def parser() -> Parser:
    """Arguments of `askplant ask`."""
    parser = Parser("ask", "Which plants fit a request, and why the others do not.", EXAMPLES)
    add_text(parser)
    add_lines(parser)
    parser.add_argument("--all", action="store_true", help="show every plant that fits, and why each other does not")
    add_count(parser)
    parser.add_argument("--say", action="store_true", help="only the sentences to read aloud")
    add_stock(parser)
    add_common(parser)
    return parser


def run(arguments: Namespace) -> int:
    """Answer one request, or each line of a file."""
    if arguments.lines:
        return _each_line(arguments)
    text = text_of(arguments.text, "askplant ask")
    desk = desk_of(arguments)
    readings = (desk.read(text),) if arguments.json else desk.read_apart(text)
    if len(readings) > 1:
        return _each_place(arguments, desk, readings)
    answer = desk.answer(readings[0], _count(arguments, desk), arguments.all, noted=arguments.json)
    sys.stdout.write(_form(arguments, desk)(answer))
    return statuses.FITS if answer.matches else statuses.NOTHING_FITS


def _each_place(arguments: Namespace, desk: Desk, readings: Sequence[Reading]) -> int:
    """Answer what is asked of each place by itself; the published form, which holds one reading, says only that there are two."""
    form = _form(arguments, desk)
    answers = [desk.answer(reading, _count(arguments, desk), arguments.all, noted=False) for reading in readings]
    texts = (f"Place {number} of {len(answers)}\n\n{form(answer)}" for number, answer in enumerate(answers, 1))
    sys.stdout.write("\n".join(texts))
    return statuses.FITS if all(answer.matches for answer in answers) else statuses.NOTHING_FITS


def _each_line(arguments: Namespace) -> int:
    lines = lines_alone(arguments.lines, arguments.text, "askplant ask")
    desk = desk_of(arguments)
    form = _form(arguments, desk)
    for text in lines:
        answer = desk.answer(reading_of(text, desk), _count(arguments, desk), arguments.all, noted=arguments.json)
        sys.stdout.write(form(answer))
        sys.stdout.flush()  # whoever feeds lines one by one waits for each answer
    return statuses.FITS


def _count(arguments: Namespace, desk: Desk) -> int | None:
    """--all shows every match, --count at most that many."""
    return desk.base.count if arguments.all and not arguments.count else arguments.count


def _form(arguments: Namespace, desk: Desk) -> Form:
    """How an answer is written."""
    if arguments.json:
        return lambda answer: dumped(desk.worded(answer).json, sys.stdout) + "\n"
    if arguments.say:
        return lambda answer: aloud(desk.worded(answer, whole=False), answer.reading, desk.title) + "\n"
    screen = screen_of(arguments)
    gap = "\n" if arguments.lines else ""
    return lambda answer: (
        answer_text(desk.worded(answer, whole=False), answer.reading, screen, desk.title, desk.units, arguments.all)
        + gap
    )
