"""What fuzzing puts through the program: one function a kind of input, from bytes to nothing, or to an exception.

What a function lets out is a finding: anything but the project's own errors, a word of a request that no part of its reading
accounts for, a row of a table that is neither answered nor said to be in the way.
"""

from __future__ import annotations

import contextlib
import io
import json
import os
import resource
import tempfile
import zipfile
from collections.abc import Callable, Iterator
from functools import cache, partial
from pathlib import Path

import xlsxwriter

from askplant import where
from askplant.base import cache as bases
from askplant.base import cards, sources, traits
from askplant.base.opened import Base
from askplant.base.records import Source
from askplant.batch.composed import columns_of, composed
from askplant.commands.requests import decoded
from askplant.errors import AskplantError, UserError
from askplant.reading.read import read
from askplant.reading.reading import as_json
from askplant.sheets import apart, columns
from askplant.sheets.read import read as read_sheet
from askplant.sheets.sheet import MOST_CELLS, MOST_COLUMNS, MOST_ROWS, Sheet, text_of
from tests.reading.told import uncovered

ROOT = Path(__file__).parent.parent.parent
PART = b"\n<!--PART-->\n"  # parts the members of a zipped workbook, so that what is mutated is their text
PARTS = ("xl/worksheets/sheet1.xml", "xl/workbook.xml", "xl/sharedStrings.xml", "xl/styles.xml")
MEMORY = 3 << 30
ROWS_TRIED = 30

Target = Callable[[bytes], None]


@cache
def base() -> Base:
    """The base of the trait files."""
    return Base.open(bases.ready())


@cache
def dictionary() -> tuple[traits.Dictionary, dict[str, Source]]:
    """The declared traits and the publications, by which cards are read."""
    known: dict[str, Source] = {}
    sources.read(where.folder("traits"), "traits", known)
    return traits.read(where.folder("traits")), known


def request(data: bytes) -> None:
    """Any bytes as a request: every word of it is accounted for, and its reading is plain JSON."""
    try:
        reading = read(decoded(data), base())
    except UserError:
        return
    assert uncovered(reading) == [], reading.request
    json.dumps(as_json(reading), allow_nan=False)


def card(data: bytes) -> None:
    """Any bytes as a card file: each line is a value, a remark, or a fault that names it."""
    known, publications = dictionary()
    found, faults = cards.read_bytes(data, "cards.txt", known, publications)
    lines = data.count(b"\n") + 1
    assert all(1 <= fault.line <= lines for fault in faults)
    assert all(one.id and one.genus for one in found)
    if not faults and not data.startswith((b"\xff\xfe", b"\xfe\xff")):
        held = sum(
            not line.lstrip().startswith((b"#", b"\xef\xbb\xbf")) and bool(line.strip()) for line in data.split(b"\n")
        )
        assert held == 0 or found, "lines, but neither a card nor a fault"


def table(data: bytes) -> None:
    """Any bytes as a text table: read or refused, and each row a request or a word on what is in its way."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "in.csv"
        path.write_bytes(data.removeprefix(b"PK\x03\x04").removeprefix(b"\xd0\xcf\x11\xe0"))
        with contextlib.suppress(UserError):
            _requests_of(read_sheet(str(path), partial(columns.known, "request")))


def _requests_of(sheet: Sheet) -> None:
    found = columns_of(sheet, None)
    whole = [column for column in found if column.role.name == "request"]
    for row in range(min(len(sheet.rows), ROWS_TRIED)):
        said = composed(sheet, row, found)
        held = [text_of(sheet.cell(row, column.place)) for column in whole]
        assert said.trouble or all(sign in said.text for cell in held for sign in cell if sign.isalnum()), (held, said)


def workbook(data: bytes) -> None:
    """A workbook whose parts, or whose bytes, are these, read as the process apart reads it."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "in.xlsx"
        path.write_bytes(data if data.startswith(b"PK\x03\x04") else packed(data))
        said = io.StringIO()
        with contextlib.redirect_stdout(said), quiet(), bounded(MEMORY):
            apart.main(str(path), "", MOST_COLUMNS, MOST_ROWS, MOST_CELLS)
        first, *rest = said.getvalue().splitlines()
        assert isinstance(json.loads(first), dict)
        list(apart.read_back(line.encode() for line in rest))


@contextlib.contextmanager
def bounded(memory: int) -> Iterator[None]:
    """This process may ask for so many bytes, and for as many as before when it is over: a bound left behind would end the next
    thing that runs from here and asks for more, a browser for one."""
    soft, hard = resource.getrlimit(resource.RLIMIT_AS)
    resource.setrlimit(resource.RLIMIT_AS, (memory, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_AS, (soft, hard))


@contextlib.contextmanager
def quiet() -> Iterator[None]:
    """What a library written in another language prints of its panic goes nowhere; a panic counts as a crash of the process
    apart, which the caller answers with one line."""
    kept, nowhere = os.dup(2), os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 2)
    try:
        yield
    except BaseException as problem:
        if type(problem).__name__ != "PanicException":
            raise
        raise AskplantError("the reader of workbooks gave up") from None
    finally:
        os.dup2(kept, 2)
        os.close(kept)
        os.close(nowhere)


def packed(parts: bytes) -> bytes:
    """A workbook with these members, in the order of PARTS, and the others as they usually are."""
    given = dict(zip(PARTS, parts.split(PART), strict=False))
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_STORED) as archive:
        for name, content in (_members() | given).items():
            archive.writestr(name, content)
    return made.getvalue()


@cache
def _members() -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(a_workbook())) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


@cache
def a_workbook() -> bytes:
    """A small workbook as xlsxwriter makes it."""
    made = io.BytesIO()
    with xlsxwriter.Workbook(made, {"in_memory": True}) as book:
        page = book.add_worksheet("Requests")
        for number, cells in enumerate([("request", "zone", "count"), ("evergreen shrub, 5-8 ft", "7b", 3)]):
            page.write_row(number, 0, cells)
        page.write_formula(2, 2, "=C2+1", None, "")
        page.merge_range(3, 0, 4, 1, "fern")
        page.write_datetime(5, 0, __import__("datetime").datetime(2027, 5, 9), book.add_format({"num_format": "d-mmm"}))
    return made.getvalue()


def seeds(target: str) -> list[bytes]:
    """Real inputs of a kind, from which fuzzing begins."""
    if target == "requests":
        lines = (ROOT / "tests/requests/spoken.jsonl").read_text(encoding="utf-8").splitlines()
        return [json.loads(line)["text"].encode() for line in lines[:400]]
    if target == "cards":
        files = sorted((where.folder("traits") / "plants").glob("*.txt"))
        return [path.read_bytes()[:3000].rpartition(b"\n")[0] for path in files[::6]]
    if target == "tables":
        rows = 'request,zone,height (ft)\n"evergreen, 5\'",7b,5-8\nfern;;\n9-May,x,=1+1\n'
        return [
            rows.encode(),
            rows.replace(",", ";").encode("utf-16"),
            rows.encode("cp1252") + b"\x96\n",
            b"a tall tree\n",
        ]
    parts = [_members().get(name, b"") for name in PARTS]
    return [PART.join(parts), PART.join(parts[:1]), PART.join(parts[:2]), a_workbook()]


TARGETS: dict[str, Target] = {"requests": request, "cards": card, "tables": table, "workbooks": workbook}
# What may end an input of that kind without being a finding.
EXPECTED: dict[str, tuple[type[BaseException], ...]] = {
    "requests": (), "cards": (), "tables": (), "workbooks": (AskplantError, MemoryError),
}  # fmt: skip
