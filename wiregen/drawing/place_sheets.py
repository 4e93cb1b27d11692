"""The sheets of places in which device cables begin at a strip: one row a device, from terminal to terminal."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from wiregen.drawing import fonts
from wiregen.drawing.box import Box
from wiregen.drawing.branches import Branch
from wiregen.drawing.cable_text import make_up
from wiregen.drawing.canvas import LEAST, TEXT
from wiregen.drawing.circuit import Circuit
from wiregen.drawing.device_symbols import draw_symbol
from wiregen.drawing.filling import filled
from wiregen.drawing.paragraphs import one_line, paragraph
from wiregen.drawing.plate import Plate
from wiregen.drawing.symbols import get
from wiregen.drawing.tags import draw_tag
from wiregen.drawing.units import Unit
from wiregen.terms import Pin
from wiregen.wiring.model import Cable

HEAD = 22.0  # above the first row
UNIT = 150.0  # from the left edge of the drawing area to the middle of a device, mm
TERMINAL_AT = 56.0  # from there to the middle of a strip terminal
TERMINAL = 5.0  # half its width
TAG = 11.0  # from its edge to a tag
ABOVE, BELOW = 12.0, 10.0  # of a row
EARTH = 9.0  # more below, where a protective conductor or a screen is drawn
NAME_REACH = 26.0  # from the middle of a device to the mark of its core, where a designation may end
NAME_LIFT = 3.0  # of one that is longer, over that mark
NOTES = 60.0  # width of what stands beside a device
TAG_TEXT = 46.0


@dataclass(frozen=True, slots=True)
class PlacePage:
    """The devices of one place that one sheet shows."""

    place: str
    branches: tuple[Branch, ...]
    part: int
    parts: int

    @property
    def title(self) -> str:
        part = f", {self.part} of {self.parts}" if self.parts > 1 else ""
        return f"Devices at {self.place}{part}"


def pages(place: str, branches: Sequence[Branch], circuit: Circuit, area: Box) -> list[PlacePage]:
    """As many sheets as the devices of a place need."""
    stacks = list(filled(branches, lambda branch: _height(branch, circuit), area.height - HEAD - 10.0))
    return [PlacePage(place, stack, i + 1, len(stacks)) for i, stack in enumerate(stacks)]


def _height(branch: Branch, circuit: Circuit) -> float:
    unit = branch.units[0]
    more = EARTH if unit.earth_pin is not None or _screen_of(unit, circuit) else 0.0
    return ABOVE + _rows_height(unit) + BELOW + more


def _rows_height(unit: Unit) -> float:
    ys = [y for key, (_, y) in unit.symbol.pins.items() if key != "pe"]
    return max(ys) - min(ys)


def _screen_of(unit: Unit, circuit: Circuit) -> Pin | None:
    """The screen of a device's own cable."""
    return next((Pin(cable.name, "screen") for cable in _cables_of(unit, circuit) if cable.screened), None)


def _cables_of(unit: Unit, circuit: Circuit) -> list[Cable]:
    """A device's own cables, in the order of its pins."""
    chains = (circuit.core_of(pin) for pin in unit.all_pins)
    names = dict.fromkeys(c.core.cable for c in chains if c is not None and c.core.cable)
    return [circuit.cables[name] for name in names]


def draw(plate: Plate, page: PlacePage, area: Box) -> None:
    """Draw one sheet."""
    y = area.y0 + HEAD
    heights = [_height(branch, plate.circuit) for branch in page.branches]
    bottom = min(y + sum(heights) + 3.0, area.y1 - 1.0)
    plate.canvas.place(Box(area.x0 + 2.0, area.y0 + 2.0, area.x1 - 2.0, bottom))
    title, size = one_line(plate.setting.title_of(page.place), area.width - 12.0)
    plate.canvas.text(area.x0 + 5.0, area.y0 + 7.4, title, size, strong=True)
    for branch, tall in zip(page.branches, heights, strict=True):
        _DeviceRow(plate, branch, area, y + ABOVE).draw()
        y += tall


class _DeviceRow:
    """One device being drawn; ``x`` is the middle of its symbol, ``y`` its first line."""

    def __init__(self, plate: Plate, branch: Branch, area: Box, y: float) -> None:
        self._plate, self._branch, self._area = plate, branch, area
        self._unit = branch.units[0]
        self._x, self._y = area.x0 + UNIT, y

    def draw(self) -> None:
        unit, references = self._unit, self._plate.setting.references
        key = unit.pins[0][0] if self._branch.box else unit.near
        top = self._y - unit.symbol.pins[key][1]
        draw_symbol(self._plate, unit, self._x, top)
        self._name(top)
        self._notes()
        for end in self._branch.function.ends:
            references.mark("input", end.id, self._plate.canvas, self._x, self._y)
        for key, _ in unit.pins:
            if key != "pe":
                dx, dy = unit.symbol.pins[key]
                out = -1 if key == unit.far else 1
                self._outwards(unit.pin(key), self._x + dx, top + dy, out)
        lower = self._y + _rows_height(unit) + EARTH
        self._earth(top, lower)
        self._screen(lower)

    def _name(self, top: float) -> None:
        unit = self._unit
        if self._branch.box is not None:
            ys = [dy for _, dy in unit.symbol.pins.values()]
            at, y = unit.symbol.box.x0 - 2.0, (min(ys) + max(ys)) / 2
            self._plate.canvas.text(self._x + at, top + y, unit.device, TEXT, "end", strong=True, centred=True)
        else:
            spot = min(unit.symbol.slots.values(), key=lambda s: s.x)
            long = fonts.text_width(unit.device, TEXT) - spot.x > NAME_REACH
            y = top + spot.y - (NAME_LIFT if long else 0.0)
            self._plate.canvas.text(self._x + spot.x, y, unit.device, TEXT, spot.anchor, strong=True)

    def _notes(self) -> None:
        """Function, texts, cross-references and cables, in a column at the right."""
        function = f"{self._branch.function.name} of {self._branch.function.controller}"
        cables = _cables_of(self._unit, self._plate.circuit)
        texts = [function, *self._unit.notes, *(f"{cable.name}: {make_up(cable)}" for cable in cables)]
        references = self._plate.setting.references
        others = references.others(self._unit)
        notes = paragraph(texts, NOTES, 3)
        x = self._area.x1 - 6.0 - NOTES
        top = self._y + _rows_height(self._unit) / 2 - (notes.height + len(others) * notes.step) / 2
        for i, line in enumerate(notes.lines):
            self._plate.canvas.text(x, top + 2.0 + i * notes.step, line, notes.size)
        for i, marks in enumerate(others, len(notes.lines)):
            says = references.quoting(self._unit, marks)
            references.note(self._plate.canvas, x, top + 2.0 + i * notes.step, says, NOTES)

    def _outwards(self, pin: Pin, x: float, y: float, out: int) -> None:
        """From a pin by its core to a strip terminal and a tag; straight to a tag where no core ends on it."""
        plate, circuit = self._plate, self._plate.circuit
        if circuit.potential(pin) is None:
            return
        chain, start = circuit.core_of(pin), x
        centre = self._x + out * TERMINAL_AT
        terminal = chain.terminal if chain is not None else self._wired_terminal(pin)
        if terminal is not None:
            plate.wires.add(pin, (x, y), (centre - out * TERMINAL, y))
            if chain is not None:
                text = f"{chain.core.cable} {chain.core.core}"
                plate.canvas.text(self._x + out * (TERMINAL_AT - 18.0), y - 1.0, text, LEAST, "middle")
            self._terminal(terminal, centre, y, named=y == self._y or out < 0)
            start = centre + out * TERMINAL
        end = centre + out * (TERMINAL + TAG)
        plate.wires.add(pin, (start, y), (end, y))
        plate.number(centre + out * (TERMINAL + TAG / 2 + 0.4), y, pin, room=TAG - 2.0)
        says = (lambda: "") if terminal is None else self._beyond(terminal)
        draw_tag(plate, end, y, pin, "right" if out > 0 else "left", TAG_TEXT, says, 1)

    def _wired_terminal(self, pin: Pin) -> Pin | None:
        """The strip terminal to which a pin is wired inside its place."""
        circuit = self._plate.circuit
        return next((p for p in circuit.neighbours(pin) if p.device in circuit.strips), None)

    def _terminal(self, terminal: Pin, x: float, y: float, named: bool) -> None:
        plate = self._plate
        plate.canvas.symbol(get("terminal", plate.setting.practice), x, y)
        for side in (-1, 1):
            plate.pin(x + side * TERMINAL, y, terminal)
        plate.canvas.text(x, y, *one_line(terminal.name, 8.4), "middle", centred=True)
        if named:  # the lines of one box stand too near for a name at each
            plate.canvas.text(x, y - 4.2, terminal.device, LEAST, "middle")

    def _beyond(self, terminal: Pin) -> Callable[[], str]:
        """The core that comes to a terminal from another strip, and what it is bridged to."""
        circuit, references = self._plate.circuit, self._plate.setting.references
        cores = [
            (f"{c.cable} {c.core} to", c.a if c.b == terminal else c.b)
            for c in circuit.conductors_at(terminal)
            if c.kind == "core" and c.b is not None and {c.a.device, c.b.device} <= circuit.strips.keys()
        ]
        bridged = circuit.bridged_to(terminal)
        more = [f"bridge {', '.join(bridged)}"] if bridged else []
        return lambda: "; ".join([*(f"{text} {pin} {references.of_pin(pin)}" for text, pin in cores if pin), *more])

    def _earth(self, top: float, lower: float) -> None:
        """The protective conductor of a load, from under its symbol to the strip."""
        pin = self._unit.earth_pin
        if pin is None or self._plate.circuit.potential(pin) is None:
            return
        dx, dy = self._unit.symbol.pins["pe"]
        self._plate.wires.add(pin, (self._x + dx, top + dy), (self._x + dx, lower))
        self._outwards(pin, self._x + dx, lower, 1)

    def _screen(self, lower: float) -> None:
        """The screen of the device's cable, with the tag of what it lands on."""
        screen = _screen_of(self._unit, self._plate.circuit)
        if screen is None or self._plate.circuit.potential(screen) is None:
            return
        x = self._x + 12.0
        self._plate.pin(x, lower, screen)
        self._plate.canvas.text(x, lower + 3.9, f"{screen.device} screen", LEAST, centred=True)
        self._plate.wires.add(screen, (x, lower), (x + TAG, lower))
        draw_tag(self._plate, x + TAG, lower, screen, "right", TAG_TEXT / 2, lambda: "", 1)
