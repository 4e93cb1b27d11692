"""Deeds: every single thing that hands, the process, a card's controller or the mains can do to a plant, and undo."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from wiregen.allocation.model import Allocation
from wiregen.behaviour.speed import is_current, value_of
from wiregen.behaviour.standing import Hands
from wiregen.control.functions import (
    Declared,
    Device,
    Function,
    Leg,
    Load,
    Parallel,
    Potentiometer,
    Sensor,
    Series,
    Thermistor,
    Transmitter,
    legs_in,
)
from wiregen.terms import Pin

#: What people move; the rest of what is operated moves by itself.
_BY_HAND = ("push", "turn", "mushroom")


@dataclass(frozen=True, slots=True)
class Deed:
    """One thing done to a device. ``kind``: press, turn, actuate, command, network, set, give, dip, key.

    ``by_hand``: a person can do it at once, at the machine. ``value`` is a position, a part or a value [A or V].
    """

    kind: str
    device: str
    value: str | float = ""
    by_hand: bool = False

    def on(self, hands: Hands) -> Hands:
        """The hands with the deed done; what is pressed, actuated or commanded already is let go instead."""
        match self.kind:
            case "press" | "actuate":
                if self.device in hands.operated:
                    return hands.release(self.device)
                return hands.operate(self.device)
            case "turn":
                return hands.turn(self.device, str(self.value))
            case "command" | "network":
                if self.device in hands.commanded:
                    return hands.withdraw(self.device)
                return hands.command(self.device)
            case "set":
                return hands.set(self.device, float(self.value))
            case "give":
                return hands.give(self.device, float(self.value))
            case "dip":
                return hands.off(self.device.split(", "))
            case _:
                return hands.reset_at(self.device)

    @property
    def says(self) -> str:
        """The deed in words."""
        match self.kind:
            case "turn":
                return f"{self.device} to {self.value}"
            case "set":
                return f"{self.device} to {float(self.value) * 100:g} %"
            case "give":
                value = float(self.value)
                return (
                    f"{self.device} gives {value * 1000:g} mA"
                    if abs(value) < 0.1
                    else f"{self.device} gives {value:g} V"
                )
            case "dip":
                return f"feed of {self.device} dips"
            case "key":
                return f"reset at {self.device}"
            case _:
                return f"{self.kind} {self.device}"


def deeds_for(declared: Declared, allocation: Allocation, drive: str) -> tuple[Deed, ...]:
    """What can be done that a drive may notice, in declared order of the devices; the mains last."""
    found = dict.fromkeys(_Behind(declared, allocation).of_drive(drive))
    order = {d.name: d.order for d in declared.devices}
    listed = sorted(found, key=lambda deed: order.get(deed.device.split(":")[0], 0))
    fed = ", ".join(d.name for d in declared.devices if d.has_feed)
    return (*listed, Deed("key", drive, by_hand=True), Deed("dip", fed))


def resets(declared: Declared, deeds: Sequence[Deed]) -> tuple[Deed, ...]:
    """The deeds that reset: buttons in the circuit of a reset, outputs of cards that do it, the key of the drive."""
    pressed = {leg.contact.device for f in declared.functions if f.meaning == "reset" for leg in legs_in(f.partner)}
    return tuple(d for d in deeds if d.device in pressed or d.kind == "key")


class _Behind:
    """What stands behind the functions of a drive, through relays, safety relays and cards."""

    def __init__(self, declared: Declared, allocation: Allocation) -> None:
        self._declared = declared
        self._devices = {d.name: d for d in declared.devices}
        self._allocation = allocation

    def of_drive(self, drive: str) -> Iterator[Deed]:
        seen: set[str] = set()
        for function in self._declared.functions:
            if function.controller == drive and function.purpose != "output":
                yield from self._of_function(function, seen)
        runs = next((runs for name, runs in self._declared.runs if name == drive), ())
        if any(run.network for run in runs):
            yield Deed("network", drive, by_hand=True)

    def _of_function(self, function: Function, seen: set[str]) -> Iterator[Deed]:
        partner = function.partner
        match partner:
            case Leg() | Series() | Parallel():
                for leg in legs_in(partner):
                    yield from self._of_device(self._devices[leg.contact.device], seen)
            case Sensor() | Potentiometer() | Thermistor():
                yield from self._of_device(self._devices[partner.device], seen)
            case Transmitter():
                signal = function.signal or "4-20 mA"
                yield Deed("give", partner.device, value_of(signal, 0.0 if is_current(signal) else 0.02))
                yield Deed("give", partner.device, value_of(signal, 1.0))
        for end in (*function.ends[1:], *((function.follows,) if function.follows else ())):
            placed = self._allocation.of_end(end.id)
            if placed is not None and end.role in ("output", "analog_out"):
                yield from self._of_output(Pin(placed.device, placed.channel), end.role, placed.signal, seen)

    def _of_output(self, pin: Pin, role: str, signal: str, seen: set[str]) -> Iterator[Deed]:
        device = self._devices[pin.device]
        if device.kind != "card":
            if device.name not in seen:
                seen.add(device.name)
                yield from self._of_controller(device, seen)
        elif role == "output":
            yield Deed("command", str(pin), by_hand=True)
        else:
            yield Deed("give", str(pin), value_of(signal, 0.0))
            yield Deed("give", str(pin), value_of(signal, 1.0))

    def _of_device(self, device: Device, seen: set[str]) -> Iterator[Deed]:
        if device.name in seen:
            return
        seen.add(device.name)
        by_hand = device.profile.actuator in _BY_HAND
        match device.kind:
            case "selector":
                yield from (Deed("turn", device.name, p, True) for p in device.positions)
            case "potentiometer":
                yield from (Deed("set", device.name, part, True) for part in (0.0, 1.0))
            case "relay" | "contactor" | "safety_relay" | "drive":
                yield from self._of_controller(device, seen)
            case "fuse" | "resistor" | "transformer":
                return
            case _:
                yield Deed("press" if by_hand else "actuate", device.name, "", by_hand)

    def _of_controller(self, device: Device, seen: set[str]) -> Iterator[Deed]:
        """What moves a relay: the contacts of its coil, its channels, or the output that drives it."""
        for function in self._declared.functions:
            if function.controller == device.name and function.purpose in ("coil", "safety_loop", "input"):
                yield from self._of_function(function, seen)
            elif function.purpose == "output" and isinstance(function.partner, Load) and function.ends:
                placed = self._allocation.of_end(function.ends[0].id)
                if placed is not None and function.partner.device == device.name:
                    yield from self._of_output(Pin(placed.device, placed.channel), "output", "", seen)
