"""Voltages: of supplies and what they feed, of neighbouring relays, of earths."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from wiregen.allocation.model import Assignment
from wiregen.control.functions import Function, Load
from wiregen.control.loads import Rated, rated_voltage
from wiregen.review.context import Context, called
from wiregen.scheme.places import cabinets_of
from wiregen.terms import Notice, Pin

#: Up to here a voltage counts as extra-low: V AC and V DC. IEC 61140, from memory.
_EXTRA_LOW = {"AC": 50.0, "DC": 120.0}


def mismatch(context: Context) -> Iterator[Notice]:
    """A load for one voltage at a supply that gives another."""
    for function in context.declared.functions:
        load, given = _load(function), _given(context, function)
        needed = rated_voltage(context.devices[load.device]) if load else None
        if load is None or needed is None or given is None or needed == given:
            continue
        text = f"{load.device} is for {needed}, and {called(function)} feeds it with {given}"
        yield Notice(
            "voltage-mismatch",
            function.where,
            load.device,
            f"{text} from {function.supply.device if function.supply else ''}",
            value=given.volts,
            limit=needed.volts,
            unit="V",
        )


def _load(function: Function) -> Load | None:
    return function.partner if isinstance(function.partner, Load) else function.coil


def _given(context: Context, function: Function) -> Rated | None:
    supply = function.supply
    return rated_voltage(context.devices[supply.device]) if supply else None


def unearthed(context: Context) -> Iterator[Notice]:
    """A control transformer of which neither side is earthed."""
    for zero in context.declared.zero_volts:
        if zero.mode == "floating" and context.devices[zero.device].kind == "transformer":
            text = f"neither side of {zero.device} is earthed: a first earth fault in its circuit goes unnoticed"
            yield Notice("control-circuit-unearthed", zero.where, zero.device, text)


def beside(context: Context) -> Iterator[Notice]:
    """Dangerous and extra-low voltage on contacts of one device with no other contact between."""
    of_channel = {(a.device, a.channel): f for f in context.declared.functions for a in _outputs(context, f)}
    for device in context.declared.devices:
        outputs = [t for t in device.profile.terminals if t.role == "relay"]
        for one, other in itertools.pairwise(outputs):
            pair = [of_channel.get((device.name, t.pins[0])) for t in (one, other)]
            first, second = (_given(context, f) if f else None for f in pair)
            if first is None or second is None or pair[0] is None or _is_low(first) == _is_low(second):
                continue
            names = f"{device.name}:{one.label} carries {first} and {device.name}:{other.label} beside it {second}"
            yield Notice("voltages-beside", pair[0].where, device.name, names)


def _outputs(context: Context, function: Function) -> Iterator[Assignment]:
    for end in function.ends:
        assignment = context.allocation.of_end(end.id)
        if assignment is not None and end.role == "output":
            yield assignment


def _is_low(voltage: Rated) -> bool:
    return voltage.volts <= _EXTRA_LOW[voltage.kind]


def foreign(context: Context) -> Iterator[Notice]:
    """Pins of a device in one cabinet that a supply of another one feeds."""
    cabinets = cabinets_of(context.scheme.model.places)
    told: set[tuple[str, str]] = set()
    for function in context.declared.functions:
        home = context.devices[function.supply.device].place if function.supply else None
        for assignment in _outputs(context, function):
            device = context.devices[assignment.device]
            if home is None or function.supply is None or device.place == home or device.place not in cabinets:
                continue
            pins = " ".join(assignment.pins)
            if (device.name, pins) not in told:
                told.add((device.name, pins))
                text = (
                    f"{device.name}:{pins} is fed from {function.supply.device} in {home}: "
                    f"live with the main switch of {device.place} off"
                )
                yield Notice("foreign-voltage", function.where, f"{device.name} {pins}", text)


def two_earths(context: Context) -> Iterator[Notice]:
    """Two declared earths in one 0 V: one link is drawn, and the current of a fault finds two ways."""
    by_pin: dict[Pin, str] = {pin: p.name for p in context.wiring.potentials for pin in p.pins}
    first: dict[str, str] = {}
    for zero in context.declared.zero_volts:
        name = by_pin.get(zero.zero)
        if name is None or zero.mode not in ("earthed", "inside"):
            continue
        if name in first:
            text = f"the 0 V of {zero.device} and that of {first[name]} are one, and both are declared to be earthed"
            yield Notice("two-earths", zero.where, zero.device, text)
        first.setdefault(name, zero.device)
