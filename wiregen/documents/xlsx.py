"""Tables as XLSX: for people, on screen and on paper. The same table gives the same bytes."""

from __future__ import annotations

import io
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from wiregen.documents.csv import shown
from wiregen.documents.table import Cell, Column, Table

#: The writer must not ask the clock; this is the first date that the file format can hold.
_FIXED = datetime(1980, 1, 1)
_LONGEST_CELL = 32_767
_LONGEST_FOOTER = 40
_WIDEST = 48


@dataclass(frozen=True, slots=True)
class Heading:
    """What stands above a list and at the foot of each page."""

    scheme: str
    drawing: str
    revision: str
    status: str


def as_xlsx(table: Table, heading: Heading) -> bytes:
    """One workbook with one sheet: title, header row that stays in view, typed cells, A4 landscape."""
    import xlsxwriter

    out = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    book = xlsxwriter.Workbook(out, options)
    book.set_properties({"title": _plain(table.title), "subject": _plain(heading.scheme), "created": _FIXED})
    sheet = book.add_worksheet(table.title[:31])
    _title(book, sheet, table, heading)
    _cells(book, sheet, table)
    _page(sheet, table, heading)
    book.close()
    return out.getvalue()


_HEADER_ROW = 3


def _title(book: Any, sheet: Any, table: Table, heading: Heading) -> None:
    large = book.add_format({"bold": True, "font_size": 14})
    sheet.write_string(0, 0, _plain(f"{table.title}: {heading.scheme}"), large)
    drawing = f"Drawing {heading.drawing or '-'}, revision {heading.revision or '-'}, {heading.status}"
    sheet.write_string(1, 0, _plain(drawing))


def _cells(book: Any, sheet: Any, table: Table) -> None:
    head = book.add_format({"bold": True, "bottom": 2, "text_wrap": True, "valign": "top"})
    text = book.add_format({"num_format": "@", "text_wrap": True, "valign": "top", "bottom": 4})
    figure = book.add_format({"valign": "top", "bottom": 4})
    for index, column in enumerate(table.columns):
        sheet.write_string(_HEADER_ROW, index, column.heading, head)
        sheet.set_column(index, index, _width(column, [row[index] for row in table.rows]))
    for line, row in enumerate(table.rows, start=_HEADER_ROW + 1):
        for index, cell in enumerate(row):
            if cell is None:
                sheet.write_blank(line, index, None, text)
            elif isinstance(cell, str):
                sheet.write_string(line, index, _plain(cell), text)
            else:
                sheet.write_number(line, index, cell, figure)


def _width(column: Column, cells: list[Cell]) -> float:
    longest_word = max(len(word) for word in column.heading.split())
    longest = max((len(shown(c)) for c in cells), default=0)
    return min(max(longest, longest_word, 6) + 2, _WIDEST)


def _page(sheet: Any, table: Table, heading: Heading) -> None:
    last = _HEADER_ROW + len(table.rows)
    sheet.freeze_panes(_HEADER_ROW + 1, 0)
    sheet.autofilter(_HEADER_ROW, 0, last, len(table.columns) - 1)
    sheet.set_landscape()
    sheet.set_paper(9)  # A4
    sheet.fit_to_pages(1, 0)
    sheet.repeat_rows(_HEADER_ROW)
    sheet.print_area(0, 0, last, len(table.columns) - 1)
    left, middle = _foot(f"{heading.drawing} {heading.revision}".strip()), _foot(heading.status)
    sheet.set_footer(f"&L {left}&C {middle}&R {_foot(table.title)}, page &P of &N")


def _foot(text: str) -> str:
    """Free text for a footer, where an ampersand begins a command and digits right after one are a font size."""
    return _plain(text)[:_LONGEST_FOOTER].replace("&", "&&")


def _plain(text: str) -> str:
    """Text that a workbook can hold: no lone surrogate, not too long for a cell."""
    text = text.encode("utf-8", "backslashreplace").decode("utf-8")
    return text if len(text) <= _LONGEST_CELL else text[: _LONGEST_CELL - 1] + "…"
