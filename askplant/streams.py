"""Standard output and error made safe: any terminal's encoding, a reader that leaves early, a disk that is full."""

from __future__ import annotations

import codecs
import os
import sys
from typing import TextIO

# What a terminal that has no such sign is shown instead; everything else loses its accent, or becomes a question mark.
PLAIN = {
    "–": "-", "—": "-", "−": "-", "‐": "-", "×": "x", "°": "", "’": "'", "‘": "'", "“": '"', "”": '"',
    "′": "'", "″": '"', "½": "1/2", "¼": "1/4", "¾": "3/4", "…": "...", "·": "*", "•": "*", "→": "->",
    "≥": ">=", "≤": "<=", "\N{NO-BREAK SPACE}": " ", "\N{THIN SPACE}": " ",
}  # fmt: skip
HANDLER = "askplant-plain"


def prepare() -> None:
    """Let standard output and error write any text, plainly where their encoding lacks a sign. Safe to call twice."""
    codecs.register_error(HANDLER, _plainly)
    for name in ("stdout", "stderr"):
        stream = getattr(sys, name)
        if stream is None:  # closed by whoever started us: there is nobody to write to
            setattr(sys, name, open(os.devnull, "w", encoding="utf-8"))  # noqa: SIM115
        elif hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="ascii" if _ascii_asked() else stream.encoding, errors=HANDLER)


def abandon(stream: TextIO) -> None:
    """Send what is still buffered nowhere, so that leaving does not try, and complain, once more."""
    try:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)
    except (OSError, ValueError):
        pass


def _ascii_asked() -> bool:
    """LC_ALL=C asks for plain ASCII, though Python itself would write UTF-8 then."""
    chosen = os.environ.get("PYTHONIOENCODING") or os.environ.get("PYTHONUTF8")
    return not chosen and os.environ.get("LC_ALL") in ("C", "POSIX")


def _plainly(problem: UnicodeError) -> tuple[str, int]:
    if not isinstance(problem, UnicodeEncodeError):
        raise problem
    stretch = problem.object[problem.start : problem.end]
    return "".join(_plain(sign) for sign in stretch), problem.end


def _plain(sign: str) -> str:
    if sign in PLAIN:
        return PLAIN[sign]
    import unicodedata  # only for the rare sign that has no plain form above

    return unicodedata.normalize("NFKD", sign).encode("ascii", "ignore").decode("ascii") or "?"
