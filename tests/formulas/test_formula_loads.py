"""Contacts, coils, supplies, capacitance, ampacity and motors: laws that hold for all arguments."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wiregen.formulas import ampacity, cable_capacitance, contact_ratings, motors, supply_budget, suppression
from wiregen.formulas.ampacity import Method
from wiregen.formulas.motors import Plate
from wiregen.formulas.supply_budget import Consumer

_METHODS: tuple[Method, ...] = ("B1", "B2", "C", "E")
#: Where the table of each method begins [mm2]; IEC 60204-1 table 6, from memory.
_SMALLEST = {"B1": 0.75, "B2": 0.2, "C": 0.2, "E": 0.2}
_SHARES = st.floats(0.05, 0.95)


@given(st.sampled_from(list(contact_ratings.ratings())), st.floats(1, 600), st.floats(1, 600))
def test_a_contact_switches_less_at_a_higher_voltage(code: str, one: float, other: float) -> None:
    most = contact_ratings.rating(code).most_v
    low, high = sorted((min(one, most), min(other, most)))
    at_low, at_high = contact_ratings.allowed(code, low), contact_ratings.allowed(code, high)
    assert at_low.make_a >= at_high.make_a
    assert at_low.break_a >= at_high.break_a
    assert at_low.make_a >= at_low.break_a
    assert at_low.thermal_a >= at_low.break_a


@pytest.mark.parametrize("code", list(contact_ratings.ratings()))
def test_a_contact_has_a_highest_voltage(code: str) -> None:
    most = contact_ratings.rating(code).most_v
    assert most == float(code[1:])
    assert contact_ratings.allowed(code, most)
    with pytest.raises(ValueError, match=f"may switch {most:g} V at most"):
        contact_ratings.allowed(code, math.nextafter(most, math.inf))


def test_earlier_letters_switch_more() -> None:
    for letters, volts in (("ABCD", 240.0), ("NPQR", 24.0)):
        breaks = [contact_ratings.allowed(f"{letter}300", volts).break_a for letter in letters]
        assert breaks == sorted(breaks, reverse=True)


def test_electromagnets_are_told_by_their_size() -> None:
    assert contact_ratings.category_of("electromagnet", "AC", 72).name == "AC-14"
    assert contact_ratings.category_of("electromagnet", "AC", 72.1).name == "AC-15"
    assert contact_ratings.category_of("electromagnet", "DC", 72.1).name == "DC-13"
    with pytest.raises(ValueError, match="no category for a load 'economy electromagnet' on AC"):
        contact_ratings.category_of("economy electromagnet", "AC", 5)
    with pytest.raises(ValueError, match="is no utilisation category; use AC-12"):
        contact_ratings.category("AC-3")
    with pytest.raises(ValueError, match="is no contact rating; use A150"):
        contact_ratings.rating("Z300")


@given(_SHARES, _SHARES, st.floats(0, 100), st.floats(0, 100))
def test_a_coil_lets_go_sooner_with_more_clamp_and_a_higher_drop_out(
    one: float, other: float, clamp: float, more: float
) -> None:
    early, late = max(one, other), min(one, other)

    def decay(drop_out: float, volts: float) -> float:
        return suppression.clamped_decay_s(0.7, 84.3, 12.0, drop_out, volts)

    assert decay(early, clamp) <= decay(late, clamp)
    assert decay(one, clamp + more) <= decay(one, clamp) * (1 + 1e-12)


@given(st.floats(0.01, 5), st.floats(10, 2000), st.floats(5, 300), _SHARES, st.floats(0, 300))
def test_a_clamped_coil_by_steps(inductance: float, ohms: float, supply: float, share: float, clamp: float) -> None:
    # A second way: the current at the time found, from the coil's law di/dt = -(R i + V)/L solved in closed form.
    time = suppression.clamped_decay_s(inductance, ohms, supply, share, clamp)
    start = supply / ohms
    current = (start + clamp / ohms) * math.exp(-time * ohms / inductance) - clamp / ohms
    assert current == pytest.approx(share * start, rel=1e-6)


@given(st.floats(0, 5000), _SHARES)
def test_a_resistor_across_a_coil_trades_time_for_voltage(ohms: float, share: float) -> None:
    time, peak = suppression.resistor_decay_s(0.7, 84.3, ohms, share), suppression.resistor_peak_v(12, 84.3, ohms)
    assert time <= suppression.resistor_decay_s(0.7, 84.3, 0.0, share)
    assert peak >= 12
    # Without any resistor both laws are the same coil short-circuited.
    short = suppression.clamped_decay_s(0.7, 84.3, 12, share, 0.0)
    assert suppression.resistor_decay_s(0.7, 84.3, 0.0, share) == pytest.approx(short)


def test_a_diode_is_the_slowest_suppressor() -> None:
    slowest = suppression.release("diode")
    for name in ("none", "diode and zener", "RC", "varistor"):
        found = suppression.release(name)  # type: ignore[arg-type]
        assert 1 <= found.least <= found.most < slowest.least
    with pytest.raises(ValueError, match="is no suppressor"):
        suppression.release("spark gap")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="between 0 and 1, not 1"):
        suppression.resistor_decay_s(0.7, 84.3, 330, 1.0)


_CONSUMERS = st.lists(
    st.tuples(st.floats(0, 5), st.one_of(st.none(), st.floats(0, 5))).map(
        lambda t: Consumer("load", t[0], None if t[1] is None else t[0] + t[1])
    ),
    max_size=8,
)


@given(_CONSUMERS, st.floats(0.1, 50), st.floats(0.1, 1))
def test_the_sums_of_a_supply_are_in_order(consumers: list[Consumer], limit: float, derating: float) -> None:
    found = supply_budget.budget(consumers, limit, derating)
    assert found.steady_a <= found.one_starts_a <= found.all_start_a + 1e-9
    assert found.steady_a == pytest.approx(sum(c.current_a for c in consumers))
    assert found.all_start_a == pytest.approx(sum(c.inrush_a or c.current_a for c in consumers))
    assert found.holds == (found.spare_a >= 0) == (found.used_share <= 1)


def test_a_load_that_cannot_be_is_named() -> None:
    with pytest.raises(ValueError, match="the current of valve must be zero or more"):
        supply_budget.budget([Consumer("valve", -0.1)], 1.0)
    with pytest.raises(ValueError, match="inrush of valve must not be less than its current of 1 A"):
        supply_budget.budget([Consumer("valve", 1.0, 0.5)], 1.0)
    with pytest.raises(ValueError, match="above 0 and up to 1"):
        supply_budget.budget([], 1.0, 1.2)


@given(st.floats(0, 40))
def test_the_next_supply_gives_enough(needed: float) -> None:
    size = supply_budget.next_size_a(needed)
    assert size is not None
    assert size >= needed
    assert not [s for s in supply_budget.sizes_a() if needed <= s < size]


@given(st.floats(0.5, 100), st.floats(20, 400), st.sampled_from([50.0, 60.0]), st.floats(0.05, 0.5))
def test_the_longest_cable_lets_a_coil_go(hold: float, volts: float, hertz: float, per_km: float) -> None:
    length = cable_capacitance.longest_m(hold, volts, hertz, per_km)
    assert length / 1000 * per_km == pytest.approx(cable_capacitance.most_uf(hold, volts, hertz))
    # At the limit a sixth of the coil's holding current flows: 2 pi 50 500e-6 of it.
    leak = cable_capacitance.capacitive_a(volts, hertz, length / 1000 * per_km)
    assert leak * volts / hold == pytest.approx(2 * math.pi * 50 * 500e-6)


def test_insulation_and_area_of_a_pair_are_known() -> None:
    pe = cable_capacitance.pair_uf_per_km
    assert pe("PE") < pe("PE", area_mm2=1.5) < pe("PE", screened_pairs=True) < pe("PVC")
    assert pe("PE", screened_pairs=True) < pe("PE", screened_pairs=True, area_mm2=1.5)
    with pytest.raises(ValueError, match=r"at most 1\.5 mm2"):
        pe("PE", area_mm2=2.5)
    with pytest.raises(ValueError, match="use PVC or PE"):
        pe("rubber")  # type: ignore[arg-type]


@given(st.sampled_from(_METHODS), st.floats(0.75, 40), st.floats(0.75, 40))
def test_a_thicker_conductor_carries_more(method: Method, one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert ampacity.base_a(low, method).current_a <= ampacity.base_a(high, method).current_a


@given(st.floats(-20, 60), st.floats(-20, 60), st.integers(1, 9), st.integers(1, 9), st.sampled_from(_METHODS))
def test_heat_and_neighbours_take_away(cool: float, hot: float, few: int, many: int, method: Method) -> None:
    cool, hot = sorted((cool, hot))
    few, many = sorted((few, many))
    at_best = ampacity.ampacity_a(1.5, method, cool, few)
    assert at_best.current_a >= ampacity.ampacity_a(1.5, method, hot, many).current_a


@given(st.floats(0.1, 120), st.sampled_from(_METHODS), st.floats(20, 60), st.integers(1, 9))
def test_the_smallest_area_carries_its_current(amps: float, method: Method, celsius: float, circuits: int) -> None:
    area = ampacity.smallest_area_mm2(amps, method, celsius, circuits)
    if area is not None:
        assert ampacity.ampacity_a(area, method, celsius, circuits).current_a >= amps
        thinner = math.nextafter(area, 0)
        if thinner > _SMALLEST[method]:
            assert ampacity.ampacity_a(thinner, method, celsius, circuits).current_a < amps
    else:
        assert ampacity.ampacity_a(35, method, celsius, circuits).current_a < amps


def test_methods_stand_in_the_order_of_their_cooling() -> None:
    # B2 is worst, E best (IEC 60204-1 table 6): a shape that no row may break.
    for area in (0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35):
        b2, b1, c, e = (ampacity.base_a(area, m).current_a for m in ("B2", "B1", "C", "E"))
        assert b2 < b1 < c < e


def test_what_was_not_checked_says_so() -> None:
    assert ampacity.base_a(1.5).certain
    assert not ampacity.base_a(0.5).certain
    assert not ampacity.ampacity_a(1.5, circuits=2).certain
    assert [ampacity.grouping_factor(n).certain for n in (1, 2)] == [True, False]
    assert not ampacity.least_area("inside", "control").certain


def test_ampacity_ends_with_its_tables() -> None:
    with pytest.raises(ValueError, match=r"no ampacity is known of 0\.1 mm2"):
        ampacity.base_a(0.1)
    with pytest.raises(ValueError, match="use B1, B2, C or E"):
        ampacity.base_a(1.5, "F")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="ends at 60 degC"):
        ampacity.ambient_factor(60.1)
    with pytest.raises(ValueError, match="ends at 9"):
        ampacity.grouping_factor(10)
    with pytest.raises(ValueError, match="no least area is known inside"):
        ampacity.least_area("inside", "two cores")
    assert ampacity.least_area("outside", "two cores") > ampacity.least_area("outside", "two cores screened")


@given(st.floats(100, 1e5), st.floats(100, 700), st.floats(0.5, 0.95), st.floats(0.56, 0.97))
def test_current_and_efficiency_undo_each_other(power: float, volts: float, cos_phi: float, efficiency: float) -> None:
    amps = motors.rated_current_a(power, volts, cos_phi, efficiency)
    assert motors.efficiency(power, volts, amps, cos_phi) == pytest.approx(efficiency)
    assert motors.contradictions(Plate(power, volts, amps, cos_phi)) == ()
    assert motors.contradictions(Plate(power, volts, amps)) == ()


@given(st.sampled_from([50.0, 60.0, 87.0]), st.sampled_from([2, 4, 6, 8, 12]), st.floats(0, 0.05))
def test_poles_are_found_from_a_usual_slip(hertz: float, number: int, slip: float) -> None:
    speed = motors.synchronous_per_min(hertz, number) * (1 - slip)
    assert motors.poles(hertz, speed) == number
    assert motors.slip_share(hertz, speed, number) == pytest.approx(slip, abs=1e-9)
    assert motors.contradictions(Plate(4000, frequency_hz=hertz, speed_per_min=speed)) == ()


@given(st.floats(1, 1e6), st.floats(1, 1e5))
def test_torque_times_speed_is_power(power: float, speed: float) -> None:
    assert motors.rated_torque_nm(power, speed) * speed * 2 * math.pi / 60 == pytest.approx(power)


@pytest.mark.parametrize(
    ("plate", "quantities"),
    [
        (Plate(), []),
        (Plate(power_w=4000), []),
        (Plate(4000, 400, 8.2, 0.82, 50, 1440), []),
        (Plate(60, 400, 0.25, 0.65, 50, 1300), []),  # a small motor: efficiency 0.53, slip 0.13
        (Plate(4000, 400, 8.2, 0.82, 60, 1440), ["slip"]),  # the speed of another frequency
        (Plate(4000, 400, 8.2, 0.82, 50, 1740), ["slip"]),
        (Plate(4000, 400, 8.2, 0.82, 50, 3100), ["speed"]),
        (Plate(4000, 230, 8.2, 0.82, 50, 1440), ["efficiency"]),  # star current with delta voltage
        (Plate(4000, 400, 14.2, 0.82, 50, 1440), ["efficiency"]),  # and the other way round
        (Plate(4000, 400, 5.0), ["efficiency times power factor"]),
        (Plate(4000, 400, 50.0), ["efficiency times power factor"]),
        (Plate(4000, 400, 3.4, 0.82, 60, 1440), ["efficiency", "slip"]),
        (Plate(4000, frequency_hz=50, speed_per_min=1500), []),  # a synchronous one
    ],
)
def test_what_a_nameplate_contradicts(plate: Plate, quantities: list[str]) -> None:
    found = motors.contradictions(plate)
    assert [c.quantity for c in found] == quantities
    for one in found:
        assert one.value != one.limit
        assert one.keys


def test_impossible_values_of_a_nameplate_are_named() -> None:
    with pytest.raises(ValueError, match="the speed on a nameplate must be more than nothing"):
        motors.contradictions(Plate(speed_per_min=-1))
    with pytest.raises(ValueError, match=r"a power factor must lie above 0 and up to 1, not 1\.2"):
        motors.contradictions(Plate(cos_phi=1.2))
    with pytest.raises(ValueError, match="even number from 2, not 3"):
        motors.synchronous_per_min(50, 3)
