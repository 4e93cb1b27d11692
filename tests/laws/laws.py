"""Laws of every wired design, as one function: it gives every breach, so that a test can demand that there is none.

The laws are facts of the trade (common practice, no source) and of the format; they are checked with networkx on the
wired result alone, with none of the code that made it but the netlist.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

import networkx as nx

from wiregen.allocation import allocate
from wiregen.allocation.intake import problem_of
from wiregen.allocation.model import Allocation, Assignment
from wiregen.control import interpret
from wiregen.control.functions import (
    Declared,
    Function,
    Leg,
    Load,
    Meter,
    Potentiometer,
    Sensor,
    Transmitter,
)
from wiregen.scheme import Scheme
from wiregen.terms import Pin
from wiregen.wiring import wire
from wiregen.wiring.model import Conductor, Wiring
from wiregen.wiring.netlist import Circuit, graph, metal

#: Roles of terminals that give a voltage: no two of them may ever be joined.
POSITIVE = ("supply_out", "reference_out")


@dataclass(frozen=True, slots=True)
class Wired:
    """A scheme carried as far as its wires."""

    scheme: Scheme
    declared: Declared
    allocation: Allocation
    wiring: Wiring

    @property
    def codes(self) -> set[str]:
        """The codes of what control and wiring noticed."""
        return {n.code for n in (*self.declared.notices, *self.wiring.notices)}

    @property
    def is_complete(self) -> bool:
        """Whether nothing is known that keeps a part of the design from being wired."""
        return self.codes <= HARMLESS and self.allocation.status != "infeasible"

    def at(self, function: Function, end: int = 0) -> Assignment | None:
        return self.allocation.of_end(function.ends[end].id)

    def function(self, controller: str, name: str) -> Function:
        return next(f for f in self.declared.functions if (f.controller, f.name) == (controller, name))


def wired(scheme: Scheme) -> Wired:
    """Carry a scheme through control, allocation and wiring."""
    declared = interpret(scheme)
    allocation = allocate(problem_of(scheme, declared))
    return Wired(scheme, declared, allocation, wire(scheme, declared, allocation))


#: What control or wiring may notice of a design of which everything is wired.
HARMLESS = frozenset({"polarity-not-declared", "zero-volt-not-declared", "input-without-meaning"})


def breaches(design: Wired) -> list[str]:
    """Every law that a design breaks, each with what breaks it.

    Where control or wiring noticed that something cannot be wired, or allocation that something has no terminal, the
    laws of completeness do not apply.
    """
    found = [b for law in ALWAYS for b in law(design)]
    if design.is_complete:
        found += [b for law in COMPLETE for b in law(design)]
    return found


# Laws of every design


def one_potential_a_pin(design: Wired) -> Iterator[str]:
    counts = Counter(pin for p in design.wiring.potentials for pin in p.pins)
    yield from (f"{pin} is on {n} potentials" for pin, n in counts.items() if n > 1)


def pins_exist(design: Wired) -> Iterator[str]:
    """Every pin is one of a device, a strip or a screen."""
    known = {Pin(d.name, name) for d in design.declared.devices for name in d.pins}
    known |= {t.pin for s in design.wiring.strips for t in s.terminals}
    known |= {Pin(c.name, "screen") for c in design.wiring.cables if c.screened}
    used = {pin for p in design.wiring.potentials for pin in p.pins}
    used |= {pin for c in design.wiring.conductors for pin in (c.a, c.b) if pin}
    yield from (f"{pin} does not exist" for pin in sorted(used - known))


def potentials_are_trees(design: Wired) -> Iterator[str]:
    """The conductors and the joins inside devices connect a potential's pins, in one way only."""
    circuit = metal(graph(design.declared, design.wiring))
    of = {pin: p.name for p in design.wiring.potentials for pin in p.pins}
    for potential in design.wiring.potentials:
        part: Circuit[Pin] = nx.MultiGraph(circuit.subgraph(potential.pins))
        part.add_nodes_from(potential.pins)
        if not nx.is_connected(part):
            yield f"{potential.name} is in {nx.number_connected_components(part)} pieces"
        elif part.number_of_edges() != part.number_of_nodes() - 1:
            yield f"{potential.name} has a second way: {part.number_of_edges()} joins of {len(part)} pins"
    for a, b, data in circuit.edges(data=True):
        if data["kind"] != "inside" and of.get(a) != of.get(b):
            yield f"{data['id']} joins {of.get(a)} and {of.get(b)}"


def conductors_agree(design: Wired) -> Iterator[str]:
    """A conductor bears the name and number of the potential of its ends; a spare core bears none."""
    by_pin = {pin: p for p in design.wiring.potentials for pin in p.pins}
    for c in design.wiring.conductors:
        if c.b is None:
            if (c.kind, c.number, c.potential) != ("core", None, None) or c.a in by_pin:
                yield f"{c.id} has one end and is no spare core"
            continue
        potential = by_pin.get(c.a)
        if potential is None or (c.potential, c.number) != (potential.name, potential.number):
            yield f"{c.id} is called {c.potential} {c.number} on {potential}"
        if c.a == c.b:
            yield f"{c.id} goes from {c.a} to itself"


def clamps_hold(design: Wired) -> Iterator[str]:
    """No pin takes more conductors than its profile says; a strip terminal takes one a side, and bridges beside."""
    devices = {d.name: d.profile for d in design.declared.devices}
    at: dict[Pin, list[Conductor]] = defaultdict(list)
    sides: dict[tuple[Pin, str], list[str]] = defaultdict(list)
    strips = {s.name for s in design.wiring.strips}
    for c in design.wiring.conductors:
        for pin, side in ((c.a, c.a_side), (c.b, c.b_side)):
            if pin is None:
                continue
            at[pin].append(c)
            if pin.device in strips and c.kind not in ("bridge", "link"):
                sides[pin, str(side)].append(c.id)
            elif (pin.device in strips) != (side is not None) and c.kind not in ("bridge", "link"):
                yield f"{c.id} has side {side} at {pin}"
    yield from (f"{pin} {side} holds {ids}" for (pin, side), ids in sides.items() if len(ids) > 1 or side == "None")
    for pin, conductors in at.items():
        if pin.device in devices and len(conductors) > devices[pin.device].conductors_at(pin.name):
            yield f"the clamp of {pin} holds {[c.id for c in conductors]}"


def strips_agree(design: Wired) -> Iterator[str]:
    """What a strip lists is what its conductors say; it stands in the cabinet; no two terminals have one name."""
    by_id = {c.id: c for c in design.wiring.conductors}
    of = {pin: p.name for p in design.wiring.potentials for pin in p.pins}
    for strip in design.wiring.strips:
        names = [t.name for t in strip.terminals]
        if len(set(names)) < len(names):
            yield f"{strip.name} has a name twice"
        for t in strip.terminals:
            if t.potential != of.get(t.pin):
                yield f"{t.pin} says {t.potential} and is on {of.get(t.pin)}"
            if not (t.inside or t.outside or t.bridged_to or t.potential):
                yield f"{t.pin} is there for nothing"
            for side, ids in (("inside", t.inside), ("outside", t.outside)):
                for identity in ids:
                    c = by_id.get(identity)
                    if c is None or (t.pin, side) not in ((c.a, c.a_side), (c.b, c.b_side)):
                        yield f"{t.pin} lists {identity} {side}"
        listed = {i for t in strip.terminals for i in (*t.inside, *t.outside)}
        landed = {
            c.id
            for c in design.wiring.conductors
            if c.kind in ("wire", "core", "screen") and strip.name in (c.a.device, c.b.device if c.b else "")
        }
        if listed != landed:
            yield f"{strip.name} lists {sorted(listed ^ landed)} wrongly"


def cables_agree(design: Wired) -> Iterator[str]:
    """A core carries one conductor; the used are counted; spares land on terminals of their own; ends are right."""
    places = {d.name: d.place for d in design.declared.devices} | {s.name: s.place for s in design.wiring.strips}
    for cable in design.wiring.cables:
        cores = [c for c in design.wiring.conductors if c.cable == cable.name]
        if sorted(str(c.core) for c in cores) != sorted(cable.marks) or len(set(cable.marks)) != cable.cores:
            yield f"{cable.name} has the cores {cable.marks} and the conductors {[c.core for c in cores]}"
        used = [c for c in cores if c.b is not None]
        if (cable.used, cable.spare) != (len(used), len(cores) - len(used)):
            yield f"{cable.name} says {cable.used} used, {cable.spare} spare"
        for c in used:
            if c.b and {places[c.a.device], places[c.b.device]} != {cable.a, cable.b}:
                yield f"{c.id} runs from {c.a} to {c.b} in {cable.name} from {cable.a} to {cable.b}"
        spares = [c.a for c in cores if c.b is None]
        if len(set(spares)) < len(spares) or any(pin.device not in places for pin in spares):
            yield f"{cable.name} lands spares on {spares}"
        screens = [c for c in design.wiring.conductors if c.kind == "screen" and c.a.device == cable.name]
        if len(screens) != int(cable.screened):
            yield f"{cable.name} has {len(screens)} screens landed"
    cabled = {c.name for c in design.wiring.cables}
    yield from (
        f"{c.id} is in no cable" for c in design.wiring.conductors if c.kind == "core" and c.cable not in cabled
    )


def places_are_cabled(design: Wired) -> Iterator[str]:
    """A conductor from one place to another is a core; any other stays in its place."""
    places = {d.name: d.place for d in design.declared.devices} | {s.name: s.place for s in design.wiring.strips}
    for c in design.wiring.conductors:
        if c.b is not None and c.kind in ("wire", "bridge", "link") and places[c.a.device] != places[c.b.device]:
            yield f"{c.id} is a {c.kind} from {places[c.a.device]} to {places[c.b.device]}"


def names_are_unique(design: Wired) -> Iterator[str]:
    w = design.wiring
    numbers = [p.number for p in w.potentials]
    names = [*(d.name for d in design.declared.devices), *(c.name for c in w.cables), *(s.name for s in w.strips)]
    for what, those in (
        ("potential", [p.name for p in w.potentials]),
        ("number", numbers),
        ("conductor", [c.id for c in w.conductors]),
        ("designation", names),
    ):
        yield from (f"{what} {name} stands {n} times" for name, n in Counter(those).items() if n > 1)


def poles_apart(design: Wired) -> Iterator[str]:
    """Positive terminals are never joined, nor one with 0 V, nor any of them with PE."""
    roles = {Pin(d.name, t.label): t.role for d in design.declared.devices for t in d.profile.terminals}
    for potential in design.wiring.potentials:
        plus = [p for p in potential.pins if roles.get(p) in POSITIVE]
        zero = [p for p in potential.pins if roles.get(p) in ("zero", "analog_zero")]
        earth = [p for p in potential.pins if roles.get(p) == "earth"]
        if len(plus) > 1 or (plus and zero) or (earth and (plus or zero)):
            yield f"{potential.name} joins {[str(p) for p in (*plus, *zero, *earth)]}"


def earthed_as_declared(design: Wired) -> Iterator[str]:
    """A link stands at every 0 V that is declared earthed, one a potential, from it to PE; nowhere else."""
    by_pin = {pin: p for p in design.wiring.potentials for pin in p.pins}
    wanted = {p.name for z in design.declared.zero_volts if z.mode == "earthed" and (p := by_pin.get(z.zero))}
    links = [c for c in design.wiring.conductors if c.kind == "link"]
    at = [by_pin[c.a].name for c in links]
    if sorted(at) != sorted(wanted):
        yield f"earth links at {at}, declared at {sorted(wanted)}"
    yield from (f"{c.id} goes to {c.b}" for c in links if not c.b or by_pin[c.b].kind != "earth")


def green_and_yellow_is_earth(design: Wired) -> Iterator[str]:
    """GNYE is never a signal, and a wire or core of PE is always GNYE (IEC 60446 / IEC 60204-1)."""
    kinds = {p.name: p.kind for p in design.wiring.potentials}
    for c in design.wiring.conductors:
        if c.kind in ("wire", "core") and (c.colour == "GNYE") != (kinds.get(c.potential or "") == "earth"):
            yield f"{c.id} is {c.colour} on {c.potential}"


# Laws of a design in which nothing is noticed that keeps it from being wired


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
    elements = [_channel(design, end) for end in ends]
    if partner is not None:
        elements.append(_partner(partner))
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


def _partner(partner: object) -> Between:
    match partner:
        case Leg():
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


ALWAYS = (
    one_potential_a_pin,
    pins_exist,
    potentials_are_trees,
    conductors_agree,
    clamps_hold,
    strips_agree,
    cables_agree,
    places_are_cabled,
    names_are_unique,
    poles_apart,
    earthed_as_declared,
    green_and_yellow_is_earth,
)
COMPLETE = (everything_placed_is_wired, circuits_close)
