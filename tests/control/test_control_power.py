"""The power side as declared: what is refused, and what is left of the rest. The rules are the format's."""

from __future__ import annotations

import pytest
from control_schemes import PLANT, at_drive, declared, notices

from wiregen.terms import Pin

DEVICES = """
-QA1: {profile: motor_circuit_breaker, at: +C1}
-QA2: {profile: motor_circuit_breaker, at: +F1}
-MA1: {profile: motor, at: +F1}
-PF1: {profile: pilot_lamp, at: +C1}
"""


def test_pairs_of_pins() -> None:
    (side,) = at_drive(DEVICES, "power: {supply: -QA1, motor: -MA1}").powers
    assert side.feeders[0] == (Pin("-QA1", "2/T1"), Pin("-TA1", "L1"))
    assert side.phases[2] == (Pin("-TA1", "W"), Pin("-MA1", "W"))
    assert (side.earth, side.motor_earth) == (Pin("-TA1", "PE"), Pin("-MA1", "PE"))


@pytest.mark.parametrize(
    ("section", "words"),
    [
        ("power: {supply: -MA1}", "-MA1 (Three-phase motor) is no protective device"),
        ("power: {motor: -QA1}", "-QA1 (Motor circuit breaker) is no motor"),
        ("power: {motor: -PF1}", "-PF1 (Pilot lamp) is no motor"),
        ("power: {supply: -QA2}", "-QA2 stands in +F1 and -TA1 in +C1"),
    ],
)
def test_what_cannot_be_wired(section: str, words: str) -> None:
    found = at_drive(DEVICES, section)
    assert words in notices(found)["power-unfit"]
    (side,) = found.powers
    assert (side.feeders, side.phases) == ((), ())


def test_a_motor_has_one_drive() -> None:
    second = "-TA2: {profile: drive_compact, at: +C1}\n"
    section = "power: {motor: -MA1}\n"
    beside = "inputs: source\nzero_volt: floating\nrestart: allowed\npower: {motor: -MA1}"
    lines = "\n".join(f"  {line}" for line in beside.splitlines())
    found = declared(PLANT + second + DEVICES.strip(), f"-TA1:\n  inputs: source\n  {section}-TA2:\n{lines}")
    assert "-MA1 is wired to -TA1 already" in notices(found)["power-unfit"]
    assert [side.motor for side in found.powers] == ["-MA1", None]
