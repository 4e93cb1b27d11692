"""Findings from the operating point, against calculation by hand, and where they are silent."""

from __future__ import annotations

import pytest
from review_schemes import designed, found, only

LOOP, OFF, ON, STARVED = "loop-out-of-compliance", "sensor-not-surely-off", "sensor-not-surely-on", "sensor-starved"


def _loop(route: str) -> str:
    return f"""\
scheme: Test
places:
  +C1: {{name: Cabinet}}
  +F1: {{name: Field, route: {route}}}
devices:
  -TA1: {{profile: drive_compact, at: +C1}}
  -SJ2: {{profile: push_button, contact: NC, at: +C1}}
  -BL1: {{profile: transmitter_two_wire, at: +F1}}
control:
  -TA1:
    inputs: source
    zero_volt: floating
    restart: needs_start
    enable: -SJ2
    speed:
      level: {{from: -BL1, signal: 4-20 mA, spans: 10 to 50 Hz, on_low: trip}}
"""


def _sensor(profile: str, drive: str) -> str:
    return f"""\
scheme: Test
places:
  +C1: {{name: Cabinet}}
devices:
  -TA1: {{profile: {drive}, at: +C1}}
  -SJ2: {{profile: push_button, contact: NC, at: +C1}}
  -BG1: {{profile: {profile}, at: +C1}}
control:
  -TA1:
    inputs: source
    zero_volt: floating
    restart: needs_start
    run: {{method: three-wire, start: -BG1, stop: -SJ2}}
"""


def test_a_long_loop_is_short_of_voltage() -> None:
    """By hand: 8 km of 0.75 mm2, IEC 60228 class 5 (26 ohm/km at 20 degC, x 1.1965 at 70 degC), and 250 ohm."""
    finding = only(designed(_loop("4 km")), LOOP)
    loop_ohm = 8 * 26.0 * 1.1965 + 250
    assert finding.value == pytest.approx((0.85 * 24 - 12) / loop_ohm * 1000, rel=0.01)
    assert (finding.limit, finding.unit, finding.subject) == (20.0, "mA", "-BL1")


def test_the_longest_cable_of_the_remedy_works_and_a_longer_one_does_not() -> None:
    said = only(designed(_loop("4 km")), LOOP).remedy
    longest = int(said.split(" m at")[0].split()[-1])
    assert not found(designed(_loop(f"{longest - 30} m")), LOOP)
    assert found(designed(_loop(f"{longest + 60} m")), LOOP)


def test_a_two_wire_sensor_at_an_input_of_type_1() -> None:
    """IEC 61131-2: type 1 is surely off up to 5 V, on from 15 V. By hand: 1.5 mA in 4 kohm, 20.4 V less 8 V."""
    design = designed(_sensor("proximity_two_wire", "drive_compact"))
    off, on, starved = (only(design, code) for code in (OFF, ON, STARVED))
    assert (off.value, off.limit) == (pytest.approx(6.0, abs=0.05), 5.0)
    assert (on.value, on.limit) == (pytest.approx(12.4, abs=0.1), 15.0)
    assert (starved.value, starved.limit) == (pytest.approx(3.1, abs=0.05), 5.0)
    # 5 V / (1.5 mA - 5 V / 4 kohm) = 20 kohm, in E12 18 kohm; at 28.8 V 0.046 W.
    assert "18 kohm" in off.remedy


def test_an_input_of_type_3_suffers_leakage_and_drop_but_not_too_small_a_current() -> None:
    """Type 3 of IEC 61131-2: on from 11 V, off up to 1.5 mA; the sensor still needs 5 mA."""
    design = designed(_sensor("proximity_two_wire", "drive_extended"))
    assert not found(design, OFF)
    assert not found(design, ON)
    assert only(design, STARVED).value < 5.0


@pytest.mark.parametrize("drive", ["drive_compact", "drive_extended"])
def test_a_sensor_with_three_wires_suits(drive: str) -> None:
    design = designed(_sensor("proximity_three_wire, output: PNP", drive))
    assert not any(found(design, code) for code in (OFF, ON, STARVED))


def test_a_supply_is_overloaded_only_beyond_its_limit() -> None:
    """Two lamps of 1200 ohm on a supply that gives 45 mA, and 30 mA. Source: Ohm's law."""
    assert not found(designed(_LAMPS.replace("LIMIT", "45 mA")), "supply-overloaded")
    one = only(designed(_LAMPS.replace("LIMIT", "30 mA")), "supply-overloaded")
    assert (one.subject, one.limit, one.unit) == ("-TB1:24V", 20.4, "V")
    assert one.value == pytest.approx(0.030 * 600.0, abs=0.05)


_LAMPS = """
scheme: Lamps
places: {+C1: {name: Cabinet}}
devices:
  -TB1: {profile: supply_24v, at: +C1, zero_volt: earthed, figures: {limit of 24V: LIMIT}}
  -TA1: {profile: drive_compact, at: +C1}
  -SJ1: {profile: push_button, contact: NO, at: +C1}
  -SJ2: {profile: push_button, contact: NC, at: +C1}
  -PF1: {profile: pilot_lamp, at: +C1, text: RUNS}
  -PF2: {profile: pilot_lamp, at: +C1, text: READY}
control:
  -TA1:
    inputs: source
    zero_volt: floating
    restart: needs_start
    run: {method: three-wire, start: -SJ1, stop: -SJ2}
    relays: {running: {switches: -PF1, supply: -TB1}, ready: {switches: -PF2, supply: -TB1}}
"""


@pytest.mark.parametrize(("ohm", "code"), [("140 ohm", None), ("350 ohm", LOOP), ("620 ohm", "loop-short-of-voltage")])
def test_a_loop_that_fails_at_nominal_voltage_is_an_error(ohm: str, code: str | None) -> None:
    """15 V lift-off and R at 24.0 and 20.4 V: 20 mA need 15 + 0.02 R + cable. Source: Ohm's law."""
    text = _loop("10 m").replace("-TA1: {profile: drive_compact, at: +C1}", _WITH_INPUT.replace("OHM", ohm))
    design = designed(
        text.replace("profile: transmitter_two_wire", "figures: {lift_off: 15 V}, profile: transmitter_two_wire")
    )
    told = [f for f in design.findings if f.code in (LOOP, "loop-short-of-voltage")]
    assert [f.code for f in told] == ([code] if code else [])
    assert [f.severity for f in told] == ([] if code is None else ["warning" if code == LOOP else "error"])


_WITH_INPUT = "-TA1: {profile: drive_compact, at: +C1, figures: {resistance of AI2 at 4-20 mA: OHM}}"
