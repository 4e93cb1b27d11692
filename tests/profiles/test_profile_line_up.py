"""The built-in profiles: the pins that are promised, in their physical order, and what each must be able to do."""

from __future__ import annotations

import pytest

from wiregen.formulas import contact_marks, designations, input_types
from wiregen.profiles import Profile, load
from wiregen.profiles.model import CHANNEL_ROLES, Figure

LIBRARY = load()
PINS = {
    "drive_compact": "24V COM DI1 DI2 DI3 DI4 DI5 DI6 10V AI1 AI2 ACOM AO1 13 14 21 22 24",
    "drive_extended": (
        "24V COM DI1 DI2 DI3 DI4 COM1 DI5 DI6 DI7 DI8 COM2 10V AI1 AI2 AI3 ACOM AO1 AO2 "
        "11 12 14 21 22 24 DO1 STO1+ STO1- STO2+ STO2- T1 T2"
    ),
    "io_digital_in_16": ("24V 0V DI1 DI2 DI3 DI4 DI5 DI6 DI7 DI8 COM1 DI9 DI10 DI11 DI12 DI13 DI14 DI15 DI16 COM2"),
    "io_digital_out_16": ("24VA 0VA DO1 DO2 DO3 DO4 DO5 DO6 DO7 DO8 24VB 0VB DO9 DO10 DO11 DO12 DO13 DO14 DO15 DO16"),
    "io_relay_out_8": "13 14 23 24 33 34 43 44 53 54 63 64 73 74 83 84",
    "io_analog_in_8": "24V 0V AI1+ AI1- AI2+ AI2- AI3+ AI3- AI4+ AI4- AI5+ AI5- AI6+ AI6- AI7+ AI7- AI8+ AI8-",
    "io_analog_out_4": "24V 0V AO1+ AO1- AO2+ AO2- AO3+ AO3- AO4+ AO4-",
    "supply_24v": "L N PE 24V 0V",
    "push_button": "",
    "contact": "",
    "limit_switch": "",
    "selector": "",
    "emergency_stop": "11 12 21 22",
    "safety_relay": "A1 A2 CH1+ CH1- CH2+ CH2- RES1 RES2 13 14 23 24 31 32",
    "proximity_two_wire": "+ -",
    "proximity_three_wire": "1 4 3",
    "potentiometer": "1 2 3",
    "transmitter_two_wire": "+ -",
    "transmitter_three_wire": "+ out -",
    "transmitter_four_wire": "+ - out+ out-",
    "pilot_lamp": "X1 X2",
    "horn": "X1 X2",
    "interposing_relay": "A1 A2",
    "contactor": "A1 A2 13 14 21 22",
    "fuse": "1 2",
    "resistor": "1 2",
    "solenoid_valve": "1 2 PE",
    "panel_meter": "+ -",
    "thermistor": "TP1 TP2",
    "control_transformer": "H1 H2 X1 X2",
    "motor_circuit_breaker": "1/L1 3/L2 5/L3 2/T1 4/T2 6/T3",
    "motor": "U V W PE",
}


def _pins(profile: Profile) -> list[str]:
    return [pin for terminal in profile.terminals for pin in terminal.pins]


def _si(figure: Figure | None) -> float:
    assert figure is not None
    return figure.si


def test_every_promised_profile_exists_and_no_other() -> None:
    assert set(LIBRARY) == set(PINS)


@pytest.mark.parametrize("name", PINS)
def test_pins_stand_in_physical_order(name: str) -> None:
    assert _pins(LIBRARY[name]) == PINS[name].split()


@pytest.mark.parametrize("name", [n for n in PINS if LIBRARY[n].controller == "drive"])
def test_drives_have_power_terminals(name: str) -> None:
    """Three phases in and out and PE, marked after IEC 60445 (from memory). PE: cabinet, motor cable, screen."""
    power = LIBRARY[name].power
    assert [(t.label, t.role) for t in power] == [
        *((f"L{n}", "mains") for n in (1, 2, 3)),
        *((phase, "motor") for phase in "UVW"),
        ("PE", "earth"),
    ]
    assert LIBRARY[name].conductors_at("PE") == 3


def test_no_device_but_a_drive_has_power_terminals_beside_its_own() -> None:
    assert {name for name in PINS if LIBRARY[name].power} == {"drive_compact", "drive_extended"}


@pytest.mark.parametrize("name", PINS)
def test_marks_of_contacts_say_what_the_contacts_do(name: str) -> None:
    profile = LIBRARY[name]
    fixed = [(t.form, t.pins) for t in profile.terminals if t.role in ("relay", "contact")]
    chosen = [(f, p) for m in profile.marks for f, p in (("NO", m.NO), ("NC", m.NC), ("changeover", m.changeover)) if p]
    for form, pins in [*fixed, *chosen]:
        if form == "changeover":
            common, breaks, makes = pins
            assert contact_marks.contact_form(common, breaks) == "NC"
            assert contact_marks.contact_form(common, makes) == "NO"
        else:
            assert contact_marks.contact_form(*pins) == form


@pytest.mark.parametrize("name", ["push_button", "contact", "limit_switch", "selector"])
def test_contact_blocks_carry_the_promised_marks(name: str) -> None:
    first, second = LIBRARY[name].marks[:2]
    assert (first.NO, first.NC, first.changeover) == (("13", "14"), ("11", "12"), ("11", "12", "14"))
    assert (second.NO, second.NC, second.changeover) == (("23", "24"), ("21", "22"), ("21", "22", "24"))
    assert LIBRARY[name].conductors == 2


@pytest.mark.parametrize("name", PINS)
def test_what_a_profile_is_called_stands_in_the_table_of_letter_codes(name: str) -> None:
    assert designations.codes_of(LIBRARY[name].designated_as)


def test_the_compact_drive() -> None:
    drive = LIBRARY["drive_compact"]
    inputs = [t for t in drive.terminals if t.role == "digital_in"]
    assert {(t.group, t.common, t.polarities, t.input_type) for t in inputs} == {
        ("group 1", "COM", ("source", "sink"), "1")
    }
    assert [t.label for t in inputs if "pulse" in t.abilities] == ["DI1"]
    assert {_si(t.resistance) for t in inputs if isinstance(t.resistance, Figure)} == {4000.0}
    assert _si(drive.first("supply_out").limit) == 0.15  # type: ignore[union-attr]
    assert _si(drive.first("reference_out").limit) == 0.01  # type: ignore[union-attr]
    assert drive.joined_inside == (("COM", "ACOM"),)
    assert drive.first("safe_torque_off") is None
    one, two = (t for t in drive.terminals if t.role == "analog_in")
    assert (one.accepts, two.accepts) == (("0-10 V",), ("0-10 V", "0-20 mA", "4-20 mA"))
    assert two.scarce > one.scarce
    make, changeover = (t for t in drive.terminals if t.role == "relay")
    assert (make.form, changeover.form) == ("NO", "changeover")
    assert changeover.scarce > make.scarce


def test_the_extended_drive() -> None:
    drive = LIBRARY["drive_extended"]
    inputs = [t for t in drive.terminals if t.role == "digital_in"]
    assert [(t.group, t.common) for t in inputs] == [("group 1", "COM1")] * 4 + [("group 2", "COM2")] * 4
    assert {t.input_type for t in inputs} == {"3"}
    commons = {t.label: t.group for t in drive.terminals if t.role == "common"}
    assert commons == {"COM1": "group 1", "COM2": "group 2"}
    analog = [t for t in drive.terminals if t.role == "analog_in"]
    assert {t.accepts for t in analog} == {("0-10 V", "-10-10 V", "0-20 mA", "4-20 mA")}
    output = drive.first("digital_out")
    assert output is not None
    assert (output.form, output.feed, output.common, output.polarities) == ("transistor", "24V", "COM", ("source",))
    assert _si(output.limit) == 0.05
    assert _si(drive.first("supply_out").limit) == 0.2  # type: ignore[union-attr]
    assert [t.pins for t in drive.terminals if t.role == "safe_torque_off"] == [("STO1+", "STO1-"), ("STO2+", "STO2-")]


@pytest.mark.parametrize("name", ["drive_compact", "drive_extended"])
def test_a_drive_takes_a_start_by_its_edge_and_only_with_stop_closed(name: str) -> None:
    assert LIBRARY[name].start_by == "edge"
    assert _si(LIBRARY[name].start_with_stop_closed) > 0


@pytest.mark.parametrize("name", ["drive_compact", "drive_extended"])
def test_functions_that_are_wanted_together_have_usual_places_apart(name: str) -> None:
    usual = LIBRARY[name].usual
    instead = [{"start", "run forward"}, {"start reverse", "run reverse", "reverse"}]
    for function, label in usual.items():
        for other, place in usual.items():
            if function != other and label == place:
                assert any({function, other} <= group for group in instead), (function, other)
    # Stops and trips first, then enable, starts, direction, selection.
    order = ["stop", "external trip", "enable", "start", "start reverse", "select 1"]
    places = [_pins(LIBRARY[name]).index(usual[f]) for f in order]
    assert places == sorted(places)


def test_cards() -> None:
    for name in ("io_digital_in_16", "io_digital_out_16", "io_analog_in_8", "io_analog_out_4"):
        card = LIBRARY[name]
        assert card.controller == "card"
        for terminal in card.terminals:
            if terminal.role in ("supply_in", "zero", "common"):
                assert terminal.conductors == 2
    outputs = [t for t in LIBRARY["io_digital_out_16"].terminals if t.role == "digital_out"]
    assert [(t.feed, t.common) for t in outputs] == [("24VA", "0VA")] * 8 + [("24VB", "0VB")] * 8
    assert all(t.isolated and len(t.pins) == 2 for t in LIBRARY["io_analog_in_8"].terminals if t.role == "analog_in")
    assert all(t.isolated and len(t.pins) == 2 for t in LIBRARY["io_analog_out_4"].terminals if t.role == "analog_out")


@pytest.mark.parametrize("name", PINS)
def test_every_channel_states_the_figures_that_it_needs(name: str) -> None:
    for terminal in LIBRARY[name].terminals:
        if terminal.role in ("digital_in", "analog_in"):
            assert terminal.resistance is not None, terminal.label
        if terminal.role == "analog_in":
            assert isinstance(terminal.resistance, dict)
            assert set(terminal.resistance) == set(terminal.accepts)
        if terminal.role == "analog_out":
            assert set(terminal.burden) == set(terminal.gives)
        if terminal.role == "relay":
            assert {"AC-15", "DC-13", "basis"} <= set(terminal.rating)
        if terminal.role in ("digital_out", "supply_out", "reference_out"):
            assert terminal.limit is not None
        assert terminal.is_channel == (terminal.role in CHANNEL_ROLES)


@pytest.mark.parametrize("name", ["drive_compact", "drive_extended", "io_digital_in_16"])
def test_an_input_fed_with_24_v_is_on_by_its_own_type(name: str) -> None:
    # IEC 61131-2, by Ohm's law: the input's own resistance must draw the least current of its type, and not the most.
    for terminal in LIBRARY[name].terminals:
        if terminal.role == "digital_in":
            assert terminal.input_type is not None
            assert isinstance(terminal.resistance, Figure)
            kind = input_types.input_type(terminal.input_type)
            amps = 24.0 / terminal.resistance.si
            assert kind.state(24.0, amps) == "on"
            assert amps <= kind.on_most_a


def test_a_loop_has_voltage_to_spare_for_each_two_wire_transmitter() -> None:
    lift_off = LIBRARY["transmitter_two_wire"].figures["lift_off"].si
    for name in ("drive_compact", "drive_extended", "io_analog_in_8"):
        for terminal in LIBRARY[name].terminals:
            if terminal.role == "analog_in" and "4-20 mA" in terminal.accepts:
                assert isinstance(terminal.resistance, dict)
                # At the low supply limit of IEC 61131-2 (-15 %) and the failure current of NAMUR NE 43.
                assert 24.0 * 0.85 - 0.021 * terminal.resistance["4-20 mA"].si > lift_off


def test_figures_of_loads_and_sensors() -> None:
    assert LIBRARY["pilot_lamp"].figures["current"].si == 0.02
    assert LIBRARY["interposing_relay"].figures["power"].si == 1.0
    assert LIBRARY["interposing_relay"].suppression
    two_wire = LIBRARY["proximity_two_wire"].figures
    assert (two_wire["drop"].si, two_wire["leakage"].si, two_wire["least_current"].si) == (8.0, 0.0015, 0.005)
    assert LIBRARY["transmitter_two_wire"].figures["lift_off"].si == 12.0
    assert _si(LIBRARY["supply_24v"].first("supply_out").limit) == 5.0  # type: ignore[union-attr]
