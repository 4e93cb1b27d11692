"""Findings about the safety chain: small wrong schemes, and what stands beside each that is right.

ISO 13849-1 and IEC 60204-1, clause 9.2, from memory: one fault must not lose the function of a two-channel circuit.
"""

from __future__ import annotations

import pytest
from review_schemes import codes, designed, drive, found, only

from wiregen.pipeline import Design
from wiregen.review import catalogue

DEVICES = """
    -TB1: {profile: supply_24v, at: +C1}
    -KF10: {profile: safety_relay, at: +C1}
    -SF1: {profile: emergency_stop, at: +C1}
    -SJ5: {profile: push_button, contact: NO, at: +C1}
    -SJ2: {profile: push_button, contact: NC, at: +C1}
"""
RELAY = "-KF10: {guards: [-SF1], channels: two, reset: {by: -SJ5, monitored: yes}}"
OFF = "safe_torque_off: {by: -KF10, channels: two}\nenable: -SJ2"


def chain(control: str = OFF, relay: str = RELAY, devices: str = "") -> Design:
    return designed(drive(DEVICES + devices, control, profile="drive_extended", beside=relay))


def test_a_whole_chain_is_sound() -> None:
    assert codes(chain()) == []


def test_the_contact_of_a_guard_serves_nothing_else() -> None:
    """Its own channel and a plain input would be joined; a contact of the relay may tell the input."""
    twice = chain(OFF.replace("-SJ2", "-SF1.11-12") + "\nexternal_trip: -SJ2")
    finding = only(twice, "contact-used-twice")
    assert finding.severity == "error"
    assert "11-12 of -SF1" in finding.message
    assert "channel 1 of -KF10" in finding.message
    card = "    -KE1: {profile: io_digital_in_16, at: +C1}\n"
    told = chain(relay=f"{RELAY}\n-KE1: {{inputs: source, reads: {{stopped: -KF10.31-32}}}}", devices=card)
    assert "contact-used-twice" not in codes(told)
    assert "single-channel-safety" not in codes(told)


def test_thermistors_serve_one_drive() -> None:
    """A common line of two measuring inputs measures neither motor."""
    devices = "    -TA2: {profile: drive_extended, at: +C1}\n    -BT1: {profile: thermistor, at: +C1}\n"
    more = (
        "-TA2: {inputs: source, zero_volt: floating, restart: allowed, safe_torque_off: linked, motor_thermistor: -BT1}"
    )
    finding = only(chain(f"{OFF}\nmotor_thermistor: -BT1", f"{RELAY}\n{more}", devices), "contact-used-twice")
    assert "-BT1 is used for motor thermistor of -TA1 and for motor thermistor of -TA2" in finding.message


def test_one_guard_of_two_relays_needs_contacts_for_both() -> None:
    devices = "    -KF11: {profile: safety_relay, at: +C1}\n    -SJ6: {profile: push_button, contact: NO, at: +C1}\n"
    second = f"{RELAY}\n" + RELAY.replace("-KF10", "-KF11").replace("-SJ5", "-SJ6")
    assert len(found(chain(relay=second, devices=devices), "contact-used-twice")) == 2


@pytest.mark.parametrize(
    ("relay", "control", "code", "said"),
    [
        (RELAY.replace("two", "one"), OFF, "single-channel-safety", "-KF10 watches -SF1 by one channel of its 2"),
        (RELAY, OFF.replace("two", "one"), "safe-torque-off-one-conductor", "on one conductor from a contact of -KF10"),
        (RELAY, OFF.replace("-KF10", "-SF1").replace("two", "one"), "safe-torque-off-one-conductor", "11-12 of -SF1"),
        (RELAY, "safe_torque_off: linked\nenable: -KF10.13-14", "single-channel-safety", "enable of -TA1 alone"),
        (RELAY.replace("[-SF1]", "[-SF1.21-22]"), OFF, "guard-contacts-too-few", "one contact (21-22)"),
        (RELAY.replace("[-SF1]", "[-TB1]"), OFF, "guard-unfit", "-TB1"),
        (RELAY.replace("[-SF1]", "[-SF1.31-32]"), OFF, "contact-unknown", "it has 11-12, 21-22"),
        (RELAY, OFF.replace("-KF10", "-TB1"), "safe-torque-off-unfit", "-TB1 (Power supply unit, 24 V DC)"),
        (RELAY, f"{OFF}\nexternal_trip: -KF10.31-32", "signalling-contact-inverse", "only with a guard operated"),
        (RELAY, f"{OFF}\nmotor_thermistor: -SF1", "thermistor-unfit", "a contact belongs at `external_trip`"),
    ],
)
def test_what_cannot_hold_is_an_error(relay: str, control: str, code: str, said: str) -> None:
    finding = found(chain(control, relay), code)[0]
    assert finding.severity == "error"
    assert said in finding.message


@pytest.mark.parametrize(
    ("relay", "control", "code"),
    [
        (RELAY, "enable: -SJ2", "safe-torque-off-open"),
        (RELAY, "safe_torque_off: linked\nenable: -SJ2", "safety-relay-idle"),
        (RELAY.replace(", monitored: yes", ""), OFF, "reset-not-monitored"),
        (RELAY.replace("{by: -SJ5, monitored: yes}", "{by: -SJ5, monitored: no}"), OFF, "reset-not-monitored"),
        (RELAY.replace(", reset: {by: -SJ5, monitored: yes}", ""), OFF, "safety-reset-missing"),
        ("-KF10: {channels: two}", OFF, "guards-missing"),
        ("", OFF, "guards-missing"),
    ],
)
def test_what_is_probably_unwanted_is_a_warning(relay: str, control: str, code: str) -> None:
    assert code in codes(chain(control, relay), "warning")


def test_a_drive_without_safe_torque_off_has_no_terminals_for_it() -> None:
    design = designed(drive(DEVICES, OFF, profile="drive_compact", beside=RELAY))
    finding = only(design, "terminals-too-few")
    assert "safe torque off input" in finding.message
    assert "safe-torque-off-open" not in codes(design)


def test_linked_is_said_once_a_drive() -> None:
    finding = only(chain("safe_torque_off: linked\nenable: -SJ2"), "safe-torque-off-linked")
    assert finding.severity == "note"
    assert "the function is not used" in finding.message


def test_the_words_claim_no_assessment_of_safety() -> None:
    """A finding here says what is not done; none says that anything is safe."""
    entries = [e for e in catalogue.entries() if "safe" in e.code or e.code.startswith("guard")]
    assert len(entries) >= 10
    for entry in entries:
        assert "is safe" not in f"{entry.what} {entry.why} {entry.remedy}"
