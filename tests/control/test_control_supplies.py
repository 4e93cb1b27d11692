"""Supplies: what feeds inputs, sensors, transmitters, loads and cards; how each 0 V is tied.

The rules are the format's; worked by hand.
"""

from __future__ import annotations

import pytest
from control_schemes import PLANT, at_drive, declared, function, notices

from wiregen.control.functions import Declared

TWO = PLANT + "-TB2: {profile: supply_24v, at: +C1}\n"
CARD = "-KE1: {profile: io_digital_in_16, at: +C1}\n"
BUTTON = "-SJ1: {profile: push_button, contact: NO, at: +F1}\n"


def supply(found: Declared, name: str, controller: str = "-TA1") -> str | None:
    made = function(found, name, controller).supply
    return made.device if made else None


@pytest.mark.parametrize(
    ("inputs", "device", "expected"),
    [
        ("source", "", "-TA1"),  # the drive's own 24 V output
        ("{wired: source, supply: -TB1}", "", "-TB1"),
        ("source", ", supply: -TB1", "-TB1"),
        ("{wired: source, supply: -TA1}", ", supply: -TB1", "-TB1"),
    ],
)
def test_contacts_at_a_drive(inputs: str, device: str, expected: str) -> None:
    button = f"-SJ1: {{profile: push_button, contact: NO, at: +F1{device}}}"
    found = at_drive(button, "enable: -SJ1", said=f"inputs: {inputs}\nzero_volt: floating\nrestart: allowed\n")
    assert supply(found, "enable") == expected


def test_supply_of_the_section_feeds_the_inputs() -> None:
    found = at_drive(BUTTON, "enable: -SJ1\nsupply: -TB1")
    assert supply(found, "enable") == "-TB1"


def test_contacts_at_a_card_take_the_supply_of_its_place() -> None:
    found = declared(PLANT + CARD + BUTTON, "-KE1: {inputs: source, reads: {x: -SJ1}}")
    assert supply(found, "x", "-KE1") == "-TB1"
    (feed,) = found.feeds
    assert (feed.plus.name, feed.zero.name, feed.supply.device, feed.only_for) == ("24V", "0V", "-TB1", frozenset())


def test_card_with_a_supply_of_its_own() -> None:
    """Said once at the device, it feeds the card and its inputs."""
    card = "-KE1: {profile: io_digital_in_16, at: +C1, supply: -TB2}\n"
    found = declared(TWO + card + BUTTON, "-KE1: {inputs: source, reads: {x: -SJ1}}")
    assert (supply(found, "x", "-KE1"), found.feeds[0].supply.device) == ("-TB2", "-TB2")


def test_two_candidates_are_named_once_for_each_need() -> None:
    found = declared(TWO + CARD + BUTTON, "-KE1: {inputs: source, reads: {x: -SJ1}}")
    unclear = [n.message for n in found.notices if n.code == "supply-unclear"]
    assert len(unclear) == 2
    assert all("-TB1 or -TB2" in message for message in unclear)
    assert supply(found, "x", "-KE1") is None


def test_no_candidate() -> None:
    found = declared(CARD + BUTTON, "-KE1: {inputs: source, reads: {x: -SJ1}}")
    missing = [n.message for n in found.notices if n.code == "supply-missing"]
    assert missing == [
        "nothing feeds the inputs of -KE1: +C1 holds no 24 V supply",
        "nothing feeds -KE1: +C1 holds no 24 V supply",
    ]


@pytest.mark.parametrize("name", ["-SJ1", "-KE1"])
def test_what_is_no_supply(name: str) -> None:
    said = f"inputs: {{wired: source, supply: {name}}}\nzero_volt: floating\nrestart: allowed\n"
    found = at_drive(BUTTON + CARD, "enable: -SJ1", said=said)
    assert f"{name} is not a supply" in notices(found)["supply-unknown"]


def test_field_place_without_supply_takes_the_cabinets() -> None:
    found = declared(
        "-TB1: {profile: supply_24v, at: +C1}\n-KE1: {profile: io_relay_out_8, at: +F1}\n"
        "-PF1: {profile: pilot_lamp, at: +F1}",
        "-KE1: {operates: {x: -PF1}}",
    )
    assert supply(found, "x", "-KE1") == "-TB1"


def test_supply_of_the_place_comes_before_the_cabinets() -> None:
    """The relay's place counts, not the lamp's."""
    found = declared(
        "-TB1: {profile: supply_24v, at: +C1}\n-TB2: {profile: supply_24v, at: +F1}\n"
        "-KE1: {profile: io_relay_out_8, at: +F1}\n-PF1: {profile: pilot_lamp, at: +C1}",
        "-KE1: {operates: {x: -PF1}}",
    )
    assert supply(found, "x", "-KE1") == "-TB2"


@pytest.mark.parametrize(
    ("duty", "lamp", "expected"),
    [
        ("{switches: -PF1}", "", "-TB1"),
        ("{switches: -PF1, supply: -TA1}", "", "-TA1"),
        ("{switches: -PF1}", ", supply: -TA1", "-TA1"),
        ("{switches: -PF1, supply: -TB1}", ", supply: -TA1", "-TB1"),
    ],
)
def test_load_of_a_relay(duty: str, lamp: str, expected: str) -> None:
    found = at_drive(f"-PF1: {{profile: pilot_lamp, at: +C1{lamp}}}", f"relays: {{fault: {duty}}}")
    assert supply(found, "fault") == expected


def test_dry_contact_takes_the_supply_of_the_input_it_drives() -> None:
    found = at_drive(
        CARD + "-KE2: {profile: io_relay_out_8, at: +C1}",
        "run: {method: two-wire, forward: -KE2}\nrelays: {running: -KE1}",
    )
    assert (supply(found, "run forward"), supply(found, "running")) == ("-TA1", "-TB1")


def test_transistor_output_brings_its_own() -> None:
    found = at_drive("-KE2: {profile: io_digital_out_16, at: +C1}", "run: {method: two-wire, forward: -KE2}")
    assert supply(found, "run forward") is None


@pytest.mark.parametrize(
    ("wires", "at_reference", "at_device", "expected"),
    [
        ("two", "", "", "-TA1"),
        ("three", "", "", "-TA1"),
        ("four", "", "", "-TB1"),
        ("two", ", supply: -TB1", "", "-TB1"),
        ("two", "", ", supply: -TB1", "-TB1"),
        ("four", ", supply: -TA1", ", supply: -TB1", "-TA1"),
    ],
)
def test_transmitters(wires: str, at_reference: str, at_device: str, expected: str) -> None:
    found = at_drive(
        f"-BL1: {{profile: transmitter_{wires}_wire, at: +F1{at_device}}}",
        f"speed: {{auto: {{from: -BL1, signal: 4-20 mA{at_reference}}}}}",
    )
    assert supply(found, "reference auto") == expected


def test_two_wire_transmitter_at_a_card() -> None:
    found = declared(
        PLANT + "-KE1: {profile: io_analog_in_8, at: +C1}\n-BL1: {profile: transmitter_two_wire, at: +F1}",
        "-KE1: {reads: {level: -BL1}}",
    )
    made = function(found, "level", "-KE1")
    assert (made.purpose, made.signal, made.ends[0].role) == ("analog_in", "4-20 mA", "analog_in")
    assert supply(found, "level", "-KE1") == "-TB1"


def test_output_card_is_fed_by_group() -> None:
    found = declared(PLANT + "-KE1: {profile: io_digital_out_16, at: +C1}", "{}")
    assert [(f.plus.name, f.zero.name, len(f.only_for)) for f in found.feeds] == [
        ("24VA", "0VA", 8),
        ("24VB", "0VB", 8),
    ]


# 0 V


@pytest.mark.parametrize(
    ("supply_said", "drive_said", "modes"),
    [
        ("", "zero_volt: floating", [("-TB1", "earthed", False), ("-TA1", "floating", True)]),
        (", zero_volt: floating", "zero_volt: earthed", [("-TB1", "floating", True), ("-TA1", "earthed", True)]),
        (", zero_volt: inside", "zero_volt: inside", [("-TB1", "inside", True), ("-TA1", "inside", True)]),
        ("", "zero_volt: {joined_to: -TB1}", [("-TB1", "earthed", False), ("-TA1", "joined", True)]),
    ],
)
def test_zero_volts(supply_said: str, drive_said: str, modes: list[tuple[str, str, bool]]) -> None:
    found = declared(
        f"-TB1: {{profile: supply_24v, at: +C1{supply_said}}}\n-TA1: {{profile: drive_compact, at: +C1}}",
        f"-TA1: {{inputs: source, restart: allowed, {drive_said}}}",
    )
    assert [(z.device, z.mode, z.declared) for z in found.zero_volts] == modes
    assert notices(found) == {}


def test_zero_volt_may_stand_at_the_device() -> None:
    found = declared("-TA1: {profile: drive_compact, at: +C1, zero_volt: earthed}", "-TA1: {inputs: source}")
    assert [(z.mode, z.where) for z in found.zero_volts] == [("earthed", ("devices", "-TA1", "zero_volt"))]


def test_drive_that_does_not_say() -> None:
    found = at_drive("", "", said="inputs: source\nrestart: allowed")
    assert "does not say how its 0 V (-TA1:COM) is tied" in notices(found)["zero-volt-not-declared"]
    assert [(z.mode, z.declared) for z in found.zero_volts][1] == ("floating", False)


@pytest.mark.parametrize(
    ("devices", "control", "says"),
    [
        ("-PF1: {profile: pilot_lamp, at: +C1}", "{joined_to: -PF1}", "which has no 0 V terminal"),
        ("-KE1: {profile: io_relay_out_8, at: +C1}", "{joined_to: -KE1}", "which has no 0 V terminal"),
        ("", "{joined_to: -TA1}", "joined back to itself"),
    ],
)
def test_zero_volt_joined_to_nothing(devices: str, control: str, says: str) -> None:
    found = at_drive(devices, "", said=f"inputs: source\nrestart: allowed\nzero_volt: {control}")
    assert says in notices(found)["zero-volt-unfit"]


def test_zero_volts_in_a_circle() -> None:
    found = declared(
        "-TA1: {profile: drive_compact, at: +C1, zero_volt: {joined_to: -TA2}}\n"
        "-TA2: {profile: drive_compact, at: +C1, zero_volt: {joined_to: -TA1}}\n"
        "-TA3: {profile: drive_compact, at: +C1, zero_volt: {joined_to: -TA1}}",
        "{}",
    )
    assert [n.subject for n in found.notices if n.code == "zero-volt-unfit"] == ["-TA1", "-TA2"]


@pytest.mark.parametrize(
    ("card", "says"),
    [
        ("profile: io_digital_in_16, at: +C1, zero_volt: earthed", "comes with its feed"),
        ("profile: io_relay_out_8, at: +C1, zero_volt: floating", "has no 0 V terminal"),
        ("profile: io_digital_in_16, at: +C1, zero_volt: {joined_to: -TB1}", ""),
    ],
)
def test_zero_volt_of_a_card(card: str, says: str) -> None:
    found = declared(f"-TB1: {{profile: supply_24v, at: +C1}}\n-KE1: {{{card}}}", "{}")
    assert says in notices(found).get("zero-volt-unfit", "")
    assert ("zero-volt-unfit" in notices(found)) == bool(says)
