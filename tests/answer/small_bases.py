"""Generated small bases of invented plants, and requests over them, for what must hold of every answer."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from askplant.reading.reading import Condition, Reading

from ..verdicts.invented import FOOT, InventedBase

DEER = ["frequently severely damaged", "occasionally severely damaged", "seldom severely damaged", "rarely damaged"]
LIGHT = ["full sun", "part sun", "part shade", "full shade"]
LEAF = ["evergreen", "semi-evergreen", "deciduous"]
ZONES = ["4a", "4b", "5a", "5b", "6a", "6b", "7a", "7b", "8a", "8b", "9a", "9b", "10a", "10b"]
COLOURS = ["white", "pink", "red"]


def known(values: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """A value, or nothing where the card is silent."""
    return st.none() | values


def some(words: list[str]) -> st.SearchStrategy[list[str]]:
    return st.lists(st.sampled_from(words), min_size=1, max_size=2, unique=True).map(sorted)


ranges = st.tuples(st.integers(1, 30), st.integers(0, 10)).map(
    lambda pair: [round(pair[0] * FOOT, 4), round((pair[0] + pair[1]) * FOOT, 4)]
)
plants = st.fixed_dictionaries(
    {
        "kind": known(some(["tree", "shrub", "perennial"])),
        "persistence": known(st.sampled_from(LEAF).map(lambda word: [word])),
        "height_grown": known(ranges),
        "width_grown": known(ranges),
        "height_old": known(ranges),
        "shearing": known(st.sampled_from(["no", "light", "yes"])),
        "growth": known(st.sampled_from(["slow", "moderate", "fast"])),
        "deer": known(st.sampled_from(DEER)),
        "light": known(some(LIGHT)),
        "zone_cold": known(st.integers(4, 16)),
        "zone_warm": known(st.integers(10, 20)),
        "flower_colour": known(some(COLOURS)),
        "fragrance": known(st.sampled_from(["yes", "slight", "no"]).map(lambda word: [word])),
        "poison": known(st.sampled_from([[["none known", "", ""]], [["dogs", "mild", "leaves"]]])),
        "pests": known(st.sampled_from(["few", "fire blight", "aphids"])),
    }
)
SPECIES = ["Fictia alba", "Fictia nigra", "Inventa prima", "Inventa prima 'Alpha'", "Inventa prima 'Beta'", "Falsa vera",
           "Falsa vera 'Gamma'", "Ignota secunda", "Ignota tertia", "Nusquam unica"]  # fmt: skip
bases = st.lists(plants, min_size=1, max_size=len(SPECIES)).map(
    lambda found: InventedBase(dict(zip(SPECIES, found, strict=False)))
)

strengths = st.sampled_from(["must", "must", "wish"])
eithers = st.none() | st.none() | st.integers(1, 2)


def bound(trait: str) -> st.SearchStrategy[Condition]:
    feet = st.integers(1, 30).map(lambda number: round(number * FOOT, 4))

    def made(test: str, low: float, more: int, strength: str, either: int | None) -> Condition:
        bounds = {
            "at_most": (None, low),
            "at_least": (low, None),
            "within": (low, low + more * FOOT),
            "about": (low, low),
        }[test]
        return Condition(trait, test, (), *bounds, unit="m", strength=strength, either=either)  # type: ignore[arg-type]

    tests = st.sampled_from(["at_most", "at_least", "within", "about"])
    return st.builds(made, tests, feet, st.integers(1, 10), strengths, eithers)


def worded(trait: str, values: list[str], *tests: str) -> st.SearchStrategy[Condition]:
    return st.builds(
        lambda test, words, strength, either: Condition(trait, test, tuple(words), strength=strength, either=either),
        st.sampled_from(tests or ("any_of",)),
        st.lists(st.sampled_from(values), min_size=1, max_size=2, unique=True),
        strengths,
        eithers,
    )


conditions = st.one_of(
    bound("height"),
    bound("width"),
    worded("persistence", LEAF, "any_of", "none_of"),
    worded("kind", ["tree", "shrub", "perennial"]),
    worded("deer", DEER, "at_least"),
    worded("light", LIGHT),
    worded("zone", ["5a", "5b", "6a", "7a"]),
    st.integers(0, 6).map(lambda low: Condition("zone", "any_of", tuple(ZONES[low : low + 8]))),
    worded("flower_colour", COLOURS, "any_of", "none_of"),
    worded("fragrance", ["yes"]),
    worded("growth", ["slow", "fast"]),
    worded("safe_for", ["dogs", "cats"]),
    worded("use", ["screen", "hedge", "shade"]),
    worded("taxon", ["Inventa", "Fictia alba", "Falsa vera"], "any_of", "none_of"),
)
readings = st.lists(conditions, max_size=6).map(lambda found: Reading("invented", tuple(found)))
