"""Claims that a plant's names make, held against its card.

A word of a name claims size, habit, colour, season, origin or kinship (the vocabulary of claims is data of the base).
The claim is judged in absolute terms: "dwarf" promises a buyer a plant of about 3 ft, whatever its species grows to.
A note is given only where a buyer would be misled, that is where the plant is a third beyond what the word promises,
or plainly something else. What buyers expect of each word is from published instances, which stand with their
publishers in tests/verdicts/test_names.py. Lengths are metres.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import zip_longest
from typing import Any, Literal, NamedTuple, Protocol

from askplant.base.names import words_of
from askplant.quantities.lengths import FOOT, INCH
from askplant.quantities.months import SEASONS
from askplant.verdicts.classes import NARROW, NEARLY_NARROW, one_of

# How far beyond its promise a name may go before it misleads: a 4 ft "dwarf" of 3 ft was published as honest, 5 ft as
# misleading.
MISLED_OVER, MISLED_UNDER = 4 / 3, 3 / 4
# Most height that a word promises, of woody plants and of others.
MOST = {
    "small": (3 * FOOT, 2 * FOOT),
    "miniature": (2 * FOOT, 1 * FOOT),
    "little": (8 * FOOT, 3 * FOOT),
    "compact": (5 * FOOT, 3 * FOOT),
    "edging": (2 * FOOT, 2 * FOOT),
    "prostrate": (18 * INCH, 18 * INCH),
    "creeping": (12 * INCH, 12 * INCH),
}
# Least height that a word promises, of trees, of other woody plants, and of others.
LEAST = {
    "large": (30 * FOOT, 6 * FOOT, 2 * FOOT),
    "great": (30 * FOOT, 6 * FOOT, 5 * FOOT),
}
# Most width that a word promises.
WIDEST = {"narrow": 10 * FOOT, "spire": 4 * FOOT}
# Forms that keep a word's promise.
FORMS = {
    "weeping": {"weeping", "prostrate", "spreading", "mounded"},
    "rounded": {"rounded", "mounded", "spreading"},
    "conical": {"pyramidal", "columnar", "upright"},
    "upright": {"upright", "columnar", "pyramidal", "vase"},
    "spreading": {"spreading", "mounded", "prostrate", "rounded", "vase", "weeping"},
    "climbing": {"climbing", "prostrate"},
}
# What lies on the ground may also climb.
LOW = frozenset({"prostrate", "creeping"})
SIZE_CLAIMS = frozenset(MOST) | frozenset(LEAST)
SOFT = frozenset({"perennial", "grass", "fern", "bulb", "annual", "succulent"})
# After these a word speaks of a part: "little leaf linden", "large flowered".
PARTS = frozenset(
    {"leaf", "leave", "leaved", "flower", "flowered", "fruit", "fruited", "cone", "coned", "tooth", "toothed", "cup"}
    | {"berry", "berried", "seed", "seeded", "eye", "eyed", "head", "headed"}
)
# A word in the possessive speaks of someone else: baby's breath.
POSSESSIVES = ("'s", "’s", "s'", "s’")
# Before a word of kinship these take the claim back.
NOT_KIN = frozenset({"false", "mock", "plum", "wild"})


class Traits(NamedTuple):
    """What claims are held against; None where the card does not say."""

    grown: tuple[float, float] | None
    width: tuple[float, float] | None
    kinds: frozenset[str]
    forms: frozenset[str]
    persistence: str | None
    density: str | None
    leaf: frozenset[str] | None
    flower: frozenset[str] | None
    fall: frozenset[str] | None
    fruit: frozenset[str] | None
    bloom: frozenset[int] | None
    winter: str | None
    native: frozenset[str] | None
    genus: str
    family: str | None

    @property
    def woody(self) -> bool:
        """Whether it has a lasting woody top."""
        return not self.kinds or bool(self.kinds - SOFT)


class Note(NamedTuple):
    """A name that misleads: the word as it stands in the name, what it claims, what the card finds, and who keeps the
    promise.

    `parent` is the species' grown height in metres where the plant is small only beside its species; `instead` is the
    number of a plant of the same kin that is what the name promises.
    """

    word: str
    name: str
    claim: str
    traits: Traits
    parent: tuple[float, float] | None = None
    instead: int | None = None


class Claimed(NamedTuple):
    """One word of one name and what it claims."""

    word: str
    name: str
    claim: str


class Plant(Protocol):
    """What a plant must tell of its names."""

    @property
    def botanical(self) -> str: ...
    @property
    def genus(self) -> str: ...
    @property
    def epithet(self) -> str | None: ...
    @property
    def common(self) -> Sequence[str]: ...
    @property
    def heard(self) -> Sequence[str]: ...


Vocabulary = dict[tuple[str, str], str]


def claims_of(plant: Plant, vocabulary: Vocabulary) -> list[Claimed]:
    """What the words of all its names claim.

    Sizes at odds in one name ('Little Giant') claim nothing, nor does a great species make its cultivars great.
    """
    found: list[Claimed] = []
    for name, part in _names(plant):
        claimed = list(_claims_in(name, part != "common", vocabulary))
        if part == "species" and plant.epithet:
            claimed = [one for one in claimed if one.claim not in LEAST]
        sizes = {("small" if one.claim in MOST else "large") for one in claimed if one.claim in SIZE_CLAIMS}
        found += [one for one in claimed if len(sizes) < 2 or one.claim not in SIZE_CLAIMS]
    return list({one.claim: one for one in reversed(found)}.values())[::-1]


def _names(plant: Plant) -> Iterator[tuple[str, Literal["species", "cultivar", "common"]]]:
    """Each name and the part it plays; selling names count as common ones."""
    taxon, _, epithet = plant.botanical.partition(" '")
    yield taxon.partition(" ")[2], "species"
    yield epithet.rstrip("'"), "cultivar"
    for name in (*plant.common, *plant.heard):
        yield name, "common"


def _claims_in(name: str, botanical: bool, vocabulary: Vocabulary) -> Iterator[Claimed]:
    words = words_of(name)
    shown = dict(zip(words, _as_written(name, len(words)), strict=False))
    for word, after in zip_longest(words, words[1:], fillvalue=""):
        if after in PARTS or shown.get(word, "").casefold().endswith(POSSESSIVES):
            continue
        # A cultivar name may be in Latin or in a living language; a common name is in the latter.
        latin = vocabulary.get((word, "latin")) if botanical else None
        claim = latin or vocabulary.get((word, "english"))
        if claim:
            yield Claimed(shown.get(word, word), name, claim)
    if not botanical and len(words) > 1 and not NOT_KIN & set(words[:-1]):
        last = shown.get(words[-1], "")
        kin = vocabulary.get((words[-1], "kinship"))
        # With a capital it is a proper name, as of a color: Girard Rose.
        if kin and last.islower():
            yield Claimed(last, name, kin)


def _as_written(name: str, count: int) -> list[str]:
    """The words as the name has them, as many as were folded; the folded ones serve where they do not pair up."""
    written = [word.strip("'\"’‘(),.") for word in name.replace("-", " ").split()]
    return written if len(written) == count else []


def misled(claim: str, traits: Traits) -> bool:
    """Whether a buyer who believes the word would be misled; what is not known misleads nobody."""
    kind, _, rest = claim.partition(" ")
    judge = _JUDGES.get(kind)
    return judge(rest, traits) if judge else _size(kind, traits)


def kept(claim: str, traits: Traits) -> bool:
    """Whether a plant is plainly what the word promises."""
    if claim in MOST:
        return traits.grown is not None and traits.grown[1] <= _most(claim, traits) + 0.01
    if claim in LEAST:
        return traits.grown is not None and traits.grown[0] >= _least(claim, traits) - 0.01
    if claim in WIDEST:
        return traits.width is not None and traits.width[1] <= WIDEST[claim] + 0.01 and not misled(claim, traits)
    return claim in FORMS and bool(FORMS[claim] & traits.forms) and claim in traits.forms


def _most(claim: str, traits: Traits) -> float:
    return MOST[claim][0 if traits.woody else 1]


def _least(claim: str, traits: Traits) -> float:
    return LEAST[claim][0 if "tree" in traits.kinds and "shrub" not in traits.kinds else 1 if traits.woody else 2]


def _size(claim: str, traits: Traits) -> bool:
    if claim in LOW and ("climbing" in traits.forms or "vine" in traits.kinds):
        return False
    if claim in MOST and traits.grown:
        return traits.grown[1] > _most(claim, traits) * MISLED_OVER + 0.01
    if claim in LEAST and traits.grown and not traits.kinds & {"vine"}:
        return traits.grown[1] < _least(claim, traits) * MISLED_UNDER
    if claim in WIDEST and traits.width and traits.grown:
        slim = sum(traits.width) / max(sum(traits.grown), 0.01)
        room = NEARLY_NARROW if claim == "narrow" else NARROW
        return slim > room or (traits.width[1] > WIDEST[claim] * MISLED_OVER and slim > NARROW / 2)
    return claim in FORMS and bool(traits.forms) and not FORMS[claim] & traits.forms


def _colour(colour: str, traits: Traits) -> bool:
    """Misled only when leaf, flower and fall colour are known and none has it, and the fruit is none that could."""
    known = (traits.leaf, traits.flower, traits.fall)
    if traits.leaf is None or traits.flower is None or (traits.fruit or frozenset()) & {"showy", "edible"}:
        return False
    same = {colour, {"gold": "yellow", "purple": "bronze"}.get(colour, colour), {"purple": "red"}.get(colour, colour)}
    return not any(same & (colours or set()) for colours in known)


def _season(season: str, traits: Traits) -> bool:
    """A season is kept by bloom within a month of it, in fall by colour, in winter by leaf, bark or berries."""
    if traits.bloom is None or not traits.bloom:
        return False
    months = set(SEASONS[season])
    near = {(month + step - 1) % 12 + 1 for month in months for step in (-1, 0, 1)}
    if near & traits.bloom or (season == "fall" and (traits.fall is None or traits.fall - {"none"})):
        return False
    looks = traits.winter is None or traits.winter.strip().lower() != "no" or traits.persistence == "evergreen"
    return not (season == "winter" and looks)


def _origin(codes: str, traits: Traits) -> bool:
    return bool(traits.native) and not set(codes.split()) & (traits.native or set())


def _kin(genera: str, traits: Traits) -> bool:
    return traits.genus not in genera.split()


_JUDGES: dict[str, Callable[[str, Traits], bool]] = {
    "colour": _colour,
    "season": _season,
    "origin": _origin,
    "kin": _kin,
    "evergreen": lambda _, traits: traits.persistence in ("deciduous", "dies back"),
    "dense": lambda _, traits: traits.density == "open",
}

# The columns of the base that each kind of claim is held against.
_OF_SIZE = ("height", "width", "kind", "form")
READS = {
    "colour": ("leaf_colour", "flower_colour", "fall_colour", "fruit"),
    "season": ("bloom", "fall_colour", "winter_interest", "persistence"),
    "origin": ("native",),
    "kin": (),
    "evergreen": ("persistence",),
    "dense": ("density",),
}


def reads(claim: str) -> tuple[str, ...]:
    """The columns of the base that a claim is held against."""
    return READS.get(claim.partition(" ")[0], _OF_SIZE)


def traits_of(values: dict[str, list[Any]], genus: str, family: str | None) -> Traits:
    """A plant's traits from its values in some columns; what was not read counts as not known."""

    def first(column: str) -> Any:
        return values[column][0] if column in values else None

    def words(column: str) -> frozenset[str] | None:
        return frozenset(first(column)) if first(column) is not None else None

    def range_(column: str) -> tuple[float, float] | None:
        return tuple(first(column)) if first(column) else None

    # Flowers that nobody sees have no colour to promise.
    flower = words("flower_colour")
    if flower is None and "flower_colour" in values and one_of(values["flower_colour"][1]) in ("none", "inconspicuous"):
        flower = frozenset()
    return Traits(
        grown=range_("height"),
        width=range_("width"),
        kinds=words("kind") or frozenset(),
        forms=words("form") or frozenset(),
        persistence=one_of(first("persistence")),
        density=one_of(first("density")),
        leaf=words("leaf_colour"),
        flower=flower,
        fall=words("fall_colour"),
        fruit=words("fruit"),
        bloom=frozenset(first("bloom")) if first("bloom") is not None else None,
        winter=first("winter_interest"),
        native=words("native"),
        genus=genus,
        family=family,
    )
