"""The wired circuit as a graph: pins are nodes; conductors, joins inside devices and elements are edges.

Every edge has a ``kind``. Conductors: ``wire``, ``core``, ``bridge``, ``screen`` and the removable ``link``, each with
its ``id``. ``inside``: two pins that a device joins. Elements, each with its ``device``: ``contact`` (with its ``name``
and ``form``), ``transistor``, ``input``, ``analog_input``, ``analog_output``, ``load``, ``sensor``, ``transmitter``,
``potentiometer``, ``meter``, ``fuse``, ``resistor``, ``thermistor``, ``safe_torque_off``, ``motor_thermistor``; of a
safety relay ``channel`` and ``reset``. Supplies are no edges: they are what a current path leaves and comes back to.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import networkx as nx

from wiregen.control.functions import Declared, Device
from wiregen.profiles.model import Terminal
from wiregen.terms import Pin
from wiregen.wiring.model import Wiring
from wiregen.wiring.nets import inside_joins

Circuit = nx.MultiGraph  # of Pin

#: Kinds of edges that put their ends on one potential. The link between 0 V and PE is left out: it can be removed.
METAL = frozenset({"wire", "core", "bridge", "screen", "inside"})

#: Pairs of roles between which a device that is no controller conducts, and the kind of that edge.
_ELEMENTS: dict[str, tuple[tuple[str, str, str], ...]] = {
    "proximity_two_wire": (("sensor", "plus", "minus"),),
    "transmitter_two_wire": (("transmitter", "plus", "minus"),),
    "transmitter_three_wire": (("transmitter", "plus", "output"), ("load", "plus", "minus")),
    "transmitter_four_wire": (("transmitter", "output", "output_return"), ("load", "plus", "minus")),
    "potentiometer": (("potentiometer", "low_end", "wiper"), ("potentiometer", "wiper", "high_end")),
    "meter": (("meter", "plus", "minus"),),
}
#: Devices through which a current passes from one pin to the other, and the kind of that edge.
_LINKS = {"fuse": "fuse", "resistor": "resistor"}
_HALVES = {"NO": (("NO", 0, 1),), "NC": (("NC", 0, 1),), "changeover": (("NC", 0, 1), ("NO", 0, 2))}


def graph(declared: Declared, wiring: Wiring) -> Circuit[Pin]:
    """The circuit of a design. A spare core has one end only and is no edge; its pin is a node."""
    found: Circuit[Pin] = nx.MultiGraph()
    for potential in wiring.potentials:
        found.add_nodes_from(potential.pins)
    for conductor in wiring.conductors:
        found.add_node(conductor.a)
        if conductor.b is not None:
            found.add_edge(conductor.a, conductor.b, kind=conductor.kind, id=conductor.id)
    found.add_edges_from(((a, b, {"kind": "inside"}) for a, b in inside_joins(declared)))
    polarity = {(g.device, g.group): g.polarity for g in declared.groups}
    for device in declared.devices:
        for kind, first, second, more in elements(device, polarity):
            a, b = Pin(device.name, first), Pin(device.name, second)
            found.add_edge(a, b, kind=kind, device=device.name, **more)
    return found


def metal(circuit: Circuit[Pin]) -> Circuit[Pin]:
    """The circuit without its elements and links: its connected parts are the potentials."""
    found: Circuit[Pin] = nx.MultiGraph()
    found.add_edges_from((a, b, data) for a, b, data in circuit.edges(data=True) if data["kind"] in METAL)
    return found


Element = tuple[str, str, str, dict[str, str]]


def elements(device: Device, polarity: dict[tuple[str, str], str]) -> Iterator[Element]:
    """The elements of one device: (kind, first pin, second pin, more); ``polarity`` by device and group."""
    for contact in device.contacts:
        yield "contact", contact.a, contact.b, {"name": contact.name, "form": contact.form}
    first: dict[str, str] = {t.role: t.label for t in reversed(device.profile.terminals)}
    if device.profile.controller:
        for terminal in device.profile.terminals:
            wired = polarity.get((device.name, terminal.group), "source")
            yield from _of_channel(device, terminal, first, wired)
    for kind, a, b in _ELEMENTS.get(device.kind, ()):
        yield kind, first[a], first[b], {}
    if device.kind == "proximity_three_wire":
        side = "minus" if device.declared.output == "NPN" else "plus"
        yield "sensor", first[side], first["output"], {}
        yield "load", first["plus"], first["minus"], {}
    if device.kind in _LINKS:
        a, b = (t.label for t in device.profile.terminals if t.role == "link")
        yield _LINKS[device.kind], a, b, {}
    if device.kind == "thermistor":
        yield "thermistor", device.pins[0], device.pins[-1], {}
    loads = [pin for t in device.profile.terminals if t.role in ("coil", "load") for pin in t.pins]
    yield from (("load", a, b, {}) for a, b in itertools.pairwise(loads[:2]))


def _of_channel(device: Device, terminal: Terminal, first: dict[str, str], wired: str) -> Iterator[Element]:
    """What a controller's terminal is inside: where the current that goes in at one pin comes out."""
    pins = terminal.pins
    back = terminal.common or first.get("zero", "")
    analog = terminal.common or first.get("analog_zero", "") or first.get("zero", "")
    match terminal.role:
        case "relay":
            for form, a, b in _HALVES[terminal.form or "NO"]:
                yield "contact", pins[a], pins[b], {"name": f"{pins[a]}-{pins[b]}", "form": form}
        case "digital_out":
            yield "transistor", terminal.feed, pins[0], {}
        case "digital_in":
            own = device.profile.terminal_of(back)
            if own is not None and own.role != "common" and wired == "sink":
                # Without a common of its own a group wired for sink is fed from inside.
                back = first.get("supply_out", first.get("supply_in", ""))
            if back:
                yield "input", pins[0], back, {}
        case "safe_torque_off" | "motor_thermistor" | "channel" | "reset":
            other = pins[-1] if len(pins) > 1 else back
            if other:
                yield terminal.role, pins[0], other, {}
        case "analog_in" | "analog_out":
            kind = "analog_input" if terminal.role == "analog_in" else "analog_output"
            other = pins[1] if len(pins) == 2 else analog
            if other:
                yield kind, pins[0], other, {}
