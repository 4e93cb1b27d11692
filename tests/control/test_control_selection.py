"""Selection: contacts to digits, positions to codes, references.

Which contact is closed in which position is the format's; worked by hand.
"""

from __future__ import annotations

import pytest
from control_schemes import at_drive, function, notices

from wiregen.control.functions import Declared, Leg

SPEED = "speed: {a: {preset: 10 Hz}, b: {preset: 20 Hz}, c: {preset: 30 Hz}, d: {preset: 40 Hz}}\n"

#: Devices, `select`, the rows that come out, and the contact of each digit.
TABLE = [
    (
        "-SJ1: {profile: selector, positions: [HAND, AUTO], at: +C1}",
        "{by: [-SJ1], when: {HAND: a, AUTO: b}}",
        [("0", "a"), ("1", "b")],
        ["13-14"],
    ),
    (
        "-SJ1: {profile: selector, positions: [HAND, OFF, AUTO], at: +C1}",
        "{by: -SJ1, when: {HAND: a, OFF: b, AUTO: c}}",
        [("10", "a"), ("00", "b"), ("01", "c")],
        ["13-14", "23-24"],
    ),
    (
        "-SJ1: {profile: selector, positions: [A, B, C], contact_per_position: yes, at: +C1}",
        "{by: [-SJ1], when: {A: a, B: b, C: c, 000: d}}",
        [("100", "a"), ("010", "b"), ("001", "c"), ("000", "d")],
        ["13-14", "23-24", "33-34"],
    ),
    (
        "-SJ1: {profile: selector, positions: [A, B, C, D], at: +C1}",
        "{by: [-SJ1], when: {A: a, D: d}}",
        [("1000", "a"), ("0001", "d")],
        ["13-14", "23-24", "33-34", "43-44"],
    ),
    (
        "-SJ1: {profile: selector, positions: [HAND, AUTO], at: +C1}\n"
        "-SJ2: {profile: push_button, contact: NC, at: +C1}",
        "{by: [-SJ1, -SJ2], when: {0x: a, 10: b, 11: c}}",
        [("0x", "a"), ("10", "b"), ("11", "c")],
        ["13-14", "11-12"],
    ),
    (
        "-SJ1: {profile: selector, positions: [HAND, OFF, AUTO], at: +C1}",
        "{by: [-SJ1@AUTO], when: {AUTO: a, OFF: b}}",
        [("1", "a"), ("0", "b")],
        ["23-24"],
    ),
    (
        "-SJ1: {profile: selector, at: +C1}",
        "{by: [-SJ1], when: {0: a, 1: b}}",
        [("0", "a"), ("1", "b")],
        ["13-14"],
    ),
]


@pytest.mark.parametrize(("devices", "select", "rows", "contacts"), TABLE)
def test_positions_become_digits(devices: str, select: str, rows: list[tuple[str, str]], contacts: list[str]) -> None:
    found = at_drive(devices, f"{SPEED}select: {select}")
    (info,) = found.selections
    assert list(info.rows) == rows
    assert contacts_of(found, len(contacts)) == contacts
    assert notices(found) == {}


def test_an_input_that_acts_on_opening_turns_its_digit() -> None:
    """The selector's contact is closed in its second position, and the drive takes the open input as 1."""
    found = at_drive(
        "-SJ1: {profile: selector, positions: [HAND, AUTO], at: +C1}",
        f"{SPEED}select: {{by: [{{by: -SJ1, acts_on: opening}}], when: {{HAND: a, AUTO: b}}}}",
    )
    (info,) = found.selections
    assert list(info.rows) == [("1", "a"), ("0", "b")]
    assert info.turn("0") == "1"
    assert function(found, "select 1").acts_on == "open"


def contacts_of(found: Declared, count: int) -> list[str]:
    """The contact of each function `select N`."""
    partners = [function(found, f"select {n}").partner for n in range(1, count + 1)]
    assert all(isinstance(p, Leg) for p in partners)
    return [p.contact.name for p in partners if isinstance(p, Leg)]


def test_keys_are_kept_as_written() -> None:
    found = at_drive(TABLE[1][0], f"{SPEED}select: {TABLE[1][1]}")
    (info,) = found.selections
    assert (info.keys, info.by_position) == (("HAND", "OFF", "AUTO"), True)


def test_codes_of_two_devices_are_digits() -> None:
    found = at_drive(TABLE[4][0], f"{SPEED}select: {TABLE[4][1]}")
    (info,) = found.selections
    assert (info.contacts, info.by_position) == (("-SJ1", "-SJ2"), False)


def test_an_output_selects() -> None:
    """Each time a card is named it gives one digit, on an output of its own."""
    found = at_drive(
        "-KE1: {profile: io_digital_out_16, at: +C1}", f"{SPEED}select: {{by: [-KE1, -KE1], when: {{00: a, 11: b}}}}"
    )
    ends = [function(found, name).ends[1] for name in ("select 1", "select 2")]
    assert [e.function for e in ends] == ["select 1 of -TA1", "select 2 of -TA1"]


def test_what_is_wrong_is_told_once() -> None:
    found = at_drive("-PF1: {profile: pilot_lamp, at: +C1}", f"{SPEED}select: {{by: [-PF1], when: {{0: a}}}}")
    assert [n.code for n in found.notices] == ["contact-unknown"]


def test_references() -> None:
    found = at_drive(
        "-RA1: {profile: potentiometer, at: +C1}\n-BL1: {profile: transmitter_two_wire, at: +F1}",
        """
        speed:
          hand: {from: -RA1, signal: 0-10 V, spans: 0 to 50 Hz}
          auto: {from: -BL1, signal: 4-20 mA, spans: 15 to 50 Hz, on_loss: trip}
          night: {preset: 22 Hz}
          back: {from: -RA1, signal: 0-10 V, spans: 50 to 0 Hz}
        """,
    )
    ((drive, infos),) = found.references
    assert drive == "-TA1"
    assert [(i.name, i.kind, i.low_hz, i.high_hz, i.preset_hz) for i in infos] == [
        ("hand", "wired", 0.0, 50.0, None),
        ("auto", "wired", 15.0, 50.0, None),
        ("night", "preset", None, None, 22.0),
        ("back", "wired", 50.0, 0.0, None),
    ]
    assert [(i.on_low, i.on_high, i.inverse) for i in infos] == [
        ("", "", False),
        ("trip", "trip", False),
        ("", "", False),
        ("", "", True),
    ]
    assert "reference night" not in {f.name for f in found.functions}, "a preset takes no terminal"
    assert (
        function(found, "reference auto").setting
        == "set 4-20 mA, spans 15 to 50 Hz, signal low: trip, signal high: trip"
    )
