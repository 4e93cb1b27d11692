"""Two cabinets, a place with a strip, a place with spread cables, a bank: two well pumps.

Every expectation is worked out by hand from the scheme (common practice, no source).
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import networkx as nx
import pytest

from wiregen import pipeline, profiles, scheme
from wiregen.pipeline import Design
from wiregen.terms import Pin
from wiregen.wiring.netlist import graph, metal

EXAMPLE = Path(__file__).parents[2] / "examples" / "two_well_pumps.yaml"


@cache
def designed(old: str = "", new: str = "") -> Design:
    text = EXAMPLE.read_text(encoding="utf-8")
    assert not old or text.count(old) == 1
    return pipeline.design(scheme.read_text(text.replace(old, new), "x.yaml", profiles=profiles.load()))


def card_of(function: str) -> str:
    return next(a.device for a in designed().allocation.assignments if a.function == function and "KE" in a.device)


def joined(a: str, b: str, design: Design | None = None) -> bool:
    """Whether metal joins two pins, all contacts and loads left open."""
    found = design or designed()
    one, other = (Pin(*text.split(":")) for text in (a, b))
    return bool(nx.has_path(metal(graph(found.declared, found.wiring)), one, other))


def test_scheme_is_sound() -> None:
    assert [f.message for f in designed().findings if f.severity != "note"] == []


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("running of -TA1", "running of -TA2"),
        ("fault of -TA1", "fault of -TA2"),
        ("tank full", "tank empty"),
    ],
)
def test_what_is_kept_apart_stands_on_two_cards(one: str, other: str) -> None:
    assert {card_of(one), card_of(other)} == {"-KE1", "-KE2"}


def test_allocation_is_forced() -> None:
    """4-20 mA fits AI2 alone; a break contact is in the changeover alone, so `running` has the make contact."""
    places = {(a.device, a.function): a.channel for a in designed().allocation.assignments}
    assert places["-TA1", "reference level"] == "AI2"
    for drive in ("-TA1", "-TA2"):
        assert (places[drive, "fault"], places[drive, "running"]) == ("21", "13")


def test_cables_run_between_the_places_that_they_serve() -> None:
    """The tank's switches are read in the control room, its level in the pump house; the wells are the drives'."""
    runs: dict[tuple[str, str], list[tuple[str, str, float | None]]] = {}
    for cable in designed().wiring.cables:
        runs.setdefault((cable.a, cable.b), []).append((cable.device, cable.category, cable.length_m))
    assert sorted(runs) == [("+C1", "+C2"), ("+C1", "+F1"), ("+C1", "+F2"), ("+C2", "+F2"), ("+F1", "+F1")]
    # 60 m of route, 2 m left at each cabinet; 25 m to the junction box, which is a strip as well.
    assert runs["+C1", "+C2"] == [("", "control", 64.0)]
    assert runs["+C1", "+F1"] == [("", "control", 29.0)]
    # 90 m and 40 m of route, 2 m in the cabinet, 1 m at the device.
    assert runs["+C1", "+F2"] == [("-BL1", "analog", 93.0)]
    assert sorted(runs["+C2", "+F2"]) == [("-BG1", "control", 43.0), ("-BG2", "control", 43.0)]
    # From the junction box what is left at both ends.
    assert sorted(runs["+F1", "+F1"]) == [(d, "control", 3.0) for d in ("-BP1", "-BP2", "-SJ1", "-SJ2")]


def test_cores_are_counted() -> None:
    """To the wells one feed, four contacts; between the cabinets two feeds, 0 V, two commands, four signals, PE."""
    used = {(c.a, c.b, c.device): (c.used, c.cores) for c in designed().wiring.cables}
    # 20 % and at least one spare, then the next size made: 5 + 1 -> 7; 10 + 2 -> 12; 2 + 1 -> 3.
    assert used["+C1", "+F1", ""] == (5, 7)
    assert used["+C1", "+C2", ""] == (10, 12)
    assert used["+F1", "+F1", "-SJ1"] == (2, 3)
    assert used["+C2", "+F2", "-BG1"] == (2, 3)


def test_every_place_has_its_strip() -> None:
    assert {s.name: s.place for s in designed().wiring.strips} == {"-X1": "+C1", "-X2": "+C2", "-X11": "+F1"}


def test_multicore_lands_inside_and_device_cables_outside() -> None:
    """At a strip in the field the side towards the cabinet is the inside."""
    conductors = {c.id: c for c in designed().wiring.conductors}
    cables = {c.name: c for c in designed().wiring.cables}
    (strip,) = (s for s in designed().wiring.strips if s.name == "-X11")
    for terminal in strip.terminals:
        for side, device in ((terminal.inside, False), (terminal.outside, True)):
            for found in (conductors[i] for i in side):
                assert bool(cables[str(found.cable)].device) is device, found.id


def test_signals_pass_two_strips() -> None:
    """Drive, strip of the pump house, strip of the wells, contact: and the same for each signal of a card."""
    (stop,) = (p for p in designed().wiring.potentials if p.name == "enable of -TA1")
    assert {p.device for p in stop.pins} == {"-TA1", "-X1", "-X11", "-SJ1"}
    (running,) = (p for p in designed().wiring.potentials if p.name == "running of -TA1")
    assert {p.device for p in running.pins} == {"-TA1", "-X1", "-X2", card_of("running of -TA1")}


def test_loops_close() -> None:
    """Each feed reaches its contact, each signal its input, each return its supply."""
    assert joined("-TB1:24V", "-SJ1:11")
    assert joined("-TB1:24V", "-KE3:13")  # the drive's input feeds the card's contact
    assert joined("-TB2:24V", "-TA1:13")  # the card's input feeds the drive's contact
    assert joined("-TB2:24V", "-BG1:11")
    assert joined("-TB1:24V", "-BL1:+")
    assert joined("-BL1:-", "-TA1:AI2")
    assert joined("-TB1:0V", "-TA1:COM")
    assert joined("-TB1:0V", "-TB2:0V")
    assert joined("-TB1:PE", "-TB2:PE")
    assert not joined("-TB1:24V", "-TB2:24V")


def test_contacts_kept_apart_share_no_cable_and_no_feed() -> None:
    """`apart_cables`: the second contact has a cable of its own from the cabinet, with a feed of its own."""
    rest = "apart_cables: [[-SJ1, -SJ2]]\n\ncabling:\n"
    design = designed("cabling:\n", rest)
    cables = {c.name: c for c in design.wiring.cables if (c.a, c.b) == ("+C1", "+F1")}
    assert sorted((c.used, c.cores) for c in cables.values()) == [(2, 3), (4, 5)]
    of_pin = {str(c.b): c.cable for c in design.wiring.conductors if c.kind == "core"}
    ways = [
        [c for c in design.wiring.conductors if c.cable in cables and c.b == terminal]
        for terminal in (
            next(c.a for c in design.wiring.conductors if str(c.b) == "-SJ1:12"),
            next(c.a for c in design.wiring.conductors if str(c.b) == "-SJ2:12"),
        )
    ]
    assert ways[0][0].cable != ways[1][0].cable
    assert of_pin["-SJ1:12"] != of_pin["-SJ2:12"]
