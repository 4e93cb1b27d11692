"""The sheets of the power side: mains, protective device, drive, motor cable, motor; one band a drive."""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.control.functions import Device, PowerSide
from wiregen.drawing.box import Box
from wiregen.drawing.cable_text import cable_lines, screen_text
from wiregen.drawing.canvas import LEAST, NOTE, TEXT, Canvas
from wiregen.drawing.circuit import Circuit
from wiregen.drawing.filling import filled
from wiregen.drawing.symbols import HEAVY, get
from wiregen.pipeline import Design
from wiregen.terms import Pin
from wiregen.wiring.model import Cable, Conductor

TITLE = "Power side"
REMARK = "The power side is drawn as declared: nothing of it is rated, neither protection nor conductors."
PITCH = 9.0
HEAD = 22.0  # of a band, above its first row
FOOT = 20.0  # below its last row, for the texts of the cable and the tag of its screen
GAP = 4.0
# Across the sheet, from the left edge of the drawing area, mm.
BREAKER, DRIVE_LEFT, DRIVE_RIGHT, EARTH_TAG = 66.0, 104.0, 152.0, 164.0
EDGE, CABLE, FAR_EDGE, MOTOR = 198.0, 216.0, 238.0, 268.0
FAR_END = 384.0
NOT_HERE = "mains, not in this set"


@dataclass(frozen=True, slots=True)
class PowerPage:
    """The drives whose power side one sheet shows."""

    sides: tuple[PowerSide, ...]
    part: int
    parts: int

    @property
    def title(self) -> str:
        return TITLE + (f", {self.part} of {self.parts}" if self.parts > 1 else "")


class PowerSheets:
    """Lays out and draws the power side of all drives that declare one."""

    def __init__(self, design: Design, circuit: Circuit, area: Box) -> None:
        self._design, self._circuit, self._area = design, circuit, area
        self._devices = {d.name: d for d in design.declared.devices}
        self._practice = design.scheme.model.practice

    def pages(self) -> list[PowerPage]:
        stacks = list(filled(self._design.declared.powers, self._height, self._area.height - 2 * GAP, GAP))
        return [PowerPage(stack, i, len(stacks)) for i, stack in enumerate(stacks, 1)]

    def draw(self, canvas: Canvas, page: PowerPage) -> None:
        y = self._area.y0 + GAP
        for side in page.sides:
            _Band(canvas, self._design, self._circuit, self._devices, side, self._area.x0).draw(y, self._height(side))
            y += self._height(side) + GAP

    def _height(self, side: PowerSide) -> float:
        drive = self._devices[side.drive]
        rows = max(sum(t.role == role for t in drive.profile.power) for role in ("mains", "motor"))
        return HEAD + rows * PITCH + FOOT


class _Band:
    """One drive with what stands before and behind it."""

    def __init__(
        self,
        canvas: Canvas,
        design: Design,
        circuit: Circuit,
        devices: dict[str, Device],
        side: PowerSide,
        left: float,
    ) -> None:
        self._canvas, self._design, self._circuit, self._devices = canvas, design, circuit, devices
        self._side, self._left, self._drive = side, left, devices[side.drive]
        self._practice = design.scheme.model.practice
        self._mains = [t.label for t in self._drive.profile.power if t.role == "mains"]
        self._phases = [t.label for t in self._drive.profile.power if t.role == "motor"]

    def draw(self, top: float, height: float) -> None:
        y = top + HEAD
        self._places(top, top + height)
        self._box(y)
        self._feed(y)
        cable = self._cable()
        if self._side.motor is not None and cable is not None:
            self._motor(y, cable)
        self._earth(y + PITCH * len(self._phases))

    def _x(self, distance: float) -> float:
        return self._left + distance

    def _cable(self) -> Cable | None:
        core = next((c for c in self._at(self._side.earth) if c.cable is not None), None)
        return self._circuit.cables[core.cable] if core and core.cable else None

    def _at(self, pin: Pin) -> list[Conductor]:
        return self._circuit.conductors_at(pin)

    # Places

    def _places(self, top: float, bottom: float) -> None:
        motor = self._devices.get(self._side.motor or "")
        apart = motor is not None and motor.place != self._drive.place
        self._place(self._drive.place, 2.0, EDGE if apart or motor is None else FAR_END, top, bottom)
        if motor is not None and apart:
            self._place(motor.place, FAR_EDGE, FAR_END, top, bottom)

    def _place(self, place: str, x0: float, x1: float, top: float, bottom: float) -> None:
        self._canvas.place(Box(self._x(x0), top, self._x(x1), bottom))
        name = self._design.scheme.model.places[place].name
        self._canvas.text(self._x(x0 + 3.0), top + 5.4, f"{place} {name}".strip(), TEXT, strong=True)

    # Drive

    def _box(self, y: float) -> None:
        """The drive: mains on the left, motor and PE on the right. Its other terminals have sheets of their own."""
        rows = max(len(self._mains), len(self._phases) + 1)
        box = Box(self._x(DRIVE_LEFT), y - 6.0, self._x(DRIVE_RIGHT), y + PITCH * (rows - 1) + 6.0)
        self._canvas.rect(box, HEAVY)
        middle = self._x((DRIVE_LEFT + DRIVE_RIGHT) / 2)
        self._canvas.text(middle, box.y0 - 2.0, self._drive.name, TEXT, "middle", strong=True)
        self._canvas.text(middle, box.y1 + 4.4, self._drive.profile.title, NOTE, "middle")
        left, right = self._x(DRIVE_LEFT), self._x(DRIVE_RIGHT)
        for i, label in enumerate(self._mains):
            self._canvas.pin(left, y + PITCH * i, f"{self._drive.name}:{label}")
            self._canvas.text(left + 2.4, y + PITCH * i, label, TEXT, "start", strong=True, centred=True)
        for i, label in enumerate((*self._phases, self._side.earth.name)):
            self._canvas.pin(right, y + PITCH * i, f"{self._drive.name}:{label}")
            self._canvas.text(right - 2.4, y + PITCH * i, label, TEXT, "end", strong=True, centred=True)

    # Before it

    def _feed(self, y: float) -> None:
        if self._side.supply is None:
            for i in range(len(self._mains)):
                self._canvas.text(self._x(DRIVE_LEFT) - 2.4, y + PITCH * i, NOT_HERE, LEAST, "end", centred=True)
            return
        breaker = self._devices[self._side.supply]
        symbol = get("breaker", self._practice, poles=len(self._side.feeders), pitch=PITCH)
        lines = [t.label for t in breaker.profile.terminals if t.role == "line"]
        names = {f"in{i + 1}": name for i, name in enumerate(lines)}
        names |= {f"out{i + 1}": a.name for i, (a, _) in enumerate(self._side.feeders)}
        at = self._canvas.device(symbol, self._x(BREAKER), y, breaker.name, names)
        self._canvas.note(symbol, self._x(BREAKER), y, "name", breaker.name, strong=True)
        title = breaker.text or breaker.profile.title
        self._canvas.note(symbol, self._x(BREAKER), y, "note", title, NOTE)
        for i, (a, _) in enumerate(self._side.feeders):
            x, row = at[f"out{i + 1}"]
            self._wire(x, self._x(DRIVE_LEFT), row, a, self._x(DRIVE_LEFT) - 9.0)
            self._canvas.text(at[f"in{i + 1}"][0] - 11.0, row, NOT_HERE, LEAST, "end", centred=True)

    # Behind it

    def _motor(self, y: float, cable: Cable) -> None:
        motor = self._devices[cable.device]
        symbol = get("motor", self._practice, phases=len(self._phases), pitch=PITCH)
        earth = self._side.motor_earth
        assert earth is not None  # a motor's profile has one
        names = {f"p{i + 1}": b.name for i, (_, b) in enumerate(self._side.phases)} | {"pe": earth.name}
        self._canvas.device(symbol, self._x(MOTOR), y, motor.name, names)
        self._canvas.note(symbol, self._x(MOTOR), y, "name", motor.name, strong=True)
        self._canvas.note(symbol, self._x(MOTOR), y, "note", motor.text or motor.profile.title, NOTE)
        for i, (a, _) in enumerate((*self._side.phases, (self._side.earth, earth))):
            row = y + PITCH * i
            start = DRIVE_RIGHT if i < len(self._side.phases) else EARTH_TAG
            self._wire(self._x(start), self._x(MOTOR), row, a, self._x(EARTH_TAG + 12.0))
            self._canvas.text(self._x(CABLE + 6.6), row - 1.0, cable.marks[i], NOTE, "middle")
        self._ring(y, y + PITCH * len(self._side.phases), cable)

    def _ring(self, y0: float, y1: float, cable: Cable) -> None:
        x = self._x(CABLE)
        symbol = get("screen" if cable.screened else "cable", self._practice, height=y1 - y0)
        self._canvas.symbol(symbol, x, y0)
        self._canvas.note(symbol, x, y0, "name", cable.name, TEXT, strong=True)
        if cable.screened:
            self._screen(x, y0 + symbol.pins["screen"][1], cable)
        edge = self._x(FAR_EDGE + 3.0)
        lines = [*cable_lines(cable, FAR_END - FAR_EDGE), *([screen_text(cable)] if cable.screened else [])]
        for i, text in enumerate(lines):
            self._canvas.text(edge, y1 + 9.0 + 4.0 * i, text, LEAST)

    def _screen(self, x: float, y: float, cable: Cable) -> None:
        pin = Pin(cable.name, "screen")
        self._canvas.pin(x, y, str(pin))
        self._canvas.text(x + 1.5, y - 1.2, "screen", LEAST, "start", centred=True)
        potential = self._circuit.potential(pin)
        assert potential is not None  # the screen of a power cable always lands on PE
        self._canvas.wire([(x, y), (x, y + 2.5)])
        self._canvas.tag(x, y + 2.5, potential.name, "down", size=NOTE)

    def _earth(self, y: float) -> None:
        """PE of the drive, from the cabinet's strip; the motor's core goes on from the same terminal."""
        potential = self._circuit.potential(self._side.earth)
        assert potential is not None  # PE of a drive with a power side is always tied
        x, end = self._x(DRIVE_RIGHT), self._x(EARTH_TAG)
        self._canvas.wire([(x, y), (end, y)])
        self._canvas.wire([(end, y), (end, y + 4.0)])
        if self._side.motor is not None:
            self._canvas.junction(end, y)
        self._canvas.text((x + end) / 2, y - 1.0, potential.number, NOTE, "middle")
        self._canvas.tag(end, y + 4.0, potential.name, "down", size=NOTE)
        strips = [str(p) for p in self._circuit.neighbours(self._side.earth) if p.device in self._circuit.strips]
        if strips:
            self._canvas.text(end + 2.3, y + 10.4, f"to {', '.join(strips)}", LEAST)

    def _wire(self, x0: float, x1: float, y: float, pin: Pin, number_at: float) -> None:
        self._canvas.wire([(x0, y), (x1, y)])
        potential = self._circuit.potential(pin)
        if potential is not None:
            self._canvas.text(number_at, y - 1.0, potential.number, NOTE, "middle")
