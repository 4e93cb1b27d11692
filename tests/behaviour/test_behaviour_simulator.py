"""Faulty plants against a circuit simulator: a sample of faults and states, within 1 mV or 0.1 %.

Source: a general-purpose circuit simulator; the netlist is written by the test, from the wiring with the fault in it.
"""

from __future__ import annotations

import os
import random
import sys
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "circuit"))

from spice_netlist import NGSPICE, Netlist

import wiregen
from wiregen.behaviour.campaign import Campaign
from wiregen.behaviour.fault import Fault
from wiregen.circuit import EARTH, State, solve

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("brine_pump", "dough_mixer", "irrigation_pump", "pressure_pump", "reversing_conveyor", "shuttle")
SAMPLE = 16


def netlist(
    design: wiregen.Design, fault: Fault, state: State, picked: frozenset[str], unfed: frozenset[str]
) -> Netlist:
    """The netlist of a design with a fault: without the conductors that are open, with a resistor where pins touch."""
    left = tuple(c for c in design.wiring.conductors if c.id not in fault.change.opened)
    found = Netlist(replace(design, wiring=replace(design.wiring, conductors=left)), state, picked, unfed)
    found.earth.add(EARTH)
    for a, b, ohm in fault.change.joined:
        found.resistor(a, b, ohm)
    return found


@pytest.mark.skipif(NGSPICE is None and not os.environ.get("WIREGEN_TESTS_STRICT"), reason="ngspice is not installed")
@pytest.mark.parametrize("name", NAMES)
def test_a_faulty_plant_stands_as_in_the_simulator(name: str) -> None:
    design = wiregen.design(wiregen.read(EXAMPLES / f"{name}.yaml"))
    campaign = Campaign.of(design)
    conductors = {c.id for c in design.wiring.conductors}
    faults = [f for f in campaign.faults if (f.change.opened or f.change.joined) and set(f.change.opened) <= conductors]
    chance = random.Random(name)
    for fault in chance.sample(faults, SAMPLE):
        plant = campaign.plant.changed(fault.change)
        base = chance.choice(campaign.bases)
        standing = plant.after(base.standing, fault.on(base.standing.hands))
        assert not standing.restless
        state = plant.state(standing)
        points = solve(plant.circuit, [state])
        start = {pin: float(points.to_earth(pin)[0]) for island in plant.circuit.islands for pin in island.nodes}
        assert standing.reading is not None
        found = netlist(design, fault, state, points.picked_up(0), standing.reading.unfed).run(start)
        joined = [pin for pin in found if plant.circuit.island_of(pin) is not None]
        assert len(joined) > 10
        for pin in joined:
            says = f"{fault.name}, {base.name}: {pin}"
            assert start[pin] == pytest.approx(found[pin], rel=1e-3, abs=1e-3), says
