"""Laws of currents: everything placed is wired, every circuit closes, and no current takes a way that it should not.

They hold where nothing is noticed that keeps a part of the design from being wired. Source: common practice, no source.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

import networkx as nx
from tree_laws import conducts_as_declared
from wired_design import Wired

from wiregen.allocation.model import Assignment
from wiregen.control.functions import (
    Function,
    Leg,
    Load,
    Meter,
    Parallel,
    Potentiometer,
    Sensor,
    Series,
    Thermistor,
    Transmitter,
)
from wiregen.terms import Pin
from wiregen.wiring.netlist import graph, metal


def everything_placed_is_wired(design: Wired) -> Iterator[str]:
    """Every pin that allocation chose has a conductor on its potential; of a changeover the used half."""
    wired_pins = {pin for c in design.wiring.conductors for pin in (c.a, c.b) if pin}
    for a in design.allocation.assignments:
        used = (a.pins[0], a.pins[-1]) if a.form != "NC" else a.pins[:2]
        for name in dict.fromkeys(used):
            if Pin(a.device, name) not in wired_pins:
                yield f"{a.device}:{name} of {a.function} is allocated and not wired"


def circuits_close(design: Wired) -> Iterator[str]:
    """A current leaves the supply of each placed function, passes its partner and its terminals, and comes back."""
    ways = Ways(design)
    for function in design.declared.functions:
        ends = [end for i in range(len(function.ends)) if (end := design.at(function, i)) is not None]
        if len(ends) == len(function.ends):
            yield from (f"{function.name} of {function.controller}: {b}" for b in _open(design, ways, function, ends))


#: The two pins between which an element conducts.
Between = tuple[Pin, Pin]


class Ways:
    """Which pins are joined by metal, and which ways the elements of the circuit make between those pieces of metal."""

    def __init__(self, design: Wired) -> None:
        self.circuit = graph(design.declared, design.wiring)
        parts = nx.connected_components(metal(self.circuit))
        self._piece = {pin: number for number, pins in enumerate(parts) for pin in pins}

    def piece(self, pin: Pin) -> object:
        """What is joined to a pin; a pin that nothing is joined to is a piece of its own."""
        return self._piece.get(pin, pin)

    def joined(self, a: Pin, b: Pin) -> bool:
        return self.piece(a) == self.piece(b)

    def way(self, elements: list[Between], start: Pin, end: Pin) -> bool:
        """Whether a current finds from ``start`` to ``end`` through metal and those elements that the circuit has."""
        found: nx.Graph[object] = nx.Graph()
        found.add_nodes_from((self.piece(start), self.piece(end)))
        found.add_edges_from((self.piece(a), self.piece(b)) for a, b in elements if self.circuit.has_edge(a, b))
        return bool(nx.has_path(found, self.piece(start), self.piece(end)))


def _open(design: Wired, ways: Ways, function: Function, ends: list[Assignment]) -> Iterator[str]:
    partner = function.partner
    if isinstance(partner, Potentiometer):
        yield from _potentiometer(design, ways, partner, function, ends[0])
        return
    elements = [_channel(design, end) for end in (*ends, *_other_receivers(design, function))]
    if function.purpose == "safety_loop":
        assert isinstance(partner, Leg | Series | Parallel)
        # Between the two pins of a monitored channel, or of the reset, lie its contacts and nothing else.
        yield from conducts_as_declared(partner, lambda contacts: ways.way([*contacts], *elements[0]))
        return
    if isinstance(partner, Series | Parallel) or function.coil is not None:
        coil = [(function.coil.a, function.coil.b)] if function.coil is not None else []
        around = _poles(design, ways, function, ends)
        if around is not None and isinstance(partner, Leg | Series | Parallel):
            yield from conducts_as_declared(partner, lambda contacts: ways.way([*elements, *coil, *contacts], *around))
        return
    if partner is not None:
        elements.append(_partner(partner))
    if isinstance(partner, Transmitter):
        elements += _in_series(design, function, partner)
    if isinstance(partner, Transmitter) and partner.wires != 2 and function.supply is not None:
        for pin, pole in ((partner.plus, function.supply.plus), (partner.minus, function.supply.zero)):
            if not ways.joined(pin, pole):
                yield f"{pin} is not fed from {pole}"
    poles = _poles(design, ways, function, ends)
    if poles is None:
        # An active output drives its own current: it must come back to its other side.
        (a, b), *rest = elements if len(ends) == 2 or isinstance(partner, Meter) else elements[::-1]
        if not ways.way(rest, a, b):
            yield f"what leaves {a} does not come back to {b}"
        return
    if not ways.way(elements, *poles):
        yield f"no way from {poles[0]} back to {poles[1]}"
    for left_out in elements:
        if ways.way([e for e in elements if e != left_out], *poles):
            yield f"a way around {left_out[0]} - {left_out[1]}"


def _other_receivers(design: Wired, function: Function) -> Iterator[Assignment]:
    """The inputs that stand in one loop with this one: the current passes them all."""
    partner = function.partner
    if not isinstance(partner, Transmitter) or not design.declared.device(partner.device).declared.loop:
        return
    for other in design.declared.functions:
        at = design.at(other)
        if other is not function and other.partner == partner and at is not None:
            yield at


def _partner(partner: object) -> Between:
    match partner:
        case Leg() | Thermistor():
            return partner.a, partner.b
        case Sensor():
            if partner.output is None:
                return partner.plus, partner.minus
            return partner.minus if partner.polarity == "sink" else partner.plus, partner.output
        case Load():
            return partner.a, partner.b
        case Transmitter():
            return partner.output_return or partner.plus, partner.output
        case Meter():
            return partner.plus, partner.minus
    raise AssertionError(partner)


def _in_series(design: Wired, function: Function, unit: Transmitter) -> list[Between]:
    """The other inputs that its current passes, where one transmitter is said to feed several in a loop."""
    if not next(d.declared.loop for d in design.declared.devices if d.name == unit.device):
        return []
    others = [f for f in design.declared.functions if f.partner == unit and f != function]
    return [_channel(design, at) for f in others if (at := design.at(f)) is not None]


def _channel(design: Wired, end: Assignment) -> Between:
    """Where a current goes into a channel and where it comes out."""
    profile = next(d.profile for d in design.declared.devices if d.name == end.device)
    terminal = profile.terminal_of(end.channel)
    assert terminal is not None
    if len(end.pins) > 1:
        names = (end.pins[0], end.pins[-1]) if end.form != "NC" else end.pins[:2]
    elif terminal.role == "digital_out":
        names = (terminal.feed, end.pins[0])
    else:
        supply = profile.first("supply_out")
        inner = terminal.role == "digital_in" and end.polarity == "sink" and not _has_common(design, end)
        names = (end.pins[0], supply.label if inner and supply else terminal.common)
    return Pin(end.device, names[0]), Pin(end.device, names[1])


def _has_common(design: Wired, end: Assignment) -> bool:
    return any(g.common is not None for g in design.declared.groups if g.device == end.device)


def _poles(design: Wired, ways: Ways, function: Function, ends: list[Assignment]) -> Between | None:
    """The poles that drive a function's current; None where an active output drives it."""
    supplies = {s.device: s for s in design.declared.supplies}
    found = function.supply
    for end in ends:
        if end.form == "transistor":
            feed = next((f for f in design.declared.feeds if f.plus.device == end.device), None)
            found = feed.supply if feed else supplies[end.device]
        elif end.polarity == "sink" and not _has_common(design, end):
            found = supplies[end.device]  # inputs without a common are fed from inside
        elif end.polarity == "sink":
            common = _channel(design, end)[1]  # inputs with one, from what lies on it
            found = next((s for s in design.declared.supplies if ways.joined(s.plus, common)), None)
    active = isinstance(function.partner, Transmitter) and function.partner.wires == 4
    return (found.plus, found.zero) if found is not None and not active else None


def _potentiometer(design: Wired, ways: Ways, pot: Potentiometer, function: Function, end: Assignment) -> Iterator[str]:
    """High end on the controller's reference, wiper on the input, low end on the 0 V to which the input returns."""
    profile = next(d.profile for d in design.declared.devices if d.name == function.controller)
    reference = profile.first("reference_out")
    assert reference is not None
    pin, back = _channel(design, end)
    for a, b in ((pot.high, Pin(function.controller, reference.label)), (pot.wiper, pin), (pot.low, back)):
        if not ways.joined(a, b):
            yield f"{a} is not joined to {b}"


#: Elements that can be closed or open.
SWITCHES = ("contact", "transistor")


def no_sneak_path(design: Wired) -> Iterator[str]:
    """With its own contact open an input stays dead, whatever all other contacts and outputs do."""
    ways = Ways(design)
    closed: nx.MultiGraph[object] = nx.MultiGraph()
    for a, b, data in ways.circuit.edges(data=True):
        if data["kind"] in SWITCHES:
            closed.add_edge(ways.piece(a), ways.piece(b), key=frozenset((a, b)))
    users = Counter(f.partner for f in design.declared.functions if isinstance(f.partner, Leg))
    for function in design.declared.functions:
        leg = function.partner
        if function.purpose != "input" or function.supply is None or not isinstance(leg, Leg):
            continue
        if design.at(function) is None:
            continue
        if users[leg] > 1:
            continue  # a finding of its own: both inputs follow one contact
        feed, pin, own = ways.piece(leg.a), ways.piece(leg.b), frozenset((leg.a, leg.b))
        closed.remove_edge(feed, pin, key=own)
        if nx.has_path(closed, feed, pin):
            yield f"{function.name} of {function.controller} is reached around {leg.a} - {leg.b}"
        closed.add_edge(feed, pin, key=own)


COMPLETE = (everything_placed_is_wired, circuits_close, no_sneak_path)
