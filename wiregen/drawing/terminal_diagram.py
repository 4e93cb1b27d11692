"""Draws one page of a controller: its terminals in order, and what is wired to each, outwards on both sides."""

from __future__ import annotations

from wiregen.drawing import fonts
from wiregen.drawing.box import Box
from wiregen.drawing.cable_runs import CableRuns
from wiregen.drawing.canvas import LEAST, NOTE, TEXT, TITLE, Canvas
from wiregen.drawing.columns import EDGE_LEFT, EDGE_RIGHT, LEFT, RIGHT, Columns
from wiregen.drawing.diagram_marks import Marks, Setting
from wiregen.drawing.diagram_rows import Rows
from wiregen.drawing.lines import Line, shown_setting
from wiregen.drawing.placing import Page, PlacedBlock, PlacedLine
from wiregen.drawing.rails import Rails
from wiregen.drawing.symbols import HEAVY, Anchor
from wiregen.terms import Pin

__all__ = ["Diagram", "Setting"]


class Diagram:
    """One page being drawn. ``drawn`` holds the strip terminals that stand on it."""

    def __init__(self, canvas: Canvas, page: Page, setting: Setting) -> None:
        self._canvas, self._page = canvas, page
        self._marks = Marks(canvas, page, setting)
        self._rails = Rails(canvas, page, setting, self._marks)
        self._runs = CableRuns(canvas, page, setting, self._marks)
        self._rows = Rows(canvas, page, setting, self._marks, self._rails)

    @property
    def drawn(self) -> set[Pin]:
        return self._marks.drawn

    def draw(self, top: float) -> None:
        bottom = self._page.bottom + 8.0
        self._controller(top, bottom)
        for columns, blocks in ((LEFT, self._page.left), (RIGHT, self._page.right)):
            lines = [line for block in blocks for line in block.lines]
            self._runs.places(columns, lines, top)
            self._runs.cables(columns, lines)
            self._runs.strip_name(columns, lines)
            self._rails.draw(columns, blocks)
            for block in blocks:
                self._block(columns, block)
        self._runs.cabinet(top, bottom)

    def _controller(self, top: float, bottom: float) -> None:
        device, canvas = self._page.device, self._canvas
        canvas.rect(Box(EDGE_LEFT, top, EDGE_RIGHT, bottom), HEAVY)
        middle = (EDGE_LEFT + EDGE_RIGHT) / 2
        part = f" ({self._page.part} of {self._page.parts})" if self._page.parts > 1 else ""
        canvas.text(middle, top + 6.0, device.name + part, TITLE, "middle", strong=True)
        words = device.profile.title + (f", {device.text}" if device.text else "")
        size = fonts.shrink(words, NOTE, EDGE_RIGHT - EDGE_LEFT - 4, LEAST) or LEAST
        canvas.text(middle, bottom - 3.0, words, size, "middle")

    def _terminal(self, columns: Columns, line: Line, y: float) -> None:
        """The label of a terminal inside the outline, its function, and the setting that it needs."""
        assert line.inner is not None
        canvas, left = self._canvas, columns.outwards < 0
        self._canvas.pin(columns.edge, y, str(line.inner))
        x = columns.edge + (2.4 if left else -2.4)
        canvas.text(x, y, line.inner.name, TEXT, "start" if left else "end", strong=True, centred=True)
        indent = self._indent(columns)
        room = self._room(columns)
        text_x = columns.edge - columns.outwards * indent
        anchor: Anchor = "start" if left else "end"
        pieces = fonts.wrap(line.function, TEXT, room) if line.function else ()
        setting = shown_setting(line.setting)
        offset = -1.9 * (len(pieces) - 1)
        for i, piece in enumerate(pieces):
            canvas.text(text_x, y + offset + 3.8 * i, piece, TEXT, anchor, centred=True)
        lower = y - offset + 4.0
        for i, piece in enumerate(fonts.wrap(setting, LEAST, room) if setting else ()):
            canvas.text(text_x, lower + 3.2 * i, piece, LEAST, anchor, centred=True)

    def _indent(self, columns: Columns) -> float:
        """From the edge to the functions: the widest label of this side lies between."""
        labels = [p.line.inner.name for b in self._marks.blocks(columns) for p in b.lines if p.line.inner is not None]
        return 5.4 + max((fonts.text_width(label, TEXT) for label in labels), default=0.0)

    def _room(self, columns: Columns) -> float:
        """Width for functions on one side: half of what the labels leave, or more where the other side needs less."""
        other = RIGHT if columns is LEFT else LEFT
        free = EDGE_RIGHT - EDGE_LEFT - self._indent(LEFT) - self._indent(RIGHT) - 3.0
        words = [p.line.function for b in self._marks.blocks(other) for p in b.lines]
        needed = max((fonts.text_width(w, TEXT) for w in words), default=0.0)
        return max(free / 2, free - needed)

    def _block(self, columns: Columns, block: PlacedBlock) -> None:
        branch = block.block.branch
        if branch is not None and branch.is_box:
            self._rows.box(columns, block)
        for placed in block.lines:
            if placed.line.inner is not None:
                self._terminal(columns, placed.line, placed.y)
            self._line(columns, block, placed)

    def _line(self, columns: Columns, block: PlacedBlock, placed: PlacedLine) -> None:
        line = placed.line
        if line.outer in ("tag", "elsewhere"):
            self._rows.terminal_tag(columns, line, placed.y)
        elif line.outer == "unit":
            self._rows.units(columns, block, placed)
        elif line.outer == "lead":
            self._rows.lead(columns, block, placed)
        elif line.outer == "earth":
            self._rows.earth(columns, block, placed)
        elif line.outer == "chain":
            self._rows.feed(columns, block, placed)
        elif line.outer == "spare":
            self._rows.spare(columns, placed)
        elif line.outer == "onward":
            self._rows.onward(columns, placed)
