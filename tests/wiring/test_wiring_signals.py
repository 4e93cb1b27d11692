"""Signals: transistor outputs, relays and analog signals, each with its way back.

Source of the expectations, unless a test names another: common practice, no source; worked by hand.
"""

from __future__ import annotations

from wiring_cases import case


def test_transistor_output_takes_its_zero_volt_along_in_the_same_cable() -> None:
    c = case("transistor_to_the_field")
    assert {"-KE1:0VA", "-TA1:COM"} <= c.on("-TB1:0V")
    cores = [c.core_to(pin) for pin in ("-TA1:COM", "-TA1:DI4", "-TA1:DI5")]
    assert {core.cable for core in cores} == {"-WG1"}
    assert c.on("-TA1:24V") == set(), "the outputs bring their own 24 V"


def test_transistor_outputs_share_zero_volt_once() -> None:
    c = case("transistor_to_the_field")
    assert len([core for core in c.of_kind("core") if core.number == c.potential("-TA1:COM").number]) == 1


def test_transistor_output_adds_no_second_tie() -> None:
    c = case("transistor_joined_already")
    assert len(c.at("-TA1:COM")) == 1
    assert {"-TA1:COM", "-KE1:0VA"} <= c.on("-TB1:0V")


def test_transistor_output_is_fed_where_it_is_used() -> None:
    """The card has two groups with terminals of their own; only the one in use is fed."""
    c = case("transistor_joined_already")
    assert c.on("-TB1:24V") == {"-TB1:24V", "-KE1:24VA"}
    assert (c.at("-KE1:24VB"), c.at("-KE1:0VB")) == ([], [])


def test_isolated_analog_output_shares_zero_volt_with_its_partner() -> None:
    c = case("analog_shared")
    assert c.on("-KE1:AO1+") == {"-KE1:AO1+", "-TA1:AI1"}
    assert "-TA1:ACOM" in c.on("-KE1:AO1-")


def test_analog_partners_in_two_places_run_in_one_pair() -> None:
    c = case("analog_shared")
    plus, back = c.core_to("-TA2:AI1"), c.core_to("-TA2:ACOM")
    assert (plus.cable, back.cable) == ("-WG1", "-WG1")
    assert {plus.core, back.core} == {"WH", "BN"}
    assert c.on("-TA2:AI1") == {"-TA2:AI1", "-TA1:AO2"}


def test_voltage_into_a_floating_pair_has_its_return() -> None:
    c = case("analog_shared")
    assert c.on("-KE2:AI1+") == {"-KE2:AI1+", "-TA1:AO1"}
    assert "-TA1:ACOM" in c.on("-KE2:AI1-")


def test_two_wire_loop_comes_back_to_the_supply_that_feeds_it() -> None:
    """Fed from the supply unit, read by the drive: the drive's analog 0 V meets the unit's (ISA-50.00.01, type 2)."""
    c = case("transmitters")
    assert {"-BP1:+", "-BP4:+"} <= c.on("-TB1:24V")
    assert c.on("-BP1:-") == {"-BP1:-", "-TA1:AI1"}
    assert {"-TA1:ACOM", "-TA1:COM", "-KE1:AI1-"} <= c.on("-TB1:0V")


def test_two_wire_transmitter_at_a_card() -> None:
    c = case("transmitters")
    assert c.on("-BP4:-") == {"-BP4:-", "-KE1:AI1+"}


def test_three_wire_transmitter_shares_its_minus() -> None:
    """Supply and signal return over one wire (ISA-50.00.01, type 3)."""
    c = case("transmitters")
    assert c.on("-BP2:out") == {"-BP2:out", "-TA1:AI2"}
    assert ("-BP2:+" in c.on("-TA1:24V"), "-BP2:-" in c.on("-TA1:COM")) == (True, True)


def test_four_wire_output_touches_no_supply() -> None:
    """Its output is active: it drives the current itself (ISA-50.00.01, type 4)."""
    c = case("transmitters")
    assert c.on("-BP3:out+") == {"-BP3:out+", "-TA1:AI3"}
    assert "-TA1:ACOM" in c.on("-BP3:out-")
    assert (c.on("-BP5:out+"), c.on("-BP5:out-")) == ({"-BP5:out+", "-KE1:AI2+"}, {"-BP5:out-", "-KE1:AI2-"})


def test_plus_and_minus_of_one_loop_run_in_one_pair() -> None:
    """Pairs in DIN 47100 colours, the first of each on plus."""
    c = case("transmitters")
    cores = [pin for pin in c.cores_in("-WG1").values() if pin]
    pairs = {tuple(list(c.cores_in("-WG1").values())[n : n + 2]) for n in range(0, 20, 2)}
    assert {
        ("-BP1:+", "-BP1:-"),
        ("-BP2:+", "-BP2:out"),
        ("-BP2:-", ""),
        ("-BP3:+", "-BP3:-"),
        ("-BP3:out+", "-BP3:out-"),
        ("-BP4:+", "-BP4:-"),
        ("-BP5:+", "-BP5:-"),
        ("-BP5:out+", "-BP5:out-"),
    } <= pairs
    assert len(cores) == 15


def test_potential_of_a_way_back_has_a_name_of_its_own() -> None:
    c = case("transmitters")
    assert c.potential("-KE1:AI2-").name == "flow of -KE1, return"


def test_two_signals_between_two_devices_share_one_way_back() -> None:
    c = case("two_signals_one_way")
    assert {c.core_to("-TA2:AI1").cable, c.core_to("-TA2:AI2").cable, c.core_to("-TA2:ACOM").cable} == {"-WG2"}
    assert [cable.used for cable in c.wiring.cables if cable.category == "analog"] == [3]
    assert {"-TA1:ACOM", "-TA2:ACOM"} <= c.on("-TA1:COM")
