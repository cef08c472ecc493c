"""As many requests as are wanted, made of the corpora: clauses of two requests put together, other zones and sizes, slips of the
keys. The same every time.
"""

from __future__ import annotations

import csv
import json
import random
import re
from pathlib import Path

CORPORA = ("mixed", "spoken", "written")
FOLDER = Path(__file__).parent.parent / "requests"
HEADINGS = ["job", "customer", "request", "zip"]


def requests(count: int) -> list[list[str]]:
    """The rows of a table; every fiftieth is empty."""
    lines = [line for name in CORPORA for line in (FOLDER / f"{name}.jsonl").read_text(encoding="utf-8").splitlines()]
    texts = [str(json.loads(line)["text"]) for line in lines]
    dice = random.Random(11)
    return [
        [f"J{n:05}", dice.choice(("Zoë", "=1+1", "Oar\nFennick")), _text(n, texts, dice), f"0{n % 9999:04}"]
        for n in range(count)
    ]


def _text(n: int, texts: list[str], dice: random.Random) -> str:
    if n % 50 == 49:
        return ""
    one = texts[n % len(texts)]
    if n < len(texts):
        return one
    first, second = (re.split(r"(?<=[.;,]) ", text) for text in (one, dice.choice(texts)))
    text = " ".join([*first[: dice.randint(1, len(first))], *second[: dice.randint(0, 2)]])
    text = re.sub(r"\b\d+\b", lambda found: str(max(1, int(found[0]) + dice.randint(-1, 2))), text)
    place = dice.randrange(len(text))
    slip = dice.random() < 0.3 and text[place].isalpha()
    return text[:place] + text[place + 1 :] if slip else text


def table(path: Path, count: int) -> Path:
    """The requests as a file."""
    with path.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows([HEADINGS, *requests(count)])
    return path
