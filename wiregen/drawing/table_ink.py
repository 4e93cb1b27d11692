"""The lines and words of tables on a sheet."""

from __future__ import annotations

import itertools

from wiregen.drawing import fonts
from wiregen.drawing.canvas import NORMAL, NOTE, THIN, TITLE, Canvas
from wiregen.drawing.paragraphs import LEADING, one_line
from wiregen.drawing.references import References
from wiregen.drawing.table_widths import PAD, STROKE, groups
from wiregen.drawing.tables import AIR, HEADING, Late, Piece, SetRow, TableSheet, head_heights, remark_lines


def draw(canvas: Canvas, sheet: TableSheet, references: References) -> None:
    """Draw all tables of a sheet; late cells are written with the references."""
    for piece in sheet.pieces:
        if sheet.kind is not None and piece.block.name and not piece.again:
            references.mark(sheet.kind, piece.block.name, canvas, piece.x, piece.y)
        _Ink(canvas, piece, references).draw()


class _Ink:
    """One table being drawn."""

    def __init__(self, canvas: Canvas, piece: Piece, references: References) -> None:
        self._canvas, self._piece, self._references = canvas, piece, references
        self._measured = piece.measured
        self._edges = list(itertools.accumulate(self._measured.widths, initial=piece.x))

    def draw(self) -> None:
        top = self._heading()
        head = self._head(top)
        y = head
        for row in self._piece.rows:
            self._row(row, y)
            y += row.height
            last = row is self._piece.rows[-1]
            self._line(((self._edges[0], y), (self._edges[-1], y)), NORMAL if last else THIN)
        for edge in self._edges:
            outer = edge in (self._edges[0], self._edges[-1])
            self._line(((edge, top if outer else head), (edge, y)), NORMAL if outer else THIN)

    def _heading(self) -> float:
        piece, y = self._piece, self._piece.y
        if piece.block.heading:
            again = "  (continued)" if piece.again else ""
            text, size = one_line(piece.block.heading + again, self._measured.room - 1.0, TITLE * 0.85)
            self._canvas.text(piece.x, y + 5.4, text, size, strong=True)
            y += HEADING
        for line in remark_lines(piece.block, self._measured):
            self._canvas.text(piece.x, y + NOTE * 0.4, line, NOTE)
            y += NOTE * LEADING
        return y

    def _head(self, top: float) -> float:
        """The heads of groups and columns; returns their lower edge."""
        measured, left, right = self._measured, self._edges[0], self._edges[-1]
        group, own = head_heights(measured)
        self._line(((left, top), (right, top)), NORMAL)
        for (start, end), head in zip(groups(measured.columns), measured.heads, strict=True):
            x0, x1 = self._edges[start], self._edges[end]
            if x0 != left:
                self._line(((x0, top), (x0, top + group)), THIN)
            for index, line in enumerate(head):
                drop = AIR + fonts.cap_height(measured.size) + index * measured.size * LEADING
                self._canvas.text((x0 + x1) / 2, top + drop, line, measured.size, "middle", strong=True)
            if head:
                self._line(((x0, top + group), (x1, top + group)), THIN)
        for x in self._edges[1:-1]:
            self._line(((x, top + group), (x, top + group + own)), THIN)
        for x, lines in zip(self._edges, measured.titles, strict=False):
            self._lines(lines, x, top + group, strong=True)
        bottom = top + group + own
        self._line(((left, bottom), (right, bottom)), NORMAL)
        return bottom

    def _row(self, row: SetRow, y: float) -> None:
        measured = self._measured
        cells = zip(measured.columns, self._edges, measured.widths, row.row, row.lines, strict=False)
        for column, x, width, cell, lines in cells:
            if lines is not None:
                self._lines(lines, x, y, column.strong)
            elif isinstance(cell, Late):
                baseline = y + AIR + fonts.cap_height(measured.size)
                room = width - 2 * PAD
                self._references.note(self._canvas, x + PAD, baseline, cell.says, room, size=measured.size)

    def _lines(self, lines: tuple[str, ...], x: float, top: float, strong: bool = False) -> None:
        size = self._measured.size
        left = x + PAD + (STROKE / 2 if strong else 0.0)
        for index, line in enumerate(lines):
            y = top + AIR + fonts.cap_height(size) + index * size * LEADING
            self._canvas.text(left, y, line, size, strong=strong)

    def _line(self, points: tuple[tuple[float, float], ...], width: float) -> None:
        self._canvas.line(points, width)
