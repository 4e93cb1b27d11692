"""Sources: two that drive one thing, and one that drives two."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Function, Load, Meter, Potentiometer, Sensor, Transmitter
from wiregen.review.context import Context, by_partner, called
from wiregen.review.receivers import in_one_loop
from wiregen.review.words import listed
from wiregen.terms import Notice, Pin

#: Roles of pins that drive whatever they are joined to.
_DRIVING = frozenset({"digital_out", "analog_out", "output", "wiper"})


def on_one_terminal(context: Context) -> Iterator[Notice]:
    """Two driven functions fixed to one terminal: by outputs, sensors, transmitters or potentiometers."""
    at: dict[Pin, list[Function]] = {}
    for function in context.declared.functions:
        for end in function.ends:
            if end.fixed and end.role in ("digital_in", "analog_in") and _source(context, function):
                at.setdefault(end.fixed, []).append(function)
    for pin, functions in at.items():
        if len(functions) > 1:
            drivers = listed(f"{_source(context, f)} ({called(f)})" for f in functions)
            text = f"{drivers} would all drive {pin}"
            yield Notice("two-sources-joined", ("fixed", pin.device, _label(context, pin)), str(pin), text)


def on_one_load(context: Context) -> Iterator[Notice]:
    """Two outputs that switch one load, or two analog outputs on one meter."""
    for device, (first, *others) in by_partner(context.declared.functions, Load, Meter).items():
        for other in others:
            text = f"{device} is driven by {called(first)} and by {called(other)}: it obeys whichever is on"
            yield Notice("two-sources-joined", other.where, device, text)


def in_one_potential(context: Context) -> Iterator[Notice]:
    """Two driving pins that the wiring joins, where no rule on one load or terminal has told it."""
    told = {d for d, users in by_partner(context.declared.functions, Load, Meter).items() if len(users) > 1}
    for potential in context.wiring.potentials:
        drivers = [pin for pin in potential.pins if _drives(context, pin)]
        if len(drivers) > 1 and not any(pin.device in told for pin in potential.pins):
            text = f"{listed(drivers)} drive one potential ({potential.name})"
            yield Notice("two-sources-joined", context.devices[drivers[1].device].where, potential.name, text)


def used_twice(context: Context) -> Iterator[Notice]:
    """One transmitter or potentiometer that feeds two analog inputs."""
    for device, (first, *others) in by_partner(context.declared.functions, Transmitter, Potentiometer).items():
        for other in others if not in_one_loop(context, device, [first, *others]) else ():
            text = f"the signal of {device} is used for {called(first)} and for {called(other)}; {_harm(other)}"
            yield Notice("signal-used-twice", other.where, device, text)


def _harm(function: Function) -> str:
    if function.signal.endswith("mA"):
        return "inputs side by side share its current, and both read too little"
    return "its inputs load it together, and their references and 0 V are joined"


def _source(context: Context, function: Function) -> str:
    """The device that drives a function, or nothing where only contacts do."""
    if isinstance(function.partner, Sensor | Transmitter | Potentiometer):
        return function.partner.device
    if len(function.ends) == 1:
        return ""
    return context.device_of(function.ends[1 if function.purpose in ("input", "analog_in") else 0])


def _drives(context: Context, pin: Pin) -> bool:
    terminal = context.terminal(pin)
    if terminal is None:
        return False
    loop_powered = context.devices[pin.device].kind == "transmitter_two_wire" and terminal.role == "minus"
    return loop_powered or (terminal.role in _DRIVING and pin.name == terminal.pins[0])


def _label(context: Context, pin: Pin) -> str:
    """The name under which `fixed` holds the terminal of ``pin``."""
    terminal = context.terminal(pin)
    entries = context.scheme.model.fixed.get(pin.device, {})
    return next((label for label in entries if terminal and label in (terminal.label, *terminal.pins)), pin.name)
