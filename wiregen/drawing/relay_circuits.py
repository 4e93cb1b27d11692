"""The sheets of relay circuits: one block a coil, from the tag of its feed through contacts to the coil and its 0 V."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from wiregen.control.functions import ContactTree, Device, Function, Leg, Load, Parallel, Series
from wiregen.drawing import fonts
from wiregen.drawing.box import Box
from wiregen.drawing.branches import BranchMaker, Unit
from wiregen.drawing.canvas import LEAST, NOTE, TEXT, Canvas
from wiregen.drawing.circuit import Circuit
from wiregen.drawing.references import References
from wiregen.drawing.relay_layout import (
    BUS,
    COIL,
    JOINT,
    RIGHT,
    STOP,
    RelayCircuit,
    Row,
    RowMaker,
    Stop,
    height,
    is_plain,
    left_room,
    legs_in,
    legs_of,
    load_width,
    shared_pins,
)
from wiregen.drawing.symbols import Practice, get
from wiregen.pipeline import Design
from wiregen.terms import Pin
from wiregen.wiring.digital import ends_of

HEAD = 14.0  # above the first block of a sheet
FOOT = 4.0
TITLE_ROOM = 20.0  # from the title of a block to its first row
LINE = 3.6
MOST_LINES = 3
UNDER = 44.0  # width of the text under a coil
NUMBER_ROOM = 7.4  # beside a tag
LONGEST = 60.0  # a tag's name takes no more room at an edge than this
CLEAR = 10.0  # from the arrow of a tag to the edge of the sheet


@dataclass(frozen=True, slots=True)
class RelayPage:
    """What one sheet shows: rows, each with the block's title where it is the first of its circuit, and its height."""

    rows: tuple[tuple[RelayCircuit, Row, str, float], ...]


@dataclass(slots=True)
class Drawn:
    """What stands on a sheet: strip terminals, and every symbol with its place."""

    terminals: set[Pin] = field(default_factory=set)
    units: list[tuple[Unit, float, float]] = field(default_factory=list)
    inputs: list[tuple[str, float, float]] = field(default_factory=list)  # the ends of inputs, by id


class RelaySheets:
    """Lays out and draws the circuits of all coils of a design."""

    def __init__(self, design: Design, circuit: Circuit, area: Box) -> None:
        self._design, self._circuit, self._area = design, circuit, area
        self._devices = {d.name: d for d in design.declared.devices}
        self._branches = BranchMaker(design)
        self._practice: Practice = design.scheme.model.practice
        shared = shared_pins(design.functions)
        functions = [f for f in design.functions if _is_here(f, shared)]
        trees = [f.partner for f in functions if isinstance(f.partner, Leg | Series | Parallel)]
        starts, ends = ([p for t in trees for p in ends_of(t)[0]], [p for t in trees for p in ends_of(t)[1]])
        inner = [p for t in trees for leg in legs_in(t) for p in (leg.a, leg.b)]
        loads = [f.coil.b for f in functions if f.coil]
        # A row that is cut ends and begins with a tag of what lies between.
        most = min(LONGEST, max((self._tag_room(p) for p in inner), default=0.0))
        self._left = CLEAR + max([self._tag_room(p) for p in starts], default=0.0)
        self._right = CLEAR + max([self._tag_room(p) for p in [*ends, *loads]], default=0.0)
        self._left, self._right = max(self._left, CLEAR + most), max(self._right, CLEAR + most)
        maker = RowMaker(circuit, area.width - self._left - self._right, area.height - HEAD - FOOT - TITLE_ROOM)
        self._maker = maker
        self.circuits = tuple(c for f in functions if (c := maker.circuit_of(f)) is not None)

    def _tag_room(self, pin: Pin) -> float:
        potential = self._circuit.potential(pin)
        return fonts.text_width(potential.name, NOTE) if potential else 0.0

    def pages(self) -> list[RelayPage]:
        """As many sheets as the rows need."""
        pages: list[RelayPage] = []
        page: list[tuple[RelayCircuit, Row, str, float]] = []
        room = self._area.height - HEAD - FOOT
        used = 0.0
        for circuit in self.circuits:
            for row in circuit.rows:
                title = self._title(circuit) if row is circuit.rows[0] or not page else ""
                tall = self._height(row) + (TITLE_ROOM if title else 0.0)
                if page and used + tall > room:
                    pages.append(RelayPage(tuple(page)))
                    page, used = [], 0.0
                    title = self._title(circuit)
                    tall = self._height(row) + TITLE_ROOM
                page.append((circuit, row, title, tall))
                used += tall
        return [*pages, RelayPage(tuple(page))] if page else pages

    def _height(self, row: Row) -> float:
        contacts = max((height(part) for part in row.parts), default=0.0)
        under = 16.0 + LINE * self._lines_under(row.load) if row.load else 0.0
        return max(contacts, under)

    def _lines_under(self, load: Load) -> int:
        """How many other symbols of a relay the text under its coil names."""
        legs = [leg for f in self._design.functions for leg in legs_of(f.partner)]
        return len({leg.contact.name for leg in legs if leg.contact.device == load.device})

    def _title(self, circuit: RelayCircuit) -> str:
        function = circuit.function
        if function.coil is None:
            at = self._branches.assignment(function.ends[0].id)
            return f"{function.name} of {function.controller}" + (f" at {at.channel}" if at else ", not placed")
        device = self._devices[function.coil.device]
        words = device.profile.title + (f", {device.text}" if device.text else "")
        return f"{device.name}  {words}"

    def draw(self, canvas: Canvas, page: RelayPage, references: References) -> Drawn:
        """Draw one sheet."""
        sheet = _Sheet(self, canvas, references)
        y = self._area.y0 + HEAD
        canvas.text(self._area.x0 + 4.0, self._area.y0 + 7.0, self._remark(), NOTE)
        for circuit, row, title, tall in page.rows:
            if title:
                canvas.text(self._area.x0 + 4.0, y + 4.0, title, TEXT, strong=True)
            first = y + (TITLE_ROOM if title else 0.0)
            sheet.row(row, first)
            sheet.drawn.inputs += [(end.id, self.start, first) for end in circuit.function.ends if title]
            y += tall
        return sheet.drawn

    def _remark(self) -> str:
        place = self.cabinet
        name = self._design.scheme.model.places[place].name
        said = f"{place} ({name})" if name else place
        return f"Dash-dotted: what stands in the place named there. All else stands in {said}."

    # What a sheet being drawn asks for

    @property
    def cabinet(self) -> str:
        strips = self._design.wiring.strips
        return strips[0].place if strips else next(iter(self._design.scheme.model.places))

    @property
    def maker(self) -> RowMaker:
        return self._maker

    @property
    def circuit(self) -> Circuit:
        return self._circuit

    @property
    def practice(self) -> Practice:
        return self._practice

    @property
    def left(self) -> float:
        """Room for the tags at the left edge, mm."""
        return self._left

    @property
    def right(self) -> float:
        return self._right

    @property
    def start(self) -> float:
        return self._area.x0 + self._left

    @property
    def end(self) -> float:
        return self._area.x1 - self._right

    def device(self, name: str) -> Device:
        return self._devices[name]

    def unit_of(self, partner: Leg | Load) -> Unit:
        """The symbol of a contact or a load, its feed to the left."""
        function = replace(self.circuits[0].function, partner=partner, coil=None)
        branch = self._branches.make(function, isinstance(partner, Load))
        assert branch is not None
        return branch.units[0]


class _Sheet:
    """One sheet being drawn."""

    def __init__(self, sheets: RelaySheets, canvas: Canvas, references: References) -> None:
        self._sheets, self._canvas, self._references = sheets, canvas, references
        self._maker, self._circuit = sheets.maker, sheets.circuit
        self.drawn = Drawn()

    def row(self, row: Row, y: float) -> None:
        """Tag, parts and joints from the left, the load at the right edge."""
        x = self._sheets.start
        self._tag(x, y, row.feed, "left", self._wired_to(self._maker.joint_pins(row, 0)))
        x = self._outer_joint(x, y, row.feed_stop, row.feed)
        load_at = self._sheets.end - (load_width(row.load, row.stops) if row.load else 0.0)
        for i, part in enumerate(row.parts):
            last = i == len(row.parts) - 1
            width = self._maker.part_width(part, row)
            self._part(part, x, x + width, y, row)
            x += width
            if not last or row.load is not None:
                x = self._joint(x, y, self._maker.joint_pins(row, i + 1), row)
        if row.load is not None:
            self._line(x, load_at, y)
            self._load(row.load, load_at, y, row)
        else:
            pin = next(iter(sorted(self._maker.joint_pins(row, len(row.parts)))))
            x = self._outer_joint(x, y, row.end_stop, pin)
            self._tag(x, y, pin, "right", self._wired_to(self._maker.joint_pins(row, len(row.parts))))

    # Joints

    def _outer_joint(self, x: float, y: float, stop: Stop | None, pin: Pin) -> float:
        end = x + 8.0
        self._line(x, end, y)
        self._number(x + 4.0, y, pin)
        if stop is None:
            return end
        self._stop(stop, end, end + STOP, y, pin_right=stop.core_first)
        return end + STOP

    def _joint(self, x: float, y: float, pins: set[Pin], row: Row) -> float:
        """A piece of wire with the number of its potential, and a tag where the potential goes on elsewhere."""
        name = self._maker.tag_name(pins, row)
        self._number(x + 4.0, y, min(pins))
        end = x + 8.0
        self._line(x, end, y)
        if name:
            self._canvas.tag(end, y, name, "down", size=NOTE)
            wide = fonts.text_width(name, NOTE) + 5.0
            self._line(end, end + wide, y)
            end += wide
        return end

    def _number(self, x: float, y: float, pin: Pin) -> None:
        potential = self._circuit.potential(pin)
        if potential is not None:
            size = fonts.shrink(potential.number, NOTE, NUMBER_ROOM, LEAST) or LEAST
            self._canvas.text(x, y - 1.0, potential.number, size, "middle")

    def _tag(self, x: float, y: float, pin: Pin, direction: str, note: str) -> None:
        """A tag of a pin's potential, and under it what is wired there."""
        potential = self._circuit.potential(pin)
        if potential is None:
            return
        left = direction == "left"
        self._canvas.tag(x, y, potential.name, "left" if left else "right", size=NOTE)
        room = (self._sheets.left if left else self._sheets.right) - 5.0
        size = fonts.shrink(note, LEAST, room, LEAST) if note else None
        if size:
            self._canvas.text(
                x - 4.2 if left else x + 4.2, y + 3.9, note, size, "end" if left else "start", centred=True
            )

    def _wired_to(self, pins: set[Pin]) -> str:
        """What the pins of a joint are wired to beside one another, strips that stand on their way left out."""
        names = dict.fromkeys(str(p) for pin in sorted(pins) for p in self._circuit.neighbours(pin) if p not in pins)
        return "to " + ", ".join(list(names)[:2]) if names else ""

    def _line(self, x0: float, x1: float, y: float) -> None:
        if x1 - x0 > 0.01:
            self._canvas.wire([(x0, y), (x1, y)])

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
            pins = self._maker.series_pins(tree, i)
            x0 = self._joint(x0 + width, y, pins, row)

    def _parallel(self, tree: Parallel, x0: float, x1: float, y: float, row: Row) -> None:
        """Contacts one under the other, joined by a line on either side."""
        left, right = x0 + BUS, x1 - BUS
        ys = list(_tops(tree, y))
        for side, edge in ((left, x0), (right, x1)):
            self._line(min(edge, side), max(edge, side), y)
            self._canvas.wire([(side, ys[0]), (side, ys[-1])])
            for at in ys[:-1]:
                self._canvas.junction(side, at)
        for part, at in zip(tree.parts, ys, strict=True):
            self._line(left, left + BUS, at)
            self._part(part, left + BUS, right - BUS, at, row)
            self._line(right - BUS, right, at)

    def _contact(self, leg: Leg, x0: float, x1: float, y: float, row: Row) -> None:
        """A contact with strip terminals and cores on its way, and the edge of its place around it."""
        before, after = row.stops.get(leg.a), row.stops.get(leg.b)
        left = x0 + (STOP if before else 0.0)
        at = left + left_room(leg.contact.device)
        if before:
            self._stop(before, x0, left, y, pin_right=True)
        self._line(left, at - 5.0, y)
        right = at + RIGHT
        self._line(at + 5.0, right, y)
        if after:
            self._stop(after, right, right + STOP, y, pin_right=False)
            right += STOP
        self._line(right, x1, y)
        self._unit(leg, at, y)
        place = self._sheets.device(leg.contact.device).place
        if place != self._sheets.cabinet:
            box = Box(left + 1.0, y - 13.0, at + RIGHT - 1.0, y + 6.4)
            self._canvas.place(box)
            self._canvas.text(box.x0 + 1.2, box.y0 + 3.0, place, LEAST)

    def _stop(self, stop: Stop, x0: float, x1: float, y: float, pin_right: bool) -> None:
        """A strip terminal and a core between ``x0`` and ``x1``; the pin that they lead to is at the right or left."""
        strip_left = stop.core_first == pin_right
        centre = x0 + 7.5 if strip_left else x1 - 7.5
        self._line(x0, centre - 5.0, y)
        self._line(centre + 5.0, x1, y)
        self._canvas.symbol(get("terminal", self._sheets.practice), centre, y)
        for side in (-5.0, 5.0):
            self._canvas.pin(centre + side, y, str(stop.terminal))
        self._canvas.text(centre, y, stop.terminal.name, TEXT, "middle", centred=True)
        self._canvas.text(centre, y - 4.2, stop.terminal.device, LEAST, "middle")
        core = x1 - 8.0 if strip_left else x0 + 8.0
        self._canvas.text(core, y - 1.0, stop.core, LEAST, "middle")
        self.drawn.terminals.add(stop.terminal)

    # Symbols

    def _unit(self, partner: Leg | Load, x: float, y: float) -> Unit:
        unit = self._sheets.unit_of(partner)
        self._canvas.device(unit.symbol, x, y, unit.device, dict(unit.pins), NOTE)
        self._canvas.note(unit.symbol, x, y, "name", unit.title, TEXT, strong=True)
        self.drawn.units.append((unit, x, y))
        spot = unit.symbol.slots["note"]
        if isinstance(partner, Leg):
            wide = RIGHT - 2.0 - spot.x
            found = [piece for t in self._references.notes_of(unit) for piece in fonts.wrap(t, LEAST, wide)][:2]
            texts = [piece for t in unit.notes for piece in fonts.wrap(t, LEAST, wide)][: MOST_LINES - len(found)]
            texts += found
            for i, text in enumerate(texts):
                up = LINE * (len(texts) - 1 - i)
                self._canvas.text(x + spot.x, y + spot.y - up, text, LEAST, spot.anchor)
        else:
            notes = [piece for note in self._references.contacts_of(unit) for piece in fonts.wrap(note, LEAST, UNDER)]
            for i, text in enumerate(notes):
                self._canvas.text(x + spot.x, y + spot.y + LINE * i, text, LEAST, spot.anchor)
        return unit

    def _load(self, load: Load, x0: float, y: float, row: Row) -> None:
        """The load, then the tag of its 0 V; its protective conductor goes down to a tag."""
        before, after = row.stops.get(load.a), row.stops.get(load.b)
        left = x0 + (STOP if before else 0.0)
        if before:
            self._stop(before, x0, left, y, pin_right=True)
        at = left + COIL
        unit = self._unit(load, at, y)
        self._line(left, at + unit.symbol.pins["a"][0], y)
        right = left + 2 * COIL
        self._line(at + unit.symbol.pins["b"][0], right, y)
        if after:
            self._stop(after, right, right + STOP, y, pin_right=False)
            self._line(right + STOP, right + STOP + JOINT, y)
            right += STOP + JOINT
        self._number(right - 4.0, y, load.b)
        self._tag(right, y, load.b, "right", "" if after else self._wired_to({load.b}))
        written = unit.symbol.slots["note"].y + LINE * len(self._references.contacts_of(unit))
        below = max(self._earth(load, unit, at, y), written)
        place = self._sheets.device(load.device).place
        if place != self._sheets.cabinet:
            box = Box(left + 1.0, y - 13.0, left + 2 * COIL - 1.0, y + max(6.4, below))
            self._canvas.place(box)
            self._canvas.text(box.x0 + 1.2, box.y0 + 3.0, place, LEAST)

    def _earth(self, load: Load, unit: Unit, x: float, y: float) -> float:
        """The protective conductor, down to a tag; gives how far the symbol reaches below its wire, mm."""
        potential = self._circuit.potential(load.earth) if load.earth is not None else None
        if potential is None:
            return 0.0
        dx, dy = unit.symbol.pins["pe"]
        self._canvas.wire([(x + dx, y + dy), (x + dx, y + dy + 6.0)])
        self._canvas.tag(x + dx, y + dy + 6.0, potential.name, "down", size=NOTE)
        return dy + 4.0


def _is_here(function: Function, shared: frozenset[Pin]) -> bool:
    """Coils, and inputs whose contacts a terminal diagram has no room for."""
    tree = function.partner
    if not isinstance(tree, Leg | Series | Parallel):
        return False
    return function.purpose == "coil" or not is_plain(tree, shared)


def _tops(tree: Parallel, y: float) -> Iterator[float]:
    for part in tree.parts:
        yield y
        y += height(part)
