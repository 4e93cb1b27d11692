"""The engine on circuits small enough to know: exact fractions, single elements, relays that never rest, changes."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import wiregen
from wiregen import pipeline, profiles
from wiregen.circuit import EARTH, Change, State, solve
from wiregen.circuit.build import Circuit, tables
from wiregen.circuit.curves import DIODE, OPEN, Curve, driver, leakage, pieces, regulator, resistor, supply
from wiregen.circuit.engine import Tables, operating_points
from wiregen.circuit.network import LEAK_S, Island
from wiregen.scheme import read_text
from wiregen.terms import Pin

BRINE = Path(__file__).parents[2] / "examples" / "brine_pump.yaml"


def exact(size: int, resistors: list[tuple[int, int, int]], sources: list[tuple[int, int, int]]) -> list[Fraction]:
    """Node voltages by elimination with exact fractions; node -1 is earth. Sources are (node, volts, ohm) to earth."""
    leak = Fraction(LEAK_S).limit_denominator(10**12)
    rows = [[Fraction(0)] * size + [Fraction(0)] for _ in range(size)]
    for i in range(size):
        rows[i][i] += leak
    for a, b, ohm in resistors:
        g = Fraction(1, ohm)
        for i, j in ((a, b), (b, a)):
            if i >= 0:
                rows[i][i] += g
                if j >= 0:
                    rows[i][j] -= g
    for node, volts, ohm in sources:
        rows[node][node] += Fraction(1, ohm)
        rows[node][size] += Fraction(volts, ohm)
    for i in range(size):
        pivot = next(r for r in range(i, size) if rows[r][i])
        rows[i], rows[pivot] = rows[pivot], rows[i]
        rows[i] = [x / rows[i][i] for x in rows[i]]
        for r in range(size):
            if r != i and rows[r][i]:
                rows[r] = [x - rows[r][i] * y for x, y in zip(rows[r], rows[i], strict=True)]
    return [row[size] for row in rows]


@st.composite
def networks(draw: st.DrawFn) -> tuple[int, list[tuple[int, int, int]], list[tuple[int, int, int]]]:
    size = draw(st.integers(2, 9))
    node = st.integers(-1, size - 1)
    pairs = st.tuples(node, node, st.sampled_from([1, 10, 250, 4000, 10**6])).filter(lambda r: r[0] != r[1])
    resistors = draw(st.lists(pairs, min_size=size, max_size=4 * size))
    source = st.tuples(st.integers(0, size - 1), st.integers(1, 48), st.sampled_from([1, 100]))
    return size, resistors, draw(st.lists(source, min_size=1, max_size=3))


@settings(max_examples=150, deadline=None)
@given(networks(), st.randoms(use_true_random=False))
def test_random_resistive_circuits_agree_with_exact_fractions(network: tuple, chance) -> None:  # type: ignore[no-untyped-def, type-arg]
    size, resistors, sources = network
    # Some resistors are the network's own, the others elements: both must come to the same.
    halves = [(r, chance.random() < 0.5) for r in resistors]
    own, moved = ([r for r, is_own in halves if is_own is wanted] for wanted in (True, False))
    ends = [(a, b) for a, b, _ in moved] + [(n, -1) for n, _, _ in sources]
    curves = [resistor(float(ohm)) for _, _, ohm in moved]
    curves += [pieces((), (1.0 / ohm,), -volts / ohm) for _, volts, ohm in sources]
    nodes = [Pin("-N", str(i)) for i in range(size)]
    fixed = [(a, b, 1.0 / ohm) for a, b, ohm in own]
    island = Island.of(nodes, fixed, ends, list(range(len(ends))))
    found = operating_points(island, _tables(curves), np.zeros((1, len(curves)), dtype=np.intp))[0]
    wanted = [float(v) for v in exact(size, resistors, sources)]
    assert found == pytest.approx(wanted, rel=1e-6, abs=1e-6)


def _tables(curves: list[Curve]) -> Tables:
    return tables([(curve,) for curve in curves])


def across(curve: Curve, other: Curve) -> float:
    """The voltage across two elements in parallel, the second turned over."""
    island = Island.of([Pin("-N", "1")], [], [(0, -1), (0, -1)], [0, 1])
    return float(operating_points(island, _tables([curve, other]), np.zeros((1, 2), dtype=np.intp))[0, 0])


def test_a_supply_holds_its_voltage_up_to_its_limit() -> None:
    assert across(supply(24.0, 0.1, 1.0), resistor(240.0)) == pytest.approx(24.0 * 240 / 240.1, abs=1e-4)
    # Overloaded it gives its limit: 1 A through 5 ohm.
    assert across(supply(24.0, 0.1, 1.0), resistor(5.0)) == pytest.approx(5.0, abs=1e-3)
    assert across(supply(24.0, 0.1, 1.0), resistor(0.001)) == pytest.approx(0.001, abs=1e-4)


def test_a_current_output_drives_up_to_its_voltage() -> None:
    assert across(driver(0.02, 10.0), resistor(250.0)) == pytest.approx(5.0, abs=1e-4)
    # Beyond 10 V it gives less and less, and nothing from 11 V on.
    assert 10.0 < across(driver(0.02, 10.0), resistor(5000.0)) < 11.0
    assert across(driver(0.02, 10.0), OPEN) == pytest.approx(11.0, abs=1e-3)


@pytest.mark.parametrize(
    "curve", [supply(24.0, 0.1, 1.0), driver(0.02, 10.0), regulator(0.012, 12.0), DIODE, leakage(0.0015)]
)
def test_curves_never_fall_and_never_jump(curve: Curve) -> None:
    volts = np.linspace(-40.0, 40.0, 4001)
    amps = np.array([curve.amps(float(v)) for v in volts])
    assert (np.diff(amps) >= -1e-12).all()
    assert np.abs(np.diff(amps)).max() <= max(curve.slopes) * 0.02 + 1e-12


def test_a_resistance_of_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="above zero"):
        resistor(0.0)


BUZZER = """
scheme: Buzzer
drawing: B-1
revision: A
practice: iec
places:
  +C1: {name: Cabinet}
devices:
  -TB1: {profile: supply_24v, at: +C1, zero_volt: earthed}
  -KF1: {profile: interposing_relay, at: +C1, poles: 1}
control:
  -KF1: {energise: -KF1.11-12, supply: -TB1}
"""


def test_a_relay_that_takes_its_own_coil_away_never_rests(tmp_path: Path) -> None:
    path = tmp_path / "buzzer.yaml"
    path.write_text(BUZZER)
    design = wiregen.design(wiregen.read(path))
    points = solve(design.circuit, [State()])
    assert points.restless.tolist() == [True]
    assert points.chasing(0) == {"-KF1"}
    assert [f.subject for f in design.findings if f.code == "coil-never-rests"] == ["-KF1"]
    assert design.readings == ()


RELAYS = """
scheme: Two relays
drawing: B-2
revision: A
practice: iec
places:
  +C1: {name: Cabinet}
devices:
  -TB1: {profile: supply_24v, at: +C1, zero_volt: earthed}
  -KF1: {profile: interposing_relay, at: +C1, poles: 1}
  -KF2: {profile: interposing_relay, at: +C1, poles: 1}
control:
  -KF1: {energise: FIRST, supply: -TB1}
  -KF2: {energise: SECOND, supply: -TB1}
"""


def two_relays(first: str, second: str) -> wiregen.Design:
    text = RELAYS.replace("FIRST", first).replace("SECOND", second)
    return pipeline.design(read_text(text, "relays.yaml", profiles=profiles.load()))


def test_of_two_relays_that_lock_each_other_out_the_first_is_in() -> None:
    design = two_relays("-KF2.11-12", "-KF1.11-12")
    points = solve(design.circuit, [State()])
    assert points.restless.tolist() == [False]
    assert points.picked_up(0) == {"-KF1"}
    assert not [f for f in design.findings if f.code == "coil-never-rests"]


def test_two_relays_that_chase_each_other_are_both_named() -> None:
    """The first follows the second, the second opposes the first: in, in, out, out, and again."""
    design = two_relays("-KF2.11-14", "-KF1.11-12")
    points = solve(design.circuit, [State()])
    assert points.restless.tolist() == [True]
    assert points.chasing(0) == {"-KF1", "-KF2"}
    assert sorted(f.subject for f in design.findings if f.code == "coil-never-rests") == ["-KF1", "-KF2"]


@pytest.fixture(scope="module")
def circuit() -> Circuit:
    return wiregen.design(wiregen.read(BRINE)).circuit


def conductor_of(circuit: Circuit, pin: Pin) -> str:
    return next(r.of for r in circuit.fixed if pin in (r.a, r.b) and r.kind in ("wire", "core"))


def test_an_open_core_takes_its_input_down_and_nothing_else(circuit: Circuit) -> None:
    cut = Change("open", opened=(conductor_of(circuit, Pin("-TA1", "DI2")),))
    points = solve(circuit, [State()], cut)
    assert points.volts(Pin("-TA1", "DI2"), Pin("-TA1", "COM"))[0] == pytest.approx(0.0, abs=1e-3)
    assert points.volts(Pin("-TA1", "DI3"), Pin("-TA1", "COM"))[0] == pytest.approx(23.97, abs=0.01)


def test_an_earth_fault_on_a_fed_core_draws_the_supply_down_to_its_limit(circuit: Circuit) -> None:
    fault = Change("earth", joined=((Pin("-SJ2", "12"), EARTH, 0.1),))
    points = solve(circuit, [State()], fault)
    assert points.out_of(Pin("-TA1", "24V"))[0] == pytest.approx(0.150, abs=0.002)
    assert points.volts(Pin("-TA1", "DI2"), Pin("-TA1", "COM"))[0] < 1.0


def test_a_change_leaves_the_circuit_as_it_was(circuit: Circuit) -> None:
    before = solve(circuit, [State()]).to_earth(Pin("-TA1", "DI2"))[0]
    solve(circuit, [State()], Change("join", joined=((Pin("-TA1", "DI2"), Pin("-TA1", "COM"), 0.1),)))
    assert solve(circuit, [State()]).to_earth(Pin("-TA1", "DI2"))[0] == before


@pytest.mark.parametrize(
    ("state", "says"),
    [
        (State(operated=frozenset({"-SJ9"})), "no device -SJ9"),
        (State(positions=(("-SJ3", "OFF"),)), "-SJ3 has no position OFF"),
        (State(positions=(("-SJ9", "AUTO"),)), "no device -SJ9"),
        (State(energised=frozenset({"-TA9:21"})), "no device -TA9"),
        (State(dead=frozenset({"-TB9"})), "no device -TB9"),
        (State(signals=(("-SJ1", 0.004),)), "-SJ1 gives no signal"),
    ],
)
def test_a_state_that_cannot_be_is_told(circuit: Circuit, state: State, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        solve(circuit, [state])


def test_an_unknown_conductor_is_told(circuit: Circuit) -> None:
    with pytest.raises(ValueError, match="no conductor w99"):
        solve(circuit, [State()], Change("open", opened=("w99",)))
