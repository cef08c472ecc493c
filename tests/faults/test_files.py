"""Files as Windows saves them, and files that are saved by halves: read as what they are, or refused with their line."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

from askplant import cli, where
from askplant.base import cards, deck, postcodes, tables, traits
from askplant.base.opened import Base
from askplant.commands.history import is_logging
from askplant.errors import AskplantError, FileError, UserError
from askplant.sheets import columns
from askplant.sheets.read import read as read_sheet
from askplant.stock import kept as setting
from askplant.stock import load
from askplant.stock.loading import settled_names
from tests.base.conftest import lay_out
from tests.faults.targets import dictionary

BOM = b"\xef\xbb\xbf"
LIST = "Botanical name,Size,Price,Qty\nIlex glabra,5 gal,$40,12\n“Thuja” occidentalis,3 gal,£30,2\n"


def windows(path: Path) -> Path:
    """The file with Windows line ends, and the mark before UTF-8."""
    text = path.read_bytes().removeprefix(BOM).replace(b"\r\n", b"\n")
    path.write_bytes(BOM + text.replace(b"\n", b"\r\n"))
    return path


def test_cards_and_vocabulary_of_windows(tmp_path: Path) -> None:
    """Every file of a traits folder: the same cards, and no fault."""
    plain, saved = lay_out(tmp_path / "a"), lay_out(tmp_path / "b")
    for path in saved.rglob("*"):
        if path.suffix in (".txt", ".toml", ".csv"):
            windows(path)
    one, other = deck.read(plain), deck.read(saved)
    assert other.faults == ()
    assert (other.cards, other.sources, other.observations) == (one.cards, one.sources, one.observations)
    vocabulary = list(saved.rglob("vocabulary/*.txt"))
    assert vocabulary


def test_tables_of_windows(tmp_path: Path, kept: Path) -> None:
    """A stock list, its names and columns, postal codes, settings."""
    base, path = Base.open(kept), tmp_path / "list.csv"
    path.write_text(LIST, encoding="utf-8")
    plain = load(path, base)
    assert load(windows(path), base).lines == plain.lines
    names = tmp_path / "list.names.toml"
    names.write_text('[names]\n"“Thuja” occidentalis" = "Thuja occidentalis"\n', encoding="utf-8")
    told = settled_names(names)
    assert settled_names(windows(names)) == told
    mapping = tmp_path / "columns.toml"
    sheet = read_sheet(str(path), partial(columns.known, "stock"))
    mapping.write_text(columns.as_toml(columns.guessed(sheet.headings, "stock"), sheet, "stock"), encoding="utf-8")
    assert columns.from_file(str(windows(mapping)), sheet, "stock") == columns.guessed(sheet.headings, "stock")
    (tmp_path / "postcodes.csv").write_bytes(BOM + b"code,zone\r\n21201,7b\r\n")
    assert postcodes.read(tmp_path, "own") == ({"21201": "7b"}, [])


def test_settings_of_windows(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The desk's, and which stock list is set."""
    monkeypatch.setenv(where.OWN_VARIABLE, str(tmp_path))
    (tmp_path / "desk.toml").write_bytes(BOM + b"log = false\r\n")
    assert not is_logging()
    (tmp_path / "stock.toml").write_bytes(BOM + b'file = "list.csv"\r\n')
    assert setting.chosen() == setting.Setting("list.csv")


def test_requests_of_windows(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Lines of a file in each of the encodings that Notepad offers: the same readings."""
    text = "évergreen, 5–8 ft\nfern\n"
    told = set()
    for name, raw in {
        "utf8": text.encode(),
        "bom": BOM + text.replace("\n", "\r\n").encode(),
        "ansi": text.replace("\n", "\r\n").encode("cp1252"),
        "utf16": text.replace("\n", "\r\n").encode("utf-16"),
    }.items():
        (tmp_path / name).write_bytes(raw)
        assert cli.main(["read", "--json", "--lines", str(tmp_path / name)]) == 0
        told.add(capsys.readouterr().out)
    assert len(told) == 1


def test_a_card_half_saved(tmp_path: Path) -> None:
    """Cut after each byte of a card that holds letters of two and three bytes: read to there, or a fault that names its line."""
    text = "Vesta alta\n    kind: shrub\n    common: véstà\n    height_grown: 4–6 ft -- at ½ its age\n    flower_colour: white\n"
    data = text.encode()
    known, publications = dictionary()
    whole, none = cards.read_bytes(data, "vesta.txt", known, publications)
    assert (len(whole), none) == (1, [])
    refused = 0
    for length in range(len(data)):
        found, faults = cards.read_bytes(data[:length], "vesta.txt", known, publications)
        last = data[:length].count(b"\n") + 1
        assert all(fault.line == last or (fault.line == 1 and not found) for fault in faults), length
        before = {(entry.trait, entry.text) for card in found for entry in card.entries if entry.line < last}
        assert before <= {(entry.trait, entry.text) for entry in whole[0].entries}
        refused += bool(faults)
    assert refused > 20
    for end in ("é", "–", "½"):  # in the midst of a letter
        cut = data.index(end.encode()) + 1
        _, faults = cards.read_bytes(data[:cut], "vesta.txt", known, publications)
        assert [fault.expected for fault in faults] == ["UTF-8 text"]


DEEP = b"a = " + b"[" * 20_000
WIDE = b'code,zone\n"' + b"x" * 200_000 + b'",7b\n'


@pytest.mark.parametrize(
    "read",
    [
        lambda path: settled_names(path, must=True),
        lambda path: tables.read(path, "x.toml"),
        lambda path: columns.from_file(str(path), read_sheet(str(path), lambda _: False), "stock"),
    ],
    ids=["names", "tables", "columns"],
)
@pytest.mark.parametrize("data", [DEEP, b"\xff\xfea\0", b"a = \x00", b"= 1", b"[names]\na = 1\n[names]\n"])
def test_toml_that_is_none(read: Callable[[Path], object], data: bytes, tmp_path: Path) -> None:
    """Brackets without end, another encoding, a table twice: refused by the name of the file."""
    path = tmp_path / "x.toml"
    path.write_bytes(data)
    with pytest.raises(AskplantError, match=r"x\.toml"):
        read(path)


def test_cells_beyond_all_bounds(tmp_path: Path) -> None:
    """A quote that is never closed before the end of a large file."""
    (tmp_path / "postcodes.csv").write_bytes(WIDE)
    table, faults = postcodes.read(tmp_path, "own")
    assert table == {}
    assert len(faults) == 1
    known = traits.read(where.folder("traits"))
    assert known.traits
    path = tmp_path / "wide.csv"
    path.write_bytes(b'request\n"' + b"x" * 10_000_100)
    with pytest.raises(UserError, match=r"wide\.csv: found .*expected cells of at most"):
        read_sheet(str(path), lambda _: False)


def test_a_setting_that_is_a_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A stock list is set or it is not; one that cannot be read is never passed over."""
    monkeypatch.setenv(where.OWN_VARIABLE, str(tmp_path))
    assert setting.chosen() is None
    (tmp_path / "stock.toml").write_bytes(b"\xff\xfe")
    with pytest.raises(FileError, match=r"stock\.toml"):
        setting.chosen()
