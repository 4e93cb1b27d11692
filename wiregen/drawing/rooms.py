"""How much room rows need above and below their wire, mm, for symbols, texts and tags."""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.drawing import fonts
from wiregen.drawing.branches import Box
from wiregen.drawing.canvas import TEXT
from wiregen.drawing.circuit import Circuit
from wiregen.drawing.columns import HALF, LABEL, Columns
from wiregen.drawing.grids import CELL, Grid
from wiregen.drawing.references import References
from wiregen.drawing.rows import Block, Port, Row
from wiregen.drawing.symbols import Spot
from wiregen.drawing.tags import tag_depth
from wiregen.drawing.units import Unit
from wiregen.drawing.wording import UnitText, above_unit, at_port, beside_box, beside_unit, in_place_of_terminal
from wiregen.drawing.zones import Stop, Zones
from wiregen.terms import Pin

LIFT = 1.6  # from a wire to the baseline of a text over it
MARK_DROP = 4.4  # from a wire to below the marks of pins under it
WIRE_ABOVE, WIRE_BELOW = 4.6, 1.9  # a plain wire with numbers over it
FREE = 2.5  # a terminal that nothing is wired to, above and below
LANDING = 7.2  # over a row that ends on a strip, whose name stands above it
UP_TAG = 6.2  # a tag that points up from a wire
CELL_TEXT = CELL - 2.0


@dataclass(frozen=True, slots=True)
class Room:
    above: float
    below: float

    def joined(self, other: Room) -> Room:
        return Room(max(self.above, other.above), max(self.below, other.below))


WIRE = Room(WIRE_ABOVE, WIRE_BELOW)
LOOSE, DENSE = 1.0, 0.4  # how much of the usual clearance between rows is kept


class Rooms:
    """Measures the rows of one side of a diagram with the widths that it has for texts."""

    def __init__(
        self, circuit: Circuit, references: References, columns: Columns, zones: Zones, clear: float = LOOSE
    ) -> None:
        self._clear, self._free = clear, FREE - 0.35 * (LOOSE - clear)
        self._circuit, self._references, self._columns, self._zones = circuit, references, columns, zones
        self._words, self._mirrored = columns.words, columns.outwards > 0
        self._blocks: dict[int, tuple[Block, list[Room]]] = {}
        self._ports: dict[tuple[Pin, bool], Room] = {}

    def port(self, port: Port, wired: bool) -> Room:
        """A terminal; ``wired`` to a row, else with a tag if it has a potential."""
        found = self._ports.get((port.pin, wired))
        if found is None:
            found = self._ports[port.pin, wired] = self._port(port, wired)
        return found

    def _port(self, port: Port, wired: bool) -> Room:
        function, setting = at_port(port, self._words.inside[self._mirrored])
        up = function.height / 2
        down = up + (setting.height + 1.4 if setting.lines else 0.0)
        room = Room(max(self._free, up + self._clear), max(self._free, down + self._clear))
        if wired or self._circuit.potential(port.pin) is None:
            return room
        return room.joined(self.tag(port.pin, self._columns.port_tag))

    def tag(self, pin: Pin | None, width: float | None = None) -> Room:
        """A tag at the end of a wire: the potential's name, and below it where the wire leads."""
        if pin is None or self._circuit.potential(pin) is None:
            return Room(self._free, self._free)
        return Room(WIRE_ABOVE, tag_depth(self._circuit, pin, width or self._words.tag) + self._clear)

    def block(self, block: Block) -> list[Room]:
        """The rooms of a block's rows. Between two rows of a block lies the sum of the room of both."""
        found = self._blocks.get(id(block))
        if found is None:
            found = self._blocks[id(block)] = (
                block,
                self._captioned(block, self._block(block)),
            )  # the block is kept, so is its id
        return list(found[1])

    def _captioned(self, block: Block, rooms: list[Room]) -> list[Room]:
        """The rooms with what stands inside the outline where a function found no terminal."""
        if not block.caption:
            return rooms
        width = self._words.inside[self._mirrored] + LABEL
        half = in_place_of_terminal(block.caption, width).height / 2 + self._clear
        at = next(i for i, row in enumerate(block.rows) if row is block.main)
        rooms[at] = rooms[at].joined(Room(half, half))
        return rooms

    def _block(self, block: Block) -> list[Room]:
        if block.box is not None:
            return self._box(block, block.box)
        rooms = [self._row(block, row) for row in block.rows]
        for leg in block.legs:
            for i, room in enumerate(self.grid(leg.piece.grid)):
                rooms[i] = rooms[i].joined(room)
        return rooms

    def _row(self, block: Block, row: Row) -> Room:
        room = WIRE
        if row.kind == "feed" or self._goes_on(row):
            room = Room(UP_TAG, WIRE_BELOW)
        if row.kind in ("spare", "screen"):
            room = Room(4.0, 3.2)
        if row.kind == "screen":
            room = Room(7.0, 3.4).joined(self._at_stop(row.span.stops[0]))
        if row.kind == "landing":
            room = Room(LANDING, room.below).joined(self._at_stop(row.span.stops[-1]))
        if row.port is None and row.span.stops and row.kind != "spare":
            room = room.joined(self._at_stop(row.span.stops[0]))
        elif row.port is None and row.kind in ("unit", "earth", "feed"):
            room = room.joined(self.tag(row.pin))
        far = block.legs[-1].piece.grid.far if block.legs else None
        if row.alone:
            room = room.joined(self.tag(row.pin))
        if row.kind == "unit" and not self._zones.on_rail(block.zone, far):
            room = room.joined(self.tag(far))
        return room

    def grid(self, grid: Grid) -> list[Room]:
        """The rooms of the rows of a grid."""
        if grid.alone is not None:
            return [self.unit(grid.alone)]
        rooms = [WIRE] * grid.rows
        for cell in grid.cells:
            box = cell.unit.symbol.box
            text = above_unit(cell.unit, CELL_TEXT, self._references)
            rooms[cell.row] = rooms[cell.row].joined(
                Room(-box.y0 + 1.2 + stacked_height(text) + self._clear, max(box.y1, MARK_DROP) + self._clear / 2)
            )
        return rooms

    def unit(self, unit: Unit) -> Room:
        box = unit.symbol.box
        text = self.unit_text(unit)
        name = fonts.cap_height(text.name_size) - sides_of(unit, self._mirrored)[0].y if text.name else 0.0
        above = max(-box.y0, LIFT + text.height, name) + self._clear
        below = max(box.y1, MARK_DROP) + self._clear / 2
        return Room(max(above, WIRE_ABOVE), below + (1.2 if unit.earth_pin else 0.0))

    def unit_text(self, unit: Unit) -> UnitText:
        return beside_unit(unit, self.note_width(unit), self._references)

    def note_width(self, unit: Unit) -> float:
        """From the notes' place at the symbol inwards."""
        return self._words.note - max(0.0, abs(sides_of(unit, self._mirrored)[1].x) - HALF)

    def _box(self, block: Block, box: Box) -> list[Room]:
        half = box.pitch / 2
        rooms = [Room(half, half)] * len(box.pins)
        ends = [self._lead(row) for row in block.rows]
        text = beside_box(box.unit, self._words.aside)
        spare = max(0.0, (stacked_height(text) - box.pitch * (len(box.pins) - 1)) / 2)
        body, pins = box.unit.symbol.box, [y for _, y in box.unit.symbol.pins.values()]
        over = max(min(pins) - body.y0, spare) + 0.4 + self._clear
        under = max(body.y1 - max(pins), spare) + 0.4 + self._clear
        rooms[0] = Room(max(over, ends[0].above), rooms[0].below)
        rooms[-1] = Room(rooms[-1].above, max(under, ends[-1].below))
        return rooms

    def _lead(self, row: Row) -> Room:
        if row.port is not None:
            return Room(UP_TAG, WIRE_BELOW) if self._goes_on(row) else WIRE
        return self._at_stop(row.span.stops[0]) if row.span.stops else self.tag(row.pin)

    def _goes_on(self, row: Row) -> bool:
        """Whether the potential of a row has pins that the row does not join, so that it needs room for a tag."""
        potential = self._circuit.potential(row.port) if row.port is not None else None
        if potential is None or row.kind == "landing":
            return False
        return not set(potential.pins) <= {row.port, row.pin, *(stop.pin for stop in row.span.stops)}

    def _at_stop(self, stop: Stop) -> Room:
        """A tag at a strip terminal."""
        return self.tag(stop.pin, self._columns.strip_tag(stop))


def sides_of(unit: Unit, mirrored: bool) -> tuple[Spot, Spot]:
    """The places for texts on the outer and on the inner side of a unit, whichever way its symbol is turned."""
    outer, inner = sorted(unit.symbol.slots.values(), key=lambda spot: -spot.x if mirrored else spot.x)
    return outer, inner


def stacked_height(text: UnitText) -> float:
    """Designation, notes and cross-references below one another."""
    height = text.height
    if text.name:
        height += fonts.cap_height(text.name_size) + (TEXT * 0.45 if height else 0.0)
    return height
