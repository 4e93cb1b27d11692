"""The kiln shuttle by hand: what is forced, which loops close, the cores to the track, and what is found.

Common practice, no source, for all that a practitioner would read here.
"""

from __future__ import annotations

import itertools
from pathlib import Path

import networkx as nx
import pytest

from wiregen import documents, pipeline, profiles, scheme
from wiregen.drawing import overlaps, readback, sheet_set
from wiregen.pipeline import Design
from wiregen.terms import Pin
from wiregen.wiring.netlist import graph, metal

SHUTTLE = Path(__file__).parents[2] / "examples" / "shuttle.yaml"


@pytest.fixture(scope="module")
def shuttle() -> Design:
    return pipeline.design(scheme.read(SHUTTLE, profiles=profiles.load()))


def test_what_is_forced(shuttle: Design) -> None:
    """Four functions of -TA1 and no more: three inputs and the lamp's relay; the coil takes no terminal."""
    placed = {a.function: (a.device, a.form or "") for a in shuttle.allocation.assignments}
    assert set(placed) == {"start", "stop", "reverse", "running"}
    assert {device for device, _ in placed.values()} == {"-TA1"}
    assert placed["running"][1] == "NO", "the lamp burns while the car runs"
    reverse = next(f for f in shuttle.functions if f.name == "reverse")
    assert str(getattr(reverse.partner, "a", "")) == "-KF1:11", "21-24 is named for the seal-in, so 11-14 is unused"


def test_potentials(shuttle: Design) -> None:
    """By hand, strips left out."""
    found = {frozenset(str(p) for p in pot.pins if p.device != "-X1") for pot in shuttle.wiring.potentials}
    at = {a.function: f"-TA1:{a.channel}" for a in shuttle.allocation.assignments}
    assert found == {
        frozenset({"-TB1:24V", "-TA1:13", "-KF1:11", "-SJ1:13", "-SJ2:11", "-BG2:11"}),
        frozenset({"-BG2:12", "-BG1:13", "-KF1:21"}),
        frozenset({"-BG1:14", "-KF1:24", "-KF1:A1"}),
        frozenset({"-TB1:0V", "-TA1:COM", "-TA1:ACOM", "-KF1:A2", "-PF1:X2"}),
        frozenset({"-KF1:14", at["reverse"]}),
        frozenset({"-SJ1:14", at["start"]}),
        frozenset({"-SJ2:12", at["stop"]}),
        frozenset({"-TA1:14", "-PF1:X1"}),
        frozenset({"-TB1:PE"}),
    }


def test_the_relay_keeps_the_direction(shuttle: Design) -> None:
    """Picked up at the far end, held on the way back, let go at the near end, and out until the far end again."""
    circuit = graph(shuttle.declared, shuttle.wiring)
    contacts = {c.name: (Pin(d.name, c.a), Pin(d.name, c.b)) for d in shuttle.declared.devices for c in d.contacts}

    def picks_up(far_end: bool, near_end: bool, relay_in: bool) -> bool:
        pins = {c.device: c for d in shuttle.declared.devices for c in d.contacts if c.device.startswith("-BG")}
        closed = metal(circuit)
        if far_end:
            closed.add_edge(Pin("-BG1", pins["-BG1"].a), Pin("-BG1", pins["-BG1"].b))
        if not near_end:
            closed.add_edge(Pin("-BG2", pins["-BG2"].a), Pin("-BG2", pins["-BG2"].b))
        if relay_in:
            closed.add_edge(*contacts["21-24"])
        return bool(nx.has_path(closed, Pin("-TB1", "24V"), Pin("-KF1", "A1")))

    for far_end, near_end, relay_in in itertools.product((False, True), repeat=3):
        assert picks_up(far_end, near_end, relay_in) == (not near_end and (far_end or relay_in))


def test_cores_to_the_track(shuttle: Design) -> None:
    """One feed, start, stop, and two of the coil's circuit: five used, one spare at least (20 %), so seven are laid."""
    (cable,) = shuttle.wiring.cables
    assert (cable.a, cable.b, cable.used, cable.cores, cable.length_m) == ("+C1", "+F1", 5, 7, 28.0)


def test_what_is_found(shuttle: Design) -> None:
    """No fuse before the core that takes 24 V to the track: a note. Start and stop share a cable: accepted."""
    assert [(str(f.severity), f.code) for f in shuttle.findings] == [
        ("note", "field-feed-unprotected"),
        ("warning", "start-beside-stop"),
    ]
    assert all(f.accepted for f in shuttle.findings if f.severity == "warning")


def test_the_coil_stands_in_the_lists_and_on_a_sheet(shuttle: Design) -> None:
    rows = {row[0]: row for row in documents.function_table(shuttle).rows}
    assert rows["-KF1"][1:4] == ("-KF1:A1", "-KF1:A1; -KF1:A2", "coil")
    assert rows["-KF1"][6] == "closed: -BG2.11-12 and (-BG1.13-14 or -KF1.21-24)"
    sheets = sheet_set.draw(shuttle).sheets
    drive, relays = (next(s for s in sheets if s.title == t) for t in ("Terminal diagram of -TA1", "Relay circuits"))
    assert overlaps.check(relays.svg) == ()
    # Each coil shows where its contacts are, and each contact where its coil is.
    assert f"coil {relays.number}/".encode() in drive.svg
    assert f"11-14 {drive.number}/".encode() in relays.svg
    assert f"21-24 {relays.number}/".encode() in relays.svg
    alone = readback.read([s.svg for s in sheets])
    coil = next(group for group in alone if "-KF1:A1" in group)
    assert {"-BG1:14", "-KF1:24"} < coil
