"""Rules on terminals, polarity, sources, supplies, loops and what is left over."""

from __future__ import annotations

from dataclasses import replace

import pytest
from review_schemes import codes, designed, drive, found, only, read

from wiregen import pipeline
from wiregen.review import review
from wiregen.review.context import context_of
from wiregen.review.sources import in_one_potential
from wiregen.terms import Pin
from wiregen.wiring.model import Potential

CARDS = """
-TB1: {profile: supply_24v, at: +C1}
-KE1: {profile: io_digital_in_16, at: +C1}
-KE2: {profile: io_digital_out_16, at: +C1}
"""
STOP = "-SJ2: {profile: push_button, contact: NC, at: +F1}\n"
FED = {"inputs": "{wired: source, supply: -TB1}", "zero_volt": "{joined_to: -TB1}"}

# Terminals


def test_two_duties_on_one_relay_by_either_of_its_pins() -> None:
    devices = "-TB1: {profile: supply_24v, at: +C1}\n" + "".join(
        f"-PF{n}: {{profile: pilot_lamp, at: +C1}}\n" for n in (1, 2)
    )
    control = "relays: {fault: {switches: -PF1, contact: NC}, running: {switches: -PF2}}"
    design = designed(drive(devices, control, rest='fixed: {-TA1: {"21": fault, "24": running}}'))
    assert codes(design, "error") == ["terminal-assigned-twice"]
    assert "-TA1:21 and 24 (one terminal) is fixed for fault and for running" in design.findings[0].message


def test_two_sections_on_one_card_channel() -> None:
    """A drive's duty and the card's own input are fixed to one channel of the card."""
    devices = "-TB1: {profile: supply_24v, at: +C1}\n-KE1: {profile: io_digital_in_16, at: +C1}\n" + STOP
    beside = "-KE1: {inputs: source, reads: {level high: -SJ2}}"
    rest = "fixed: {-KE1: {DI3: [running of -TA1, level high]}}"
    design = designed(drive(devices, "relays: {running: {switches: -KE1}}", beside=beside, rest=rest))
    finding = only(design, "terminal-assigned-twice")
    assert finding.where == ("fixed", "-KE1", "DI3")
    assert codes(design, "error") == ["terminal-assigned-twice"]


def test_the_deficient_set_is_told_as_allocation_says_it() -> None:
    buttons = "".join(f"-SJ{n}: {{profile: push_button, contact: NC, at: +F1}}\n" for n in range(1, 9))
    control = "".join(f"{key}: -SJ{n}\n" for n, key in enumerate(("enable", "external_trip", "reset"), 1))
    control += "run: {method: three-wire, start: -SJ8, stop: -SJ4}\nraise: -SJ5\nlower: -SJ6\nreverse: -SJ7\n"
    design = designed(drive(buttons, control))
    finding = only(design, "terminals-too-few")
    assert finding.message == design.allocation.conflicts[0].says
    assert design.allocation.unplaced


# Polarity


@pytest.mark.parametrize(("wired", "output", "fits"), [("source", "PNP", True), ("source", "NPN", False)])
@pytest.mark.parametrize("mirrored", [False, True])
def test_sensors_fit_one_polarity(wired: str, output: str, fits: bool, mirrored: bool) -> None:
    """PNP switches +24 V and fits source, NPN switches 0 V and fits sink (IEC 60947-5-2, from memory)."""
    if mirrored:
        wired, output = "sink", {"PNP": "NPN", "NPN": "PNP"}[output]
    sensor = f"-BG1: {{profile: proximity_three_wire, output: {output}, at: +F1}}"
    design = designed(drive(sensor, "enable: -BG1", inputs=wired))
    assert codes(design, "error") == ([] if fits else ["polarity-mismatch"])
    for finding in found(design, "polarity-mismatch"):
        assert "contacts switch +24 V" in finding.message
        assert "contacts switch 0 V" in finding.message


def test_a_sourcing_output_does_not_fit_inputs_wired_for_sink() -> None:
    said = {"inputs": "{wired: sink, supply: -TB1}", "zero_volt": "{joined_to: -TB1}"}
    design = designed(drive(CARDS.replace("-KE1", "-KE3") + STOP, "enable: -KE2\nexternal_trip: -SJ2", **said))
    finding = only(design, "polarity-mismatch")
    assert finding.message.startswith("the sourcing transistor output of -KE2 for enable of -TA1")


def test_a_group_of_its_own_takes_the_other_polarity() -> None:
    sensors = """
    -BG1: {profile: proximity_three_wire, output: PNP, at: +F1}
    -BG2: {profile: proximity_three_wire, output: NPN, at: +F1}
    """
    control = "enable: -BG1\nexternal_trip: -BG2"
    mixed = designed(drive(sensors, control, profile="drive_extended"))
    assert codes(mixed, "error") == ["polarity-mixed"]
    two = "{group 1: source, group 2: sink}"
    assert codes(designed(drive(sensors, control, profile="drive_extended", inputs=two)), "error") == []
    fixed = "fixed: {-TA1: {DI5: enable}}"
    crossed = designed(drive(sensors, control, profile="drive_extended", inputs=two, rest=fixed))
    assert codes(crossed, "error") == ["polarity-mismatch"]


# Contacts and sources


def test_a_sensor_for_two_functions() -> None:
    sensor = "-BG1: {profile: proximity_three_wire, output: PNP, at: +F1}"
    design = designed(drive(sensor, "enable: -BG1\nexternal_trip: -BG1"))
    assert only(design, "contact-used-twice").message.startswith("the output of -BG1 is used for enable of -TA1")


def test_both_halves_of_a_changeover_are_two_contacts() -> None:
    button = "-SJ1: {profile: push_button, contact: changeover, at: +F1}"
    assert codes(designed(drive(button, "enable: -SJ1.11-12\nreset: -SJ1.11-14"))) == []


def test_a_contact_between_two_drives_joins_their_positives() -> None:
    devices = "-TA2: {profile: drive_compact, at: +C1}\n" + STOP
    beside = "-TA2: {inputs: source, zero_volt: floating, restart: needs_start, enable: -SJ2}"
    design = designed(drive(devices, "enable: -SJ2", beside=beside))
    assert sorted(codes(design, "error")) == ["contact-used-twice", "positives-joined"]
    finding = only(design, "positives-joined")
    assert finding.message.startswith("-TA1:24V and -TA2:24V would be joined at -SJ2:11")
    assert finding.where == ("control", "-TA2", "enable")


def test_two_fixed_sources_on_one_analog_input() -> None:
    devices = """
    -SJ3: {profile: selector, positions: [A, B], at: +C1}
    -RA1: {profile: potentiometer, at: +C1}
    -BL1: {profile: transmitter_four_wire, at: +F1, supply: -TB1}
    -TB1: {profile: supply_24v, at: +C1}
    """
    control = """
    speed:
      a: {from: -RA1, signal: 0-10 V, spans: 0 to 50 Hz}
      b: {from: -BL1, signal: 0-10 V, spans: 0 to 50 Hz}
    select: {by: [-SJ3], when: {A: a, B: b}}
    """
    rest = "fixed: {-TA1: {AI1: [reference a, reference b]}}"
    design = designed(drive(devices, control, rest=rest))
    assert sorted(codes(design, "error")) == ["terminal-assigned-twice", "two-sources-joined"]
    message = only(design, "two-sources-joined").message
    assert message == "-RA1 (reference a of -TA1) and -BL1 (reference b of -TA1) would all drive -TA1:AI1"


def test_two_transistor_outputs_on_one_lamp() -> None:
    devices = CARDS.replace("-KE1: {profile: io_digital_in_16, at: +C1}\n", "") + STOP
    devices += "-PF1: {profile: pilot_lamp, at: +C1}\n"
    beside = "-KE2: {operates: {ready: {switches: -PF1}, busy: {switches: -PF1}}}"
    design = designed(drive(devices, "enable: -SJ2", beside=beside))
    assert codes(design, "error") == ["two-sources-joined"]


def test_two_driving_pins_in_one_potential() -> None:
    """Nothing that can be declared wires two sensors' outputs together; a potential made by hand does."""
    sensors = "".join(f"-BG{n}: {{profile: proximity_three_wire, output: PNP, at: +F1}}\n" for n in (1, 2))
    design = designed(drive(sensors, "enable: -BG1\nexternal_trip: -BG2"))
    context = context_of(design.scheme, design.declared, design.allocation, design.wiring)
    assert list(in_one_potential(context)) == []
    both = Potential("x", "1", "signal", None, (Pin("-BG1", "4"), Pin("-TA1", "DI3"), Pin("-BG2", "4")))
    wiring = replace(design.wiring, potentials=(*design.wiring.potentials, both))
    (notice,) = in_one_potential(context_of(design.scheme, design.declared, design.allocation, wiring))
    assert (notice.code, notice.where) == ("two-sources-joined", ("devices", "-BG2"))
    assert notice.message == "-BG1:4 and -BG2:4 drive one potential (x)"


# Loops


@pytest.mark.parametrize(("wires", "feed"), [("four", ", supply: -TB1"), ("two", "")])
def test_a_loop_fed_from_one_end_is_sound(wires: str, feed: str) -> None:
    devices = f"-TB1: {{profile: supply_24v, at: +C1}}\n-BL1: {{profile: transmitter_{wires}_wire, at: +F1{feed}}}\n"
    source = "speed: {level: {from: -BL1, signal: 4-20 mA, spans: 0 to 50 Hz, on_low: trip}}"
    design = designed(drive(devices + STOP, f"enable: -SJ2\n{source}"))
    assert codes(design, "error") == []


def test_a_four_wire_transmitter_with_a_second_supply() -> None:
    devices = """
    -TB1: {profile: supply_24v, at: +C1}
    -TB2: {profile: supply_24v, at: +C1}
    -BL1: {profile: transmitter_four_wire, at: +F1, supply: -TB1}
    """
    control = "speed: {level: {from: -BL1, signal: 4-20 mA, spans: 0 to 50 Hz, on_low: trip, supply: -TB2}}"
    assert only(designed(drive(devices, control)), "active-into-fed-loop").subject == "-BL1"


# Left over


def test_a_supply_that_earths_the_zero_volt_of_another_device_is_used() -> None:
    supplies = "-TB1: {profile: supply_24v, at: +C1}\n-TB2: {profile: supply_24v, at: +C1}\n"
    design = designed(drive(supplies + STOP, "enable: -SJ2", zero_volt="{joined_to: -TB1}"))
    assert only(design, "device-unused").subject == "-TB2"


def test_the_cabinet_of_a_field_place_is_used_without_devices() -> None:
    text = drive(STOP, "enable: -SJ2").replace("at: +C1", "at: +F1")
    assert "place-unused" not in codes(designed(text))


# The whole


def test_findings_stand_in_the_order_of_the_file() -> None:
    devices = "-BT1: {profile: contact, at: +F1}\n-SJ9: {profile: push_button, at: +F1}"
    design = designed(drive(devices, "enable: -BT1", restart=""))
    lines = [design.scheme.locate(f.where).line for f in design.findings]
    assert len(lines) > 2
    assert lines == sorted(lines)


def test_the_same_finding_is_told_once_and_always_alike() -> None:
    scheme = read(drive("-SJ9: {profile: push_button, at: +F1}", "enable: -SJ8".replace("-SJ8", "-SJ9.11-12")))
    design = pipeline.design(scheme)
    again = review(scheme, design.declared, design.allocation, design.wiring)
    assert again == design.findings
    keys = [(f.code, f.where, f.subject) for f in again]
    assert len(keys) == len(set(keys))


# Banks of cards


BANK = """
-TB1: {profile: supply_24v, at: +C1}
-KE1: {profile: io_digital_in_16, at: +C1}
-KE2: {profile: io_digital_in_16, at: +C1}
-BG1: {profile: proximity_three_wire, output: PNP, at: +F1}
"""
BANKS = "banks: {-KE: [-KE1, -KE2]}"


def test_a_bank_is_judged_by_its_cards() -> None:
    """What the section of a bank says holds for each of its cards: a group that they have is known."""
    beside = "-KE: {inputs: {group 1: source, group 2: source}, reads: {part there: -BG1}}"
    assert codes(designed(drive(BANK + STOP, "enable: -SJ2", beside=beside, rest=BANKS))) == ["field-feed-unprotected"]
    unknown = designed(drive(BANK + STOP, "enable: -SJ2", beside=beside.replace("group 2", "group 7"), rest=BANKS))
    assert only(unknown, "group-unknown").message == "-KE has no group 7 of inputs; it has group 1 and group 2"


def test_a_sensor_that_fits_no_card_of_a_bank() -> None:
    beside = "-KE: {inputs: sink, reads: {part there: -BG1}}"
    design = designed(drive(BANK + STOP, "enable: -SJ2", beside=beside, rest=BANKS))
    assert codes(design, "error") == ["polarity-mismatch"]
    half = "-KE1: {inputs: sink}\n-KE2: {inputs: source}\n-KE: {reads: {part there: -BG1}}"
    assert codes(designed(drive(BANK + STOP, "enable: -SJ2", beside=half, rest=BANKS)), "error") == []


@pytest.mark.parametrize(
    ("duty", "told"),
    [
        ("-PF1", True),
        ("{switches: -PF1, supply: -TB1}", True),
        ("{switches: -PF1, energised: while_healthy}", True),
        ("{switches: -PF1, energised: in_fault}", False),
        ("{switches: -PF1, contact: NC}", False),
        ("{switches: -PF1, contact: NO}", False),  # a lamp that says that all is well
    ],
)
def test_a_fault_lamp_without_a_contact(duty: str, told: bool) -> None:
    supply = "-TB1: {profile: supply_24v, at: +C1}\n-PF1: {profile: pilot_lamp, at: +C1}\n"
    assert ("fault-shown-inverse" in codes(designed(drive(supply, f"relays: {{fault: {duty}}}")))) is told
