"""Start and stop in one cable: what counts as a stop from elsewhere, and where the finding must not speak."""

from __future__ import annotations

import pytest
from review_schemes import codes, designed, drive, only

BUTTONS = """
-SJ1: {profile: push_button, contact: NO, at: +F1, text: START}
-SJ2: {profile: push_button, contact: NC, at: +F1, text: STOP}
"""
RUN = "run: {method: three-wire, start: -SJ1, stop: -SJ2}\n"
CABINET = "-SJ4: {profile: push_button, contact: NC, at: +C1, text: STOP}\n"
FIELD = CABINET.replace("+C1", "+F1")
HOT = "-BT1: {profile: contact, contact: NC, at: +C1, operated_when: winding above 140 C}\n"
SELECTOR = "-SJ3: {profile: selector, positions: [OFF, RUN], at: +C1}\n"
PRESETS = "speed: {work: {preset: 40 Hz}}\nselect: {by: -SJ3, when: {OFF: stop, RUN: work}}\n"
SAFE = """
-TB1: {profile: supply_24v, at: +C1}
-SF1: {profile: emergency_stop, at: +F1}
-SJ9: {profile: push_button, contact: NO, at: +C1, text: RESET}
-KF10: {profile: safety_relay, at: +C1}
"""


def found(devices: str, section: str, **keys: str) -> bool:
    return "start-beside-stop" in codes(designed(drive(BUTTONS + devices, RUN + section, **keys)))


def test_one_cable_with_start_stop_and_feed() -> None:
    finding = only(designed(drive(BUTTONS, RUN)), "start-beside-stop")
    assert finding.where == ("control", "-TA1", "run", "stop")
    assert "-WG1" in finding.message


@pytest.mark.parametrize(
    ("devices", "section"),
    [
        (CABINET, "enable: -SJ4\n"),
        (CABINET, "external_trip: -SJ4\n"),
        (SELECTOR, PRESETS),
    ],
)
def test_a_stop_from_elsewhere_is_independent(devices: str, section: str) -> None:
    assert not found(devices, section)


@pytest.mark.parametrize(
    ("devices", "section"),
    [
        (FIELD, "enable: -SJ4\n"),  # in the same cable
        (HOT, "external_trip: -BT1\n"),  # nobody stops a motor by heating its winding
        (SELECTOR.replace("OFF", "SLOW"), PRESETS.replace("OFF: stop", "SLOW: work")),
        (SELECTOR.replace("+C1", "+F1"), PRESETS),
    ],
)
def test_what_is_no_stop_or_lies_in_the_same_cable(devices: str, section: str) -> None:
    assert found(devices, section)


@pytest.mark.parametrize(("stop", "told"), [("[-SJ2, -SJ4]", False), ("[-SJ4, -SJ2]", True)])
def test_a_second_stop_in_series_is_bridged_with_the_first_if_it_comes_before(stop: str, told: bool) -> None:
    """Series from the feed: only the contact nearest the terminal is beyond the cable."""
    run = f"run: {{method: three-wire, start: -SJ1, stop: {{all: {stop}}}}}\n"
    assert ("start-beside-stop" in codes(designed(drive(BUTTONS + CABINET, run)))) is told


def test_buttons_in_the_cabinet_have_no_cable() -> None:
    assert "start-beside-stop" not in codes(designed(drive(BUTTONS.replace("+F1", "+C1"), RUN)))


def test_safe_torque_off_by_a_safety_relay_is_independent() -> None:
    text = drive(
        BUTTONS + SAFE,
        RUN + "safe_torque_off: {by: -KF10}\n",
        profile="drive_extended",
        beside="-KF10: {guards: [-SF1], reset: {by: -SJ9, monitored: yes}, supply: -TB1}\n",
    )
    assert "start-beside-stop" not in codes(designed(text))
    assert "start-beside-stop" in codes(designed(text.replace("{by: -KF10}", "linked")))
