"""What allocation is told of a channel: what its contact carries, and whether it is kept free.

Ratings: the profiles' own; utilisation category DC-13 is that of coils on direct current (IEC 60947-5-1, from memory).
"""

from __future__ import annotations

import pytest

from wiregen import profiles
from wiregen.allocation import allocate
from wiregen.allocation.intake import channels_of, problem_of
from wiregen.allocation.model import Channel
from wiregen.control import interpret
from wiregen.profiles.model import Profile
from wiregen.scheme import Scheme, read_text

PLANT = """\
scheme: Ratings
places: {+C1: {}}
devices:
  -D1: {profile: PROFILE, at: +C1}
  -TB1: {profile: supply_24v, at: +C1}
  -MB1: {profile: solenoid_valve, at: +C1}
"""


def plant(profile: str, rest: str = "") -> Scheme:
    return read_text(f"{PLANT.replace('PROFILE', profile)}{rest}\n", "s.yaml", profiles=profiles.load())


def channels(scheme: Scheme) -> dict[str, Channel]:
    """The channels of -D1 by name."""
    return {c.name: c for c in channels_of(scheme, interpret(scheme).device("-D1"))}


@pytest.mark.parametrize(
    ("profile", "channel", "limit_a"),
    [
        ("drive_compact", "21", 0.3),
        ("drive_extended", "11", 1.0),
        ("drive_extended", "DO1", 0.05),
        ("io_digital_out_16", "DO1", 0.5),
        ("io_relay_out_8", "13", 1.0),
        ("io_digital_in_16", "DI1", None),
    ],
)
def test_what_an_output_carries(profile: str, channel: str, limit_a: float | None) -> None:
    assert channels(plant(profile))[channel].limit_a == limit_a


@pytest.mark.parametrize(
    ("rating", "limit_a"),
    [("0.2 A 24 V", 0.2), ("0.2 A 48 V", 0.2), ("2 A 12 V", None), ("some A 24 V", None)],
)
def test_rating_at_another_voltage(rating: str, limit_a: float | None) -> None:
    terminal = {"label": "13", "role": "relay", "form": "NO", "pins": ["13", "14"], "rating": {"DC-13": rating}}
    profile = Profile.model_validate(
        {"profile": "other", "title": "Other", "controller": "card", "terminals": [terminal]}
    )
    known = {**profiles.load(), "other": profile}
    assert channels(read_text(PLANT.replace("PROFILE", "other"), "s.yaml", profiles=known))["13"].limit_a == limit_a


def test_a_valve_is_too_much_for_the_relay_of_a_small_drive() -> None:
    """8 W at 24 V are 0.33 A; the contact carries 0.3 A."""
    scheme = plant("drive_compact", "control: {-D1: {inputs: source, relays: {running: -MB1}}}")
    allocation = allocate(problem_of(scheme, interpret(scheme)))
    assert allocation.status == "infeasible"
    assert "0.3 A" in allocation.conflicts[0].says


@pytest.mark.parametrize("pin", ["21", "22", "24"])
def test_any_pin_keeps_its_terminal_free(pin: str) -> None:
    found = channels(plant("drive_compact", f"fixed: {{-D1: {{{pin}: {{keep_free: burnt}}}}}}"))
    assert (found["21"].keep_free, found["13"].keep_free) == ("burnt", None)
