"""Draws one row of a circuit of contacts: tag, contacts and joints from the left, the load or a tag at the right."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from wiregen.control.functions import ContactTree, Device, Leg, Load, Parallel, Series
from wiregen.drawing import fonts
from wiregen.drawing.box import Box
from wiregen.drawing.canvas import LEAST, NOTE, TEXT
from wiregen.drawing.device_symbols import draw_lines_up, draw_symbol
from wiregen.drawing.paragraphs import one_line, paragraph
from wiregen.drawing.plate import Plate
from wiregen.drawing.relay_layout import (
    BUS,
    COIL,
    JOINT,
    RIGHT,
    STOP,
    Row,
    RowMaker,
    Stop,
    height,
    left_room,
    load_width,
)
from wiregen.drawing.symbols import get
from wiregen.drawing.tags import Heading, draw_tag, led_to
from wiregen.drawing.units import Unit, UnitMaker
from wiregen.terms import Pin

LINE = 3.6
MOST_LINES = 3  # beside a contact
UNDER = 44.0  # width of the text under a coil
NUMBER_ROOM = JOINT - 0.8  # beside a tag


@dataclass(frozen=True, slots=True)
class Room:
    """Where rows begin and end, and the widths of texts at the tags there, mm."""

    start: float
    end: float
    left: float
    right: float


class RelayRowDrawer:
    """Draws the rows of one sheet. ``cabinet`` is the place whose outline is not drawn."""

    def __init__(
        self,
        plate: Plate,
        units: UnitMaker,
        maker: RowMaker,
        cabinet: str,
        devices: Mapping[str, Device],
        room: Room,
    ) -> None:
        self._plate, self._canvas, self._circuit = plate, plate.canvas, plate.circuit
        self._units, self._maker, self._cabinet, self._devices, self._room = units, maker, cabinet, devices, room

    def row(self, row: Row, y: float) -> None:
        x = self._room.start
        self._tag(x, y, row.feed, "left", self._maker.joint_pins(row, 0))
        x = self._outer_joint(x, y, row.feed_stop, row.feed)
        load_at = self._room.end - (load_width(row.load, row.stops) if row.load else 0.0)
        for i, part in enumerate(row.parts):
            last = i == len(row.parts) - 1
            width = self._maker.part_width(part, row)
            self._part(part, x, x + width, y, row)
            x += width
            if not last or row.load is not None:
                x = self._joint(x, y, self._maker.joint_pins(row, i + 1), row)
        if row.load is not None:
            self._line(row.load.a, x, load_at, y)
            self._load(row.load, load_at, y, row)
        else:
            pins = self._maker.joint_pins(row, len(row.parts))
            x = self._outer_joint(x, y, row.end_stop, min(pins))
            self._tag(x, y, min(pins), "right", pins)

    # Joints

    def _outer_joint(self, x: float, y: float, stop: Stop | None, pin: Pin) -> float:
        end = x + JOINT
        self._line(pin, x, end, y)
        self._plate.number(x + JOINT / 2, y, pin, room=NUMBER_ROOM)
        if stop is None:
            return end
        self._stop(stop, end, end + STOP, y, pin_right=stop.core_first)
        return end + STOP

    def _joint(self, x: float, y: float, pins: set[Pin], row: Row) -> float:
        """A piece of wire with the number of its potential, and a tag where the potential goes on elsewhere."""
        name, pin = self._maker.tag_name(pins, row), min(pins)
        self._plate.number(x + JOINT / 2, y, pin, room=NUMBER_ROOM)
        end = x + JOINT
        if name:
            self._plate.wires.tag(end, y, pin, "down")
            self._canvas.text(end + 2.3, y + 2.3, name, NOTE, centred=True)
            end += fonts.text_width(name, NOTE) + 5.0
        self._line(pin, x, end, y)
        return end

    def _tag(self, x: float, y: float, pin: Pin, heading: Heading, pins: set[Pin]) -> None:
        """A tag of a pin's potential, and under it what is wired there."""
        width = self._room.left if heading == "left" else self._room.right
        draw_tag(self._plate, x, y, pin, heading, width, lambda: self._wired_to(pins))

    def _wired_to(self, pins: set[Pin]) -> str:
        """What the pins of a joint are wired to beside one another."""
        found = dict.fromkeys(p for pin in sorted(pins) for p in self._circuit.neighbours(pin) if p not in pins)
        return led_to(list(found), self._plate.setting.references.of_pin) if found else ""

    def _line(self, pin: Pin, x0: float, x1: float, y: float) -> None:
        if x1 - x0 > 0.01:
            self._plate.wires.add(pin, (x0, y), (x1, y))

    # Parts

    def _part(self, tree: ContactTree, x0: float, x1: float, y: float, row: Row) -> None:
        if isinstance(tree, Leg):
            self._contact(tree, x0, x1, y, row)
        elif isinstance(tree, Series):
            self._series(tree, x0, x1, y, row)
        else:
            self._parallel(tree, x0, x1, y, row)

    def _series(self, tree: Series, x0: float, x1: float, y: float, row: Row) -> None:
        for i, part in enumerate(tree.parts):
            if i == len(tree.parts) - 1:
                self._part(part, x0, x1, y, row)
                return
            width = self._maker.part_width(part, row)
            self._part(part, x0, x0 + width, y, row)
            x0 = self._joint(x0 + width, y, self._maker.series_pins(tree, i), row)

    def _parallel(self, tree: Parallel, x0: float, x1: float, y: float, row: Row) -> None:
        """Contacts one under the other, joined by a line on either side."""
        left, right = x0 + BUS, x1 - BUS
        ys = list(_tops(tree, y))
        first, last = self._maker.ends(tree)
        for pin, side, edge in ((first, left, x0), (last, right, x1)):
            self._line(pin, min(edge, side), max(edge, side), y)
            self._plate.wires.add(pin, (side, ys[0]), (side, ys[-1]))
        for part, at in zip(tree.parts, ys, strict=True):
            self._line(first, left, left + BUS, at)
            self._part(part, left + BUS, right - BUS, at, row)
            self._line(last, right - BUS, right, at)

    def _contact(self, leg: Leg, x0: float, x1: float, y: float, row: Row) -> None:
        """A contact with strip terminals and cores on its way, and the edge of its place around it."""
        before, after = row.stops.get(leg.a), row.stops.get(leg.b)
        left = x0 + (STOP if before else 0.0)
        at = left + left_room(leg.contact.device)
        if before:
            self._stop(before, x0, left, y, pin_right=True)
        self._line(leg.a, left, at - 5.0, y)
        right = at + RIGHT
        self._line(leg.b, at + 5.0, right, y)
        if after:
            self._stop(after, right, right + STOP, y, pin_right=False)
            right += STOP
        self._line(leg.b, right, x1, y)
        unit = self._units.contact(leg, False)
        draw_symbol(self._plate, unit, at, y)
        spot = unit.symbol.slots["name"]
        self._canvas.text(at + spot.x, y + spot.y, unit.device, TEXT, spot.anchor, strong=True)
        self._beside(unit, at, y)
        self._place(
            leg.contact.device, Box(left + 1.0, y - 13.0, at + RIGHT - 1.0, y + max(6.4, unit.symbol.box.y1 + 1.2))
        )

    def _beside(self, unit: Unit, x: float, y: float) -> None:
        """The notes of a contact over its wire, and where its coil is."""
        references, spot = self._plate.setting.references, unit.symbol.slots["note"]
        wide = RIGHT - 2.0 - spot.x
        others = references.others(unit)[:1]
        notes = paragraph(unit.notes, wide, 1, limit=MOST_LINES - len(others))
        bottom = y + spot.y
        for marks in others:
            says = references.quoting(unit, marks)
            references.note(self._canvas, x + spot.x, bottom, says, wide, spot.anchor)
            bottom -= LINE
        draw_lines_up(self._plate, notes, x + spot.x, bottom)

    def _place(self, device: str, box: Box) -> None:
        place = self._devices[device].place
        if place != self._cabinet:
            self._canvas.place(box)
            self._canvas.text(box.x0 + 1.2, box.y0 + 3.0, place, LEAST)

    def _stop(self, stop: Stop, x0: float, x1: float, y: float, pin_right: bool) -> None:
        """A strip terminal and a core between ``x0`` and ``x1``; the pin that they lead to is at the right or left."""
        strip_left = stop.core_first == pin_right
        centre = x0 + 7.5 if strip_left else x1 - 7.5
        self._line(stop.terminal, x0, centre - 5.0, y)
        self._line(stop.terminal, centre + 5.0, x1, y)
        self._canvas.symbol(get("terminal", self._plate.setting.practice), centre, y)
        for side in (-5.0, 5.0):
            self._plate.pin(centre + side, y, stop.terminal)
        self._canvas.text(centre, y, *one_line(stop.terminal.name, 8.4), "middle", centred=True)
        self._canvas.text(centre, y - 4.2, stop.terminal.device, LEAST, "middle")
        core = x1 - 8.0 if strip_left else x0 + 8.0
        self._canvas.text(core, y - 1.0, *one_line(stop.core, 14.0, LEAST), "middle")

    # Loads

    def _load(self, load: Load, x0: float, y: float, row: Row) -> None:
        """The load, then the tag of its 0 V; its protective conductor goes down to a tag."""
        before, after = row.stops.get(load.a), row.stops.get(load.b)
        left = x0 + (STOP if before else 0.0)
        if before:
            self._stop(before, x0, left, y, pin_right=True)
        at = left + COIL
        unit = self._units.load(load, True)
        draw_symbol(self._plate, unit, at, y)
        self._canvas.text(at, y + unit.symbol.box.y0 - 1.2, unit.device, TEXT, "middle", strong=True)
        lower = self._under(unit, at, y)
        self._line(load.a, left, at + unit.symbol.pins["a"][0], y)
        right = left + 2 * COIL
        self._line(load.b, at + unit.symbol.pins["b"][0], right, y)
        if after:
            self._stop(after, right, right + STOP, y, pin_right=False)
            self._line(load.b, right + STOP, right + STOP + JOINT, y)
            right += STOP + JOINT
        self._plate.number(right - JOINT / 2, y, load.b, room=NUMBER_ROOM)
        shown = {load.b, after.terminal} if after else {load.b}
        self._tag(right, y, load.b, "right", shown)
        lower = max(self._earth(load, unit, at, y), lower)
        self._place(load.device, Box(left + 1.0, y - 13.0, left + 2 * COIL - 1.0, y + max(6.4, lower)))

    def _under(self, unit: Unit, x: float, y: float) -> float:
        """Where the relay's contacts are, under its coil; gives how far the text reaches below the wire, mm."""
        references = self._plate.setting.references
        below = unit.symbol.box.y1 + (2.0 if unit.earth_pin is None else 5.0)
        for marks in references.others(unit):
            below += LINE
            references.note(self._canvas, x, y + below, references.quoting(unit, marks), UNDER, "middle")
        return below + 1.6 if references.others(unit) else 0.0

    def _earth(self, load: Load, unit: Unit, x: float, y: float) -> float:
        """The protective conductor, down to a tag; gives how far the symbol reaches below its wire, mm."""
        potential = self._circuit.potential(load.earth) if load.earth is not None else None
        if potential is None or load.earth is None:
            return 0.0
        dx, dy = unit.symbol.pins["pe"]
        self._plate.wires.add(load.earth, (x + dx, y + dy), (x + dx, y + dy + 6.0))
        self._plate.wires.tag(x + dx, y + dy + 6.0, load.earth, "down")
        self._canvas.text(x + dx + 2.3, y + dy + 8.3, potential.name, NOTE, centred=True)
        return dy + 4.0


def _tops(tree: Parallel, y: float) -> Iterator[float]:
    for part in tree.parts:
        yield y
        y += height(part)
