"""Feeds and earths: positive terminals are never joined, 0 V is one system, earth one link.

Source of the expectations, unless a test names another: common practice, no source; worked by hand.
"""

from __future__ import annotations

import pytest
from wiring_cases import case


def test_a_shared_contact_joins_no_positives() -> None:
    c = case("contact_of_two_drives")
    assert "-TA1:24V and -TA2:24V" in c.notices["positives-joined"]
    assert c.on("-TA1:24V") == {"-TA1:24V", "-SJ1:11"}
    assert c.on("-TA2:24V") == set()


def test_a_shared_contact_shorts_no_supply() -> None:
    c = case("contact_of_two_polarities")
    assert "short circuit" in c.notices["supply-short-circuited"]
    assert c.potential("-TA1:24V").name != c.potential("-TA1:COM").name


def test_each_load_hangs_on_the_supply_that_is_said() -> None:
    c = case("two_supplies")
    assert c.on("-TB1:24V") == {"-TB1:24V", "-KE1:13"}
    assert c.on("-TB2:24V") == {"-TB2:24V", "-KE1:23"}
    assert c.notices == {}


def test_two_supplies_with_one_zero_volt_have_one_link() -> None:
    c = case("two_supplies")
    assert {"-TB1:0V", "-TB2:0V", "-PF1:X2", "-PF2:X2"} <= c.on("-TB1:0V")
    assert len(c.of_kind("link")) == 1


def test_two_supplies_and_none_named() -> None:
    c = case("two_supplies_unsaid")
    assert "-TB1 or -TB2" in c.notices["supply-unclear"]
    assert c.on("-KE1:14") == {"-KE1:14", "-PF1:X1"}
    assert (c.on("-KE1:13"), c.on("-PF1:X2")) == (set(), set())


def test_drive_without_any_supply_unit() -> None:
    """Its own 24 V feeds contacts, transmitter and lamp; screen and earth link have a PE terminal all the same."""
    c = case("drive_alone")
    assert c.on("-TA1:24V") == {"-TA1:24V", "-SJ1:13", "-BP1:+", "-TA1:13"}
    assert c.on("-TA1:COM") == {"-TA1:COM", "-TA1:ACOM", "-PF1:X2"}
    (link,) = c.of_kind("link")
    assert str(link.b) == "-X1:PE"
    assert [str(s.b) for s in c.of_kind("screen")] == ["-X1:PE"]
    assert c.notices == {}


def test_floating_drive_has_no_link_and_no_tie() -> None:
    """A dry contact needs no 0 V: the drive feeds it and stays by itself."""
    c = case("drive_floating_contacts")
    assert c.on("-TA1:24V") == {"-TA1:24V", "-KE1:13"}
    assert c.on("-KE1:14") == {"-KE1:14", "-TA1:DI4"}
    assert c.on("-TA1:COM") == set()
    assert [c.potential(str(link.a)).name for link in c.of_kind("link")] == ["0 V of -TB1"]


def test_zero_volts_declared_apart_are_not_joined() -> None:
    c = case("drive_inside_earthed")
    assert "the 0 V of -TA1 is declared earthed inside" in c.notices["return-missing"]
    assert c.on("-TB1:0V") == {"-TB1:0V"}


def test_common_of_a_sink_group_is_fed_with_24_v() -> None:
    """Contacts and NPN sensors switch 0 V (IEC 61131-2 calls such inputs sourcing)."""
    c = case("sink_with_common")
    assert "-TA1:COM1" in c.on("-TA1:24V")
    assert "-KE1:COM1" in c.on("-TB1:24V")
    assert {"-SJ1:11", "-TA1:21", "-BG1:3", "-BG2:-"} <= c.on("-TB1:0V")
    assert (c.on("-BG1:1") & {"-TB1:24V"}, c.on("-BG1:4")) == ({"-TB1:24V"}, {"-BG1:4", "-KE1:DI2"})
    assert "-TA1:COM2" not in c.on("-TA1:24V"), "nothing uses group 2"


def test_interposing_relay_keeps_the_circuits_apart() -> None:
    """The coil hangs on the card, the contact in the drive's own circuit: its 0 V stays floating."""
    c = case("named_contact")
    assert c.on("-KF1:A1") == {"-KF1:A1", "-KE1:DO1"}
    assert "-KF1:A2" in c.on("-TB1:0V")
    assert {"-KF1:11", "-KF1:21"} < c.on("-TA1:COM")
    assert not c.on("-TA1:COM") & c.on("-TB1:0V")
    assert (c.on("-KF1:14"), c.on("-KF1:24")) == ({"-KF1:14", "-TA1:DI4"}, {"-KF1:24", "-TA1:DI5"})


def test_valve_without_a_supply_unit_is_earthed() -> None:
    c = case("valve_without_supply_unit")
    core = c.core_to("-MB1:PE")
    assert (core.colour, str(core.a), core.number) == ("GNYE", "-X1:PE", "PE")


@pytest.mark.parametrize("name", ["drive_inside_earthed", "contact_of_two_drives", "contact_of_two_polarities"])
def test_what_is_left_out_is_said_where_it_stands(name: str) -> None:
    (notice,) = case(name).wiring.notices
    assert notice.where[0] == "control"
    assert notice.subject


def test_contacts_fed_from_outside_return_to_the_supply_that_feeds_them() -> None:
    """Source: +24 V of the unit at the contact. Sink: its 0 V, and the drive gives the current itself."""
    c = case("external_supply")
    assert c.on("-TB1:24V") == {"-TB1:24V", "-SJ1:11"}
    assert {"-TA1:COM", "-TA2:COM", "-SJ2:11"} <= c.on("-TB1:0V")
    assert c.on("-TA1:24V") | c.on("-TA2:24V") == set()
    assert set(c.notices) == {"zero-volt-not-declared"}


def test_commons_of_cards_and_drives_meet_at_the_supply() -> None:
    c = case("two_cards")
    assert {"-KE1:COM1", "-KE2:0VA", "-TA1:COM", "-TA2:COM", "-TA2:COM1"} <= c.on("-TB1:0V")
    assert {"-KE1:24V", "-KE2:24VA", "-TA1:13", "-TA1:21", "-TA2:21"} <= c.on("-TB1:24V")
    outputs = {pin for p in c.wiring.potentials for pin in map(str, p.pins) if pin.startswith("-KE2:DO")}
    inputs = {pin for p in c.wiring.potentials for pin in map(str, p.pins) if pin.startswith("-KE1:DI")}
    assert (len(outputs), len(inputs)) == (2, 4)
