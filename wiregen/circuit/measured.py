"""Where an electrician measures: every used terminal to its common, every load, every supply."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wiregen.allocation.model import Allocation, Assignment
from wiregen.circuit.build import Circuit
from wiregen.circuit.network import Element, Resistance
from wiregen.control.functions import Declared, Device, Function, Load, Meter, Transmitter
from wiregen.terms import Pin


@dataclass(frozen=True, slots=True)
class Place:
    """One place to measure: volts from ``pin`` to ``to``, and the current through ``part`` where that is of interest.

    ``owner`` is the controller, relay or supply that it belongs to; ``function`` what it is for, in words.
    """

    owner: str
    pin: Pin
    to: Pin
    function: str
    part: Element | Resistance | None = None


def places(declared: Declared, allocation: Allocation, circuit: Circuit) -> tuple[Place, ...]:
    """Every place to measure at, supplies first, then by device in declared order."""
    found = [*_supplies(circuit), *_functions(declared, allocation, circuit)]
    return tuple({(p.pin, p.to): p for p in reversed(found)}.values())[::-1]


def _supplies(circuit: Circuit) -> Iterator[Place]:
    for element in circuit.elements:
        if element.kind == "supply" and circuit.wired(element.a):
            yield Place(element.of, element.a, element.b, f"{element.a.name} of {element.of}", element)


def _functions(declared: Declared, allocation: Allocation, circuit: Circuit) -> Iterator[Place]:
    placed = {a.end: a for a in allocation.assignments}
    for function in declared.functions:
        for end in function.ends:
            if end.id in placed:
                yield from _channel(circuit, function, placed[end.id])
        partner = function.coil or function.partner
        if isinstance(partner, Load):
            yield Place(function.controller, partner.a, partner.b, function.name)
        elif isinstance(partner, Meter):
            yield Place(function.controller, partner.plus, partner.minus, function.name)
        elif isinstance(partner, Transmitter):
            yield from _transmitter(circuit, function, partner)


def _channel(circuit: Circuit, function: Function, at: Assignment) -> Iterator[Place]:
    device = circuit.devices[at.device]
    terminal = device.profile.terminal_of(at.channel)
    if terminal is None or terminal.role in ("relay", "contact"):
        return
    pin = Pin(at.device, at.channel)
    if terminal.role in ("channel", "reset"):
        coil = device.profile.first("coil")
        if coil is not None:
            yield Place(at.device, Pin(at.device, terminal.pins[-1]), Pin(at.device, coil.pins[-1]), at.function)
        return
    to = terminal.pins[1] if len(terminal.pins) == 2 else terminal.common or _zero(device)
    if to:
        kinds = ("analog_input", "analog_output") if "mA" in at.signal else ()
        yield Place(at.device, pin, Pin(at.device, to), at.function, circuit.part_at(pin, kinds))


def _transmitter(circuit: Circuit, function: Function, unit: Transmitter) -> Iterator[Place]:
    part = circuit.part_at(unit.plus, ("transmitter",)) if unit.wires == 2 else None
    yield Place(function.controller, unit.plus, unit.minus, f"{unit.device}, {function.name}", part)


def _zero(device: Device) -> str:
    return next((t.label for t in device.profile.terminals if t.role in ("common", "zero")), "")
