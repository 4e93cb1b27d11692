"""Voltages of loads and supplies, transformers and fuses as control sees them. The rules are the format's."""

from __future__ import annotations

import pytest
from control_schemes import at_drive, end, function, notices

from wiregen.control.functions import Declared
from wiregen.control.loads import Rated, rated
from wiregen.terms import Pin

TRANSFORMER = "-TB2: {profile: control_transformer, at: +C1, voltage: 120 V AC, power: 100 VA}\n"
FUSE = "-FC1: {profile: fuse, at: +C1, rating: 1 A}\n"
LAMPS = """
-PF1: {profile: pilot_lamp, at: +C1, voltage: 120 V AC}
-PF2: {profile: pilot_lamp, at: +C1}
-KF1: {profile: interposing_relay, at: +C1, coil: 120 V AC}
-KF2: {profile: interposing_relay, at: +C1}
"""


def fed(found: Declared, name: str) -> str | None:
    supply = function(found, name).supply
    return supply.device if supply else None


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("120 V AC", Rated(120, "AC")),
        ("24 V DC", Rated(24, "DC")),
        ("24 V AC", Rated(24, "AC")),
        ("24 V", Rated(24, "DC")),  # the control voltage that needs no word
        ("230 V", Rated(230, "AC")),
        ("0.12 kV AC", Rated(120, "AC")),
    ],
)
def test_voltages_as_they_are_written(text: str, expected: Rated) -> None:
    assert rated(text) == expected


def test_a_load_takes_the_supply_of_its_voltage() -> None:
    found = at_drive(TRANSFORMER + LAMPS, "relays: {running: -PF1, fault: -PF2}")
    assert (fed(found, "running"), fed(found, "fault")) == ("-TB2", "-TB1")
    assert notices(found) == {}
    assert (function(found, "running").category, function(found, "fault").category) == ("control_ac", "control")


def test_current_at_another_voltage_is_that_of_the_same_power() -> None:
    """A relay's coil has 1 W: 1/120 A at 120 V. A lamp has 24 V x 20 mA = 0.48 W: 4 mA."""
    found = at_drive(TRANSFORMER + LAMPS, "relays: {running: -PF1, fault: -KF1}")
    assert end(found, "running").load_a == pytest.approx(0.004)
    assert end(found, "fault").load_a == pytest.approx(1 / 120)
    assert (end(found, "running").load_ac_v, end(found, "fault").load_ac_v) == (120, 120)


def test_the_only_supply_feeds_a_load_that_it_does_not_fit() -> None:
    """So that it is drawn; that it does not fit is an error finding."""
    found = at_drive(LAMPS, "relays: {running: -PF1}")
    assert fed(found, "running") == "-TB1"


def test_two_transformers_are_no_guess() -> None:
    found = at_drive(TRANSFORMER + TRANSFORMER.replace("-TB2", "-TB3") + LAMPS, "relays: {running: -PF1}")
    assert "could be fed from -TB2 or -TB3" in notices(found)["supply-unclear"]


@pytest.mark.parametrize(
    ("device", "section", "said"),
    [
        ("-SJ1: {profile: push_button, contact: NC, at: +C1}", "enable: -SJ1", "inputs: {wired: source, supply: -TB2}"),
        ("-SJ1: {profile: push_button, contact: NC, at: +C1, supply: -TB2}", "enable: -SJ1", "inputs: source"),
        (
            "-BL1: {profile: transmitter_two_wire, at: +C1}",
            "speed: {auto: {from: -BL1, supply: -TB2, on_low: trip}}",
            "inputs: source",
        ),
        (
            "-KE1: {profile: io_digital_in_16, at: +C1}",
            "relays: {running: {switches: -KE1, supply: -TB2}}",
            "inputs: source",
        ),
        ("-KE1: {profile: io_digital_in_16, at: +C1, supply: -TB2}", "relays: {running: -KE1}", "inputs: source"),
    ],
)
def test_inputs_are_never_fed_with_ac(device: str, section: str, said: str) -> None:
    found = at_drive(
        TRANSFORMER + device,
        section,
        said=f"{said}\nzero_volt: floating\nrestart: allowed\n",
    )
    assert "120 V AC" in notices(found)["input-fed-with-ac"]
    assert all(not (f.supply and f.supply.alternating) for f in found.functions)


def test_a_fuse_at_a_supply_stands_in_all_that_it_feeds() -> None:
    plant = "-TB1: {profile: supply_24v, at: +C1, fuse: -FC1}\n-TA1: {profile: drive_compact, at: +C1}\n" + FUSE
    found = at_drive(LAMPS, "relays: {fault: -PF2}", plant=plant)
    supply = function(found, "fault").supply
    assert supply is not None
    assert (supply.plus, supply.zero, supply.fuse) == (Pin("-FC1", "2"), Pin("-TB1", "0V"), "-FC1")
    (fusing,) = found.fusings
    assert (fusing.source, fusing.inlet, fusing.outlet) == (Pin("-TB1", "24V"), Pin("-FC1", "1"), Pin("-FC1", "2"))


def test_a_fuse_at_a_duty_stands_in_its_feed_alone() -> None:
    found = at_drive(FUSE + LAMPS, "relays: {running: {switches: -PF2, fuse: -FC1}, fault: -KF2}")
    fused, plain = function(found, "running").supply, function(found, "fault").supply
    assert fused is not None
    assert plain is not None
    assert (fused.plus, plain.plus) == (Pin("-FC1", "2"), Pin("-TB1", "24V"))


def test_a_fuse_at_a_reference_stands_in_the_feed_of_the_transmitter() -> None:
    found = at_drive(
        FUSE + "-BL1: {profile: transmitter_two_wire, at: +F1}",
        "speed: {auto: {from: -BL1, supply: -TB1, fuse: -FC1, on_low: trip}}",
    )
    supply = function(found, "reference auto").supply
    assert supply is not None
    assert supply.plus == Pin("-FC1", "2")


@pytest.mark.parametrize(
    ("section", "words"),
    [
        ("relays: {running: {switches: -PF2, fuse: -KF2}}", "-KF2 (Interposing relay) is no fuse"),
        (
            "relays: {running: {switches: -PF2, fuse: -FC1}, fault: {switches: -PF1, fuse: -FC1}}",
            "-FC1 would stand behind -TB1:24V and behind -TB2:X1",
        ),
    ],
)
def test_fuses_that_protect_nothing(section: str, words: str) -> None:
    assert words in notices(at_drive(TRANSFORMER + FUSE + LAMPS, section))["fuse-unfit"]


def test_an_interposing_relay_parts_two_voltages() -> None:
    """Its coil is fed with 24 V, its contact switches the lamp at 120 V."""
    found = at_drive(TRANSFORMER + LAMPS, "relays: {running: {switches: -PF1, through: -KF2, supply: -TB2}}")
    coil = function(found, "running")
    lamp = next(f for f in found.functions if f.controller == "-KF2")
    assert coil.supply is not None
    assert lamp.supply is not None
    assert (coil.supply.device, lamp.supply.device) == ("-TB1", "-TB2")
    assert (coil.category, lamp.category) == ("control", "control_ac")


def test_the_second_pin_of_a_transformer_is_earthed_unless_it_says_otherwise() -> None:
    found = at_drive(TRANSFORMER + LAMPS, "relays: {running: -PF1}")
    (zero,) = (z for z in found.zero_volts if z.device == "-TB2")
    assert (zero.mode, zero.zero) == ("earthed", Pin("-TB2", "X2"))
