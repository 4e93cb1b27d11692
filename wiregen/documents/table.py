"""A list as data: what its columns are and what stands in its rows. Writers show it; nothing is computed there."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Literal

ColumnKind = Literal["text", "number", "designation"]
Cell = str | int | float | None

#: Several designations in one cell are parted so.
PARTED = "; "

_DESIGNATION = re.compile(
    r"""(?:(?:[-+=][A-Za-z][A-Za-z0-9_.]*)+   # -TA1, +C1, =A1+C1-TA1: after every sign a letter
        |[A-Za-z0-9][A-Za-z0-9_.+-]*)         # PB1, AI1+, 24V
        (?::[A-Za-z0-9_.+-][A-Za-z0-9_.+-]*)? # :DI1, :+
    """,
    re.VERBOSE,
)


@dataclass(frozen=True, slots=True)
class Column:
    """``key`` heads the column in CSV, ``title`` on paper; the unit of a number ends its key (``length_m``)."""

    key: str
    title: str
    kind: ColumnKind = "text"
    unit: str = ""

    @property
    def heading(self) -> str:
        return f"{self.title} [{self.unit}]" if self.unit else self.title


@dataclass(frozen=True, slots=True)
class Table:
    """One list. Every row has one cell a column; a cell that has nothing to say is None."""

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]

    def column(self, key: str) -> tuple[Cell, ...]:
        """All cells of one column."""
        index = next(i for i, c in enumerate(self.columns) if c.key == key)
        return tuple(row[index] for row in self.rows)

    def records(self) -> list[dict[str, Cell]]:
        """One mapping a row, by the columns' keys."""
        keys = [c.key for c in self.columns]
        return [dict(zip(keys, row, strict=True)) for row in self.rows]


def with_gauges(table: Table, gauges: list[str]) -> Table:
    """The table with a last column of American wire gauges, one a row; itself where no row has one."""
    if not any(gauges):
        return table
    rows = tuple((*row, gauge or None) for row, gauge in zip(table.rows, gauges, strict=True))
    return replace(table, columns=(*table.columns, Column("gauge", "Gauge")), rows=rows)


def is_designation(text: str) -> bool:
    """Whether ``text`` is a reference designation, a pin, or several of them, and nothing else.

    It holds no bracket, quote, bar, comma or ``!``, so that no spreadsheet can take it for a call.

    >>> is_designation("-TA1:DI1"), is_designation("=1+1"), is_designation("-X1:2; -X1:3")
    (True, False, True)
    """
    return all(_DESIGNATION.fullmatch(part) for part in text.split(PARTED))


def natural(text: str | None) -> tuple[tuple[int, int, str], ...]:
    """A sorting key by which 2 stands before 10, and nothing before everything.

    >>> sorted(["-X1:10", "-X1:PE", "-X1:2"], key=natural)
    ['-X1:2', '-X1:10', '-X1:PE']
    """
    parts = re.findall(r"[0-9]+|[^0-9]+", text or "")
    return tuple(_figure(p.lstrip("0")) if p[0] in "0123456789" else (1, 0, p) for p in parts)


def _figure(digits: str) -> tuple[int, int, str]:
    return 0, len(digits), digits
