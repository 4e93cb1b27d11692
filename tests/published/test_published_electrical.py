"""Electrical formulas against what standards and handbooks print. Each row names its source and how it was read.

The marks are those of `test_published_figures`. A figure that is printed with few digits is held to those digits.
"""

from __future__ import annotations

from functools import partial

import pytest
from published_rows import PUBLISHED, Row

from wiregen.formulas import (
    ampacity,
    analog_scaling,
    cable_capacitance,
    conductors,
    current_loops,
    input_types,
    motors,
    potentiometers,
    preferred_numbers,
    supply_budget,
    suppression,
    two_wire_sensors,
    voltage_drop,
    voltage_signals,
)
from wiregen.formulas.ampacity import Method

#: 1000 ft in km, for tables in ohm per 1000 ft.
_KFT_KM = 0.3048


def _conductor_rows() -> list[Row]:
    tinned = {0.5: 40.1, 0.75: 26.7, 1: 20.0, 1.5: 13.7, 2.5: 8.21, 4: 5.09, 6: 3.39, 10: 1.95}
    # Printed with three digits from 1.02 times the class's figure, so not always rounded alike.
    pairs = {(0.5, 2): 36.8, (0.5, 5): 39.7, (0.75, 5): 26.5, (1, 2): 18.4, (1.5, 2): 12.3, (2.5, 2): 7.56}
    at_75_c = {14: 3.07, 12: 1.93, 10: 1.21, 8: 0.764}  # solid, whatever the head of the column says
    return [
        *(
            Row(
                "IEC 60228",
                "reported",
                f"tinned, {area:g} mm2, ohm/km",
                partial(lambda a: conductors.resistance_ohm_per_km(a, 5, "tinned"), area),
                ohms,
            )
            for area, ohms in tinned.items()
        ),
        *(
            Row(
                "BS 5308",
                "reported",
                f"pairs of {area:g} mm2, class {cls}, ohm/km",
                partial(lambda a, c: conductors.pair_ohm_per_km(a, c), area, cls),
                ohms,
                0.005,
            )
            for (area, cls), ohms in pairs.items()
        ),
        *(
            Row(
                "NFPA 70 chapter 9 table 8",
                "reported",
                f"AWG {gauge} at 75 C, ohm/1000 ft",
                partial(lambda g: _KFT_KM * conductors.awg_resistance_ohm_per_km(g, temperature_c=75), gauge),
                ohms,
                0.01,
            )
            for gauge, ohms in at_75_c.items()
        ),
        Row(
            "NFPA 70 chapter 9 table 8",
            "reported",
            "20 C is 82 % of 75 C",
            lambda: round(conductors.winding_factor(20, 75), 2),
            0.82,
        ),
        Row("IEC 60228", "computed", "0.34 mm2, 57 ohm/km", lambda: conductors.any_area_ohm_per_km(0.34), 57.0, 0.01),
    ]


def _drop_rows() -> list[Row]:
    # One phase, 230 V, 21.74 A, 40 m, conductors at 70 C; printed from resistances that are a little rounder.
    printed = {2.5: (15.50, 6.74), 4: (9.77, 4.25), 6: (6.45, 2.80)}

    def lost(area: float) -> float:
        return voltage_drop.drop_v(21.74, 40, area, conductor_class=2, temperature_c=70)

    return [
        *(
            Row("common practice, no source", "reported", f"40 m of {area:g} mm2, V", partial(lost, area), volts, 0.02)
            for area, (volts, _) in printed.items()
        ),
        *(
            Row(
                "common practice, no source",
                "reported",
                f"{volts:g} V in %",
                partial(lambda v: round(voltage_drop.drop_percent(v, 230), 2), volts),
                percent,
            )
            for volts, percent in printed.values()
            if volts != 6.45  # printed 2.80 from unrounded volts, with which it agrees
        ),
        Row(
            "common practice, no source",
            "reported",
            "the first that keeps 3 %",
            lambda: voltage_drop.smallest_area_mm2(21.74, 40, 0.03 * 230, conductor_class=2, temperature_c=70),
            6.0,
        ),
        Row(
            "IEC 60364-5-52 annex G",
            "computed",
            "16 mm2, 100 m, 50 A",
            lambda: round(voltage_drop.ac_drop_v(50, 100, 16, 0.8), 3),
            5.865,
        ),
        Row(
            "IEC 60228",
            "computed",
            "a coil of 5 W behind 100 m",
            lambda: round(voltage_drop.drop_v(5 / 24, 100, 0.75), 3),
            1.083,
        ),
    ]


def _loop_rows() -> list[Row]:
    def cable(current_ma: float, supply: float = 24.0) -> float:
        return round(current_loops.most_loop_ohm(supply, 12.0, current_ma) - 250.0, 1)

    at_24_v = {20: 350.0, 20.5: 335.4, 21: 321.4, 22: 295.5}
    at_20_v = {20: 170.0, 20.5: 159.8, 21: 150.0, 22: 131.8}
    metres = {350.0: 6731, 335.4: 6450, 321.4: 6181, 295.5: 5683}
    return [
        # Read in the manuals of transmitters: R = (V - 10.5) / 23 mA, and R = (24 V - 12 V) / 25 mA.
        Row(
            "common practice, no source",
            "reported",
            "43.5 ohm for each volt above lift-off",
            lambda: round(current_loops.most_loop_ohm(11.5, 10.5, 23), 1),
            43.5,
        ),
        Row(
            "common practice, no source",
            "reported",
            "24 V, 23 mA",
            lambda: round(current_loops.most_loop_ohm(24, 10.5, 23)),
            587,
        ),
        Row(
            "common practice, no source",
            "reported",
            "24 V, 25 mA",
            lambda: current_loops.most_loop_ohm(24, 12, 25),
            480.0,
        ),
        *(
            Row("common practice, no source", "computed", f"{ma} mA, 24 V", partial(cable, ma), r)
            for ma, r in at_24_v.items()
        ),
        *(
            Row("common practice, no source", "computed", f"{ma} mA, 20.4 V", partial(cable, ma, 20.4), r)
            for ma, r in at_20_v.items()
        ),
        *(
            Row(
                "IEC 60228",
                "computed",
                f"{ohms:g} ohm of 0.75 mm2",
                partial(lambda r: round(current_loops.longest_m(r, 0.75, temperature_c=20)), ohms),
                length,
            )
            for ohms, length in metres.items()
        ),
        Row(
            "NAMUR NE 43",
            "reported",
            "failure currents, mA",
            lambda: (current_loops.FAULT_LOW_MA, current_loops.FAULT_HIGH_MA),
            (3.6, 21.0),
        ),
        Row(
            "common practice, no source",
            "computed",
            "both ends at 20.4 V",
            lambda: current_loops.compliance(20.4, 12.0, 250, 151).holds,
            False,
        ),
    ]


def _signal_rows() -> list[Row]:
    per_mille = {(10_000, 200_000): 0.733, (10_000, 1_000_000): 0.148, (1_000, 10_000): 1.449}
    below = {(10_000, 200_000): 0.75, (10_000, 1_000_000): 0.15}

    def worst(pot: float, load: float) -> float:
        return 100 * potentiometers.worst_error(pot, load).error

    return [
        *(
            Row(
                "common practice, no source",
                "reported",
                f"{pot} into {load} ohm errs less than {limit} %",
                partial(lambda p, r, most: 0.95 * most < worst(p, r) < most, pot, load, limit),
                True,
            )
            for (pot, load), limit in below.items()
        ),
        *(
            Row(
                "common practice, no source",
                "computed",
                f"{pot} into {load} ohm, %",
                partial(lambda p, r: round(worst(p, r), 3), pot, load),
                percent,
            )
            for (pot, load), percent in per_mille.items()
        ),
        Row(
            "common practice, no source",
            "reported",
            "0.15 of the ratio is the limit of the error",
            lambda: round(worst(1.0, 1000.0) / 100 * 1000, 2),
            0.15,
        ),
        Row(
            "common practice, no source",
            "computed",
            "at mid-travel, %",
            lambda: round(100 * potentiometers.error_share(0.5, 1000, 10_000), 2),
            1.22,
        ),
        Row(
            "common practice, no source",
            "computed",
            "at a third, % of the reading",
            lambda: round(100 * (1 - 3 * potentiometers.output_share(1 / 3, 1000, 10_000)), 2),
            2.17,
        ),
        Row(
            "common practice, no source",
            "computed",
            "10 bits of 10 V, mV",
            lambda: round(1000 * analog_scaling.step_user(0, 10, 10), 3),
            9.775,
        ),
        Row(
            "common practice, no source",
            "computed",
            "12 bits of 16 mA, uA",
            lambda: round(1000 * analog_scaling.step_user(4, 20, 12), 2),
            3.91,
        ),
        Row(
            "common practice, no source",
            "computed",
            "5.2 ohm into 500 ohm, %",
            lambda: round(100 * voltage_signals.error_share(5.2, 500), 2),
            1.03,
        ),
        Row(
            "common practice, no source",
            "computed",
            "50 mA in a shared core of 2.6 ohm, V",
            lambda: round(voltage_signals.return_shift_v(0.05, 2.6), 3),
            0.13,
        ),
    ]


def _sensor_rows() -> list[Row]:
    one, three = input_types.input_type("1"), input_types.input_type("3")
    left = partial(two_wire_sensors.left_v, 24.0 * 0.85, 8.0)
    return [
        Row("IEC 60947-5-2", "computed", "20.4 V less 8 V", lambda: round(left(), 1), 12.4),
        Row("IEC 61131-2", "computed", "too little for type 1", lambda: one.state(left(), 0.006), "undefined"),
        Row("IEC 61131-2", "computed", "enough for type 3", lambda: three.state(left(), 0.003), "on"),
        Row(
            "IEC 60947-5-2",
            "computed",
            "a bleed for 1.5 mA, kohm",
            lambda: round(two_wire_sensors.bleed_for_leakage(0.0015, 4800, 5, 28.8).most_ohm / 1000, 1),  # type: ignore[union-attr]
            10.9,
        ),
        Row("IEC 60063", "from memory", "E6", lambda: preferred_numbers.values("E6"), (1.0, 1.5, 2.2, 3.3, 4.7, 6.8)),
        Row("IEC 60063", "from memory", "E192 has 9.20", lambda: 9.2 in preferred_numbers.values("E192"), True),
    ]


def _coil_rows() -> list[Row]:
    # 12 V, a time constant of 8.3 ms; drop-out at these percent. The decay of the current only.
    diode = {50: 5.3, 30: 9.0, 20: 11.7, 10: 15.8}
    zener = {50: 1.5, 30: 2.2, 20: 2.5, 10: 2.9}

    def decay(percent: int, clamp: float) -> float:
        return round(1000 * suppression.clamped_decay_s(0.7, 84.3, 12, percent / 100, clamp), 1)

    return [
        *(
            Row("common practice, no source", "computed", f"diode, to {p} %, ms", partial(decay, p, 0.7), ms)
            for p, ms in diode.items()
        ),
        *(
            Row("common practice, no source", "computed", f"with 24 V zener, to {p} %, ms", partial(decay, p, 24.7), ms)
            for p, ms in zener.items()
        ),
        Row(
            "common practice, no source", "reported", "a diode, about", lambda: suppression.release("diode").least, 3.0
        ),
        Row("computed", "computed", "5 W at 24 V", lambda: round(supply_budget.current_a(5, 24), 3), 0.208),
    ]


def _capacitance_rows() -> list[Row]:
    pair = cable_capacitance.pair_uf_per_km
    return [
        Row("BS 5308", "reported", "PVC, pF/m", lambda: 1000 * pair("PVC"), 250.0),
        Row("BS 5308", "reported", "PE, pF/m", lambda: 1000 * pair("PE"), 75.0),
        Row("BS 5308", "reported", "PE, 1.5 mm2, pF/m", lambda: 1000 * pair("PE", area_mm2=1.5), 85.0, 1e-9),
        Row("BS 5308", "reported", "PE, screened, pF/m", lambda: 1000 * pair("PE", screened_pairs=True), 115.0),
        Row(
            "BS 5308",
            "reported",
            "PE, screened, at most, pF/m",
            lambda: 1000 * pair("PE", screened_pairs=True, area_mm2=1.5),
            120.0,
        ),
        Row(
            "common practice, no source",
            "computed",
            "a kilometre at 230 V, mA",
            lambda: round(1000 * cable_capacitance.capacitive_a(230, 50, 0.3), 1),
            21.7,
        ),
        Row(
            "common practice, no source",
            "computed",
            "4 VA at 230 V, uF and m",
            lambda: (round(cable_capacitance.most_uf(4, 230), 4), round(cable_capacitance.longest_m(4, 230))),
            (0.0378, 126),
        ),
    ]


def _ampacity_rows() -> list[Row]:
    reported: dict[Method, dict[float, float]] = {
        "B2": {0.75: 8.5, 1: 10.1, 1.5: 13.1, 2.5: 17.4, 4: 23, 6: 30, 10: 40},
        "E": {0.75: 10.4, 1: 12.4, 1.5: 16.1, 2.5: 22, 4: 30, 6: 37, 10: 52},
        "C": {2.5: 21, 4: 28, 6: 36, 10: 50},
    }
    # IEC 60364-5-52 table B.52.4 is for 30 C; 0.87 takes it to 40 C. A second way to the same table, rounded there.
    at_30_c: dict[Method, dict[float, float]] = {
        "B1": {1.5: 15.5, 2.5: 21, 4: 28, 6: 36, 10: 50},
        "B2": {1.5: 15, 2.5: 20, 4: 27, 6: 34, 10: 46},
        "C": {1.5: 17.5, 2.5: 24, 4: 32, 6: 41, 10: 57},
        "E": {1.5: 18.5, 2.5: 25, 4: 34, 6: 43, 10: 60},
    }
    return [
        *(
            Row(
                "IEC 60204-1 table 6",
                "reported",
                f"{area:g} mm2 laid as {method}",
                partial(lambda a, m: ampacity.base_a(a, m).current_a, area, method),
                amps,
            )
            for method, figures in reported.items()
            for area, amps in figures.items()
        ),
        *(
            Row(
                "IEC 60364-5-52 table B.52.4",
                "computed",
                f"0.87 of {amps:g} A, {area:g} mm2 laid as {method}",
                partial(lambda a, m: ampacity.base_a(a, m).current_a, area, method),
                0.87 * amps,
                0.025,
            )
            for method, figures in at_30_c.items()
            for area, amps in figures.items()
        ),
        Row(
            "IEC 60364-5-52",
            "reported",
            "from 30 to 40 C",
            lambda: round(1 / ampacity.ambient_factor(30), 2),
            0.87,
        ),
    ]


def _motor_rows() -> list[Row]:
    return [
        Row("IEC 60034-1", "computed", "4 poles, 60 Hz", lambda: motors.synchronous_per_min(60, 4), 1800.0),
        # 9550 kW over rotations a minute: the rule of handbooks for the torque in Nm.
        Row(
            "common practice, no source",
            "computed",
            "1.5 kW at 1430 1/min",
            lambda: motors.rated_torque_nm(1500, 1430),
            9550 * 1.5 / 1430,
            1e-4,
        ),
    ]


ROWS = [
    *_conductor_rows(),
    *_drop_rows(),
    *_loop_rows(),
    *_signal_rows(),
    *_sensor_rows(),
    *_coil_rows(),
    *_capacitance_rows(),
    *_ampacity_rows(),
    *_motor_rows(),
]


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r.source}: {r.what}")
def test_the_code_reckons_what_is_printed(row: Row) -> None:
    assert row.agrees(), (row.got(), row)


def test_there_are_enough_published_figures() -> None:
    published = [r for r in ROWS if r.mark in PUBLISHED]
    assert len(published) >= 55
    assert len({r.source for r in published}) >= 6
