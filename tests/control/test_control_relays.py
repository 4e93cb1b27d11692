"""Contacts that a plain name means, several in one position, shared ones, coils, and relays between."""

from __future__ import annotations

import pytest

from wiregen import pipeline, profiles
from wiregen.control import interpret
from wiregen.control.functions import Declared, Function, Leg, Load, Parallel, Series
from wiregen.pipeline import Design
from wiregen.scheme import read_text
from wiregen.terms import UnusableInput

PROFILES = profiles.load()
DEVICES = """
  -TB1: {profile: supply_24v, at: +C1}
  -TA1: {profile: drive_extended, at: +C1}
  -TA2: {profile: drive_compact, at: +C1, zero_volt: floating}
  -KE1: {profile: io_digital_in_16, at: +C1}
  -KE2: {profile: io_digital_out_16, at: +C1}
  -KF1: {profile: interposing_relay, poles: 3, at: +C1}
  -KF2: {profile: interposing_relay, at: +C1}
  -QA1: {profile: contactor, at: +C1}
  -SJ1: {profile: push_button, contacts: [NC, NC, NO], at: +C1}
  -SJ2: {profile: push_button, contact: NC, at: +C1, shared: [11-12]}
  -SJ3: {profile: selector, positions: [HAND, OFF, AUTO], contacts: {HAND: 1, AUTO: 2}, at: +C1}
  -BG1: {profile: proximity_three_wire, output: PNP, at: +C1}
  -MB1: {profile: solenoid_valve, at: +C1}
  -PF1: {profile: pilot_lamp, at: +C1}
"""


def text(control: str, beside: str = "") -> str:
    said = "inputs: {wired: source, supply: -TB1}, zero_volt: {joined_to: -TB1}, restart: needs_start"
    return (
        f"scheme: Relays\nplaces: {{+C1: {{name: Cabinet}}}}\ndevices:{DEVICES}"
        f"control:\n  -TA1: {{{said}, {control}}}\n{beside}"
    )


def declared(control: str, beside: str = "") -> Declared:
    return interpret(read_text(text(control, beside), "relays.yaml", profiles=PROFILES))


def designed(control: str, beside: str = "") -> Design:
    return pipeline.design(read_text(text(control, beside), "relays.yaml", profiles=PROFILES))


def function(found: Declared, controller: str, name: str) -> Function:
    return next(f for f in found.functions if (f.controller, f.name) == (controller, name))


def contacts(found: Declared, *functions: tuple[str, str]) -> list[str]:
    partners = [function(found, *names).partner for names in functions]
    return [f"{p.contact.device}.{p.contact.name}" for p in partners if isinstance(p, Leg)]


def codes(found: Declared) -> list[str]:
    return [n.code for n in found.notices]


def test_a_plain_name_means_the_first_unused_contact() -> None:
    """Contacts that are named anywhere in the scheme are not meant, whatever the order of the functions."""
    found = declared("enable: -KF1, reset: -KF1, reverse: -KF1.11-14")
    assert contacts(found, ("-TA1", "enable"), ("-TA1", "reset")) == ["-KF1.21-24", "-KF1.31-34"]
    assert not codes(found)


def test_a_contactor_s_plain_name_means_its_make_contact() -> None:
    assert contacts(declared("enable: -QA1"), ("-TA1", "enable")) == ["-QA1.13-14"]


def test_a_plain_name_of_a_button_is_clear_once_its_unused_contacts_are_alike() -> None:
    assert codes(declared("enable: -SJ1")) == ["contact-unclear"]
    found = declared("enable: -SJ1, external_trip: -SJ1, reset: -SJ1.33-34")
    assert contacts(found, ("-TA1", "enable"), ("-TA1", "external trip")) == ["-SJ1.11-12", "-SJ1.21-22"]


def test_several_contacts_in_one_position() -> None:
    """In the table's order: 13-14 closed in HAND, 23-24 and 33-34 in AUTO."""
    found = declared("enable: -SJ3@AUTO, reset: -SJ3@AUTO.2, reverse: -SJ3@HAND")
    names = contacts(found, ("-TA1", "enable"), ("-TA1", "reset"), ("-TA1", "reverse"))
    assert names == ["-SJ3.23-24", "-SJ3.33-34", "-SJ3.13-14"]
    wrong = declared("enable: -SJ3@AUTO.3")
    assert "2 contacts closed in AUTO, not 3" in wrong.notices[0].message


def test_series_and_parallel_in_the_declared_order() -> None:
    found = declared("enable: {all: [-SJ2, {any: [-SJ3@HAND, {all: [-SJ3@AUTO, -KF1]}]}]}")
    tree = function(found, "-TA1", "enable").partner
    assert isinstance(tree, Series)
    first, second = tree.parts
    assert isinstance(first, Leg)
    assert isinstance(second, Parallel)
    assert first.contact.device == "-SJ2"
    assert isinstance(second.parts[1], Series)


@pytest.mark.parametrize(
    ("control", "code", "says"),
    [
        ("enable: {all: [-SJ2, -BG1]}", "combination-unfit", "the sensor of -BG1"),
        ("enable: {any: [-SJ2, -TA2]}", "combination-unfit", "the output of -TA2"),
        ("enable: {all: [-SJ2, {by: -KF1, healthy: open}]}", "combination-unfit", "no sense of its own"),
        ("enable: {by: -SJ2, through: -PF1}", "through-unfit", "-PF1 (Pilot lamp) is no relay"),
        ("relays: {running: {switches: -MB1, through: -TB1}}", "through-unfit", "-TB1"),
        ("enable: {by: -BG1, through: -KF2}", "coil-driver-unfit", "-BG1 is a sensor"),
    ],
)
def test_what_cannot_be_wired_is_told(control: str, code: str, says: str) -> None:
    notice = next(n for n in declared(control).notices if n.code == code)
    assert says in notice.message
    assert notice.where[:2] == ("control", "-TA1")


def test_a_shared_contact_is_wired_to_both_inputs() -> None:
    design = designed("enable: -SJ2, external_trip: -SJ2, reset: -SJ1.33-34")
    pins = next(p.pins for p in design.wiring.potentials if any(str(pin) == "-SJ2:12" for pin in p.pins))
    placed = {
        f"{a.device}:{a.channel}" for a in design.allocation.assignments if a.function in ("enable", "external trip")
    }
    assert placed < {str(pin) for pin in pins}
    assert not [f for f in design.findings if f.severity == "error"]


def test_a_shared_contact_that_the_device_does_not_have() -> None:
    wrong = text("enable: -SJ2").replace("shared: [11-12]", "shared: [11-21]")
    found = interpret(read_text(wrong, "relays.yaml", profiles=PROFILES))
    assert [(n.code, n.where) for n in found.notices] == [("contact-unknown", ("devices", "-SJ2", "shared", "0"))]
    assert "did you mean 11-12?" in found.notices[0].message


def test_energise_makes_a_coil_circuit_without_a_terminal() -> None:
    found = declared("enable: -KF1", "  -KF1: {energise: {any: [-SJ2, -KF1.21-24]}, supply: -TB1}\n")
    coil = function(found, "-KF1", "coil")
    assert (coil.purpose, coil.ends, coil.acts_on) == ("coil", (), "closed")
    assert coil.coil is not None
    assert coil.supply is not None
    assert (str(coil.coil.a), str(coil.coil.b), str(coil.supply.plus)) == ("-KF1:A1", "-KF1:A2", "-TB1:24V")
    assert isinstance(coil.partner, Parallel)


def test_an_output_energises_a_coil() -> None:
    """By a transistor output, and by a relay of a drive."""
    for controller, forms in (("-KE2", {"transistor"}), ("-TA2", {"NO"})):
        found = declared("enable: -KF1", f"  -KF1: {{energise: {controller}, supply: -TB1}}\n")
        duty = function(found, controller, "coil of -KF1")
        assert duty.purpose == "output"
        assert duty.ends[0].forms == forms
        assert isinstance(duty.partner, Load)
        # 1 W at 24 V.
        assert duty.ends[0].load_a == pytest.approx(1 / 24)


def test_a_relay_between_a_contact_and_an_input() -> None:
    found = declared("enable: {by: -SJ2, through: -KF2}")
    assert contacts(found, ("-TA1", "enable"), ("-KF2", "coil")) == ["-KF2.11-14", "-SJ2.11-12"]


def test_a_relay_between_one_contact_of_a_combination() -> None:
    found = declared("enable: {all: [-SJ1.11-12, {by: -SJ2, through: -KF2}]}")
    tree = function(found, "-TA1", "enable").partner
    assert isinstance(tree, Series)
    last = tree.parts[1]
    assert isinstance(last, Leg)
    assert last.contact.device == "-KF2"
    assert contacts(found, ("-KF2", "coil")) == ["-SJ2.11-12"]


def test_a_relay_between_an_output_and_a_load() -> None:
    """The output drives the coil and carries its 1 W; the contact drives the valve, whose PE is tied too."""
    design = designed("relays: {running: {switches: -MB1, supply: -TB1, through: -KF2}}")
    found = design.declared
    duty, load = function(found, "-TA1", "running"), function(found, "-KF2", "running")
    assert isinstance(duty.partner, Load)
    assert duty.partner.device == "-KF2"
    assert duty.ends[0].load_a == pytest.approx(1 / 24)
    assert load.coil is not None
    assert load.coil.device == "-MB1"
    of = {str(pin): p.name for p in design.wiring.potentials for pin in p.pins}
    assert of["-KF2:14"] == of["-MB1:1"]
    assert of["-KF2:11"] == of["-TB1:24V"]
    assert of["-MB1:2"] == of["-KF2:A2"] == of["-TB1:0V"]
    assert of["-MB1:PE"] == "PE"


def test_a_relay_between_an_output_and_an_input() -> None:
    """The card's input hangs on the relay's contact, fed from what feeds the card's inputs."""
    design = designed("relays: {running: {switches: -KE1, through: -KF2}}", "  -KE1: {inputs: source}\n")
    found = design.declared
    assert contacts(found, ("-KE1", "running of -TA1")) == ["-KF2.11-14"]
    assert {(a.device, a.function) for a in design.allocation.assignments} == {
        ("-TA1", "running"),
        ("-KE1", "running of -TA1"),
    }
    assert not [f.message for f in design.findings if f.severity == "error"]


def test_a_relay_s_own_supply_feeds_its_coil_and_not_its_contacts() -> None:
    """-TB2 feeds the coil; the contact is dry and switches what feeds the drive's inputs."""
    two = text("enable: -KF1", "  -KF1: {energise: -SJ2}\n").replace(
        "-KF1: {profile: interposing_relay,",
        "-TB2: {profile: supply_24v, at: +C1}\n  -KF1: {supply: -TB2, profile: interposing_relay,",
    )
    found = interpret(read_text(two, "relays.yaml", profiles=PROFILES))
    supplies = [f.supply.device for f in found.functions if f.supply is not None]
    assert supplies == ["-TB1", "-TB2"]


@pytest.mark.parametrize(
    ("device", "says"),
    [
        ("contacts: {HAND: 1, FULL: 2}", "names a position that `positions` does not"),
        ("contacts: {HAND: 9, AUTO: 9}", "18 are too many"),
        ("contacts: {HAND: 1, AUTO: 1}, contact_per_position: yes", "give one of the two keys"),
    ],
)
def test_contacts_by_position_that_cannot_be(device: str, says: str) -> None:
    with pytest.raises(UnusableInput) as wrong:
        read_text(
            text("enable: -SJ2").replace("contacts: {HAND: 1, AUTO: 2}", device), "relays.yaml", profiles=PROFILES
        )
    assert says in str(wrong.value)
