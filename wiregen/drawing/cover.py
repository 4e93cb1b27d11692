"""The cover of a set: what it is, its sheets, cautions, revisions, and the legend of the symbols it uses."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from wiregen.drawing import fonts, legend, table_ink
from wiregen.drawing.box import Box
from wiregen.drawing.canvas import NOTE, TEXT, TITLE, Canvas
from wiregen.drawing.paragraphs import LEADING, one_line
from wiregen.drawing.references import References
from wiregen.drawing.tables import Block, Column, Late, Row, TableSheet, block, table_sheets

NAME = 9.0  # font size of the title of the set, mm
HEAD = 25.0  # from the top to index and cautions
LEFT, RIGHT = 0.485, 0.515  # of the width, where the left half ends and the right one begins
BETWEEN = 7.0
LEGEND = "Symbols in this set"
CAUTIONS = (
    "Isolate every supply and secure it against being switched on again. Some circuits may be fed from elsewhere: what "
    "stays live with the main switch off is marked on its sheet.",
    "Wait until stored energy has gone: a drive is dangerous for minutes after it was switched off.",
    "Prove dead where you work, with a tester that you tried before and after.",
    "For people who are trained and authorised for this work only.",
    "Local codes, the instructions of the makers of the devices and the review of a licensed person come first.",
    "The checks behind these sheets are no safety assessment, and a set without findings is not a safe machine.",
)
INDEX = (Column("Sheet", strong=True, wraps=False), Column("Shows"))
REVISIONS = (Column("Revision", strong=True, wraps=False), Column("Date", wraps=False), Column("Change"))


@dataclass(frozen=True, slots=True)
class Facts:
    """What is said of the set as a whole; ``variant`` is empty for the scheme itself."""

    title: str
    drawing: str
    revision: str
    date: str
    status: str
    variant: str


@dataclass(frozen=True, slots=True)
class CoverSheet:
    """The cover, or a sheet on which it goes on."""

    title: str
    draw: Callable[[Canvas], None]


class Cover:
    """Cover and continuation sheets. ``titles`` are those of all sheets behind them."""

    def __init__(
        self,
        facts: Facts,
        titles: Sequence[str],
        revisions: Sequence[tuple[str, str, str]],
        entries: Sequence[legend.Entry],
        area: Box,
        references: References,
    ) -> None:
        self._facts, self._titles, self._area, self._references = facts, titles, area, references
        self._revisions, self._entries = revisions, entries
        self._canvases: Sequence[Canvas] = ()

    def sheets(self) -> list[CoverSheet]:
        """As many as it takes. Their own titles stand in the index too, so that their number must be found first."""
        own: list[CoverSheet] = []
        while True:
            found = self._made([sheet.title for sheet in own] or ["Cover"])
            if len(found) == max(1, len(own)):
                return found
            own = found

    def number(self, canvases: Sequence[Canvas]) -> None:
        """All sheets of the set in order, the cover's own among them, as soon as they are known."""
        self._canvases = canvases

    def _made(self, own: Sequence[str]) -> list[CoverSheet]:
        area = self._area
        top = area.y0 + HEAD
        left = Box(area.x0, top, area.x0 + LEFT * area.width, area.y1)
        right = Box(area.x0 + RIGHT * area.width, top + self._cautions_height() + BETWEEN, area.x1, area.y1)
        rows = [self._row(i, title) for i, title in enumerate((*own, *self._titles))]
        index = table_sheets("", [Block(INDEX, tuple(rows), "Sheets")], left, across=1)[0]
        shown = len(index.pieces[0].rows)
        changes = table_sheets("", [block(REVISIONS, self._revisions, "Revisions")], right, (TEXT, NOTE), across=1)
        rooms = [Box(right.x0, changes[0].bottom + BETWEEN + TITLE + 1.0, right.x1, right.y1)]
        rooms.append(Box(left.x0, index.bottom + BETWEEN + TITLE + 1.0, left.x1, left.y1))
        parts = self._legend_parts(rooms)

        def draw(canvas: Canvas) -> None:
            self._head(canvas)
            self._cautions(canvas, right.x0, top, right.width)
            for sheet in (index, changes[0]):
                table_ink.draw(canvas, sheet, self._references)
            for part, room in zip(parts, rooms, strict=True):
                _legend(canvas, part, room)

        more = table_sheets("Index of sheets", [Block(INDEX, tuple(rows[shown:]), "Sheets (continued)")], area)
        if len(changes) > 1:
            later = self._revisions[len(changes[0].pieces[0].rows) :]
            more += table_sheets("Revisions", [block(REVISIONS, later, "Revisions (continued)")], area, across=1)
        return [CoverSheet("Cover", draw), *map(self._table_sheet, more), *self._legend_sheets(sum(map(len, parts)))]

    def _row(self, index: int, title: str) -> Row:
        return Late(lambda: self._references.sheet(self._canvases[index]), "000"), title

    def _table_sheet(self, sheet: TableSheet) -> CoverSheet:
        return CoverSheet(sheet.title, lambda canvas: table_ink.draw(canvas, sheet, self._references))

    def _legend_parts(self, rooms: Sequence[Box]) -> list[Sequence[legend.Entry]]:
        """What of the legend each room of the cover takes."""
        parts: list[Sequence[legend.Entry]] = []
        rest = self._entries
        for room in rooms:
            count = legend.fitting(rest, room)
            parts.append(rest[:count])
            rest = rest[count:]
        return parts

    def _legend_sheets(self, first: int) -> list[CoverSheet]:
        room = Box(self._area.x0, self._area.y0 + 10.0, self._area.x1, self._area.y1)
        found = []
        while first < len(self._entries):
            count = max(1, legend.fitting(self._entries[first:], room))
            found.append(self._legend_sheet(self._entries[first : first + count], room))
            first += count
        return found

    def _legend_sheet(self, entries: Sequence[legend.Entry], room: Box) -> CoverSheet:
        return CoverSheet(LEGEND, lambda canvas: _legend(canvas, entries, room))

    # The head and the cautions of the first sheet

    def _head(self, canvas: Canvas) -> None:
        facts, area = self._facts, self._area
        text, size = one_line(facts.title, area.width, NAME, TEXT)
        canvas.text(area.x0, area.y0 + 9.5, text, size, strong=True)
        named = (("Drawing", facts.drawing), ("variant", facts.variant), ("revision", facts.revision))
        parts = [*(f"{what} {name}" for what, name in named if name), facts.date, facts.status]
        line, size = one_line(", ".join(p for p in parts if p), area.width, TITLE)
        canvas.text(area.x0, area.y0 + 17.5, line, size)

    def _caution_lines(self, width: float) -> list[tuple[str, ...]]:
        return [fonts.wrap(text, TEXT, width - 12.0) for text in CAUTIONS]

    def _cautions_height(self) -> float:
        lines = self._caution_lines(self._area.width * (1.0 - RIGHT))
        return 11.0 + sum(len(text) * TEXT * LEADING + 1.2 for text in lines)

    def _cautions(self, canvas: Canvas, x: float, y: float, width: float) -> None:
        """In a heavy frame."""
        canvas.rect(Box(x, y, x + width, y + self._cautions_height()), 0.5, "rule")
        canvas.text(x + 3.0, y + 6.4, "Before anyone touches a terminal", TITLE * 0.85, strong=True)
        at = y + 10.0
        for number, lines in enumerate(self._caution_lines(width), 1):
            canvas.text(x + 3.0, at + TEXT * 0.8, str(number), TEXT, strong=True)
            for line in lines:
                canvas.text(x + 8.0, at + TEXT * 0.8, line, TEXT)
                at += TEXT * LEADING
            at += 1.2


def _legend(canvas: Canvas, entries: Sequence[legend.Entry], room: Box) -> None:
    if entries:
        canvas.text(room.x0, room.y0 - 2.0, LEGEND, TITLE * 0.85, strong=True)
        legend.draw(canvas, entries, room)
