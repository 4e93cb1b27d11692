"""The grain auger and its power side, worked by hand. Terminal marks after IEC 60445 and IEC 60947-1, from memory."""

from __future__ import annotations

import re

import networkx as nx
from example_designs import designed, findings, terminals

from wiregen import documents, drawing
from wiregen.terms import Pin
from wiregen.wiring.netlist import graph, metal

NAME = "grain_auger"


def on(pin: str) -> set[str]:
    device, _, name = pin.partition(":")
    found = designed(NAME).wiring.potential_of(Pin(device, name))
    return {str(p) for p in found.pins} if found else set()


def test_allocation() -> None:
    found = terminals(NAME)
    assert (found["-TA1 start"], found["-TA1 stop"], found["-TA1 enable"]) == ("DI4", "DI1", "DI3")
    assert found["-TA2 run forward"] == "DI4"


def test_from_the_protective_device_to_the_motor() -> None:
    for number, (label, mark) in enumerate(zip(("L1", "L2", "L3"), ("2/T1", "4/T2", "6/T3"), strict=True), 1):
        assert on(f"-TA1:{label}") == {f"-QA1:{mark}", f"-TA1:{label}"}
        assert on(f"-QA1:{2 * number - 1}/L{number}") == set()  # the mains are in another set
    for phase in "UVW":
        assert on(f"-TA1:{phase}") == {f"-TA1:{phase}", f"-MA1:{phase}"}
        assert on(f"-TA2:{phase}") == {f"-TA2:{phase}", f"-MA2:{phase}"}
    assert on("-TA2:L1") == set()


def test_protective_earth_goes_through_the_drives_to_the_motors() -> None:
    """Each drive from the strip, each motor from its drive, each screen on its drive: a tree, and no second way."""
    design = designed(NAME)
    cables = [c.name for c in design.wiring.cables if c.category == "power"]
    assert {"-TA1:PE", "-MA1:PE", "-TA2:PE", "-MA2:PE", *(f"{c}:screen" for c in cables)} <= on("-TA1:PE")
    circuit = metal(graph(design.declared, design.wiring))
    for drive, motor in (("-TA1", "-MA1"), ("-TA2", "-MA2")):
        assert nx.shortest_path_length(circuit, Pin(drive, "PE"), Pin(motor, "PE")) == 1
        ends = {p.device for p in circuit[Pin(drive, "PE")]}
        assert ends == {motor, "-X1", next(c.name for c in design.wiring.cables if c.device == motor)}


def test_motor_cables_go_from_terminal_to_terminal_past_the_strip() -> None:
    """Three phases and PE, screened at both ends; 25 m of route."""
    design = designed(NAME)
    power = [c for c in design.wiring.cables if c.category == "power"]
    assert [(c.device, c.a, c.b, c.cores, c.used, c.area_mm2, c.screen, c.length_m) for c in power] == [
        ("-MA1", "+C1", "+F1", 4, 4, 2.5, "both ends", 25.0),
        ("-MA2", "+C1", "+F1", 4, 4, 2.5, "both ends", 25.0),
    ]
    cores = {c.core: (str(c.a), str(c.b)) for c in design.wiring.conductors if c.cable == power[0].name}
    assert cores == {
        "1": ("-TA1:U", "-MA1:U"),
        "2": ("-TA1:V", "-MA1:V"),
        "3": ("-TA1:W", "-MA1:W"),
        "GNYE": ("-TA1:PE", "-MA1:PE"),
    }


def test_wires_of_the_power_side_are_listed_and_not_sized() -> None:
    rows = [r for r in documents.terminations(designed(NAME)).records() if r["function"] == "power of -TA1"]
    wires = [r for r in rows if r["kind"] == "wire"]
    # IEC 60204-1 13.2.4: black for power circuits.
    assert [(r["number"], r["colour"], r["area_mm2"]) for r in wires] == [(f"1L{n}", "BK", None) for n in (1, 2, 3)]
    assert [r["number"] for r in rows if r["kind"] == "core"] == ["1U", "1V", "1W"]


def test_the_sheet_says_that_nothing_is_rated() -> None:
    (sheet,) = (s for s in drawing.draw(designed(NAME)).sheets if s.title == "Power side")
    written = re.findall(r"<text[^>]*>([^<]*)</text>", sheet.svg.decode())
    assert any("nothing of it is rated" in text for text in written)
    assert written.count("mains, not in this set") == 6  # three poles of -QA1, three terminals of -TA2
    assert {"-QA1", "-MA1", "-MA2", "1U", "2W", "M", "GNYE"} <= set(written)


def test_findings() -> None:
    """Start and stop share a cable, which the example accepts: its protective device stops the auger too."""
    assert findings(NAME) == [("warning", "start-beside-stop"), ("note", "restart-by-setting")]
    assert all(f.accepted for f in designed(NAME).findings if f.severity == "warning")
