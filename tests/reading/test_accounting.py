"""Properties of every reading: nothing dropped, nothing raised, order and dress of words of no account, time linear."""

from __future__ import annotations

import json
import random
import time
from pathlib import Path

import pytest

from askplant.base.opened import Base
from askplant.errors import RequestError
from askplant.reading.read import MOST_CHARACTERS, read
from askplant.reading.reading import as_json
from tests.reading.told import meanings, uncovered

CORPORA = [
    Path(__file__).parent.parent / "requests" / f"{name}.jsonl"
    for name in ("spoken", "written", "mixed", "further", "plain", "plain2")
]
LIST = [
    "evergreen",
    "10-15 ft",
    "narrow",
    "zone 7",
    "deer resistant",
    "part shade",
    "white flowers",
    "no thorns",
    "heavy clay",
    "fragrant",
]


def requests() -> list[str]:
    """The texts of all corpora."""
    return [
        json.loads(line)["text"]
        for path in CORPORA
        for line in path.read_text(encoding="utf-8").splitlines()
        if line.strip()
    ]


def test_every_word_is_accounted_for(real_base: Base) -> None:
    """A word is part of a condition, the task, a mention, a filler or unread."""
    for text in [*requests(), ", ".join(LIST)]:
        assert uncovered(read(text, real_base)) == [], text


def test_spans_cut_the_request(real_base: Base) -> None:
    """`text` is what stands at `at`."""
    for text in requests():
        reading = read(text, real_base)
        for part in (*reading.conditions, *reading.unread, *reading.named):
            assert text[part.at[0] : part.at[1]] == part.text


def test_order_of_a_list_does_not_matter(real_base: Base) -> None:
    """A comma list means the same in any order."""
    chance = random.Random(5)
    expected = meanings(read(", ".join(LIST), real_base))
    assert len(expected) == len(LIST)
    for _ in range(60):
        assert meanings(read(", ".join(chance.sample(LIST, len(LIST))), real_base)) == expected


@pytest.mark.parametrize(
    "dress",
    [
        str.upper,
        lambda text: text.replace(" ", "   "),
        lambda text: text.replace("'", "’").replace("-", "–"),
        lambda text: f"🌿 {text} 🌳!",
        lambda text: text.replace(",", " ,"),
    ],
)
def test_dress_does_not_matter(real_base: Base, dress: object) -> None:
    """Capitals, spaces, curly quotes, other dashes and pictures change nothing."""
    text = ", ".join(LIST) + ", don't want holly"
    assert callable(dress)
    assert meanings(read(dress(text), real_base)) == meanings(read(text, real_base))


def test_any_text_at_all_is_read(real_base: Base) -> None:
    """Ten thousand random and mutated texts: a reading each, no exception, all of it plain JSON."""
    chance = random.Random(11)
    seeds = [*requests(), ", ".join(LIST), "5'6\" × 10ft–12 ft, −10 °F; H4 z4 7b/8a (not holly)"]
    for _ in range(10_000):
        text = _mutated(chance, chance.choice(seeds)) if chance.random() < 0.8 else _noise(chance)
        reading = read(text, real_base)
        json.dumps(as_json(reading), allow_nan=False)


def _mutated(chance: random.Random, text: str) -> str:
    start = chance.randrange(len(text))
    text = text[start : start + chance.randrange(10, 90)]
    for _ in range(chance.randrange(6)):
        at = chance.randrange(len(text) + 1)
        text = (
            text[:at]
            + chance.choice(
                ["", " ", "'", '"', "-", "7", "/", ",", "ft", " not ", "½", "é", "\x00", "\n", "(", "zone "]
            )
            + text[at + chance.randrange(2) :]
        )
    return text


def _noise(chance: random.Random) -> str:
    return "".join(
        chr(chance.choice([chance.randrange(32, 127), chance.randrange(32, 0x2FFF)]))
        for _ in range(chance.randrange(60))
    )


def test_a_long_request_is_refused_in_one_line(real_base: Base) -> None:
    """A pasted book is not read in silence."""
    with pytest.raises(RequestError, match="characters"):
        read("evergreen shrub " * 7000, real_base)


@pytest.mark.parametrize(
    "word", ["not ", "the yard is small, ", "5 ", "(holly ", "pink ", "near the ", ", ", "zone 7 - "]
)
def test_time_is_linear(real_base: Base, word: str) -> None:
    """Four times the text takes at most about four times the processor's time: the best of several turns each."""
    texts = [(word * length)[:length] for length in (MOST_CHARACTERS, MOST_CHARACTERS // 4)]
    read(word * 50, real_base)

    def seconds(text: str) -> float:
        start = time.thread_time()
        read(text, real_base)
        return time.thread_time() - start

    whole, quarter = (min(some) for some in zip(*([seconds(text) for text in texts] for _ in range(4)), strict=True))
    assert whole < 10 * quarter + 0.05
