"""The list of faults against what standards let one consider, and every fault once.

ISO 13849-2 annex D, from memory, not read: conductors (short circuit between any two, open circuit, short circuit to an
exposed part or to earth), contacts (do not open, do not close, the three terminals of a changeover touch), relays (stay
picked up), proximity switches (permanently on, permanently off), supplies (lost). The rest is common practice, no
source.
"""

from __future__ import annotations

import itertools
from collections import Counter
from pathlib import Path

import pytest

import wiregen
from wiregen.behaviour.fault import Fault
from wiregen.behaviour.fault_list import all_faults
from wiregen.circuit import EARTH
from wiregen.terms import Pin

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))


def listed(path: Path) -> tuple[wiregen.Design, tuple[Fault, ...]]:
    design = wiregen.design(wiregen.read(path))
    return design, all_faults(design.declared, design.allocation, design.wiring)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_every_fault_of_conductors_contacts_and_supplies_is_there(path: Path) -> None:
    design, faults = listed(path)
    kinds = {p.name: p.kind for p in design.wiring.potentials}
    conductors = [
        c
        for c in design.wiring.conductors
        if c.b is not None and kinds.get(c.potential or "") not in ("power", "earth")
    ]
    opened = {f.change.opened for f in faults if f.kind == "open"}
    assert {(c.id,) for c in conductors} <= opened
    at = {pin: p.name for p in design.wiring.potentials for pin in p.pins}
    joined = {frozenset(at.get(p, p) for p in pair[:2]) for f in faults for pair in f.change.joined}
    for cable in {c.cable for c in conductors if c.kind == "core"}:
        cores = [c.potential for c in conductors if c.cable == cable and c.kind == "core"]
        pairs = {frozenset(pair) for pair in itertools.combinations(cores, 2) if len(set(pair)) == 2}
        assert pairs <= joined, cable
    for potential in {c.potential for c in conductors if c.kind != "link"}:
        assert frozenset((potential, EARTH)) in joined, potential
    stuck = {s for f in faults for s in f.stuck}
    wired = {pin for c in conductors for pin in (c.a, c.b)}
    for device in design.declared.devices:
        for contact in device.contacts:
            if {Pin(device.name, contact.a), Pin(device.name, contact.b)} <= wired:
                assert {(device.name, contact.name, True), (device.name, contact.name, False)} <= stuck
        if device.kind in ("supply", "drive", "transformer"):
            assert any(f.dead == (device.name,) and not f.returns for f in faults)
        if device.kind.startswith("proximity"):
            assert len({f.name for f in faults if device.name in (f.actuated, f.idle)}) == 2
        if device.kind in ("relay", "contactor") and any(Pin(device.name, c.a) in wired for c in device.contacts):
            assert any(f.actuated == device.name for f in faults)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_no_fault_is_there_twice(path: Path) -> None:
    _, faults = listed(path)
    names = Counter((f.name, f.assumed) for f in faults)
    assert [name for name, count in names.items() if count > 1] == []
    assert len(set(faults)) == len(faults)


def test_earth_faults_are_tried_with_the_supply_earthed_and_not() -> None:
    _, earthed = listed(next(p for p in EXAMPLES if p.stem == "brine_pump"))
    _, floating = listed(next(p for p in EXAMPLES if p.stem == "irrigation_pump"))
    for faults, says in ((earthed, "earth link"), (floating, "meant to float")):
        found = [f for f in faults if f.kind == "earth"]
        assert len({f.name for f in found}) * 2 == len(found)
        assert all(says in f.assumed for f in found if f.assumed)


def test_contacts_that_open_by_direct_action_are_marked() -> None:
    _, faults = listed(next(p for p in EXAMPLES if p.stem == "dough_mixer"))
    marked = {f.devices[0] for f in faults if f.excluded}
    assert marked == {"-SF1", "-SF2", "-BG1"}
    assert all(f.kind == "weld" and "ISO 13849-2" in f.excluded for f in faults if f.excluded)
