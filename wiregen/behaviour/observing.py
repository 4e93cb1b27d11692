"""From operating points to what controllers and people see: levels, values, lamps, meters, and what takes harm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from wiregen.allocation.model import Allocation
from wiregen.behaviour.speed import is_current, value_of
from wiregen.behaviour.standing import Reading
from wiregen.circuit import Circuit, Points
from wiregen.circuit.inputs import inputs, levels, limits
from wiregen.circuit.network import Resistance
from wiregen.circuit.parts import Bench
from wiregen.control.functions import Declared, Device
from wiregen.control.loads import rated_voltage
from wiregen.terms import Pin

#: A load does its work from this part of its voltage on: common practice, no source.
_WORKS = 0.7
#: Beyond these a part takes harm: an input for current, one for voltage, a digital input, a load by its voltage.
#: typical, invented.
_HARM_A, _HARM_V, _HARM_DIGITAL_V, _HARM_LOAD = 0.050, 30.0, 60.0, 1.5
#: An input for motor thermistors trips above this voltage, which is that of about 3.3 kohm: typical, invented.
_HOT_V = 2.4

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Signal:
    """An analog input in use, or a meter: from which pin to which, and as what signal.

    ``ohm`` turns volts into amps; it is 0 for voltage.
    """

    pin: Pin
    back: Pin
    signal: str
    ohm: float

    @property
    def unit(self) -> str:
        """A or V."""
        return "A" if self.ohm else "V"

    @property
    def full(self) -> float:
        """The upper end of its range [V or A]."""
        return value_of(self.signal, 1.0)


@dataclass(frozen=True, slots=True)
class _Lamp:
    device: str
    a: Pin
    b: Pin
    volts: float


class Observer:
    """Reads the operating points of a circuit. Made once for a design: a change in the circuit moves no pin."""

    def __init__(self, circuit: Circuit, declared: Declared, allocation: Allocation) -> None:
        used = {Pin(a.device, pin) for a in allocation.assignments for pin in a.pins}
        self.inputs = [i for i in inputs(circuit) if i.part.a in used or i.part.b in used]
        self.places = {pin: n for n, i in enumerate(self.inputs) for pin in (i.part.a, i.pin)}
        by_pin = {Pin(a.device, a.channel): a.signal for a in allocation.assignments}
        self.signals = [s for r in circuit.fixed if (s := _signal(r, by_pin)) is not None]
        self.signals += [Signal(e.a, e.b, "thermistor", 0.0) for e in circuit.elements if e.kind == "motor_thermistor"]
        self._lamps = list(_lamps(circuit, declared))
        shown = Bench.of(declared, allocation).partners
        self.meters = [_measured(r, shown.get(r.of, "")) for r in circuit.fixed if r.kind == "meter"]
        pairs = {
            "inputs": [(i.part.a, i.part.b) for i in self.inputs],
            "signals": [(s.pin, s.back) for s in self.signals],
            "lamps": [(lamp.a, lamp.b) for lamp in self._lamps],
            "meters": [(m.pin, m.back) for m in self.meters],
        }
        self._pins = list(dict.fromkeys(pin for found in pairs.values() for pair in found for pin in pair))
        at = {pin: n for n, pin in enumerate(self._pins)}
        self._at = {
            kind: (_columns(at, [a for a, _ in found]), _columns(at, [b for _, b in found]))
            for kind, found in pairs.items()
        }
        self._limits = limits(self.inputs)

    def read(self, points: Points) -> list[Reading]:
        """One reading a state of ``points``."""
        count = len(points.states)
        volts = np.empty((count, len(self._pins)))
        for n, pin in enumerate(self._pins):
            volts[:, n] = points.to_earth(pin)

        def across(kind: str) -> Floats:
            a, b = self._at[kind]
            return volts[:, a] - volts[:, b]

        digital = np.abs(across("inputs"))
        read = levels(digital, self._limits)
        values = np.round(across("signals") / _divisors(self.signals), 6)
        shown = np.round(across("meters") / _divisors(self.meters), 4)
        rated = np.array([lamp.volts for lamp in self._lamps])
        parts = np.abs(across("lamps")) / rated if self._lamps else np.zeros((count, 0))
        return [
            Reading(
                levels=tuple(read[n].tolist()),
                values=tuple(values[n].tolist()),
                lit=frozenset(lamp.device for lamp, part in zip(self._lamps, parts[n], strict=True) if part >= _WORKS),
                picked=points.picked_up(n),
                unfed=frozenset(c.device for c, on in zip(points.circuit.feeds, points.fed[n], strict=True) if not on),
                shown=tuple((m.pin.device, v) for m, v in zip(self.meters, shown[n].tolist(), strict=True)),
                strained=self._strained(digital[n], values[n], parts[n]),
                restless=bool(points.restless[n]),
            )
            for n in range(count)
        ]

    def _strained(self, digital: Floats, values: Floats, parts: Floats) -> frozenset[str]:
        found = {str(i.part.a) for i, v in zip(self.inputs, digital, strict=True) if v > _HARM_DIGITAL_V}
        for signal, value in zip(self.signals, values, strict=True):
            if abs(value) > (_HARM_A if signal.ohm else _HARM_V):
                found.add(str(signal.pin))
        found |= {lamp.device for lamp, part in zip(self._lamps, parts, strict=True) if part > _HARM_LOAD}
        return frozenset(found)


def _divisors(signals: Sequence[Signal]) -> Floats:
    """What turns the volts across signals into their values."""
    return np.array([s.ohm or 1.0 for s in signals])


def is_hot(volts: float) -> bool:
    """Whether an input for motor thermistors that sees ``volts`` trips; an open circuit is hot."""
    return volts > _HOT_V


def _signal(part: Resistance, by_pin: dict[Pin, str]) -> Signal | None:
    if part.kind != "analog_input" or part.a not in by_pin:
        return None
    return _measured(part, by_pin[part.a])


def _measured(part: Resistance, signal: str) -> Signal:
    return Signal(part.a, part.b, signal, part.ohm if is_current(signal) else 0.0)


def _lamps(circuit: Circuit, declared: Declared) -> Iterator[_Lamp]:
    shows: dict[str, Device] = {d.name: d for d in declared.devices if d.kind in ("lamp", "horn", "valve")}
    for part in circuit.fixed:
        if part.kind == "load" and part.of in shows:
            at = rated_voltage(shows[part.of])
            yield _Lamp(part.of, part.a, part.b, at.volts if at else 24.0)


def _columns(at: dict[Pin, int], pins: Sequence[Pin]) -> npt.NDArray[np.intp]:
    return np.array([at[pin] for pin in pins], dtype=np.intp)
