"""How much of the plants is known: as JSON, and as tables that fold their columns to the screen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from askplant.base.coverage import Coverage, Known
from askplant.base.opened import Base
from askplant.base.trust import TRUST
from askplant.render.screen import Screen

GAP = 2  # columns between two columns of a table
DECIMALS = 4  # of shares in JSON


class Column(NamedTuple):
    """A table's column: its heading, and a cell for each row."""

    heading: str
    cells: Sequence[str]

    @property
    def width(self) -> int:
        return max(map(len, (self.heading, *self.cells)))


def coverage_json(found: Coverage, base: Base) -> dict[str, Any]:
    """Shares from 0 to 1: of plants for what is known, of the known values for what they rest on."""
    return {
        "plants": found.plants,
        "kinds": dict(found.kinds),
        "bases": _shares(found.bases, {basis: found.bases.total() for basis in TRUST}),
        "few_heights": [base.plant(n).id for n in found.few_heights],
        "few_height_sources": [base.plant(n).id for n in found.few_sources],
        "traits": [
            {
                "trait": known.trait,
                "plants": known.plants,
                "share": _share(known.plants, found.plants),
                "kinds": _shares(known.kinds, found.kinds),
                "bases": _shares(known.bases, dict.fromkeys(TRUST, known.plants)),
            }
            for known in found.traits
        ],
    }


def coverage_text(found: Coverage, screen: Screen) -> str:
    """What is known in all, then each trait for all plants and for each kind."""
    values = sum(known.plants for known in found.traits)
    rest = ", ".join(f"{_rounded(found.bases[basis], values)}% {basis}" for basis in TRUST)
    lines = screen.fold(f"{found.plants} plants, {values} values of {len(found.traits)} traits.")
    lines += screen.fold(f"The values rest on: {rest}.")
    lines += screen.fold(
        f"Fewer than two statements about height: {len(found.few_heights)} cards; fewer than two sources for it: "
        f"{len(found.few_sources)} cards{' (--json names them)' if found.few_sources else ''}."
    )
    lines += ["", *_bold("Of all plants, how many have the trait known (%), and what those values rest on (%)", screen)]
    lines += _table(found.traits, [_all(found), *_by_basis(found.traits)], screen)
    lines += ["", *_bold("Of the plants of each kind, how many have the trait known (%)", screen)]
    lines += _table(found.traits, list(_by_kind(found)), screen)
    return "\n".join(lines) + "\n"


def _bold(text: str, screen: Screen) -> list[str]:
    return [screen.styled(line, "bold") for line in screen.fold(text)]


def _all(found: Coverage) -> Column:
    return Column("known", [_percent(known.plants, found.plants) for known in found.traits])


def _by_basis(traits: Sequence[Known]) -> Iterator[Column]:
    for basis in TRUST:
        yield Column(basis, [_rounded(known.bases[basis], known.plants) for known in traits])


def _by_kind(found: Coverage) -> Iterator[Column]:
    for kind, plants in found.kinds.items():
        yield Column(kind, [_percent(known.kinds[kind], plants) for known in found.traits])


def _table(traits: Sequence[Known], columns: Sequence[Column], screen: Screen) -> Iterator[str]:
    """The traits down the side; columns that find no room stand in a further table below, with the traits again."""
    names = Column("trait", [known.trait for known in traits])
    shown: list[Column] = []
    for column in columns:
        if shown and names.width + sum(GAP + one.width for one in (*shown, column)) > screen.width:
            yield from _rows(names, shown, screen)
            yield ""
            shown = []
        shown.append(column)
    yield from _rows(names, shown, screen)


def _rows(names: Column, columns: Sequence[Column], screen: Screen) -> Iterator[str]:
    head = names.heading.ljust(names.width)
    yield screen.styled(head + "".join(one.heading.rjust(GAP + one.width) for one in columns), "faint")
    for place, name in enumerate(names.cells):
        yield name.ljust(names.width) + "".join(one.cells[place].rjust(GAP + one.width) for one in columns)


def _percent(part: int, whole: int) -> str:
    """Rounded down, so that 100 is all of them; a share that is less than one is not nothing."""
    if not whole:
        return "-"
    return "<1" if 0 < part * 100 < whole else str(part * 100 // whole)


def _rounded(part: int, whole: int) -> str:
    """To the nearest whole, so that the parts of a whole come to a hundred or nearly."""
    if not whole:
        return "-"
    return "<1" if 0 < part * 200 < whole else f"{part * 100 / whole:.0f}"


def _share(part: int, whole: int) -> float | None:
    return round(part / whole, DECIMALS) if whole else None


def _shares(parts: Any, wholes: Any) -> dict[str, float | None]:
    return {name: _share(parts[name], whole) for name, whole in wholes.items()}
