"""The circuit as a graph: pins, conductors, elements, and what is joined by metal.

Source of the expectations: worked by hand; connected components by networkx.
"""

from __future__ import annotations

import networkx as nx
import pytest
from wiring_cases import case, pin

from wiregen.wiring.netlist import graph, metal

NAMES = ("brine_pump", "transmitters", "valves", "sink_with_common", "analog_shared")


@pytest.mark.parametrize("name", NAMES)
def test_pieces_of_metal_are_the_potentials(name: str) -> None:
    c = case(name)
    pieces = {frozenset(p) for p in nx.connected_components(metal(graph(c.declared, c.wiring))) if len(p) > 1}
    wired = {p for x in c.wiring.conductors for p in (x.a, x.b) if p}
    expected = {frozenset(p.pins) for p in c.wiring.potentials if len(p.pins) > 1}
    assert {p for p in pieces if p & wired} == expected


def kinds(name: str, a: str, b: str) -> set[str]:
    c = case(name)
    edges = graph(c.declared, c.wiring).get_edge_data(pin(a), pin(b)) or {}
    return {data["kind"] for data in edges.values()}


@pytest.mark.parametrize(
    ("name", "a", "b", "kind"),
    [
        ("brine_pump", "-TA1:DI1", "-TA1:COM", "input"),
        ("brine_pump", "-SJ1:13", "-SJ1:14", "contact"),
        ("brine_pump", "-TA1:21", "-TA1:22", "contact"),
        ("brine_pump", "-TA1:21", "-TA1:24", "contact"),
        ("brine_pump", "-TA1:COM", "-TA1:ACOM", "inside"),
        ("brine_pump", "-TA1:AI2", "-TA1:ACOM", "analog_input"),
        ("brine_pump", "-TA1:AO1", "-TA1:ACOM", "analog_output"),
        ("brine_pump", "-BL1:+", "-BL1:-", "transmitter"),
        ("brine_pump", "-RA1:1", "-RA1:2", "potentiometer"),
        ("brine_pump", "-RA1:2", "-RA1:3", "potentiometer"),
        ("brine_pump", "-PF1:X1", "-PF1:X2", "load"),
        ("brine_pump", "-X1:1", "-X1:6", "bridge"),
        ("brine_pump", "-X1:PE", "-WG2:screen", "screen"),
        ("brine_pump", "-X1:1", "-SJ1:13", "core"),
        ("sink_with_common", "-KE1:DI1", "-KE1:COM1", "input"),
        ("sink_with_common", "-BG1:4", "-BG1:3", "sensor"),
        ("sink_with_common", "-BG2:+", "-BG2:-", "sensor"),
        ("named_contact", "-TA1:DI4", "-TA1:24V", "input"),  # wired for sink, fed from inside
        ("named_contact", "-KE1:24VA", "-KE1:DO1", "transistor"),
        ("named_contact", "-KF1:A1", "-KF1:A2", "load"),
        ("named_contact", "-KF1:11", "-KF1:14", "contact"),
        ("transmitters", "-BP2:+", "-BP2:out", "transmitter"),
        ("transmitters", "-BP3:out+", "-BP3:out-", "transmitter"),
        ("transmitters", "-KE1:AI1+", "-KE1:AI1-", "analog_input"),
    ],
)
def test_edges(name: str, a: str, b: str, kind: str) -> None:
    assert kinds(name, a, b) == {kind}


def test_supplies_are_no_edges() -> None:
    assert kinds("brine_pump", "-TB1:24V", "-TB1:0V") == set()


def test_contacts_say_their_form() -> None:
    c = case("brine_pump")
    data = graph(c.declared, c.wiring).get_edge_data(pin("-SJ2:11"), pin("-SJ2:12"))
    assert [(d["device"], d["name"], d["form"]) for d in data.values()] == [("-SJ2", "11-12", "NC")]


def test_the_link_is_no_metal() -> None:
    c = case("brine_pump")
    circuit = graph(c.declared, c.wiring)
    assert nx.has_path(circuit, pin("-X1:PE"), pin("-TB1:0V"))
    assert not nx.has_path(metal(circuit), pin("-X1:PE"), pin("-TB1:0V"))


def test_a_stopped_button_opens_its_circuit() -> None:
    """The stop of the brine pump: with its contact taken out nothing but other elements leads from 24 V to DI2."""
    c = case("brine_pump")
    circuit = graph(c.declared, c.wiring)
    assert nx.has_path(metal(circuit), pin("-SJ2:12"), pin("-TA1:DI2"))
    circuit.remove_edge(pin("-SJ2:11"), pin("-SJ2:12"))
    assert not nx.has_path(metal(circuit), pin("-TA1:24V"), pin("-TA1:DI2"))
