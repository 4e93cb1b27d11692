"""One current through several receivers: who stands in the loop, in which order, and that it is a current."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Device, Function, Transmitter
from wiregen.review.context import Context
from wiregen.review.words import listed
from wiregen.terms import Notice


def order_wrong(context: Context) -> Iterator[Notice]:
    """A receiver with a return that is joined to others, before the end of the loop: the current would leave there."""
    for device, readers in _loops(context):
        for name in device.declared.loop[:-1]:
            reader = readers.get(name)
            if reader is not None and _single_ended(context, reader):
                text = (
                    f"{name} takes the current of {device.name} at one terminal and gives it to its 0 V, so nothing is "
                    f"left for what follows: the loop ends at {name}"
                )
                yield Notice("loop-order-wrong", (*device.where, "loop"), f"{device.name} {name}", text)


def not_reading(context: Context) -> Iterator[Notice]:
    """A device in a loop that has no use for the signal, so that nothing carries the current through it."""
    for device, readers in _loops(context):
        for name in device.declared.loop:
            if name not in readers:
                text = f"the loop of {device.name} passes {name}, and {name} reads nothing of {device.name}"
                yield Notice("loop-receiver-idle", (*device.where, "loop"), f"{device.name} {name}", text)


def left_out(context: Context) -> Iterator[Notice]:
    """A receiver of the signal that does not stand in its loop."""
    for device, readers in _loops(context):
        for name, reader in readers.items():
            if name not in device.declared.loop:
                text = f"{name} reads {device.name}, whose loop passes only {listed(device.declared.loop)}"
                yield Notice("loop-receiver-left-out", reader.where, f"{device.name} {name}", text)


def no_current(context: Context) -> Iterator[Notice]:
    """A voltage through several receivers one after the other."""
    for device, readers in _loops(context):
        for name, reader in readers.items():
            if reader.signal.endswith(" V"):
                text = (
                    f"{name} takes {device.name} as {reader.signal}: a voltage has no loop, its receivers stand side "
                    "by side"
                )
                yield Notice("loop-not-current", reader.where, f"{device.name} {name}", text)


def in_one_loop(context: Context, device: str, functions: list[Function]) -> bool:
    """Whether all these receivers stand in the loop of a transmitter, each once."""
    loop = context.devices[device].declared.loop
    names = [f.controller for f in functions]
    return len(set(names)) == len(names) and all(name in loop for name in names)


def _loops(context: Context) -> Iterator[tuple[Device, dict[str, Function]]]:
    """Every device with a loop, and the functions that read it by their controllers."""
    for device in context.declared.devices:
        if device.declared.loop:
            readers = (
                f
                for f in context.declared.functions
                if isinstance(f.partner, Transmitter) and f.partner.device == device.name
            )
            yield device, {f.controller: f for f in readers}


def _single_ended(context: Context, function: Function) -> bool:
    """Whether the input gives the current to the common 0 V of its device instead of a second terminal of its own."""
    terminals = context.devices[function.controller].profile.terminals
    return any(t.role == "analog_in" for t in terminals) and all(
        len(t.pins) == 1 for t in terminals if t.role == "analog_in"
    )
