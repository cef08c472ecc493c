"""What to be careful of with a whole row: which cautions are raised, as data; the wording defers to who decides."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from askplant.plan.plan import Concern, Kind
from askplant.quantities.lengths import FOOT
from askplant.quantities.scan import lexemes
from askplant.reading.reading import Reading
from askplant.verdicts.columns import Columns
from askplant.verdicts.sizes import one
from askplant.verdicts.uses import WIRES_MOST, WIRES_SOME

# Sight triangles: legs of 10 to 25 ft at corners, 10 ft at drives; nothing between 2 to 3 ft and 8 to 10 ft high (municipal
# codes of Woodridge IL, Bonita Springs FL, San Marcos TX, Scottsbluff NE, Dubuque IA).
SIGHT = (10 * FOOT, 25 * FOOT, 2.5 * FOOT, 8 * FOOT)
# 5 ft from paving and buried lines (takingroot.info; haufc.org).
BURIED = 5 * FOOT
# From the house no fuel to 5 ft, lean and spaced to 30 ft, thinned to 100 ft (IBHS; NFPA as quoted by county guides).
FIRE = (5 * FOOT, 30 * FOOT)
# Shrubs keep half the mature width and a foot for air from a wall; recalled.
AIR = FOOT
# The oldest width counts at a property line; where a card has none, the grown one.
CONIFER = "conifer"


def concerns(
    reading: Reading,
    kinds: Sequence[Kind],
    columns: Columns,
    words: Mapping[str, Sequence[str]],
    depth: float | None = None,
) -> tuple[Concern, ...]:
    """Digging and the property line always; the rest where the request or the plants give cause. `depth` is what each row
    is kept to.
    """
    half = max(_widest(columns, kind) for kind in kinds) / 2
    held = all(over.hold is not None for kind in kinds for over in kind.outgrown if over.axis == "width")
    line = Concern("property line", (half,))
    if depth is not None and held and depth / 2 < half:
        line = Concern("property line", (depth / 2, depth, half))
    tall = tuple(kind.plant for kind in kinds if _tallest(columns, kind) > WIRES_MOST + 0.01)
    uses = {str(value) for condition in reading.conditions if condition.trait == "use" for value in condition.values}
    traits = {condition.trait for condition in reading.conditions}
    said = {about for about, some in words.items() if speaks_of(reading.request, some)}
    found = [Concern("digging"), line]
    if "wires" in said or "under wires" in uses:
        found.append(Concern("wires", (WIRES_MOST, WIRES_SOME), tall))
    elif tall:
        found.append(Concern("tall", (WIRES_MOST,), tall))
    if "sight" in said or "street" in uses:
        found.append(Concern("sight", SIGHT))
    thirsty = tuple(kind.plant for kind in kinds if one(columns.value("roots", kind.plant)[0]) == "aggressive")
    if "drains" in said or "roots" in traits or thirsty:
        found.append(Concern("drains", (BURIED,), thirsty))
    if "house" in said or "foundation" in uses:
        found.append(Concern("house", (half + AIR,)))
    if "fire" in said or "fire" in traits:
        found.append(Concern("fire", FIRE, tuple(kind.plant for kind in kinds if _burns(columns, kind))))
    return tuple(found)


def speaks_of(text: str, some: Sequence[str]) -> bool:
    """Whether one of some words or phrases stands in a text, in whatever case or number."""
    keys = [lexeme.key for lexeme in lexemes(text) if lexeme.kind == "word"]
    for phrase in some:
        wanted = [lexeme.key for lexeme in lexemes(phrase)]
        if any(keys[start : start + len(wanted)] == wanted for start in range(len(keys) - len(wanted) + 1)):
            return True
    return False


def _widest(columns: Columns, kind: Kind) -> float:
    return max(_lengths(columns.value("width", kind.plant)), default=kind.widths[-1].high)


def _tallest(columns: Columns, kind: Kind) -> float:
    return max(_lengths(columns.value("height", kind.plant)), default=kind.heights[-1].high)


def _lengths(value: Sequence[Any]) -> list[float]:
    """The upper ends of grown and old sizes, of those a card has."""
    grown, _, old = value[:3]
    return [float(size[1]) for size in (grown, old) if size]


def _burns(columns: Columns, kind: Kind) -> bool:
    group = columns.value("group", kind.plant)[0] or ()
    return columns.value("fire", kind.plant)[0] == "flammable" or CONIFER in group
