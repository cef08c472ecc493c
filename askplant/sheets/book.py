"""XLSX written row by row in memory that does not grow: text stays text, whatever it begins with."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Sequence
from pathlib import Path
from types import TracebackType
from typing import Any

from askplant.sheets.sheet import Cell, Uncomputed

LAST_ROW = 1_048_576  # rows of a sheet in the format (ECMA-376)
LONGEST = 32_767  # characters of a cell
CUT = " … (cut)"
WIDTHS = (10.0, 60.0)  # columns of characters, least and most
DATE, MOMENT, TIME, SPAN = "yyyy-mm-dd", "yyyy-mm-dd hh:mm", "hh:mm", "[h]:mm"


class Book:
    """A workbook that is being written; OSError where the disk is full or the file cannot be made."""

    def __init__(self, path: Path) -> None:
        import xlsxwriter

        options = {
            "constant_memory": True,
            "strings_to_formulas": False,
            "strings_to_urls": False,
            "strings_to_numbers": False,
        }
        self._book: Any = xlsxwriter.Workbook(str(path), {**options, "tmpdir": str(path.parent)})
        self._bold: Any = self._book.add_format({"bold": True})
        self._formats = {form: self._book.add_format({"num_format": form}) for form in (DATE, MOMENT, TIME, SPAN)}

    def sheet(self, name: str, headings: Sequence[str], above: Iterable[Sequence[Cell]] = ()) -> Page:
        """A new sheet with its headings, and the rows above them."""
        return Page(self, name, headings, tuple(above))

    def _page(self, name: str) -> Any:
        return self._book.add_worksheet(name)

    def __enter__(self) -> Book:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, found: BaseException | None, trace: TracebackType | None
    ) -> None:
        from xlsxwriter.exceptions import XlsxWriterException

        if kind is not None:
            self._abandon()
            return
        try:
            self._book.close()
        except XlsxWriterException as problem:
            self._abandon()
            raise (
                problem.args[0] if problem.args and isinstance(problem.args[0], OSError) else OSError(str(problem))
            ) from None

    def _abandon(self) -> None:
        """Let go of what a sheet keeps on the disk while it is written, so that nothing is left and nothing complains."""
        self._book.fileclosed = True
        for page in self._book.worksheets():
            stream = getattr(page, "row_data_fh", None)
            try:
                if stream is not None:
                    stream.close()
            except OSError:
                pass
            name = getattr(page, "row_data_filename", None)
            if name:
                Path(name).unlink(missing_ok=True)


class Page:
    """One sheet; rows past the last that the format has go on in a further sheet of the same headings."""

    def __init__(self, book: Book, name: str, headings: Sequence[str], above: Sequence[Sequence[Cell]]) -> None:
        self._of, self._name, self._headings, self._count = book, name, headings, 1
        self._begin(name, above)

    def _begin(self, name: str, above: Sequence[Sequence[Cell]]) -> None:
        self._page, self._row = self._of._page(name), 0
        for column, heading in enumerate(self._headings):
            self._page.set_column(column, column, min(max(WIDTHS[0], len(heading) * 1.2), WIDTHS[1]))
        for row in above:
            self.add(row)
        for column, heading in enumerate(self._headings):
            self._page.write_string(self._row, column, _fitting(heading), self._of._bold)
        self._row += 1
        self._page.freeze_panes(self._row, 0)

    def add(self, cells: Sequence[Cell]) -> None:
        """The next row."""
        if self._row >= LAST_ROW:
            self._count += 1
            self._begin(f"{self._name} {self._count}", ())
        for column, cell in enumerate(cells):
            self._write(column, cell)
        self._row += 1

    def _write(self, column: int, cell: Cell) -> None:
        page, row, formats = self._page, self._row, self._of._formats
        cell = cell.error if isinstance(cell, Uncomputed) else cell
        if cell is None or cell == "":
            return
        if isinstance(cell, bool):
            page.write_boolean(row, column, cell)
        elif isinstance(cell, (int, float)):
            page.write_number(row, column, cell)
        elif isinstance(cell, datetime.datetime):
            page.write_datetime(row, column, cell, formats[DATE if cell.time() == datetime.time() else MOMENT])
        elif isinstance(cell, datetime.date):
            page.write_datetime(row, column, cell, formats[DATE])
        elif isinstance(cell, datetime.time):
            page.write_datetime(row, column, cell, formats[TIME])
        elif isinstance(cell, datetime.timedelta):
            page.write_datetime(row, column, cell, formats[SPAN])
        else:
            page.write_string(row, column, _fitting(cell))


def _fitting(text: str) -> str:
    """Text that a cell can hold; a cut is said."""
    return text if len(text) <= LONGEST else text[: LONGEST - len(CUT)] + CUT
