"""Lines that cannot be read at all: each still gets its answer, in which every word stands as not understood."""

from __future__ import annotations

import sys

from askplant.desk import Desk
from askplant.errors import RequestError
from askplant.reading.reading import Reading, Unread


def reading_of(text: str, desk: Desk) -> Reading:
    """The reading of a line; of one that cannot be read, a reading that says so, with a word on standard error."""
    try:
        return desk.read(text)
    except RequestError as problem:
        print(f"askplant: {problem}", file=sys.stderr)
        return Reading(text, unread=(Unread(text, (0, len(text))),))
