"""Devices as symbols on a sheet: which symbol, which of the device's pins stands where, and what is written at it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from wiregen.control.functions import Contact, Device, Leg, Load, Meter, Potentiometer, Sensor, Thermistor, Transmitter
from wiregen.drawing import fonts
from wiregen.drawing.canvas import TEXT
from wiregen.drawing.measured import quantity
from wiregen.drawing.symbols import Practice, Symbol, get
from wiregen.pipeline import Design
from wiregen.terms import Pin

PITCH = 7.5  # between the pins of a box, mm
BOX_WIDTH = 22.0
STUB_WIDTH = 18.0


@dataclass(frozen=True, slots=True)
class Unit:
    """One symbol and which pin of the device each of its keys is.

    ``near`` faces the controller; ``far`` is the key of the far pin of a symbol that lies in a row. ``kind`` is
    contact, load, sensor, box, or stub: a controller that has a sheet of its own.
    """

    device: str
    kind: str
    symbol: Symbol
    pins: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]
    near: str
    far: str | None

    def pin(self, key: str) -> Pin:
        return Pin(self.device, dict(self.pins)[key])

    @property
    def near_pin(self) -> Pin:
        return self.pin(self.near)

    @property
    def far_pin(self) -> Pin | None:
        return self.pin(self.far) if self.far else None

    @property
    def earth_pin(self) -> Pin | None:
        """The protective terminal of a load, drawn below it."""
        return self.pin("pe") if any(key == "pe" for key, _ in self.pins) else None

    @property
    def all_pins(self) -> tuple[Pin, ...]:
        return tuple(Pin(self.device, name) for _, name in self.pins)

    @property
    def marks(self) -> str:
        """The pins as the device's other symbols quote them: ``13-14``, ``A1-A2``."""
        return marks_of(name for key, name in sorted(self.pins) if key != "pe")


def marks_of(names: Iterable[str]) -> str:
    """The marks of a symbol's pins as one text, ``13-14``."""
    return "-".join(names)


class UnitMaker:
    """Makes the units of one design in its practice; ``mirrored`` for what stands on the right of a controller."""

    def __init__(self, design: Design) -> None:
        self._practice: Practice = design.scheme.model.practice
        self._devices = {d.name: d for d in design.declared.devices}

    def contact(self, leg: Leg, mirrored: bool) -> Unit:
        device = self._devices[leg.contact.device]
        options: dict[str, object] = {"form": "make" if leg.contact.form == "NO" else "break"}
        options["actuator"] = device.profile.actuator
        if device.kind == "emergency_stop":  # latches and opens by force, as ISO 13850 and IEC 60947-5-5 demand
            options |= {"latched": True, "direct_opening": True}
        elif device.declared.opens == "positively":
            options["direct_opening"] = True
        if device.profile.actuator == "process":
            options["quantity"] = quantity(device)
        symbol = get("contact", self._practice, mirrored=mirrored, **options)
        pins = (("a", leg.a.name), ("b", leg.b.name))
        return Unit(device.name, "contact", symbol, pins, _contact_notes(device, leg.contact), "b", "a")

    def load(self, load: Load, mirrored: bool) -> Unit:
        """A lamp, horn, valve or coil; its switched side faces the controller."""
        return self._two_pins(load.device, load.a, load.b, mirrored, load.earth)

    def meter(self, meter: Meter, mirrored: bool) -> Unit:
        return self._two_pins(meter.device, meter.plus, meter.minus, mirrored)

    def thermistor(self, sensors: Thermistor, mirrored: bool) -> Unit:
        return self._two_pins(sensors.device, sensors.b, sensors.a, mirrored)

    def _two_pins(self, name: str, near: Pin, far: Pin, mirrored: bool, earth: Pin | None = None) -> Unit:
        device = self._devices[name]
        kind = {"relay": "coil", "contactor": "coil", "safety_relay": "coil"}.get(device.kind, device.kind)
        options: dict[str, bool] = {"earth": True} if earth else {}
        if kind == "coil" and device.profile.suppression == "diode" and device.declared.coil is None:
            options["suppression"] = True
        symbol = get(kind, self._practice, mirrored=not mirrored, **options)
        pins = (("a", near.name), ("b", far.name), *((("pe", earth.name),) if earth else ()))
        return Unit(name, "load", symbol, pins, _texts(device), "a", "b")

    def two_wire_sensor(self, sensor: Sensor, sink: bool, mirrored: bool) -> Unit:
        """The pin at the input is minus for source and plus for sink; the symbol turns to face the controller."""
        device = self._devices[sensor.device]
        near, far = ("plus", "minus") if sink else ("minus", "plus")
        symbol = get("proximity_two_wire", self._practice, mirrored=mirrored != sink)
        pins = (("plus", sensor.plus.name), ("minus", sensor.minus.name))
        return Unit(device.name, "sensor", symbol, pins, _texts(device), near, far)

    def through(self, name: str, inner: str, outer: str) -> Unit:
        """A receiver in the loop of another one, in a row to the left of a controller."""
        symbol = get("through", self._practice)
        return Unit(name, "stub", symbol, (("in", outer), ("out", inner)), (), "out", "in")

    # Boxes, whose pins all face the controller

    def potentiometer(self, pot: Potentiometer, mirrored: bool, pitch: float) -> Unit:
        device = self._devices[pot.device]
        ohms = device.profile.figures["resistance"].value
        pins = {"high": pot.high, "wiper": pot.wiper, "low": pot.low}
        symbol = get("potentiometer", self._practice, mirrored=mirrored, pitch=pitch)
        return self._box(device, symbol, pins, "wiper", (*_texts(device), ohms))

    def three_wire_sensor(self, sensor: Sensor, mirrored: bool, pitch: float) -> Unit:
        device = self._devices[sensor.device]
        assert sensor.output is not None  # a two-wire one stands in a row
        pins = {"plus": sensor.plus, "out": sensor.output, "minus": sensor.minus}
        output, width = device.declared.output or "PNP", _box_width(pins, BOX_WIDTH)
        symbol = get("proximity_three_wire", self._practice, mirrored=mirrored, output=output, pitch=pitch, width=width)
        return self._box(device, symbol, pins, "out", _texts(device))

    def transmitter(self, unit: Transmitter, mirrored: bool, pitch: float) -> Unit:
        device = self._devices[unit.device]
        pins = {"plus": unit.plus, "minus": unit.minus}
        kind, anchor = "transmitter_two_wire", "minus"
        if unit.wires == 3:
            pins = {"plus": unit.plus, "out": unit.output, "minus": unit.minus}
            kind, anchor = "transmitter_three_wire", "out"
        if unit.wires == 4 and unit.output_return is not None:
            pins |= {"out+": unit.output, "out-": unit.output_return}
            kind, anchor = "transmitter_four_wire", "out+"
        width = _box_width(pins, BOX_WIDTH)
        symbol = get(kind, self._practice, mirrored=mirrored, letter=quantity(device), pitch=pitch, width=width)
        return self._box(device, symbol, pins, anchor, (*_texts(device), device.declared.measures or ""))

    def stub(self, name: str, names: tuple[str, ...], mirrored: bool, pitch: float) -> Unit:
        """Another controller with the pins ``names`` of one function; the first is that of the signal."""
        device = self._devices[name]
        pins = {n: Pin(name, n) for n in names}
        width = _box_width(pins, STUB_WIDTH)
        symbol = get("box", self._practice, mirrored=mirrored, pins=names, pitch=pitch, width=width)
        texts = (device.text or device.profile.title,)
        return Unit(name, "stub", symbol, tuple((n, n) for n in names), texts, names[0], None)

    def _box(self, device: Device, symbol: Symbol, pins: dict[str, Pin], anchor: str, notes: tuple[str, ...]) -> Unit:
        names = tuple((key, pin.name) for key, pin in pins.items())
        return Unit(device.name, "box", symbol, names, tuple(n for n in notes if n), anchor, None)


def _box_width(pins: dict[str, Pin], least: float) -> float:
    return max(least, 14.0 + max(fonts.text_width(pin.name, TEXT) for pin in pins.values()))


def _texts(device: Device) -> tuple[str, ...]:
    return (device.text,) if device.text else ()


def _contact_notes(device: Device, contact: Contact) -> tuple[str, ...]:
    parts = [p for p in (device.text, contact.position or "") if p]
    if device.declared.operated_when:
        verb = "opens when" if contact.form == "NC" else "closes when"
        parts.append(f"{verb} {device.declared.operated_when}")
    return (", ".join(parts),) if parts else ()
