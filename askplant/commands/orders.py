"""Words of the desk's own: what each does, and the form a line must have to be one rather than a request.

Whatever has not the form is a request: `keep 2` is ours, "keep it under 6 ft" is the caller's.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import NamedTuple

from askplant.reading.ordering import order_in, without_leads
from askplant.reading.vocabulary import Vocabulary

LEAVE = ("quit", "exit", "q", "bye")
_BETWEEN = re.compile(r"[,;&]| (?:and|with|or|to|vs\.?|versus|against) ")


class Order(NamedTuple):
    """One word of the desk with what followed it."""

    word: str
    rest: str


class Help(NamedTuple):
    """How a word is typed, and what it does."""

    form: str
    says: str


# Words that stand alone.
ALONE = (
    "help",
    "undo",
    "redo",
    "list",
    "full",
    "all",
    "request",
    "apart",
    "together",
    "sittings",
    "log",
    "compare",
    "say",
    "paste",
)
# Words that something follows.
LED = ("help", "off", "on", "keep", "drop", "note", "compare", "save", "open", "export", "show", "why", "say", "log")

PARTS: tuple[tuple[str, tuple[Help, ...]], ...] = (
    (
        "Ask, then go on in your own words",
        (
            Help("evergreen, narrow, zone 7", "a request"),
            Help("8 ft instead", "changes it; so do: narrower, a bit taller, what about zone 6?"),
            Help("never mind the deer", "takes a wish back; no hollies: leaves plants out"),
            Help("like the second but shorter", "by a plant of the answer"),
            Help("new: small tree, zone 5", "a request of its own, whatever was asked before"),
            Help("more", "the next plants that fit"),
        ),
    ),
    (
        "Take a line back, or take it otherwise",
        (
            Help("undo, redo", "one line back, and forward again"),
            Help("off 3, on 3", "the third wish does not count for now, and counts again"),
            Help("apart, together", "take the last line as a new request, or as a change of the one before"),
            Help("request", "all that is asked, with the words it came from"),
        ),
    ),
    (
        "About a plant: its name, it, or its number where it was shown last",
        (
            Help("why 2, why not inkberry", "what speaks for it and against it here"),
            Help("how tall will it be in 5 years", "also: how wide does 2 get, when will it be 8 ft"),
            Help("is it safe for dogs", "whether a plant is so"),
            Help("when do I prune it", "also: how far apart, can I keep it at 5 ft, when does 2 bloom"),
            Help("tell me more about 3", "sizes, good and bad points, cautions"),
            Help("say 2", "the sentence to read aloud"),
            Help("show inkberry", "every value the base holds, with its source"),
            Help("full, all", "the answer at length, and every plant that is out"),
        ),
    ),
    (
        "The short list",
        (
            Help("keep 2, drop 2", "put a plant on it, take it off"),
            Help("note 2 for the corner", "write something beside it"),
            Help("list, compare", "see it; side by side, drawn to scale (also: compare 1 3, inkberry with 2)"),
            Help("export list.md", "to a file: .md, .csv, .xlsx, .json; .html is the sheet for the owner"),
        ),
    ),
    (
        "Sittings",
        (
            Help("save A-1204", "keep all of this under a caller's reference"),
            Help("open A-1204, sittings", "go on with it; which there are"),
            Help("log, log off, log on", "what callers ask for that is lacking; do not log, log again"),
            Help("paste", "a text of several lines, up to a line with a single dot"),
            Help("help", "this"),
            Help("quit", "leave (or Ctrl-D); Ctrl-C only drops the line"),
        ),
    ),
)
FORM_COLUMN = 32


def order_of(line: str, vocabulary: Vocabulary) -> Order | None:
    """The word of the desk that a line begins with, or says in other words; whether the rest has its form the word decides."""
    text = without_leads(line.strip(), vocabulary, ("PUT",), ("idle", "back"))
    word, _, rest = text.partition(" ")
    order = Order(*(order_in(text, vocabulary) or (word.casefold().rstrip(":?"), rest.strip())))
    return order if order.word in (LED if order.rest else ALONE) else None


def help_of(word: str) -> str | None:
    """How a word of the desk is typed and what it does, in a line."""
    helps = (one for _, part in PARTS for one in part)
    return next((f"{one.form}: {one.says}" for one in helps if word in one.form.replace(",", "").split()), None)


def numbers(text: str) -> list[int] | None:
    """The numbers of a list like `1, 3 and 5`; None where it holds anything else."""
    parts = parted(text)
    if not parts or not all(part.removeprefix("#").isdecimal() for part in parts):
        return None
    return [int(part.removeprefix("#")) for part in parts]


def parted(text: str) -> list[str]:
    """The items of a list parted by commas, `and`, `with` and their like, or, between numbers, by blanks."""
    parts = [part.strip() for part in _BETWEEN.split(text)]
    out: list[str] = []
    for part in filter(None, parts):
        words = part.split()
        out += words if all(word.isdecimal() for word in words) else [part]
    return out


def help_text(fold: Callable[[str, str, str], Sequence[str]]) -> str:
    """Every form with what it does; `fold` lays a text out behind a lead."""
    lines: list[str] = []
    for heading, helps in PARTS:
        lines += ([""] if lines else []) + [heading]
        for one in helps:
            lead = f"  {one.form:<{FORM_COLUMN}}"
            lines += fold(one.says, lead if lead.endswith(" ") else f"{lead}  ", " " * (FORM_COLUMN + 2))
    return "\n".join(lines) + "\n"
