"""Bases of any size for measuring: plants invented by perturbing real cards. No value of them is true of any plant."""

from __future__ import annotations

import random
import shutil
import time
from collections.abc import Iterator
from pathlib import Path

from askplant import where
from askplant.base import deck, resolve
from askplant.base.build import build
from askplant.base.resolve import Settled

# Sizes are multiplied by one of these and written to a step a tag would have, metres.
FACTORS = (0.7, 0.8, 0.9, 1.0, 1.1, 1.25, 1.4)
STEPS = ((0.6, 0.05), (2.0, 0.15), (1e9, 0.3))
ZONES = [f"{n}{half}" for n in range(1, 14) for half in "ab"]
# Names are the genus of the real card and a number that says what they are.
EPITHET = "Invented"


def folder(place: Path, count: int, seed: int = 1) -> Path:
    """A traits folder of `count` invented plants; all else in it is that of the program."""
    real = where.folder("traits")
    shutil.copytree(real, place, ignore=shutil.ignore_patterns("plants", "observations.csv"))
    (place / "plants").mkdir()
    read = deck.read(real, None)
    cards, settled = read.cards, resolve.settle(read.cards, read.dictionary)
    dice, texts = random.Random(seed), dict[str, list[str]]()
    for number in range(count):
        card = cards[dice.randrange(len(cards))]
        lines = "".join(f"    {line}\n" for line in _lines(settled[card.id], dice))
        texts.setdefault(card.genus, []).append(f"{card.genus} '{EPITHET} {number}'\n    like: nothing\n{lines}")
    for genus, some in texts.items():
        text = f"# Invented plants, for measuring only\n\n{''.join(some)}"
        (place / "plants" / f"{genus.lower()}-invented.txt").write_text(text, encoding="utf-8")
    return place


def _lines(plant: dict[str, Settled], dice: random.Random) -> Iterator[str]:
    tall, wide = dice.choice(FACTORS), dice.choice(FACTORS)
    for trait, found in plant.items():
        entry, meaning = found.statements[0]
        if trait.startswith(("height_", "width_")) and meaning.low is not None and meaning.high is not None:
            factor = tall if trait.startswith("height_") else wide
            low, high = _stepped(meaning.low * factor), _stepped(meaning.high * factor)
            yield f"{trait}: {low:.2f}-{max(low + 0.05, high):.2f} m"
        elif trait not in ("zone", "zone_cold", "zone_warm") or dice.random() < 0.7:
            yield f"{entry.trait}: {entry.text}"


def _stepped(metres: float) -> float:
    step = next(step for most, step in STEPS if metres <= most)
    return max(step, round(metres / step) * step)


def base(place: Path, count: int) -> tuple[Path, float]:
    """A built base of invented plants, and the seconds that building took."""
    traits = folder(place / f"traits-{count}", count)
    target = place / f"invented-{count}.sqlite"
    start = time.perf_counter()
    build(target, traits, f"invented {count}")
    return target, time.perf_counter() - start
