"""Codes about motors: what their plates say."""

from __future__ import annotations

from wiregen.review.catalogue.entry import WARNING, Entry
from wiregen.review.catalogue.plant import START, STOP, THREE_WIRE, drive

_MOTOR = "motor: {power: 4 kW, voltage: 400 V, current: 4.8 A, cos_phi: 0.82, frequency: 50 Hz, speed: 1440 1/min}\n"

ENTRIES = (
    Entry(
        code="nameplate-contradicts",
        severity=WARNING,
        title="A nameplate that contradicts itself",
        what=(
            "The declared power of a motor does not follow from its voltage, current and power factor, or its speed "
            "not from its frequency."
        ),
        why=(
            "A motor gives less than it draws, wastes only so much, and turns a little slower than its field. The "
            "figures go into the drive: with a wrong current it protects the motor badly, with a wrong frequency or "
            "speed it misjudges the slip."
        ),
        remedy=(
            "Read the plate again. Voltage and current belong to one connection, star or delta: the current of the "
            "lower voltage is 1.73 times as great. Speed and frequency stand in one line of the plate."
        ),
        basis="IEC 60034-1",
        example=drive(START + STOP, THREE_WIRE + _MOTOR),
        right=(("current: 4.8 A", "current: 8.3 A"),),
    ),
)
