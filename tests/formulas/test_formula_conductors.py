"""Conductors: resistance, temperature, gauge."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wiregen.formulas import conductors


def test_a_thicker_conductor_resists_less() -> None:
    for cls in (2, 5):
        values = [conductors.resistance_ohm_per_km(a, cls) for a in conductors.areas_mm2()]
        assert values == sorted(values, reverse=True)


@pytest.mark.parametrize("area_mm2", conductors.areas_mm2())
def test_limits_lie_above_the_resistance_of_the_bare_area(area_mm2: float) -> None:
    # A maximum must allow for tolerance and lay; 17.241 ohm mm2/km is annealed copper (IEC 60028). A second method.
    bare = 17.241 / area_mm2
    for cls, most in ((2, 1.10), (5, 1.18)):
        assert bare < conductors.resistance_ohm_per_km(area_mm2, cls) < most * bare
    tinned = conductors.resistance_ohm_per_km(area_mm2, 5, "tinned")
    assert conductors.resistance_ohm_per_km(area_mm2, 5) < tinned


def test_class_1_and_6_share_limits() -> None:
    assert conductors.resistance_ohm_per_km(1.5, 1) == conductors.resistance_ohm_per_km(1.5, 2)
    assert conductors.resistance_ohm_per_km(1.5, 6) == conductors.resistance_ohm_per_km(1.5, 5)


@pytest.mark.parametrize(("area_mm2", "cls"), [(0.34, 5), (1.0, 3), (-1.0, 5), (math.nan, 5)])
def test_what_the_table_lacks_is_refused_with_what_it_has(area_mm2: float, cls: int) -> None:
    with pytest.raises(ValueError, match=r"areas: 0\.5, 0\.75, 1, 1\.5"):
        conductors.resistance_ohm_per_km(area_mm2, cls)


@pytest.mark.parametrize("temperature_c", [-230.0, -300.0, math.nan])
def test_no_factor_without_a_temperature(temperature_c: float) -> None:
    with pytest.raises(ValueError, match="above -230 degC"):
        conductors.temperature_factor(temperature_c)


def test_the_closed_form_stays_near_the_physics_of_copper() -> None:
    # The exact coefficient of copper at 20 C is 0.00393 /K; the standard's rounded one differs by less than 1 %.
    for celsius in range(0, 101, 10):
        physics = 1 + 0.00393 * (celsius - 20)
        assert conductors.temperature_factor(celsius) == pytest.approx(physics, rel=0.01)


@given(st.floats(0, 1e5), st.sampled_from(conductors.areas_mm2()))
def test_a_loop_is_two_conductors(length_m: float, area_mm2: float) -> None:
    one = conductors.resistance_ohm_per_km(area_mm2) * length_m / 1000
    assert conductors.loop_resistance_ohm(length_m, area_mm2) == pytest.approx(2 * one)


@pytest.mark.parametrize("length_m", [-1.0, math.nan])
def test_no_loop_of_negative_length(length_m: float) -> None:
    with pytest.raises(ValueError, match="a length must be zero or more"):
        conductors.loop_resistance_ohm(length_m, 1.0)


@given(st.integers(0, 37))
def test_three_gauges_halve_the_area(gauge: int) -> None:
    # A rule of the trade (ASTM B258's ratio): 92 ** (1/39) to the sixth power is 2.0050.
    ratio = conductors.awg_area_mm2(gauge) / conductors.awg_area_mm2(gauge + 3)
    assert ratio == pytest.approx(2.0050, abs=1e-4)


@pytest.mark.parametrize("gauge", [-1, 41])
def test_gauges_outside_are_refused(gauge: int) -> None:
    with pytest.raises(ValueError, match="outside 0 to 40"):
        conductors.awg_area_mm2(gauge)


@pytest.mark.parametrize(
    ("text", "gauge"),
    [("AWG 18", 18), ("awg18", 18), (" 16 AWG ", 16), ("1.0 mm2", None), ("AWG", None), ("", None), ("AWG 1.5", None)],
)
def test_a_gauge_is_read_from_text(text: str, gauge: int | None) -> None:
    assert conductors.awg_gauge(text) == gauge
