"""What standards and handbooks print of circuits: loops, references, sensors, coils, supplies, motors."""

from __future__ import annotations

from functools import partial

from published_rows import Row

from wiregen.formulas import (
    analog_scaling,
    current_loops,
    input_types,
    motors,
    potentiometers,
    preferred_numbers,
    supply_budget,
    suppression,
    two_wire_sensors,
    voltage_signals,
)


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
        Row(
            "common practice, no source",
            "computed",
            "5 W at 24 V",
            lambda: round(supply_budget.current_a(5, 24), 3),
            0.208,
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


CIRCUITS = [
    *_loop_rows(),
    *_signal_rows(),
    *_sensor_rows(),
    *_coil_rows(),
    *_motor_rows(),
]
