"""The letter of the quantity that a process contact or a transmitter answers to."""

from __future__ import annotations

from wiregen.control.functions import Device

_WORDS = (
    ("pressure", "p"),
    ("level", "L"),
    ("temperature", "θ"),
    ("winding", "θ"),
    ("frost", "θ"),
    ("flow", "F"),
)
_UNITS = {"bar": "p", "kpa": "p", "pa": "p", "degc": "θ", "c": "θ", "m3/h": "F", "l/min": "F", "l/s": "F"}
_LETTERS = {"BP": "p", "BL": "L", "BT": "θ", "BF": "F"}


def quantity(device: Device) -> str:
    """By the device's words, then by its unit, then by its designation; empty where nothing tells."""
    words = f"{device.declared.operated_when} {device.text}".lower()
    for word, letter in _WORDS:
        if word in words:
            return letter
    unit = (device.declared.measures or "").lower().split(" ")[-1]
    return _UNITS.get(unit) or _LETTERS.get(device.name.strip("-+=")[:2], "")
