"""Colours, screens, lengths, stations, and what stays live. Colours: IEC 60204-1 10.2 and 10.3, from memory."""

from __future__ import annotations

import re

import pytest
from review_schemes import codes, designed, drive, only

from wiregen import drawing

BUTTONS = (
    "-SJ1: {profile: push_button, contact: NO, at: +C1, text: START, colour: %s}\n"
    "-SJ2: {profile: push_button, contact: NC, at: +C1, text: STOP, colour: %s}\n"
)
RUN = "run: {method: three-wire, start: -SJ1, stop: -SJ2}"


@pytest.mark.parametrize("start", ["white", "grey", "black", "green", "red", "yellow", "blue"])
@pytest.mark.parametrize("stop", ["black", "red", "green"])
def test_start_is_never_red_and_stop_never_green(start: str, stop: str) -> None:
    design = designed(drive(BUTTONS % (start, stop), RUN))
    told = {f.subject for f in design.findings if f.code == "actuator-colour-unfit"}
    assert ("-SJ1" in told) == (start in ("red", "yellow", "blue"))
    assert ("-SJ2" in told) == (stop == "green")


def test_ladder_practice_has_colours_of_its_own() -> None:
    text = "practice: nfpa\n" + drive(BUTTONS % ("red", "green"), RUN)
    assert "actuator-colour-unfit" not in codes(designed(text))


def test_an_emergency_stop_is_red() -> None:
    devices = "-SF1: {profile: emergency_stop, at: +C1, colour: %s}\n"
    section = "safe_torque_off: {by: -SF1, channels: two}"
    for colour, told in (("red", False), ("black", True)):
        design = designed(drive(devices % colour, section, profile="drive_extended"))
        assert ("actuator-colour-unfit" in codes(design)) == told


@pytest.mark.parametrize(
    ("duty", "colour", "told"),
    [
        ("fault", "yellow", False),
        ("fault", "red", False),
        ("fault", "green", True),
        ("running", "green", False),
        ("running", "red", True),
        ("pump called", "blue", False),  # whatever it means, no rule speaks of it
    ],
)
def test_lamps(duty: str, colour: str, told: bool) -> None:
    devices = f"-TB1: {{profile: supply_24v, at: +C1}}\n-PF1: {{profile: pilot_lamp, at: +C1, colour: {colour}}}\n"
    design = designed(drive(devices, f"relays: {{{duty}: {{switches: -PF1}}}}"))
    assert ("lamp-colour-unfit" in codes(design)) == told


@pytest.mark.parametrize(
    ("route", "signal", "told"), [(30, "0-10 V", False), (31, "0-10 V", True), (300, "4-20 mA", False)]
)
def test_only_a_voltage_beyond_30_m_is_told(route: int, signal: str, told: bool) -> None:
    source = "potentiometer, resistance: 4.7 kohm" if signal == "0-10 V" else "transmitter_two_wire"
    low = "" if signal == "0-10 V" else ", on_low: trip, on_high: trip"
    text = drive(
        f"-RA1: {{profile: {source}, at: +F1}}",
        f"speed: {{hand: {{from: -RA1, signal: {signal}, spans: 0 to 50 Hz{low}}}}}",
    ).replace("route: 20 m", f"route: {route} m")
    assert ("voltage-signal-long" in codes(designed(text))) == told


def test_an_emergency_stop_at_a_station_is_a_stop() -> None:
    devices = """
    -SJ1: {profile: push_button, contact: NO, at: +C1}
    -SJ2: {profile: push_button, contact: NC, at: +C1}
    -SJ3: {profile: push_button, contact: NO, at: +F1}
    """
    section = "run: {method: three-wire, start: {any: [-SJ1, -SJ3]}, stop: -SJ2}"
    without = designed(drive(devices, section, profile="drive_extended"))
    assert "-SJ3 starts -TA1 from +F1" in only(without, "stop-not-at-station").message
    stopped = f"{section}\nsafe_torque_off: {{by: -SF1, channels: two}}"
    more = f"{devices}-SF1: {{profile: emergency_stop, at: +F1}}\n".replace("    ", "")
    assert "stop-not-at-station" not in codes(designed(drive(more, stopped, profile="drive_extended")))


def test_what_stays_live_is_marked_on_the_sheet() -> None:
    text = drive(
        "-TB1: {profile: supply_24v, at: +C2}\n-KE1: {profile: io_digital_in_16, at: +C2}\n",
        "relays: {running: {switches: -KE1}}",
        beside="-KE1: {inputs: source}",
    ).replace("places:\n", "places:\n  +C2: {name: Control room, route: {+C1: 30 m}}\n  +C3: {route: {+C2: 2 m}}\n", 1)
    text = text.replace("control:", "  -SJ9: {profile: push_button, contact: NO, at: +C3}\ncontrol:", 1)
    text = text.replace("-KE1: {inputs: source}", "-KE1: {inputs: source, reads: {pressed: -SJ9}}")
    design = designed(text)
    finding = only(design, "foreign-voltage")
    assert "-TA1:13 14 is fed from -TB1 in +C2" in finding.message
    sheet = next(s for s in drawing.draw(design).sheets if s.title.startswith("Terminal diagram"))
    written = " ".join(re.findall(r"<text[^>]*>([^<]*)</text>", sheet.svg.decode()))
    assert "Live with the main switch off: -TA1:13 14" in written
