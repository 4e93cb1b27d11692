"""The sheets of places in which device cables begin at a strip: one row a device, from terminal to terminal."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from wiregen.control.functions import Function, Leg, Parallel, Series
from wiregen.drawing import fonts
from wiregen.drawing.box import Box
from wiregen.drawing.branches import PITCH, Branch, BranchMaker, Unit
from wiregen.drawing.canvas import LEAST, NOTE, TEXT, Canvas
from wiregen.drawing.circuit import Circuit
from wiregen.drawing.lines import is_beyond_strip
from wiregen.drawing.placing import cable_lines
from wiregen.drawing.references import References
from wiregen.drawing.relay_layout import is_plain, shared_pins
from wiregen.drawing.symbols import get
from wiregen.pipeline import Design
from wiregen.terms import Pin

HEAD = 24.0  # above the first row
UNIT = 160.0  # from the left edge of the drawing area to the middle of a device, mm
TERMINAL_AT = 56.0  # from there to the middle of a strip terminal
TERMINAL = 5.0  # half its width
TAG = 8.0  # from its edge to a tag
ABOVE, BELOW = 13.0, 12.0  # of a row
EARTH = 9.0  # more below, where a protective conductor or a screen is drawn
NOTES = 60.0  # width of what stands beside a device


@dataclass(frozen=True, slots=True)
class PlacePage:
    """The devices of one place that one sheet shows."""

    place: str
    branches: tuple[Branch, ...]
    part: int
    parts: int


@dataclass(slots=True)
class Shown:
    """What stands on a sheet: strip terminals and screens, and each symbol and function with its place."""

    terminals: set[Pin] = field(default_factory=set)
    units: list[tuple[Unit, float, float]] = field(default_factory=list)
    inputs: list[tuple[str, float, float]] = field(default_factory=list)


class PlaceSheets:
    """Lays out and draws the devices of all such places."""

    def __init__(self, design: Design, circuit: Circuit, area: Box) -> None:
        self.circuit, self.area = circuit, area
        self.practice = design.scheme.model.practice
        self._names = {name: place.name for name, place in design.scheme.model.places.items()}
        places = {d.name: d.place for d in design.declared.devices}
        maker = BranchMaker(design)
        shared = shared_pins(design.functions)
        self._branches: dict[str, list[Branch]] = {name: [] for name in self._names}
        for function in design.functions:
            branch = maker.make(function, False) if _is_drawn_plain(function, shared) else None
            if branch is not None and is_beyond_strip(branch, places[function.controller], circuit):
                self._branches[branch.place].append(branch)

    def pages(self) -> list[PlacePage]:
        """As many sheets a place as its devices need."""
        found: list[PlacePage] = []
        for place, branches in self._branches.items():
            stacks = list(self._stacks(branches))
            found += [PlacePage(place, stack, i + 1, len(stacks)) for i, stack in enumerate(stacks)]
        return found

    def title(self, page: PlacePage) -> str:
        part = f", {page.part} of {page.parts}" if page.parts > 1 else ""
        return f"Devices at {page.place}{part}"

    def _stacks(self, branches: list[Branch]) -> Iterator[tuple[Branch, ...]]:
        room = self.area.height - HEAD - 12.0
        stack: list[Branch] = []
        used = 0.0
        for branch in branches:
            tall = self._height(branch)
            if stack and used + tall > room:
                yield tuple(stack)
                stack, used = [], 0.0
            stack.append(branch)
            used += tall
        if stack:
            yield tuple(stack)

    def _height(self, branch: Branch) -> float:
        rows = PITCH * (len(branch.leads) - 1) if branch.is_box else 0.0
        more = EARTH if branch.earth_pin is not None or self.screen_of(branch) else 0.0
        return ABOVE + rows + BELOW + more

    def draw(self, canvas: Canvas, page: PlacePage, references: References) -> Shown:
        """Draw one sheet; gives what stands on it."""
        shown = Shown()
        area = self.area
        y = area.y0 + HEAD
        heights = [self._height(branch) for branch in page.branches]
        canvas.place(Box(area.x0 + 4.0, area.y0 + 3.0, area.x1 - 4.0, min(y + sum(heights) + 4.0, area.y1 - 3.0)))
        title = f"{page.place}  {self._names[page.place]}".strip()
        canvas.text(area.x0 + 7.0, area.y0 + 9.0, title, TEXT, strong=True)
        for branch, tall in zip(page.branches, heights, strict=True):
            _Row(self, canvas, branch, area.x0 + UNIT, y + ABOVE, references, shown).draw()
            y += tall
        return shown

    def screen_of(self, branch: Branch) -> Pin | None:
        """The screen of a device's own cable."""
        for unit in branch.units:
            for _, name in unit.pins:
                found = self.circuit.core_at(Pin(unit.device, name))
                cable = self.circuit.cables[found[0].cable or ""] if found else None
                if cable is not None and cable.screened:
                    return Pin(cable.name, "screen")
        return None


@dataclass(slots=True)
class _Row:
    """One device being drawn; ``x`` is the middle of its symbol, ``y`` its first line."""

    sheets: PlaceSheets
    canvas: Canvas
    branch: Branch
    x: float
    y: float
    references: References
    shown: Shown

    def draw(self) -> None:
        unit = self.branch.units[0]
        if self.branch.is_box:
            first = unit.symbol.pins[self.branch.leads[0].key][1]
            self._unit(unit, self.y - first)
            for lead in self.branch.leads:
                dx, dy = unit.symbol.pins[lead.key]
                self._outwards(lead.pin, self.x + dx, self.y - first + dy, 1)
        else:
            self._unit(unit, self.y)
            near, far = unit.symbol.pins[unit.near], unit.symbol.pins[unit.far or unit.near]
            pins = dict(unit.pins)
            self._outwards(Pin(unit.device, pins[unit.near]), self.x + near[0], self.y, 1)
            if unit.far:
                self._outwards(Pin(unit.device, pins[unit.far]), self.x + far[0], self.y, -1)
        lower = self.y + (PITCH * (len(self.branch.leads) - 1) if self.branch.is_box else 0.0) + EARTH
        self._earth(unit, lower)
        self._screen(lower)
        self.shown.units.append((unit, self.x, self.y))
        self.shown.inputs.append((self.branch.function.ends[0].id, self.x, self.y))

    def _unit(self, unit: Unit, y: float) -> None:
        canvas = self.canvas
        canvas.device(unit.symbol, self.x, y, unit.device, dict(unit.pins), NOTE)
        canvas.note(unit.symbol, self.x, y, "name", unit.title, TEXT, strong=True)
        function = f"{self.branch.function.name} of {self.branch.function.controller}"
        notes = [function, *unit.notes, *self.references.notes_of(unit), *self._cable_notes(unit)]
        lines = [piece for text in notes for piece in fonts.wrap(text, LEAST, NOTES)]
        top = y - 3.6 * (len(lines) - 1) / 2
        for i, text in enumerate(lines):
            canvas.text(self.sheets.area.x1 - 8.0 - NOTES, top + 3.6 * i, text, LEAST, centred=True)

    def _cable_notes(self, unit: Unit) -> list[str]:
        """The device's own cables with their make-up."""
        circuit = self.sheets.circuit
        cores = (circuit.core_at(Pin(unit.device, name)) for _, name in unit.pins)
        names = dict.fromkeys(core[0].cable for core in cores if core is not None and core[0].cable)
        return [f"{name}: {', '.join(cable_lines(circuit.cables[name])[:1])}" for name in names]

    def _outwards(self, pin: Pin, x: float, y: float, out: int) -> None:
        """From a pin by its core to a strip terminal and a tag; straight to a tag where no core ends on it."""
        circuit, canvas = self.sheets.circuit, self.canvas
        potential = circuit.potential(pin)
        if potential is None:
            return
        found = circuit.core_at(pin)
        start = x
        centre = self.x + out * TERMINAL_AT
        terminal = found[1] if found is not None else self._wired_terminal(pin)
        if terminal is not None:
            canvas.wire([(x, y), (centre - out * TERMINAL, y)])
            if found is not None:
                text = f"{found[0].cable} {found[0].core}"
                canvas.text(self.x + out * (TERMINAL_AT - 18.0), y - 1.0, text, LEAST, "middle")
            self._terminal(terminal, centre, y, named=y == self.y or out < 0)
            start = centre + out * TERMINAL
        end = centre + out * (TERMINAL + TAG)
        canvas.wire([(start, y), (end, y)])
        canvas.text(centre + out * (TERMINAL + 4.2), y - 1.0, potential.number, NOTE, "middle")
        canvas.tag(end, y, potential.name, "right" if out > 0 else "left", size=NOTE)
        note = self._beyond(terminal) if terminal is not None else ""
        if note:
            canvas.text(end + out * 4.2, y + 3.9, note, LEAST, "start" if out > 0 else "end", centred=True)

    def _wired_terminal(self, pin: Pin) -> Pin | None:
        """The strip terminal to which a pin is wired inside its place."""
        return next((p for p in self.sheets.circuit.neighbours(pin) if p.device in self.sheets.circuit.strips), None)

    def _terminal(self, terminal: Pin, x: float, y: float, named: bool) -> None:
        canvas = self.canvas
        canvas.symbol(get("terminal", self.sheets.practice), x, y)
        for side in (-1, 1):
            canvas.pin(x + side * TERMINAL, y, str(terminal))
        canvas.text(x, y, terminal.name, TEXT, "middle", centred=True)
        if named:  # the lines of one box stand too near for a name at each
            canvas.text(x, y - 4.4, terminal.device, LEAST, "middle")
        self.shown.terminals.add(terminal)

    def _beyond(self, terminal: Pin) -> str:
        """The core that comes to a terminal from another strip, and what it is bridged to."""
        circuit = self.sheets.circuit
        parts = [
            f"{c.cable} {c.core} to {c.a if c.b == terminal else c.b}"
            for c in circuit.conductors_at(terminal)
            if c.kind == "core" and c.b is not None and {c.a.device, c.b.device} <= circuit.strips.keys()
        ]
        bridged = circuit.bridged_to(terminal)
        return "; ".join([*parts, *([f"bridge {', '.join(bridged)}"] if bridged else [])])

    def _earth(self, unit: Unit, lower: float) -> None:
        """The protective conductor of a load, from under its symbol to the strip."""
        pin = self.branch.earth_pin
        if pin is None or self.sheets.circuit.potential(pin) is None:
            return
        dx, dy = unit.symbol.pins["pe"]
        self.canvas.wire([(self.x + dx, self.y + dy), (self.x + dx, lower)])
        self._outwards(pin, self.x + dx, lower, 1)

    def _screen(self, lower: float) -> None:
        """The screen of the device's cable, with the tag of what it lands on."""
        screen = self.sheets.screen_of(self.branch)
        potential = self.sheets.circuit.potential(screen) if screen else None
        if screen is None or potential is None:
            return
        x = self.x + 12.0
        self.canvas.pin(x, lower, str(screen))
        self.shown.terminals.add(screen)
        self.canvas.text(x, lower + 3.9, f"{screen.device} screen", LEAST, centred=True)
        self.canvas.wire([(x, lower), (x + TAG, lower)])
        self.canvas.tag(x + TAG, lower, potential.name, "right", size=NOTE)


def _is_drawn_plain(function: Function, shared: frozenset[Pin]) -> bool:
    """Whether a function's device is no circuit of contacts that has a sheet of its own."""
    tree = function.partner
    if tree is None or function.purpose == "coil":
        return False
    return not isinstance(tree, Leg | Series | Parallel) or is_plain(tree, shared)
