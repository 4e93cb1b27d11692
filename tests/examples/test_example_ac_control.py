"""The dough mixer with 120 V AC control, worked by hand after ladder habits (common practice, no source).

The two wires of the ladder: the fused X1 of the transformer, and its earthed X2.
"""

from __future__ import annotations

import re

import networkx as nx
import pytest
from example_designs import designed, findings, terminals

from wiregen import documents, drawing
from wiregen.formulas.conductors import awg_area_mm2
from wiregen.terms import Pin
from wiregen.wiring.netlist import graph, metal

NAME = "dough_mixer_120v"
HOT, EARTHED = Pin("FU1", "2"), Pin("T1", "X2")


def on(pin: str) -> set[str]:
    device, _, name = pin.partition(":")
    found = designed(NAME).wiring.potential_of(Pin(device, name))
    strips = {s.name for s in designed(NAME).wiring.strips}
    return {str(p) for p in found.pins if p.device not in strips} if found else set()


def test_allocation() -> None:
    """FAULT lights when the relay drops, so it needs a break contact; both relays of the drive are changeovers."""
    found = terminals(NAME)
    assert found["VFD1 run forward"] == "DI4"  # its usual terminal
    assert {found["VFD1 running"], found["VFD1 fault"]} == {"11", "21"}
    assert found["VFD1 safe torque off 1"] == "STO1+"


def test_the_line_of_the_ladder() -> None:
    """X1, fuse, bowl, STOP, START with the relay's own contact beside it, coil, X2."""
    assert on("T1:X1") == {"T1:X1", "FU1:1"}
    assert {"FU1:2", "LS1:13"} <= on("FU1:2")
    assert on("LS1:14") == {"LS1:14", "PB2:11"}
    assert on("PB2:12") == {"PB2:12", "PB1:13", "1CR:11"}
    assert on("PB1:14") == {"PB1:14", "1CR:14", "1CR:A1"}
    assert {"1CR:A2", "T1:X2"} <= on("1CR:A2")


def test_contacts_lie_on_the_ungrounded_side_and_loads_on_the_grounded_one() -> None:
    """One pin of every coil and lamp on X2, none of any contact of the 120 V."""
    earthed = on("T1:X2")
    assert earthed == {"T1:X2", "1CR:A2", "LT1:X2", "LT2:X2"}
    running = terminals(NAME)["VFD1 running"]
    assert {f"VFD1:{running}", "FU1:2"} <= on("FU1:2")


def test_the_lines_close_and_open() -> None:
    """A second method: with every contact of the ladder closed a way leads from the fuse through the coil to X2."""
    circuit = graph(designed(NAME).declared, designed(NAME).wiring)
    pieces = {pin: i for i, pins in enumerate(nx.connected_components(metal(circuit))) for pin in pins}

    def reaches(*closed: str) -> bool:
        found: nx.Graph[int] = nx.Graph()
        found.add_nodes_from((pieces[HOT], pieces[Pin("1CR", "A1")]))
        for a, b, data in circuit.edges(data=True):
            if data["kind"] == "contact" and f"{data['device']} {data['name']}" in closed:
                found.add_edge(pieces[a], pieces[b])
        return bool(nx.has_path(found, pieces[HOT], pieces[Pin("1CR", "A1")]))

    assert reaches("LS1 13-14", "PB2 11-12", "PB1 13-14")
    assert reaches("LS1 13-14", "PB2 11-12", "1CR 11-14")
    assert not reaches("LS1 13-14", "PB1 13-14", "1CR 11-14")
    assert not reaches("PB2 11-12", "PB1 13-14", "1CR 11-14")


def test_cables_hold_one_voltage_each() -> None:
    """Out to the mixer: X1, X2, the wire of START's feed, that to the coil, the lamp. Safety: two channels, 24 V."""
    found = {c.category: c for c in designed(NAME).wiring.cables}
    assert set(found) == {"control_ac", "safety"}
    assert (found["control_ac"].used, found["control_ac"].cores) == (5, 7)
    assert (found["safety"].used, found["safety"].cores) == (4, 5)
    # ASTM B258: AWG 14 is 2.08 mm2.
    assert found["control_ac"].gauge == "14 AWG"
    assert found["control_ac"].area_mm2 == pytest.approx(awg_area_mm2(14), abs=0.005)
    rows = documents.cable_schedule(designed(NAME)).records()
    assert {row["class"]: row["gauge"] for row in rows} == {"control_ac": "14 AWG", "safety": "18 AWG"}


def test_strips_hold_one_voltage_each() -> None:
    design = designed(NAME)
    of = {pin: p for p in design.wiring.potentials for pin in p.pins}
    ac = {of[HOT].name, of[EARTHED].name, "coil of 1CR", "coil of 1CR (2)", "running of VFD1"}
    for strip in design.wiring.strips:
        kinds = {t.potential in ac for t in strip.terminals if t.potential and t.potential != "PE"}
        assert len(kinds) == 1


def test_colours_of_the_panel() -> None:
    """NFPA 79 chapter 13: AC control red, its grounded conductor white; DC control blue, grounded white with blue."""
    design = designed(NAME)
    colours = {
        c.potential: c.colour for c in design.wiring.conductors if c.kind == "wire" and c.potential in POTENTIALS
    }
    assert colours == POTENTIALS


POTENTIALS = {
    "120 V AC of T1": "RD",
    "120 V AC behind FU1": "RD",
    "X2 of T1": "WH",
    "running of VFD1": "RD",
    "24 V behind FU2": "BU",
    "0 V of PS1": "BUWH",
    "PE": "GNYE",
}


def test_each_earthed_side_has_one_link() -> None:
    links = [c for c in designed(NAME).wiring.conductors if c.kind == "link"]
    assert sorted(str(c.potential) for c in links) == ["0 V of PS1", "X2 of T1"]


def test_numbers_follow_the_lines() -> None:
    """101 is the first line, that of the coil; its wires are 101, 101A ... in the order in which they come."""
    numbers = {p.name: p.number for p in designed(NAME).wiring.potentials}
    assert numbers["120 V AC behind FU1"] == "101"
    assert numbers["X2 of T1"].startswith("101")
    assert all(re.fullmatch(r"1\d\d[A-Z]?|PE", number) for number in numbers.values())


def test_findings() -> None:
    assert findings(NAME) == [("warning", "safety-channels-in-one-cable"), ("note", "restart-by-setting")]


def test_names_stand_without_a_dash_on_the_sheets() -> None:
    """Strips and cables have names of the program's own making: X1 on a sheet, -X1 in lists and in the data."""
    sheets = drawing.draw(designed(NAME)).sheets
    written = [t for s in sheets for t in re.findall(r"<text[^>]*>([^<]*)</text>", s.svg.decode())]
    assert {"X1", "X2", "WG1", "SR1", "1CR"} <= set(written)
    assert [t for t in written if re.search(r"(?<!\w)-[A-Z]", t)] == []
    assert 'data-pin="-X1:1"' in "".join(s.svg.decode() for s in sheets)


def test_names_in_iec_practice_keep_their_dash() -> None:
    sheets = drawing.draw(designed("dough_mixer")).sheets
    written = [t for s in sheets for t in re.findall(r"<text[^>]*>([^<]*)</text>", s.svg.decode())]
    assert {"-X1", "-KF10", "-SF1"} <= set(written)
