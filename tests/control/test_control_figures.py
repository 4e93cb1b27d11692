"""What a scheme states of one device goes over its profile, in every room that asks, and for that device only."""

from __future__ import annotations

import pytest

from tests.control.control_schemes import at_drive, declared
from wiregen.allocation import allocate
from wiregen.allocation.intake import problem_of
from wiregen.control.functions import Declared
from wiregen.control.loads import load_current_a
from wiregen.pipeline import design
from wiregen.profiles import load
from wiregen.profiles.figures import BASIS
from wiregen.profiles.model import Figure
from wiregen.scheme import read_text

SUPPLY = "-TB1: {profile: supply_24v, at: +C1}\n"


def _devices(text: str) -> Declared:
    return declared(SUPPLY + text, "-TB1: {zero_volt: earthed}")


def test_one_device_has_the_figure_and_its_twin_that_of_the_profile() -> None:
    found = _devices(
        "-BS1: {profile: proximity_two_wire, at: +F1, figures: {drop: 5 V}}\n"
        "-BS2: {profile: proximity_two_wire, at: +F1}"
    )
    assert found.device("-BS1").figure("drop") == 5.0
    assert found.device("-BS1").figure("leakage") == 0.0015
    assert found.device("-BS2").figure("drop") == 8.0
    assert found.device("-BS1").figure("lift_off") is None
    assert found.device("-BS1").profile.figures["drop"] == Figure(value="5 V", basis=BASIS)


def test_a_key_of_its_own_says_the_figure_too() -> None:
    found = _devices(
        "-RA1: {profile: potentiometer, at: +C1, resistance: 10 kohm}\n-FC1: {profile: fuse, at: +C1, rating: 4 A}\n"
        "-TC1: {profile: control_transformer, at: +C1, power: 160 VA}"
    )
    assert found.device("-RA1").figure("resistance") == 10e3
    assert found.device("-FC1").figure("rating") == 4.0
    assert found.device("-TC1").figure("power") == 160.0


def test_what_is_said_of_a_terminal_goes_over_what_is_said_of_its_group() -> None:
    figures = "{resistance of DI2: 5 kohm, resistance of group 1: 3 kohm, resistance of AI2 at 4-20 mA: 100 ohm}"
    found = _devices(f"-TA1: {{profile: drive_compact, at: +C1, figures: {figures}}}")
    terminals = {t.label: t for t in found.device("-TA1").profile.terminals}
    given = {label: terminals[label].resistance for label in ("DI1", "DI2", "DI6", "AI1", "AI2")}
    assert isinstance(given["AI2"], dict)
    assert isinstance(given["AI1"], dict)
    assert {k: f.si for k, f in given.items() if isinstance(f, Figure)} == {"DI1": 3e3, "DI2": 5e3, "DI6": 3e3}
    assert {k: f.si for k, f in given["AI2"].items()} == {"0-10 V": 30e3, "0-20 mA": 250.0, "4-20 mA": 100.0}
    assert given["AI1"]["0-10 V"].si == 30e3


@pytest.mark.parametrize(
    ("device", "current_a"),
    [
        ("{profile: pilot_lamp, at: +C1}", 0.02),
        ("{profile: pilot_lamp, at: +C1, figures: {current: 35 mA}}", 0.035),
        ("{profile: pilot_lamp, at: +C1, figures: {power: 1.2 W}}", 0.05),
        # Stated of a lamp for another voltage, it is what this lamp takes there.
        ("{profile: pilot_lamp, at: +C1, voltage: 120 V AC, figures: {current: 35 mA}}", 0.035),
        ("{profile: pilot_lamp, at: +C1, voltage: 120 V AC}", 0.004),
        ("{profile: interposing_relay, at: +C1, figures: {power: 2.4 W}}", 0.1),
        ("{profile: interposing_relay, at: +C1, coil: 48 V, figures: {power: 2.4 W}}", 0.05),
        ("{profile: interposing_relay, at: +C1, figures: {current: 12 mA}}", 0.012),
    ],
)
def test_what_a_load_takes(device: str, current_a: float) -> None:
    assert load_current_a(_devices(f"-XX1: {device}").device("-XX1")) == pytest.approx(current_a)


@pytest.mark.parametrize(("figures", "fits"), [("", False), (", figures: {DC-13 of 21: 2 A 24 V}", True)])
def test_allocation_takes_the_rating_that_is_stated(figures: str, fits: bool) -> None:
    """A valve of 0.33 A (8 W at 24 V) is too much for the profile's relay, DC-13 0.3 A."""
    plant = f"-TB1: {{profile: supply_24v, at: +C1}}\n-TA1: {{profile: drive_compact, at: +C1{figures}}}\n"
    valve = "-MB1: {profile: solenoid_valve, at: +C1}"
    found = at_drive(valve, "relays: {running: {switches: -MB1, supply: -TB1}}", plant=plant)
    text = (
        f"scheme: Test\nplaces: {{+C1: {{}}}}\ndevices:\n  -TB1: {{profile: supply_24v, at: +C1}}\n"
        f"  -TA1: {{profile: drive_compact, at: +C1{figures}}}\n  {valve}\n"
        "control: {-TA1: {relays: {running: {switches: -MB1, supply: -TB1}}}}\n"
    )
    allocation = allocate(problem_of(read_text(text, "s.yaml", profiles=load()), found))
    assert (allocation.unplaced == ()) is fits


@pytest.mark.parametrize(("figures", "trips"), [("", True), (", figures: {limit of 24V: 2 A}", False)])
def test_a_fuse_is_held_against_what_its_supply_is_said_to_give(figures: str, trips: bool) -> None:
    """IEC 60127 fuses of 2 A need more than the 2 A of a small supply, and less than the profile's 5 A."""
    text = (
        f"scheme: Test\nplaces: {{+C1: {{}}, +F1: {{route: 5 m}}}}\ndevices:\n"
        f"  -TB1: {{profile: supply_24v, at: +C1, fuse: -FC1{figures}}}\n"
        "  -FC1: {profile: fuse, at: +C1, rating: 2 A}\n  -SJ1: {profile: push_button, at: +F1}\n"
        "  -KE1: {profile: io_digital_in_16, at: +C1}\ncontrol: {-KE1: {inputs: source, reads: {a: -SJ1}}}\n"
    )
    codes = {f.code for f in design(read_text(text, "s.yaml", profiles=load())).findings}
    assert ("protection-cannot-trip" not in codes) is trips
