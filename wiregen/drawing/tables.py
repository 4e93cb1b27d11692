"""Tables on sheets: columns measured with the sheets' own font, cells wrapped, heads repeated from sheet to sheet.

`table_sheets` breaks any number of blocks over as many sheets as they need. A block is one table under a heading of its
own; blocks of the same columns share their widths, so that they stand in line. Narrow tables stand beside one another.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from wiregen.drawing import fonts
from wiregen.drawing.box import Box
from wiregen.drawing.canvas import LEAST, NOTE, TEXT
from wiregen.drawing.paragraphs import LEADING
from wiregen.drawing.references import Kind
from wiregen.drawing.table_widths import PAD, Measured, Measuring

AIR = 1.45  # above and below the text of a row, mm
HEADING = 8.5  # for the heading of a block, mm
BETWEEN = 6.0  # from block to block
BESIDE = 8.0  # from table to table across the sheet
MOST_ACROSS = 3
MOST_NAMED = 3  # tables whose names stand in the title of a sheet
FEWEST_ROWS = 3  # that a block begun at the foot of a sheet must show there


@dataclass(frozen=True, slots=True)
class Late:
    """A cell whose words are known when every sheet has its number; ``sample`` is as wide as they can become."""

    says: Callable[[], str]
    sample: str = "00/A00"


Cell = str | Late
Row = tuple[Cell, ...]  # a cell for each column


@dataclass(frozen=True, slots=True)
class Column:
    """One column; neighbours of the same ``group`` share a head above their own. ``strong`` ones are what is looked up.

    ``wraps``: whether its cells may take several lines before the whole table is set smaller.
    """

    title: str
    group: str = ""
    strong: bool = False
    wraps: bool = True


@dataclass(frozen=True, slots=True)
class Block:
    """One table: its columns, its rows, a heading with plain remarks below it, and its name in the title of a sheet."""

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    heading: str = ""
    remarks: tuple[str, ...] = ()
    name: str = ""


def block(
    columns: Sequence[Column],
    rows: Iterable[Sequence[Cell]],
    heading: str = "",
    remarks: Sequence[str] = (),
    name: str = "",
) -> Block:
    """A block of plain rows."""
    return Block(tuple(columns), tuple(tuple(row) for row in rows), heading, tuple(remarks), name)


@dataclass(frozen=True, slots=True)
class SetRow:
    """One row broken into lines, a tuple of lines for each cell; a late cell is None."""

    row: Row
    lines: tuple[tuple[str, ...] | None, ...]
    height: float


@dataclass(frozen=True, slots=True)
class Piece:
    """What one sheet shows of a block: its top left corner, and the rows. ``again``: it began before."""

    block: Block
    measured: Measured
    x: float
    y: float
    rows: tuple[SetRow, ...]
    again: bool


@dataclass(frozen=True, slots=True)
class TableSheet:
    """One sheet of tables; ``title`` names them and counts the sheets of its kind: ``Cables -W5 to -W9, 2 of 3``."""

    title: str
    pieces: tuple[Piece, ...]
    bottom: float  # how far down it reaches
    kind: Kind | None = None  # as what its blocks can be referred to, by their names


def table_sheets(
    title: str,
    blocks: Sequence[Block],
    area: Box,
    sizes: Sequence[float] = (TEXT, NOTE, LEAST),
    kind: Kind | None = None,
    across: int = MOST_ACROSS,
) -> list[TableSheet]:
    """As many sheets as the blocks need, with their titles.

    The largest of ``sizes`` is taken in which no word has to be broken. Blocks without rows are left out. With
    ``kind`` other sheets can refer to the blocks by their names. At most ``across`` tables stand beside one another.
    """
    wanted = [b for b in blocks if b.rows]
    measuring = Measuring([(b.columns, b.rows) for b in wanted], area.width, BESIDE, across, sizes)
    flow = _Flow(area, measuring.across)
    for one in wanted:
        flow.take(one, measuring.of(one.columns))
    pages = flow.pages
    parts = [f", {i} of {len(pages)}" if len(pages) > 1 else "" for i in range(1, len(pages) + 1)]
    return [
        TableSheet(_titled(title, page) + part, tuple(page), max(piece.y + _height(piece) for piece in page), kind)
        for part, page in zip(parts, pages, strict=True)
    ]


def _titled(title: str, page: Sequence[Piece]) -> str:
    """The title with the names of what the sheet shows: all of a few, else the first and the last."""
    names = list(dict.fromkeys(piece.block.name for piece in page if piece.block.name))
    if len(names) > MOST_NAMED:
        return f"{title} {names[0]} to {names[-1]}"
    return f"{title} {' and '.join(part for part in (', '.join(names[:-1]), *names[-1:]) if part)}".rstrip()


@dataclass(slots=True)
class _Flow:
    """Fills column after column, sheet after sheet, from the top."""

    area: Box
    across: int
    pages: list[list[Piece]] = field(default_factory=list)
    column: int = 0
    y: float = 0.0

    def take(self, one: Block, measured: Measured) -> None:
        rows = [part for row in one.rows for part in _broken(row, measured, self._most(one, measured))]
        whole = _head(one, measured) + sum(r.height for r in rows)
        begun = _head(one, measured) + sum(r.height for r in rows[:FEWEST_ROWS])
        if not self.pages or (self.y + (whole if whole <= self.area.height else begun) > self.area.y1):
            self._next()
        again = False
        while rows:
            y, taken = self.y + _head(one, measured), 0
            while taken < len(rows) and y + rows[taken].height <= self.area.y1 + 1e-6:
                y += rows[taken].height
                taken += 1
            assert taken, "a row is no higher than a sheet"
            piece = Piece(one, measured, self._x(), self.y, tuple(rows[:taken]), again)
            self.pages[-1].append(piece)
            self.y, rows, again = y + BETWEEN, rows[taken:], True
            if rows:
                self._next()

    def _most(self, one: Block, measured: Measured) -> float:
        return self.area.height - _head(one, measured)

    def _x(self) -> float:
        return self.area.x0 + self.column * (self.area.width + BESIDE) / self.across

    def _next(self) -> None:
        self.column = (self.column + 1) % self.across if self.pages else 0
        if self.column == 0:
            self.pages.append([])
        self.y = self.area.y0


def _broken(row: Row, measured: Measured, most: float) -> Iterator[SetRow]:
    """The row in lines; in several parts where it alone is higher than a sheet."""
    cells = [
        None if isinstance(cell, Late) else fonts.wrap(cell, measured.size, width - 2 * PAD)
        for cell, width in zip(row, measured.widths, strict=True)
    ]
    count = max((len(lines) for lines in cells if lines is not None), default=1) or 1
    fitting = max(1, int((most - row_height(1, measured.size)) / (measured.size * LEADING)) + 1)
    for first in range(0, count, fitting):
        lines = tuple(None if c is None else c[first : first + fitting] for c in cells)
        yield SetRow(row, lines, row_height(min(fitting, count - first), measured.size))


def row_height(lines: int, size: float) -> float:
    """The height of a row of so many lines, mm."""
    return fonts.cap_height(size) + (lines - 1) * size * LEADING + 2 * AIR + 0.12 * size


def head_heights(measured: Measured) -> tuple[float, float]:
    """Of the shared heads of groups, 0 without any, and of the columns' own."""
    lines = max(len(head) for head in measured.heads)
    group = row_height(lines, measured.size) if lines else 0.0
    return group, row_height(max(len(lines) for lines in measured.titles), measured.size)


def remark_lines(one: Block, measured: Measured) -> tuple[str, ...]:
    """What stands between a block's heading and its head."""
    return tuple(line for text in one.remarks for line in fonts.wrap(text, NOTE, measured.room))


def _head(one: Block, measured: Measured) -> float:
    heading = HEADING if one.heading else 0.0
    return heading + len(remark_lines(one, measured)) * NOTE * LEADING + sum(head_heights(measured))


def _height(piece: Piece) -> float:
    return _head(piece.block, piece.measured) + sum(r.height for r in piece.rows)
