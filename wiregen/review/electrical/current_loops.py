"""Two-wire transmitters whose loop runs out of voltage before the end of the span."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from wiregen.circuit.assumed import HOT_C, LIFT_OFF_V, figure
from wiregen.circuit.network import Element
from wiregen.circuit.rest import at_rest
from wiregen.circuit.solve import solve
from wiregen.control.functions import Function, Transmitter
from wiregen.formulas.current_loops import least_supply_v, longest_m, most_current_ma, most_loop_ohm
from wiregen.review.context import Context, called
from wiregen.review.electrical.worst import SUPPLY_LOW
from wiregen.terms import Notice

_HIGH_MA = 20.0  # the upper end of a live zero signal, IEC 60381-1
_ENOUGH_MA = 0.01  # rounding
_TRIED_MA = (1.0, 3.0)  # within reach of any loop that works at all


@dataclass(frozen=True, slots=True)
class _Loop:
    """A two-wire transmitter in its loop: the voltage [V] that feeds it at no current, the ohms beside it."""

    function: Function
    element: Element
    supply_v: float
    loop_ohm: float


def short_of_voltage(context: Context) -> Iterator[Notice]:
    """A two-wire transmitter that cannot reach 20 mA with the supply at the low end of its range."""
    for loop in _loops(context):
        lift_off_v = figure(context.devices[loop.element.of], "lift_off", LIFT_OFF_V)
        reached_ma = most_current_ma(loop.supply_v * SUPPLY_LOW, lift_off_v, loop.loop_ohm)
        if reached_ma >= _HIGH_MA - _ENOUGH_MA:
            continue
        nominal_ma = most_current_ma(loop.supply_v, lift_off_v, loop.loop_ohm)
        if nominal_ma < _HIGH_MA - _ENOUGH_MA:
            yield _loop_notice("loop-short-of-voltage", context, loop, lift_off_v, reached_ma)
        else:
            yield _loop_notice("loop-out-of-compliance", context, loop, lift_off_v, reached_ma)


def _loop_notice(code: str, context: Context, loop: _Loop, lift_off_v: float, reached_ma: float) -> Notice:
    low_v = loop.supply_v * SUPPLY_LOW
    text = (
        f"the loop of {called(loop.function)} has {loop.loop_ohm:.0f} ohm: with the supply at {low_v:.1f} V, "
        f"{loop.element.of} (at least {lift_off_v:g} V) gets no further than {reached_ma:.1f} mA"
    )
    return Notice(
        code,
        loop.function.where,
        loop.element.of,
        text,
        value=round(reached_ma, 2),
        limit=_HIGH_MA,
        unit="mA",
        remedy=_remedy(context, loop.element, low_v, lift_off_v, loop.loop_ohm),
    )


def _loops(context: Context) -> Iterator[_Loop]:
    """Every loop that something feeds. Two currents in reach give the line on which it lies, whatever stands in it."""
    functions = {
        f.partner.device: f
        for f in context.declared.functions
        if isinstance(f.partner, Transmitter) and f.partner.wires == 2 and f.supply is not None
    }
    if not functions:
        return
    circuit = context.circuit
    found = [e for e in circuit.elements if e.kind == "transmitter" and e.of in functions]
    base = at_rest(context.declared, context.allocation)
    # All loops in one solution: what a state does not move is solved once for all of them.
    states = [replace(base, signals=((e.of, ma / 1000.0),)) for e in found for ma in _TRIED_MA]
    points = solve(circuit, states)
    for number, element in enumerate(found):
        both = slice(2 * number, 2 * number + 2)
        volts, amps = points.volts(element.a, element.b)[both], points.amps(element)[both]
        if points.restless[both].any() or amps[1] - amps[0] < 1e-3:
            continue  # nothing feeds it, or not enough to say more
        loop_ohm = float((volts[0] - volts[1]) / (amps[1] - amps[0]))
        yield _Loop(functions[element.of], element, float(volts[0] + loop_ohm * amps[0]), loop_ohm)


def _remedy(context: Context, element: Element, low_v: float, lift_off_v: float, loop_ohm: float) -> str:
    most_ohm = most_loop_ohm(low_v, lift_off_v, _HIGH_MA)
    cores = [
        c
        for c in context.wiring.conductors
        if c.kind == "core" and element.of in {e.device for e in (c.a, c.b) if e} and c.length_m and c.area_mm2
    ]
    cable_ohm = sum(r.ohm for r in context.circuit.fixed if r.of in {c.id for c in cores})
    spare_ohm = most_ohm - (loop_ohm - cable_ohm)
    if cores and spare_ohm > 0.0 and cable_ohm > 1.0:
        length_m = longest_m(spare_ohm, cores[0].area_mm2 or 1.0, temperature_c=HOT_C)
        return (
            f"The loop may have {most_ohm:.0f} ohm: a cable of at most {length_m:.0f} m at {cores[0].area_mm2:g} mm2, "
            f"a receiver with {loop_ohm - most_ohm:.0f} ohm less, or a transmitter with a lower lift-off voltage."
        )
    # The loop voltage that would do, referred to the nominal supply.
    needed_v = least_supply_v(lift_off_v, loop_ohm, _HIGH_MA) / SUPPLY_LOW
    if most_ohm <= 0.0:
        return f"No loop is short enough: take a transmitter with a lower lift-off, or a supply of {needed_v:.1f} V."
    return (
        f"The loop may have {most_ohm:.0f} ohm: use receivers with {loop_ohm - most_ohm:.0f} ohm less "
        f"in sum, a transmitter with a lower lift-off voltage, or a supply of {needed_v:.1f} V."
    )
