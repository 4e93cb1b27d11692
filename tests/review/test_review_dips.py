"""A direction that a dip of the voltage loses: which commands outlive it, and which fall with the relay."""

from __future__ import annotations

import pytest
from review_schemes import codes, designed

TEXT = """\
scheme: Shuttle
places: {+C1: {}}
devices:
  -TB1: {profile: supply_24v, at: +C1}
  -TA1: {profile: drive_compact, at: +C1}
  -KF1: {profile: interposing_relay, poles: 3, at: +C1}
  -SJ1: {profile: push_button, contact: NO, at: +C1, text: START}
  -SJ2: {profile: push_button, contact: NC, at: +C1, text: STOP}
  -SJ3: {profile: selector, positions: [OFF, RUN], at: +C1}
  -BG1: {profile: limit_switch, contact: NO, at: +C1, operated_when: far}
  -BG2: {profile: limit_switch, contact: NC, at: +C1, operated_when: near}
control:
  -TA1:
    inputs: %INPUTS%
    zero_volt: {joined_to: -TB1}
    restart: %RESTART%
    %RUN%
  -KF1: {energise: %ENERGISE%, supply: -TB1}
"""
SEAL = "{all: [-BG2, {any: [-BG1, -KF1.21-24]}]}"
OWN, ONE = "source", "{wired: source, supply: -TB1}"
TWO_WIRE = "run: {method: two-wire, forward: -SJ3}\n    reverse: -KF1.11-14"
THREE_WIRE = "run: {method: three-wire, start: -SJ1, stop: -SJ2}\n    reverse: -KF1.11-14"
BOTH = "run: {method: two-wire, forward: {all: [-SJ3, -KF1.31-32]}, reverse: {all: [-SJ3, -KF1.11-14]}, both: stop}"
LATCH = "run: {method: three-wire, start: %START%, start_reverse: %BACK%, stop: -SJ2}"


def lost(run: str, inputs: str = ONE, energise: str = SEAL, restart: str = "allowed") -> bool:
    text = TEXT.replace("%INPUTS%", inputs).replace("%RESTART%", restart).replace("%RUN%", run)
    return "direction-lost-in-dip" in codes(designed(text.replace("%ENERGISE%", energise)))


@pytest.mark.parametrize(
    ("run", "inputs", "told"),
    [
        (TWO_WIRE, ONE, True),
        (TWO_WIRE, OWN, True),
        (BOTH, ONE, True),  # the break contact of the relay closes the other direction
        (THREE_WIRE, ONE, False),  # the stop falls with the relay
        (THREE_WIRE, OWN, True),  # the drive's own 24 V knows of no dip of -TB1
    ],
)
def test_what_the_seal_in_of_a_direction_leaves_behind(run: str, inputs: str, told: bool) -> None:
    assert lost(run, inputs) is told


@pytest.mark.parametrize("energise", ["-BG1", "-SJ3", "{all: [-BG2, -SJ3]}"])
def test_a_relay_that_holds_nothing_loses_nothing(energise: str) -> None:
    assert not lost(TWO_WIRE, energise=energise)


@pytest.mark.parametrize(
    ("start", "back", "restart", "told"),
    [
        ("-SJ3", "-SJ1", "allowed", True),
        ("-SJ3", "-SJ1", "needs_start", False),  # taken by its edge
        ("-SJ1", "-BG1", "allowed", False),  # nothing stays closed
        ("-SJ3", "-BG1", "allowed", False),
    ],
)
def test_three_wire_reversing_with_a_start_that_stays_closed(start: str, back: str, restart: str, told: bool) -> None:
    run = LATCH.replace("%START%", start).replace("%BACK%", back)
    assert lost(run, energise="-BG2", restart=restart) is told
