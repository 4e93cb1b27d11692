"""Contacts: what marks a device's contacts carry, and how a scheme names one.

Marks: EN 50005, from memory (1-2 break, 3-4 make, 1-2-4 changeover; the first digit counts the contacts).
"""

from __future__ import annotations

import pytest
from control_schemes import at_drive, declared, function, notices

from wiregen.control.functions import Leg, Sensor
from wiregen.profiles.model import Profile
from wiregen.terms import Pin

#: Device as declared -> its contacts by name and form.
CONTACTS = [
    ("profile: push_button, contact: NO", [("13-14", "NO")]),
    ("profile: push_button, contact: NC", [("11-12", "NC")]),
    ("profile: push_button", [("13-14", "NO")]),
    ("profile: contact, contact: changeover", [("11-14", "NO"), ("11-12", "NC")]),
    ("profile: push_button, contacts: [NC, NO, NC]", [("11-12", "NC"), ("23-24", "NO"), ("31-32", "NC")]),
    ("profile: limit_switch, contacts: [changeover, NO]", [("11-14", "NO"), ("11-12", "NC"), ("23-24", "NO")]),
    ("profile: emergency_stop", [("11-12", "NC"), ("21-22", "NC")]),
    ("profile: interposing_relay", [("11-14", "NO"), ("11-12", "NC")]),
    ("profile: interposing_relay, poles: 2", [("11-14", "NO"), ("11-12", "NC"), ("21-24", "NO"), ("21-22", "NC")]),
    ("profile: contactor", [("13-14", "NO"), ("21-22", "NC")]),
    ("profile: selector, positions: [A, B]", [("13-14", "NO")]),
    ("profile: selector, positions: [A, B, C]", [("13-14", "NO"), ("23-24", "NO")]),
    ("profile: safety_relay", [("13-14", "NO"), ("23-24", "NO"), ("31-32", "NC")]),
    ("profile: pilot_lamp", []),
]


@pytest.mark.parametrize(("said", "contacts"), CONTACTS)
def test_marks(said: str, contacts: list[tuple[str, str]]) -> None:
    found = declared(f"-D1: {{{said}, at: +C1}}", "{}")
    (device,) = found.devices
    assert [(c.name, c.form) for c in device.contacts] == contacts
    assert {p for c in device.contacts for p in (c.a, c.b)} <= set(device.pins)


def test_halves_of_a_changeover_are_one_element() -> None:
    found = declared("-D1: {profile: interposing_relay, poles: 2, at: +C1}", "{}")
    assert [c.element for c in found.devices[0].contacts] == [0, 0, 1, 1]


DEVICES = """
-SJ1: {profile: selector, positions: [LEFT, MID, RIGHT], at: +C1}
-SJ2: {profile: push_button, contacts: [NC, NO], at: +C1}
-SJ3: {profile: selector, positions: [LEFT, MID, RIGHT], contact_per_position: yes, at: +C1}
-KF1: {profile: interposing_relay, at: +C1}
-KF1.2: {profile: interposing_relay, at: +C1}
-SF1: {profile: emergency_stop, at: +C1}
-PF1: {profile: pilot_lamp, at: +C1}
"""


@pytest.mark.parametrize(
    ("name", "pins"),
    [
        ("-SJ1@LEFT", ("13", "14")),
        ("-SJ1@RIGHT", ("23", "24")),
        ("-SJ3@MID", ("23", "24")),
        ("-SJ3@MID.1", ("23", "24")),
        ("-SJ2.11-12", ("11", "12")),
        ("-SJ2.23-24", ("23", "24")),
        ("-KF1.11-14", ("11", "14")),
        ("-KF1.2.11-12", ("11", "12")),
        ("-SF1", ("11", "12")),
        ("-SF1.21-22", ("21", "22")),
    ],
)
def test_named_contacts(name: str, pins: tuple[str, str]) -> None:
    found = at_drive(DEVICES, f"enable: {name}")
    partner = function(found, "enable").partner
    assert isinstance(partner, Leg)
    assert (partner.a.name, partner.b.name) == pins
    assert name.startswith(partner.a.device)


@pytest.mark.parametrize(
    ("name", "code", "says"),
    [
        ("-SJ1@LEFTT", "position-unknown", "did you mean LEFT"),
        ("-SJ1@MID", "position-unknown", "contact_per_position: yes"),
        ("-SJ3@MID.2", "position-unknown", "has 1 contact closed in MID, not 2"),
        ("-SJ2", "contact-unclear", "name one, as in -SJ2.11-12"),
        ("-SJ1", "contact-unclear", "name one, as in -SJ1@LEFT"),
        ("-SJ2.13-14", "contact-unknown", "it has 11-12, 23-24"),
        ("-PF1", "contact-unknown", "has no contact"),
        ("-TB1", "contact-unknown", "has no contact"),
        ("-TA1.13-14", "contact-unknown", "has no contact"),
    ],
)
def test_contact_that_is_not_there(name: str, code: str, says: str) -> None:
    found = at_drive(DEVICES, f"enable: {name}")
    assert says in notices(found)[code]
    assert found.functions == ()


@pytest.mark.parametrize(
    ("said", "polarity", "output"),
    [
        ("proximity_three_wire, output: PNP", "source", Pin("-BG1", "4")),
        ("proximity_three_wire, output: NPN", "sink", Pin("-BG1", "4")),
        ("proximity_three_wire", "source", Pin("-BG1", "4")),
        ("proximity_two_wire", None, None),
    ],
)
def test_sensors(said: str, polarity: str | None, output: Pin | None) -> None:
    """PNP switches +, NPN switches 0 V; a two-wire one fits both (IEC 60947-5-2, from memory)."""
    found = at_drive(f"-BG1: {{profile: {said}, at: +F1}}", "enable: -BG1")
    made = function(found, "enable")
    assert isinstance(made.partner, Sensor)
    assert (made.partner.output, made.ends[0].polarity) == (output, polarity)


@pytest.mark.parametrize(
    ("marks", "contacts"),
    [
        ([{"NC": ["1", "2"]}], ["1-2"]),
        ([{"changeover": ["1", "2", "4"]}], ["1-4", "1-2"]),
        ([{"changeover": ["1", "2", "4"]}, {"NO": ["3", "5"]}], ["1-4", "1-2"]),
    ],
)
def test_profiles_of_others_with_other_marks(marks: list[dict[str, list[str]]], contacts: list[str]) -> None:
    profile = Profile.model_validate({"profile": "other", "title": "Other", "device": "contact", "marks": marks})
    found = declared("-D1: {profile: other, at: +C1}", "{}", more={"other": profile})
    assert [c.name for c in found.devices[0].contacts] == contacts


def test_selector_whose_marks_are_changeovers_has_no_make_contact() -> None:
    marks = [{"changeover": ["1", "2", "4"]}, {"changeover": ["5", "6", "8"]}]
    profile = Profile.model_validate({"profile": "other", "title": "Other", "device": "selector", "marks": marks})
    found = declared("-D1: {profile: other, positions: [A, B], at: +C1}", "{}", more={"other": profile})
    assert found.devices[0].contacts == ()
