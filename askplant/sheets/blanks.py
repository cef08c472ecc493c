"""What the reader of workbooks makes empty cells of, though they are none: formulas without a value, and errors such as #N/A;
in ODS also the cells that a merged one covers.

A formula has no value where a program wrote it and no spreadsheet has opened the file since. That it came to nothing (`=""`) is
another thing: XLSX and ODS say so; XLS does not, so that there a sheet counts as never worked out when each of its formulas is
empty. Formats: ECMA-376 part 1, 18.3.1; OpenDocument 1.3 part 3, 19; MS-XLS 2.4.127 and 2.4.24; MS-CFB 2.
"""

from __future__ import annotations

import re
import struct
import zipfile
from collections.abc import Iterator
from typing import NamedTuple
from xml.etree import ElementTree

Place = tuple[int, int]  # row and column, from 0


class Found(NamedTuple):
    """Blanks with their errors, nothing for a formula without a value; and the first and last cells of merged stretches."""

    blanks: dict[Place, str]
    merged: list[tuple[Place, Place]]


COMPOUND = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
XLSX_WORTH = re.compile(rb'<(\w+:)?f[\s>/]|\st=[\'"]e[\'"]')  # else no cell of a sheet is of either kind
ODS_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
ODS_OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
ODS_ERROR = "{urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0}value-type"
ODS_VALUES = tuple(
    f"{ODS_OFFICE}{name}" for name in ("value", "date-value", "time-value", "boolean-value", "string-value")
)
XLS_ERRORS = {0: "#NULL!", 7: "#DIV/0!", 15: "#VALUE!", 23: "#REF!", 29: "#NAME?", 36: "#NUM!", 42: "#N/A"}
XLS_FORMULA, XLS_ERROR, XLS_SHEET, XLS_END = 0x06, 0x205, 0x85, 0x0A


def found(path: str, sheet: str, height: int, width: int) -> Found:
    """The blanks of a sheet, and what is merged in one of ODS; none where the file is damaged.

    Cells that a file says are repeated count within the sheet's height and width.
    """
    try:
        with open(path, "rb") as stream:
            if stream.read(len(COMPOUND)) == COMPOUND:
                return Found(_of_xls(_stream(path), sheet), [])
        with zipfile.ZipFile(path) as parts:
            if "content.xml" in parts.namelist():
                return _of_ods(parts, sheet, height, width)
            return Found(_of_xlsx(parts, sheet), [])
    except (zipfile.BadZipFile, KeyError, ElementTree.ParseError, OSError, ValueError, IndexError, struct.error):
        return Found({}, [])


# ---- XLSX


def _of_xlsx(parts: zipfile.ZipFile, sheet: str) -> dict[Place, str]:
    inside = _part_of(parts, sheet)
    blanks: dict[Place, str] = {}
    if not inside or not XLSX_WORTH.search(parts.read(inside)):
        return blanks
    with parts.open(inside) as stream:
        row = column = -1
        for event, element in ElementTree.iterparse(stream, ("start", "end")):
            name = _local(element)
            if event == "start" and name == "row":
                row, column = int(element.get("r", row + 2)) - 1, -1
            elif event == "end" and name == "c":
                place = element.get("r", "")
                column = _column(place) if place else column + 1
                told = {_local(child): child.text or "" for child in element}
                if element.get("t") == "e":
                    blanks[row, column] = told.get("v", "")
                elif "f" in told and not told.get("v", "").strip() and element.get("t") != "str":
                    blanks[row, column] = ""
            elif event == "end" and name == "row":
                element.clear()
    return blanks


def _part_of(parts: zipfile.ZipFile, sheet: str) -> str | None:
    """The part of an XLSX file that holds a sheet."""
    book = ElementTree.fromstring(parts.read("xl/workbook.xml"))
    links = ElementTree.fromstring(parts.read("xl/_rels/workbook.xml.rels"))
    targets = {link.get("Id"): link.get("Target", "") for link in links}
    for one in book.iter():
        if _local(one) == "sheet" and one.get("name") == sheet:
            link = next((value for key, value in one.items() if key.endswith("relationships}id")), None)
            target = targets.get(link, "")
            return target.lstrip("/") if target.startswith("/") else f"xl/{target}"
    return None


def _local(element: ElementTree.Element) -> str:
    return element.tag.rpartition("}")[2]


def _column(place: str) -> int:
    """The column of a place as spreadsheets write it: AB7 is in column 27."""
    number = 0
    for letter in place.rstrip("0123456789"):
        number = number * 26 + ord(letter) - ord("A") + 1
    return number - 1


# ---- ODS


def _of_ods(parts: zipfile.ZipFile, sheet: str, height: int, width: int) -> Found:
    found = Found({}, [])
    with parts.open("content.xml") as stream:
        inside, top = False, 0
        for event, element in ElementTree.iterparse(stream, ("start", "end")):
            if element.tag == f"{ODS_TABLE}table":
                inside, top = event == "start" and element.get(f"{ODS_TABLE}name") == sheet, 0
            elif event == "end" and element.tag == f"{ODS_TABLE}table-row":
                times = int(element.get(f"{ODS_TABLE}number-rows-repeated", 1))
                rows = range(top, top + max(1, min(times, height - top)))
                if inside:
                    _of_ods_row(element, rows, width, found)
                top += times
                element.clear()
    return found


def _of_ods_row(row: ElementTree.Element, rows: range, width: int, found: Found) -> None:
    column = 0
    for cell in row:
        times = int(cell.get(f"{ODS_TABLE}number-columns-repeated", 1))
        error = "".join(cell.itertext()) if cell.get(ODS_ERROR) == "error" else ""
        valued = len(cell) > 0 or any(
            key in cell.attrib for key in ODS_VALUES
        )  # nothing, worked out, is an empty paragraph
        if error or (f"{ODS_TABLE}formula" in cell.attrib and not valued):
            columns = range(column, column + max(1, min(times, width - column)))
            found.blanks.update({(y, x): error for y in rows for x in columns})
        down, right = (int(cell.get(f"{ODS_TABLE}number-{way}-spanned", 1)) for way in ("rows", "columns"))
        if (down, right) != (1, 1):
            found.merged.append(((rows[0], column), (rows[0] + down - 1, column + right - 1)))
        column += times


# ---- XLS


def _of_xls(data: bytes, sheet: str) -> dict[Place, str]:
    blanks: dict[Place, str] = {}
    valued = False
    for kind, record in _records(data, _start(data, sheet)):
        row, column = struct.unpack("<HH", record[:4]) if len(record) >= 8 else (0, 0)
        if kind == XLS_ERROR and record[7]:
            blanks[row, column] = XLS_ERRORS.get(record[6], "#ERROR!")
        elif kind == XLS_FORMULA:
            special = record[12:14] == b"\xff\xff"  # else a number
            if special and record[6] == 2:
                blanks[row, column] = XLS_ERRORS.get(record[8], "#ERROR!")
            elif special and record[6] == 3:
                blanks[row, column] = ""
            valued = valued or not special or record[6] != 3
    return {place: error for place, error in blanks.items() if error or not valued}


def _start(data: bytes, sheet: str) -> int:
    """Where the records of a sheet begin; the end of all of them where there is none of that name."""
    for kind, record in _records(data, 0):
        if kind == XLS_SHEET:
            text = record[8:].decode("utf-16-le" if record[7] & 1 else "latin-1")
            if text[: record[6]] == sheet:
                return int.from_bytes(record[:4], "little")
    return len(data)


def _records(data: bytes, start: int) -> Iterator[tuple[int, bytes]]:
    """The records of one part of a workbook, up to its end."""
    while start + 4 <= len(data):
        kind, length = struct.unpack_from("<HH", data, start)
        if kind == XLS_END:
            return
        yield kind, data[start + 4 : start + 4 + length]
        start += 4 + length


def _stream(path: str) -> bytes:
    """The stream of a compound file that holds the workbook."""
    with open(path, "rb") as stream:
        data = stream.read()
    size = 1 << int.from_bytes(data[30:32], "little")

    def sector(number: int) -> bytes:
        return data[(number + 1) * size : (number + 2) * size]

    def numbers(raw: bytes) -> tuple[int, ...]:
        return struct.unpack(f"<{len(raw) // 4}I", raw)

    listed, following = list(numbers(data[76:512])), int.from_bytes(data[68:72], "little")
    while following < len(data) // size:
        *more, following = numbers(sector(following))
        listed += more
    table = [one for number in listed if number < len(data) // size for one in numbers(sector(number))]

    def chain(number: int) -> bytes:
        found: list[bytes] = []
        while number < len(table) and len(found) <= len(table):
            found.append(sector(number))
            number = table[number]
        return b"".join(found)

    folder = chain(int.from_bytes(data[48:52], "little"))
    for at in range(0, len(folder), 128):
        name = folder[at : at + int.from_bytes(folder[at + 64 : at + 66], "little")].decode("utf-16-le").rstrip("\0")
        if name in ("Workbook", "Book"):
            start, length = struct.unpack_from("<II", folder, at + 116)
            return chain(start)[:length]
    return b""
