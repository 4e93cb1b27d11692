"""Voltage drop, current loops, two-wire sensors, preferred numbers: laws that hold for all arguments."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from wiregen.formulas import conductors, current_loops, preferred_numbers, two_wire_sensors, voltage_drop

_AREAS = st.floats(0.05, 50)
_CURRENTS = st.floats(1e-3, 50)
_TEMPERATURES = st.floats(-40, 90)


@given(_AREAS, st.sampled_from([2, 5]), _TEMPERATURES)
def test_any_area_lies_near_bare_copper_and_above_it(area_mm2: float, cls: int, celsius: float) -> None:
    # Second way: resistivity over area, 17.241 ohm mm2/km at 20 C (IEC 60028).
    bare = 17.241 / area_mm2 * (1 + 0.004 * (celsius - 20))
    assert bare < conductors.any_area_ohm_per_km(area_mm2, cls, celsius) < 1.17 * bare


@given(_AREAS, _AREAS)
def test_any_area_falls_with_the_area(one: float, other: float) -> None:
    assume(one < 0.98 * other)
    assert conductors.any_area_ohm_per_km(one) > conductors.any_area_ohm_per_km(other)


@pytest.mark.parametrize("area_mm2", conductors.areas_mm2())
def test_beside_a_standard_area_nothing_jumps(area_mm2: float) -> None:
    at = conductors.resistance_ohm_per_km(area_mm2)
    for beside in (area_mm2 * (1 - 1e-6), area_mm2 * (1 + 1e-6)):
        assert conductors.any_area_ohm_per_km(beside) == pytest.approx(at, rel=1e-5)


def test_a_gauge_lies_near_its_area() -> None:
    for gauge in range(8, 27):
        stranded = conductors.awg_resistance_ohm_per_km(gauge, stranded=True)
        assert stranded < conductors.any_area_ohm_per_km(conductors.awg_area_mm2(gauge)) < 1.15 * stranded


@given(_TEMPERATURES, _TEMPERATURES)
def test_winding_factors_undo_each_other(one: float, other: float) -> None:
    there = conductors.winding_factor(one, other)
    assert there * conductors.winding_factor(other, one) == pytest.approx(1)
    assert (there > 1) == (one > other) or one == pytest.approx(other)


@given(_CURRENTS, _AREAS, st.floats(0.1, 20), _TEMPERATURES)
def test_the_longest_cable_just_keeps_the_limit(current: float, area: float, most_v: float, celsius: float) -> None:
    longest = voltage_drop.longest_m(current, area, most_v, temperature_c=celsius)
    assert voltage_drop.drop_v(current, longest, area, temperature_c=celsius) == pytest.approx(most_v)


@given(_CURRENTS, st.floats(0, 500), st.floats(0.1, 20))
def test_the_smallest_area_keeps_the_limit_and_the_next_below_does_not(
    current: float, length_m: float, most_v: float
) -> None:
    area = voltage_drop.smallest_area_mm2(current, length_m, most_v)
    lost = {a: voltage_drop.drop_v(current, length_m, a) for a in conductors.areas_mm2()}
    fitting = [a for a, volts in lost.items() if volts <= most_v]
    assert area == (min(fitting) if fitting else None)
    if area is not None and area != conductors.areas_mm2()[0]:
        assert lost[max(a for a in lost if a < area)] > most_v


@given(_CURRENTS, st.floats(1, 500), st.floats(1, 35))
def test_one_phase_with_a_resistive_load_is_there_and_back(current: float, length_m: float, area: float) -> None:
    # Without reactance annex G is Ohm's law with 22.5 ohm mm2/km.
    assert voltage_drop.ac_drop_v(current, length_m, area, 1.0, 1) == pytest.approx(
        2 * current * length_m * 0.0225 / area
    )
    assert voltage_drop.ac_drop_v(current, length_m, area, 1.0, 3) == pytest.approx(current * length_m * 0.0225 / area)


@given(st.floats(10, 36), st.floats(5, 15), st.floats(0, 800), st.floats(0, 100), st.floats(5, 15))
def test_a_loop_holds_where_its_resistance_is_allowed(
    supply: float, lift_off: float, burden: float, cable: float, lift_off_low: float
) -> None:
    both = current_loops.compliance(supply, lift_off, burden, cable, lift_off_low_v=lift_off_low)
    for end, needed in ((both.low, lift_off_low), (both.high, lift_off)):
        most = current_loops.most_loop_ohm(supply, needed, end.current_ma)
        assume(abs(most - burden - cable) > 1e-6)
        assert end.holds == (burden + cable <= most)
        assert end.spare_ohm == pytest.approx(most - burden - cable, abs=1e-6)
    assert both.holds == (both.worst.spare_v >= 0)


@given(st.floats(5, 15), st.floats(1, 800), st.floats(3.5, 25), st.floats(0, 3))
def test_least_supply_most_resistance_and_most_current_undo_each_other(
    lift_off: float, loop: float, current: float, fixed: float
) -> None:
    supply = current_loops.least_supply_v(lift_off, loop, current, fixed)
    assert current_loops.most_loop_ohm(supply, lift_off, current, fixed) == pytest.approx(loop)
    assert current_loops.most_current_ma(supply, lift_off, loop, fixed) == pytest.approx(current)


def test_a_lift_off_that_rises_towards_the_low_end_is_found_there() -> None:
    both = current_loops.compliance(15.0, 10.0, 200.0, 0.0, lift_off_low_v=14.9)
    assert both.high.holds
    assert not both.low.holds
    assert both.worst is both.low


def test_a_loop_without_any_reserve_has_no_cable() -> None:
    assert current_loops.longest_m(-1.0, 0.75) == 0.0
    assert current_loops.most_current_ma(10, 12, 250) == 0.0


@given(st.floats(1e-3, 1e7), st.sampled_from(["E3", "E6", "E12", "E24", "E48", "E96", "E192"]))
def test_preferred_numbers_enclose(value: float, series: preferred_numbers.Series) -> None:
    below, above = preferred_numbers.at_most(value, series), preferred_numbers.at_least(value, series)
    assert below <= value <= above
    for one in (below, above):
        assert preferred_numbers.at_most(one, series) == one == preferred_numbers.at_least(one, series)
    # The steps of a series are even: at most a factor 10 ** (1/n) and what rounding adds.
    assert above / below < 10 ** (1 / int(series[1:])) * 1.12


@pytest.mark.parametrize("series", ["E3", "E6", "E12", "E24", "E48", "E96", "E192"])
def test_a_series_has_as_many_numbers_as_its_name_says(series: preferred_numbers.Series) -> None:
    numbers = preferred_numbers.values(series)
    assert len(set(numbers)) == len(numbers) == int(series[1:])
    assert list(numbers) == sorted(numbers)
    # IEC 60063: each number lies at a step of the geometric series, rounded, the old ones loosely.
    for k, value in enumerate(numbers):
        assert value == pytest.approx(10 ** (k / len(numbers)), rel=0.055)


def test_coarser_series_lie_within_finer_ones() -> None:
    for coarse, fine in (("E3", "E6"), ("E6", "E12"), ("E12", "E24"), ("E48", "E96"), ("E96", "E192")):
        assert set(preferred_numbers.values(coarse)) <= set(preferred_numbers.values(fine))  # type: ignore[arg-type]


def test_an_unknown_series_is_refused() -> None:
    with pytest.raises(ValueError, match="use E3, E6"):
        preferred_numbers.values("E7")  # type: ignore[arg-type]


@given(st.floats(1e-4, 5e-3), st.integers(1, 4), st.floats(1e3, 2e4), st.floats(20, 30))
def test_a_bleed_resistor_holds_the_input_off(leakage: float, number: int, ohms: float, supply: float) -> None:
    bleed = two_wire_sensors.bleed_for_leakage(leakage, ohms, 5.0, supply, number)
    without = two_wire_sensors.leaking_v(leakage, ohms, number)
    if bleed is None:
        assert without <= 5.0 * (1 + 1e-9)
        return
    assert without > 5.0 * (1 - 1e-9)
    assert two_wire_sensors.leaking_v(leakage, ohms, number, bleed.most_ohm) == pytest.approx(5.0)
    assert two_wire_sensors.leaking_v(leakage, ohms, number, bleed.chosen_ohm) <= 5.0 * (1 + 1e-9)
    assert bleed.power_w == pytest.approx(supply**2 / bleed.chosen_ohm)
    assert bleed.rated_w is None or bleed.rated_w >= 2 * bleed.power_w


@given(st.floats(1e-3, 2e-2), st.floats(0, 2e-2), st.floats(5, 30))
def test_a_bleed_resistor_feeds_a_starved_sensor(least: float, draws: float, across: float) -> None:
    bleed = two_wire_sensors.bleed_for_least_current(least, draws, across, 28.8)
    if bleed is None:
        assert draws >= least
    else:
        assert draws + across / bleed.chosen_ohm >= least * (1 - 1e-9)


def test_sensors_in_series_may_take_all() -> None:
    assert two_wire_sensors.left_v(20.4, 8, in_series=3) == 0.0


def test_no_power_is_too_small_for_a_resistor() -> None:
    assert two_wire_sensors.rated_power_w(0.0) == 0.25
    assert two_wire_sensors.rated_power_w(math.nextafter(0.125, 1)) == 0.5
