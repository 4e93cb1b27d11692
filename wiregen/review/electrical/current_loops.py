"""Two-wire transmitters whose loop runs out of voltage before the end of the span."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from wiregen.circuit.assumed import HOT_C, LIFT_OFF_V, figure
from wiregen.circuit.network import Element
from wiregen.circuit.rest import at_rest
from wiregen.circuit.solve import solve
from wiregen.control.functions import Transmitter
from wiregen.formulas.current_loops import least_supply_v, longest_m, most_current_ma, most_loop_ohm
from wiregen.review.context import Context, called
from wiregen.review.electrical.worst import SUPPLY_LOW
from wiregen.terms import Notice

_HIGH_MA = 20.0  # the upper end of a live zero signal, IEC 60381-1
_ENOUGH_MA = 0.01  # rounding


def short_of_voltage(context: Context) -> Iterator[Notice]:
    """A two-wire transmitter that cannot reach 20 mA with the supply at the low end of its range."""
    loops = {f.partner.device: f for f in context.declared.functions if isinstance(f.partner, Transmitter)}
    if not any(isinstance(f.partner, Transmitter) and f.partner.wires == 2 for f in loops.values()):
        return
    for element in context.circuit.elements:
        function = loops.get(element.of)
        if element.kind != "transmitter" or function is None or not isinstance(function.partner, Transmitter):
            continue
        if function.partner.wires != 2 or function.supply is None:
            continue
        source = _source(context, element)
        if source is None:
            continue
        supply_v, loop_ohm = source
        lift_off_v = figure(context.devices[element.of], "lift_off", LIFT_OFF_V)
        low_v = supply_v * SUPPLY_LOW
        reached_ma = most_current_ma(low_v, lift_off_v, loop_ohm)
        if reached_ma >= _HIGH_MA - _ENOUGH_MA:
            continue
        text = (
            f"the loop of {called(function)} has {loop_ohm:.0f} ohm: with the supply at {low_v:.1f} V, "
            f"{element.of} (at least {lift_off_v:g} V) gets no further than {reached_ma:.1f} mA"
        )
        yield Notice(
            "loop-out-of-compliance",
            function.where,
            element.of,
            text,
            value=round(reached_ma, 2),
            limit=_HIGH_MA,
            unit="mA",
            remedy=_remedy(context, element, low_v, lift_off_v, loop_ohm),
        )


def _source(context: Context, element: Element) -> tuple[float, float] | None:
    """The voltage [V] that feeds a loop without its current, and the resistance [ohm] beside the transmitter.

    Two currents in reach give the line on which the loop lies, whatever stands in it.
    """
    circuit = context.circuit
    base = at_rest(context.declared, context.allocation)
    points = solve(circuit, [replace(base, signals=((element.of, ma / 1000.0),)) for ma in (1.0, 3.0)])
    volts, amps = points.volts(element.a, element.b), points.amps(element)
    if points.restless.any() or amps[1] - amps[0] < 1e-3:
        return None  # nothing feeds it, or not enough to say more
    loop_ohm = float((volts[0] - volts[1]) / (amps[1] - amps[0]))
    return float(volts[0] + loop_ohm * amps[0]), loop_ohm


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
    most_ohm = max(0.0, most_ohm)
    return (
        f"The loop may have {most_ohm:.0f} ohm: use receivers with {loop_ohm - most_ohm:.0f} ohm less "
        f"in sum, a transmitter with a lower lift-off voltage, or a supply of {needed_v:.1f} V."
    )
