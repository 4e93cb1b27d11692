"""Tables as CSV: exact, for machines and label printers."""

from __future__ import annotations

import csv
import io

from wiregen.documents.table import Cell, Column, Table, is_designation

#: Beginnings that a spreadsheet takes for a formula or a command.
_FORMULA = ("=", "+", "-", "@", "\t", "\n")


def as_csv(table: Table) -> bytes:
    """UTF-8, comma, lines end with LF; the first line holds the columns' keys.

    A designation stands as it is. Any other text that a spreadsheet would take for a formula gets an apostrophe first.
    A line break within a text is LF too.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(c.key for c in table.columns)
    for row in table.rows:
        writer.writerow(_written(column, cell) for column, cell in zip(table.columns, row, strict=True))
    return out.getvalue().encode("utf-8", "backslashreplace")


def _written(column: Column, cell: Cell) -> str:
    if not isinstance(cell, str) or (column.kind == "designation" and is_designation(cell)):
        return shown(cell)
    text = cell.replace("\r\n", "\n").replace("\r", "\n")
    return "'" + text if text.lstrip(" ").startswith(_FORMULA) else text


def shown(cell: Cell) -> str:
    """A cell as plain text; nothing for None."""
    if cell is None or isinstance(cell, str):
        return cell or ""
    return number(cell)


def number(value: int | float) -> str:
    """The shortest decimal text that is the number, without an exponent.

    >>> number(35.0), number(0.75), number(1e-7)
    ('35', '0.75', '0.0000001')
    """
    if isinstance(value, int):
        return str(value)
    text = f"{value:.7f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
