"""Figures that a scheme gives one device: which names there are, which values, and how each mistake is told."""

from __future__ import annotations

from collections.abc import Callable

import pytest

PLANT = """\
scheme: x
places: {+C1: {}, +F1: {route: 3 m}}
devices:
  -TB1: {profile: supply_24v, at: +C1}
  -XX1: {profile: %PROFILE%, at: +C1, figures: %FIGURES%}
"""


def _plant(profile: str, figures: str) -> str:
    return PLANT.replace("%PROFILE%", profile).replace("%FIGURES%", figures)


@pytest.mark.parametrize(
    ("profile", "figures"),
    [
        ("pilot_lamp", "{current: 35 mA}"),
        ("solenoid_valve", "{current: 0.4 A}"),
        ("interposing_relay", "{power: 0.7 W, pick_up: 17 V, drop_out: 2.4 V}"),
        ("proximity_two_wire", "{drop: 5 V, leakage: 0.8 mA, least_current: 3 mA}"),
        ("transmitter_two_wire", "{lift_off: 10.5 V}"),
        ("thermistor", "{cold_most: 900 ohm}"),
        ("supply_24v", "{limit of 24V: 10 A}"),
        ("io_digital_in_16", "{resistance of group 1: 3.3 kohm, resistance of DI9: 2 kohm, draws of 24V: 60 mA}"),
        ("drive_compact", "{burden of AO1 at 4-20 mA: 300 ohm, resistance of AI2 at 4-20 mA: 100 ohm}"),
        ("drive_compact", "{DC-13 of 13: 2 A 30 V, start with stop closed: 5 ms}"),
        ("drive_compact", "{}"),
    ],
)
def test_a_figure_of_the_device_or_of_its_terminals_may_be_stated(
    complaints: Callable[..., list[str]], profile: str, figures: str
) -> None:
    assert complaints(_plant(profile, figures)) == []


@pytest.mark.parametrize(
    ("profile", "figures", "said"),
    [
        ("push_button", "{current: 2 A}", "`-XX1` (push_button) has no figure `current`: it has none"),
        ("pilot_lamp", "{curent: 2 A}", "`-XX1` (pilot_lamp) has no figure `curent`; did you mean `current`?"),
        ("pilot_lamp", "{resistivity: 2 A}", "has no figure `resistivity`: it has current and power"),
        ("pilot_lamp", "{voltage: 48 V}", "`voltage` is said by a key of its own: write `voltage:` at `-XX1`"),
        ("contactor", "{voltage: 48 V}", "write `coil:` at `-XX1`"),
        ("potentiometer", "{resistance: 1 kohm}", "write `resistance:` at `-XX1`"),
        ("fuse", "{rating: 1 A}", "write `rating:` at `-XX1`"),
        ("pilot_lamp", "{current: 3 V}", "'3 V' is not in A"),
        ("pilot_lamp", "{current: 3}", "'3' is not a quantity with a known unit"),
        ("pilot_lamp", "{current: 0 A}", "'0 A' is too small: it must be more than zero"),
        ("pilot_lamp", "{current: -1 A}", "'-1 A' is too small: it must be more than zero"),
        ("pilot_lamp", f"{{current: {'9' * 110}e9 A}}", "is not a quantity with a known unit"),
        ("drive_compact", "{resistance of group 2: 1 kohm}", "did you mean `resistance of group 1`?"),
        ("drive_compact", "{resistance of AI2: 1 kohm}", "`-XX1` (drive_compact) has no figure `resistance of AI2`"),
        ("drive_compact", "{DC-13 of 13: 2 A}", "'2 A' is no rating; write it as in '1 A 230 V'"),
        ("drive_compact", "{DC-13 of 13: x A y V}", "'x A y V' is no rating; write it as in '1 A 230 V'"),
        ("drive_compact", "{limit of 24V: [2 A]}", "`limit of 24V` takes a text, not a list"),
        ("drive_compact", "[a]", "`figures` takes a table, not a list"),
        ("drive_compact", "{limit of 24V: }", "`limit of 24V` is empty"),
    ],
)
def test_what_cannot_be_used_is_told(
    complaints: Callable[..., list[str]], profile: str, figures: str, said: str
) -> None:
    found = complaints(_plant(profile, figures))
    assert len(found) == 1
    assert found[0].startswith("5:")
    assert said in found[0]


def test_a_profile_that_is_not_there_is_told_once(complaints: Callable[..., list[str]]) -> None:
    found = complaints(_plant("lamp_of_mine", "{current: 3 V}"))
    assert len(found) == 1
    assert "unknown profile `lamp_of_mine`" in found[0]
