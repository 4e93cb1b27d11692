"""Loads: the pins between which a current does its work, and how much of it."""

from __future__ import annotations

from wiregen.control.functions import Device, Load
from wiregen.terms import Pin

#: The voltage at which the current of a load follows from its power, V. common practice, no source.
_CONTROL_VOLTS = 24.0


def load_of(device: Device) -> Load | None:
    """The pins of a load: a coil's A1 A2, a lamp's X1 X2, a valve's 1 2 and PE."""
    terminals = [t for t in device.profile.terminals if t.role in ("coil", "load")]
    pins = [Pin(device.name, pin) for t in terminals for pin in t.pins]
    if len(pins) < 2:
        return None
    earth = device.profile.first("earth")
    return Load(device.name, pins[0], pins[1], Pin(device.name, earth.label) if earth else None)


def load_current(device: Device) -> float | None:
    """A at rated voltage, from the profile's current, or its power at 24 V; None where the profile says neither."""
    figures = device.profile.figures
    if "current" in figures:
        return figures["current"].si
    if "power" in figures:
        return figures["power"].si / _CONTROL_VOLTS
    return None
