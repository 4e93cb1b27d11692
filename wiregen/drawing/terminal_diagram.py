"""Draws one page of a controller: its terminals in physical order, and what is wired to each, on both sides."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace

from wiregen.drawing import fonts
from wiregen.drawing.box import Box
from wiregen.drawing.branches import Unit
from wiregen.drawing.canvas import LEAST, NOTE, TEXT, TITLE, Canvas, Direction
from wiregen.drawing.circuit import Circuit, FieldChain, Way
from wiregen.drawing.columns import EDGE_LEFT, EDGE_RIGHT, LEFT, RIGHT, Columns
from wiregen.drawing.lines import Line, note_width, shown_setting
from wiregen.drawing.placing import Page, PlacedBlock, PlacedLine, cable_lines
from wiregen.drawing.references import References
from wiregen.drawing.symbols import HEAVY, Anchor, Practice, get
from wiregen.terms import Pin
from wiregen.wiring.model import Conductor

NUMBER_ROOM = 6.6  # between a strip terminal and the edge of its place, mm
TERMINAL = 5.0  # half the width of a strip terminal, mm
TAG_WIRE, SHORT_TAG_WIRE = 8.0, 6.0
NEAR_TAG = 10.0  # more room for a tag between controller and device
RIGHTMOST = 408.0  # where texts of cables on the right end at the latest
RAIL_STEP = 3.0
INSIDE_WIDTH = 36.0  # of what a strip terminal is joined to, beside its tag
FAR_STRIP = 9.0  # from the edge of another place to the middle of its strip's terminals
THROUGH_STEP = 21.0  # between the centres of two receivers in one row


@dataclass(frozen=True, slots=True)
class Setting:
    """What all sheets share: the circuit, the practice, the names of places, the cross-references."""

    circuit: Circuit
    practice: Practice
    places: dict[str, str]  # place -> its name in words
    at: dict[str, str]  # device -> place
    references: References


class Diagram:
    """One page being drawn. ``drawn`` collects the strip terminals that stand on it."""

    def __init__(self, canvas: Canvas, page: Page, setting: Setting) -> None:
        self._canvas, self._page, self._set = canvas, page, setting
        self._circuit = setting.circuit
        self.drawn: set[Pin] = set()

    def draw(self, top: float) -> None:
        bottom = self._page.bottom + 8.0
        self._controller(top, bottom)
        for columns, blocks in ((LEFT, self._page.left), (RIGHT, self._page.right)):
            lines = [line for block in blocks for line in block.lines]
            self._places(columns, lines, top)
            self._cables(columns, lines)
            self._strip_name(columns, lines)
            self._rails(columns, blocks)
            for block in blocks:
                self._block(columns, block)
        self._cabinet(top, bottom)

    # The controller itself

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
        labels = [p.line.inner.name for b in self._blocks(columns) for p in b.lines if p.line.inner is not None]
        return 5.4 + max((fonts.text_width(label, TEXT) for label in labels), default=0.0)

    def _room(self, columns: Columns) -> float:
        """Width for functions on one side: half of what the labels leave, or more where the other side needs less."""
        other = RIGHT if columns is LEFT else LEFT
        free = EDGE_RIGHT - EDGE_LEFT - self._indent(LEFT) - self._indent(RIGHT) - 3.0
        words = [p.line.function for b in self._blocks(other) for p in b.lines]
        needed = max((fonts.text_width(w, TEXT) for w in words), default=0.0)
        return max(free / 2, free - needed)

    # Places and cables

    def _cabinet(self, top: float, bottom: float) -> None:
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

    def _places(self, columns: Columns, lines: list[PlacedLine], top: float) -> None:
        for place, group in itertools.groupby((p for p in lines if p.place is not None), key=lambda p: p.place):
            assert place is not None
            members = list(group)
            y0 = members[0].y - members[0].line.above - 8.0
            y1 = members[-1].y + max(members[-1].line.below, 6.0)
            inner, outer = columns.x(columns.far_boundary), columns.x(columns.far_end)
            box = Box(min(inner, outer), y0, max(inner, outer), y1)
            self._canvas.place(box)
            self._canvas.text(box.x0 + 3.0, y0 + 5.0, self._place_title(place), TEXT, strong=True)

    def _cables(self, columns: Columns, lines: list[PlacedLine]) -> None:
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

    def _strip_name(self, columns: Columns, lines: list[PlacedLine]) -> None:
        """The strip's name over its topmost terminal on this side, and again after a gap."""
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
        self.drawn.add(pin)
        self._canvas.text(x + 1.5, y - 1.2, "screen", LEAST, "start", centred=True)
        if potential is not None:
            self._canvas.wire([(x, y), (x, y + 2.5)])
            self._canvas.tag(x, y + 2.5, potential.name, "down", size=NOTE)

    # Rails: one core that feeds several devices in a far place

    def _rails(self, columns: Columns, blocks: tuple[PlacedBlock, ...]) -> None:
        feeds = [line for block in blocks for line in block.lines if line.line.outer == "chain"]
        slots = self._rail_slots(columns)
        for index, feed in enumerate(feeds):
            assert feed.line.chain is not None
            x = columns.x(columns.rail - RAIL_STEP * slots[index])
            members = self._members(columns, feed)
            if not members:
                continue
            ys = sorted({feed.y, *(y for _, y in members)})
            self._canvas.wire([(x, ys[0]), (x, ys[-1])])
            for y in ys[1:-1]:
                self._canvas.junction(x, y)
            for far_x, y in members:
                self._canvas.wire([(far_x, y), (x, y)])
                self._number(far_x + columns.outwards * 12.6, y, self._circuit.potential(feed.line.chain.pins[0]))

    def _members(self, columns: Columns, feed: PlacedLine) -> list[tuple[float, float]]:
        """Where the far pins of a feed's devices stand on this side, in the same run of lines to its place."""
        assert feed.line.chain is not None
        top, bottom = self._run(columns, feed.y)
        found = []
        for block in self._blocks(columns):
            branch = block.block.branch
            if branch is None or branch.is_box or branch.far_pin not in feed.line.chain.pins:
                continue
            at = next(line for line in block.lines if line.line.outer == "unit")
            if top <= at.y <= bottom:
                found.append((self._unit_ends(columns, block, at)[-1], at.y))
        return found

    def _blocks(self, columns: Columns) -> tuple[PlacedBlock, ...]:
        return self._page.left if columns is LEFT else self._page.right

    def _rail_x(self, columns: Columns, chain: FieldChain) -> float | None:
        feeds = [
            line.line.chain for block in self._blocks(columns) for line in block.lines if line.line.outer == "chain"
        ]
        if chain not in feeds:
            return None
        return columns.x(columns.rail - RAIL_STEP * self._rail_slots(columns)[feeds.index(chain)])

    def _rail_slots(self, columns: Columns) -> list[int]:
        """For each feed of a side the first place in which no rail beside it stands."""
        feeds = [line for block in self._blocks(columns) for line in block.lines if line.line.outer == "chain"]
        taken: list[tuple[int, float, float]] = []
        slots: list[int] = []
        for feed in feeds:
            ys = [feed.y, *(y for _, y in self._members(columns, feed))]
            low, high = min(ys) - 2.0, max(ys) + 2.0
            beside = {slot for slot, top, bottom in taken if top < high and low < bottom}
            slot = next(n for n in range(len(feeds)) if n not in beside)
            taken.append((slot, low, high))
            slots.append(slot)
        return slots

    def _run(self, columns: Columns, y: float) -> tuple[float, float]:
        """The heights between which all lines that leave the controller's place lead where that at ``y`` does."""
        lines = [p for b in self._blocks(columns) for p in b.lines if p.place is not None]
        runs = [[p.y for p in group] for _, group in itertools.groupby(lines, key=lambda p: p.place)]
        return next(((run[0], run[-1]) for run in runs if run[0] <= y <= run[-1]), (y, y))

    # Blocks

    def _block(self, columns: Columns, block: PlacedBlock) -> None:
        branch = block.block.branch
        if branch is not None and branch.is_box:
            self._box(columns, block)
        for placed in block.lines:
            if placed.line.inner is not None:
                self._terminal(columns, placed.line, placed.y)
            self._line(columns, block, placed)

    def _line(self, columns: Columns, block: PlacedBlock, placed: PlacedLine) -> None:
        line = placed.line
        if line.outer in ("tag", "elsewhere"):
            self._terminal_tag(columns, line, placed.y)
        elif line.outer == "unit":
            self._units(columns, block, placed)
        elif line.outer == "lead":
            self._lead(columns, block, placed)
        elif line.outer == "earth":
            self._earth(columns, block, placed)
        elif line.outer == "chain":
            self._feed(columns, block, placed)
        elif line.outer == "spare":
            self._spare(columns, placed)
        elif line.outer == "onward":
            self._onward(columns, placed)

    def _onward(self, columns: Columns, placed: PlacedLine) -> None:
        """A line that ends on a strip of another place, with a tag; what follows is drawn on a sheet of its own."""
        line, y = placed.line, placed.y
        assert line.way is not None and line.inner is not None
        terminal = line.way.terminals[-1]
        centre = columns.x(columns.far_boundary + FAR_STRIP)
        before = replace(line, way=Way(line.way.conductors, line.way.terminals[:-1]))
        self._inner_wires(columns, replace(placed, line=before), centre - columns.outwards * TERMINAL)
        self._strip_terminal(terminal, centre, y, columns, sides=(columns.outwards,))
        start, end = (centre + columns.outwards * at for at in (TERMINAL, TERMINAL + 8.0))
        self._canvas.wire([(start, y), (end, y)])
        direction: Direction = "left" if columns.outwards < 0 else "right"
        self._canvas.tag(end, y, self._name(line.inner), direction, label="", size=NOTE)
        room = abs(columns.x(columns.far_end - 1.0) - end) - 4.2
        names = fonts.wrap(self._name(line.inner), NOTE, room)[:2]
        note = self._set.references.input_at(line.contacts_of) or self._beyond(terminal)
        anchor: Anchor = "end" if columns.outwards < 0 else "start"
        for i, text in enumerate(names):
            at = y + 3.6 * i - 1.8 * (len(names) - 1)
            self._canvas.text(end + columns.outwards * 4.2, at, text, NOTE, anchor, centred=True)
        if note:
            lower = y + 3.9 + 1.8 * (len(names) - 1)
            self._canvas.text(end + columns.outwards * 4.2, lower, note, LEAST, anchor, centred=True)

    def _beyond(self, terminal: Pin) -> str:
        """What a strip terminal of another place is wired to there."""
        place = self._circuit.strips[terminal.device]
        names = [str(p) for p in self._circuit.neighbours(terminal) if self._set.at.get(p.device) == place]
        return f"to {names[0]}" if names else ""

    def _terminal_tag(self, columns: Columns, line: Line, y: float) -> None:
        assert line.inner is not None
        x = columns.x(columns.tag)
        self._canvas.wire([(columns.edge, y), (x, y)])
        self._number(columns.x(columns.number), y, self._circuit.potential(line.inner))
        references = self._set.references
        note = references.loop_of(line.inner) if line.outer == "elsewhere" else references.input_at(line.contacts_of)
        self._tag(x, y, line.inner, "left" if columns.outwards < 0 else "right", note)

    def _tag(self, x: float, y: float, pin: Pin, direction: str, note: str = "", room: float = 60.0) -> None:
        """A tag of a pin's potential, and under it what the pin is wired to."""
        potential = self._circuit.potential(pin)
        if potential is None:
            return
        size = fonts.shrink(potential.name, NOTE, room, LEAST) or LEAST
        self._canvas.tag(x, y, potential.name, "left" if direction == "left" else "right", size=size)
        text = note or self._wired_to(pin, room)
        if text:
            shift, anchor = (-4.2, "end") if direction == "left" else (4.2, "start")
            self._canvas.text(x + shift, y + 3.9, text, LEAST, "end" if anchor == "end" else "start", centred=True)

    def _wired_to(self, pin: Pin, room: float) -> str:
        """What a pin is wired to: two names, or as many as have room, the rest as dots."""
        names = [str(p) for p in self._circuit.neighbours(pin)]
        text = "to " + ", ".join(names[:2]) if names else ""
        return text if fonts.text_width(text, LEAST) <= room else f"to {names[0]} ..."

    # Units in a row

    def _unit_ends(self, columns: Columns, block: PlacedBlock, placed: PlacedLine) -> list[float]:
        """The x of every pin of the units in a row, from the controller outwards."""
        branch = block.block.branch
        assert branch is not None
        centre = self._centre(columns, placed)
        xs: list[float] = []
        for i, unit in enumerate(branch.units):
            at = centre + columns.outwards * 16.0 * i
            near, far = unit.symbol.pins[unit.near][0], unit.symbol.pins[unit.far or unit.near][0]
            xs += [at + near, at + far]
        return xs

    def _centre(self, columns: Columns, placed: PlacedLine) -> float:
        """Where the first unit of a row stands; further out where a tag stands between it and the controller."""
        if placed.place:
            return columns.x(columns.far_unit)
        return columns.x(columns.unit + (NEAR_TAG if placed.line.inner is None else 0.0))

    def _units(self, columns: Columns, block: PlacedBlock, placed: PlacedLine) -> None:
        branch, y = block.block.branch, placed.y
        assert branch is not None
        xs = self._unit_ends(columns, block, placed)
        centre = self._centre(columns, placed)
        for i, unit in enumerate(branch.units):
            self._unit(unit, centre + columns.outwards * 16.0 * i, y, placed.place is not None)
        for a, b in itertools.pairwise(xs[1:-1]):
            self._canvas.wire([(a, y), (b, y)])
        self._inner_wires(columns, placed, xs[0], branch.near_pin)
        self._far_end(columns, block, xs[-1], y)

    def _unit(self, unit: Unit, x: float, y: float, far: bool = False) -> None:
        self._canvas.device(unit.symbol, x, y, unit.device, dict(unit.pins), NOTE)
        self._canvas.note(unit.symbol, x, y, "name", unit.title, TEXT, strong=True)
        lines = [*unit.text(note_width(unit, far)), *self._set.references.notes_of(unit)]
        spot = unit.symbol.slots["note"]
        upwards = unit.symbol.kind == "contact"
        if "pe" in unit.symbol.pins:  # its protective conductor leaves below, so its text stands above its name
            name = unit.symbol.slots["name"]
            spot, upwards = replace(name, y=name.y - 4.2), True
        for i, text in enumerate(lines):
            step = -3.6 * (len(lines) - 1 - i) if upwards else 3.6 * i
            self._canvas.text(x + spot.x, y + spot.y + step, text, LEAST, spot.anchor)

    def _far_end(self, columns: Columns, block: PlacedBlock, x: float, y: float) -> None:
        """The far pin goes to the rail of its core, or to a tag."""
        branch = block.block.branch
        assert branch is not None
        pin = branch.far_pin
        if pin is None or self._circuit.potential(pin) is None:
            return
        feeds = [p for b in self._blocks(columns) for p in b.lines if p.line.outer == "chain"]
        if any((x, y) in self._members(columns, feed) for feed in feeds):
            return
        end = x + columns.outwards * TAG_WIRE
        self._canvas.wire([(x, y), (end, y)])
        edge = columns.x(columns.far_end if any(p.place for p in block.lines) else columns.boundary)
        self._tag(end, y, pin, "left" if columns.outwards < 0 else "right", room=abs(edge - end) - 6.0)

    # From the controller to the near pin

    def _inner_wires(self, columns: Columns, placed: PlacedLine, x: float, near: Pin | None = None) -> None:
        """Terminal - strip - core - device, or a tag instead of the terminal; ``near`` is the device's pin at ``x``."""
        line, y = placed.line, placed.y
        if line.through:
            self._passing(columns, placed, x)
            return
        if line.way is None:
            if line.inner is None and near is not None:
                self._near_tag(columns, near, x, y)
            elif line.inner is not None and self._circuit.potential(line.inner) is not None:
                self._canvas.wire([(columns.edge, y), (columns.x(columns.tag), y)])
                self._tag(columns.x(columns.tag), y, line.inner, "left" if columns.outwards < 0 else "right")
            return
        if line.way.terminals and placed.place is None and not any(c.core for c in line.way.conductors):
            self._by_terminal(columns, placed, x)
            return
        start = columns.edge if line.inner is not None else columns.x(columns.strip_tag)
        stops = self._stops(columns, line.way.terminals)
        potential = self._circuit.potential(line.inner or line.way.terminals[0])
        if line.inner is not None:
            self._number(columns.x(columns.number), y, potential)
        else:
            self._strip_tag(columns, line.way.terminals[0], y)
        at = start
        for index, (terminal, centre) in enumerate(stops):
            self._canvas.wire([(at, y), (centre - columns.outwards * TERMINAL, y)])
            ends = (-columns.outwards,) * (index == 0) + (columns.outwards,) * (index == len(stops) - 1)
            self._strip_terminal(terminal, centre, y, columns, sides=ends)
            at = centre + columns.outwards * TERMINAL
        self._canvas.wire([(at, y), (x, y)])
        self._core_marks(columns, line.way.conductors, y)
        if line.inner is not None and line.outer != "onward" and self._goes_on(columns, placed):
            name = self._name(line.inner)
            distance = max(26.0 if stops else 20.0, fonts.text_width(name, NOTE) + 4.0)
            self._canvas.tag(columns.x(distance), y, name, "down", size=NOTE)

    def _by_terminal(self, columns: Columns, placed: PlacedLine, x: float) -> None:
        """A device in the controller's place by way of a distributing terminal, which stands whole on another sheet."""
        line, y = placed.line, placed.y
        assert line.way is not None and line.inner is not None
        terminal = line.way.terminals[-1]
        shown = terminal in self.drawn
        centre = columns.x(columns.unit - 15.5)
        self._number(columns.x(columns.number), y, self._circuit.potential(line.inner))
        self._canvas.wire([(columns.edge, y), (centre - columns.outwards * TERMINAL, y)])
        self._strip_terminal(terminal, centre, y, columns, sides=())
        self._canvas.wire([(centre + columns.outwards * TERMINAL, y), (x, y)])
        if not shown:
            self.drawn.discard(terminal)

    def _passing(self, columns: Columns, placed: PlacedLine, x: float) -> None:
        """Terminal - other receivers of the current - strip - core - device."""
        line, y = placed.line, placed.y
        assert line.inner is not None
        self._number(columns.x(columns.number), y, self._circuit.potential(line.inner))
        at = columns.edge
        for i, unit in enumerate(line.through):
            centre = columns.x(columns.through + THROUGH_STEP * i)
            half = unit.symbol.pins["out"][0]
            self._canvas.wire([(at, y), (centre - columns.outwards * half, y)])
            self._unit(unit, centre, y)
            at = centre + columns.outwards * half
        if line.way is None:
            return
        for terminal, centre in self._stops(columns, line.way.terminals):
            self._canvas.wire([(at, y), (centre - columns.outwards * TERMINAL, y)])
            self._strip_terminal(terminal, centre, y, columns)
            at = centre + columns.outwards * TERMINAL
        self._canvas.wire([(at, y), (x, y)])
        self._core_marks(columns, line.way.conductors, y)

    def _name(self, pin: Pin) -> str:
        potential = self._circuit.potential(pin)
        return potential.name if potential else ""

    def _goes_on(self, columns: Columns, placed: PlacedLine) -> bool:
        """Whether the potential of a line has pins that this line does not show, so that it needs a tag too."""
        line = placed.line
        assert line.inner is not None and line.way is not None
        potential = self._circuit.potential(line.inner)
        shown = {line.inner, *line.way.terminals}
        if line.lead is not None:
            shown.add(line.lead.pin)
        if line.chain is not None and len(self._members(columns, placed)) == len(line.chain.pins):
            shown.update(line.chain.pins)
        if line.outer == "unit":
            shown.update(p for c in line.way.conductors for p in (c.a, c.b) if p is not None)
        return potential is not None and not set(potential.pins) <= shown

    def _stops(self, columns: Columns, terminals: tuple[Pin, ...]) -> list[tuple[Pin, float]]:
        spread = [(i - (len(terminals) - 1) / 2) * 12.0 for i in range(len(terminals))]
        return [(t, columns.x(columns.strip + s)) for t, s in zip(terminals, spread, strict=True)]

    def _near_tag(self, columns: Columns, pin: Pin, x: float, y: float) -> None:
        if self._circuit.potential(pin) is None:
            return
        end = x - columns.outwards * SHORT_TAG_WIRE
        self._canvas.wire([(x, y), (end, y)])
        room = abs(end - columns.edge) - 6.0
        self._tag(end, y, pin, "right" if columns.outwards < 0 else "left", room=room)

    def _strip_tag(self, columns: Columns, terminal: Pin, y: float) -> None:
        """What a core's strip terminal is joined to inside the cabinet, as a tag."""
        self._tag(
            columns.x(columns.strip_tag),
            y,
            terminal,
            "right" if columns.outwards < 0 else "left",
            self._inside(terminal),
        )

    def _inside(self, terminal: Pin) -> str:
        names = [
            str(p) for p in self._circuit.neighbours(terminal) if self._set.at.get(p.device) == self._page.device.place
        ]
        bridged = self._circuit.bridged_to(terminal)
        parts = [f"to {', '.join(names)}"] if names else []
        most = "; ".join([*parts, *([f"bridge {', '.join(bridged)}"] if bridged else [])])
        # On the right there is less room between the strip and the controller.
        least = "; ".join([*parts[:1], *([f"bridge {bridged[0]}"] if bridged else [])])
        return next((text for text in (most, least) if fonts.text_width(text, LEAST) <= INSIDE_WIDTH), "")

    def _strip_terminal(
        self, terminal: Pin, x: float, y: float, columns: Columns, sides: tuple[float, ...] = (-1, 1)
    ) -> None:
        """A strip terminal with the number of its potential on ``sides``."""
        symbol = get("terminal", self._set.practice)
        self._canvas.symbol(symbol, x, y)
        self._canvas.pin(x - TERMINAL, y, str(terminal))
        self._canvas.pin(x + TERMINAL, y, str(terminal))
        self._canvas.text(x, y, terminal.name, TEXT, "middle", centred=True)
        self.drawn.add(terminal)
        potential = self._circuit.potential(terminal)
        wide = fonts.text_width(potential.number, NOTE) if potential else 0.0
        for side in sides:
            if wide <= NUMBER_ROOM:
                self._number(x + side * 8.6, y, potential)
            elif side != columns.outwards:  # outside there is no room before the edge of the place
                self._number(x + side * (TERMINAL + 1.0 + wide / 2), y, potential)

    def _core_marks(self, columns: Columns, conductors: tuple[Conductor, ...], y: float) -> None:
        """The mark of the core in the cable that the line is drawn through."""
        cores = [c.core for c in conductors if c.core is not None]
        if cores:
            self._core_mark(columns, cores[-1], y)

    def _core_mark(self, columns: Columns, mark: str, y: float) -> None:
        size = fonts.shrink(mark, TEXT, 7.8, LEAST) or LEAST
        self._canvas.text(columns.x(columns.cable + 6.6), y - 1.0, mark, size, "middle")

    def _number(self, x: float, y: float, potential: object) -> None:
        number = getattr(potential, "number", "")
        if number:
            self._canvas.text(x, y - 1.0, number, NOTE, "middle")

    # Boxes

    def _box(self, columns: Columns, block: PlacedBlock) -> None:
        branch = block.block.branch
        assert branch is not None
        unit = branch.units[0]
        first = block.lines[block.block.first]
        x = self._box_x(columns, block)
        y = first.y - unit.symbol.pins[branch.leads[0].key][1]
        self._unit(unit, x, y)

    def _box_x(self, columns: Columns, block: PlacedBlock) -> float:
        return columns.x(columns.far_box if block.lines[block.block.first].place else columns.box)

    def _lead(self, columns: Columns, block: PlacedBlock, placed: PlacedLine) -> None:
        branch, lead = block.block.branch, placed.line.lead
        assert branch is not None and lead is not None
        x = self._box_x(columns, block) + branch.units[0].symbol.pins[lead.key][0]
        self._inner_wires(columns, placed, x, lead.pin)

    def _feed(self, columns: Columns, block: PlacedBlock, placed: PlacedLine) -> None:
        """The line of a feeding core: to its rail, or to a tag where none of its devices stands on this page."""
        chain = placed.line.chain
        assert chain is not None
        rail = self._rail_x(columns, chain)
        if rail is not None and self._members(columns, placed):
            self._inner_wires(columns, placed, rail)
            return
        end = columns.x(columns.far_box + 4)
        self._inner_wires(columns, placed, end)
        self._tag(end, placed.y, chain.pins[0], "left" if columns.outwards < 0 else "right")

    def _earth(self, columns: Columns, block: PlacedBlock, placed: PlacedLine) -> None:
        """The protective conductor of a load, from its core or a tag up to the terminal under the symbol."""
        branch = block.block.branch
        assert branch is not None and branch.earth_pin is not None
        at = next(line for line in block.lines if line.line.outer == "unit")
        dx, dy = branch.units[0].symbol.pins["pe"]
        x = self._centre(columns, at) + dx
        self._canvas.wire([(x, at.y + dy), (x, placed.y)])
        if placed.line.way is not None:
            self._inner_wires(columns, placed, x)
        else:
            end = x - columns.outwards * TAG_WIRE
            self._canvas.wire([(x, placed.y), (end, placed.y)])
            self._tag(end, placed.y, branch.earth_pin, "right" if columns.outwards < 0 else "left")

    def _spare(self, columns: Columns, placed: PlacedLine) -> None:
        spare, y = placed.line.spare, placed.y
        assert spare is not None
        x = columns.x(columns.strip)
        symbol = get("terminal", self._set.practice)
        self._canvas.symbol(symbol, x, y)
        for side in (-1, 1):
            self._canvas.pin(x + side * TERMINAL, y, str(spare.a))
        self._canvas.text(x, y, spare.a.name, TEXT, "middle", centred=True)
        self.drawn.add(spare.a)
        start, end = x + columns.outwards * (TERMINAL + 0.8), columns.x(columns.far_boundary + 6.0)
        self._canvas.spare([(start, y), (end, y)])
        self._core_mark(columns, spare.core or "", y)
        anchor: Anchor = "end" if columns.outwards < 0 else "start"
        self._canvas.text(end + columns.outwards * 1.5, y, "spare", LEAST, anchor, centred=True)
