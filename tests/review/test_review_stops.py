"""Stops, starts and trips: what a broken wire does decides, not the letters of a contact."""

from __future__ import annotations

from dataclasses import replace

import pytest
from review_schemes import codes, designed, drive, found, only

from wiregen.control.functions import Contact, Function, Leg, Parallel, Series
from wiregen.review.context import Context, context_of
from wiregen.review.stops import runs_only_while_held, starts_on_release
from wiregen.terms import Pin

BUTTONS = """
-SJ1: {profile: push_button, contact: NO, at: +F1, text: START}
-SJ2: {profile: push_button, contact: NC, at: +F1, text: STOP}
-BP1: {profile: contact, contact: NO, at: +F1, operated_when: pressure above 2 bar}
"""
RUN = "run: {method: three-wire, start: -SJ1, stop: -SJ2}\n"


@pytest.mark.parametrize("function", ["enable", "external_trip"])
def test_a_process_contact_may_be_open_at_rest(function: str) -> None:
    """A make contact that closes when all is healthy opens by a broken wire: no finding. Common practice, no source."""
    assert codes(designed(drive(BUTTONS, f"{RUN}{function}: -BP1\n"))) == [
        "start-beside-stop"
    ]  # a hand stops it nowhere else


@pytest.mark.parametrize("function", ["enable", "external_trip"])
@pytest.mark.parametrize("sense", ["healthy: open", "acts_on: closing"])
@pytest.mark.parametrize("form", ["NO", "NC"])
def test_what_acts_on_closing_is_lost_with_its_wire(function: str, sense: str, form: str) -> None:
    devices = BUTTONS.replace("profile: contact, contact: NO", f"profile: contact, contact: {form}")
    design = designed(drive(devices, f"{RUN}{function}: {{by: -BP1, {sense}}}\n"))
    assert codes(design, "error") == ["stop-not-by-break"]
    assert only(design, "stop-not-by-break").where == ("control", "-TA1", function)


def test_a_stop_that_acts_on_closing() -> None:
    run = "run: {method: three-wire, start: -SJ1, stop: {by: -SJ2, acts_on: closing}}\n"
    design = designed(drive(BUTTONS.replace("NC", "NO"), f"{run}enable: -BP1\n"))
    assert codes(design, "error") == ["stop-not-by-break"]


def test_a_run_that_acts_on_opening() -> None:
    design = designed(
        drive(BUTTONS, "run: {method: two-wire, forward: {by: -BP1, acts_on: opening}}\nenable: -SJ2\nreset: -SJ1\n")
    )
    assert codes(design, "error") == ["start-by-break"]


def test_a_break_contact_button_runs_until_pressed() -> None:
    design = designed(drive(BUTTONS, "run: {method: two-wire, forward: -SJ2}\nenable: -BP1\nreset: -SJ1\n"))
    assert "runs while nobody touches it" in only(design, "starts-on-release").message


def test_a_two_wire_run_by_a_process_contact_is_no_start_on_release() -> None:
    design = designed(drive(BUTTONS, "run: {method: two-wire, forward: -BP1}\nenable: -SJ2\nreset: -SJ1\n"))
    assert codes(design) == ["restart-by-setting"]


def test_a_card_input_called_stop_has_no_sense() -> None:
    """What a card's input means is up to its program, so its name says nothing of a stop."""
    devices = BUTTONS + "-TB1: {profile: supply_24v, at: +C1}\n-KE1: {profile: io_digital_in_16, at: +C1}\n"
    beside = "-KE1: {inputs: source, reads: {stop: -SJ1}}\n"
    assert codes(designed(drive(devices, "enable: -SJ2\nexternal_trip: -BP1\n", beside=beside)), "error") == []


@pytest.mark.parametrize("device", ["-SF1.11-12", "-SF1"])
def test_an_emergency_stop_on_a_plain_input(device: str) -> None:
    design = designed(drive(BUTTONS + "-SF1: {profile: emergency_stop, at: +F1}\n", f"{RUN}enable: {device}\n"))
    assert only(design, "single-channel-safety").subject == "-SF1"


def test_a_safety_relay_on_a_plain_input() -> None:
    devices = BUTTONS + "-KF1: {profile: safety_relay, at: +C1}\n"
    design = designed(drive(devices, f"{RUN}enable: -KF1.13-14\n"))
    assert only(design, "single-channel-safety").subject == "-KF1"


# Combinations of contacts, which no scheme can declare yet: the rules on hand-made circuits.


def leg(form: str, number: int) -> Leg:
    name = "-SJ1" if form == "NO" else "-SJ2"
    a, b = (f"{number}3", f"{number}4") if form == "NO" else (f"{number}1", f"{number}2")
    return Leg(Contact(name, f"{a}-{b}", "NO" if form == "NO" else "NC", a, b), Pin(name, a), Pin(name, b))


def context_with(name: str, partner: Series | Parallel, acts_on: str) -> Context:
    design = designed(drive(BUTTONS, RUN + "enable: -BP1\n"))
    function = Function(name, "-TA1", "input", (), partner, None, "control", acts_on)
    declared = replace(design.declared, functions=(function,))
    return context_of(design.scheme, declared, design.allocation, design.wiring)


def test_a_make_contact_in_series_with_break_contacts_keeps_a_stop() -> None:
    series = context_with("stop", Series((leg("NC", 1), leg("NO", 1))), "open")
    assert [n.code for n in runs_only_while_held(series)] == ["runs-only-while-held"]
    parallel = context_with("stop", Parallel((leg("NC", 1), leg("NO", 1))), "open")
    assert list(runs_only_while_held(parallel)) == []


def test_a_break_contact_in_parallel_with_a_start_keeps_it_on() -> None:
    parallel = context_with("start", Parallel((leg("NO", 1), leg("NC", 1))), "closing")
    assert [n.code for n in starts_on_release(parallel)] == ["starts-on-release"]
    series = context_with("start", Series((leg("NO", 1), leg("NC", 1))), "closing")
    assert list(starts_on_release(series)) == []


# Restart


@pytest.mark.parametrize(
    ("run", "expected"),
    [
        ("run: {method: three-wire, start: -SJ1, stop: -SJ2}", []),
        ("run: {method: three-wire, start: -SJ3, stop: -SJ2}", ["restart-by-setting"]),
        ("run: {method: three-wire, start: -KE2, stop: -SJ2}", ["restart-by-setting"]),
        ("run: {method: two-wire, forward: -SJ3}", ["restart-by-setting"]),
    ],
)
def test_commands_that_outlast_the_supply(run: str, expected: list[str]) -> None:
    devices = BUTTONS + (
        "-SJ3: {profile: selector, positions: [OFF, RUN], at: +C1}\n"
        "-TB1: {profile: supply_24v, at: +C1}\n"
        "-KE2: {profile: io_digital_out_16, at: +C1}\n"
    )
    said = {"inputs": "{wired: source, supply: -TB1}", "zero_volt": "{joined_to: -TB1}"}
    design = designed(drive(devices, run, **said))
    assert [f.code for f in design.findings if f.code.startswith("restart")] == expected
    allowed = designed(drive(devices, run, **said, restart="allowed"))
    assert not found(allowed, "restart-by-setting")
