"""How far a drive sees another signal than its source gives: loaded potentiometers, outputs at their limit."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from wiregen.circuit.network import Resistance
from wiregen.circuit.parts import range_of
from wiregen.circuit.rest import at_rest
from wiregen.circuit.solve import solve
from wiregen.circuit.state import State
from wiregen.control.functions import Function, Potentiometer, Transmitter
from wiregen.pipeline import Design
from wiregen.terms import Pin

#: Positions of the source at which it is looked, from its low end to its high end.
POSITIONS = tuple(float(p) for p in np.linspace(0.0, 1.0, 21))


@dataclass(frozen=True, slots=True)
class _Reference:
    """An analog input of a drive in use, and what feeds it; ``turned`` is a potentiometer, set and not driven."""

    name: str
    source: str
    turned: bool
    signal: str
    part: Resistance

    def state(self, base: State, position: float) -> State:
        low, high = range_of(self.signal)
        name = f"{self.source} at {position:.2f}"
        if self.turned:
            return replace(base, name=name, settings=((self.source, position),))
        return replace(base, name=name, signals=((self.source, low + position * (high - low)),))


def reference_errors(design: Design) -> tuple[tuple[str, float], ...]:
    """(reference, its greatest error as a share of the signal's range), for nominal parts and warm copper.

    What the source itself is wrong by, and the drive's converter, is not in it. A reference whose source is not in the
    circuit (a preset, the network) has none.
    """
    found = list(_references(design))
    if not found:
        return ()
    base = at_rest(design.declared, design.allocation)
    points = solve(design.circuit, [r.state(base, p) for r in found for p in POSITIONS])
    errors = []
    for number, reference in enumerate(found):
        own = slice(number * len(POSITIONS), (number + 1) * len(POSITIONS))
        part = reference.part
        seen = points.amps(part)[own] if reference.signal.endswith("mA") else points.volts(part.a, part.b)[own]
        low, high = range_of(reference.signal)
        wrong = np.abs((seen - low) / (high - low) - np.array(POSITIONS))
        if not points.restless[own].any():
            errors.append((reference.name, round(float(wrong.max()), 5)))
    return tuple(errors)


def _references(design: Design) -> Iterator[_Reference]:
    drives = {d.name for d in design.declared.devices if d.kind == "drive"}
    inputs = {p.a: p for p in design.circuit.fixed if p.kind == "analog_input"}
    sources = {e.of for e in design.circuit.elements if e.kind in ("potentiometer", "transmitter")}
    sources |= {str(e.a) for e in design.circuit.elements if e.kind == "analog_output"}
    for function in design.functions:
        at = design.allocation.of_end(function.ends[0].id) if function.ends else None
        if function.purpose != "analog_in" or at is None or at.device not in drives:
            continue
        part, source = inputs.get(Pin(at.device, at.channel)), _source(design, function)
        if part is not None and source in sources:
            turned = isinstance(function.partner, Potentiometer)
            yield _Reference(f"{function.name} of {at.device}", source, turned, at.signal, part)


def _source(design: Design, function: Function) -> str:
    if isinstance(function.partner, Potentiometer | Transmitter):
        return function.partner.device
    at = design.allocation.of_end(function.ends[1].id) if len(function.ends) > 1 else None
    return f"{at.device}:{at.channel}" if at else ""
