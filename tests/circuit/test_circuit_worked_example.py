"""The brine pump's readings against figures that were worked out by hand and in a circuit simulator.

The figures are in V to two places and mA to one; the device figures behind them are those of the profiles.
"""

from __future__ import annotations

from pathlib import Path

import pytest

import wiregen
from wiregen.circuit import Points, State, build, solve
from wiregen.terms import Pin

EXAMPLE = Path(__file__).parents[2] / "examples" / "brine_pump.yaml"
HEALTHY = frozenset({"-TA1:21"})  # the fault relay is energised while there is no fault

STATES = {
    "rest": State("rest", energised=HEALTHY),
    "START held": State("START held", operated=frozenset({"-SJ1"}), energised=HEALTHY),
    "STOP held": State("STOP held", operated=frozenset({"-SJ2"}), energised=HEALTHY),
    "winding hot": State("winding hot", operated=frozenset({"-BT1"}), energised=HEALTHY),
    "AUTO, 20 mA": State("AUTO", positions=(("-SJ3", "AUTO"),), signals=(("-BL1", 0.020),), energised=HEALTHY),
    "AUTO, 4 mA": State("AUTO", positions=(("-SJ3", "AUTO"),), signals=(("-BL1", 0.004),), energised=HEALTHY),
    "running": State("running", energised=HEALTHY | {"-TA1:13"}),
    "fault": State("fault"),
}
#: State -> function or device -> V. Source: worked out by hand, and in a circuit simulator.
VOLTS = {
    "rest": {"start": 0.0, "stop": 23.96, "external trip": 23.96, "select 1": 0.0, "reference hand": 4.81,
             "reference auto": 3.00, "-BL1": 20.96, "-PF1": 0.0, "-KE5": 0.0},
    "START held": {"start": 23.95, "stop": 23.95, "external trip": 23.95, "reference auto": 3.00, "-BL1": 20.95},
    "STOP held": {"start": 0.0, "stop": 0.0, "external trip": 23.97},
    "winding hot": {"start": 0.0, "stop": 23.97, "external trip": 0.0},
    "AUTO, 20 mA": {"stop": 23.95, "select 1": 23.96, "reference auto": 5.00, "-BL1": 18.93},
    "AUTO, 4 mA": {"stop": 23.96, "select 1": 23.98, "reference auto": 1.00, "-BL1": 22.97},
    "running": {"-PF1": 0.0, "-KE5": 24.00},
    "fault": {"-PF1": 23.99, "-KE5": 0.0},
}  # fmt: skip
MILLIAMPS = {
    "rest": 24.0, "START held": 30.0, "STOP held": 18.0, "winding hot": 18.0, "AUTO, 20 mA": 38.0, "AUTO, 4 mA": 22.0
}  # fmt: skip
DEVICES = {"-BL1": ("-BL1:+", "-BL1:-"), "-PF1": ("-PF1:X1", "-PF1:X2"), "-KE5": ("-KE5:DI1", "-KE5:COM1")}


@pytest.fixture(scope="module")
def points() -> tuple[wiregen.Design, Points]:
    design = wiregen.design(wiregen.read(EXAMPLE))
    circuit = build(design.declared, design.allocation, design.wiring)
    return design, solve(circuit, list(STATES.values()))


def pin(text: str) -> Pin:
    return Pin(*text.split(":"))


@pytest.mark.parametrize(("state", "what"), [(s, w) for s, row in VOLTS.items() for w in row])
def test_volts_agree_with_the_worked_example(points: tuple[wiregen.Design, Points], state: str, what: str) -> None:
    design, found = points
    if what in DEVICES:
        a, b = (pin(text) for text in DEVICES[what])
    else:
        at = next(x for x in design.allocation.assignments if x.function == what and x.device == "-TA1")
        a, b = Pin("-TA1", at.channel), Pin("-TA1", "COM")
    volts = found.volts(a, b)[list(STATES).index(state)]
    # Rounding to two places, and the unstated lengths of the wires in the cabinet.
    assert volts == pytest.approx(VOLTS[state][what], abs=0.011)


@pytest.mark.parametrize("state", list(MILLIAMPS))
def test_the_drive_gives_the_current_of_the_worked_example(points: tuple[wiregen.Design, Points], state: str) -> None:
    amps = points[1].out_of(pin("-TA1:24V"))[list(STATES).index(state)]
    assert amps * 1000 == pytest.approx(MILLIAMPS[state], abs=0.055)
