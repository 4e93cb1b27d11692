"""Where the devices of a diagram's rows stand across the sheet: grids of units, boxes, and what hangs below them."""

from __future__ import annotations

from wiregen.drawing import fonts
from wiregen.drawing.columns import THROUGH, Columns, box_start, unit_start
from wiregen.drawing.device_symbols import draw_above, draw_aside, draw_beside, draw_symbol
from wiregen.drawing.heights import PlacedRow, Stack
from wiregen.drawing.paragraphs import one_line
from wiregen.drawing.plate import Plate
from wiregen.drawing.rooms import Rooms, sides_of
from wiregen.drawing.rows import Block, Leg
from wiregen.drawing.units import Unit
from wiregen.terms import Pin


class DeviceDrawer:
    """Draws the devices of one side of a page."""

    def __init__(self, plate: Plate, columns: Columns, rooms: Rooms, stack: Stack) -> None:
        self._plate, self._columns, self._rooms = plate, columns, rooms
        self._mirrored = columns.outwards > 0
        self._heights: dict[int, dict[int, float]] = {}  # block -> index of a row -> its height
        for row in stack.rows:
            self._heights.setdefault(id(row.block), {})[row.index] = row.y

    # Units in rows

    def grid(self, placed: PlacedRow, leg: Leg) -> None:
        """The units of a grid with the wires between them."""
        grid, start, wires = leg.piece.grid, unit_start(self._columns, placed.block, leg), self._plate.wires
        ys = self._heights[id(placed.block)]
        for cell in grid.cells:
            self._unit(cell.unit, self._columns.x(start + cell.at), ys[cell.row], grid.alone is not None)
        for run in grid.runs:
            wires.add(run.pin, (self._x(start + run.start), ys[run.row]), (self._x(start + run.end), ys[run.row]))
        for join in grid.joins:
            wires.add(join.pin, (self._x(start + join.at), ys[join.top]), (self._x(start + join.at), ys[join.bottom]))

    def _unit(self, unit: Unit, x: float, y: float, alone: bool) -> None:
        draw_symbol(self._plate, unit, x, y)
        if alone:
            text, width = self._rooms.unit_text(unit), self._rooms.note_width(unit)
            draw_beside(self._plate, unit, x, y, text, width, self._mirrored)
        else:
            draw_above(self._plate, unit, x, y)

    def outer_number(self, block: Block, leg: Leg) -> float:
        """Where the number of the wire beyond a grid stands: beyond the designation over it."""
        grid, start = leg.piece.grid, unit_start(self._columns, block, leg)
        unit = grid.alone
        if unit is None:
            return start + grid.far_at + 4.0 + self._columns.number / 2
        text = self._rooms.unit_text(unit)
        width = fonts.text_width(text.name, text.name_size) if text.name else 0.0
        outer = abs(sides_of(unit, self._mirrored)[0].x) + width
        return start + max(grid.cells[0].at + outer, grid.far_at) + 4.4 + self._columns.number / 2

    def inner_text(self, leg: Leg) -> float:
        """How far the texts on the inner side of a grid reach over its wire, from its inner pin."""
        unit = leg.piece.grid.alone
        if unit is None:
            return 2.0
        text = self._rooms.unit_text(unit)
        widths = [fonts.text_width(line, text.notes.size) for line in text.notes.lines]
        if text.references:
            widths.append(self._rooms.note_width(unit))
        slot, pin = abs(sides_of(unit, self._mirrored)[1].x), abs(unit.symbol.pins[unit.near][0])
        return max([0.0, *widths]) + slot - pin + 1.0

    def earth(self, placed: PlacedRow) -> tuple[float, float]:
        """The distance and the height of the protective terminal that a row leads to."""
        pin = placed.row.pin
        for leg in placed.block.legs:
            for cell in leg.piece.grid.cells:
                if cell.unit.earth_pin == pin:
                    dx, dy = cell.unit.symbol.pins["pe"]
                    at = unit_start(self._columns, placed.block, leg) + cell.at + self._columns.outwards * dx
                    return at, self._heights[id(placed.block)][cell.row] + dy
        raise KeyError(str(pin))

    # Boxes

    def through(self, unit: Unit, middle: float, y: float) -> tuple[float, float]:
        """A box through which a current passes, named above; gives the distances of its inner and its outer pin."""
        x, references = self._columns.x(middle), self._plate.setting.references
        draw_symbol(self._plate, unit, x, y)
        text, size = one_line(unit.device, THROUGH - 6.0)
        self._plate.canvas.text(x, y + unit.symbol.box.y0 - 1.2, text, size, "middle", strong=True)
        for pin in unit.all_pins:
            references.mark("loop", str(pin), self._plate.canvas, x, y)
        half = abs(unit.symbol.pins["out"][0])
        place = str(unit.pin("in"))
        below = y + unit.symbol.box.y1 + 3.4
        references.note(self._plate.canvas, x, below, lambda: references.see("terminal", place), THROUGH, "middle")
        return middle - half, middle + half

    def box(self, placed: PlacedRow) -> float:
        """The distance of the pin that a row leads to; with its first row the box itself is drawn."""
        box = placed.block.box
        assert box is not None
        unit, columns = box.unit, self._columns
        near = max(x * -columns.outwards for x, _ in unit.symbol.pins.values())
        at = box_start(columns, placed.block) + near
        key, _ = unit.pins[placed.index]
        if placed.index == 0:
            y = placed.y - unit.symbol.pins[key][1]
            draw_symbol(self._plate, unit, columns.x(at), y)
            self._aside(unit, at, y)
            self._mark_loops(box.pins, columns.x(at), y, unit)
        return at + columns.outwards * unit.symbol.pins[key][0]

    def _aside(self, unit: Unit, at: float, y: float) -> None:
        columns, ys = self._columns, [dy for _, dy in unit.symbol.pins.values()]
        body = unit.symbol.box
        edge = columns.x(at) + (body.x0 if columns.outwards < 0 else body.x1) + columns.outwards * 2.0
        middle = y + (min(ys) + max(ys)) / 2
        draw_aside(self._plate, unit, edge, middle, columns.anchor(outwards=True), columns.words.aside)

    def _mark_loops(self, pins: tuple[Pin, ...], x: float, y: float, unit: Unit) -> None:
        """For the own sheet of another controller: here the loop of its terminals is whole."""
        if unit.kind == "stub":
            for pin in pins:
                self._plate.setting.references.mark("loop", str(pin), self._plate.canvas, x, y)

    def _x(self, distance: float) -> float:
        return self._columns.x(distance)
