"""What cannot be is refused with a sentence that names it, by every formula that takes a number."""

from __future__ import annotations

import importlib
import inspect
import math
import pkgutil
from collections.abc import Callable
from types import FunctionType
from typing import Any

import pytest

from wiregen import formulas
from wiregen.formulas import (
    ampacity,
    analog_scaling,
    arguments,
    cable_capacitance,
    conductors,
    contact_ratings,
    current_loops,
    motors,
    potentiometers,
    preferred_numbers,
    supply_budget,
    suppression,
    two_wire_sensors,
    voltage_drop,
    voltage_signals,
)

_CABLE = {"area_mm2": 0.75, "temperature_c": 20.0}
_POT = {"pot_ohm": 4700.0, "load_ohm": 30_000.0}
_ENDS = {"above_ohm": 1.0, "below_ohm": 1.0}
_COIL = {"inductance_h": 0.7, "coil_ohm": 84.0, "drop_out_share": 0.3}
_SPAN = {"low_user": 10.0, "high_user": 50.0}
_PLATE = {"power_w": 1500.0, "voltage_v": 400.0, "current_a": 3.4, "cos_phi": 0.8}
_BLEED = {"leakage_a": 0.0015, "input_ohm": 4800.0, "off_most_v": 5.0, "most_supply_v": 28.8}
#: Each formula with arguments that are right.
CALLS: list[tuple[Callable[..., Any], dict[str, Any]]] = [
    (conductors.next_area_mm2, {"area_mm2": 1.0}),
    (conductors.any_area_ohm_per_km, _CABLE),
    (conductors.pair_ohm_per_km, _CABLE),
    (conductors.resistance_ohm_per_km, _CABLE),
    (conductors.loop_resistance_ohm, {"length_m": 1.0, **_CABLE}),
    (conductors.temperature_factor, {"temperature_c": 20.0}),
    (conductors.winding_factor, {"temperature_c": 75.0, "reference_c": 20.0}),
    (conductors.awg_resistance_ohm_per_km, {"gauge": 14, "temperature_c": 20.0}),
    (voltage_drop.drop_v, {"current_a": 1.0, "length_m": 1.0, **_CABLE}),
    (voltage_drop.drop_percent, {"lost_v": 1.0, "nominal_v": 24.0}),
    (voltage_drop.smallest_area_mm2, {"current_a": 1.0, "length_m": 1.0, "most_drop_v": 1.0, "temperature_c": 20.0}),
    (voltage_drop.longest_m, {"current_a": 1.0, "most_drop_v": 1.0, **_CABLE}),
    (voltage_drop.ac_drop_v, {"current_a": 1.0, "length_m": 1.0, "area_mm2": 1.0, "cos_phi": 0.8}),
    (current_loops.most_loop_ohm, {"supply_v": 24.0, "lift_off_v": 12.0, "current_ma": 21.0, "fixed_v": 0.0}),
    (
        current_loops.compliance,
        {
            **{"supply_v": 24.0, "lift_off_v": 12.0, "burden_ohm": 250.0, "cable_ohm": 2.0, "low_ma": 3.6},
            **{"high_ma": 21.0, "lift_off_low_v": 12.0, "fixed_v": 0.0},
        },
    ),
    (current_loops.most_current_ma, {"supply_v": 24.0, "lift_off_v": 12.0, "loop_ohm": 600.0, "fixed_v": 0.0}),
    (current_loops.least_supply_v, {"lift_off_v": 12.0, "loop_ohm": 600.0, "current_ma": 21.0, "fixed_v": 0.0}),
    (current_loops.longest_m, {"spare_ohm": 350.0, **_CABLE}),
    (preferred_numbers.at_most, {"value_ohm": 100.0}),
    (preferred_numbers.at_least, {"value_ohm": 100.0}),
    (two_wire_sensors.left_v, {"supply_v": 24.0, "drop_v": 8.0}),
    (two_wire_sensors.leaking_v, {"leakage_a": 0.0015, "input_ohm": 4800.0, "bleed_ohm": 1e4}),
    (two_wire_sensors.bleed_for_leakage, _BLEED),
    (
        two_wire_sensors.bleed_for_least_current,
        {"least_a": 0.005, "input_a": 0.003, "across_v": 16.0, "most_supply_v": 28.8},
    ),
    (two_wire_sensors.rated_power_w, {"power_w": 0.1}),
    (potentiometers.output_share, {"position": 0.5, **_POT}),
    (potentiometers.error_share, {"position": 0.5, **_POT}),
    (potentiometers.worst_error, _POT),
    (potentiometers.largest_pot_ohm, {"load_ohm": 30_000.0, "most_error_share": 0.02}),
    (potentiometers.wiper_v, {"supply_v": 10.0, "position": 0.5, **_POT, **_ENDS}),
    (potentiometers.supply_current_a, {"supply_v": 10.0, **_POT, **_ENDS}),
    (voltage_signals.error_share, {"loop_ohm": 5.2, "input_ohm": 500.0}),
    (voltage_signals.arriving_v, {"signal_v": 10.0, "loop_ohm": 5.2, "input_ohm": 500.0}),
    (voltage_signals.return_shift_v, {"others_a": 0.05, "core_ohm": 2.6}),
    (voltage_signals.longest_m, {"input_ohm": 20_000.0, "most_error_share": 0.001, **_CABLE}),
    (analog_scaling.step_user, {"resolution_bits": 10, **_SPAN}),
    (analog_scaling.in_user, {"error_share": 0.01, **_SPAN}),
    (
        analog_scaling.scaled_user,
        {"signal_user": 12.0, "signal_low_user": 4.0, "signal_high_user": 20.0, **_SPAN},
    ),
    (analog_scaling.error_of_part_share, {"part_share": 0.01, "of_user": 25.0, **_SPAN}),
    (contact_ratings.category_of, {"load": "electromagnet", "kind": "AC", "power_va": 20.0}),
    (contact_ratings.dc13_time_constant_s, {"power_w": 5.0}),
    (contact_ratings.allowed, {"code": "A300", "voltage_v": 240.0}),
    (suppression.clamped_decay_s, {"supply_v": 12.0, "clamp_v": 0.7, **_COIL}),
    (suppression.resistor_decay_s, {"across_ohm": 330.0, **_COIL}),
    (suppression.resistor_peak_v, {"supply_v": 24.0, "coil_ohm": 84.0, "across_ohm": 330.0}),
    (suppression.clamped_peak_v, {"supply_v": 24.0, "clamp_v": 24.7}),
    (suppression.stored_j, {"inductance_h": 0.7, "current_a": 0.2}),
    (supply_budget.budget, {"consumers": [], "limit_a": 2.5, "derating_factor": 0.8}),
    (supply_budget.current_a, {"power_w": 5.0, "supply_v": 24.0}),
    (supply_budget.next_size_a, {"needed_a": 1.0, "spare_share": 0.2}),
    (cable_capacitance.pair_uf_per_km, {"insulation": "PE", "area_mm2": 1.0}),
    (cable_capacitance.capacitive_a, {"voltage_v": 230.0, "frequency_hz": 50.0, "capacitance_uf": 0.3}),
    (cable_capacitance.most_uf, {"hold_va": 4.0, "voltage_v": 230.0, "frequency_hz": 50.0}),
    (cable_capacitance.longest_m, {"hold_va": 4.0, "voltage_v": 230.0, "frequency_hz": 50.0, "uf_per_km": 0.3}),
    (ampacity.base_a, {"area_mm2": 1.5}),
    (ampacity.ambient_factor, {"ambient_c": 40.0}),
    (ampacity.ampacity_a, {"area_mm2": 1.5, "ambient_c": 40.0}),
    (ampacity.smallest_area_mm2, {"current_a": 10.0, "ambient_c": 40.0}),
    (motors.apparent_va, {"voltage_v": 400.0, "current_a": 3.4}),
    (motors.efficiency, _PLATE),
    (motors.rated_current_a, {"power_w": 1500.0, "voltage_v": 400.0, "cos_phi": 0.8, "efficiency": 0.8}),
    (motors.synchronous_per_min, {"frequency_hz": 50.0, "poles": 4}),
    (motors.poles, {"frequency_hz": 50.0, "speed_per_min": 1430.0}),
    (motors.slip_share, {"frequency_hz": 50.0, "speed_per_min": 1430.0, "poles": 4}),
    (motors.rated_torque_nm, {"power_w": 1500.0, "speed_per_min": 1430.0}),
]
#: What may be negative: temperatures, signals, spans, and a resistance that is left over (or wanting).
_SIGNED = {
    *("temperature_c", "reference_c", "ambient_c", "spare_ohm", "signal_v"),
    *("signal_user", "signal_low_user", "signal_high_user", "low_user", "high_user", "of_user", "error_share"),
}
#: Modules whose arguments have tests of their own.
_ELSEWHERE = {"ferrules", "fuses", "cores", "signal_bands", "tables", "arguments"}


def _cases() -> list[Any]:
    return [
        pytest.param(
            function, kwargs, name, bad, id=f"{function.__module__.split('.')[-1]}.{function.__name__}-{name}-{bad}"
        )
        for function, kwargs in CALLS
        for name, right in kwargs.items()
        if isinstance(right, float)
        for bad in (math.nan, math.inf, -math.inf, -1.0)
        if not (bad == -1.0 and name in _SIGNED)
        if not (bad == -math.inf and name == "spare_ohm")
    ]


@pytest.mark.parametrize(("function", "kwargs"), CALLS, ids=lambda v: getattr(v, "__name__", ""))
def test_right_arguments_give_finite_numbers(function: Callable[..., Any], kwargs: dict[str, Any]) -> None:
    got = function(**kwargs)
    assert got is not None
    for number in got if isinstance(got, tuple) else (got,):
        assert not isinstance(number, float) or math.isfinite(number)


@pytest.mark.parametrize(("function", "kwargs", "name", "bad"), _cases())
def test_what_cannot_be_is_refused_in_words(
    function: Callable[..., Any], kwargs: dict[str, Any], name: str, bad: float
) -> None:
    with pytest.raises(ValueError, match=r"^[a-zA-Z].{12,}$") as refusal:
        function(**kwargs | {name: bad})
    assert "math domain" not in str(refusal.value)


def test_every_formula_that_takes_a_number_is_tried() -> None:
    tried = {function for function, _ in CALLS}
    for info in pkgutil.iter_modules(formulas.__path__):
        module = importlib.import_module(f"wiregen.formulas.{info.name}")
        for name, found in vars(module).items():
            function = inspect.unwrap(found) if callable(found) else found
            if name.startswith("_") or not isinstance(function, FunctionType) or function.__module__ != module.__name__:
                continue
            kinds = inspect.get_annotations(function).items()
            takes = [k for n, k in kinds if n != "return" and str(k) in ("float", "float | None")]
            assert not takes or found in tried or info.name in _ELSEWHERE, f"{info.name}.{name}"


@pytest.mark.parametrize("bad", [0, -1, 1.5])
def test_a_count_is_whole(bad: float) -> None:
    with pytest.raises(ValueError, match="sensors in series must be a whole number from 1"):
        two_wire_sensors.left_v(24, 8, in_series=bad)  # type: ignore[arg-type]


def test_checks_give_the_value_back() -> None:
    assert arguments.positive("a length", 2.0) == 2.0
    assert arguments.not_negative("a length", 0.0) == 0.0
    assert arguments.finite("a length", -2.0) == -2.0
    assert arguments.share("a position", 1.0) == arguments.proper_share("a position", 1.0) == 1.0
    assert arguments.count("wires", 3) == 3
    with pytest.raises(ValueError, match="a length must be more than nothing, not 0"):
        arguments.positive("a length", 0.0)
    with pytest.raises(ValueError, match="the low end must be less than the high end, not 2 and 1"):
        arguments.ascending(("the low end", 2.0), ("the high end", 1.0))
