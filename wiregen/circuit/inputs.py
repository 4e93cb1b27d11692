"""What digital inputs read at an operating point: on, off, or a voltage between that promises neither."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from wiregen.circuit.build import Circuit
from wiregen.circuit.network import Floats, Resistance
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


def limits(at: Sequence[Input]) -> Floats:
    """What `levels` needs of inputs: (inputs, 6), in ohm, V and A."""
    rows = [
        (i.part.ohm, r.on_least_v, r.on_least_a, r.off_most_v, r.off_guarded_v, r.off_most_a)
        for i in at
        for r in (i.ranges,)
    ]
    return np.array(rows, dtype=np.float64).reshape(len(at), 6)


def levels(volts: Floats, limits_of: Floats) -> Levels:
    """What inputs read at ``volts`` [V] across them (.., inputs), of either sign: `ON`, `OFF` or `UNDEFINED`."""
    ohm, on_v, on_a, off_v, guarded_v, off_a = limits_of.T
    across = np.abs(volts)
    amps = across / ohm
    on = (across >= on_v) & (amps >= on_a)
    off = (across <= off_v) | ((across <= guarded_v) & (amps <= off_a))
    return np.select([on, off], [np.int8(ON), np.int8(OFF)], np.int8(UNDEFINED))
