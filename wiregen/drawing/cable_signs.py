"""Cables on a diagram: the ring round their cores, their names and make-up, screens, and the names of strips."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wiregen.drawing.cable_text import cable_lines, screen_text
from wiregen.drawing.canvas import LEAST, TEXT
from wiregen.drawing.columns import Columns
from wiregen.drawing.heights import CABLE_FOOT, CABLE_LINE, PlacedRow, Stack, cables_of
from wiregen.drawing.paragraphs import one_line
from wiregen.drawing.plate import Plate
from wiregen.drawing.symbols import get

STRIP_NAME = 30.0  # after so much without a strip terminal its strip is named again


@dataclass(frozen=True, slots=True)
class _Stretch:
    """Rows below one another whose cores run in one cable over one gap."""

    gap: int
    cable: str
    rows: list[PlacedRow]

    @property
    def cores(self) -> list[PlacedRow]:
        return [row for row in self.rows if row.row.kind != "screen"]

    @property
    def screen(self) -> PlacedRow | None:
        return next((row for row in self.rows if row.row.kind == "screen"), None)


def draw_cables(plate: Plate, columns: Columns, stack: Stack) -> None:
    """The sign of every cable on one side of a page."""
    for stretch in _stretches(stack):
        _ring(plate, columns, stretch)


def _stretches(stack: Stack) -> Iterator[_Stretch]:
    last: dict[int, _Stretch] = {}
    for row in stack.rows:
        spans = cables_of(row.row, row.block)
        if row.index == 0:
            mixed = row.block.mixed_gaps()
            cores = [core for leg in row.block.legs[1:] for core in leg.span.cores]
            spans += [(gap, core.cable or "") for gap, core in cores if gap not in mixed]
        for gap, cable in spans:
            if gap in last and last[gap].cable == cable:
                last[gap].rows.append(row)
            else:
                if gap in last:
                    yield last[gap]
                last[gap] = _Stretch(gap, cable, [row])
    yield from last.values()


def _ring(plate: Plate, columns: Columns, stretch: _Stretch) -> None:
    cable = plate.circuit.cables[stretch.cable]
    if not stretch.cores:
        _screen_alone(plate, columns, stretch)
        return
    x, y0, y1 = columns.x(columns.ring(stretch.gap)), stretch.cores[0].y, stretch.cores[-1].y
    screen = stretch.screen
    kind = "screen" if cable.screened else "cable"
    options = {"landed": screen is not None} if cable.screened else {}
    symbol = get(kind, plate.setting.practice, height=round(y1 - y0, 3), **options)
    plate.canvas.symbol(symbol, x, y0)
    plate.canvas.note(symbol, x, y0, "name", cable.name, TEXT, strong=True)
    foot = y1 + CABLE_FOOT
    if screen is not None and screen.row.pin is not None:
        _screen(plate, columns, stretch.gap, screen, y0 + symbol.pins["screen"][1])
        foot = screen.y + CABLE_FOOT - 1.0
    middle = columns.x(columns.zones[stretch.gap].outer + columns.words.gap / 2)
    for i, line in enumerate(cable_lines(cable, columns.words.gap - 1.0)):
        plate.canvas.text(middle, foot + 2.0 + CABLE_LINE * i, line, LEAST, "middle")


def _screen_alone(plate: Plate, columns: Columns, stretch: _Stretch) -> None:
    """A screen none of whose cores stands on the page."""
    x, screen = columns.x(columns.ring(stretch.gap)), stretch.rows[0]
    assert screen.row.pin is not None
    plate.pin(x, screen.y, screen.row.pin)
    plate.canvas.text(x, screen.y - 2.4, stretch.cable, TEXT, "middle", strong=True)
    beside, anchor = columns.x(columns.ring(stretch.gap) + 1.6), columns.anchor(outwards=True)
    plate.canvas.text(beside, screen.y + 2.4, "screen", LEAST, anchor, centred=True)
    _far_end(plate, columns, stretch.gap, screen)


def _screen(plate: Plate, columns: Columns, gap: int, placed: PlacedRow, y: float) -> None:
    """From the screen down to the row of its strip terminal, and what becomes of it at the far end."""
    pin = placed.row.pin
    assert pin is not None
    x = columns.x(columns.ring(gap))
    plate.pin(x, y, pin)
    beside, anchor = columns.x(columns.ring(gap) + 1.6), columns.anchor(outwards=True)
    plate.canvas.text(beside, y, pin.name, LEAST, anchor, centred=True)
    plate.wires.add(pin, (x, y), (x, placed.y))
    _far_end(plate, columns, gap, placed)


def _far_end(plate: Plate, columns: Columns, gap: int, placed: PlacedRow) -> None:
    """What becomes of a screen at its other end."""
    pin = placed.row.pin
    assert pin is not None
    says = screen_text(plate.circuit.cables[pin.device])
    if placed.row.span.stops[0].edge == "out":
        far, anchor = columns.x(columns.zones[gap + 1].inner + 2.0), columns.anchor(outwards=True)
    else:
        far, anchor = columns.x(columns.zones[gap].outer - 2.0), columns.anchor(outwards=False)
    plate.canvas.text(far, placed.y, says, LEAST, anchor, centred=True)


def draw_strip_names(plate: Plate, columns: Columns, stack: Stack) -> None:
    """The name of a strip over its first terminal, and again after a gap in which nobody would look for it."""
    last: dict[tuple[int, str], tuple[str, float]] = {}
    for placed in stack.rows:
        spans = [placed.row.span, *(leg.span for leg in placed.block.legs[1:] if placed.index == 0)]
        for stop in (stop for span in spans for stop in span.stops if stop.step == 0):
            key = (stop.zone, stop.edge)
            named = last.get(key)
            new = named is None or named[0] != stop.pin.device
            if new or (named is not None and placed.y - named[1] > STRIP_NAME and placed.room.above >= 6.8):
                x, text = columns.x(columns.stop(stop)), one_line(stop.pin.device, 14.0)
                plate.canvas.text(x, placed.y - 4.2, *text, "middle", strong=True)
            last[key] = (stop.pin.device, placed.y)
