"""Profiles of others, whose terminals leave out what ours have: what cannot be wired is said, and nothing breaks.

Source of the expectations: worked by hand.
"""

from __future__ import annotations

from typing import Any

import pytest

from wiregen import pipeline, profiles
from wiregen.profiles.model import Profile
from wiregen.scheme import read_text
from wiregen.wiring.model import Wiring

DIGITAL_IN = {"role": "digital_in", "group": "all", "accepts": ["contact"], "polarities": ["source", "sink"]}


def profile(name: str, kind: str, *terminals: dict[str, Any]) -> Profile:
    return Profile.model_validate({"profile": name, "title": "Other", "controller": kind, "terminals": list(terminals)})


OTHERS = {
    p.profile: p
    for p in (
        profile("bare_in", "card", {"label": "E1", **DIGITAL_IN}),
        profile(
            "bare_out",
            "card",
            {"label": "A1", "role": "digital_out", "form": "transistor", "feed": "P", "polarities": ["source"]},
            {"label": "P", "role": "supply_in"},
        ),
        profile("bare_analog_in", "card", {"label": "E1", "role": "analog_in", "accepts": ["4-20 mA", "0-10 V"]}),
        profile("bare_analog_out", "card", {"label": "A1", "role": "analog_out", "gives": ["4-20 mA"]}),
        profile(
            "earthed_drive",
            "drive",
            {"label": "PE", "role": "earth"},
            {"label": "P", "role": "supply_out"},
            {"label": "M", "role": "zero"},
            {"label": "E1", **DIGITAL_IN},
        ),
    )
}
PLANT = """\
scheme: Other profiles
places: {+C1: {name: Cabinet}, +F1: {route: 5 m}}
devices:
  -TB1: {profile: supply_24v, at: +C1}
  -TA1: {profile: drive_extended, at: +C1}
  -D1: {profile: PROFILE, at: +C1}
  -SJ1: {profile: push_button, contact: NC, at: +F1}
  -BP1: {profile: transmitter_two_wire, at: +F1}
  -PF1: {profile: pilot_lamp, at: +F1}
  -PG1: {profile: panel_meter, at: +C1}
  -RA1: {profile: potentiometer, at: +C1}
control:
"""


def wired(name: str, section: str, drive: str = "") -> tuple[set[str], Wiring]:
    """The codes that are noticed, and the wiring, of a plant in which -D1 has the profile ``name``."""
    said = f"  -TA1: {{inputs: source, zero_volt: {{joined_to: -TB1}}{drive}}}\n"
    text = PLANT.replace("PROFILE", name) + said + (f"  -D1: {section}\n" if section else "")
    scheme = read_text(text, "s.yaml", profiles={**profiles.load(), **OTHERS})
    design = pipeline.design(scheme)
    assert design.allocation.status == "optimal"
    return {n.code for n in (*design.declared.notices, *design.wiring.notices)}, design.wiring


@pytest.mark.parametrize(
    ("name", "section", "drive", "codes"),
    [
        ("bare_in", "{inputs: source, reads: {x: -SJ1}}", "", {"return-missing"}),
        ("bare_in", "{inputs: sink, reads: {x: -SJ1}}", "", {"return-missing"}),
        ("bare_in", "{inputs: source}", ", relays: {running: -D1}", {"return-missing"}),
        (
            "bare_in",
            "{inputs: source}",
            ", relays: {running: {switches: -D1, contact: transistor}}",
            {"return-missing"},
        ),
        ("bare_out", "{operates: {x: -PF1}}", "", {"return-missing"}),
        ("bare_out", "", ", enable: -D1", {"return-missing"}),
        ("bare_analog_in", "{reads: {x: -BP1}}", "", {"return-missing"}),
        ("bare_analog_in", "{reads: {x: -RA1}}", "", {"return-missing", "reference-supply-missing"}),
        ("bare_analog_in", "", ", shows: {speed: {on: -D1, signal: 4-20 mA}}", {"return-missing"}),
        ("bare_analog_out", "{shows: {x: -PG1}}", "", {"return-missing"}),
        ("bare_analog_out", "", ", speed: {auto: {from: -D1, signal: 4-20 mA}}", {"return-missing"}),
        ("earthed_drive", "{inputs: sink, zero_volt: floating, enable: -SJ1}", "", set()),
    ],
)
def test_what_cannot_return_is_said(name: str, section: str, drive: str, codes: set[str]) -> None:
    found, _ = wired(name, section, drive)
    assert found == codes


def test_earth_terminal_of_a_controller_is_earthed() -> None:
    _, wiring = wired("earthed_drive", "{inputs: sink, zero_volt: floating, enable: -SJ1}")
    earth = next(p for p in wiring.potentials if p.kind == "earth")
    assert {"-D1:PE", "-TB1:PE"} <= {str(p) for p in earth.pins}
    strips = [t.name for t in wiring.strips[0].terminals if t.name.startswith("PE")]
    assert strips == ["PE", "PE2"], "a clamp each"
