"""What digital inputs read at an operating point: on, off, or a voltage between that promises neither."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from wiregen.circuit.build import Circuit
from wiregen.circuit.network import Resistance
from wiregen.circuit.points import Points
from wiregen.formulas.input_types import InputKind, InputType, input_type
from wiregen.terms import Pin

Levels = npt.NDArray[np.int8]
ON, OFF, UNDEFINED = 1, 0, -1
#: What inputs are taken for whose profile names no type: safe torque off, monitored channels. typical, invented.
_OTHERWISE: InputKind = "3"


@dataclass(frozen=True, slots=True)
class Input:
    """One digital input: the pin of its channel by which it is called, its resistance, and the ranges of its type."""

    pin: Pin
    part: Resistance
    ranges: InputType


def inputs(circuit: Circuit) -> Iterator[Input]:
    """Every input that reads on or off: those for contacts, safe torque off, the channels of a safety relay."""
    for part in circuit.fixed:
        if part.kind not in ("input", "safe_torque_off", "channel", "reset"):
            continue
        terminal = circuit.devices[part.of].profile.terminal_of(part.a.name)
        if terminal is not None:
            yield Input(Pin(part.of, terminal.label), part, input_type(terminal.input_type or _OTHERWISE))


def levels(points: Points, at: Input) -> Levels:
    """What an input reads, one a state: `ON`, `OFF` or `UNDEFINED`. The wiring's polarity makes no difference."""
    volts = np.abs(points.volts(at.part.a, at.part.b))
    amps = volts / at.part.ohm
    on = (volts >= at.ranges.on_least_v) & (amps >= at.ranges.on_least_a)
    guarded = (volts <= at.ranges.off_guarded_v) & (amps <= at.ranges.off_most_a)
    off = (volts <= at.ranges.off_most_v) | guarded
    return np.select([on, off], [np.int8(ON), np.int8(OFF)], np.int8(UNDEFINED))
