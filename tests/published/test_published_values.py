"""Heights, widths, zones, light, persistence, flower colour and bloom as bulletins, agencies and cities print them.

The source of each row is a key of traits/sources/published.toml, which names title, publisher, year and address.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from askplant.base.opened import Plant
from askplant.base.opened import Row as Said
from askplant.quantities import quantity, zones
from askplant.quantities.lengths import FOOT, INCH
from tests.published.tables import Agreement, Taxa, number, table

UNITS = {"ft": FOOT, "in": INCH, "m": 1.0, "cm": 0.01}
# Lengths are kept to a thousandth of a metre and printed to an inch.
ROUNDING = 0.01
LIMITED = "list limited to state zones"


def values_of(taxa: Taxa, trait: str) -> Iterator[tuple[Plant, dict[str, str]]]:
    """Rows of a trait whose plant has a card."""
    for row in table("published_values"):
        plant = taxa.one(row["plant"])
        if row["trait"] == trait and plant is not None:
            yield plant, row


def test_sources_are_those_of_the_base(taxa: Taxa) -> None:
    for key in {row["source"] for row in table("published_values")}:
        source = taxa.base.source(key)
        assert source is not None, key
        assert source.basis == "opened", key


def test_nearly_every_published_plant_has_a_card(taxa: Taxa) -> None:
    """But for Betula schmidtii."""
    names = {row["plant"] for row in table("published_values")}
    assert {name for name in names if taxa.one(name) is None} <= {"Betula schmidtii"}


# ---- heights and widths


def extent(row: dict[str, str]) -> tuple[float, float]:
    """Lowest and highest published, metres; one figure is both."""
    low, high = number(row["low"]), number(row["high"])
    ends = [end * UNITS[row["unit"]] for end in (low, high) if end is not None]
    assert ends, row
    return min(ends), max(ends)


def said_of(taxa: Taxa, plant: Plant, *traits: str) -> list[Said]:
    """What each source says, without the resolved rows."""
    return [row for row in taxa.base.rows(plant.n) if row.trait in traits and row.source != "resolved"]


def resolved_range(taxa: Taxa, plant: Plant, axis: str) -> tuple[float, float]:
    """From the least grown to the most old size, metres, as resolved."""
    values = taxa.values(plant)
    ends = [end for trait in (f"{axis}_grown", f"{axis}_old") for end in (values[trait].low, values[trait].high)]
    known = [end for end in ends if end is not None]
    return min(known), max(known)


@pytest.mark.parametrize("axis, least, plants", [("height", 0.9, 170), ("width", 0.85, 95)])
def test_sizes_overlap(axis: str, least: float, plants: int, taxa: Taxa) -> None:
    """A plant agrees when its range from grown to old meets every published one."""
    agreement = Agreement(f"{axis}s, plants whose range meets every published one")
    found: dict[Plant, list[str]] = {}
    for plant, row in values_of(taxa, axis):
        (low, high), (least_, most) = extent(row), resolved_range(taxa, plant, axis)
        apart = low > most + ROUNDING or high < least_ - ROUNDING
        told = f"{plant.botanical}: {row['low']}-{row['high']} {row['unit']} ({row['source']})"
        found.setdefault(plant, []).extend([told] if apart else [])
    for apart_rows in found.values():
        agreement.add(not apart_rows, "; ".join(apart_rows))
    agreement.holds(least, rows=plants)


def test_no_height_is_above_all_that_the_base_holds(taxa: Taxa) -> None:
    """Where sources disagree the base keeps each; the tallest old height among them is no lower than any published."""
    above = []
    for plant, row in values_of(taxa, "height"):
        most = max(said.high or 0 for said in said_of(taxa, plant, "height_old", "height_grown"))
        if extent(row)[1] > most + ROUNDING:
            above.append(f"{plant.botanical}: {row['high'] or row['low']} {row['unit']} ({row['source']})")
    assert not above, "\n".join(above)


def test_resolved_old_height_reaches_the_published(taxa: Taxa) -> None:
    """Plants whose resolved old height, the middle one of disagreeing sources, is no lower than any published height."""
    agreement = Agreement("heights, plants whose resolved old height reaches every published one")
    reached: dict[Plant, bool] = {}
    for plant, row in values_of(taxa, "height"):
        reaches = extent(row)[1] <= resolved_range(taxa, plant, "height")[1] + ROUNDING
        reached[plant] = reached.get(plant, True) and reaches
    for plant, reaches in reached.items():
        agreement.add(reaches, plant.botanical)
    agreement.holds(0.9, rows=170)


def test_height_rows_are_cited(taxa: Taxa) -> None:
    """The cards hold the published heights themselves: nine in ten rows stand on their plant's card under their key."""
    agreement = Agreement("published heights that stand on the card under their source")
    for plant, row in values_of(taxa, "height"):
        keys = {said.source for said in said_of(taxa, plant, "height_label", "height_grown", "height_old")}
        agreement.add(row["source"] in keys, f"{plant.botanical} ({row['source']})")
    agreement.holds(0.9, rows=200)


# ---- zones


def test_zones_are_within_a_half_zone(taxa: Taxa) -> None:
    """A whole zone printed as a cold limit means its colder half, as a warm limit its warmer one.

    Rows of lists limited to a state's own zones are left out: they say nothing of a plant's limits.
    """
    agreement = Agreement("zones, limits within a half-zone")
    for trait, ours, half in (("zone_min", "zone_cold", "a"), ("zone_max", "zone_warm", "b")):
        for plant, row in values_of(taxa, trait):
            if row["note"] == LIMITED:
                continue
            text = row["value"] if row["value"][-1] in "ab" else row["value"] + half
            (held,) = taxa.words(plant, ours)
            off = abs(zones.index(held) - zones.index(text))
            agreement.add(off <= 1, f"{plant.botanical}: {text}, card {held} ({row['source']})")
    agreement.holds(0.95, rows=30)


# ---- words: what each printed word may be in ours

PERSISTENCE = {
    "evergreen": {"evergreen"},
    "usually evergreen": {"evergreen", "semi-evergreen"},
    "semi-evergreen": {"semi-evergreen"},
    # Said of perennials too, whose tops die.
    "deciduous": {"deciduous", "dies back"},
}
# "Light shade" and "semi-shade" are hours of part shade or part sun; lists that say "shade" do not tell deep from part.
LIGHT = {
    "full sun": {"full sun"},
    "sun": {"full sun"},
    "partial sun": {"part sun", "part shade"},
    "part sun": {"part sun", "part shade"},
    "some shade": {"part sun", "part shade"},
    "light shade": {"part sun", "part shade"},
    "light": {"part sun", "part shade"},
    "semi-shade": {"part sun", "part shade"},
    "part shade": {"part sun", "part shade"},
    "partial shade": {"part sun", "part shade"},
    "shade": {"part shade", "full shade"},
}
FULL = {"full to partial sun": ("full sun", "partial sun"), "tolerates shade once established": ("shade",)}
COLOURS = {
    "white": "white", "yellow": "yellow", "gold": "yellow", "pink": "pink", "blue": "blue", "purple": "purple",
    "red": "red", "orange": "orange", "green": "green", "lavender": "purple", "violet": "purple", "rosy": "pink",
    "fuchsia": "pink", "maroon": "red", "pinkish": "pink", "reddish": "red", "yellowish": "yellow", "creamy": "",
    "brownish": "", "pale": "", "deep": "", "dark": "", "soft": "", "bright": "", "bicolored": "", "and": "", "or": "",
    "to": "",
}  # fmt: skip
# Hyphens join colors; blue and purple are told apart by no two lists alike.
NEIGHBOURS = {"blue": {"blue", "purple"}, "purple": {"purple", "blue"}}
# Parts of seasons by month, each season in its usual three; "to frost" as to October.
BLOOM = {
    "early spring": "March-April",
    "late spring": "May",
    "late winter": "December-February",
    "late summer": "August-September",
    "late spring-early summer": "May-June",
    "mid summer-fall": "July-November",
    "mid-late summer-September": "July-September",
    "summer-fall": "June-November",
    "fall-winter": "September-February",
    "August-frost": "August-October",
    "mid May": "May",
    "mid-late May": "May",
    "late April-May": "April-May",
    "late April-early May": "April-May",
    "late August-early September": "August-September",
}


def agrees_in_persistence(printed: str, ours: frozenset[str]) -> bool:
    """The word is one the printed one may stand for."""
    return bool(PERSISTENCE[printed] & ours)


def light_words(printed: str) -> tuple[str, ...]:
    """`full sun to part shade` as its parts, with `sun to part sun` and the like."""
    if printed in FULL:
        return FULL[printed]
    for joint in (", tolerates ", ", grows in ", " to ", " or "):
        printed = printed.replace(joint, "|")
    return tuple(printed.split("|"))


def agrees_in_light(printed: str, ours: frozenset[str]) -> bool:
    """Each printed class is among ours, and ours goes no more than a class beyond the printed ones."""
    classes = ("full sun", "part sun", "part shade", "full shade")
    wanted = [LIGHT[word] for word in light_words(printed)]
    reach = [classes.index(one) for group in wanted for one in group]
    held = [classes.index(one) for one in ours]
    within = min(held) >= min(reach) - 1 and max(held) <= max(reach) + 1
    return all(group & ours for group in wanted) and within


def agrees_in_colour(printed: str, ours: frozenset[str]) -> bool:
    """One of the printed colours is among ours."""
    words = {COLOURS[word] for word in printed.replace("-", " ").split()} - {""}
    assert words, printed
    return any(NEIGHBOURS.get(word, {word}) & ours for word in words)


def agrees_in_bloom(printed: str, ours: frozenset[str]) -> bool:
    """At least half the months of the shorter of the two are in the other."""
    months = quantity.parse_months(BLOOM.get(printed, printed))
    held = {int(month) for month in ours}
    return 2 * len(months & held) >= min(len(months), len(held))


@pytest.mark.parametrize(
    "trait, ours, agrees, rows",
    [
        ("persistence", "persistence", agrees_in_persistence, 100),
        ("light", "light", agrees_in_light, 80),
        ("flower_colour", "flower_colour", agrees_in_colour, 75),
        ("bloom_months", "bloom", agrees_in_bloom, 50),
    ],
    ids=["persistence", "light", "flower colour", "bloom"],
)
def test_words_agree(
    trait: str, ours: str, agrees: Callable[[str, frozenset[str]], bool], rows: int, taxa: Taxa
) -> None:
    agreement = Agreement(f"{trait.replace('_', ' ')}, rows")
    for plant, row in values_of(taxa, trait):
        held = taxa.words(plant, ours)
        told = f"{plant.botanical}: {row['value']}, card {', '.join(sorted(held)) or 'silent'} ({row['source']})"
        agreement.add(bool(held) and agrees(row["value"], held), told)
    agreement.holds(0.9, rows)
