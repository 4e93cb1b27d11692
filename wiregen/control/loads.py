"""Loads: the pins between which a current does its work, how much of it, and at what voltage."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from wiregen import quantities
from wiregen.control.functions import Device, Load
from wiregen.terms import Pin

#: Up to here a voltage that does not say AC or DC is taken as DC. common practice, no source.
_DC_UP_TO_V = 60.0
_SAID = re.compile(r"(.*?V)\s*(AC|DC)?")


@dataclass(frozen=True, slots=True)
class Rated:
    """A rated voltage, V, and its kind."""

    volts: float
    kind: Literal["AC", "DC"]

    def __str__(self) -> str:
        return f"{self.volts:g} V {self.kind}"


def rated(text: str, *, alternating: bool = False) -> Rated:
    """The voltage that ``text`` says, as in ``120 V AC``; without a kind AC above 60 V or where ``alternating``.

    >>> rated("120 V AC"), rated("24 V")
    (Rated(volts=120.0, kind='AC'), Rated(volts=24.0, kind='DC'))
    """
    match = _SAID.fullmatch(text.strip())
    volts = quantities.parse(match.group(1) if match else text, "V")
    if match and match.group(2):
        return Rated(volts, "AC" if match.group(2) == "AC" else "DC")
    return Rated(volts, "AC" if alternating or volts > _DC_UP_TO_V else "DC")


def rated_voltage(device: Device) -> Rated | None:
    """The voltage that a supply gives or a load needs; None where nothing says it."""
    said = device.declared.coil or device.declared.voltage
    figure = device.profile.figures.get("voltage")
    by_terminal = next(
        (t.volts for t in device.profile.terminals if t.volts and t.role in ("supply_out", "coil")), None
    )
    text = said or by_terminal or (figure.value if figure else None)
    return rated(text, alternating=device.kind == "transformer") if text else None


def load_current_a(device: Device) -> float | None:
    """A that a load takes: its power at its voltage, or its profile's current; None where the profile says neither.

    A lamp or a coil for another voltage than its profile's is taken to need the same power. What the scheme states for
    this device holds at its own voltage, and goes over what the profile says.
    """
    figures, at = device.profile.figures, rated_voltage(device)
    own = figures.get("voltage")
    volts = at.volts if at else own.si if own else None
    if "current" in device.declared.figures:
        return figures["current"].si
    if "power" in device.declared.figures and volts:
        return figures["power"].si / volts
    if "current" in figures and (own is None or volts is None):
        return figures["current"].si
    if "current" in figures and own is not None and volts is not None:
        return figures["current"].si * own.si / volts
    return figures["power"].si / volts if "power" in figures and volts else None


def load_of(device: Device) -> Load | None:
    """The pins of a load: a coil's A1 A2, a lamp's X1 X2, a valve's 1 2 and PE."""
    terminals = [t for t in device.profile.terminals if t.role in ("coil", "load")]
    pins = [Pin(device.name, pin) for t in terminals for pin in t.pins]
    if len(pins) < 2:
        return None
    earth = device.profile.first("earth")
    return Load(device.name, pins[0], pins[1], Pin(device.name, earth.label) if earth else None)
