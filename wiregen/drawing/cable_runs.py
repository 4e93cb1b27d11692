"""The edges of places, and the cables that cross them, with names and make-up."""

from __future__ import annotations

import itertools

from wiregen.drawing import fonts
from wiregen.drawing.box import Box
from wiregen.drawing.canvas import LEAST, NOTE, TEXT, Canvas
from wiregen.drawing.columns import LEFT, RIGHT, Columns
from wiregen.drawing.diagram_marks import Marks, Setting
from wiregen.drawing.placing import Page, PlacedLine, cable_lines
from wiregen.drawing.symbols import get
from wiregen.terms import Pin

RIGHTMOST = 408.0  # where texts of cables on the right end at the latest
FAR_STRIP = 9.0  # from the edge of another place to the middle of its strip's terminals


class CableRuns:
    """Places and cables on one page."""

    def __init__(self, canvas: Canvas, page: Page, setting: Setting, marks: Marks) -> None:
        self._canvas, self._page, self._set, self._marks = canvas, page, setting, marks
        self._circuit = setting.circuit

    def cabinet(self, top: float, bottom: float) -> None:
        far_left = any(b.lines and any(p.place for p in b.lines) for b in self._page.left)
        far_right = any(any(p.place for p in b.lines) for b in self._page.right)
        x0 = LEFT.x(LEFT.boundary if far_left else LEFT.far_end)
        x1 = RIGHT.x(RIGHT.boundary if far_right else RIGHT.far_end)
        box = Box(x0, top - 12.0, x1, bottom + 3.0)
        self._canvas.place(box)
        place = self._page.device.place
        self._canvas.text(x0 + 3.0, top - 6.6, self._place_title(place), TEXT, strong=True)

    def _place_title(self, place: str) -> str:
        name = self._set.places.get(place, "")
        return f"{place}  {name}".strip()

    def places(self, columns: Columns, lines: list[PlacedLine], top: float) -> None:
        for place, group in itertools.groupby((p for p in lines if p.place is not None), key=lambda p: p.place):
            assert place is not None
            members = list(group)
            y0 = members[0].y - members[0].line.above - 8.0
            y1 = members[-1].y + max(members[-1].line.below, 6.0)
            inner, outer = columns.x(columns.far_boundary), columns.x(columns.far_end)
            box = Box(min(inner, outer), y0, max(inner, outer), y1)
            self._canvas.place(box)
            self._canvas.text(box.x0 + 3.0, y0 + 5.0, self._place_title(place), TEXT, strong=True)

    def cables(self, columns: Columns, lines: list[PlacedLine]) -> None:
        for name, group in itertools.groupby((p for p in lines if p.cable is not None), key=lambda p: p.cable):
            assert name is not None
            members = list(group)
            cable = self._circuit.cables[name]
            x, y0, y1 = columns.x(columns.cable), members[0].y, members[-1].y
            kind = "screen" if cable.screened else "cable"
            symbol = get(kind, self._set.practice, height=y1 - y0)
            self._canvas.symbol(symbol, x, y0)
            self._canvas.note(symbol, x, y0, "name", name, TEXT, strong=True)
            if cable.screened:
                self._screen(x, y0 + symbol.pins["screen"][1], name)
            edge = columns.x(columns.far_boundary + 1.0)
            words = cable_lines(cable)
            for i, text in enumerate(words):
                y = y1 + max(members[-1].line.below, 6.0) + 3.8 + 4.0 * i
                over = max(edge + fonts.text_width(text, LEAST) - RIGHTMOST, 0.0) if columns.outwards > 0 else 0.0
                self._canvas.text(edge - over, y, text, LEAST, "end" if columns.outwards < 0 else "start")

    def strip_name(self, columns: Columns, lines: list[PlacedLine]) -> None:
        """The strip's name over its topmost terminal on this side, and again after a wide gap."""
        last: float | None = None
        for placed in lines:
            way, spare = placed.line.way, placed.line.spare
            pin = way.terminals[0] if way and way.terminals else spare.a if spare else None
            if pin is None or self._circuit.strips[pin.device] != self._page.device.place:
                continue
            if last is None or placed.y - last > 60.0:
                self._canvas.text(columns.x(columns.strip), placed.y - 4.4, pin.device, TEXT, "middle", strong=True)
            last = placed.y
        onward = ((p, p.line.way.terminals[-1].device) for p in lines if p.line.outer == "onward" and p.line.way)
        for _, group in itertools.groupby(onward, key=lambda entry: (entry[0].place, entry[1])):
            first, name = next(group)
            centre = columns.x(columns.far_boundary + FAR_STRIP)
            self._canvas.text(centre, first.y - 4.4, name, TEXT, "middle", strong=True)

    def _screen(self, x: float, y: float, cable: str) -> None:
        pin = Pin(cable, "screen")
        potential = self._circuit.potential(pin)
        self._canvas.pin(x, y, str(pin))
        self._marks.drawn.add(pin)
        self._canvas.text(x + 1.5, y - 1.2, "screen", LEAST, "start", centred=True)
        if potential is not None:
            self._canvas.wire([(x, y), (x, y + 2.5)])
            self._canvas.tag(x, y + 2.5, potential.name, "down", size=NOTE)
