"""What standards and handbooks print of conductors and cables: resistance, voltage drop, ampacity, capacitance."""

from __future__ import annotations

from functools import partial

from published_rows import Row

from wiregen.formulas import ampacity, cable_capacitance, conductors, voltage_drop
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


CABLES = [
    *_conductor_rows(),
    *_drop_rows(),
    *_ampacity_rows(),
    *_capacitance_rows(),
]
