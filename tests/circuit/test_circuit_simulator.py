"""Every example, in every state of its readings, against a circuit simulator: within 1 mV or 0.1 %.

Source: a general-purpose circuit simulator; the netlist is written by the test.
"""

from __future__ import annotations

import os
import random
from dataclasses import replace
from pathlib import Path

import pytest
from spice_netlist import NGSPICE, examples, volts

import wiregen
from wiregen.circuit import Points, State, at_rest, solve
from wiregen.circuit.readings import reading_states

pytestmark = pytest.mark.skipif(
    NGSPICE is None and not os.environ.get("WIREGEN_TESTS_STRICT"), reason="ngspice is not installed"
)
#: States beside those of the readings, in each example: everything moved at once, at random.
_RANDOM = 4


def _states(design: wiregen.Design) -> list[State]:
    states = list(reading_states(design.declared, design.allocation, design.circuit))
    chance = random.Random(design.scheme.model.scheme)
    base = at_rest(design.declared, design.allocation)
    for number in range(_RANDOM):
        moved = frozenset().union(*(s.operated for s in states if chance.random() < 0.5))
        turned = {p[0]: p for s in states for p in s.positions if chance.random() < 0.7}
        outputs = frozenset().union(*(s.energised for s in states if chance.random() < 0.5))
        states.append(
            replace(base, name=f"random {number}", operated=moved, positions=tuple(turned.values()), energised=outputs)
        )
    return states


@pytest.mark.parametrize("path", list(examples()), ids=lambda p: p.stem)
def test_the_operating_point_is_that_of_the_simulator(path: Path) -> None:
    design = wiregen.design(wiregen.read(path))
    states = _states(design)
    points = solve(design.circuit, states)
    assert not points.restless.any()
    for number, state in enumerate(states):
        # Where the search of the simulator begins decides only whether it ends.
        start = {pin: float(points.to_earth(pin)[number]) for island in design.circuit.islands for pin in island.nodes}
        found = volts(design, state, points.picked_up(number), _unfed(points, number), start)
        for pin, expected in found.items():
            ours = points.to_earth(pin)[number]
            assert ours == pytest.approx(expected, rel=1e-3, abs=1e-3), f"{state.name}: {pin}"
        for coil, picked in zip(design.circuit.coils, points.picked[number], strict=True):
            across = abs(found[coil.a] - found[coil.b])
            assert across >= coil.drop_v if picked else across < coil.pick_v, f"{state.name}: {coil.device}"


def _unfed(points: Points, state: int) -> frozenset[str]:
    feeds = points.circuit.feeds
    return frozenset(f.device for f, fed in zip(feeds, points.fed[state], strict=True) if not fed)


def test_the_simulator_does_not_simply_give_back_where_it_began() -> None:
    """Begun 0.3 V off at every node, it comes to the same; else the test above could not fail."""
    design = wiregen.design(wiregen.read(next(p for p in examples() if p.stem == "brine_pump")))
    points = solve(design.circuit, [State()])
    true = {pin: float(points.to_earth(pin)[0]) for island in design.circuit.islands for pin in island.nodes}
    found = volts(design, State(), frozenset(), frozenset(), {pin: v + 0.3 for pin, v in true.items()})
    assert {pin: v for pin, v in found.items() if abs(v - true[pin]) > 1e-3} == {}
