"""Names as nurseries write them are matched to plants of the base: sure, doubtful, or none; and cells are read or left out."""

from __future__ import annotations

import pytest

from askplant.base.opened import Base
from askplant.quantities.containers import container_codes
from askplant.stock.cells import length_of, price_of, quantity_of, without_container
from askplant.stock.matching import Matcher

FOOT = 0.3048


@pytest.fixture(scope="module")
def matcher(real_base: Base) -> Matcher:
    """Matches to the base of the trait files."""
    return Matcher(real_base)


@pytest.mark.parametrize(
    "name, plant, how",
    [
        ("Ilex glabra 'Shamrock'", "Ilex glabra 'Shamrock'", "name"),
        ("ILEX GLABRA SHAMROCK", "Ilex glabra 'Shamrock'", "name"),
        ("ilex-glabra-shamrock", "Ilex glabra 'Shamrock'", "name"),
        ("Shamrock inkberry", "Ilex glabra 'Shamrock'", "name"),
        ("Ilex glabra ‘Shamrock’ ®", "Ilex glabra 'Shamrock'", "name"),
        ("Holly, American", "Ilex opaca", "name"),
        ("inkberry", "Ilex glabra", "name"),
        ("inkbery", "Ilex glabra", "mended"),
        ("Ilex galbra", "Ilex glabra", "mended"),
        ("Hydrangea panniculata 'Limelight'", "Hydrangea paniculata 'Limelight'", "mended"),
        ("Acer rubrm October Glory PP12345", "Acer rubrum 'October Glory'", "mended"),
        ("Thuja 'Green Giant' PP#9,999", "Thuja 'Green Giant'", "name"),
    ],
)
def test_sure(matcher: Matcher, real_base: Base, name: str, plant: str, how: str) -> None:
    """By botanical, common and heard names in any dress, turned about, with marks of trade, and slips of one or two letters."""
    found = matcher.match(name)
    assert [real_base.plant(n).botanical for n in found.plants] == [plant]
    assert (found.sureness, found.how) == ("sure", how)


def test_synonyms_are_sure(matcher: Matcher, real_base: Base) -> None:
    """Every synonym that only one plant has, and that is no other plant's name, is that plant's."""
    synonyms = [(plant.n, name) for plant in real_base.plants() for name in plant.synonyms]
    assert len(synonyms) > 50
    wrong = [name for n, name in synonyms if (found := matcher.match(name)).sureness == "sure" and found.plants != (n,)]
    assert wrong == []
    assert sum(matcher.match(name).sureness == "sure" for _, name in synonyms) > 0.9 * len(synonyms)


def test_every_plant_is_found_by_its_own_name(matcher: Matcher, real_base: Base) -> None:
    """Botanical names as the base writes them, capitals or not."""
    for plant in real_base.plants():
        for name in (plant.botanical, plant.botanical.upper()):
            found = matcher.match(name)
            assert (found.sureness, found.plants) == ("sure", (plant.n,)), (name, found)


@pytest.mark.parametrize(
    "name, common, how, nearest",
    [
        ("Thuja occ. 'Smaragd'", "", "cut short", "Thuja occidentalis 'Smaragd'"),
        ("Thuja occidentalis 'Nonesuch of Mine'", "", "cultivar unknown", "Thuja occidentalis"),
        ("Thuja occidentalis Nonesuch", "", "cultivar unknown", "Thuja occidentalis"),
        ("Green Giant arb", "", "words left over", "Thuja 'Green Giant'"),
        ("holly", "", "several", "Eryngium planum"),
        ("Ilex opaca", "inkberry", "two names", "Ilex opaca"),
        ("Zzqxwia grandis", "inkberry", "common name alone", "Ilex glabra"),
    ],
)
def test_doubtful(matcher: Matcher, name: str, common: str, how: str, nearest: str) -> None:
    """What somebody has to settle, with what it may be."""
    found = matcher.match(name, common)
    assert (found.sureness, found.how, found.nearest[0]) == ("doubtful", how, nearest)


def test_unmatched(matcher: Matcher) -> None:
    """What no plant bears, with the nearest names."""
    found = matcher.match("zzqxw plant")
    assert (found.sureness, found.plants) == ("unmatched", ())
    assert found.nearest


def test_settled_names(real_base: Base) -> None:
    """What somebody has settled goes before everything, in any dress; nothing means that the line is left out."""
    told = {
        "Thuja occ. 'Smaragd'": "Thuja occidentalis 'Smaragd'",
        "Holly mix": "",
        "inkberry": "Ilex opaca",
        "x": "zzqxw",
        "y": "holly",
    }
    matcher = Matcher(real_base, told)
    assert real_base.plant(matcher.match("THUJA OCC 'SMARAGD'®").plants[0]).botanical == "Thuja occidentalis 'Smaragd'"
    assert matcher.match("holly mix").sureness == "left out"
    assert real_base.plant(matcher.match("inkberry").plants[0]).botanical == "Ilex opaca"
    assert matcher.match("x").how == "settled to none"
    assert matcher.match("y").how == "settled to several"
    both = Matcher(real_base, {"Ilex opaca (inkberry)": "Ilex glabra"})
    assert real_base.plant(both.match("Ilex opaca", "inkberry").plants[0]).botanical == "Ilex glabra"


@pytest.mark.parametrize(
    "cell, price",
    [("$24.50", 24.5), ("24,50 €", 24.5), ("1,089.50", 1089.5), ("1.089,50", 1089.5), ("$1,200", 1200.0), (12.0, 12.0),
     ("USD 3", 3.0), ("free", None), ("-5", None), ("$5-$9", None), ("9-May", None), ("", None), (None, None),
     (-1.0, None), (True, None)],
)  # fmt: skip
def test_prices(cell: object, price: float | None) -> None:
    """Amounts with either sign for the decimals; no amount is made of what is none."""
    assert price_of(cell) == price  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "cell, count",
    [("12", 12), ("100+", 100), ("1,200", 1200), (12.0, 12), ("sold out", 0), ("0", 0), ("40 ea", 40),
     ("call", None), ("-3", None), (12.5, None), ("9-May", None), ("5-9", None)],
)  # fmt: skip
def test_quantities(cell: object, count: int | None) -> None:
    """Whole numbers; what is no count is not known."""
    assert quantity_of(cell) == count  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "text, codes",
    [("#3", ("#3",)), ("3 gal", ("#3",)), ("3-gallon", ("#3",)), ("7G", ("#7",)), ("2\" cal B&B", ("2 in caliper", "B&B")),
     ("4 in pot", ("4 in pot",)), ("1 qt.", ("1 qt",)), ("bare root", ("bare root",)), ("balled and burlapped", ("B&B",)),
     ("5-6 ft", ()), ("flat of 18", ()), ("garden", ())],
)  # fmt: skip
def test_containers(text: str, codes: tuple[str, ...]) -> None:
    """The trade's gallons are its numbers (ANSI Z60.1)."""
    assert container_codes(text) == codes


def test_a_container_behind_the_name() -> None:
    """Is no part of the name."""
    assert without_container("Inkberry #3") == ("Inkberry", "#3")
    assert without_container("Ilex glabra, 5 gal (heavy)") == ("Ilex glabra", "5 gal (heavy")
    assert without_container("Ilex glabra") == ("Ilex glabra", "")


def test_label_sizes() -> None:
    """With their own unit, or the heading's."""
    assert length_of("4-5 ft", "") == pytest.approx((4 * FOOT, 5 * FOOT))
    assert length_of("4-5'", "") == pytest.approx((4 * FOOT, 5 * FOOT))
    assert length_of(6.0, "in") == pytest.approx((0.1524, 0.1524))
    assert length_of("60-90 cm", "ft") == pytest.approx((0.6, 0.9))
    assert length_of("tall", "ft") is None
    assert length_of("9-May", "ft") is None
    assert length_of("5", "") is None
