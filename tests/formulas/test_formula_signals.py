"""Potentiometers, voltage signals and scaling: laws that hold for all arguments."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wiregen.formulas import analog_scaling, conductors, potentiometers, voltage_signals

_OHMS = st.floats(100, 1e5)
_LOADS = st.floats(1e3, 1e6)
_POSITIONS = st.floats(0, 1)
_ENDS = st.floats(-1000, 1000)


@given(_POSITIONS, _OHMS, _LOADS)
def test_a_load_only_takes(position: float, pot: float, load: float) -> None:
    assert 0 <= potentiometers.output_share(position, pot, load) <= position


@given(_POSITIONS, _POSITIONS, _OHMS, _LOADS)
def test_further_up_is_more(one: float, other: float, pot: float, load: float) -> None:
    low, high = sorted((one, other))
    assert potentiometers.output_share(low, pot, load) <= potentiometers.output_share(high, pot, load) + 1e-15


@given(_POSITIONS, _OHMS, _LOADS)
def test_nowhere_is_the_error_worse_than_the_worst(position: float, pot: float, load: float) -> None:
    worst = potentiometers.worst_error(pot, load)
    assert potentiometers.error_share(position, pot, load) <= worst.error + 1e-12
    assert potentiometers.error_share(worst.position, pot, load) == pytest.approx(worst.error)


@given(_OHMS)
def test_a_light_load_takes_four_twentysevenths(pot: float) -> None:
    # common practice, no source: the limit of the error for small ratios, at two thirds of the travel.
    worst = potentiometers.worst_error(pot, 1000 * pot)
    assert worst.error == pytest.approx(4 / 27 / 1000, rel=0.002)
    assert worst.position == pytest.approx(2 / 3, abs=0.001)


@given(_LOADS, st.floats(0.001, 0.4))
def test_the_largest_potentiometer_just_keeps_the_limit(load: float, most: float) -> None:
    pot = potentiometers.largest_pot_ohm(load, most)
    assert potentiometers.worst_error(pot, load).error == pytest.approx(most, rel=1e-6)


@given(_POSITIONS, _OHMS, _LOADS, st.floats(0, 1e4), st.floats(0, 1e4))
def test_the_wiper_by_nodal_analysis(position: float, pot: float, load: float, above: float, below: float) -> None:
    # A second way: the sum of the currents at the wiper is nothing, by conductances.
    upper, lower = above + (1 - position) * pot, below + position * pot
    got = potentiometers.wiper_v(10.0, position, pot, load, above, below)
    if upper < 1e-6 or lower < 1e-6:
        assert got == pytest.approx(10.0 if upper < 1e-6 else 0.0, abs=1e-6)
    else:
        assert (10.0 - got) / upper == pytest.approx(got / lower + got / load, rel=1e-6, abs=1e-12)


@given(_POSITIONS, _OHMS, _LOADS)
def test_without_ends_the_wiper_is_the_output(position: float, pot: float, load: float) -> None:
    share = potentiometers.output_share(position, pot, load)
    assert potentiometers.wiper_v(10.0, position, pot, load) == pytest.approx(10 * share, abs=1e-9)


@given(_POSITIONS, _OHMS, _LOADS, st.floats(0, 1e4), st.floats(0, 1e4))
def test_no_position_takes_more_from_the_reference(
    position: float, pot: float, load: float, above: float, below: float
) -> None:
    wiper = potentiometers.wiper_v(10.0, position, pot, load, above, below)
    lower = below + position * pot
    drawn = wiper / load + (wiper / lower if lower > 1e-6 else 10.0 / (above + (1 - position) * pot))
    most = potentiometers.supply_current_a(10.0, pot, load, above, below)
    assert drawn <= most * (1 + 1e-6)


@given(st.floats(-10, 10), st.floats(0, 1000), _LOADS)
def test_what_the_cable_takes_and_what_arrives_make_the_signal(signal: float, loop: float, load: float) -> None:
    taken = signal * voltage_signals.error_share(loop, load)
    assert voltage_signals.arriving_v(signal, loop, load) + taken == pytest.approx(signal)


@given(_LOADS, st.sampled_from(conductors.areas_mm2()), st.floats(1e-4, 0.2))
def test_the_longest_signal_cable_just_keeps_the_limit(load: float, area: float, most: float) -> None:
    length = voltage_signals.longest_m(load, area, most)
    loop = conductors.loop_resistance_ohm(length, area, temperature_c=70)
    assert voltage_signals.error_share(loop, load) == pytest.approx(most)


@given(_ENDS, _ENDS, _ENDS, _ENDS, st.floats(-2000, 2000))
def test_scaling_there_and_back(low: float, high: float, user_low: float, user_high: float, signal: float) -> None:
    if abs(high - low) < 1 or abs(user_high - user_low) < 1:
        return
    there = analog_scaling.scaled_user(signal, low, high, user_low, user_high)
    assert analog_scaling.scaled_user(there, user_low, user_high, low, high) == pytest.approx(signal, abs=1e-6)
    assert analog_scaling.scaled_user(low, low, high, user_low, user_high) == user_low


@given(_ENDS, _ENDS, st.integers(1, 31))
def test_one_bit_more_halves_the_step(low: float, high: float, bits: int) -> None:
    if abs(high - low) < 1e-300:  # half of it is no number of its own any more
        return
    coarse, fine = (analog_scaling.step_user(low, high, b) for b in (bits, bits + 1))
    assert fine < coarse / 2 * (1 + 1e-9)
    assert coarse * (2**bits - 1) == pytest.approx(abs(high - low))


@given(st.lists(st.floats(-0.1, 0.1), max_size=6))
def test_what_is_likely_lies_between_the_greatest_and_the_sum(errors: list[float]) -> None:
    likely, worst = analog_scaling.likely_share(errors), analog_scaling.worst_share(errors)
    greatest = max((abs(e) for e in errors), default=0.0)
    assert greatest * (1 - 1e-9) <= likely <= worst * (1 + 1e-9) + 1e-300


def test_spans_without_width_and_endless_errors_are_refused() -> None:
    with pytest.raises(ValueError, match="two different ends"):
        analog_scaling.in_user(0.01, 5, 5)
    with pytest.raises(ValueError, match="at most 32"):
        analog_scaling.step_user(0, 10, 33)
    for together in (analog_scaling.worst_share, analog_scaling.likely_share):
        with pytest.raises(ValueError, match="an error must be a number"):
            together([0.01, math.nan])
