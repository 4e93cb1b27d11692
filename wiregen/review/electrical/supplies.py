"""Supplies at the end of their strength, and coils that find no rest, in any state that is read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from wiregen.circuit import Points, at_rest, solve
from wiregen.circuit.network import Element
from wiregen.circuit.readings import reading_states
from wiregen.circuit.state import State
from wiregen.review.context import Context
from wiregen.review.electrical.worst import SUPPLY_LOW
from wiregen.terms import Notice

#: For more controllers than this the states are not tried at every check: it would take longer than everything else.
MOST_CONTROLLERS = 30


def supplies_and_coils(context: Context) -> Iterator[Notice]:
    """Every supply that is at its limit in some state, once; every state in which relays chase each other."""
    controllers = sum(d.profile.controller is not None for d in context.declared.devices)
    if controllers > MOST_CONTROLLERS or not context.wiring.conductors:
        return
    circuit = context.circuit
    states = [*reading_states(context.declared, context.allocation, circuit), _everything_on(context)]
    points = solve(circuit, states)
    yield from _restless(context, points)
    for element in circuit.elements:
        terminal = context.terminal(element.a)
        if element.kind != "supply" or terminal is None or terminal.limit is None:
            continue
        volts = np.where(points.restless, np.inf, points.volts(element.a, element.b))
        worst, idle_v = int(np.argmin(volts)), element.curves[0].idle_v
        if volts[worst] < SUPPLY_LOW * idle_v:
            yield _overloaded(context, element, terminal.limit.si, float(volts[worst]), idle_v, states[worst].name)


def _everything_on(context: Context) -> State:
    """Every output that drives something is on at once."""
    base = at_rest(context.declared, context.allocation)
    placed = {a.end: a for a in context.allocation.assignments}
    outputs = [f.ends[0].id for f in context.declared.functions if f.purpose == "output"]
    on = frozenset(f"{placed[i].device}:{placed[i].channel}" for i in outputs if i in placed)
    return replace(base, name="all outputs on", energised=base.energised | on)


def _overloaded(context: Context, element: Element, limit_a: float, volts: float, idle_v: float, state: str) -> Notice:
    says = (
        f"{element.a.name} of {element.of} gives no more than {limit_a * 1000:g} mA; in the state '{state}' more is "
        f"asked of it, and its voltage falls from {idle_v:g} V to {volts:.1f} V"
    )
    return Notice(
        "supply-overloaded",
        context.devices[element.of].where,
        str(element.a),
        says,
        value=round(volts, 2),
        limit=round(SUPPLY_LOW * idle_v, 2),
        unit="V",
    )


def _restless(context: Context, points: Points) -> Iterator[Notice]:
    """Each relay that chatters, once, with the first state in which it does."""
    told: dict[str, str] = {}
    for number, state in enumerate(points.states):
        for relay in sorted(points.chasing(number)):
            told.setdefault(relay, state.name)
    for relay, state_name in told.items():
        says = f"{relay} picks up and lets go without end in the state '{state_name}': contacts take its own feed away"
        yield Notice("coil-never-rests", context.devices[relay].where, relay, says)
