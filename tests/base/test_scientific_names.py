"""Every botanical name of the cards is one that a general parser of scientific names reads the same way.

The parser is that of the Global Biodiversity Information Facility, written independently of this program and for names of
all kinds of organisms; it works offline. Where pip finds no wheel of it these tests are skipped.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from askplant import where
from askplant.base import botanical

nameparser = pytest.importorskip("nameparser", reason="no wheel of gbif-name-parser for this platform")

FILES = sorted((where.folder("traits") / "plants").glob("*.txt"))
# The ranks that the parser may find, by what stands below the genus; a hybrid genus alone or a cultivar has its own.
RANKS = {"subsp.": "SUBSPECIES", "var.": "VARIETY", "f.": "FORM"}


def names_in(path: Path) -> list[str]:
    """The names at the heads of a file's cards."""
    lines = path.read_text(encoding="utf-8").splitlines()
    return [line.strip() for line in lines if line and not line[0].isspace() and not line.startswith("#")]


NAMES = [name for path in FILES for name in names_in(path)]


def epithets(name: botanical.Botanical) -> list[str]:
    """The Latin words below the genus, without ranks, hybrid signs and groups."""
    words = [word for part in name.parts for word in part.split()]
    return [word for word in words if word == word.lower() and word not in RANKS and word != botanical.HYBRID]


def without_apostrophes(text: str) -> str:
    """The name without apostrophes inside its epithet, which the parser takes for the closing quotation mark."""
    own = botanical.parse(text)
    return own._replace(epithet=own.epithet and own.epithet.replace("'", "")).text


def check(text: str) -> Any:
    """What the parser reads, once it agrees with our own reading in every part."""
    own, read = botanical.parse(text), nameparser.parse(text)
    assert isinstance(read, nameparser.ParsedName), f"{text}: only a provisional name"
    assert read.state == "COMPLETE"
    assert (read.type, read.unparsed, read.warnings) == ("SCIENTIFIC", None, [])
    assert (read.genus or read.uninomial) == own.genus
    latin = [read.specific_epithet, read.infraspecific_epithet]
    # Of a subspecies' variety the parser keeps the lowest epithet alone.
    expected = epithets(own)
    assert [word for word in latin if word] == [*expected[:1], *expected[1:][-1:]]
    assert bool(read.notho) == (own.hybrid_genus or any(part.startswith(botanical.HYBRID) for part in own.parts))
    assert (read.combination_authorship.authors, read.basionym_authorship.authors) == ([], [])
    assert read.infrageneric_epithet is None
    return read


def test_there_are_names_to_read() -> None:
    """Every card file has cards."""
    assert len(NAMES) > 1000
    assert all(names_in(path) for path in FILES)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_names_are_read_alike(path: Path) -> None:
    """Genus, epithets, hybrid signs, rank and cultivar, with nothing left over and nothing warned of."""
    for text in map(without_apostrophes, names_in(path)):
        own, read = botanical.parse(text), check(text)
        group = next((part for part in own.parts if part.endswith(" Group")), None)
        if own.epithet:
            assert read.cultivar_epithet == own.epithet
            assert (read.rank, read.code) == ("CULTIVAR", "CULTIVARS")
        elif group:
            assert read.rank == "CULTIVAR_GROUP"
            assert read.cultivar_epithet == group.removesuffix(" Group")
        else:
            assert read.cultivar_epithet is None
            ranks = [RANKS[word] for part in own.parts for word in part.split() if word in RANKS]
            assert read.rank == (ranks[-1] if ranks else "SPECIES" if epithets(own) else "UNRANKED")


def test_the_parser_tells_names_from_what_is_none() -> None:
    """It would notice: a virus is no name, a provisional one is not read whole, an author is seen."""
    with pytest.raises(nameparser.UnparsableNameError):
        nameparser.parse("Tobacco mosaic virus")
    assert not isinstance(nameparser.parse("Allium sp. 1"), nameparser.ParsedName)
    assert nameparser.parse("Ilex glabra (L.) A.Gray").combination_authorship.authors == ["A.Gray"]
    assert nameparser.parse("Ilex crenata 'Helleri'").cultivar_epithet == "Helleri"
