"""Draws one row after the other: from the controller's terminal, or a tag, over strip terminals to the device."""

from __future__ import annotations

from collections.abc import Mapping

from wiregen.drawing import fonts
from wiregen.drawing.canvas import LEAST
from wiregen.drawing.columns import BOX_TAG, LABEL, TERMINAL, THROUGH, TRACK, Columns, unit_start
from wiregen.drawing.devices import DeviceDrawer
from wiregen.drawing.heights import PlacedRow, Stack
from wiregen.drawing.paragraphs import one_line
from wiregen.drawing.plate import Plate
from wiregen.drawing.rooms import Rooms
from wiregen.drawing.rows import Leg, See
from wiregen.drawing.symbols import get
from wiregen.drawing.tags import Heading, draw_tag, leads_to
from wiregen.drawing.wording import in_place_of_terminal
from wiregen.drawing.zones import Span
from wiregen.terms import Pin

BARE_NUMBER = 6.6  # from a device's pin to the number of the wire to its tag, mm
LOOSE_CORE = 15.0  # for the mark of a core that is in another cable than the others of its device
BOX_CLEAR = 5.0  # from the pin of a box to the number of its wire
FAR_APART = 16.0  # between two numbers of one wire
SPARE = 6.0  # how far a spare core reaches into the far place


class RunDrawer:
    """Draws the rows of one side of a page. ``rails`` gives the rail of each block that hangs on one."""

    def __init__(self, plate: Plate, columns: Columns, rooms: Rooms, stack: Stack, rails: Mapping[int, float]) -> None:
        self._plate, self._columns, self._rails = plate, columns, rails
        self._devices = DeviceDrawer(plate, columns, rooms, stack)
        self._inwards: Heading = "right" if columns.outwards < 0 else "left"
        self._outwards: Heading = "left" if columns.outwards < 0 else "right"

    def draw(self, placed: PlacedRow) -> None:
        kind = placed.row.kind
        if kind == "unit":
            self._units(placed)
        elif kind == "lead":
            self._lead(placed)
        elif kind == "earth":
            self._earth(placed)
        elif kind == "feed":
            self._feed(placed)
        elif kind == "landing":
            self._landing(placed)
        elif kind == "spare":
            self._spare(placed)
        elif kind == "screen":
            self._screen(placed)

    # Kinds of rows

    def _units(self, placed: PlacedRow) -> None:
        """Grids one after the other, and beyond the last a rail or a tag."""
        legs = placed.block.legs
        near = [unit_start(self._columns, placed.block, leg) + leg.piece.grid.near_at for leg in legs]
        self._from_controller(placed, near[0], legs[0].piece.grid.near)
        self._second_number(placed, near[0] - self._devices.inner_text(legs[0]))
        for i, leg in enumerate(legs):
            self._devices.grid(placed, leg)
            far = leg.piece.grid.far
            end = unit_start(self._columns, placed.block, leg) + leg.piece.grid.far_at
            if far is None:
                continue
            if i + 1 < len(legs):
                self._span(legs[i + 1].span, end, near[i + 1], placed.y, far)
                self._core_marks(placed, legs[i + 1].span, legs[i + 1].zone, far)
            else:
                self._far_end(placed, leg, end, far)

    def _far_end(self, placed: PlacedRow, leg: Leg, start: float, pin: Pin) -> None:
        y, number = placed.y, self._devices.outer_number(placed.block, leg)
        rail = self._rails.get(id(placed.block))
        if self._plate.circuit.potential(pin) is None:
            return
        end = rail if rail is not None else number + 4.2 + self._columns.number / 2
        self._wire(pin, start, end, y)
        self._plate.number(self._columns.x(number), y, pin)
        if rail is None:
            self._tag(end, y, pin, self._outwards, leg.piece.grid.pins)

    def _lead(self, placed: PlacedRow) -> None:
        at = self._devices.box(placed)
        assert placed.row.pin is not None
        self._from_controller(placed, at, placed.row.pin, lines=1)
        above = placed.block.rows[placed.index - 1] if placed.index else None
        if above is None or above.port is not None or above.span.stops:  # else the text of its tag stands there
            self._second_number(placed, at - BOX_CLEAR)

    def _earth(self, placed: PlacedRow) -> None:
        """From the protective terminal under a load down to its own row, and there to its core or a tag."""
        pin = placed.row.pin
        assert pin is not None
        at, y = self._devices.earth(placed)
        self._plate.wires.add(pin, (self._columns.x(at), y), (self._columns.x(at), placed.y))
        if placed.row.port is not None or placed.row.span.stops:
            self._from_controller(placed, at, pin)
            return
        self._wire(pin, at, at + BOX_TAG + self._columns.number, placed.y)
        self._tag(at + BOX_TAG + self._columns.number, placed.y, pin, self._outwards, ())

    def _feed(self, placed: PlacedRow) -> None:
        """A feeding core goes to its rail, or to a tag where none of its devices stands on this page."""
        row, y = placed.row, placed.y
        assert row.pin is not None
        rail = self._rails.get(id(placed.block))
        zone = self._columns.zones[-1]
        if rail is not None and row.span.stops:
            self._from_controller(placed, rail, row.pin)
        elif rail is not None:
            self._wire(row.pin, rail - self._columns.tag_wire + 2.0, rail, y)
            self._tag(rail - self._columns.tag_wire + 2.0, y, row.pin, self._inwards, ())
        else:
            end = zone.start + self._columns.tag_wire + 4.0
            self._from_controller(placed, end, row.pin)
            self._tag(end, y, row.pin, self._outwards, ())

    def _landing(self, placed: PlacedRow) -> None:
        """A core that ends on the strip of another place, with a tag of what lies beyond."""
        row, y = placed.row, placed.y
        stop = row.span.stops[-1]
        at = self._columns.stop(stop)
        self._from_controller(placed, at - TERMINAL, stop.pin)
        self._strip_terminal(stop.pin, at, y)
        end = at + TERMINAL + self._columns.tag_wire
        self._wire(stop.pin, at + TERMINAL, end, y)
        before = row.span.stops[-2].pin if len(row.span.stops) > 1 else row.port
        shown = (before,) if before is not None else ()
        self._tag(end, y, stop.pin, self._outwards, shown, 4, self._columns.strip_tag(stop), row.see)

    def _spare(self, placed: PlacedRow) -> None:
        (stop,), y, columns = placed.row.span.stops, placed.y, self._columns
        at, gap = columns.stop(stop), placed.row.gap
        self._strip_terminal(stop.pin, at, y)
        outwards = stop.edge == "out"
        start = at + (TERMINAL + 0.8) * (1 if outwards else -1)
        end = columns.zones[gap + 1].inner + SPARE if outwards else columns.zones[gap].outer - SPARE
        self._plate.canvas.spare([(columns.x(start), y), (columns.x(end), y)])
        self._core_mark(placed.row.span.cores[0][1].core or "", gap, y)
        text = end + (1.5 if outwards else -1.5)
        self._plate.canvas.text(columns.x(text), y, "spare", LEAST, columns.anchor(outwards), centred=True)

    def _screen(self, placed: PlacedRow) -> None:
        """The strip terminal on which a screen lands; the wire to the ring of its cable, which has been drawn."""
        row, y = placed.row, placed.y
        assert row.pin is not None
        (stop,) = row.span.stops
        at, side = self._columns.stop(stop), 1 if stop.edge == "out" else -1
        self._strip_terminal(stop.pin, at, y)
        self._wire(row.pin, at + side * TERMINAL, self._columns.ring(row.gap), y)
        end = at - side * (TERMINAL + self._columns.tag_wire)
        self._wire(row.pin, at - side * TERMINAL, end, y)
        heading = self._inwards if side > 0 else self._outwards
        self._tag(end, y, stop.pin, heading, (row.pin,), 4, self._columns.strip_tag(stop))

    # From the controller outwards

    def _from_controller(self, placed: PlacedRow, end: float, pin: Pin, lines: int = 4) -> None:
        """The wire to ``end``: from the terminal, from a tag at the strip, or from a tag right there.

        A row that lands on a strip ends there; its last strip terminal is drawn by the caller.
        """
        row, y, columns = placed.row, placed.y, self._columns
        landing = row.kind == "landing"
        stops = row.span.stops[:-1] if landing else row.span.stops
        start = 0.0
        if row.port is not None and placed.port_y is not None:
            start = self._through(placed, self._to_track(placed))
            self._plate.number(columns.x(columns.first), placed.port_y, row.port)
        elif stops:
            start = columns.stop(stops[0]) - TERMINAL - columns.tag_wire
            width = columns.strip_tag(stops[0])
            self._tag(start, y, stops[0].pin, self._inwards, (pin,), lines, width)
            self._caption(placed)
        else:
            self._bare(placed, end, pin, lines)
            return
        self._span(Span(stops, row.span.cores), start, end, y, pin)
        self._core_marks(placed, row.span, None if landing else placed.block.zone, pin)

    def _second_number(self, placed: PlacedRow, end: float) -> None:
        """The conductor's number at the far end of a plain wire too, before ``end``, unless it is near the first."""
        row, columns, half = placed.row, self._columns, self._plate.circuit.number_room / 2
        if row.port is None or row.span.stops or row.span.cores or row.through:
            return
        bent, at = placed.track is not None, end - half - 0.6
        if at - half >= (columns.near + columns.channel if bent else columns.first + FAR_APART):
            self._plate.number(columns.x(at), placed.y, row.port)

    def _through(self, placed: PlacedRow, start: float) -> float:
        """Other receivers of the same current, and the wires between them; gives the distance behind them."""
        row, columns = placed.row, self._columns
        at, before = start, row.port
        for i, unit in enumerate(row.through):
            middle = columns.zones[0].start + THROUGH * (i + 0.5)
            near, far = self._devices.through(unit, middle, placed.y)
            assert before is not None  # only a row from a terminal leads through receivers
            self._wire(before, at, near, placed.y)
            at, before = far, unit.pin("in")
        if row.through and before is not None:
            self._plate.number(columns.x(at + 5.0), placed.y, before)
        return at

    def _bare(self, placed: PlacedRow, end: float, pin: Pin, lines: int) -> None:
        """Neither terminal nor strip: a tag at the device itself."""
        if self._plate.circuit.potential(pin) is not None:
            noted = any(unit.notes for leg in placed.block.legs for unit in leg.piece.units)
            alone = any(leg.piece.grid.alone for leg in placed.block.legs)
            half = self._columns.number / 2
            start = end - (self._columns.words.note if alone else BOX_TAG + self._columns.number)
            self._wire(pin, start, end, placed.y)
            self._plate.number(
                self._columns.x(start + 4.0 + half if noted else end - BARE_NUMBER - half), placed.y, pin
            )
            self._tag(start, placed.y, pin, self._inwards, (), lines)
        self._caption(placed)

    def _to_track(self, placed: PlacedRow) -> float:
        """From the terminal to where the row's own height is reached; gives the distance there."""
        row, columns = placed.row, self._columns
        assert row.port is not None and placed.port_y is not None
        if placed.track is None:
            return 0.0
        at = columns.near + TRACK * (placed.track + 0.5)
        x = columns.x(at)
        self._plate.wires.add(row.port, (columns.edge, placed.port_y), (x, placed.port_y), (x, placed.y))
        return at

    def _span(self, span: Span, start: float, end: float, y: float, pin: Pin) -> None:
        for stop in span.stops:
            at = self._columns.stop(stop)
            self._wire(pin, start, at - TERMINAL, y)
            self._strip_terminal(stop.pin, at, y, stop.edge != "mid" and stop.step == 0)
            start = at + TERMINAL
        self._wire(pin, start, end, y)

    def _strip_terminal(self, terminal: Pin, at: float, y: float, numbered: bool = True) -> None:
        """A strip terminal; of several in a row only the outermost has conductors' numbers beside it."""
        plate, x = self._plate, self._columns.x(at)
        plate.canvas.symbol(get("terminal", plate.setting.practice), x, y)
        size = one_line(terminal.name, 2 * TERMINAL - 1.6)
        plate.canvas.text(x, y, *size, "middle", centred=True)
        for side in (-1, 1):
            plate.pin(x + side * TERMINAL, y, terminal)
            if numbered:
                plate.number(x + side * self._columns.strip_number, y, terminal)

    def _core_marks(self, placed: PlacedRow, span: Span, zone: int | None, pin: Pin) -> None:
        """The mark of each core in its gap, and the conductor's number where the last one ends."""
        y, mixed = placed.y, placed.block.mixed_gaps()
        for gap, core in span.cores:
            if gap not in mixed:
                self._core_mark(core.core or "", gap, y)
            else:
                at = self._columns.zones[gap + 1].inner - 8.4
                text = one_line(f"{core.cable} {core.core}", LOOSE_CORE)
                self._plate.canvas.text(self._columns.x(at), y - 1.0, *text, "middle")
            entered = span.stops and span.stops[-1].edge == "in"
            if zone is not None and gap == zone - 1 and not entered:
                self._plate.number(self._columns.x(self._columns.zones[zone].inner + self._columns.far_number), y, pin)

    def _core_mark(self, mark: str, gap: int, y: float) -> None:
        at = self._columns.zones[gap + 1].inner - 5.2
        text, size = one_line(mark, 9.4)
        self._plate.canvas.text(self._columns.x(at), y - 1.0, text, size, "middle")

    # Small parts

    def _wire(self, pin: Pin, start: float, end: float, y: float) -> None:
        self._plate.wires.add(pin, (self._columns.x(start), y), (self._columns.x(end), y))

    def _tag(
        self,
        at: float,
        y: float,
        pin: Pin,
        heading: Heading,
        shown: tuple[Pin, ...],
        lines: int = 4,
        width: float | None = None,
        see: See | None = None,
    ) -> None:
        says = leads_to(self._plate, pin, shown, see)
        draw_tag(self._plate, self._columns.x(at), y, pin, heading, width or self._columns.words.tag, says, lines)

    def _caption(self, placed: PlacedRow) -> None:
        """The function that found no terminal, inside the outline where its terminal would stand."""
        caption = placed.block.caption
        if not caption or placed.row is not placed.block.main:
            return
        columns = self._columns
        text = in_place_of_terminal(caption, columns.words.inside[columns.outwards > 0] + LABEL)
        y = placed.y - text.height / 2 + fonts.cap_height(text.size)
        x, anchor = columns.x(-2.4), columns.anchor(outwards=False)
        for i, line in enumerate(text.lines):
            self._plate.canvas.text(x, y + text.step * i, line, text.size, anchor, strong=True)
