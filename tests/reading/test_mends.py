"""Spelling: what is mended, what is left alone, and what a typo may do to a reading at most."""

from __future__ import annotations

import random
import re
from pathlib import Path

import pytest

from askplant.base.opened import Base
from askplant.folding import stem
from askplant.reading.read import read
from tests.corpus import load
from tests.reading.told import meanings

FOLDER = Path(__file__).parent.parent / "requests"
# A typo can make another word that is known (three for tree): no rule can tell, so a few readings may differ.
DIFFERENT = 0.03
# Ordinary words no list of ours holds that may be taken for a misspelt word of the vocabulary.
WRONG_MENDS = 0.01

TYPOS = {
    "evergeen": "persistence any_of evergreen",
    "deciduos": "persistence any_of deciduous",
    "fragrnt": "fragrance any_of yes",
    "drought tolerent": "drought any_of tolerant",
    "clumnar": "form any_of columnar",
    "groundcovr": "use any_of ground cover",
    "part shde": "light any_of part shade",
    "zon 7": "zone any_of 7a 7b",
    "10 fet tall": "height about 3.05..3.05",
    "juniperr": "taxon any_of juniper",
}


@pytest.mark.parametrize("wrong, meant", TYPOS.items())
def test_an_ordinary_typo_is_mended(real_base: Base, wrong: str, meant: str) -> None:
    """One or two edits from the only near word."""
    assert meanings(read(wrong, real_base)) == {meant}


@pytest.mark.parametrize(
    "word", ["narrowly", "hostage", "rouse", "sagely", "deerskin", "hollow", "fernlike", "cocksure", "zoned"]
)
def test_an_ordinary_word_is_left_alone(real_base: Base, word: str) -> None:
    """Words that look like those of the vocabulary and are not."""
    reading = read(f"evergreen, {word}", real_base)
    assert meanings(reading) == {"persistence any_of evergreen"}
    assert not reading.corrections


def _typo(chance: random.Random, word: str) -> str:
    at = chance.randrange(1, len(word))
    letter = chance.choice("etaoinsr")
    return chance.choice(
        [
            word[:at] + word[at + 1 :],
            word[:at] + letter + word[at:],
            word[:at] + letter + word[at + 1 :],
            word[: at - 1] + word[at] + word[at - 1] + word[at + 1 :],
        ]
    )


def test_a_typo_changes_no_condition(real_base: Base) -> None:
    """A typo in one word leaves the reading as it is, or leaves the word out of it; it makes no other condition."""
    chance = random.Random(17)
    texts = [
        " ".join(case["text"].split()) for name in ("spoken", "written") for case in load([FOLDER / f"{name}.jsonl"])
    ]
    different, tried = [], 0
    for text in texts * 2:
        word = chance.choice(list(re.finditer(r"[A-Za-z]{5,}", text)))
        wrong = text[: word.start()] + _typo(chance, word.group()) + text[word.end() :]
        tried += 1
        if not meanings(read(wrong, real_base)) <= meanings(read(text, real_base)):
            different.append((word.group(), wrong))
    assert len(different) <= DIFFERENT * tried, f"{len(different)} of {tried}: {different[:10]}"


def test_inflections_of_ordinary_words_make_no_condition(real_base: Base) -> None:
    """Words made from ordinary ones, which no list holds, are not bent into the vocabulary."""
    chance = random.Random(23)
    path = Path(__file__).parent.parent.parent / "traits" / "vocabulary" / "ordinary_words.txt"
    ordinary = [
        line for line in path.read_text(encoding="utf-8").splitlines() if len(line) > 4 and not line.startswith("#")
    ]
    made = {word + ending for word in chance.sample(ordinary, 5_000) for ending in ("ish", "ness", "like")}
    strange = [word for word in sorted(made) if not real_base.is_known(stem(word))][:4_000]
    bent = [word for word in strange if read(word, real_base).conditions]
    assert len(bent) <= WRONG_MENDS * len(strange), f"{len(bent)} of {len(strange)}: {bent[:20]}"
