"""Laws of every wired design, as one function: it gives every breach, so that a test can demand that there is none.

The laws are facts of the trade (common practice, no source) and of the format; they are checked with networkx on the
wired result alone, with none of the code that made it but the netlist.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator

import networkx as nx
from current_laws import COMPLETE
from wired_design import Wired, wired

from wiregen.terms import Pin
from wiregen.wiring.model import Conductor
from wiregen.wiring.netlist import Circuit, graph, metal

__all__ = ["Wired", "breaches", "wired"]

#: Roles of terminals that give a voltage: no two of them may ever be joined.
POSITIVE = ("supply_out", "reference_out")


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
