"""Every single fault of a design: conductors, cores, cables, plugs, contacts, outputs, signals and supplies.

What the list is made of follows the faults that ISO 13849-2 annex D considers for conductors, contacts and supplies
(short circuit between any two conductors, open circuit, short to earth or to an exposed part; contacts that do not open
or do not close; from memory, not read), and common practice for the rest.
"""

from __future__ import annotations

import itertools
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from wiregen.allocation.model import Allocation
from wiregen.behaviour.fault import Fault, unlike
from wiregen.behaviour.speed import is_current
from wiregen.circuit import EARTH, Change
from wiregen.control.functions import Declared, Device, Transmitter
from wiregen.terms import Pin
from wiregen.wiring.model import Conductor, Potential, Wiring

#: What touches, touches by this: common practice, no source.
TOUCH_OHM = 0.05
#: What a transmitter gives that gives too much, beyond 21 mA (NAMUR NE 43) and beyond 10 V: typical, invented.
_TOO_MUCH_A, _TOO_MUCH_V = 0.022, 10.5
_PLUGS = ("drive", "card", "safety_relay", "supply")
_POLES = ("transmitter_two_wire", "proximity_two_wire", "meter", "relay", "contactor", "lamp")


@dataclass(frozen=True)
class _Wired:
    """The wiring, looked up by what a list of faults asks for."""

    declared: Declared
    allocation: Allocation
    wiring: Wiring
    conductors: tuple[Conductor, ...]  # those with two ends, the power side left out
    at: dict[Pin, list[Conductor]]
    potential: dict[Pin, Potential]

    @classmethod
    def of(cls, declared: Declared, allocation: Allocation, wiring: Wiring) -> _Wired:
        kinds = {p.name: p.kind for p in wiring.potentials}
        found = tuple(
            c for c in wiring.conductors if c.b is not None and kinds.get(c.potential or "") not in ("power", "earth")
        )
        at: dict[Pin, list[Conductor]] = defaultdict(list)
        for c in found:
            for pin in (c.a, c.b):
                if pin is not None:
                    at[pin].append(c)
        return cls(declared, allocation, wiring, found, dict(at), {q: p for p in wiring.potentials for q in p.pins})

    def devices(self, conductors: Sequence[Conductor]) -> tuple[str, ...]:
        names = {d.name for d in self.declared.devices}
        pins = [pin for c in conductors for pin in (c.a, c.b) if pin is not None]
        return tuple(dict.fromkeys(pin.device for pin in pins if pin.device in names))


def all_faults(declared: Declared, allocation: Allocation, wiring: Wiring) -> tuple[Fault, ...]:
    """Every single fault, in the order of the wiring; of faults that are electrically one, the first."""
    wired = _Wired.of(declared, allocation, wiring)
    return unlike(
        itertools.chain(
            _opens(wired),
            _cables_and_plugs(wired),
            _touching_cores(wired),
            _to_supply_and_common(wired),
            _to_earth(wired),
            _across_devices(wired),
            _reversed(wired),
            _contacts(wired),
            _outputs(wired),
            _signals(wired),
            _supplies(wired),
        )
    )


def called(conductor: Conductor) -> str:
    """A conductor as an electrician would name it."""
    what = f"core {conductor.core} of {conductor.cable}" if conductor.cable and conductor.core else conductor.kind
    ends = "" if conductor.core else f" {conductor.a} to {conductor.b}"
    return f"{what}{ends} ({conductor.potential or conductor.function})"


def _opens(wired: _Wired) -> Iterator[Fault]:
    for c in wired.conductors:
        lost = "taken off" if c.kind in ("link", "bridge") else "open"
        yield Fault(f"{called(c)} {lost}", "open", (c.id,), wired.devices([c]), Change(f"{c.id} open", opened=(c.id,)))
    for device in wired.declared.devices:
        if device.kind == "fuse" and any(pin.device == device.name for pin in wired.at):
            change = Change(f"{device.name} blown", opened=(device.name,))
            yield Fault(f"fuse {device.name} blown", "open", (device.name,), (device.name,), change)


def _cables_and_plugs(wired: _Wired) -> Iterator[Fault]:
    for cable in wired.wiring.cables:
        cores = [c for c in wired.conductors if c.cable == cable.name]
        if len(cores) > 1:
            yield _off(f"cable {cable.name} cut", cores, wired)
    for device in wired.declared.devices:
        own = list({c.id: c for pin, found in wired.at.items() if pin.device == device.name for c in found}.values())
        if len(own) > 1:
            what = "plug" if device.kind in _PLUGS else "all conductors"
            yield _off(f"{what} of {device.name} off", own, wired)


def _off(name: str, conductors: list[Conductor], wired: _Wired) -> Fault:
    ids = tuple(c.id for c in conductors)
    return Fault(name, "open", ids, wired.devices(conductors), Change(name, opened=ids))


def _touching_cores(wired: _Wired) -> Iterator[Fault]:
    for cable in wired.wiring.cables:
        cores = [c for c in wired.conductors if c.cable == cable.name and c.kind == "core"]
        for a, b in itertools.combinations(cores, 2):
            if a.potential != b.potential:
                name = f"cores {a.core} and {b.core} of {cable.name} touch ({a.potential}, {b.potential})"
                yield _short(wired, name, (a.a, b.a), (a.id, b.id), wired.devices([a, b]))
        screen = Pin(cable.name, "screen")
        if any(screen in p.pins for p in wired.wiring.potentials):
            for core in cores:
                name = f"core {core.core} of {cable.name} touches the screen ({core.potential})"
                yield _short(wired, name, (core.a, screen), (core.id, str(screen)), wired.devices([core]))


def _short(wired: _Wired, name: str, pins: tuple[Pin, Pin], at: tuple[str, ...], devices: tuple[str, ...]) -> Fault:
    change = Change(name, joined=((*pins, TOUCH_OHM),))
    pair = frozenset(wired.potential[pin].name for pin in pins)
    return Fault(name, "short", at, devices, change, pair=pair)


def _in_use(wired: _Wired) -> Iterator[tuple[Potential, list[Conductor]]]:
    """The potentials of the control circuit that conductors join, each with its conductors."""
    for potential in wired.wiring.potentials:
        own = [c for c in wired.conductors if c.potential == potential.name and c.kind != "link"]
        if own:
            yield potential, own


def _to_supply_and_common(wired: _Wired) -> Iterator[Fault]:
    used = list(_in_use(wired))
    poles = [(p, cs) for p, cs in used if p.kind in ("plus", "zero")]
    seen: set[frozenset[str]] = set()
    for pole, _ in poles:
        for potential, conductors in used:
            pair = frozenset((pole.name, potential.name))
            if len(pair) < 2 or pair in seen:
                continue
            seen.add(pair)
            name = f"{potential.name} touches {pole.name}"
            ids = tuple(c.id for c in conductors)
            yield _short(wired, name, (conductors[0].a, pole.pins[0]), ids, wired.devices(conductors))


def _to_earth(wired: _Wired) -> Iterator[Fault]:
    """With the 0 V as it is, and once more the other way: its links off, or a first earth fault on it already."""
    links = tuple(c.id for c in wired.wiring.conductors if c.kind == "link" and c.b is not None)
    zeros = [z for z in wired.declared.zero_volts if z.mode != "joined"]
    floating = [z.zero for z in zeros if z.mode == "floating"]
    for potential, conductors in _in_use(wired):
        name = f"{potential.name} touches earth"
        ids = tuple(c.id for c in conductors)
        devices = wired.devices(conductors)
        touch = (conductors[0].a, EARTH, TOUCH_OHM)
        yield Fault(name, "earth", ids, devices, Change(name, joined=(touch,)))
        if links and not floating:
            assumed = "the earth link of the 0 V is off"
            yield Fault(name, "earth", ids, devices, Change(name, links, (touch,)), assumed=assumed)
        elif floating:
            assumed = "the 0 V, which is meant to float, has an earth fault already"
            first = tuple((zero, EARTH, TOUCH_OHM) for zero in floating)
            yield Fault(name, "earth", ids, devices, Change(name, joined=(touch, *first)), assumed=assumed)


def _across_devices(wired: _Wired) -> Iterator[Fault]:
    """The two poles of what has two: a transmitter bypassed, a lamp shorted."""
    for device, a, b in _two_poles(wired):
        if wired.potential[a].name != wired.potential[b].name:
            yield _short(wired, f"{device.name} {a.name} to {b.name}", (a, b), (str(a), str(b)), (device.name,))


def _two_poles(wired: _Wired) -> Iterator[tuple[Device, Pin, Pin]]:
    for device in wired.declared.devices:
        roles = ("plus", "minus", "coil", "load")
        pins = [Pin(device.name, pin) for t in device.profile.terminals if t.role in roles for pin in t.pins]
        if device.kind in _POLES and len(pins) >= 2 and all(pin in wired.potential for pin in pins[:2]):
            yield device, pins[0], pins[1]


def _reversed(wired: _Wired) -> Iterator[Fault]:
    """The two conductors of what has a plus and a minus, exchanged; and those of an analog pair."""
    pairs = [(a, b) for device, a, b in _two_poles(wired) if device.kind != "lamp"]
    for assignment in wired.allocation.assignments:
        if assignment.signal and len(assignment.pins) == 2:
            first, second = (Pin(assignment.device, pin) for pin in assignment.pins)
            pairs.append((first, second))
    for a, b in pairs:
        at_a, at_b = wired.at.get(a, []), wired.at.get(b, [])
        if len(at_a) == len(at_b) == 1 and at_a[0].id != at_b[0].id:
            far_a, far_b = _other(at_a[0], a), _other(at_b[0], b)
            ids = (at_a[0].id, at_b[0].id)
            name = f"conductors at {a} and {b} exchanged"
            change = Change(name, ids, ((far_a, b, TOUCH_OHM), (far_b, a, TOUCH_OHM)))
            yield Fault(name, "swap", ids, (a.device,), change)


def _other(conductor: Conductor, pin: Pin) -> Pin:
    other = conductor.b if conductor.a == pin else conductor.a
    assert other is not None
    return other


def _contacts(wired: _Wired) -> Iterator[Fault]:
    for device in wired.declared.devices:
        direct = device.declared.opens == "positively" or device.kind == "emergency_stop"
        for contact in device.contacts:
            if any(Pin(device.name, pin) not in wired.at for pin in (contact.a, contact.b)):
                continue
            at = (f"{device.name}:{contact.a}", f"{device.name}:{contact.b}")
            excluded = "direct opening action: ISO 13849-2 annex D may let it out; from memory" if direct else ""
            yield from _sticks(f"contact {contact.name} of {device.name}", device.name, contact.name, at, excluded)
        yield from _changeovers(wired, device)
        if device.kind in ("relay", "contactor") and any(Pin(device.name, c.a) in wired.at for c in device.contacts):
            yield Fault(f"{device.name} stays picked up", "weld", (device.name,), (device.name,), actuated=device.name)
        if device.kind.startswith("proximity") and any(pin.device == device.name for pin in wired.at):
            yield Fault(f"{device.name} stays actuated", "weld", (device.name,), (device.name,), actuated=device.name)
            yield Fault(
                f"{device.name} is never actuated", "no-close", (device.name,), (device.name,), idle=device.name
            )


def _sticks(named: str, device: str, contact: str, at: tuple[str, ...], excluded: str = "") -> Iterator[Fault]:
    """A contact that does not open, and that does not close; ``excluded`` lets the first out."""
    stuck = ((device, contact, True),)
    yield Fault(f"{named} does not open", "weld", at, (device,), stuck=stuck, excluded=excluded)
    stuck = ((device, contact, False),)
    yield Fault(f"{named} does not close", "no-close", at, (device,), stuck=stuck)


def _changeovers(wired: _Wired, device: Device) -> Iterator[Fault]:
    """All three terminals of a changeover contact touch."""
    for element in dict.fromkeys(c.element for c in device.contacts):
        names = list(dict.fromkeys(p for c in device.contacts if c.element == element for p in (c.a, c.b)))
        pins = [Pin(device.name, name) for name in names]
        if len(pins) == 3 and all(pin in wired.at for pin in pins):
            name = f"{', '.join(names[:2])} and {names[2]} of {device.name} touch"
            change = Change(name, joined=((pins[0], pins[1], TOUCH_OHM), (pins[0], pins[2], TOUCH_OHM)))
            yield Fault(name, "short", tuple(map(str, pins)), (device.name,), change)


def _outputs(wired: _Wired) -> Iterator[Fault]:
    """Outputs of controllers: transistors that stay on, relay contacts that do not open or close."""
    devices = {d.name: d for d in wired.declared.devices}
    for assignment in wired.allocation.assignments:
        terminal = devices[assignment.device].profile.terminal_of(assignment.channel)
        if terminal is None or terminal.role not in ("relay", "digital_out"):
            continue
        pin = f"{assignment.device}:{assignment.channel}"
        named = f"output {pin} ({assignment.function})"
        at = tuple(f"{assignment.device}:{p}" for p in assignment.pins)
        yield Fault(f"{named} stays on", "weld", at, (assignment.device,), stuck_on=(pin,))
        if terminal.role == "relay" and len(assignment.pins) == 2:
            contact = "-".join(assignment.pins)
            named = f"contact {contact} of {assignment.device} ({assignment.function})"
            yield from _sticks(named, assignment.device, contact, at)


def _signals(wired: _Wired) -> Iterator[Fault]:
    used = {f.partner.device: f.signal for f in wired.declared.functions if isinstance(f.partner, Transmitter)}
    for name, signal in used.items():
        high = _TOO_MUCH_A if is_current(signal) else _TOO_MUCH_V
        if any(pin.device == name for pin in wired.at):
            yield Fault(f"{name} gives no signal", "signal", (name,), (name,), signal=(name, 0.0))
            yield Fault(f"{name} gives too much", "signal", (name,), (name,), signal=(name, high))


def _supplies(wired: _Wired) -> Iterator[Fault]:
    fed = [d for d in wired.declared.devices if d.has_feed]
    names = tuple(d.name for d in fed)
    for device in fed:
        at = (device.name,)
        yield Fault(f"{device.name} loses its feed", "supply", at, at, dead=at)
        if len(fed) > 1:
            yield Fault(f"the feed of {device.name} dips and returns", "supply", at, at, dead=at, returns=True)
    yield Fault("the mains dip and return", "supply", names, names, dead=names, returns=True)
