"""What a device is made of electrically: fixed resistances, elements that a state moves, coils, and feeds."""

from __future__ import annotations

from dataclasses import dataclass, field

from wiregen.allocation.model import Allocation, Assignment
from wiregen.circuit import assumed, curves
from wiregen.circuit.assumed import figure
from wiregen.circuit.curves import CLOSED, CONDUCTS, OPEN, Curve
from wiregen.circuit.network import Coil, Element, Resistance
from wiregen.control.functions import Declared, Device, Meter, Transmitter
from wiregen.control.loads import load_current_a, rated, rated_voltage
from wiregen.profiles.model import Terminal
from wiregen.terms import Pin
from wiregen.wiring.netlist import elements

Key = tuple[str, ...]


@dataclass(slots=True)
class Parts:
    """Everything that is found, while it is found. ``moves``: what a state says -> (element, number of its curve)."""

    fixed: list[Resistance] = field(default_factory=list)
    elements: list[Element] = field(default_factory=list)
    coils: list[Coil] = field(default_factory=list)
    feeds: list[Coil] = field(default_factory=list)  # what a device needs to work at all
    moves: dict[Key, list[tuple[int, int]]] = field(default_factory=dict)

    def add(self, element: Element, *moves: tuple[Key, int]) -> None:
        """Takes in an element, and which of its curves it has by what a state says."""
        number = len(self.elements)
        self.elements.append(element)
        for key, curve in moves:
            self.moves.setdefault(key, []).append((number, curve))


@dataclass(frozen=True, slots=True)
class Bench:
    """What the parts of a device depend on beside the device itself."""

    polarity: dict[tuple[str, str], str]
    signals: dict[Pin, str]  # the signal of each analog channel that is used, by its first pin
    partners: dict[str, str]  # and of each transmitter and meter, by its device

    @classmethod
    def of(cls, declared: Declared, allocation: Allocation) -> Bench:
        signals = {Pin(a.device, a.channel): a.signal for a in allocation.assignments}
        by_end: dict[str, Assignment] = {a.end: a for a in allocation.assignments}
        partners: dict[str, str] = {}
        for function in declared.functions:
            if isinstance(function.partner, Transmitter | Meter):
                placed = next((by_end[end.id].signal for end in function.ends if end.id in by_end), "")
                partners.setdefault(function.partner.device, placed or function.signal)
        return cls({(g.device, g.group): g.polarity for g in declared.groups}, signals, partners)


def add_device(parts: Parts, device: Device, bench: Bench) -> None:
    """All parts of one device."""
    for kind, first, second, more in elements(device, bench.polarity):
        _add(parts, device, bench, kind, Pin(device.name, first), Pin(device.name, second), more)
    for terminal in device.profile.terminals:
        _add_terminal(parts, device, terminal)
    if device.kind == "transformer":
        _add_transformer(parts, device)
    if device.kind == "safety_relay":
        _add_monitor(parts, device)
    _add_coil(parts, device)


def _add(parts: Parts, device: Device, bench: Bench, kind: str, a: Pin, b: Pin, more: dict[str, str]) -> None:
    name = device.name
    terminal = device.profile.terminal_of(a.name)
    match kind:
        case "contact":
            _add_contact(parts, device, a, b, more)
        case "transistor" if terminal is not None:
            element = Element(a, b, name, kind, b.name, (OPEN, CONDUCTS))
            parts.add(element, (("energised", str(b)), 1), (("dead", name), 0))
        case "input" | "safe_torque_off" if terminal is not None:
            parts.fixed.append(Resistance(a, b, assumed.input_ohm(terminal, ""), name, kind))
        case "analog_input" if terminal is not None:
            ohm = assumed.input_ohm(terminal, bench.signals.get(a, ""))
            parts.fixed.append(Resistance(a, b, ohm, name, kind))
        case "analog_output" if a in bench.signals:
            _add_signal(parts, device, kind, a, b, bench.signals[a])
        case "load":
            _add_load(parts, device, terminal, a, b)
        case "meter" if terminal is not None:
            ohm = assumed.input_ohm(terminal, bench.partners.get(name, ""), assumed.METER_OHM)
            parts.fixed.append(Resistance(a, b, ohm, name, kind))
        case "fuse":
            parts.fixed.append(Resistance(a, b, assumed.FUSE_OHM, name, kind))
        case "resistor":
            parts.fixed.append(Resistance(a, b, figure(device, "resistance", assumed.RESISTOR_OHM), name, kind))
        case "thermistor":
            cold, hot = figure(device, "cold_most", assumed.COLD_OHM), figure(device, "hot_least", assumed.HOT_OHM)
            element = Element(a, b, name, kind, "", (curves.resistor(cold), curves.resistor(hot)))
            parts.add(element, (("operated", name), 1))
        case "motor_thermistor":
            source = curves.supply(assumed.THERMISTOR_V, assumed.THERMISTOR_OHM)
            parts.add(Element(a, b, name, kind, a.name, (source, OPEN)), (("dead", name), 1))
        case "potentiometer":
            _add_track(parts, device, a, b)
        case "sensor":
            _add_sensor(parts, device, a, b)
        case "transmitter":
            _add_transmitter(parts, device, a, b, bench.partners.get(name) or "4-20 mA")


def _add_contact(parts: Parts, device: Device, a: Pin, b: Pin, more: dict[str, str]) -> None:
    """Curve 0 as the contact stands at rest, curve 1 otherwise."""
    name, contact = device.name, more["name"]
    own = next((c for c in device.contacts if c.name == contact), None)
    closed_at_rest = more["form"] == "NC"
    moves: list[tuple[Key, int]]
    if own is not None and own.position is not None:
        closed_at_rest = own.position == device.positions[0]
        closed_in = {position: position == own.position for position in device.positions}
        moves = [(("position", name, at), int(closed != closed_at_rest)) for at, closed in closed_in.items()]
    elif own is None:
        terminal = device.profile.terminal_of(a.name)
        channel = Pin(name, terminal.label if terminal else a.name)
        moves = [(("energised", str(channel)), 1), (("dead", name), 0)]
    elif device.kind == "safety_relay":
        moves = [(("energised", name), 1), (("dead", name), 0)]
    else:
        moves = [(("operated", name), 1), (("picked", name), 1)]
    curves_of = (CLOSED, OPEN) if closed_at_rest else (OPEN, CLOSED)
    stuck = [(("stuck", name, contact, word), curves_of.index(curve)) for word, curve in _STUCK]
    parts.add(Element(a, b, name, "contact", contact, curves_of), *moves, *stuck)


_STUCK = (("closed", CLOSED), ("open", OPEN))


def _volts(device: Device, otherwise: float = assumed.CONTROL_V) -> float:
    """The rated voltage [V] of a device."""
    at = rated_voltage(device)
    return at.volts if at else otherwise


def _add_load(parts: Parts, device: Device, terminal: Terminal | None, a: Pin, b: Pin) -> None:
    """A lamp, a coil, a valve; of a sensor or transmitter, what it takes for itself."""
    at = rated_voltage(device)
    if terminal is not None and terminal.draws is not None:
        ohm = assumed.CONTROL_V / terminal.draws.si
    else:
        ohm = _volts(device) / (load_current_a(device) or assumed.LOAD_A)
    parts.fixed.append(Resistance(a, b, ohm, device.name, "load"))
    if device.profile.suppression == "diode" and (at is None or at.kind == "DC"):
        parts.add(Element(b, a, device.name, "diode", "", (curves.DIODE,)))


def _add_coil(parts: Parts, device: Device) -> None:
    """What follows the voltage between two pins: the contacts of a relay, or whether a device works at all."""
    first = {t.role: t for t in reversed(device.profile.terminals)}
    if device.kind in ("relay", "contactor") and "coil" in first:
        a, b = (Pin(device.name, pin) for pin in first["coil"].pins[:2])
        volts = _volts(device)
        pick = figure(device, "pick_up", assumed.PICK_PART * volts)
        parts.coils.append(Coil(device.name, a, b, pick, figure(device, "drop_out", assumed.DROP_PART * volts)))
        return
    if device.kind == "safety_relay" and "coil" in first:
        a, b = (Pin(device.name, pin) for pin in first["coil"].pins[:2])
    elif device.kind in ("proximity_three_wire", "transmitter_three_wire", "transmitter_four_wire"):
        a, b = Pin(device.name, first["plus"].label), Pin(device.name, first["minus"].label)
    elif (
        device.kind == "card" and "supply_in" in first and any(t.role == "analog_out" for t in device.profile.terminals)
    ):
        a, b = Pin(device.name, first["supply_in"].label), Pin(device.name, first["zero"].label)
    else:
        return
    least = figure(device, "lift_off", assumed.ALIVE_V)
    parts.feeds.append(Coil(device.name, a, b, least, least))


def _add_track(parts: Parts, device: Device, a: Pin, b: Pin) -> None:
    """Half of a potentiometer; the state sets the wiper, which stands half way unless it says otherwise."""
    side = "below" if a.name == device.profile.terminals[0].label else "above"
    parts.add(Element(a, b, device.name, "potentiometer", side, (track(device, side, 0.5),)))


def track(device: Device, side: str, part: float) -> Curve:
    """One half of a potentiometer with its wiper at ``part`` of the way up."""
    share = part if side == "below" else 1.0 - part
    return curves.resistor(max(assumed.TRACK_END_OHM, figure(device, "resistance", assumed.TRACK_OHM) * share))


def _add_sensor(parts: Parts, device: Device, a: Pin, b: Pin) -> None:
    """Curve 0 not actuated, 1 actuated, 2 not fed. Currents run from the positive side to the negative."""
    on = curves.drop(figure(device, "drop", assumed.SENSOR_DROP_V))
    off = curves.leakage(figure(device, "leakage", 0.0))
    if device.declared.output == "NPN":
        a, b = b, a
    breaks = device.declared.contact == "NC"
    both = (on, off) if breaks else (off, on)
    element = Element(a, b, device.name, "sensor", "", (*both, OPEN))
    parts.add(element, (("operated", device.name), 1), (("unfed", device.name), 2))


def _add_transmitter(parts: Parts, device: Device, a: Pin, b: Pin, signal: str) -> None:
    """At rest in the middle of its span; a state gives the value."""
    if device.kind != "transmitter_two_wire":
        _add_signal(parts, device, "transmitter", a, b, signal)
        return
    curve = signal_curve(device, signal, middle_of(signal))
    parts.add(Element(a, b, device.name, "transmitter", signal, (curve, OPEN)))


def middle_of(signal: str) -> float:
    """The middle [A or V] of a signal."""
    return sum(range_of(signal)) / 2


def range_of(signal: str) -> tuple[float, float]:
    """Both ends [A or V] of a signal."""
    return {
        "0-10 V": (0.0, 10.0),
        "-10-10 V": (-10.0, 10.0),
        "0-20 mA": (0.0, 0.020),
    }.get(signal, (0.004, 0.020))


def _add_signal(parts: Parts, device: Device, kind: str, a: Pin, b: Pin, signal: str) -> None:
    """An active output: it drives its current or voltage itself, while its device is fed."""
    if device.kind == "transmitter_three_wire" and "V" in signal:
        minus = next(t.label for t in device.profile.terminals if t.role == "minus")
        a, b = b, Pin(device.name, minus)
    curve = signal_curve(device, signal, middle_of(signal), a.name)
    element = Element(a, b, device.name, kind, signal, (curve, OPEN))
    parts.add(element, (("dead", device.name), 1), (("unfed", device.name), 1))


def signal_curve(device: Device, signal: str, value: float, pin: str = "") -> Curve:
    """The curve of what gives ``value`` [A or V] of a signal."""
    if "V" in signal:
        return curves.supply(value, assumed.VOLTAGE_OUTPUT_OHM, assumed.VOLTAGE_OUTPUT_A)
    if value <= 0.0:
        return OPEN
    if device.kind == "transmitter_two_wire":
        return curves.regulator(value, figure(device, "lift_off", assumed.LIFT_OFF_V))
    if device.kind == "transmitter_three_wire":
        return curves.regulator(value, assumed.THREE_WIRE_OUTPUT_V)
    terminal = device.profile.terminal_of(pin)
    burden = terminal.burden.get(signal) if terminal else None
    ohm = burden.si if burden is not None else assumed.BURDEN_OHM
    return curves.driver(value, range_of(signal)[1] * ohm)


def _add_terminal(parts: Parts, device: Device, terminal: Terminal) -> None:
    """Supplies that a device gives, and what it takes at its own feed."""
    pin = Pin(device.name, terminal.pins[0])
    zero = terminal.common or next((t.label for t in device.profile.terminals if t.role == "zero"), "")
    if not zero:
        return
    back = Pin(device.name, zero)
    if terminal.role in ("supply_out", "reference_out"):
        own = rated(terminal.volts).volts if terminal.volts else assumed.CONTROL_V
        volts = _volts(device, own) if device.kind == "supply" else own
        limit = terminal.limit.si if terminal.limit is not None else assumed.SUPPLY_A
        sag = assumed.SUPPLY_SAG_V if terminal.role == "supply_out" else assumed.REFERENCE_SAG_V
        curve = curves.supply(volts, sag / limit, limit)
        element = Element(pin, back, device.name, "supply", pin.name, (curve, OPEN))
        parts.add(element, (("dead", device.name), 1))
    elif terminal.role == "supply_in" and terminal.draws is not None:
        parts.fixed.append(Resistance(pin, back, assumed.CONTROL_V / terminal.draws.si, device.name, "feed"))


def _add_transformer(parts: Parts, device: Device) -> None:
    """The secondary side, in effective values; loads on it count as resistances."""
    a, b = (Pin(device.name, t.label) for t in device.profile.terminals if t.role == "secondary")
    volts, power = _volts(device, assumed.TRANSFORMER_V), figure(device, "power", assumed.TRANSFORMER_VA)
    curve = curves.supply(volts, assumed.TRANSFORMER_SAG * volts * volts / power)
    parts.add(Element(a, b, device.name, "supply", a.name, (curve, OPEN)), (("dead", device.name), 1))


def _add_monitor(parts: Parts, device: Device) -> None:
    """A safety relay sends a current out at the first pin of each channel and expects it back at the second."""
    coil = device.profile.first("coil")
    if coil is None:
        return
    plus, zero = (Pin(device.name, pin) for pin in coil.pins[:2])
    for terminal in device.profile.terminals:
        if terminal.role in ("channel", "reset"):
            out, back = (Pin(device.name, pin) for pin in terminal.pins[:2])
            parts.fixed.append(Resistance(plus, out, assumed.CHANNEL_OUT_OHM, device.name, "inside"))
            parts.fixed.append(Resistance(back, zero, assumed.CHANNEL_IN_OHM, device.name, terminal.role))
