"""Sensors at inputs: not surely off for their leakage, not surely on for their drop, or starved of current."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from wiregen.circuit.inputs import Input, inputs
from wiregen.circuit.points import Points
from wiregen.circuit.rest import at_rest
from wiregen.circuit.solve import solve
from wiregen.control.functions import Function, Sensor
from wiregen.formulas.two_wire_sensors import Bleed, bleed_for_leakage, bleed_for_least_current
from wiregen.review.context import Context, called
from wiregen.review.electrical.worst import MOST_SUPPLY_V, SUPPLY_LOW
from wiregen.terms import Notice, Pin

_ROUNDED = 1.005  # the leak of a good insulation, and rounding


@dataclass(frozen=True, slots=True)
class _Watched:
    """A sensor at an input, and the numbers of the states in which it blocks and conducts."""

    function: Function
    sensor: str
    at: Input
    points: Points
    blocks: int
    conducts: int

    def volts(self, state: int) -> float:
        return abs(float(self.points.volts(self.at.part.a, self.at.part.b)[state]))

    @property
    def drop_v(self) -> float:
        """What the sensor drops while it conducts."""
        element = next(e for e in self.points.circuit.elements if e.kind == "sensor" and e.of == self.sensor)
        return abs(float(self.points.volts(element.a, element.b)[self.conducts]))

    @property
    def least_v(self) -> float:
        """The voltage at the input while the sensor conducts, with the supply at its lowest: the drop stays."""
        nominal = self.volts(self.conducts)
        return nominal - (1.0 - SUPPLY_LOW) * (nominal + self.drop_v)


def at_inputs(context: Context) -> Iterator[Notice]:
    """What is wrong between sensors and the inputs that they work on; the circuit is solved once for all of it."""
    for it in _watched(context):
        yield from _not_surely_off(it)
        yield from _not_surely_on(it)
        yield from _starved(context, it)


def _not_surely_off(it: _Watched) -> Iterator[Notice]:
    """A sensor whose leakage keeps its input above the range in which it is surely off."""
    volts, ranges = it.volts(it.blocks), it.at.ranges
    leaking_a = volts / it.at.part.ohm
    # A sensor that leaks just what its input may take, as standards have it, is well.
    guarded = volts <= ranges.off_guarded_v and leaking_a <= _ROUNDED * ranges.off_most_a
    if guarded or volts <= ranges.off_most_v:
        return
    bleed = bleed_for_leakage(leaking_a, it.at.part.ohm, ranges.off_most_v, MOST_SUPPLY_V)
    text = (
        f"{it.sensor} lets {leaking_a * 1000:.2f} mA through when it blocks: {volts:.1f} V at {it.at.pin} "
        f"({called(it.function)}), which is surely off up to {ranges.off_most_v:g} V"
    )
    yield _sensor_notice("sensor-not-surely-off", it, text, volts, ranges.off_most_v, "V", _by(it, bleed))


def _not_surely_on(it: _Watched) -> Iterator[Notice]:
    """A sensor whose drop, with the supply low, leaves its input too little to be surely on."""
    drop, volts = it.drop_v, it.least_v
    least = max(it.at.ranges.on_least_v, it.at.ranges.on_least_a * it.at.part.ohm)
    if volts >= least:
        return
    text = (
        f"{it.sensor} drops {drop:.1f} V: with the supply 15 % low {volts:.1f} V are left at {it.at.pin} "
        f"({called(it.function)}), which is surely on from {least:g} V"
    )
    most_drop = drop - (least - volts)
    remedy = f"Use a sensor that drops at most {max(0.0, most_drop):.1f} V, such as one with three wires."
    yield _sensor_notice("sensor-not-surely-on", it, text, volts, least, "V", remedy)


def _starved(context: Context, it: _Watched) -> Iterator[Notice]:
    """A two-wire sensor that, conducting, gets less than the current on which it lives."""
    least_a = context.devices[it.sensor].figure("least_current") or 0.0
    volts = it.least_v
    amps = volts / it.at.part.ohm
    if amps >= least_a or volts <= 0.0:
        return
    text = (
        f"{it.sensor} needs {least_a * 1000:g} mA when it conducts, and with the supply 15 % low {it.at.pin} "
        f"({called(it.function)}) draws {amps * 1000:.2f} mA"
    )
    bleed = bleed_for_least_current(least_a, amps, volts, MOST_SUPPLY_V)
    yield _sensor_notice("sensor-starved", it, text, amps * 1000, least_a * 1000, "mA", _by(it, bleed))


def _sensor_notice(code: str, it: _Watched, text: str, value: float, limit: float, unit: str, remedy: str) -> Notice:
    return Notice(
        code, it.function.where, it.sensor, text, value=round(value, 2), limit=round(limit, 2), unit=unit, remedy=remedy
    )


def _by(it: _Watched, bleed: Bleed | None) -> str:
    if bleed is None:
        return ""
    ohm = bleed.chosen_ohm
    rated = f", rated {bleed.rated_w:g} W" if bleed.rated_w is not None else ""
    return (
        f"Set a resistor of {ohm / 1000:g} kohm{rated}, from {it.at.pin} to the common of the input "
        f"({bleed.power_w:.2f} W at {MOST_SUPPLY_V:.1f} V), or use a sensor with three wires."
    )


def _watched(context: Context) -> Iterator[_Watched]:
    """Every sensor that alone works on a digital input and has a conductor to it."""
    functions = [f for f in context.declared.functions if isinstance(f.partner, Sensor)]
    if not functions:
        return
    circuit = context.circuit
    at = {i.pin: i for i in inputs(circuit)}
    base = at_rest(context.declared, context.allocation)
    names = list(dict.fromkeys(f.partner.device for f in functions if isinstance(f.partner, Sensor)))
    points = solve(circuit, [base, *(replace(base, name=n, operated=frozenset({n})) for n in names)])
    for function in functions:
        if not isinstance(function.partner, Sensor):
            continue
        placed = context.allocation.of_end(function.ends[0].id)
        watched = at.get(Pin(placed.device, placed.channel)) if placed else None
        if placed is None or watched is None:
            continue
        state = 1 + names.index(function.partner.device)
        volts = abs(points.volts(watched.part.a, watched.part.b))[[0, state]]
        if points.restless[[0, state]].any() or abs(volts[0] - volts[1]) < 1.0:
            continue  # it has no say here: nothing feeds it, or the circuit is not complete
        order = (0, state) if volts[0] < volts[1] else (state, 0)
        yield _Watched(function, function.partner.device, watched, points, *order)
