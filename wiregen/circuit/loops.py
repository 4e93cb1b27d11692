"""Current loops at the currents that tell most: below the live zero, at ends and middle, and above the span."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from wiregen.circuit.build import Circuit
from wiregen.circuit.measured import Place
from wiregen.circuit.solve import solve
from wiregen.circuit.state import State
from wiregen.terms import Pin

#: mA. Source: 3.5 and 21 mA signal a failure, after NAMUR NE 43; the others are ends and middle of the span.
LOOP_MA = (3.5, 4.0, 12.0, 20.0, 21.0)

#: By so much [A] the current of a receiver in the loop moves at least, from the low end to the middle.
_FOLLOWS_A = 0.001


@dataclass(frozen=True, slots=True)
class LoopPoint:
    """One loop at one current: the voltage [V] at its receiver, and the current [mA] that flows there."""

    source: str
    set_ma: float
    pin: Pin
    to: Pin
    volts: float
    milliamps: float
    function: str


def loop_points(circuit: Circuit, places: tuple[Place, ...], base: State) -> Iterator[LoopPoint]:
    """Every receiver of every current loop that a transmitter feeds, at each of `LOOP_MA`."""
    sources = [e for e in circuit.elements if e.kind == "transmitter" and "mA" in e.name]
    receivers = [p for p in places if p.part is not None and p.part.kind == "analog_input"]
    # All loops in one solution: what a state does not move is solved once for all of them.
    points = solve(circuit, [replace(base, signals=((e.of, ma / 1000.0),)) for e in sources for ma in LOOP_MA])
    read = [(place, points.amps(place.part), points.volts(place.pin, place.to)) for place in receivers if place.part]
    for number, element in enumerate(sources):
        own = slice(number * len(LOOP_MA), (number + 1) * len(LOOP_MA))
        for place, all_amps, all_volts in read:
            amps, volts = all_amps[own], all_volts[own]
            # A receiver is in this loop if it follows the source's current.
            if abs(amps[2] - amps[1]) < _FOLLOWS_A:
                continue
            for ma, v, a in zip(LOOP_MA, volts, amps, strict=True):
                yield LoopPoint(element.of, ma, place.pin, place.to, float(v), abs(float(a)) * 1000.0, place.function)
