"""The controllers of a design and how they are wired: which input means what, which output tells what."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wiregen.allocation.model import Allocation
from wiregen.behaviour import drive, safety_relay
from wiregen.behaviour.drive import DriveMemory, DriveSeen
from wiregen.behaviour.drive_spec import DriveSpec, drive_spec
from wiregen.behaviour.observing import Observer, is_hot
from wiregen.behaviour.safety_relay import SafetyMemory, SafetySpec
from wiregen.behaviour.speed import value_of
from wiregen.behaviour.standing import Hands, Memory, Reading
from wiregen.control.functions import Declared, Device
from wiregen.quantities import parse_range
from wiregen.scheme import Scheme
from wiregen.scheme.model import Control, SafetyReset
from wiregen.terms import Pin

_ON_WHEN = {"closed": True, "closing": True, "open": False, "opening": False}


@dataclass(frozen=True, slots=True)
class Wire:
    """A function and the level that it stands on: number ``at`` of the reading, None where it has no terminal.

    ``closed``: it acts while its input is on; else while it is off.
    """

    function: str
    at: int | None
    closed: bool

    def acts(self, levels: tuple[int, ...], doubt: int) -> bool:
        """Whether it acts at these levels, with ``doubt`` in place of one that is neither on nor off."""
        return (level(levels, self.at, doubt) == 1) == self.closed


@dataclass(frozen=True, slots=True)
class Output:
    """An output and the duty that it tells; ``in_fault`` turns a fault relay round."""

    pin: str
    duty: str
    in_fault: bool


@dataclass(frozen=True, slots=True)
class Shown:
    """An analog output that shows a value: ``spans`` in Hz where it shows the speed."""

    pin: str
    signal: str
    low: float
    high: float
    speed: bool


@dataclass(frozen=True)
class Drive:
    """A drive with its wires."""

    spec: DriveSpec
    wires: tuple[Wire, ...]
    values: tuple[tuple[str, int], ...]  # (function, place among the values)
    thermistor: int | None
    outputs: tuple[Output, ...]
    shown: tuple[Shown, ...]

    def step(self, before: Memory, reading: Reading, hands: Hands, doubt: int) -> DriveMemory:
        """The drive one instant after it sees ``reading``."""
        assert isinstance(before, DriveMemory)
        name = self.spec.name
        acting = {w.function for w in self.wires if w.acts(reading.levels, doubt)}
        if self.thermistor is not None and is_hot(reading.values[self.thermistor]):
            acting.add("motor thermistor")
        if name in hands.commanded:
            acting.add(drive.NETWORK)
        if name in hands.keys:
            acting.add(drive.KEY)
        values = tuple((function, reading.values[at]) for function, at in self.values)
        return drive.step(self.spec, before, DriveSeen(name not in hands.dead, frozenset(acting), values))

    def energised(self, memory: Memory) -> Iterator[str]:
        assert isinstance(memory, DriveMemory)
        return (o.pin for o in self.outputs if drive.tells(memory, o.duty, o.in_fault))

    def signals(self, memory: Memory) -> Iterator[tuple[str, float]]:
        assert isinstance(memory, DriveMemory)
        for shown in self.shown:
            part = (memory.hz - shown.low) / (shown.high - shown.low) if shown.speed else 0.5
            yield shown.pin, round(value_of(shown.signal, min(1.0, max(0.0, part))), 5)


@dataclass(frozen=True)
class SafetyRelay:
    """A safety relay with its channels."""

    spec: SafetySpec
    wires: tuple[Wire, ...]

    def step(self, before: Memory, reading: Reading, hands: Hands, doubt: int) -> SafetyMemory:
        """The relay one instant after it sees ``reading``."""
        assert isinstance(before, SafetyMemory)
        closed = frozenset(w.function for w in self.wires if level(reading.levels, w.at, doubt) == 1)
        return safety_relay.step(self.spec, before, self.spec.name not in reading.unfed, closed)

    def energised(self, memory: Memory) -> Iterator[str]:
        assert isinstance(memory, SafetyMemory)
        return iter((self.spec.name,) if memory.on else ())

    def signals(self, memory: Memory) -> Iterator[tuple[str, float]]:
        return iter(())


Controller = Drive | SafetyRelay


def level(levels: tuple[int, ...], at: int | None, doubt: int) -> int:
    """A level, with ``doubt`` in place of one that is neither on nor off; open without a terminal."""
    if at is None:
        return 0
    found = levels[at]
    return doubt if found < 0 else found


def controllers(
    scheme: Scheme, declared: Declared, allocation: Allocation, observer: Observer
) -> Iterator[tuple[str, Controller]]:
    """The drives and safety relays of a design, in declared order."""
    for device in declared.devices:
        control = scheme.model.control.get(device.name) or Control()
        if device.kind == "drive":
            yield device.name, _drive(declared, allocation, device, control, observer)
        elif device.kind == "safety_relay":
            yield device.name, _safety_relay(declared, allocation, device, control, observer)


def wires(declared: Declared, allocation: Allocation, device: str, observer: Observer) -> Iterator[Wire]:
    """The digital functions of a controller or card, with where each is read."""
    for function in declared.functions:
        for end in function.ends:
            at = allocation.of_end(end.id)
            own = at.device == device if at else device in end.devices
            if not own or end.role not in ("digital_in", "safe_torque_off", "channel", "reset"):
                continue
            first = end is function.ends[0] and function.purpose == "input"
            closed = _ON_WHEN.get(function.acts_on, True) if first else end.role != "safe_torque_off"
            # A channel of two pins is known by its first.
            yield Wire(end.function, observer.places.get(Pin(device, at.channel)) if at else None, closed)


def _drive(
    declared: Declared,
    allocation: Allocation,
    device: Device,
    control: Control,
    observer: Observer,
) -> Drive:
    at = {s.pin: n for n, s in enumerate(observer.signals)}
    placed = [a for a in allocation.assignments if a.device == device.name]
    thermistor = next((a for a in placed if a.function == "motor thermistor"), None)
    return Drive(
        spec=drive_spec(declared, device, control),
        wires=tuple(wires(declared, allocation, device.name, observer)),
        values=tuple((a.function, at[p]) for a in placed if (p := Pin(a.device, a.channel)) in at and a.signal),
        thermistor=at.get(Pin(device.name, thermistor.channel)) if thermistor else None,
        outputs=tuple(outputs(declared, allocation, device)),
        shown=tuple(_shown(declared, allocation, device)),
    )


def outputs(declared: Declared, allocation: Allocation, device: Device) -> Iterator[Output]:
    """The outputs of a controller or card, each with the duty or command that it has."""
    for function in declared.functions:
        for end in function.ends:
            at = allocation.of_end(end.id)
            if at is None or at.device != device.name or end.role != "output":
                continue
            in_fault = function.meaning == "fault" and not function.while_healthy
            yield Output(f"{device.name}:{at.channel}", end.function, in_fault)


def _shown(declared: Declared, allocation: Allocation, device: Device) -> Iterator[Shown]:
    for function in declared.functions:
        for end in function.ends:
            at = allocation.of_end(end.id)
            if at is None or at.device != device.name or end.role != "analog_out":
                continue
            speed = function.name in ("show speed", "show frequency") and "Hz" in function.spans
            low, high = parse_range(function.spans, "Hz") if speed else (0.0, 1.0)
            yield Shown(f"{device.name}:{at.channel}", at.signal or function.signal, low, high, speed and low != high)


def _safety_relay(
    declared: Declared, allocation: Allocation, device: Device, control: Control, observer: Observer
) -> SafetyRelay:
    found = tuple(wires(declared, allocation, device.name, observer))
    monitored = isinstance(control.reset, SafetyReset) and control.reset.monitored
    names = tuple(w.function for w in found if w.function.startswith("channel"))
    reset = any(w.function == "reset" for w in found)
    return SafetyRelay(SafetySpec(device.name, names, reset, monitored), found)
