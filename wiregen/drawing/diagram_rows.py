"""The rows of a terminal diagram: from a terminal by strip and core to a device, or to a tag."""

from __future__ import annotations

import itertools
from dataclasses import replace

from wiregen.drawing import fonts
from wiregen.drawing.branches import Unit
from wiregen.drawing.canvas import LEAST, NOTE, TEXT, Canvas, Direction
from wiregen.drawing.circuit import Way
from wiregen.drawing.columns import Columns
from wiregen.drawing.diagram_marks import TAG_WIRE, TERMINAL, Marks, Setting
from wiregen.drawing.lines import Line, note_width
from wiregen.drawing.placing import Page, PlacedBlock, PlacedLine
from wiregen.drawing.rails import Rails
from wiregen.drawing.symbols import Anchor, get
from wiregen.terms import Pin

FAR_STRIP = 9.0  # from the edge of another place to the middle of its strip's terminals
THROUGH_STEP = 21.0  # between the centres of two receivers in one row


class Rows:
    """The rows on one page."""

    def __init__(self, canvas: Canvas, page: Page, setting: Setting, marks: Marks, rails: Rails) -> None:
        self._canvas, self._page, self._set = canvas, page, setting
        self._circuit = setting.circuit
        self._marks = marks
        self._rails = rails

    def onward(self, columns: Columns, placed: PlacedLine) -> None:
        """A line that ends on a strip of another place, with a tag; what follows is drawn on a sheet of its own."""
        line, y = placed.line, placed.y
        assert line.way is not None and line.inner is not None
        terminal = line.way.terminals[-1]
        centre = columns.x(columns.far_boundary + FAR_STRIP)
        before = replace(line, way=Way(line.way.conductors, line.way.terminals[:-1]))
        self._inner_wires(columns, replace(placed, line=before), centre - columns.outwards * TERMINAL)
        self._marks.strip_terminal(terminal, centre, y, columns, sides=(columns.outwards,))
        start, end = (centre + columns.outwards * at for at in (TERMINAL, TERMINAL + 8.0))
        self._canvas.wire([(start, y), (end, y)])
        direction: Direction = "left" if columns.outwards < 0 else "right"
        self._canvas.tag(end, y, self._marks.name(line.inner), direction, label="", size=NOTE)
        room = abs(columns.x(columns.far_end - 1.0) - end) - 4.2
        names = fonts.wrap(self._marks.name(line.inner), NOTE, room)[:2]
        note = self._set.references.input_at(line.contacts_of) or self._marks.beyond(terminal)
        anchor: Anchor = "end" if columns.outwards < 0 else "start"
        for i, text in enumerate(names):
            at = y + 3.6 * i - 1.8 * (len(names) - 1)
            self._canvas.text(end + columns.outwards * 4.2, at, text, NOTE, anchor, centred=True)
        if note:
            lower = y + 3.9 + 1.8 * (len(names) - 1)
            self._canvas.text(end + columns.outwards * 4.2, lower, note, LEAST, anchor, centred=True)

    def terminal_tag(self, columns: Columns, line: Line, y: float) -> None:
        assert line.inner is not None
        x = columns.x(columns.tag)
        self._canvas.wire([(columns.edge, y), (x, y)])
        self._marks.number(columns.x(columns.number), y, self._circuit.potential(line.inner))
        references = self._set.references
        note = references.loop_of(line.inner) if line.outer == "elsewhere" else references.input_at(line.contacts_of)
        self._marks.tag(x, y, line.inner, "left" if columns.outwards < 0 else "right", note)

    def units(self, columns: Columns, block: PlacedBlock, placed: PlacedLine) -> None:
        branch, y = block.block.branch, placed.y
        assert branch is not None
        xs = self._rails.unit_ends(columns, block, placed)
        centre = self._rails.centre(columns, placed)
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
        feeds = [p for b in self._marks.blocks(columns) for p in b.lines if p.line.outer == "chain"]
        if any((x, y) in self._rails.members(columns, feed) for feed in feeds):
            return
        end = x + columns.outwards * TAG_WIRE
        self._canvas.wire([(x, y), (end, y)])
        edge = columns.x(columns.far_end if any(p.place for p in block.lines) else columns.boundary)
        self._marks.tag(end, y, pin, "left" if columns.outwards < 0 else "right", room=abs(edge - end) - 6.0)

    def _inner_wires(self, columns: Columns, placed: PlacedLine, x: float, near: Pin | None = None) -> None:
        """Terminal - strip - core - device, or a tag instead of the terminal; ``near`` is the device's pin at ``x``."""
        line, y = placed.line, placed.y
        if line.through:
            self._passing(columns, placed, x)
            return
        if line.way is None:
            if line.inner is None and near is not None:
                self._marks.near_tag(columns, near, x, y)
            elif line.inner is not None and self._circuit.potential(line.inner) is not None:
                self._canvas.wire([(columns.edge, y), (columns.x(columns.tag), y)])
                self._marks.tag(columns.x(columns.tag), y, line.inner, "left" if columns.outwards < 0 else "right")
            return
        if line.way.terminals and placed.place is None and not any(c.core for c in line.way.conductors):
            self._by_terminal(columns, placed, x)
            return
        start = columns.edge if line.inner is not None else columns.x(columns.strip_tag)
        stops = self._marks.stops(columns, line.way.terminals)
        potential = self._circuit.potential(line.inner or line.way.terminals[0])
        if line.inner is not None:
            self._marks.number(columns.x(columns.number), y, potential)
        else:
            self._marks.strip_tag(columns, line.way.terminals[0], y)
        at = start
        for index, (terminal, centre) in enumerate(stops):
            self._canvas.wire([(at, y), (centre - columns.outwards * TERMINAL, y)])
            ends = (-columns.outwards,) * (index == 0) + (columns.outwards,) * (index == len(stops) - 1)
            self._marks.strip_terminal(terminal, centre, y, columns, sides=ends)
            at = centre + columns.outwards * TERMINAL
        self._canvas.wire([(at, y), (x, y)])
        self._marks.core_marks(columns, line.way.conductors, y)
        if line.inner is not None and line.outer != "onward" and self._goes_on(columns, placed):
            name = self._marks.name(line.inner)
            distance = max(26.0 if stops else 20.0, fonts.text_width(name, NOTE) + 4.0)
            self._canvas.tag(columns.x(distance), y, name, "down", size=NOTE)

    def _by_terminal(self, columns: Columns, placed: PlacedLine, x: float) -> None:
        """A device in the controller's place by way of a distributing terminal, which stands whole on another sheet."""
        line, y = placed.line, placed.y
        assert line.way is not None and line.inner is not None
        terminal = line.way.terminals[-1]
        shown = terminal in self._marks.drawn
        centre = columns.x(columns.unit - 15.5)
        self._marks.number(columns.x(columns.number), y, self._circuit.potential(line.inner))
        self._canvas.wire([(columns.edge, y), (centre - columns.outwards * TERMINAL, y)])
        self._marks.strip_terminal(terminal, centre, y, columns, sides=())
        self._canvas.wire([(centre + columns.outwards * TERMINAL, y), (x, y)])
        if not shown:
            self._marks.drawn.discard(terminal)

    def _passing(self, columns: Columns, placed: PlacedLine, x: float) -> None:
        """Terminal - other receivers of the current - strip - core - device."""
        line, y = placed.line, placed.y
        assert line.inner is not None
        self._marks.number(columns.x(columns.number), y, self._circuit.potential(line.inner))
        at = columns.edge
        for i, unit in enumerate(line.through):
            centre = columns.x(columns.through + THROUGH_STEP * i)
            half = unit.symbol.pins["out"][0]
            self._canvas.wire([(at, y), (centre - columns.outwards * half, y)])
            self._unit(unit, centre, y)
            at = centre + columns.outwards * half
        if line.way is None:
            return
        for terminal, centre in self._marks.stops(columns, line.way.terminals):
            self._canvas.wire([(at, y), (centre - columns.outwards * TERMINAL, y)])
            self._marks.strip_terminal(terminal, centre, y, columns)
            at = centre + columns.outwards * TERMINAL
        self._canvas.wire([(at, y), (x, y)])
        self._marks.core_marks(columns, line.way.conductors, y)

    def _goes_on(self, columns: Columns, placed: PlacedLine) -> bool:
        """Whether the potential of a line has pins that this line does not show, so that it needs a tag too."""
        line = placed.line
        assert line.inner is not None and line.way is not None
        potential = self._circuit.potential(line.inner)
        shown = {line.inner, *line.way.terminals}
        if line.lead is not None:
            shown.add(line.lead.pin)
        if line.chain is not None and len(self._rails.members(columns, placed)) == len(line.chain.pins):
            shown.update(line.chain.pins)
        if line.outer == "unit":
            shown.update(p for c in line.way.conductors for p in (c.a, c.b) if p is not None)
        return potential is not None and not set(potential.pins) <= shown

    def box(self, columns: Columns, block: PlacedBlock) -> None:
        branch = block.block.branch
        assert branch is not None
        unit = branch.units[0]
        first = block.lines[block.block.first]
        x = self._box_x(columns, block)
        y = first.y - unit.symbol.pins[branch.leads[0].key][1]
        self._unit(unit, x, y)

    def _box_x(self, columns: Columns, block: PlacedBlock) -> float:
        return columns.x(columns.far_box if block.lines[block.block.first].place else columns.box)

    def lead(self, columns: Columns, block: PlacedBlock, placed: PlacedLine) -> None:
        branch, lead = block.block.branch, placed.line.lead
        assert branch is not None and lead is not None
        x = self._box_x(columns, block) + branch.units[0].symbol.pins[lead.key][0]
        self._inner_wires(columns, placed, x, lead.pin)

    def feed(self, columns: Columns, block: PlacedBlock, placed: PlacedLine) -> None:
        """The line of a feeding core: to its rail, or to a tag where none of its devices stands on this page."""
        chain = placed.line.chain
        assert chain is not None
        rail = self._rails.rail_x(columns, chain)
        if rail is not None and self._rails.members(columns, placed):
            self._inner_wires(columns, placed, rail)
            return
        end = columns.x(columns.far_box + 4)
        self._inner_wires(columns, placed, end)
        self._marks.tag(end, placed.y, chain.pins[0], "left" if columns.outwards < 0 else "right")

    def earth(self, columns: Columns, block: PlacedBlock, placed: PlacedLine) -> None:
        """The protective conductor of a load, from its core or a tag up to the terminal under the symbol."""
        branch = block.block.branch
        assert branch is not None and branch.earth_pin is not None
        at = next(line for line in block.lines if line.line.outer == "unit")
        dx, dy = branch.units[0].symbol.pins["pe"]
        x = self._rails.centre(columns, at) + dx
        self._canvas.wire([(x, at.y + dy), (x, placed.y)])
        if placed.line.way is not None:
            self._inner_wires(columns, placed, x)
        else:
            end = x - columns.outwards * TAG_WIRE
            self._canvas.wire([(x, placed.y), (end, placed.y)])
            self._marks.tag(end, placed.y, branch.earth_pin, "right" if columns.outwards < 0 else "left")

    def spare(self, columns: Columns, placed: PlacedLine) -> None:
        spare, y = placed.line.spare, placed.y
        assert spare is not None
        x = columns.x(columns.strip)
        symbol = get("terminal", self._set.practice)
        self._canvas.symbol(symbol, x, y)
        for side in (-1, 1):
            self._canvas.pin(x + side * TERMINAL, y, str(spare.a))
        self._canvas.text(x, y, spare.a.name, TEXT, "middle", centred=True)
        self._marks.drawn.add(spare.a)
        start, end = x + columns.outwards * (TERMINAL + 0.8), columns.x(columns.far_boundary + 6.0)
        self._canvas.spare([(start, y), (end, y)])
        self._marks.core_mark(columns, spare.core or "", y)
        anchor: Anchor = "end" if columns.outwards < 0 else "start"
        self._canvas.text(end + columns.outwards * 1.5, y, "spare", LEAST, anchor, centred=True)
