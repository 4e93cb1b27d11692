"""The safety chain by hand: which terminal takes what, which pins are joined, which cores run in which cable.

Two channels, each with a contact and a conductor of its own: common practice, no source. The marks are those
of the profiles.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from textwrap import dedent

import networkx as nx
import pytest
from wiring_cases import EXAMPLES

import wiregen
from wiregen import pipeline, profiles
from wiregen.pipeline import Design
from wiregen.scheme import read_text
from wiregen.terms import Pin
from wiregen.wiring.model import Cable
from wiregen.wiring.netlist import graph, metal

HEAD = """\
scheme: Safety
places: {+C1: {name: Cabinet}, +F1: {name: Machine, route: 12 m}}
devices:
  -TB1: {profile: supply_24v, at: +C1}
  -TA1: {profile: drive_extended, at: +C1}
  -KF10: {profile: safety_relay, at: +C1}
  -SF1: {profile: emergency_stop, at: +F1}
  -SJ5: {profile: push_button, contact: NO, at: +C1}
"""
RELAY = "-KF10: {guards: [-SF1], channels: two, reset: {by: -SJ5, monitored: yes}}"


@cache
def mixer() -> Design:
    return wiregen.design(wiregen.read(EXAMPLES / "dough_mixer.yaml"))


def plant(
    drive: str = "safe_torque_off: {by: -KF10}",
    relay: str = RELAY,
    devices: str = "",
    rest: str = "",
    inputs: str = "source",
) -> Design:
    """A drive, a safety relay, an emergency stop in the field, and what a test adds."""
    more = "".join(f"  {line}\n" for line in dedent(devices).splitlines())
    section = f"control:\n  -TA1: {{inputs: {inputs}, zero_volt: floating, restart: allowed, {drive}}}\n"
    text = f"{HEAD}{more}{section}" + (f"  {relay}\n" if relay else "") + dedent(rest)
    return pipeline.design(read_text(text, "safety.yaml", profiles=profiles.load()))


def on(design: Design, text: str) -> set[str]:
    """The pins on the potential of a pin, those of strips left out."""
    device, _, name = text.partition(":")
    found = design.wiring.potential_of(Pin(device, name))
    strips = {s.name for s in design.wiring.strips}
    return {str(p) for p in found.pins if p.device not in strips} if found else set()


def places(design: Design) -> dict[tuple[str, str], str]:
    return {(a.device, a.function): a.channel for a in design.allocation.assignments}


def cables(design: Design) -> dict[str, Cable]:
    return {c.category: c for c in design.wiring.cables}


# The mixer


def test_the_allocation_of_the_mixer_is_forced() -> None:
    """One pair of terminals a channel; the break contact alone can tell that the relay has dropped."""
    found = places(mixer())
    assert found["-TA1", "safe torque off 1"] == "STO1+"
    assert found["-TA1", "safe torque off 2"] == "STO2+"
    assert found["-TA1", "motor thermistor"] == "T1"
    assert {found["-KF10", f"safe torque off {n} of -TA1"] for n in (1, 2)} == {"13", "23"}
    assert found["-KF10", "show operated"] == "31"
    assert (found["-KF10", "channel 1"], found["-KF10", "channel 2"]) == ("CH1+", "CH2+")
    assert found["-KF10", "reset"] == "RES1"


@pytest.mark.parametrize(("channel", "first", "second"), [("CH1", "11", "12"), ("CH2", "21", "22")])
def test_the_guards_of_the_mixer_lie_in_series_in_each_channel(channel: str, first: str, second: str) -> None:
    joined = [on(mixer(), f"-{pin}") for pin in (f"KF10:{channel}+", f"SF1:{second}", f"BG1:{second}", f"SF2:{second}")]
    assert joined == [
        {f"-KF10:{channel}+", f"-SF1:{first}"},
        {f"-SF1:{second}", f"-BG1:{first}"},
        {f"-BG1:{second}", f"-SF2:{first}"},
        {f"-SF2:{second}", f"-KF10:{channel}-"},
    ]


def test_each_channel_of_safe_torque_off_has_its_own_contact_and_conductor() -> None:
    design = mixer()
    at = places(design)
    for number in (1, 2):
        make = str(int(at["-KF10", f"safe torque off {number} of -TA1"]) + 1)  # EN 50005: 13-14, 23-24
        assert on(design, f"-TA1:STO{number}+") == {f"-TA1:STO{number}+", f"-KF10:{make}"}
        wires = [c for c in design.wiring.conductors if Pin("-TA1", f"STO{number}+") in (c.a, c.b)]
        assert [{str(wires[0].a), str(wires[0].b)}, len(wires)] == [{f"-TA1:STO{number}+", f"-KF10:{make}"}, 1]
    assert {"-KF10:13", "-KF10:23", "-TA1:24V"} <= on(design, "-TA1:24V")
    assert {"-TA1:STO1-", "-TA1:STO2-", "-TA1:COM"} <= on(design, "-TB1:0V")


def test_torque_goes_when_any_guard_contact_opens() -> None:
    """A second method: with every contact of one channel an edge of a graph, it falls apart without any one."""
    circuit = graph(mixer().declared, mixer().wiring)
    pieces = {pin: i for i, pins in enumerate(nx.connected_components(metal(circuit))) for pin in pins}
    for channel, contacts in (("CH1", "11-12"), ("CH2", "21-22")):
        edges = [
            (pieces[a], pieces[b], data["device"])
            for a, b, data in circuit.edges(data=True)
            if data["kind"] == "contact" and data["name"] == contacts and a.device in ("-SF1", "-SF2", "-BG1")
        ]
        ends = pieces[Pin("-KF10", f"{channel}+")], pieces[Pin("-KF10", f"{channel}-")]
        assert nx.has_path(nx.Graph((a, b) for a, b, _ in edges), *ends)
        for opened in ("-SF1", "-SF2", "-BG1"):
            closed = nx.Graph((a, b) for a, b, device in edges if device != opened)
            closed.add_nodes_from(ends)
            assert not nx.has_path(closed, *ends)


def test_the_cables_of_the_mixer() -> None:
    """Safety and thermistor have cables of their own; by hand: two channels out and back, two thermistor cores.

    Control: 24 V, START, STOP, selector.
    """
    found = cables(mixer())
    assert {name: (c.used, c.b) for name, c in found.items()} == {
        "control": (4, "+F1"),
        "safety": (4, "+F1"),
        "thermistor": (2, "+F1"),
    }
    assert on(mixer(), "-TA1:T1") == {"-TA1:T1", "-BT1:TP1"}
    assert on(mixer(), "-TA1:T2") == {"-TA1:T2", "-BT1:TP2"}


def test_the_reset_the_lamp_and_the_coil_of_the_mixer() -> None:
    design = mixer()
    assert on(design, "-KF10:RES1") == {"-KF10:RES1", "-SJ5:13"}
    assert on(design, "-KF10:RES2") == {"-KF10:RES2", "-SJ5:14"}
    assert on(design, "-KF10:32") == {"-KF10:32", "-PF1:X1"}
    assert {"-KF10:A1", "-KF10:31", "-TB1:24V"} <= on(design, "-TB1:24V")
    assert {"-KF10:A2", "-PF1:X2"} <= on(design, "-TB1:0V")


# Other ways


def test_linked_stays_on_the_terminals_of_the_drive() -> None:
    """Also where something else feeds the inputs."""
    design = plant("safe_torque_off: linked", relay="")
    plus, zero = on(design, "-TA1:STO1+"), on(design, "-TA1:STO1-")
    assert plus == {"-TA1:24V", "-TA1:STO1+", "-TA1:STO2+"}
    assert {"-TA1:COM", "-TA1:STO1-", "-TA1:STO2-"} <= zero
    links = {frozenset((str(c.a), str(c.b))) for c in design.wiring.conductors if "safe torque off" in c.function}
    assert {frozenset(("-TA1:24V", "-TA1:STO1+")), frozenset(("-TA1:STO1+", "-TA1:STO2+"))} <= links
    elsewhere = plant("safe_torque_off: linked", inputs="{wired: source, supply: -TB1}")
    assert on(elsewhere, "-TA1:STO1+") == plus


def test_an_emergency_stop_may_switch_safe_torque_off_itself() -> None:
    """One contact a channel; the core goes out to the contact and back."""
    design = plant("safe_torque_off: {by: -SF1}", relay="")
    assert on(design, "-TA1:STO1+") == {"-TA1:STO1+", "-SF1:12"}
    assert on(design, "-TA1:STO2+") == {"-TA1:STO2+", "-SF1:22"}
    assert {"-SF1:11", "-SF1:21"} <= on(design, "-TA1:24V")
    assert cables(design)["safety"].used == 3


def test_one_contact_on_both_channels_is_wired_as_declared_and_an_error() -> None:
    design = plant("safe_torque_off: {by: -KF10, channels: one}")
    assert on(design, "-TA1:STO1+") == {"-TA1:STO1+", "-TA1:STO2+", "-KF10:14"}
    assert "safe-torque-off-one-conductor" in {f.code for f in design.findings if f.severity == "error"}


def test_a_named_contact_is_no_longer_free_for_safe_torque_off() -> None:
    """The first make contact stands in the circuit of a contactor: one is left, and two are asked for."""
    devices = "-QA1: {profile: contactor, at: +C1}"
    energise = f"{RELAY}\n  -QA1: {{energise: -KF10.13-14}}"
    design = plant(relay=energise, devices=devices)
    assert design.allocation.status == "infeasible"
    assert [c.says for c in design.allocation.conflicts if "make contact" in c.says and "-KF10" in c.says]
    linked = plant("safe_torque_off: linked", relay=energise, devices=devices)
    assert on(linked, "-QA1:A1") == {"-QA1:A1", "-KF10:14"}
    assert {"-KF10:13", "-KF10:A1"} <= on(linked, "-TB1:24V")
    assert "single-channel-safety" not in {f.code for f in linked.findings}
    assert "safety-relay-idle" not in {f.code for f in linked.findings}


def test_two_drives_ask_for_more_contacts_than_one_relay_has() -> None:
    """Four channels, two make contacts; the break contact does not count."""
    devices = "-TA2: {profile: drive_extended, at: +C1}"
    second = "  -TA2: {inputs: source, zero_volt: floating, restart: allowed, safe_torque_off: {by: -KF10}}\n"
    design = plant(relay=f"{RELAY}\n{second}", devices=devices)
    assert design.allocation.status == "infeasible"
    assert len(design.allocation.unplaced) == 2


def test_channels_kept_apart_run_in_two_cables() -> None:
    design = plant(rest="apart_cables: [[channel 1 of -KF10, channel 2 of -KF10]]\n")
    safety = [c for c in design.wiring.cables if c.category == "safety"]
    assert [c.used for c in safety] == [2, 2]
    assert "safety-channels-in-one-cable" not in {f.code for f in design.findings}
    together = plant()
    assert "safety-channels-in-one-cable" in {f.code for f in together.findings}
    assert cables(together)["safety"].used == 4


def test_contacts_may_energise_the_relay_itself() -> None:
    """Then its coil is not fed straight from the supply."""
    design = plant(
        relay=RELAY.replace("guards:", "energise: -SJ7, guards:"), devices="-SJ7: {profile: push_button, at: +C1}"
    )
    assert on(design, "-KF10:A1") == {"-KF10:A1", "-SJ7:14"}


ONE_PIN = """\
profile: drive_one_pin
title: Drive with a common for safe torque off
controller: drive
terminals:
  - {label: 24V, role: supply_out, volts: 24 V, limit: {value: 100 mA, basis: "typical, invented"}, common: COM}
  - {label: COM, role: zero, conductors: 2}
  - {label: ST1, role: safe_torque_off, common: STC}
  - {label: ST2, role: safe_torque_off, common: STC}
  - {label: STC, role: common, group: safe torque off, conductors: 2}
"""


def test_channels_of_one_pin_return_to_their_common(tmp_path: Path) -> None:
    (tmp_path / "drive_one_pin.yaml").write_text(ONE_PIN, encoding="utf-8")
    text = HEAD.replace("profile: drive_extended", "profile: drive_one_pin")
    text += f"control:\n  -TA1: {{zero_volt: floating, restart: allowed, safe_torque_off: {{by: -KF10}}}}\n  {RELAY}\n"
    design = pipeline.design(read_text(text, "safety.yaml", profiles=profiles.load(tmp_path)))
    assert on(design, "-TA1:ST1") == {"-TA1:ST1", "-KF10:14"}
    assert on(design, "-TA1:ST2") == {"-TA1:ST2", "-KF10:24"}
    assert {"-TA1:STC", "-TA1:COM"} <= on(design, "-TA1:COM")


def test_a_guard_with_one_contact_leaves_the_second_channel_without_it() -> None:
    devices = "-BG1: {profile: limit_switch, contact: NC, opens: positively, at: +C1}"
    design = plant(relay=RELAY.replace("[-SF1]", "[-SF1, -BG1]"), devices=devices)
    assert "-BG1:11" in on(design, "-SF1:12")
    assert on(design, "-SF1:22") == {"-SF1:22", "-KF10:CH2-"}
    assert "guard-contacts-too-few" in {f.code for f in design.findings if f.severity == "error"}


def test_thermistors_fixed_in_an_old_cable_stay_there_and_are_told() -> None:
    devices = "-BT1: {profile: thermistor, at: +F1}\n-SJ1: {profile: push_button, contact: NC, at: +F1}"
    old = "fixed: {-TA1: {T1: {cable: -W7, core: 6}, T2: {cable: -W7, core: 7}}}\n"
    old += "cabling: {existing: {-W7: {from: +C1, to: +F1, cores: 7}}}\n"
    drive = "safe_torque_off: linked, motor_thermistor: -BT1, enable: -SJ1"
    design = plant(drive, relay="", devices=devices, rest=old)
    cores = {c.core: c.function for c in design.wiring.conductors if c.cable == "-W7" and c.b is not None}
    assert {cores["6"], cores["7"]} == {"motor thermistor of -TA1", "motor thermistor of -TA1, return"}
    assert "thermistor-beside-control" in {f.code for f in design.findings}
    alone = plant(drive, relay="", devices=devices)
    assert cables(alone)["thermistor"].used == 2
    assert "thermistor-beside-control" not in {f.code for f in alone.findings}


def test_thermistors_of_two_motors_may_share_a_cable() -> None:
    """It carries nothing of 24 V."""
    devices = """\
    -TA2: {profile: drive_extended, at: +C1}
    -BT1: {profile: thermistor, at: +F1}
    -BT2: {profile: thermistor, at: +F1}
    """
    second = "-TA2: {like: -TA1, with: {-BT1: -BT2}}"
    design = plant("safe_torque_off: linked, motor_thermistor: -BT1", relay=second, devices=devices)
    assert cables(design)["thermistor"].used == 4
    assert on(design, "-TA2:T1") == {"-TA2:T1", "-BT2:TP1"}
    assert "thermistor-beside-control" not in {f.code for f in design.findings}
