"""What is declared and never used: devices and places."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.review.context import Context, partner_devices
from wiregen.scheme.places import cabinets_of
from wiregen.terms import Notice


def device_unused(context: Context) -> Iterator[Notice]:
    """A device that stands in no function, feeds nothing, and is joined to no other device."""
    used = _in_functions(context) | _wired_to_another(context)
    for device in context.declared.devices:
        if device.name not in used:
            text = f"{device.name} ({device.profile.title}) is declared, and nothing uses it"
            yield Notice("device-unused", device.where, device.name, text)


def place_unused(context: Context) -> Iterator[Notice]:
    """A place at which nothing stands. A cabinet is used by every cable from it, so by every other place in use."""
    places = context.scheme.model.places
    occupied = {device.place for device in context.declared.devices}
    cabinets = cabinets_of(places)
    far = any(name not in cabinets for name in occupied)
    for name in places:
        if name not in occupied and not (name in cabinets and far):
            text = f"{name} is declared, and no device stands there"
            yield Notice("place-unused", ("places", name), name, text)


def _in_functions(context: Context) -> set[str]:
    """Devices in functions; drives that the network runs, which need no terminal; those whose 0 V others lie on."""
    used = {drive for drive, runs in context.declared.runs if any(run.network for run in runs)}
    # A supply whose 0 V another device lies on earths that device, if it does nothing else.
    used.update(zero.joined_to for zero in context.declared.zero_volts if zero.joined_to is not None)
    for function in context.declared.functions:
        used.update(partner_devices(function))
        used.update(device for end in function.ends for device in end.devices)
    return used


def _wired_to_another(context: Context) -> set[str]:
    """Devices that a signal or a feed reaches. 0 V and earth alone are no use of a device."""
    used: set[str] = set()
    for potential in context.wiring.potentials:
        devices = {pin.device for pin in potential.pins if pin.device in context.devices}
        if potential.kind not in ("zero", "earth") and len(devices) > 1:
            used |= devices
    return used
