"""How far it is: rows answered, rows a second and the time left, on a terminal; nothing in a pipe."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator

from askplant.batch.rows import Json


def shown(answers: Iterable[Json], done: int, rows: int) -> Iterator[Json]:
    """The answers as they come, with a bar on standard error where that is a terminal."""
    if sys.stderr is None or not sys.stderr.isatty():
        yield from answers
        return
    from tqdm import tqdm

    with tqdm(answers, initial=done, total=rows, unit=" rows", file=sys.stderr, leave=False, dynamic_ncols=True) as bar:
        yield from bar
