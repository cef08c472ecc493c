"""What `askplant --help` prints."""

from __future__ import annotations

from collections.abc import Mapping

from askplant import statuses

EXAMPLES = (
    'askplant "evergreen, 10–15 ft, narrow, zone 7, deer-proof, part shade"',
    'askplant read "a small tree that wont get too big, red fall color"',
    'askplant why "Ilex crenata \'Sky Pencil\'" "narrow evergreen for wet clay"',
    "askplant show inkberry",
    "askplant batch requests.csv answered.csv",
)


def overview(commands: Mapping[str, str]) -> str:
    """The commands with what each does, examples and exit statuses."""
    listed = "\n".join(f"  {name:<8} {about}" for name, about in commands.items())
    examples = "\n".join(f"  {example}" for example in EXAMPLES)
    return (
        "usage: askplant TEXT\n"
        "       askplant COMMAND ...\n\n"
        "Answers a plain-language request for plants from a base of traits, and explains every exclusion.\n\n"
        f"commands (askplant COMMAND --help says more):\n{listed}\n\n"
        f"examples:\n{examples}\n\n"
        f"exit status:\n{statuses.listed()}"
    )
