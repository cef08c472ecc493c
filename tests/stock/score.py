"""How well a stock list is matched, counted against the right plant of every line.

`python -m tests.stock.score tests/stock/messy.csv` prints the counts, and with `--show` every line that is not as it should be.
"""

from __future__ import annotations

import argparse
import csv
from pathlib import Path
from typing import NamedTuple

from askplant.base.opened import Base
from askplant.stock import load
from askplant.stock.stock import Line


class Told(NamedTuple):
    """One line as it was matched, the botanical name it stands for (empty: no one plant of the base), and why."""

    line: Line
    answer: str
    why: str


class Score(NamedTuple):
    """How many lines have a plant of the base; of these, how many are surely it; sure and wrong; how many are doubtful; of all
    with a plant, for how many it stands among the candidates."""

    lines: int
    here: int
    right: int
    wrong: int
    doubtful: int
    among: int


def answers_of(path: Path) -> Path:
    """The file with the right plants of a list."""
    return path.with_name(f"{path.stem}_answers.csv")


def told(path: Path, base: Base) -> list[Told]:
    """Every line of a list with its answer. A line that was not loaded is a fault of the list."""
    lines = {line.row: line for line in load(path, base).lines}
    with answers_of(path).open(encoding="utf-8", newline="") as file:
        return [Told(lines[int(row["row"])], row["answer"], row["why"]) for row in csv.DictReader(file)]


def is_right(one: Told, base: Base) -> bool:
    """Whether a sure line is the plant it stands for."""
    return base.plant(one.line.plants[0]).botanical == one.answer


def score(lines: list[Told], base: Base) -> Score:
    """The counts."""
    sure = [one for one in lines if one.line.sureness == "sure"]
    right = sum(is_right(one, base) for one in sure)
    here = [one for one in lines if one.answer]
    among = sum(one.answer in {base.plant(n).botanical for n in one.line.plants} for one in here)
    doubtful = sum(one.line.sureness == "doubtful" for one in lines)
    return Score(len(lines), len(here), right, len(sure) - right, doubtful, among)


def main() -> None:
    """Print the counts of a list."""
    parser = argparse.ArgumentParser()
    parser.add_argument("list", type=Path)
    parser.add_argument("--show", action="store_true")
    arguments = parser.parse_args()
    from askplant.desk import Desk

    base = Desk().base
    lines = told(arguments.list, base)
    print(score(lines, base))
    for one in lines if arguments.show else ():
        sure = one.line.sureness == "sure"
        if sure != bool(one.answer) or (sure and not is_right(one, base)):
            bad = "WRONG" if sure else one.line.sureness
            found = "; ".join(base.plant(n).botanical for n in one.line.plants[:3])
            if bad == "WRONG" or one.answer:
                print(f"{bad:9} {one.line.how:16} {one.line.name}  → {found}   | {one.answer or one.why}")


if __name__ == "__main__":
    main()
