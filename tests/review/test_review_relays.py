"""Relays: seal-ins against a restart, coils and contacts that lead nowhere, the order of contacts. Common practice, no
source, where nothing else is said.
"""

from __future__ import annotations

import pytest
from review_schemes import codes, designed, drive, found, only

from wiregen.pipeline import Design

DEVICES = """
-TB1: {profile: supply_24v, at: +C1}
-KF1: {profile: interposing_relay, poles: 2, at: +C1}
-KF2: {profile: interposing_relay, poles: 2, at: +C1}
-SJ1: {profile: push_button, contact: NO, at: +C1}
-SJ2: {profile: push_button, contact: NC, at: +C1}
-SJ3: {profile: selector, positions: [OFF, RUN], at: +C1}
"""
LEVEL = """
profile: drive_by_level
title: Drive that takes its commands by level
controller: drive
terminals:
  - {label: 24V, role: supply_out, volts: 24 V}
  - {label: COM, role: zero}
  - {label: DI1, role: digital_in, group: group 1, common: COM, accepts: [contact], polarities: [source, sink]}
  - {label: DI2, role: digital_in, group: group 1, common: COM, accepts: [contact], polarities: [source, sink]}
  - {label: "13", role: relay, form: NO, pins: ["13", "14"]}
start_by: level
"""
SEAL = "{all: [-SJ2, {any: [-SJ1, -KF1.21-24]}]}"
RUN = "run: {method: two-wire, forward: -KF1.11-14}\n"


def sealed(energise: str, *, level: bool = False, relays: str = "", more: str = "") -> Design:
    profile = "drive_by_level" if level else "drive_compact"
    beside = f"-KF1: {{energise: {energise}, supply: -TB1}}\n{more}"
    text = drive(DEVICES, RUN + relays, profile=profile, beside=beside)
    return designed(text, LEVEL if level else "")


def test_a_seal_in_enforces_a_new_start_after_the_supply_but_not_after_a_trip() -> None:
    edge, level = sealed(SEAL), sealed(SEAL, level=True)
    assert "holds it through a trip" in only(edge, "restart-by-setting").message
    assert only(edge, "restart-by-setting").severity == "note"
    assert "when the trip is reset" in only(level, "restart-not-enforced").message
    assert only(level, "restart-not-enforced").severity == "error"


def test_a_seal_in_that_the_drive_itself_lets_go_enforces_both() -> None:
    held = "{all: [-SJ2, {any: [-SJ1, {all: [-KF1.21-24, -KF2.11-14]}]}]}"
    design = sealed(held, level=True, relays="relays:\n  running: {switches: -KF2, supply: -TB1}\n")
    assert not {"restart-by-setting", "restart-not-enforced"} & set(codes(design))


@pytest.mark.parametrize("energise", ["-SJ3", "{any: [-SJ3, -KF1.21-24]}", "{all: [-SJ2, {any: [-SJ3, -KF1.21-24]}]}"])
def test_a_relay_that_comes_back_by_itself_enforces_nothing(energise: str) -> None:
    """A selector still stands in RUN when the supply returns, whatever holds the relay."""
    assert (
        "the motor restarts when the supply returns"
        in only(sealed(energise, level=True), "restart-not-enforced").message
    )


def test_a_seal_in_over_a_second_relay() -> None:
    """Two relays that hold one another in: neither is in after the supply was gone."""
    more = "-KF2: {energise: {all: [-SJ2, {any: [-SJ1, -KF1.21-24]}]}, supply: -TB1}\n"
    design = sealed("{any: [-SJ1, -KF2.11-14]}", more=more)
    assert "holds it through a trip" in only(design, "restart-by-setting").message


def test_coils_and_contacts_that_lead_nowhere() -> None:
    nothing = designed(drive(DEVICES, "enable: -KF1.11-14\n"))
    assert only(nothing, "coil-not-energised").subject == "-KF1"
    idle = designed(drive(DEVICES, "enable: -SJ2\n", beside="-KF1: {energise: -SJ1, supply: -TB1}\n"))
    assert only(idle, "relay-without-effect").subject == "-KF1"
    holding = designed(
        drive(DEVICES, "enable: -SJ2\n", beside="-KF1: {energise: {any: [-SJ1, -KF1.11-14]}, supply: -TB1}\n")
    )
    assert only(holding, "relay-without-effect").subject == "-KF1", "holding itself in is no effect"


def test_two_circuits_that_drive_one_coil() -> None:
    control = "enable: -KF1\nrelays:\n  running: {switches: -KF1, supply: -TB1}\n"
    design = designed(drive(DEVICES, control, beside="-KF1: {energise: -SJ1, supply: -TB1}\n"))
    assert "-KF1 is driven by" in only(design, "two-sources-joined").message


ORDER = """
-SJ1: {profile: push_button, contact: NC, at: +F1}
-SJ2: {profile: push_button, contact: NC, at: +C1}
-SJ3: {profile: push_button, contact: NC, at: +F1}
-SJ4: {profile: push_button, contact: NC, at: +F1}
"""


def cores(design: Design) -> int:
    return sum(c.kind == "core" and c.b is not None for c in design.wiring.conductors)


@pytest.mark.parametrize(
    ("declared", "better"),
    [
        ("{all: [-SJ1, -SJ2, -SJ3]}", "{all: [-SJ2, -SJ1, -SJ3]}"),
        ("{all: [-SJ1, -SJ2, -SJ3, -SJ4]}", "{all: [-SJ2, -SJ1, -SJ3, -SJ4]}"),
        ("{all: [-SJ1, -SJ2, {any: [-SJ3, -SJ4]}]}", "{all: [-SJ2, -SJ1, {any: [-SJ3, -SJ4]}]}"),
    ],
)
def test_another_order_saves_the_cores_that_it_is_said_to_save(declared: str, better: str) -> None:
    """Against the wiring of both orders."""
    first, second = (designed(drive(ORDER, f"enable: {use}\n")) for use in (declared, better))
    note = only(first, "contact-order")
    assert note.severity == "note"
    assert (note.value, note.limit) == (4, 2), "feed, out, in again and signal; else feed and signal"
    assert cores(first) - cores(second) == 2
    assert not found(second, "contact-order")


def test_an_order_that_costs_nothing_is_passed_over() -> None:
    """The feed is in the field already for another function, so the field contact may as well come first."""
    text = drive(ORDER, "enable: {all: [-SJ1, -SJ2]}\nexternal_trip: -SJ3\nreset: -SJ4\n")
    assert not found(designed(text), "contact-order")
