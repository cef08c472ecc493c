"""Files that are small and unpack to more than a machine has: refused in a line, in bounded memory and time.

Each is read by a process of its own that may take so much memory and no more, as is the process in which workbooks are read.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from askplant.sheets.sheet import MOST_BYTES
from tests.faults.targets import PART, a_workbook, packed

MEMORY = 1 << 30  # bytes of address space, of which Python and its libraries take a part
SECONDS = 60
READ = """if True:
    import resource, sys, time
    from askplant.errors import AskplantError
    from askplant.sheets.read import read
    resource.setrlimit(resource.RLIMIT_AS, (int(sys.argv[1]),) * 2)
    for path in sys.argv[2:]:
        begun = time.process_time()
        try:
            read(path, lambda _: False)
            print("read")
        except AskplantError as problem:
            print(problem)
        except Exception as problem:
            print("TROUBLE", repr(problem))
    print(next(line.split()[1] for line in open("/proc/self/status") if line.startswith("VmHWM")))
"""
NAMESPACE = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'


def sheet(rows: str, before: str = "") -> bytes:
    """The first part of a workbook, with these rows."""
    return f"{before}<worksheet {NAMESPACE}><sheetData>{rows}</sheetData></worksheet>".encode()


def zipped(path: Path, name: str, pieces: Iterator[bytes]) -> None:
    """A workbook in which one member is these pieces, packed as tightly as may be; one of 600 MB takes 0.6 MB."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        archive.writestr("xl/workbook.xml" if name != "content.xml" else "mimetype", "")
        with archive.open(name, "w", force_zip64=True) as member:
            for piece in pieces:
                member.write(piece)


def bomb(path: Path) -> None:
    """More than a table can be, once unpacked."""
    zipped(path, "xl/worksheets/sheet1.xml", (bytes(1 << 20) for _ in range(MOST_BYTES // (1 << 20) + 2)))


def ods_bomb(path: Path) -> None:
    """The same as OpenDocument."""
    zipped(path, "content.xml", (b" " * (1 << 20) for _ in range(MOST_BYTES // (1 << 20) + 2)))


def far_cell(path: Path) -> None:
    """One cell in the last row of the last column."""
    path.write_bytes(
        packed(sheet('<row r="1"><c r="A1"><v>1</v></c></row><row r="1048576"><c r="XFD1048576"><v>1</v></c></row>'))
    )


def wide(path: Path) -> None:
    """Sixteen thousand columns."""
    path.write_bytes(packed(sheet('<row r="1"><c r="A1"><v>1</v></c><c r="XFD1"><v>1</v></c></row>')))


def long(path: Path) -> None:
    """More than a million rows, all of them but two empty."""
    path.write_bytes(
        packed(sheet('<row r="1"><c r="A1"><v>1</v></c></row><row r="1048576"><c r="A1048576"><v>1</v></c></row>'))
    )


def deep(path: Path) -> None:
    """Elements within elements, a hundred thousand deep."""
    path.write_bytes(packed(sheet("<a>" * 100_000 + "</a>" * 100_000)))


def deep_names(path: Path) -> None:
    """The same in the list of sheets."""
    part = f"<workbook {NAMESPACE}>{'<a>' * 100_000}{'</a>' * 100_000}</workbook>".encode()
    path.write_bytes(packed(PART.join([sheet(""), part])))


def entities(path: Path) -> None:
    """Entities made of entities, three thousand million signs in all."""
    made = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10 if n else "lol"}">' for n in range(10))
    declared = f'<?xml version="1.0"?><!DOCTYPE w [{made}]>'
    part = f'{declared}<workbook {NAMESPACE}><sheets><sheet name="&l9;"/></sheets></workbook>'.encode()
    cell = '<row r="1"><c r="A1" t="inlineStr"><is><t>&l9;</t></is></c></row>'
    path.write_bytes(packed(PART.join([sheet(cell, declared), part])))


def wide_text(path: Path) -> None:
    """A million columns in a line of text."""
    path.write_bytes(b"request" + b",x" * 1_000_000 + b"\n")


def long_text(path: Path) -> None:
    """More rows than a table may have."""
    path.write_bytes(b"request\n" + b"a\n" * 1_000_050)


def many_parts(path: Path) -> None:
    """More members than a workbook has."""
    with zipfile.ZipFile(path, "w") as archive:
        for number in range(10_050):
            archive.writestr(f"xl/{number}", "")


BOMBS: dict[Callable[[Path], None], str] = {
    bomb: r"unpacks to 0\.5 GB; expected 500 MB",
    ods_bomb: r"unpacks to 0\.5 GB; expected 500 MB",
    far_cell: r"(16384 columns and 1048576 rows|more than . GB to open); expected 500 MB",
    wide: "16384 columns",
    long: "1048576 rows",
    deep: "a workbook that cannot be read|found nothing",
    deep_names: "a workbook that cannot be read|found nothing",
    entities: "a workbook that cannot be read|more than . GB to open",
    wide_text: "1000001 cells; expected 1000 columns at most",
    long_text: "more than 1000000 rows",
    many_parts: "unpacks to 100(50|51) files",
}


@pytest.mark.skipif(sys.platform != "linux", reason="bounds memory as Linux does")
def test_each_is_refused(tmp_path: Path, surroundings: dict[str, str]) -> None:
    """One line that names the file and what is too much; all of them within the bounds of one process."""
    import re

    paths = []
    for make in BOMBS:
        path = tmp_path / f"{make.__name__}.{'csv' if 'text' in make.__name__ else 'xlsx'}"
        make(path)
        paths.append(path)
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run(
        [sys.executable, "-c", READ, str(MEMORY), *map(str, paths)],
        env=surroundings, capture_output=True, text=True, timeout=SECONDS * 5, check=False,
    )  # fmt: skip
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    *lines, most = done.stdout.splitlines()
    assert done.stderr == ""
    assert len(lines) == len(paths), lines
    for path, pattern, line in zip(paths, BOMBS.values(), lines, strict=True):
        assert line.startswith(f"{path}"), line
        assert re.search(pattern, line), line
    spent = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    assert spent < SECONDS, f"{spent:.0f} s of a processor"
    # Its own word: what the system tells of children is the most of all there were, and of whoever began them.
    assert 0 < int(most) < MEMORY >> 10, f"{int(most) >> 10} MB"


def test_what_it_is_held_against_can_be_read(tmp_path: Path) -> None:
    """The workbook that the bombs are made of is read as a workbook."""
    from askplant.sheets.read import read

    path = tmp_path / "sound.xlsx"
    path.write_bytes(a_workbook())
    assert read(str(path), lambda _: False).rows
    path.write_bytes(packed(sheet('<row r="1"><c r="A1"><v>1</v></c></row>')))
    assert read(str(path), lambda _: False)
