"""Findings about voltages and fuses at their edges. The limits: IEC 61140 (50 V AC, 120 V DC), from memory."""

from __future__ import annotations

import pytest
from review_schemes import codes, designed, drive, found, only

AC = "-TB2: {profile: control_transformer, at: +C1, voltage: %s V AC}\n"
LAMP = "-PF1: {profile: pilot_lamp, at: +C1, voltage: %s V AC}\n-PF2: {profile: pilot_lamp, at: +C1}\n"
DC = "-TB1: {profile: supply_24v, at: +C1}\n"


@pytest.mark.parametrize(("volts", "told"), [("24", False), ("48", False), ("120", True), ("230", True)])
def test_only_dangerous_voltage_beside_24_v_is_told(volts: str, told: bool) -> None:
    design = designed(drive(DC + AC % volts + LAMP % volts, "relays: {running: -PF1, fault: -PF2}"))
    assert ("voltages-beside" in codes(design)) == told


def test_a_relay_between_parts_the_voltages() -> None:
    """Of eight make contacts the first and the third: a free one lies between."""
    card = "-KE1: {profile: io_relay_out_8, at: +C1}\n"
    beside = "-KE1: {operates: {one: -PF1, two: -PF2}}"
    apart = drive(
        DC + AC % "120" + LAMP % "120" + card, "", beside=beside, rest='fixed: {-KE1: {"13": one, "33": two}}'
    )
    assert "voltages-beside" not in codes(designed(apart))
    near = apart.replace('"33"', '"23"')
    assert "voltages-beside" in codes(designed(near))


def test_mismatch_says_both_voltages() -> None:
    finding = only(
        designed(drive(DC + LAMP % "120", "relays: {running: {switches: -PF1, supply: -TB1}}")), "voltage-mismatch"
    )
    assert (finding.value, finding.limit, finding.unit) == (24, 120, "V")
    assert "-PF1 is for 120 V AC" in finding.message
    assert "24 V DC from -TB1" in finding.message


@pytest.mark.parametrize(("rating", "trips"), [("2 A", True), ("2.3 A", True), ("2.4 A", False), ("10 A", False)])
def test_what_5_a_can_blow(rating: str, trips: bool) -> None:
    """2.1 times the rated current (IEC 60269-2, from memory): 5 A / 2.1 = 2.38 A."""
    devices = f"-FC1: {{profile: fuse, at: +C1, rating: {rating}}}\n" + DC.replace("}", ", fuse: -FC1}") + LAMP % "24"
    design = designed(drive(devices, "relays: {fault: -PF2}"))
    assert ("protection-cannot-trip" not in codes(design)) == trips


def test_a_transformer_blows_any_fuse() -> None:
    """It does not limit its current."""
    devices = "-FC1: {profile: fuse, at: +C1, rating: 10 A}\n" + AC.replace("}", ", fuse: -FC1}") % "120" + LAMP % "120"
    assert "protection-cannot-trip" not in codes(designed(drive(devices, "relays: {running: -PF1}")))


def test_an_output_card_of_transistors_switches_no_ac() -> None:
    card = "-KE1: {profile: io_digital_out_16, at: +C1}\n"
    design = designed(drive(DC + AC % "120" + LAMP % "120" + card, "", beside="-KE1: {operates: {lamp: -PF1}}"))
    assert design.allocation.status == "infeasible"
    assert "120 V AC" in design.allocation.conflicts[0].says


def test_a_contact_carries_no_more_than_its_rating_for_ac_coils() -> None:
    """AC-15 1 A at 230 V: a valve of 8 W takes 0.07 A at 120 V; nothing is rated at 400 V."""
    valve = "-MB1: {profile: solenoid_valve, at: +C1, voltage: %s V AC}\n"
    fine = designed(drive(DC + AC % "120" + valve % "120", "relays: {running: -MB1}"))
    assert fine.allocation.status == "optimal"
    high = designed(drive(DC + AC % "400" + valve % "400", "relays: {running: -MB1}"))
    assert high.allocation.status == "infeasible"
    assert "carry nothing at 400 V AC" in high.allocation.conflicts[0].says


def test_no_note_of_a_feed_that_stays_in_the_cabinet() -> None:
    assert found(designed(drive(DC + LAMP % "24", "relays: {fault: -PF2}")), "field-feed-unprotected") == []
