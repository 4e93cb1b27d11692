"""The sheets of a safety chain: the relay's own page, its stub at the drive, what a link says in print."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

import wiregen
from wiregen import drawing, pipeline, profiles
from wiregen.drawing import overlaps
from wiregen.drawing.sheet_set import Sheet
from wiregen.drawing.symbols import get
from wiregen.scheme import read_text

EXAMPLES = Path(__file__).parents[2] / "examples"


DRIVEN = "safe_torque_off: {by: -KF10, channels: two}"


@cache
def sheets(practice: str = "iec", torque_off: str = DRIVEN) -> dict[str, Sheet]:
    """The sheets of the dough mixer by their titles."""
    text = (EXAMPLES / "dough_mixer.yaml").read_text(encoding="utf-8")
    assert DRIVEN in text
    text = text.replace("practice: iec", f"practice: {practice}").replace(DRIVEN, torque_off)
    design = pipeline.design(read_text(text, "mixer.yaml", profiles=profiles.load()))
    return {s.title: s for s in drawing.draw(design).sheets}


def words(sheet: Sheet) -> list[str]:
    return re.findall(r"<text[^>]*>([^<]*)</text>", sheet.svg.decode())


def pins(sheet: Sheet) -> dict[str, tuple[float, float]]:
    found = re.findall(r'<circle[^>]*class="pin"[^>]*>', sheet.svg.decode())
    return {
        name: (float(x), float(y))
        for circle in found
        for name in re.findall(r'data-pin="([^"]*)"', circle)
        for x in re.findall(r'cx="([^"]*)"', circle)
        for y in re.findall(r'cy="([^"]*)"', circle)
    }


def test_the_relay_has_a_page_with_its_terminals_in_physical_order() -> None:
    sheet = sheets()["Terminal diagram of -KF10"]
    at = pins(sheet)
    order = ["A1", "A2", "CH1+", "CH1-", "CH2+", "CH2-", "RES1", "RES2"]
    left = [at[f"-KF10:{name}"] for name in order]
    assert len({x for x, _ in left}) == 1
    assert [y for _, y in left] == sorted(y for _, y in left)
    right = [at[f"-KF10:{name}"] for name in ("13", "14", "23", "24", "31", "32")]
    assert len({x for x, _ in right}) == 1
    assert right[0][0] > left[0][0]
    assert {"channel 1", "channel 2", "reset"} <= set(words(sheet))


def test_relay_and_drive_refer_to_one_another() -> None:
    """Sheet and zone, both ways."""
    relay = sheets()["Terminal diagram of -KF10"]
    drive = [s for title, s in sheets().items() if title.startswith("Terminal diagram of -TA1")]
    assert {"-KF10:13", "-KF10:14", "-KF10:23", "-KF10:24"} <= {pin for s in drive for pin in pins(s)}
    for sheet in (s for s in drive if "-KF10:14" in pins(s) or "-KF10:24" in pins(s)):
        assert [w for w in words(sheet) if re.fullmatch(rf"see {relay.number}/[A-F]\d", w)]
        assert [w for w in words(relay) if re.fullmatch(rf"see {sheet.number}/[A-F]\d", w)]


@pytest.mark.parametrize("practice", ["iec", "nfpa"])
def test_no_sheet_has_one_thing_on_another(practice: str) -> None:
    assert [found for sheet in sheets(practice).values() for found in overlaps.check(sheet.svg)] == []


def test_every_sheet_of_a_linked_drive_says_so_in_print() -> None:
    linked = sheets(torque_off="safe_torque_off: linked")
    pages = [s for title, s in linked.items() if title.startswith("Terminal diagram of -TA1")]
    assert len(pages) == 2
    for page in pages:
        assert "Safe torque off of -TA1 is LINKED: the function is not used." in words(page)
    driven = [s for title, s in sheets().items() if title.startswith("Terminal diagram of -TA1")]
    assert not any("LINKED" in word for page in driven for word in words(page))


def test_an_emergency_stop_is_drawn_with_its_head_its_latch_and_its_direct_opening() -> None:
    """IEC 60617: more strokes than a plain break contact with the same head, and the circle of direct opening."""
    plain = get("contact", "iec", form="break", actuator="mushroom")
    stop = get("contact", "iec", form="break", actuator="mushroom", latched=True, direct_opening=True)
    assert len(stop.discs) == len(plain.discs) + 1
    svg = sheets()["Terminal diagram of -KF10"].svg.decode()
    drawn = [
        group for group in re.findall(r'<g [^>]*data-kind="contact"[^>]*>.*?</g>', svg, re.S) if "<circle" in group
    ]
    design = wiregen.design(wiregen.read(EXAMPLES / "dough_mixer.yaml"))
    positive = [d for d in design.declared.devices if d.kind == "emergency_stop" or d.declared.opens == "positively"]
    assert len(drawn) == 2 * len(positive)  # one symbol a channel


DOOR = """\
scheme: Door
places: {+C1: {name: Cabinet}, +F1: {name: Machine, route: 12 m}}
devices:
  -TB1: {profile: supply_24v, at: +C1}
  -TA1: {profile: drive_extended, at: +C1}
  -KF10: {profile: safety_relay, at: +C1}
  -SF1: {profile: emergency_stop, at: +C1, text: Door}
  -SJ5: {profile: push_button, contact: NO, at: +F1, text: RESET}
  -BT1: {profile: thermistor, at: +C1}
control:
  -TA1: {zero_volt: floating, restart: allowed, safe_torque_off: {by: -KF10}, motor_thermistor: -BT1}
  -KF10: {guards: [-SF1], reset: {by: -SJ5, monitored: yes}}
"""


def test_a_chain_in_the_cabinet_stays_inside_its_edge() -> None:
    """The names of both ends of a channel stand beside the contact, and the edge of the cabinet is near."""
    design = pipeline.design(read_text(DOOR, "door.yaml", profiles=profiles.load()))
    assert [found for sheet in drawing.draw(design).sheets for found in overlaps.check(sheet.svg)] == []
