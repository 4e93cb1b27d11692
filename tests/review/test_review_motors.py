"""Nameplates that contradict themselves, and those that do not."""

from __future__ import annotations

import pytest
from review_schemes import codes, designed, drive, found, only

CODE = "nameplate-contradicts"


def _motor(figures: str) -> str:
    buttons = "-SJ1: {profile: push_button, contact: NO, at: +C1}\n-SJ2: {profile: push_button, contact: NC, at: +C1}"
    return drive(buttons, f"run: {{method: three-wire, start: -SJ1, stop: -SJ2}}\nmotor: {{{figures}}}")


@pytest.mark.parametrize(
    "figures",
    [
        "power: 4 kW",
        "power: 4 kW, voltage: 400 V, current: 8.3 A",
        "power: 4 kW, voltage: 400 V AC, current: 8.3 A, cos_phi: 0.82, frequency: 50 Hz, speed: 1440 1/min",
        "power: 60 W, voltage: 400 V, current: 250 mA, cos_phi: 0.65, frequency: 50 Hz, speed: 1300 rpm",
        "power: 4 kW, frequency: 87 Hz, speed: 2550 1/min",
        "power: 5 kVA, voltage: 400 V, current: 1 A, cos_phi: 0.82",  # no power at the shaft
        "speed: 1440 1/min",
        "frequency: 50 Hz, speed: 1500 1/min",  # a synchronous motor
    ],
)
def test_a_plate_that_can_be_true_is_left_alone(figures: str) -> None:
    assert not found(designed(_motor(figures)), CODE)


@pytest.mark.parametrize(
    ("figures", "key", "says"),
    [
        (
            "power: 4 kW, voltage: 400 V, current: 4.8 A, cos_phi: 0.82",
            "current",
            "4 kW from 400 V and 4.8 A at a power factor of 0.82 is more than such a motor can give (efficiency 1.47); "
            "at this voltage it takes more than 7.041 A",
        ),
        (
            "power: 4 kW, voltage: 400 V, current: 14.4 A, cos_phi: 0.82",
            "current",
            "is far less than such a motor gives (efficiency 0.49); at this voltage it takes less than 12.8 A",
        ),
        (
            "power: 4 kW, voltage: 400 V, current: 5 A",
            "current",
            "more than such a motor can give (efficiency times power factor 1.15)",
        ),
        (
            "power: 4 kW, frequency: 60 Hz, speed: 1440 1/min",
            "speed",
            "1440 1/min at 60 Hz is a slip of 20 % against the 1800 1/min of 4 poles, and 13 % is much",
        ),
        ("frequency: 50 Hz, speed: 3100 1/min", "speed", "is faster than the 3000 1/min of two poles"),
        ("frequency: 0 Hz, speed: 3100 1/min", "frequency", "says 0 Hz"),
    ],
)
def test_a_plate_that_cannot_be_true_is_told_with_its_figures(figures: str, key: str, says: str) -> None:
    finding = only(designed(_motor(figures)), CODE)
    assert says in finding.message
    assert finding.where == ("control", "-TA1", "motor", key)
    assert finding.subject == "motor of -TA1"


def test_one_plate_may_contradict_itself_twice() -> None:
    figures = "power: 4 kW, voltage: 400 V, current: 4.8 A, cos_phi: 0.82, frequency: 60 Hz, speed: 1440 1/min"
    design = designed(_motor(figures))
    assert codes(design, "warning") == [CODE, CODE]
    assert [f.unit for f in found(design, CODE)] == ["%", "%"]


@pytest.mark.parametrize(
    "figures",
    [
        "power: 999999999999 kW, voltage: 400 V, current: 0.000001 mA, cos_phi: 0.01",
        "power: 0.001 W, voltage: 999999999999 kV, current: 999999999999 A, cos_phi: 1",
        f"power: 1{'0' * 300} kW, voltage: 0.000001 V, current: 0.000001 mA",
        "frequency: 0.000001 Hz, speed: 999999999999 1/min",
    ],
)
def test_wild_figures_are_told_too(figures: str) -> None:
    assert CODE in codes(designed(_motor(figures)), "warning")
