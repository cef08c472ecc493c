"""Files of each kind, made as the programs that people use make them."""

from __future__ import annotations

import datetime
import struct
import zipfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

import xlsxwriter

Rows = Sequence[Sequence[Any]]
SECTOR, FREE, LAST = 512, 0xFFFFFFFF, 0xFFFFFFFE
DAY_ZERO = datetime.date(1899, 12, 30)


def xlsx(path: Path, sheets: dict[str, Rows], hidden: Sequence[str] = (), merged: Sequence[str] = ()) -> Path:
    """A workbook. A tuple ("formula", text, value) is a formula; merged ranges are of the first sheet."""
    with xlsxwriter.Workbook(str(path), {"strings_to_formulas": False, "strings_to_numbers": False}) as book:
        dates = book.add_format({"num_format": "d-mmm"})
        for number, (name, rows) in enumerate(sheets.items()):
            page = book.add_worksheet(name)
            if name in hidden:
                page.hide()
            for y, row in enumerate(rows):
                for x, cell in enumerate(row):
                    if isinstance(cell, tuple):
                        page.write_formula(y, x, cell[1], None, cell[2])
                    elif isinstance(cell, datetime.date):
                        page.write_datetime(y, x, cell, dates)
                    elif cell is not None:
                        page.write(y, x, cell)
            for span in merged if number == 0 else ():
                first = span.split(":")[0]
                y, x = int(first[1:]) - 1, ord(first[0]) - ord("A")
                page.merge_range(span, rows[y][x])
        if hidden:
            page = book.get_worksheet_by_name(next(name for name in sheets if name not in hidden))
            page.activate()
            page.set_first_sheet()
    return path


def ods(path: Path, name: str, rows: Rows) -> Path:
    """An OpenDocument spreadsheet."""
    body = "".join(f"<table:table-row>{''.join(map(_ods_cell, row))}</table:table-row>" for row in rows)
    names = "urn:oasis:names:tc:opendocument:xmlns"
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document-content xmlns:office="{names}:office:1.0" '
        f'xmlns:table="{names}:table:1.0" xmlns:text="{names}:text:1.0" office:version="1.2"><office:body>'
        f'<office:spreadsheet><table:table table:name="{name}">{body}</table:table></office:spreadsheet></office:body>'
        "</office:document-content>"
    )
    manifest = (
        f'<?xml version="1.0" encoding="UTF-8"?><manifest:manifest xmlns:manifest="{names}:manifest:1.0">'
        '<manifest:file-entry manifest:full-path="/" manifest:media-type="application/vnd.oasis.opendocument.spreadsheet"/>'
        "</manifest:manifest>"
    )
    with zipfile.ZipFile(path, "w") as parts:
        parts.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        parts.writestr("content.xml", content)
        parts.writestr("META-INF/manifest.xml", manifest)
    return path


def _ods_cell(cell: Any) -> str:
    if cell is None:
        return "<table:table-cell/>"
    if isinstance(cell, datetime.date):
        return f'<table:table-cell office:value-type="date" office:date-value="{cell}"/>'
    if isinstance(cell, (int, float)):
        return f'<table:table-cell office:value-type="float" office:value="{cell}"><text:p>{cell}</text:p></table:table-cell>'
    return f'<table:table-cell office:value-type="string"><text:p>{escape(cell)}</text:p></table:table-cell>'


def xls(path: Path, name: str, rows: Rows) -> Path:
    """A workbook of the old kind: records (BIFF8, MS-XLS) in a compound file (MS-CFB) of one stream."""
    return compound(path, _biff(name, rows))


def compound(path: Path, stream: bytes) -> Path:
    """A compound file that holds one stream, Workbook."""
    stream = stream.ljust(max(-(-len(stream) // SECTOR) * SECTOR, 8 * SECTOR), b"\0")
    count = len(stream) // SECTOR
    table = [0xFFFFFFFD, LAST, *range(3, count + 2), LAST]
    assert len(table) <= SECTOR // 4
    fat = struct.pack(f"<{SECTOR // 4}I", *table, *[FREE] * (SECTOR // 4 - len(table)))
    header = bytes.fromhex("D0CF11E0A1B11AE1") + bytes(16) + struct.pack("<HHHHH6x", 0x3E, 3, 0xFFFE, 9, 6)
    header += struct.pack("<IIIIIIIII", 0, 1, 1, 0, 4096, LAST, 0, LAST, 0) + struct.pack("<109I", 0, *[FREE] * 108)
    folder = _entry("Root Entry", 5, LAST, 0, child=1) + _entry("Workbook", 2, 2, len(stream)) + bytes(256)
    path.write_bytes(header + fat + folder + stream)
    return path


def _entry(name: str, kind: int, start: int, size: int, child: int = FREE) -> bytes:
    title = (name + "\0").encode("utf-16-le")
    links = struct.pack("<III", FREE, FREE, child)
    return (
        title.ljust(64, b"\0")
        + struct.pack("<HBB", len(title), kind, 1)
        + links
        + bytes(36)
        + struct.pack("<IQ", start, size)
    )


def _biff(name: str, rows: Rows) -> bytes:
    title = name.encode("latin-1")
    plain = _record(0xE0, struct.pack("<HHH14x", 0, 0, 0))
    dated = _record(0xE0, struct.pack("<HHH14x", 0, 16, 0))  # built-in format 16: d-mmm
    before = _record(0x809, struct.pack("<HHHHII", 0x600, 5, 0, 0, 0, 6)) + plain + dated
    length = len(before) + 4 + 8 + len(title) + 4
    globals_ = before + _record(0x85, struct.pack("<IBBBB", length, 0, 0, len(title), 0) + title) + _record(0x0A, b"")
    cells = b"".join(
        _biff_cell(y, x, cell) for y, row in enumerate(rows) for x, cell in enumerate(row) if cell is not None
    )
    return globals_ + _record(0x809, struct.pack("<HHHHII", 0x600, 0x10, 0, 0, 0, 6)) + cells + _record(0x0A, b"")


def _biff_cell(y: int, x: int, cell: Any) -> bytes:
    if isinstance(cell, datetime.date):
        return _record(0x203, struct.pack("<HHHd", y, x, 1, float((cell - DAY_ZERO).days)))
    if isinstance(cell, (int, float)):
        return _record(0x203, struct.pack("<HHHd", y, x, 0, float(cell)))
    return _record(0x204, struct.pack("<HHHHB", y, x, 0, len(cell), 1) + cell.encode("utf-16-le"))


def _record(kind: int, data: bytes) -> bytes:
    return struct.pack("<HH", kind, len(data)) + data
