"""What hangs on a controller's terminal: the device of one function, as symbols with pins in rows."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from wiregen.allocation.model import Assignment
from wiregen.control.functions import (
    Contact,
    Device,
    Function,
    Leg,
    Load,
    Meter,
    Parallel,
    Potentiometer,
    Sensor,
    Series,
    Thermistor,
    Transmitter,
)
from wiregen.drawing import fonts
from wiregen.drawing.canvas import LEAST, NOTE
from wiregen.drawing.loops import Loops
from wiregen.drawing.symbols import Practice, Symbol, get
from wiregen.pipeline import Design
from wiregen.terms import Pin

PITCH = 9.0  # between the pins of one box, mm
THROUGH_PITCH = 15.0  # where another receiver stands in the row between
_STUB_WIDTH = 26.0


@dataclass(frozen=True, slots=True)
class Unit:
    """One symbol of a branch and which pin of the device each of its keys is. ``near`` faces the controller."""

    device: str
    symbol: Symbol
    pins: tuple[tuple[str, str], ...]
    title: str
    notes: tuple[str, ...]
    near: str
    far: str | None  # the key of the far pin of a symbol that lies in a row
    elsewhere: int = 0  # how many other symbols of its device there are, each a line of its own

    def text(self, width: float) -> list[str]:
        """What stands beside the symbol, broken to lines; cross-references come after it."""
        return [piece for note in self.notes for piece in fonts.wrap(note, LEAST, width)]


@dataclass(frozen=True, slots=True)
class Lead:
    """A pin of a box that faces the controller, in a row counted from the box's first pin."""

    row: int
    pin: Pin
    key: str


@dataclass(frozen=True, slots=True)
class Branch:
    """The far side of one function: either units in a row, or one box with leads."""

    function: Function
    units: tuple[Unit, ...]
    leads: tuple[Lead, ...]  # empty for units in a row
    anchor: int  # the lead that goes to the function's own terminal
    place: str
    pitch: float = PITCH  # between the leads of a box, mm
    through: tuple[Unit, ...] = ()  # other receivers in the loop of a box, from the controller outwards

    @property
    def is_box(self) -> bool:
        return bool(self.leads)

    @property
    def near_pin(self) -> Pin:
        unit = self.units[0]
        return Pin(unit.device, dict(unit.pins)[unit.near])

    @property
    def earth_pin(self) -> Pin | None:
        """The protective terminal of a load, drawn below it."""
        unit = self.units[0]
        name = dict(unit.pins).get("pe")
        return Pin(unit.device, name) if name else None

    @property
    def far_pin(self) -> Pin | None:
        unit = self.units[-1]
        return Pin(unit.device, dict(unit.pins)[unit.far]) if unit.far else None


class BranchMaker:
    """Makes the branch of every function; ``mirrored`` for what stands on the right of a controller."""

    def __init__(self, design: Design) -> None:
        self._practice: Practice = design.scheme.model.practice
        self._devices = {d.name: d for d in design.declared.devices}
        self._by_end = {a.end: a for a in design.allocation.assignments}
        self._loops = Loops(design)
        self._symbols = _symbols_of(design)

    def assignment(self, end: str) -> Assignment | None:
        return self._by_end.get(end)

    def make(self, function: Function, mirrored: bool) -> Branch | None:
        """None where the function's far side has no terminal: an unplaced end at another controller."""
        partner = function.partner
        if partner is None:
            return self._stub(function, mirrored)
        if isinstance(partner, Leg | Series | Parallel):
            units = tuple(self._contact(leg, mirrored) for leg in reversed(list(_row(partner))))
            return Branch(function, units, (), 0, self._devices[units[0].device].place)
        if isinstance(partner, Load):
            unit = self._two_pin(partner.device, partner.a, partner.b, mirrored, partner.earth)
            return Branch(function, (unit,), (), 0, self._devices[partner.device].place)
        if isinstance(partner, Thermistor):
            unit = self._two_pin(partner.device, partner.b, partner.a, mirrored)
            return Branch(function, (unit,), (), 0, self._devices[partner.device].place)
        if isinstance(partner, Meter):
            unit = self._two_pin(partner.device, partner.plus, partner.minus, mirrored)
            return Branch(function, (unit,), (), 0, self._devices[partner.device].place)
        if isinstance(partner, Sensor) and partner.output is None:
            return self._two_wire_sensor(function, partner, mirrored)
        return self._box(function, partner, mirrored)

    def drawn_elsewhere(self, function: Function) -> bool:
        """Whether the device of a function is drawn at the last receiver of its loop, not here."""
        return self._loops.last_of(function) not in (None, function)

    def _through(self, function: Function) -> tuple[Unit, ...]:
        """The receivers before this one as boxes in the row of its signal; none where one has no way through."""
        found: list[Unit] = []
        for receiver in reversed(self._loops.before(function)):
            at = self._by_end.get(receiver.ends[0].id)
            if at is None or len(at.pins) != 2:
                return ()
            symbol = get("through", self._practice)
            pins = (("in", at.pins[0]), ("out", at.pins[1]))
            found.append(Unit(at.device, symbol, pins, at.device, (), "out", "in"))
        return tuple(found)

    def receiver(self, function: Function, unit: Unit) -> Branch:
        """A receiver in the loop of a function as a box of its own: the way out first, towards the controller."""
        device = self._devices[unit.device]
        names = tuple(reversed([name for _, name in unit.pins]))
        symbol = get("box", self._practice, pins=names, pitch=PITCH, width=_STUB_WIDTH)
        pins = tuple((name, name) for name in names)
        box = Unit(device.name, symbol, pins, device.name, (device.profile.title,), names[0], None, 1)
        leads = tuple(Lead(row, Pin(device.name, name), name) for row, name in enumerate(names))
        return Branch(function, (box,), leads, 0, device.place)

    # Symbols that lie in a row

    def _contact(self, leg: Leg, mirrored: bool) -> Unit:
        device = self._devices[leg.contact.device]
        options: dict[str, object] = {"form": "make" if leg.contact.form == "NO" else "break"}
        actuator = device.profile.actuator
        options["actuator"] = actuator
        if device.kind == "emergency_stop":  # latches and opens by force, as ISO 13850 and IEC 60947-5-5 demand
            options |= {"latched": True, "direct_opening": True}
        elif device.declared.opens == "positively":
            options["direct_opening"] = True
        if actuator == "process":
            options["quantity"] = _quantity(device)
        symbol = get("contact", self._practice, mirrored=mirrored, **options)
        near, far = ("b", "a")
        return Unit(
            device.name,
            symbol,
            ((near, leg.b.name), (far, leg.a.name)),
            device.name,
            _contact_notes(device, leg.contact),
            near,
            far,
            self._symbols[device.name] - 1,
        )

    def _two_pin(self, name: str, near: Pin, far: Pin, mirrored: bool, earth: Pin | None = None) -> Unit:
        device = self._devices[name]
        kind = {"relay": "coil", "contactor": "coil", "safety_relay": "coil"}.get(device.kind, device.kind)
        options = {"earth": True} if earth else {}
        symbol = get(kind, self._practice, mirrored=not mirrored, **options)
        pins = (("a", near.name), ("b", far.name), *((("pe", earth.name),) if earth else ()))
        return Unit(name, symbol, pins, name, _notes(device), "a", "b", max(self._symbols[name] - 1, 0))

    def _two_wire_sensor(self, function: Function, sensor: Sensor, mirrored: bool) -> Branch:
        """The pin at the input is minus for source and plus for sink; the symbol turns to face the controller."""
        at = self._by_end.get(function.ends[0].id)
        sink = at is not None and at.polarity == "sink"
        near, far = ("plus", "minus") if sink else ("minus", "plus")
        device = self._devices[sensor.device]
        symbol = get("proximity_two_wire", self._practice, mirrored=mirrored != sink)
        pins = {"plus": sensor.plus.name, "minus": sensor.minus.name}
        unit = Unit(device.name, symbol, ((near, pins[near]), (far, pins[far])), device.name, _notes(device), near, far)
        return Branch(function, (unit,), (), 0, device.place)

    # Boxes

    def _box(self, function: Function, partner: object, mirrored: bool) -> Branch:
        if isinstance(partner, Potentiometer):
            pins = {"high": partner.high, "wiper": partner.wiper, "low": partner.low}
            return self._with_leads(function, partner.device, "potentiometer", pins, "wiper", mirrored)
        if isinstance(partner, Sensor):
            assert partner.output is not None
            pins = {"plus": partner.plus, "out": partner.output, "minus": partner.minus}
            return self._with_leads(function, partner.device, "proximity_three_wire", pins, "out", mirrored)
        assert isinstance(partner, Transmitter)
        if partner.wires == 2:
            pins = {"plus": partner.plus, "minus": partner.minus}
            return self._with_leads(function, partner.device, "transmitter_two_wire", pins, "minus", mirrored)
        if partner.wires == 3:
            pins = {"plus": partner.plus, "out": partner.output, "minus": partner.minus}
            return self._with_leads(function, partner.device, "transmitter_three_wire", pins, "out", mirrored)
        assert partner.output_return is not None
        pins = {"plus": partner.plus, "minus": partner.minus, "out+": partner.output, "out-": partner.output_return}
        return self._with_leads(function, partner.device, "transmitter_four_wire", pins, "out+", mirrored)

    def _with_leads(
        self, function: Function, name: str, kind: str, pins: dict[str, Pin], anchor: str, mirrored: bool
    ) -> Branch:
        device = self._devices[name]
        through = self._through(function)
        pitch = THROUGH_PITCH if through else PITCH
        options: dict[str, object] = {"pitch": pitch}
        if kind.startswith("transmitter"):
            options |= {"letter": _quantity(device), "lines": (device.declared.measures or "",)}
        if kind == "proximity_three_wire":
            options["output"] = device.declared.output or "PNP"
        symbol = get(kind, self._practice, mirrored=mirrored, **options)
        notes = _notes(device)
        if kind == "potentiometer":
            notes = (device.declared.resistance or device.profile.figures["resistance"].value, *notes)
        unit = Unit(name, symbol, tuple((k, p.name) for k, p in pins.items()), name, notes, anchor, None)
        leads = tuple(Lead(row, pin, key) for row, (key, pin) in enumerate(pins.items()))
        return Branch(function, (unit,), leads, list(pins).index(anchor), device.place, pitch, through)

    def _stub(self, function: Function, mirrored: bool) -> Branch | None:
        """Another controller stands as a stub with the pins of this function."""
        if len(function.ends) < 2:
            return None
        at = self._by_end.get(function.ends[1].id)
        if at is None:
            return None
        device = self._devices[at.device]
        names = list(at.pins[:2]) if at.form not in ("NC", "changeover") or len(at.pins) == 2 else list(at.pins)
        if function.purpose in ("input", "safe_torque_off") and len(names) == 2:
            names.reverse()  # the switched side faces the input's own row
        width = max(_STUB_WIDTH, 8.0 + max(fonts.text_width(n, NOTE) for n in names))
        symbol = get("box", self._practice, mirrored=mirrored, pins=tuple(names), pitch=PITCH, width=width)
        pins = tuple((n, n) for n in names)
        unit = Unit(device.name, symbol, pins, device.name, (device.profile.title,), names[0], None, 1)
        leads = tuple(Lead(row, Pin(device.name, n), n) for row, n in enumerate(names))
        return Branch(function, (unit,), leads, 0, device.place)


def _symbols_of(design: Design) -> Counter[str]:
    """How many symbols each device is drawn as: its contacts in use, and its coil."""
    drawn: set[tuple[str, str]] = set()
    for function in design.functions:
        partner = function.partner
        if isinstance(partner, Leg | Series | Parallel):
            drawn |= {(leg.contact.device, leg.contact.name) for leg in _row(partner)}
        elif isinstance(partner, Load):
            drawn.add((partner.device, "coil"))
    return Counter(device for device, _ in drawn)


def _row(tree: Leg | Series | Parallel) -> Iterator[Leg]:
    """The contacts of a series, from the feed to the terminal."""
    if isinstance(tree, Leg):
        yield tree
    else:
        for part in tree.parts:
            yield from _row(part)


_QUANTITIES = (
    ("pressure", "p"),
    ("level", "L"),
    ("temperature", "θ"),
    ("winding", "θ"),
    ("frost", "θ"),
    ("flow", "F"),
)
_UNITS = (
    ("bar", "p"),
    ("kpa", "p"),
    ("pa", "p"),
    ("degc", "θ"),
    ("c", "θ"),
    ("m3/h", "F"),
    ("l/min", "F"),
    ("l/s", "F"),
)
_LETTERS = {"BP": "p", "BL": "L", "BT": "θ", "BF": "F"}


def _quantity(device: Device) -> str:
    """The letter of the quantity that a process contact or transmitter answers to: by words, unit or designation."""
    words = f"{device.declared.operated_when} {device.text}".lower()
    for word, letter in _QUANTITIES:
        if word in words:
            return letter
    measures = (device.declared.measures or "").lower()
    for unit, letter in _UNITS:
        if measures.endswith(f" {unit}"):
            return letter
    return _LETTERS.get(device.name.strip("-+=")[:2], "")


def _notes(device: Device) -> tuple[str, ...]:
    return (device.text,) if device.text else ()


def _contact_notes(device: Device, contact: Contact) -> tuple[str, ...]:
    parts = [p for p in (device.text, contact.position or "") if p]
    if device.declared.operated_when:
        verb = "opens when" if contact.form == "NC" else "closes when"
        parts.append(f"{verb} {device.declared.operated_when}")
    return (", ".join(parts),) if parts else ()
